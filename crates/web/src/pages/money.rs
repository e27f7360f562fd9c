//! Prices: the loft's terms, the quote of an order, quotes that were kept.

mod prices;
mod quote;

use crate::app::App;
use crate::bodies::Fields;
use axum::Router;
use axum::routing::{get, post};
use desk::Problem;

/// The routes of these pages.
pub(crate) fn routes() -> Router<App> {
    Router::new()
        .route("/prices", get(prices::page).post(prices::save))
        .route("/orders/{id}/price", get(quote::page).post(quote::keep))
        .route("/orders/{id}/price/items", post(quote::save_items))
        .route("/quote/{*number}", get(quote::kept).post(quote::move_on))
}

/// The loft's terms as fields: what was last saved on the page of prices.
async fn terms(app: &App) -> Result<Fields, Problem> {
    let mut fields = Vec::new();
    for (name, _, _) in desk::TERMS {
        if let Some(text) = app.loft.setting(&format!("terms/{name}")).await? {
            fields.push((name.to_owned(), text));
        }
    }
    Ok(Fields::of_pairs(fields))
}
