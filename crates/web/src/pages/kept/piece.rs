//! A piece by the code on its label: what it is, what happened to it, what is
//! left of it, and what is entered next.

use super::{rope_list, system};
use crate::app::App;
use crate::bodies::Fields;
use crate::calendar;
use crate::guard::Caller;
use crate::loft::Photo;
use crate::pages::orders::Said;
use crate::refusal::{Refusal, problem, status};
use crate::view::{Shell, html, part};
use askama::Template;
use axum::Extension;
use axum::body::Body;
use axum::extract::{Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use desk::records::stamp;
use desk::{EventRequest, InspectRequest, PieceAnswer, PieceRequest, Problem};
use serde::Deserialize;

#[derive(Template)]
#[template(path = "piece.html")]
struct Page {
    shell: Shell,
    address: String,
    bench: String,
    piece: PieceAnswer,
    photos: Vec<Photo>,
    today: String,
    typed: Fields,
    problem: Option<Problem>,
}

impl Page {
    /// What may be entered with the plain form.
    fn events(&self) -> Vec<&'static str> {
        let own_form = ["inspected", "proved", "broken-for-test"];
        self.piece.may_be.iter().copied().filter(|word| !own_form.contains(word)).collect()
    }

    fn may_be(&self, word: &str) -> bool {
        self.piece.may_be.contains(&word)
    }

    /// The code as part of an address.
    fn code_path(&self) -> &str {
        self.address.trim_start_matches("/piece/")
    }

    /// What was typed of a criterion before it was refused.
    fn seen(&self, criterion: &str) -> String {
        self.typed.raw(&format!("see-{criterion}"))
    }

    /// Is a limit passed by what the last inspection found?
    fn look_stops(&self) -> bool {
        self.piece.look.iter().any(desk::FindingAnswer::is_stop)
    }

    fn overdue(&self) -> Option<i32> {
        self.piece.due_in_days.filter(|days| *days < 0).map(|days| -days)
    }

    /// The day of the entry: as typed, or today.
    fn on(&self) -> String {
        self.typed.text("on").unwrap_or_else(|| self.today.clone())
    }
}

/// A piece's page: `/piece/26-041/03a`, what the label's code opens.
pub(crate) fn address(code: &str) -> String {
    let parts: Vec<String> = code.split('/').map(part).collect();
    format!("/piece/{}", parts.join("/"))
}

/// A code that was typed or scanned.
#[derive(Debug, Deserialize)]
pub(crate) struct Scanned {
    code: Option<String>,
}

/// `GET /piece?code=`: to the page of a code; a label may hold the address too.
pub(crate) async fn find(
    Extension(caller): Extension<Caller>,
    Query(scanned): Query<Scanned>,
) -> Result<Response, Refusal> {
    let given = scanned.code.unwrap_or_default();
    let code = given.split_once("/piece/").map_or(given.as_str(), |(_, code)| code).trim().to_owned();
    if code.is_empty() {
        let why =
            problem("missing-part", "no code was given", "scan the label, or type the code that is printed on it");
        return Err(Refusal::new(why, &caller));
    }
    Ok(Redirect::to(&address(&code)).into_response())
}

/// `GET /piece/{code}`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(code): Path<String>,
    Query(said): Query<Said>,
) -> Result<Response, Refusal> {
    let mut page = page_of(&app, &caller, &code).await.map_err(|why| Refusal::new(why, &caller))?;
    page.shell = page.shell.saying(said.said.as_deref());
    Ok(html(&page))
}

async fn page_of(app: &App, caller: &Caller, code: &str) -> Result<Page, Problem> {
    let today = calendar::today();
    let request = PieceRequest {
        code: code.to_owned(),
        today: today.clone(),
        ropes: rope_list(app).await?,
        units: system(app).await?,
    };
    let piece = desk::piece(app.loft.records(), &request).await?;
    Ok(Page {
        shell: Shell::new("service", format!("{} {}", piece.code, piece.line), caller),
        address: address(code),
        bench: crate::pages::bench::address(code),
        photos: app.loft.photos(code).await?,
        piece,
        today,
        typed: Fields::default(),
        problem: None,
    })
}

/// `POST /piece/{code}`: an inspection or an event, refused with what was typed.
pub(crate) async fn enter(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(code): Path<String>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let fields = Fields::of_body(body).await.map_err(refuse)?;
    match entered(&app, &caller, &code, &fields).await {
        Ok(said) => {
            let draft = format!("{} {}", address(&code), fields.raw("what"));
            app.loft.drop_drafts(&caller.who, &draft).await.map_err(refuse)?;
            Ok(Redirect::to(&format!("{}?said={said}", address(&code))).into_response())
        }
        Err(why) if why.code == "missing" => Err(refuse(why)),
        Err(why) => {
            let mut page = page_of(&app, &caller, &code).await.map_err(refuse)?;
            let code = status(&why);
            (page.problem, page.typed) = (Some(why), fields);
            Ok((code, html(&page)).into_response())
        }
    }
}

async fn entered(app: &App, caller: &Caller, code: &str, fields: &Fields) -> Result<&'static str, Problem> {
    let stamp = stamp(&caller.who)?;
    let on = fields.text("on").unwrap_or_else(calendar::today);
    let records = app.loft.records();
    if fields.raw("what") == "inspected" {
        let request = InspectRequest {
            code: code.to_owned(),
            on,
            readings: fields.starting("see-"),
            next: fields.text("next"),
            reason: fields.text("reason"),
            note: fields.raw("note"),
            ropes: rope_list(app).await?,
            units: system(app).await?,
        };
        desk::inspect(records, &request, &stamp).await?;
        return Ok("inspected");
    }
    let hours = match fields.text("hours") {
        None => None,
        Some(text) => Some(text.trim_end_matches('h').trim().parse::<f64>().map_err(|_| {
            problem(
                "cannot-be-read",
                format!("hours: {text:?} is no number"),
                "hours under load since the last entry: 12.5",
            )
        })?),
    };
    let request = EventRequest {
        code: code.to_owned(),
        on,
        what: fields.raw("what"),
        hours,
        next: fields.text("next"),
        reason: fields.text("reason"),
    };
    desk::enter_event(records, &request, &stamp).await?;
    Ok("entered")
}
