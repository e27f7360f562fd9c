//! Today: what is due, what is at the bench, what is short. On a first start:
//! the demo order, or an empty loft.

use crate::app::App;
use crate::calendar;
use crate::guard::Caller;
use crate::loft::{Order, PieceKept};
use crate::pages::bench::address;
use crate::pages::kept::{Due, due_soon};
use crate::pages::{lines_request, units};
use crate::refusal::Refusal;
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::Form;
use axum::extract::State;
use axum::response::{IntoResponse, Redirect, Response};
use desk::{BoatAnswer, Problem, ShortAnswer, Text, Wants};
use serde::Deserialize;
use std::sync::Arc;
use std::time::Duration;

#[derive(Template)]
#[template(path = "today.html")]
struct Page {
    shell: Shell,
    day: String,
    first_start: bool,
    orders: Vec<OrderToday>,
    bench: Vec<(PieceKept, String)>,
    due: Vec<Due>,
    more_due: bool,
    /// What the rack is short of; none while it is still being worked out.
    short: Option<Arc<Vec<ShortAnswer>>>,
}

/// An order as today's list shows it.
pub(crate) struct OrderToday {
    pub(crate) id: String,
    pub(crate) name: String,
    pub(crate) boat: Option<Arc<BoatAnswer>>,
    pub(crate) problem: Option<Problem>,
    pub(crate) overdue: bool,
}

/// What was chosen on a first start.
#[derive(Debug, Deserialize)]
pub(crate) struct Begin {
    with: String,
}

/// `GET /`
pub(crate) async fn page(State(app): State<App>, Extension(caller): Extension<Caller>) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let orders = app.loft.orders().await.map_err(refuse)?;
    let begun = app.loft.setting("begun").await.map_err(refuse)?.is_some();
    let day = calendar::today();
    let first_start = orders.is_empty() && !begun;
    let short = shortage(&app, &orders).await.map_err(refuse)?;
    let listed = listed(&app, orders, &day).await;
    let bench = app.loft.at_the_bench(12).await.map_err(refuse)?;
    let bench = bench.into_iter().map(|piece| (piece.clone(), address(&piece.code))).collect();
    let (due, more_due) = due_soon(&app, 8).await.map_err(refuse)?;
    let shell = Shell::new("today", "today", &caller);
    Ok(html(&Page { shell, day, first_start, orders: listed, bench, due, more_due, short }))
}

/// How long the page waits for what is short before it is shown without.
const PATIENCE: Duration = Duration::from_millis(300);

/// What the rack is short of for the orders on the book. The first time after
/// a change this is work for every order; it goes on when nobody waits.
async fn shortage(app: &App, orders: &[Order]) -> Result<Option<Arc<Vec<ShortAnswer>>>, Problem> {
    let rack = app.loft.rack().await?;
    let system = units(app).await?.unwrap_or_default();
    let mut wants = Vec::new();
    for order in orders {
        let cut = app.loft.pieces_of(&order.id).await?.into_iter().map(|piece| piece.code).collect();
        wants.push(Wants { order: lines_request(app, order).await?, cut });
    }
    let said = format!("{wants:?} {system:?}");
    let work = async {
        let texts = [said.as_str(), rack.as_str()];
        let lies = Some(Text::held("the rack", &rack)).filter(|_| !rack.trim().is_empty());
        app.answers.other("short", &texts, move || desk::short(&wants, lies.as_ref(), system)).await
    };
    match tokio::time::timeout(PATIENCE, work).await {
        Ok(found) => found.map(Some),
        Err(_) => Ok(None),
    }
}

/// `POST /begin`: the demo order, or an empty loft.
pub(crate) async fn begin(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Form(begin): Form<Begin>,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    if begin.with == "demo" {
        app.loft.load_demo(&caller.who).await.map_err(refuse)?;
    }
    app.loft.set("begun", &calendar::today(), &caller.who).await.map_err(refuse)?;
    let said = if begin.with == "demo" { "demo" } else { "empty" };
    Ok(Redirect::to(&format!("/orders?said={said}")).into_response())
}

/// Orders with their headings, those due first.
pub(crate) async fn listed(app: &App, orders: Vec<Order>, day: &str) -> Vec<OrderToday> {
    let mut listed = Vec::new();
    for order in orders {
        let read = app.answers.boat(&Text::held(format!("order {}", order.id), &order.text), None).await;
        let (boat, problem) = match read {
            Ok(boat) => (Some(boat), None),
            Err(problem) => (None, Some(problem)),
        };
        let due = boat.as_ref().and_then(|boat| boat.due.clone());
        let overdue = due.is_some_and(|due| due.as_str() < day);
        listed.push(OrderToday { id: order.id, name: order.name, boat, problem, overdue });
    }
    let due =
        |order: &OrderToday| order.boat.as_ref().and_then(|boat| boat.due.clone()).unwrap_or_else(|| "9999".to_owned());
    listed.sort_by_key(|order| (due(order), order.id.clone()));
    listed
}
