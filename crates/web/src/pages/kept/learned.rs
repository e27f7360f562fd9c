//! What the loft has learnt: every figure's default beside its own, what is
//! used by which rule, what that changes; and figures entered.

use super::{rope_list, system};
use crate::app::App;
use crate::bodies::Fields;
use crate::calendar;
use crate::guard::Caller;
use crate::pages::orders::Said;
use crate::refusal::{Refusal, status};
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::body::Body;
use axum::extract::{Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use desk::records::stamp;
use desk::{Choices, FigureEntry, LearnedAnswer, Problem, ProofAnswer, StoredRequest};

#[derive(Template)]
#[template(path = "learned.html")]
struct Page {
    shell: Shell,
    answer: LearnedAnswer,
    proof: ProofAnswer,
    choices: Choices,
    today: String,
    typed: Fields,
    problem: Option<Problem>,
}

impl Page {
    fn on(&self) -> String {
        self.typed.text("on").unwrap_or_else(|| self.today.clone())
    }
}

async fn page_of(app: &App, caller: &Caller) -> Result<Page, Problem> {
    let request = StoredRequest { ropes: rope_list(app).await?, units: system(app).await?, ..StoredRequest::default() };
    let records = app.loft.records();
    let proof = match desk::stored_proof(records, &request).await {
        Err(why) if why.code == "no-tests" => {
            ProofAnswer { splices: Vec::new(), refused: Vec::new(), cautions: Vec::new() }
        }
        answer => answer?,
    };
    Ok(Page {
        shell: Shell::new("tests", "what the loft has learnt", caller),
        answer: desk::stored_learned(records, &request).await?,
        proof,
        choices: desk::choices(),
        today: calendar::today(),
        typed: Fields::default(),
        problem: None,
    })
}

/// `GET /learned`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Query(said): Query<Said>,
) -> Result<Response, Refusal> {
    let mut page = page_of(&app, &caller).await.map_err(|why| Refusal::new(why, &caller))?;
    page.shell = page.shell.saying(said.said.as_deref());
    Ok(html(&page))
}

/// `POST /learned`: minutes or another figure.
pub(crate) async fn enter(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let fields = Fields::of_body(body).await.map_err(refuse)?;
    let entry = FigureEntry {
        what: fields.raw("what"),
        end: fields.raw("end"),
        rope: fields.text("rope"),
        piece: fields.text("piece"),
        value: fields.raw("value"),
        on: fields.text("on").unwrap_or_else(calendar::today),
    };
    let stamp = stamp(&caller.who).map_err(refuse)?;
    match desk::enter_figure(app.loft.records(), &entry, &stamp).await {
        Ok(()) => {
            app.loft.drop_drafts(&caller.who, "/learned").await.map_err(refuse)?;
            Ok(Redirect::to("/learned?said=figure").into_response())
        }
        Err(why) => {
            let code = status(&why);
            let mut page = page_of(&app, &caller).await.map_err(refuse)?;
            (page.problem, page.typed) = (Some(why), fields);
            Ok((code, html(&page)).into_response())
        }
    }
}
