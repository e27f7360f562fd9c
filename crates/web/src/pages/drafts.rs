//! What is half typed, kept at the loft under the person and the page.

use crate::app::App;
use crate::bodies::sent;
use crate::calendar;
use crate::guard::Caller;
use crate::loft::Draft;
use crate::refusal::{ApiRefusal, Refusal, problem};
use crate::view::part;
use axum::Extension;
use axum::body::Body;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use serde::Deserialize;

/// Longest field that is kept: an order file.
const LONGEST: usize = 1024 * 1024;

/// One field of a page.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Typed {
    page: String,
    field: String,
    value: String,
    based_on: Option<i64>,
}

/// `POST /drafts`
pub(crate) async fn keep(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<StatusCode, ApiRefusal> {
    let typed: Typed = sent(body).await?;
    if typed.value.len() > LONGEST || typed.page.len() > 400 || typed.field.len() > 100 {
        return Err(problem("too-large", "the field is too long to keep", "save it, or split it").into());
    }
    let Typed { page, field, value, based_on } = typed;
    app.loft.keep_draft(&caller.who, &page, &Draft { field, value, based_on, at: calendar::now() }).await?;
    Ok(StatusCode::NO_CONTENT)
}

/// `POST /orders/{id}/draft/drop`: back to the order as it is saved.
pub(crate) async fn drop_order(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(id): Path<String>,
) -> Result<Response, Refusal> {
    let page = format!("/orders/{}", part(&id));
    app.loft.drop_drafts(&caller.who, &page).await.map_err(|why| Refusal::new(why, &caller))?;
    Ok(Redirect::to(&format!("{page}?said=thrown")).into_response())
}
