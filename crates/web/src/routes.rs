//! Every address, with the guard before it.

use crate::app::App;
use crate::guard::{Caller, guard};
use crate::refusal::{Refusal, problem};
use crate::{api, assets, bodies, pages};
use axum::extract::DefaultBodyLimit;
use axum::http::Method;
use axum::middleware::from_fn_with_state;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use axum::{Extension, Router};

/// All routes over one application.
pub fn router(app: App) -> Router {
    Router::new()
        .route("/", get(pages::today::page))
        .route("/begin", post(pages::today::begin))
        .route("/health", get(health))
        .route("/assets/{name}", get(assets::asset))
        .route("/orders", get(pages::orders::page).post(pages::orders::add))
        .route("/orders/new", get(pages::orders::new_page))
        .route("/orders/{id}", get(pages::order::page).post(pages::order::save))
        .route("/orders/{id}/draft/drop", post(pages::drafts::drop_order))
        .route("/orders/{id}/cards.pdf", get(pages::card::order))
        .route("/orders/{id}/boat", get(pages::boat::page))
        .route("/orders/{id}/lines", get(pages::lines::page))
        .route("/orders/{id}/lines/{line}", get(pages::line::page))
        .route("/orders/{id}/lines/{line}/rope", get(pages::rope::page))
        .route("/orders/{id}/lines/{line}/cover", get(pages::cover::page))
        .route("/splice", get(pages::splice::page))
        .route("/splice/answer", get(pages::splice::answer))
        .route("/bench", get(pages::bench::list))
        .route("/pieces/{order}/{piece}", get(pages::bench::make))
        .route("/pieces/{order}/{piece}/tick", post(pages::bench::tick))
        .route("/pieces/{order}/{piece}/measure", post(pages::bench::measure))
        .route("/pieces/{order}/{piece}/made", post(pages::bench::made))
        .route("/pieces/{order}/{piece}/photo", post(pages::bench::photo))
        .route("/pieces/{order}/{piece}/card.pdf", get(pages::card::piece))
        .route("/photos/{id}", get(pages::bench::photo_bytes))
        .route("/rack", get(pages::rack::page).post(pages::rack::add))
        .route("/cut", get(pages::cut::page))
        .route("/cut/{id}/confirm", post(pages::cut::confirm))
        .route("/drafts", post(pages::drafts::keep))
        .route("/settings", get(pages::settings::page).post(pages::settings::save))
        .route("/settings/rules", get(pages::rules::page).post(pages::rules::save))
        .route("/settings/loft", get(pages::rules::loft_page).post(pages::rules::save_loft))
        .route("/settings/users", post(pages::settings::add_user))
        .route("/settings/users/close", post(pages::settings::close_user))
        .route("/sign-in", get(pages::sign::page).post(pages::sign::sign_in))
        .route("/sign-out", post(pages::sign::sign_out))
        .merge(pages::kept::routes())
        .merge(pages::money::routes())
        .merge(pages::papers::routes())
        .nest("/api", api::routes())
        .fallback(not_there)
        .layer(DefaultBodyLimit::max(bodies::LARGEST_UPLOAD))
        .layer(from_fn_with_state(app.clone(), guard))
        .with_state(app)
}

/// `GET /health`: is the program up?
async fn health() -> &'static str {
    "up\n"
}

async fn not_there(Extension(caller): Extension<Caller>, method: Method, uri: axum::http::Uri) -> Response {
    let message = format!("there is no page {:?}", uri.path());
    let problem = problem("not-there", message, "begin with today, or with the pages of the frame");
    if uri.path().starts_with("/api") || method != Method::GET {
        return crate::refusal::ApiRefusal(problem).into_response();
    }
    Refusal::new(problem, &caller).into_response()
}
