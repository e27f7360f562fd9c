//! Service: what must be looked at, the same as a calendar, every piece by
//! state, and a piece brought in.

use super::{address, rope_list};
use crate::app::App;
use crate::bodies::Fields;
use crate::calendar;
use crate::guard::Caller;
use crate::refusal::{Refusal, problem, status};
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::body::Body;
use axum::extract::{RawQuery, State};
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};
use desk::records::rows::{Piece, PieceState};
use desk::records::stamp;
use desk::{BringIn, DueAnswer, DueEntry, DueRequest, Problem};

/// Rows of a page: with more, nobody finds anything and the page grows heavy.
const MOST: u32 = 200;
/// Rows that are looked through when the list is narrowed.
const LOOKED_THROUGH: u32 = 100_000;

/// A piece that is due, with its page.
pub(crate) struct Due {
    pub(crate) entry: DueEntry,
    pub(crate) address: String,
}

impl Due {
    fn of(entry: DueEntry) -> Due {
        Due { address: address(&entry.code), entry }
    }

    /// In words: `5 days over`, `today`, `in 12 days`.
    pub(crate) fn when(&self) -> String {
        match self.entry.days {
            days if days < 0 => format!("{} days over", -days),
            0 => "today".to_owned(),
            days => format!("in {days} days"),
        }
    }
}

#[derive(Template)]
#[template(path = "due.html")]
struct Page {
    shell: Shell,
    list: DueAnswer,
    due: Vec<Due>,
    more: bool,
    overdue: usize,
    asked: Fields,
    typed: Fields,
    problem: Option<Problem>,
}

#[derive(Template)]
#[template(path = "pieces.html")]
struct PiecesPage {
    shell: Shell,
    state: PieceState,
    rows: Vec<(Piece, String)>,
    next: Option<String>,
}

/// The states that pieces are listed by, each with its words.
const STATES: [(PieceState, &str); 5] = [
    (PieceState::InService, "in service"),
    (PieceState::Made, "made, not in service"),
    (PieceState::Cut, "cut, at the bench"),
    (PieceState::Retired, "retired"),
    (PieceState::Broken, "broken for test"),
];

/// What is due by a month from now, at most `most`, and whether there is more.
pub(crate) async fn due_soon(app: &App, most: u32) -> Result<(Vec<Due>, bool), Problem> {
    let request = DueRequest { today: calendar::today(), by: None, most };
    let list = desk::due(app.loft.records(), &request).await?;
    Ok((list.pieces.into_iter().map(Due::of).collect(), list.more))
}

async fn page_of(app: &App, caller: &Caller, asked: Fields) -> Result<Page, Problem> {
    let narrowed = asked.text("find").map(|text| text.to_lowercase());
    let late = asked.text("late").is_some();
    let request = DueRequest {
        today: calendar::today(),
        by: asked.text("by"),
        most: if narrowed.is_some() || late { LOOKED_THROUGH } else { MOST },
    };
    let mut list = desk::due(app.loft.records(), &request).await?;
    list.pieces.retain(|piece| {
        let text = format!("{} {} {} {}", piece.code, piece.boat, piece.line, piece.rope).to_lowercase();
        narrowed.as_ref().is_none_or(|words| text.contains(words.as_str())) && (!late || piece.days < 0)
    });
    let more = list.more || list.pieces.len() > MOST as usize;
    list.pieces.truncate(MOST as usize);
    let due: Vec<Due> = list.pieces.drain(..).map(Due::of).collect();
    Ok(Page {
        shell: Shell::new("service", "service", caller),
        overdue: due.iter().filter(|due| due.entry.days < 0).count(),
        due,
        list,
        more,
        asked,
        typed: Fields::default(),
        problem: None,
    })
}

/// `GET /service`: the due list, narrowed by day, words or lateness.
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    RawQuery(query): RawQuery,
) -> Result<Response, Refusal> {
    let asked = Fields::of_text(&query.unwrap_or_default());
    let said = asked.text("said");
    match page_of(&app, &caller, asked.clone()).await {
        Ok(mut page) => {
            page.shell = page.shell.saying(said.as_deref());
            Ok(html(&page))
        }
        Err(why) if why.code == "not-a-day" => {
            let mut page = page_of(&app, &caller, Fields::default()).await.map_err(|why| Refusal::new(why, &caller))?;
            let code = status(&why);
            (page.problem, page.asked) = (Some(why), asked);
            Ok((code, html(&page)).into_response())
        }
        Err(why) => Err(Refusal::new(why, &caller)),
    }
}

/// `GET /service/due.ics`: everything that has a day, for a calendar program.
pub(crate) async fn calendar(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
) -> Result<Response, Refusal> {
    let request = DueRequest { today: calendar::today(), by: Some("9999-12-31".to_owned()), most: LOOKED_THROUGH };
    let text = desk::due_calendar(app.loft.records(), &request, &calendar::now())
        .await
        .map_err(|why| Refusal::new(why, &caller))?;
    let headers = [
        (header::CONTENT_TYPE, "text/calendar; charset=utf-8"),
        (header::CONTENT_DISPOSITION, "inline; filename=\"due.ics\""),
    ];
    Ok((headers, text).into_response())
}

/// `POST /service`: a piece that comes from no cut plan.
pub(crate) async fn bring_in(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let fields = Fields::of_body(body).await.map_err(refuse)?;
    match brought_in(&app, &caller, &fields).await {
        Ok(code) => {
            app.loft.drop_drafts(&caller.who, "/service").await.map_err(refuse)?;
            Ok(Redirect::to(&format!("{}?said=brought", address(&code))).into_response())
        }
        Err(why) => {
            let mut page = page_of(&app, &caller, Fields::default()).await.map_err(refuse)?;
            let code = status(&why);
            (page.problem, page.typed) = (Some(why), fields);
            Ok((code, html(&page)).into_response())
        }
    }
}

async fn brought_in(app: &App, caller: &Caller, fields: &Fields) -> Result<String, Problem> {
    let piece = BringIn {
        code: fields.raw("code"),
        boat: fields.raw("boat"),
        line: fields.raw("line"),
        rope: fields.raw("rope"),
        length: fields.raw("length"),
        purpose: fields.text("purpose"),
        made_on: fields.text("made_on"),
        in_service_on: fields.text("in_service_on"),
        next_due: fields.text("next_due"),
        ropes: rope_list(app).await?,
    };
    desk::bring_in(app.loft.records(), &piece, &stamp(&caller.who)?).await
}

/// `GET /service/pieces?state=in_service&after=CODE`: every piece, page by page.
pub(crate) async fn pieces(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    RawQuery(query): RawQuery,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let asked = Fields::of_text(&query.unwrap_or_default());
    let word = asked.text("state").unwrap_or_else(|| "in_service".to_owned());
    let Some((state, _)) = STATES.into_iter().find(|(state, _)| state.word() == word) else {
        let all = STATES.map(|(state, _)| state.word()).join(", ");
        return Err(refuse(problem(
            "unknown-word",
            format!("{word:?} is no state of a piece"),
            &format!("one of: {all}"),
        )));
    };
    let rows = app.loft.records().store().pieces(state, &asked.raw("after"), MOST).await;
    let rows = rows.map_err(|why| refuse(why.into()))?;
    let next = rows.last().filter(|_| rows.len() == MOST as usize).map(|piece| crate::view::part(&piece.code));
    let rows = rows.into_iter().map(|piece| (piece.clone(), address(&piece.code))).collect();
    Ok(html(&PiecesPage { shell: Shell::new("service", "pieces", &caller), state, rows, next }))
}
