//! The quote of an order: every printed line, waste, margin, tax, and where
//! the minutes are from. Kept, it never changes: another quote does.

use super::terms;
use crate::app::App;
use crate::bodies::Fields;
use crate::calendar;
use crate::guard::Caller;
use crate::pages::{lines_request, orders::Said};
use crate::refusal::{Refusal, problem, status};
use crate::view::{Shell, html, part};
use askama::Template;
use axum::Extension;
use axum::body::Body;
use axum::extract::{Path, Query, RawQuery, State};
use axum::response::{IntoResponse, Redirect, Response};
use desk::records::rows::{Quote, QuoteState};
use desk::records::stamp;
use desk::{Problem, QuoteAnswer, QuoteRequest, Text};
use serde_json::Value as Json;

#[derive(Template)]
#[template(path = "quote.html")]
struct Page {
    shell: Shell,
    id: String,
    boat: String,
    terms: Fields,
    items: String,
    /// The terms as a form sends them, so that what is kept is what was seen.
    asked: String,
    quote: Option<Shown>,
    problem: Option<Problem>,
}

#[derive(Template)]
#[template(path = "quote_kept.html")]
struct KeptPage {
    shell: Shell,
    row: Quote,
    shown: Shown,
    next: Vec<&'static str>,
}

/// A quote as it is shown, from its JSON: the same for one worked out now and
/// one that was kept.
#[derive(Debug, Default)]
pub(crate) struct Shown {
    lines: Vec<[String; 4]>,
    sums: Vec<(String, String)>,
    total: Option<String>,
    currency: String,
    rounding: String,
    minutes: Vec<String>,
    refused: Vec<(String, String)>,
}

impl Shown {
    fn of(json: &Json) -> Shown {
        let text = |value: &Json| value.as_str().unwrap_or_default().to_owned();
        let list = |name: &str| json[name].as_array().cloned().unwrap_or_default();
        let line = |line: &Json| {
            let quantity = format!("{} {}", text(&line["quantity"]), text(&line["unit"]));
            let price = format!("{} / {}", text(&line["price"]), text(&line["per"]));
            [text(&line["name"]), quantity.trim().to_owned(), price, text(&line["amount"])]
        };
        let sum = |name: &str, of: &str| (name.to_owned(), text(&json[of]));
        Shown {
            lines: list("lines").iter().map(line).collect(),
            sums: vec![
                sum("rope spoiled", "waste"),
                sum("cost", "cost"),
                (format!("margin, {}", text(&json["margin_rule"])), text(&json["margin"])),
                sum("net", "net"),
                sum("tax", "tax"),
            ],
            total: json["total"].as_str().map(str::to_owned),
            currency: text(&json["currency"]),
            rounding: text(&json["rounding"]),
            minutes: list("minutes").iter().map(text).collect(),
            refused: list("refused").iter().map(|one| (text(&one["message"]), text(&one["hint"]))).collect(),
        }
    }
}

fn json_of(answer: &QuoteAnswer) -> Result<Json, Problem> {
    serde_json::to_value(answer).map_err(|why| Problem::disk(&why.to_string()))
}

async fn asked_of(app: &App, asked: &Fields) -> Result<Fields, Problem> {
    // A question that names any term names all of them; a bare address asks with the loft's.
    let named = desk::TERMS.iter().any(|(name, _, _)| asked.has(name));
    if named { Ok(asked.clone()) } else { terms(app).await }
}

async fn quoted(app: &App, id: &str, terms: &Fields, items: &str) -> Result<QuoteAnswer, Problem> {
    let order = app.loft.order(id).await?;
    let lines = lines_request(app, &order).await?;
    let request = QuoteRequest {
        order: lines.order,
        ropes: lines.ropes,
        items: Some(items).filter(|text| !text.trim().is_empty()).map(|text| Text::held("items", text)),
        labour: terms.text("labour"),
        twine: terms.text("twine"),
        waste: terms.text("waste"),
        margin: terms.text("margin"),
        tax: terms.text("tax"),
        rounding: terms.text("rounding"),
        units: lines.units,
        ..QuoteRequest::default()
    };
    desk::quote_kept(app.loft.records(), &request).await
}

async fn page_of(app: &App, caller: &Caller, id: &str, asked: &Fields) -> Result<Page, Problem> {
    let order = app.loft.order(id).await?;
    let terms = asked_of(app, asked).await?;
    let items = app.loft.setting(&format!("items/{id}")).await?.unwrap_or_default();
    let (quote, problem) = match quoted(app, id, &terms, &items).await {
        Ok(answer) => (Some(Shown::of(&json_of(&answer)?)), None),
        Err(why) => (None, Some(why)),
    };
    let asked = desk::TERMS.map(|(name, _, _)| format!("{name}={}", part(terms.raw(name)))).join("&");
    Ok(Page {
        shell: Shell::new("prices", format!("price of {id}"), caller),
        id: id.to_owned(),
        boat: order.name,
        terms,
        items,
        asked,
        quote,
        problem,
    })
}

/// `GET /orders/{id}/price?labour=48+EUR&…`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(id): Path<String>,
    RawQuery(query): RawQuery,
) -> Result<Response, Refusal> {
    let asked = Fields::of_text(&query.unwrap_or_default());
    let said = asked.text("said");
    let mut page = page_of(&app, &caller, &id, &asked).await.map_err(|why| Refusal::new(why, &caller))?;
    page.shell = page.shell.saying(said.as_deref());
    let code = page.problem.as_ref().map_or(axum::http::StatusCode::OK, status);
    Ok((code, html(&page)).into_response())
}

/// `POST /orders/{id}/price/items`: hardware and whatever else the order takes.
pub(crate) async fn save_items(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(id): Path<String>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let fields = Fields::of_body(body).await.map_err(refuse)?;
    let address = format!("/orders/{}/price", part(&id));
    let items = fields.raw("items");
    app.loft.order(&id).await.map_err(refuse)?;
    if !items.trim().is_empty()
        && let Err(why) = desk::check_items(&Text::held("items", &items))
    {
        let code = status(&why);
        let mut page = page_of(&app, &caller, &id, &Fields::default()).await.map_err(refuse)?;
        (page.problem, page.items) = (Some(why), items);
        return Ok((code, html(&page)).into_response());
    }
    app.loft.set(&format!("items/{id}"), &items, &caller.who).await.map_err(refuse)?;
    app.loft.drop_drafts(&caller.who, &address).await.map_err(refuse)?;
    Ok(Redirect::to(&format!("{address}?said=saved")).into_response())
}

/// `POST /orders/{id}/price`: the quote with these terms, kept as a draft.
pub(crate) async fn keep(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(id): Path<String>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let fields = Fields::of_body(body).await.map_err(refuse)?;
    let asked = Fields::of_text(&fields.raw("asked"));
    let number = kept_quote(&app, &caller, &id, &asked).await.map_err(refuse)?;
    Ok(Redirect::to(&format!("/quote/{}?said=quoted", part(&number))).into_response())
}

async fn kept_quote(app: &App, caller: &Caller, id: &str, asked: &Fields) -> Result<String, Problem> {
    let order = app.loft.order(id).await?;
    let items = app.loft.setting(&format!("items/{id}")).await?.unwrap_or_default();
    let answer = quoted(app, id, &asked_of(app, asked).await?, &items).await?;
    let total = answer.total.clone().ok_or_else(|| {
        problem(
            "no-total",
            "something has no price, so there is no total to offer",
            "the page of prices says what is missing",
        )
    })?;
    let store = app.loft.records().store();
    let earlier = store.quotes(u32::MAX / 2).await?;
    let count = earlier.iter().filter(|quote| quote.order_id.as_deref() == Some(id)).count();
    let row = Quote {
        number: format!("{id}-Q{}", count + 1),
        order_id: Some(id.to_owned()),
        order_revision: Some(order.revision),
        state: QuoteState::Draft,
        currency: answer.currency.clone(),
        total: total.split_whitespace().next().unwrap_or_default().replace(',', ""),
        answer: json_of(&answer)?.to_string(),
        day: calendar::today(),
        valid_until: None,
        note: String::new(),
        revision: 0,
        at: String::new(),
        who: String::new(),
    };
    Ok(store.add_quote(&row, &stamp(&caller.who)?).await?.number)
}

/// `GET /quote/{number}`: as it was kept.
pub(crate) async fn kept(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(number): Path<String>,
    Query(said): Query<Said>,
) -> Result<Response, Refusal> {
    let refuse = |why: Problem| Refusal::new(why, &caller);
    let row = app.loft.records().store().quote(&number).await.map_err(|why| refuse(why.into()))?;
    let shown = Shown::of(&serde_json::from_str(&row.answer).unwrap_or_default());
    let next = match row.state {
        QuoteState::Draft => vec!["sent", "withdrawn"],
        QuoteState::Sent => vec!["accepted", "declined", "withdrawn"],
        QuoteState::Accepted | QuoteState::Declined | QuoteState::Withdrawn => Vec::new(),
    };
    let shell = Shell::new("prices", format!("quote {number}"), &caller).saying(said.said.as_deref());
    Ok(html(&KeptPage { shell, row, shown, next }))
}

/// `POST /quote/{number}`: sent, accepted, declined, withdrawn.
pub(crate) async fn move_on(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(number): Path<String>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let to = Fields::of_body(body).await.map_err(refuse)?.raw("to");
    let states = [QuoteState::Sent, QuoteState::Accepted, QuoteState::Declined, QuoteState::Withdrawn]
        .map(|state| (state.word(), state));
    let Some((_, state)) = states.into_iter().find(|(word, _)| *word == to) else {
        let why =
            problem("unknown-word", format!("{to:?} is no state of a quote"), "sent, accepted, declined or withdrawn");
        return Err(refuse(why));
    };
    let stamp = stamp(&caller.who).map_err(refuse)?;
    let moved = app.loft.records().store().move_quote(&number, state, &stamp).await;
    moved.map_err(|why| refuse(why.into()))?;
    Ok(Redirect::to(&format!("/quote/{}?said=saved", part(&number))).into_response())
}
