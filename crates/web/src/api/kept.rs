//! What is kept: the rack, pieces with their lives, what is due, tests.

use super::work::fields;
use crate::app::App;
use crate::bodies::sent;
use crate::calendar;
use crate::guard::Caller;
use crate::pages::units;
use crate::refusal::ApiRefusal;
use axum::body::Body;
use axum::extract::{Path, RawQuery, State};
use axum::http::StatusCode;
use axum::{Extension, Json};
use desk::records::stamp;
use desk::{
    DueAnswer, DueRequest, EventRequest, LearnedAnswer, PieceAnswer, PieceRequest, Problem, ProofAnswer, StoredRequest,
    TakenInAnswer, Text,
};
use serde::{Deserialize, Serialize};

/// Rows of the due list at most.
const MOST_DUE: u32 = 500;

/// A reel of the rack.
#[derive(Serialize)]
pub(super) struct ReelOut {
    reel: String,
    rope: String,
    colour: String,
    batch: String,
    length_mm: i64,
    state: String,
    remnant: bool,
}

/// Every reel that is still there.
pub(super) async fn rack(State(app): State<App>) -> Result<Json<Vec<ReelOut>>, ApiRefusal> {
    let reels = app.loft.records().store().rack().await.map_err(Problem::from)?;
    let out = reels.into_iter().map(|row| ReelOut {
        reel: row.id,
        rope: row.rope,
        colour: row.colour,
        batch: row.batch,
        length_mm: row.length_mm,
        state: row.state.word().to_owned(),
        remnant: row.kind == desk::records::rows::ReelKind::Remnant,
    });
    Ok(Json(out.collect()))
}

/// Text of a rack file.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ReelsIn {
    text: String,
}

/// Puts reels on the rack, all or none.
pub(super) async fn add_reels(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<(StatusCode, Json<Vec<ReelOut>>), ApiRefusal> {
    let given: ReelsIn = sent(body).await?;
    app.loft.add_reels(&given.text, &caller.who).await?;
    Ok((StatusCode::CREATED, rack(State(app)).await?))
}

async fn stored(app: &App, query: Option<String>) -> Result<StoredRequest, Problem> {
    let asked = fields(query);
    Ok(StoredRequest {
        ropes: ropes(app).await?,
        rope: asked.text("rope"),
        end: asked.text("end"),
        units: units(app).await?.unwrap_or_default(),
    })
}

async fn ropes(app: &App) -> Result<Option<Text>, Problem> {
    let (list, _) = app.loft.rope_list().await?;
    Ok((!list.is_empty()).then(|| Text::held("rope list", list)))
}

/// A piece by the code on its label.
pub(super) async fn piece(
    State(app): State<App>,
    Path((order, piece)): Path<(String, String)>,
) -> Result<Json<PieceAnswer>, ApiRefusal> {
    let request = PieceRequest {
        code: format!("{order}/{piece}"),
        today: calendar::today(),
        ropes: ropes(&app).await?,
        units: units(&app).await?.unwrap_or_default(),
    };
    Ok(Json(desk::piece(app.loft.records(), &request).await?))
}

/// What happened to a piece.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct EventIn {
    on: String,
    what: String,
    hours: Option<f64>,
    next: Option<String>,
    reason: Option<String>,
}

/// The day on which the piece is due now.
#[derive(Serialize)]
pub(super) struct EventOut {
    due: Option<String>,
}

/// Enters what happened to a piece.
pub(super) async fn event(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path((order, piece)): Path<(String, String)>,
    body: Body,
) -> Result<(StatusCode, Json<EventOut>), ApiRefusal> {
    let EventIn { on, what, hours, next, reason } = sent(body).await?;
    let request = EventRequest { code: format!("{order}/{piece}"), on, what, hours, next, reason };
    let due = desk::enter_event(app.loft.records(), &request, &stamp(&caller.who)?).await?;
    Ok((StatusCode::CREATED, Json(EventOut { due })))
}

/// What must be looked at by a day.
pub(super) async fn due(State(app): State<App>, RawQuery(query): RawQuery) -> Result<Json<DueAnswer>, ApiRefusal> {
    let request = DueRequest { today: calendar::today(), by: fields(query).text("by"), most: MOST_DUE };
    Ok(Json(desk::due(app.loft.records(), &request).await?))
}

/// Tests by rope and kind of end.
pub(super) async fn tests(State(app): State<App>, RawQuery(query): RawQuery) -> Result<Json<ProofAnswer>, ApiRefusal> {
    let request = stored(&app, query).await?;
    Ok(Json(desk::stored_proof(app.loft.records(), &request).await?))
}

/// Text of a log of tests.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct TestsIn {
    text: String,
}

/// Takes a log of tests in; each row that is a test is kept.
pub(super) async fn add_tests(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<(StatusCode, Json<TakenInAnswer>), ApiRefusal> {
    let given: TestsIn = sent(body).await?;
    let list = ropes(&app).await?;
    let log = Text::held("tests", given.text);
    let taken = desk::take_in_tests(app.loft.records(), &log, list.as_ref(), &stamp(&caller.who)?).await?;
    Ok((StatusCode::CREATED, Json(taken)))
}

/// What the loft has learnt.
pub(super) async fn learned(
    State(app): State<App>,
    RawQuery(query): RawQuery,
) -> Result<Json<LearnedAnswer>, ApiRefusal> {
    let request = stored(&app, query).await?;
    Ok(Json(desk::stored_learned(app.loft.records(), &request).await?))
}
