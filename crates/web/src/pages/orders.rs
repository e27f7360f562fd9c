//! The order book, and a new order brought in.

use crate::app::App;
use crate::bodies::Fields;
use crate::calendar;
use crate::guard::Caller;
use crate::pages::today::{OrderToday, listed};
use crate::refusal::{Refusal, problem};
use crate::view::{Shell, html, part};
use askama::Template;
use axum::Extension;
use axum::body::Body;
use axum::extract::{Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use desk::{Problem, Text};
use serde::Deserialize;

#[derive(Template)]
#[template(path = "orders.html")]
struct Page {
    shell: Shell,
    orders: Vec<OrderToday>,
}

#[derive(Template)]
#[template(path = "order_new.html")]
struct NewPage {
    shell: Shell,
    text: String,
    problem: Option<Problem>,
}

/// What a page is asked to say.
#[derive(Debug, Deserialize)]
pub(crate) struct Said {
    pub(crate) said: Option<String>,
}

/// `GET /orders`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Query(said): Query<Said>,
) -> Result<Response, Refusal> {
    let orders = app.loft.orders().await.map_err(|why| Refusal::new(why, &caller))?;
    let shell = Shell::new("orders", "orders", &caller).saying(said.said.as_deref());
    Ok(html(&Page { shell, orders: listed(&app, orders, &calendar::today()).await }))
}

/// `GET /orders/new`
pub(crate) async fn new_page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
) -> Result<Response, Refusal> {
    let drafts = app.loft.drafts(&caller.who, "/orders/new").await.map_err(|why| Refusal::new(why, &caller))?;
    let typed = drafts.into_iter().find(|draft| draft.field == "text").map(|draft| draft.value);
    let text = typed.unwrap_or_else(|| desk::blank_order(&calendar::today()));
    Ok(html(&NewPage { shell: Shell::new("orders", "a new order", &caller), text, problem: None }))
}

/// `POST /orders`: an order from its text. One with mistakes is shown with
/// them, and what was typed is kept.
pub(crate) async fn add(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let text = Fields::of_body(body).await.map_err(refuse)?.raw("text");
    match added(&app, &text, &caller.who).await {
        Ok(id) => {
            app.loft.drop_drafts(&caller.who, "/orders/new").await.map_err(refuse)?;
            Ok(Redirect::to(&format!("/orders/{}?said=made", part(&id))).into_response())
        }
        Err(problem) => {
            let status = crate::refusal::status(&problem);
            let shell = Shell::new("orders", "a new order", &caller);
            let page = html(&NewPage { shell, text, problem: Some(problem) });
            Ok((status, page).into_response())
        }
    }
}

/// Puts an order on the book under its own number.
pub(crate) async fn added(app: &App, text: &str, who: &str) -> Result<String, Problem> {
    let boat = desk::boat(&Text::held("the order", text), None)?;
    let id = boat.order.clone();
    if id.len() > 80 || id.contains('/') {
        return Err(problem(
            "bad-number",
            format!("the number {id:?} cannot be an address"),
            "leave out the slash, and stay under 80 letters",
        ));
    }
    app.loft.add_order(&id, &boat.boat, text, who).await?;
    Ok(id)
}
