//! The loft's log of tests: what each rope and kind of splice comes to, a
//! test entered, a whole log taken in.

use super::{rope_list, system};
use crate::app::App;
use crate::bodies::Fields;
use crate::calendar;
use crate::guard::Caller;
use crate::refusal::{Refusal, problem, status};
use crate::view::{Shell, WIDTHS_MM, html, part};
use askama::Template;
use axum::Extension;
use axum::body::Body;
use axum::extract::{RawQuery, State};
use axum::response::{IntoResponse, Redirect, Response};
use desk::records::stamp;
use desk::{
    Choices, Mistake, Picture, Problem, ProofAnswer, SpliceProof, StoredRequest, TakenInAnswer, TestAnswer, TestEntry,
    Text,
};

/// Tests that one page shows.
const MOST: usize = 150;

#[derive(Template)]
#[template(path = "tests.html")]
struct Page {
    shell: Shell,
    splices: Vec<SpliceProof>,
    refused: Vec<Mistake>,
    latest: Vec<(TestAnswer, String)>,
    count: usize,
    choices: Choices,
    today: String,
    typed: Fields,
    taken_in: Option<TakenInAnswer>,
    problem: Option<Problem>,
}

impl Page {
    /// The day of the entry: as typed, or today.
    fn on(&self) -> String {
        self.typed.text("on").unwrap_or_else(|| self.today.clone())
    }

    /// The kind of end of the entry: as typed, or the commonest.
    fn end(&self) -> String {
        self.typed.text("end").unwrap_or_else(|| "long-bury-eye".to_owned())
    }
}

/// How a test may end, with words for it.
const ENDINGS: [(&str, &str); 5] = [
    ("held", "held: the load was taken off again"),
    ("splice", "broke at the splice: throat, bury, tail's end or crown"),
    ("drew-out", "the tail drew out"),
    ("rope", "the rope broke clear of the splice"),
    ("fitting", "a fitting, grip or pin gave way first"),
];

#[derive(Template)]
#[template(path = "statistics.html")]
struct StatisticsPage {
    shell: Shell,
    splice: SpliceProof,
    pictures: Option<[Picture; 2]>,
    shown: usize,
    cautions: Vec<&'static str>,
}

/// Every test of the loft, by rope and kind of splice; an empty log is no fault.
async fn log(app: &App) -> Result<ProofAnswer, Problem> {
    let request = StoredRequest { ropes: rope_list(app).await?, units: system(app).await?, ..StoredRequest::default() };
    match desk::stored_proof(app.loft.records(), &request).await {
        Err(why) if why.code == "no-tests" => {
            Ok(ProofAnswer { splices: Vec::new(), refused: Vec::new(), cautions: Vec::new() })
        }
        answer => answer,
    }
}

async fn page_of(app: &App, caller: &Caller, typed: Fields) -> Result<Page, Problem> {
    let mut answer = log(app).await?;
    let mut latest: Vec<(TestAnswer, String)> = Vec::new();
    for splice in &mut answer.splices {
        let of = format!("{} in {}", splice.end_name, splice.rope);
        latest.extend(splice.tests.iter().map(|test| (test.clone(), of.clone())));
    }
    let count = latest.len();
    latest.sort_by(|a, b| (&b.0.date, &b.0.number).cmp(&(&a.0.date, &a.0.number)));
    latest.truncate(50);
    Ok(Page {
        shell: Shell::new("tests", "tests", caller),
        splices: answer.splices,
        refused: answer.refused,
        latest,
        count,
        choices: desk::choices(),
        today: calendar::today(),
        typed,
        taken_in: None,
        problem: None,
    })
}

/// `GET /tests`; `?piece=CODE` and other fields begin the form.
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    RawQuery(query): RawQuery,
) -> Result<Response, Refusal> {
    let asked = Fields::of_text(&query.unwrap_or_default());
    let said = asked.text("said");
    let mut page = page_of(&app, &caller, asked).await.map_err(|why| Refusal::new(why, &caller))?;
    page.shell = page.shell.saying(said.as_deref());
    Ok(html(&page))
}

/// `POST /tests`: one test.
pub(crate) async fn enter(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let fields = Fields::of_body(body).await.map_err(refuse)?;
    match entered(&app, &caller, &fields).await {
        Ok(number) => {
            app.loft.drop_drafts(&caller.who, "/tests").await.map_err(refuse)?;
            Ok(Redirect::to(&format!("/test/{}?said=tested", part(&number))).into_response())
        }
        Err(why) => {
            let code = status(&why);
            let mut page = page_of(&app, &caller, fields).await.map_err(refuse)?;
            page.problem = Some(why);
            Ok((code, html(&page)).into_response())
        }
    }
}

async fn entered(app: &App, caller: &Caller, fields: &Fields) -> Result<String, Problem> {
    let entry = TestEntry {
        number: fields.raw("number"),
        piece: fields.text("piece"),
        sample: fields.text("sample"),
        rope: fields.text("rope"),
        end: fields.raw("end"),
        on: fields.text("on").unwrap_or_else(calendar::today),
        load: fields.raw("load"),
        wanted: fields.text("wanted"),
        broke: fields.raw("broke"),
        hold: fields.text("hold"),
        cycles: fields.text("cycles"),
        method: fields.text("method"),
        load_cell: fields.text("load_cell"),
        splicer: fields.text("splicer"),
        strength: fields.text("strength"),
        estimate: fields.text("estimate"),
        used_months: fields.text("used_months"),
        bury: fields.text("bury"),
        tail_load: fields.text("tail_load"),
        left_out: fields.text("left_out"),
        note: fields.text("note"),
        ropes: rope_list(app).await?,
    };
    desk::enter_test(app.loft.records(), &entry, &stamp(&caller.who)?).await
}

/// `POST /tests/log`: a log of tests as CSV; what is no test is told, the rest kept.
pub(crate) async fn take_in(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let fields = Fields::of_body(body).await.map_err(refuse)?;
    let log = Text::held("log of tests", fields.raw("log"));
    let ropes = rope_list(&app).await.map_err(refuse)?;
    let stamp = stamp(&caller.who).map_err(refuse)?;
    let taken = desk::take_in_tests(app.loft.records(), &log, ropes.as_ref(), &stamp).await;
    let mut page = page_of(&app, &caller, Fields::default()).await.map_err(refuse)?;
    let code = match taken {
        Ok(answer) => {
            app.loft.drop_drafts(&caller.who, "/tests log").await.map_err(refuse)?;
            let nothing = answer.kept.is_empty();
            if !answer.refused.is_empty() {
                page.typed = fields;
            }
            page.taken_in = Some(answer);
            if nothing { axum::http::StatusCode::UNPROCESSABLE_ENTITY } else { axum::http::StatusCode::OK }
        }
        Err(why) => {
            let code = status(&why);
            (page.problem, page.typed) = (Some(why), fields);
            code
        }
    };
    Ok((code, html(&page)).into_response())
}

/// `GET /tests/statistics?rope=&end=`: one rope and kind of splice in full.
pub(crate) async fn statistics(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    RawQuery(query): RawQuery,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let asked = Fields::of_text(&query.unwrap_or_default());
    let mut page = statistics_of(&app, &caller, &asked).await.map_err(refuse)?;
    // The latest are shown; the sums are of all.
    let many = page.splice.tests.len();
    page.splice.tests = page.splice.tests.split_off(many.saturating_sub(MOST));
    page.shown = page.splice.tests.len();
    Ok(html(&page))
}

async fn statistics_of(app: &App, caller: &Caller, asked: &Fields) -> Result<StatisticsPage, Problem> {
    let request = StoredRequest {
        ropes: rope_list(app).await?,
        rope: asked.text("rope"),
        end: asked.text("end"),
        units: system(app).await?,
    };
    let answer = desk::stored_proof(app.loft.records(), &request).await?;
    let cautions = answer.cautions;
    let splice = answer.splices.into_iter().next().ok_or_else(|| {
        problem("not-there", "there is no test of this rope and kind of end", "open the log: it lists what there is")
    })?;
    let [narrow, wide] = WIDTHS_MM.map(|width| desk::tests_drawn(&splice, width));
    let pictures = match (narrow?, wide?) {
        (Some(narrow), Some(wide)) => Some([narrow, wide]),
        _ => None,
    };
    let title = format!("{} in {}", splice.end_name, splice.rope);
    Ok(StatisticsPage { shell: Shell::new("tests", title, caller), splice, pictures, shown: 0, cautions })
}
