//! The loft's terms, and the quotes it has kept.

use super::terms;
use crate::app::App;
use crate::bodies::Fields;
use crate::guard::Caller;
use crate::pages::orders::Said;
use crate::refusal::{Refusal, status};
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::body::Body;
use axum::extract::{Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use desk::Problem;
use desk::records::rows::{OrderState, Quote};

#[derive(Template)]
#[template(path = "prices.html")]
struct Page {
    shell: Shell,
    terms: Fields,
    quotes: Vec<Quote>,
    orders: Vec<(String, String)>,
    problem: Option<Problem>,
}

async fn page_of(app: &App, caller: &Caller) -> Result<Page, Problem> {
    let store = app.loft.records().store();
    let orders = store.orders(OrderState::Open).await?;
    Ok(Page {
        shell: Shell::new("prices", "prices", caller),
        terms: terms(app).await?,
        quotes: store.quotes(100).await?,
        orders: orders.into_iter().map(|order| (order.id, order.name)).collect(),
        problem: None,
    })
}

/// `GET /prices`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Query(said): Query<Said>,
) -> Result<Response, Refusal> {
    let mut page = page_of(&app, &caller).await.map_err(|why| Refusal::new(why, &caller))?;
    page.shell = page.shell.saying(said.said.as_deref());
    Ok(html(&page))
}

/// `POST /prices`: the terms; one that cannot be read changes nothing.
pub(crate) async fn save(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    caller.owner().map_err(refuse)?;
    let fields = Fields::of_body(body).await.map_err(refuse)?;
    let text = |name: &str| fields.text(name);
    let checked = desk::check_terms(&|name| text(name));
    if let Err(why) = checked {
        let code = status(&why);
        let mut page = page_of(&app, &caller).await.map_err(refuse)?;
        (page.problem, page.terms) = (Some(why), fields);
        return Ok((code, html(&page)).into_response());
    }
    for (name, _, _) in desk::TERMS {
        app.loft.set(&format!("terms/{name}"), fields.raw(name).trim(), &caller.who).await.map_err(refuse)?;
    }
    app.loft.drop_drafts(&caller.who, "/prices").await.map_err(refuse)?;
    Ok(Redirect::to("/prices?said=saved").into_response())
}
