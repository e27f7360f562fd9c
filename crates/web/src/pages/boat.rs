//! A boat: her dimensions as given, and what is estimated for want of them.

use crate::app::App;
use crate::guard::Caller;
use crate::pages::units;
use crate::refusal::Refusal;
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::extract::{Path, State};
use axum::response::Response;
use desk::{BoatAnswer, Text};
use std::sync::Arc;

#[derive(Template)]
#[template(path = "boat.html")]
struct Page {
    shell: Shell,
    id: String,
    boat: Arc<BoatAnswer>,
}

/// `GET /orders/{id}/boat`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(id): Path<String>,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let order = app.loft.order(&id).await.map_err(refuse)?;
    let system = units(&app).await.map_err(refuse)?;
    let text = Text::held(format!("order {id}"), &order.text);
    let boat = app.answers.boat(&text, system).await.map_err(refuse)?;
    Ok(html(&Page { shell: Shell::new("orders", boat.boat.clone(), &caller), id, boat }))
}
