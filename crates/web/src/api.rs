//! The programme interface: the tasks of the pages as JSON.
//!
//! `/api/openapi.json` describes it. Refusals are desk's `Problem`, with the
//! status that goes with it.

use crate::app::App;
use crate::bodies::sent;
use crate::guard::Caller;
use crate::loft::{Order, Saved};
use crate::openapi;
use crate::pages::lines_request;
use crate::pages::orders::added;
use crate::refusal::{ApiRefusal, problem};
use axum::body::Body;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use axum::{Extension, Json, Router};
use desk::{LinesRequest, Text};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

mod kept;
mod work;

pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/openapi.json", get(document))
        .route("/orders", get(orders).post(add_order))
        .route("/orders/{id}", get(order).put(save_order))
        .route("/orders/{id}/boat", get(boat))
        .route("/orders/{id}/lines", get(lines))
        .route("/orders/{id}/lines/{line}", get(line))
        .route("/orders/{id}/lines/{line}/rope", get(work::rope))
        .route("/orders/{id}/lines/{line}/cover", get(work::cover))
        .route("/orders/{id}/pieces", get(work::pieces))
        .route("/orders/{id}/pieces/{piece}", get(work::bench))
        .route("/orders/{id}/price", get(work::price))
        .route("/splice", post(work::splice))
        .route("/cut", post(work::cut))
        .route("/cut/{id}/confirm", post(work::confirm))
        .route("/rack", get(kept::rack).post(kept::add_reels))
        .route("/pieces/{order}/{piece}", get(kept::piece))
        .route("/pieces/{order}/{piece}/events", post(kept::event))
        .route("/due", get(kept::due))
        .route("/tests", get(kept::tests).post(kept::add_tests))
        .route("/learned", get(kept::learned))
}

async fn document() -> Json<serde_json::Value> {
    Json(openapi::document())
}

/// An answer that is shared with others who ask for it.
fn json<T: Serialize>(answer: &Arc<T>) -> Result<Response, ApiRefusal> {
    Ok(Json(answer.as_ref()).into_response())
}

/// An order as the interface gives it.
#[derive(Debug, Serialize)]
struct OrderOut {
    id: String,
    name: String,
    revision: i64,
    at: String,
    who: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    text: Option<String>,
}

impl OrderOut {
    fn of(order: Order) -> OrderOut {
        let Order { id, name, text, revision, at, who } = order;
        OrderOut { id, name, revision, at, who, text: Some(text) }
    }
}

async fn orders(State(app): State<App>) -> Result<Json<Vec<OrderOut>>, ApiRefusal> {
    let orders = app.loft.orders().await?;
    Ok(Json(orders.into_iter().map(|order| OrderOut { text: None, ..OrderOut::of(order) }).collect()))
}

/// A text to be put on the book, or to be saved over a revision.
#[derive(Debug, Deserialize)]
struct OrderIn {
    text: String,
    based_on: Option<i64>,
}

async fn add_order(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<(StatusCode, Json<OrderOut>), ApiRefusal> {
    let order: OrderIn = sent(body).await?;
    let id = added(&app, &order.text, &caller.who).await?;
    Ok((StatusCode::CREATED, Json(OrderOut::of(app.loft.order(&id).await?))))
}

async fn order(State(app): State<App>, Path(id): Path<String>) -> Result<Json<OrderOut>, ApiRefusal> {
    Ok(Json(OrderOut::of(app.loft.order(&id).await?)))
}

async fn save_order(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(id): Path<String>,
    body: Body,
) -> Result<Json<OrderOut>, ApiRefusal> {
    let given: OrderIn = sent(body).await?;
    let order = app.loft.order(&id).await?;
    desk::boat(&Text::held(format!("order {id}"), &given.text), None)?;
    let based_on = given
        .based_on
        .ok_or_else(|| problem("no-revision", "based_on is missing", "say which revision the text was made from"))?;
    match app.loft.save_order(&order, &given.text, based_on, &caller.who).await? {
        Saved::Saved(order) => Ok(Json(OrderOut::of(order))),
        Saved::Changed { theirs, .. } => Err(problem(
            "changed",
            format!("{} saved revision {} at {}, after revision {based_on}", theirs.who, theirs.revision, theirs.at),
            "fetch the order, put the two texts together, and save over its revision; yours is laid aside, not lost",
        )
        .into()),
    }
}

async fn boat(State(app): State<App>, Path(id): Path<String>) -> Result<Response, ApiRefusal> {
    let order = app.loft.order(&id).await?;
    json(&app.answers.boat(&Text::held(format!("order {id}"), &order.text), None).await?)
}

async fn lines(State(app): State<App>, Path(id): Path<String>) -> Result<Response, ApiRefusal> {
    let request = lines_request(&app, &app.loft.order(&id).await?).await?;
    json(&app.answers.lines(request).await?)
}

async fn line(State(app): State<App>, Path((id, line)): Path<(String, String)>) -> Result<Response, ApiRefusal> {
    let request = lines_request(&app, &app.loft.order(&id).await?).await?;
    let request = LinesRequest { name: Some(line), ..request };
    json(&app.answers.lines(request).await?)
}
