//! Every line of an order in one table.

use crate::app::App;
use crate::guard::Caller;
use crate::pages::lines_request;
use crate::refusal::Refusal;
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::extract::{Path, State};
use axum::response::Response;
use desk::LinesAnswer;
use std::sync::Arc;

#[derive(Template)]
#[template(path = "lines.html")]
struct Page {
    shell: Shell,
    id: String,
    answer: Arc<LinesAnswer>,
    stops: usize,
    cautions: usize,
}

/// `GET /orders/{id}/lines`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(id): Path<String>,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let order = app.loft.order(&id).await.map_err(refuse)?;
    let request = lines_request(&app, &order).await.map_err(refuse)?;
    let answer = app.answers.lines(request).await.map_err(refuse)?;
    let graded = |grade| answer.lines.iter().filter(|line| line.grade == Some(grade)).count();
    let (stops, cautions) = (graded("stop"), graded("caution"));
    let shell = Shell::new("orders", format!("lines of {}", answer.boat), &caller);
    Ok(html(&Page { shell, id, answer, stops, cautions }))
}
