//! A line: load, lead, rope, cover, ends, weak points, working.

use crate::app::App;
use crate::guard::Caller;
use crate::pages::lines_request;
use crate::refusal::Refusal;
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::extract::{Path, State};
use axum::response::Response;
use desk::{LineDrawn, LinesRequest};
use std::sync::Arc;

#[derive(Template)]
#[template(path = "line.html")]
struct Page {
    shell: Shell,
    id: String,
    drawn: Arc<LineDrawn>,
}

/// `GET /orders/{id}/lines/{line}`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path((id, line)): Path<(String, String)>,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let order = app.loft.order(&id).await.map_err(refuse)?;
    let request = LinesRequest { name: Some(line), ..lines_request(&app, &order).await.map_err(refuse)? };
    let drawn = app.answers.line_drawn(request).await.map_err(refuse)?;
    let shell = Shell::new("orders", format!("{}, {}", drawn.answer.name, drawn.boat), &caller);
    Ok(html(&Page { shell, id, drawn }))
}
