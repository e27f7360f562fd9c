//! An order: what it says, and its text to be changed.
//!
//! A save carries the revision that it began from. When somebody else has
//! saved since, nothing is overwritten: both texts stand side by side, and a
//! person decides.

use crate::app::App;
use crate::bodies::Fields;
use crate::guard::Caller;
use crate::loft::{Order, Saved};
use crate::pages::lines_request;
use crate::pages::orders::Said;
use crate::refusal::{Refusal, status};
use crate::view::{Shell, html, part};
use askama::Template;
use axum::Extension;
use axum::body::Body;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use desk::{BoatAnswer, Problem, Text};
use std::sync::Arc;

#[derive(Template)]
#[template(path = "order.html")]
struct Page {
    shell: Shell,
    order: Order,
    boat: Option<Arc<BoatAnswer>>,
    text: String,
    problem: Option<Problem>,
    theirs: Option<Order>,
    drafted: Option<String>,
    /// The revision that the text was made from: a save is judged by it.
    based_on: i64,
}

impl Page {
    async fn of(app: &App, caller: &Caller, order: Order) -> Page {
        let boat = app.answers.boat(&held(&order), None).await.ok();
        let title = boat.as_ref().map_or_else(|| order.id.clone(), |boat| format!("{} {}", order.id, boat.boat));
        Page {
            shell: Shell::new("orders", title, caller),
            text: order.text.clone(),
            boat,
            based_on: order.revision,
            order,
            problem: None,
            theirs: None,
            drafted: None,
        }
    }

    /// Has somebody saved since the text was begun?
    fn who_else(&self) -> bool {
        self.based_on != self.order.revision
    }
}

fn held(order: &Order) -> Text {
    Text::held(format!("order {}", order.id), &order.text)
}

/// `GET /orders/{id}`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(id): Path<String>,
    Query(said): Query<Said>,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let order = app.loft.order(&id).await.map_err(refuse)?;
    let drafts = app.loft.drafts(&caller.who, &address(&id)).await.map_err(refuse)?;
    let mut page = Page::of(&app, &caller, order).await;
    page.shell = page.shell.saying(said.said.as_deref());
    page.problem = worked_out(&app, &page.order).await;
    if let Some(draft) = drafts.into_iter().find(|draft| draft.field == "text" && draft.value != page.text) {
        page.based_on = draft.based_on.filter(|revision| *revision > 0).unwrap_or(page.based_on);
        page.drafted = Some(draft.at);
        page.text = draft.value;
    }
    Ok(html(&page))
}

/// `POST /orders/{id}`
pub(crate) async fn save(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(id): Path<String>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let fields = Fields::of_body(body).await.map_err(refuse)?;
    let text = fields.raw("text");
    let based_on = fields.number("revision").unwrap_or(0);
    let order = app.loft.order(&id).await.map_err(refuse)?;
    // An order that cannot be read is not put on the book, and is not lost either.
    if let Err(problem) = desk::boat(&Text::held(format!("order {id}"), &text), None) {
        keep(&app, &caller, &id, &text, based_on).await.map_err(refuse)?;
        let status = status(&problem);
        let mut page = Page::of(&app, &caller, order).await;
        (page.text, page.problem) = (text, Some(problem));
        page.based_on = based_on;
        return Ok((status, html(&page)).into_response());
    }
    match app.loft.save_order(&order, &text, based_on, &caller.who).await.map_err(refuse)? {
        Saved::Saved(order) => {
            app.loft.drop_drafts(&caller.who, &address(&id)).await.map_err(refuse)?;
            Ok(Redirect::to(&format!("{}?said=saved", address(&order.id))).into_response())
        }
        Saved::Changed { theirs, yours } => {
            keep(&app, &caller, &id, &yours, theirs.revision).await.map_err(refuse)?;
            let mut page = Page::of(&app, &caller, theirs.clone()).await;
            (page.text, page.theirs) = (yours, Some(theirs));
            Ok((StatusCode::CONFLICT, html(&page)).into_response())
        }
    }
}

async fn keep(app: &App, caller: &Caller, id: &str, text: &str, based_on: i64) -> Result<(), Problem> {
    let draft = crate::loft::Draft {
        field: "text".to_owned(),
        value: text.to_owned(),
        based_on: Some(based_on),
        at: crate::calendar::now(),
    };
    app.loft.keep_draft(&caller.who, &address(id), &draft).await
}

fn address(id: &str) -> String {
    format!("/orders/{}", part(id))
}

/// What stands against working the lines out, if anything does.
async fn worked_out(app: &App, order: &Order) -> Option<Problem> {
    let request = lines_request(app, order).await.ok()?;
    app.answers.lines(request).await.err()
}
