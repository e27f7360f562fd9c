//! The cut plan: pieces of the orders chosen, from the rack as it is.

use crate::app::App;
use crate::bodies::Fields;
use crate::guard::Caller;
use crate::loft::{Order, PieceOf};
use crate::pages::{lines_request, order_text, units, worked};
use crate::plans::{CutDrawn, Planned, name_of};
use crate::refusal::{Refusal, problem};
use crate::view::{Shell, WIDTHS_MM, html};
use askama::Template;
use axum::Extension;
use axum::extract::{Path, RawQuery, State};
use axum::response::{IntoResponse, Redirect, Response};
use desk::{CutAnswer, CutRequest, LinesRequest, PieceSource, Problem, Text};
use std::collections::BTreeMap;
use std::sync::Arc;

#[derive(Template)]
#[template(path = "cut.html")]
struct Page {
    shell: Shell,
    orders: Vec<(Order, bool)>,
    planned: Option<Arc<Planned>>,
    problem: Option<Problem>,
}

/// `GET /cut`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    RawQuery(query): RawQuery,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let fields = Fields::of_text(&query.unwrap_or_default());
    let asked = fields.all("order");
    let orders = app.loft.orders().await.map_err(refuse)?;
    let chosen: Vec<Order> = orders.iter().filter(|order| asked.contains(&order.id)).cloned().collect();
    let (mut planned, mut refused) = (None, None);
    if !chosen.is_empty() {
        match plan(&app, &chosen).await {
            Ok(plan) => planned = Some(plan),
            Err(why) => refused = Some(why),
        }
    }
    let status = refused.as_ref().map_or(axum::http::StatusCode::OK, crate::refusal::status);
    // Nothing chosen yet: all are offered.
    let orders = orders.into_iter().map(|order| (asked.is_empty() || asked.contains(&order.id), order));
    let orders = orders.map(|(ticked, order)| (order, ticked)).collect();
    let shell = Shell::new("cut plan", "cut plan", &caller).saying(fields.text("said").as_deref());
    Ok((status, html(&Page { shell, orders, planned, problem: refused })).into_response())
}

/// The plan for these orders from the rack as it is now.
pub(crate) async fn plan(app: &App, orders: &[Order]) -> Result<Arc<Planned>, Problem> {
    let rack = app.loft.rack().await?;
    if rack.trim().is_empty() {
        return Err(problem("empty-rack", "the rack is empty", "put reels on the rack first"));
    }
    let Some(first) = orders.first() else {
        return Err(problem("no-orders", "no order is chosen", "choose at least one"));
    };
    let LinesRequest { ropes, own, .. } = lines_request(app, first).await?;
    let mut texts = Vec::new();
    for order in orders {
        texts.push(order_text(app, order).await?);
    }
    let list = app.loft.setting("rope-list").await?.unwrap_or_default();
    let system = units(app).await?;
    let day = crate::calendar::today();
    let parts = orders.iter().flat_map(|order| [order.id.as_str(), order.text.as_str()]);
    let of_the_loft = format!("{system:?} {own:?} {}", crate::pages::rules::factors(app).await?);
    let id = name_of(parts.chain([rack.as_str(), list.as_str(), day.as_str(), of_the_loft.as_str()]));
    if let Some(known) = app.plans.find(&id) {
        return Ok(known);
    }
    let request = CutRequest {
        source: PieceSource::Orders { orders: texts, ropes },
        own,
        rack: Text::held("the rack", rack),
        day: Some(desk::day("day", &day)?),
        units: system,
        ..CutRequest::default()
    };
    // Who asks for the same plan meanwhile waits for this one.
    let cut = app.answers.other("cut", &[id.as_str()], move || drawn(desk::cut(&request)?)).await?;
    Ok(app.plans.keep(Planned { id, orders: orders.iter().map(|order| order.id.clone()).collect(), cut }))
}

fn drawn(answer: CutAnswer) -> Result<CutDrawn, Problem> {
    let [narrow, wide] = WIDTHS_MM.map(|width| desk::plan_drawn(&answer, width));
    let bars = narrow?.into_iter().zip(wide?).map(|((rope, narrow), (_, wide))| (rope, narrow, wide)).collect();
    Ok(CutDrawn { answer, bars })
}

/// `POST /cut/{id}/confirm`: the rack is updated, once, and the pieces are cut.
pub(crate) async fn confirm(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(id): Path<String>,
) -> Result<Response, Refusal> {
    confirmed(&app, &caller, &id).await.map_err(|why| Refusal::new(why, &caller))?;
    Ok(Redirect::to("/bench?said=confirmed").into_response())
}

pub(crate) async fn confirmed(app: &App, caller: &Caller, id: &str) -> Result<(), Problem> {
    let missing = || {
        problem(
            "no-such-plan",
            "this plan is no longer held, or the rack or an order has changed",
            "make the plan again and look at it",
        )
    };
    let held = app.plans.find(id).ok_or_else(missing)?;
    let mut orders = Vec::new();
    for order in &held.orders {
        orders.push(app.loft.order(order).await?);
    }
    // Made again from what is there now: the same name means that nothing has changed.
    let now = plan(app, &orders).await?;
    if now.id != held.id {
        return Err(missing());
    }
    let pieces = pieces_of(app, &orders).await?;
    app.loft.confirm(&now, &pieces, &caller.who).await
}

/// What is kept of each piece when it is cut: its order, its boat, its card.
async fn pieces_of(app: &App, orders: &[Order]) -> Result<BTreeMap<String, PieceOf>, Problem> {
    let mut pieces = BTreeMap::new();
    for order in orders {
        let request = lines_request(app, order).await?;
        for card in worked(move || desk::bench_cards(&request)).await? {
            let json = serde_json::to_string(&card).map_err(|why| Problem::disk(&why.to_string()))?;
            pieces.insert(card.piece, PieceOf { order: Some(order.id.clone()), boat: card.boat, card: json });
        }
    }
    Ok(pieces)
}
