//! What is worked out of an order: rope, cover, pieces, price, ends, cut plans.

use super::json;
use crate::app::App;
use crate::bodies::{Fields, sent};
use crate::guard::Caller;
use crate::pages::cut::{confirmed, plan};
use crate::pages::{lines_request, units, worked};
use crate::refusal::ApiRefusal;
use axum::body::Body;
use axum::extract::{Path, RawQuery, State};
use axum::response::{IntoResponse, Response};
use axum::{Extension, Json};
use desk::{
    CoverAnswer, CoverRequest, CutAnswer, QuoteAnswer, QuoteRequest, RopeChoiceAnswer, RopeRequest, SpliceAnswer,
    SpliceRequest, Text,
};
use serde::{Deserialize, Serialize};

/// The words of a query.
pub(super) fn fields(query: Option<String>) -> Fields {
    Fields::of_text(&query.unwrap_or_default())
}

/// Which rope to take for a line, from the loft's list and rack.
pub(super) async fn rope(
    State(app): State<App>,
    Path((id, line)): Path<(String, String)>,
) -> Result<Json<RopeChoiceAnswer>, ApiRefusal> {
    let order = app.loft.order(&id).await?;
    let lines = lines_request(&app, &order).await?;
    let rack = app.loft.rack().await?;
    let rack = (!rack.is_empty()).then(|| Text::held("the rack", rack));
    let request =
        RopeRequest { order: lines.order, line, ropes: lines.ropes, rack, own: lines.own, units: lines.units };
    Ok(Json(worked(move || desk::rope(&request)).await?))
}

/// Cover on or off for a line, by the program's own rules.
pub(super) async fn cover(
    State(app): State<App>,
    Path((id, line)): Path<(String, String)>,
) -> Result<Json<CoverAnswer>, ApiRefusal> {
    let lines = lines_request(&app, &app.loft.order(&id).await?).await?;
    let request =
        CoverRequest { order: lines.order, line, ropes: lines.ropes, units: lines.units, ..CoverRequest::default() };
    Ok(Json(worked(move || desk::cover(&request)).await?))
}

/// The pieces of an order, coded.
pub(super) async fn pieces(State(app): State<App>, Path(id): Path<String>) -> Result<Response, ApiRefusal> {
    let request = lines_request(&app, &app.loft.order(&id).await?).await?;
    json(&app.answers.pieces(request).await?)
}

/// One piece at the bench: marks, steps, what is measured.
pub(super) async fn bench(
    State(app): State<App>,
    Path((id, piece)): Path<(String, String)>,
) -> Result<Response, ApiRefusal> {
    let request = lines_request(&app, &app.loft.order(&id).await?).await?;
    json(&app.answers.bench(request, &format!("{id}/{piece}")).await?)
}

/// A quote for an order, with the terms of `becket price` as a query.
pub(super) async fn price(
    State(app): State<App>,
    Path(id): Path<String>,
    RawQuery(query): RawQuery,
) -> Result<Json<QuoteAnswer>, ApiRefusal> {
    let lines = lines_request(&app, &app.loft.order(&id).await?).await?;
    let asked = fields(query);
    let request = QuoteRequest {
        order: lines.order,
        ropes: lines.ropes,
        labour: asked.text("labour"),
        twine: asked.text("twine"),
        waste: asked.text("waste"),
        margin: asked.text("margin"),
        tax: asked.text("tax"),
        rounding: asked.text("rounding"),
        units: lines.units,
        ..QuoteRequest::default()
    };
    Ok(Json(desk::quote_kept(app.loft.records(), &request).await?))
}

/// An end to be laid out: the words of `becket splice`.
#[derive(Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct SpliceIn {
    rope: String,
    end: String,
    bury: Option<String>,
    wanted_margin: Option<String>,
    eye: Option<String>,
    eye_on: Option<String>,
    taper: Option<String>,
    lock: Option<String>,
    friction: Option<String>,
    load: Option<String>,
    units: Option<String>,
}

/// One end.
pub(super) async fn splice(State(app): State<App>, body: Body) -> Result<Json<SpliceAnswer>, ApiRefusal> {
    let asked: SpliceIn = sent(body).await?;
    let (ropes, _) = app.loft.rope_list().await?;
    let usual = units(&app).await?.unwrap_or_default();
    let request = SpliceRequest {
        rope: asked.rope,
        end: asked.end,
        ropes: (!ropes.is_empty()).then(|| Text::held("rope list", ropes)),
        bury: asked.bury,
        wanted_margin: asked.wanted_margin,
        eye: asked.eye,
        eye_on: asked.eye_on,
        taper: asked.taper,
        lock: asked.lock,
        friction: asked.friction,
        load: asked.load,
        units: match asked.units.as_deref() {
            Some("us") => desk::System::Us,
            Some("metric") => desk::System::Metric,
            _ => usual,
        },
        ..SpliceRequest::default()
    };
    Ok(Json(worked(move || desk::splice(&request)).await?))
}

/// The orders whose pieces are to be cut.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct CutIn {
    orders: Vec<String>,
}

/// A plan and the id by which it is confirmed.
#[derive(Serialize)]
struct CutOut<'a> {
    id: &'a str,
    plan: &'a CutAnswer,
}

/// A cut plan from the rack as it is now.
pub(super) async fn cut(State(app): State<App>, body: Body) -> Result<Response, ApiRefusal> {
    let asked: CutIn = sent(body).await?;
    let mut orders = Vec::new();
    for id in &asked.orders {
        orders.push(app.loft.order(id).await?);
    }
    let planned = plan(&app, &orders).await?;
    Ok(Json(CutOut { id: &planned.id, plan: &planned.cut.answer }).into_response())
}

/// A plan that was confirmed.
#[derive(Serialize)]
pub(super) struct ConfirmOut {
    confirmed: String,
}

/// Cuts a plan: the rack changes, once, and its pieces get their records.
pub(super) async fn confirm(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(id): Path<String>,
) -> Result<Json<ConfirmOut>, ApiRefusal> {
    confirmed(&app, &caller, &id).await?;
    Ok(Json(ConfirmOut { confirmed: id }))
}
