//! After the bench: pieces in service, what is due, tests, what the loft has
//! learnt. Every page asks one task of desk on the loft's records.

mod certificate;
mod due;
mod learned;
mod piece;
mod plan;

mod test;
mod tests;

use crate::app::App;
use crate::pages::units;
use axum::Router;
use axum::routing::get;
use desk::{Problem, System, Text};

pub(crate) use due::{Due, due_soon};
pub(crate) use piece::address;

/// The routes of these pages.
pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/piece", get(piece::find))
        .route("/piece/{*code}", get(piece::page).post(piece::enter))
        .route("/proof/{*code}", get(plan::page))
        .route("/certificate/{*code}", get(certificate::page))
        .route("/service", get(due::page).post(due::bring_in))
        .route("/service/due.ics", get(due::calendar))
        .route("/service/pieces", get(due::pieces))
        .route("/tests", get(tests::page).post(tests::enter))
        .route("/tests/log", axum::routing::post(tests::take_in))
        .route("/tests/statistics", get(tests::statistics))
        .route("/test/{*number}", get(test::page).post(test::change))
        .route("/learned", get(learned::page).post(learned::enter))
}

/// The loft's rope list.
pub(crate) async fn rope_list(app: &App) -> Result<Option<Text>, Problem> {
    let list = app.loft.setting("rope-list").await?.filter(|text| !text.trim().is_empty());
    Ok(list.map(|text| Text::held("rope list", text)))
}

/// Units to print in.
pub(crate) async fn system(app: &App) -> Result<System, Problem> {
    Ok(units(app).await?.unwrap_or_default())
}
