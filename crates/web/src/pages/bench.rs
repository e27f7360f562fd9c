//! At the bench: the pieces that are to be made, and one piece step by step.

use crate::app::App;
use crate::bodies::{Fields, LARGEST_UPLOAD};
use crate::guard::Caller;
use crate::loft::{Mark, Photo, PieceKept, Taken};
use crate::pages::{interrupted, lines_request, units, worked};
use crate::photo;
use crate::refusal::{Refusal, problem};
use crate::view::{Shell, html, part};
use askama::Template;
use axum::Extension;
use axum::body::Body;
use axum::extract::{Multipart, Path, Query, State};
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};
use desk::{BenchAnswer, BenchEnd, Measured, PieceListed, Problem};
use serde::Deserialize;
use std::collections::BTreeSet;
use std::sync::Arc;
use tokio::sync::Semaphore;

#[derive(Template)]
#[template(path = "bench.html")]
struct ListPage {
    shell: Shell,
    orders: Vec<OrderPieces>,
}

/// An order's pieces, with how far each is.
struct OrderPieces {
    id: String,
    name: String,
    pieces: Vec<PieceRow>,
    problem: Option<Problem>,
}

struct PieceRow {
    listed: PieceListed,
    address: String,
    state: String,
}

#[derive(Template)]
#[template(path = "make.html")]
struct MakePage {
    shell: Shell,
    address: String,
    bench: Arc<BenchAnswer>,
    steps: Vec<Step>,
    at: usize,
    kept: Option<PieceKept>,
    measured: Vec<Found>,
    photos: Vec<Photo>,
    problem: Option<Problem>,
    given: String,
}

impl MakePage {
    fn step(&self) -> &Step {
        self.steps.get(self.at).unwrap_or(&NO_STEP)
    }

    fn last(&self) -> bool {
        self.at + 1 >= self.steps.len()
    }

    /// The end that the step belongs to.
    fn end(&self) -> Option<&BenchEnd> {
        self.bench.ends.iter().find(|end| end.place == self.step().part)
    }

    /// What was last found of a measurement.
    fn found(&self, what: &str) -> Option<&Found> {
        self.measured.iter().rev().find(|found| found.measured.what == what)
    }

    fn ticked(&self) -> usize {
        self.steps.iter().filter(|step| step.done).count()
    }
}

static NO_STEP: Step = Step { name: String::new(), part: "", text: String::new(), done: false };

/// A measurement that was kept, judged as of now.
struct Found {
    measured: Measured,
    at: String,
    who: String,
}

/// One step of a piece.
pub(crate) struct Step {
    name: String,
    part: &'static str,
    text: String,
    done: bool,
}

/// Which orders' pieces, which step, what to say.
#[derive(Debug, Deserialize)]
pub(crate) struct Asked {
    order: Option<String>,
    step: Option<usize>,
    said: Option<String>,
}

/// `GET /bench`
pub(crate) async fn list(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Query(asked): Query<Asked>,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let orders = match &asked.order {
        Some(id) => vec![app.loft.order(id).await.map_err(refuse)?],
        None => app.loft.orders().await.map_err(refuse)?,
    };
    let mut listed = Vec::new();
    for order in orders {
        let request = lines_request(&app, &order).await.map_err(refuse)?;
        let kept = app.loft.pieces_of(&order.id).await.map_err(refuse)?;
        let (pieces, problem) = match app.answers.pieces(request).await {
            Ok(pieces) => (pieces, None),
            Err(problem) => (Arc::default(), Some(problem)),
        };
        let row = |piece: &PieceListed| {
            let state =
                kept.iter().find(|kept| kept.code == piece.piece).map_or("not cut yet", |kept| kept.state.as_str());
            PieceRow { address: address(&piece.piece), state: state.to_owned(), listed: piece.clone() }
        };
        let pieces = pieces.iter().map(row).collect();
        listed.push(OrderPieces { id: order.id, name: order.name, pieces, problem });
    }
    let shell = Shell::new("at the bench", "at the bench", &caller).saying(asked.said.as_deref());
    Ok(html(&ListPage { shell, orders: listed }))
}

/// A piece's page: `/pieces/26-041/03a`.
pub(crate) fn address(code: &str) -> String {
    let (order, piece) = code.rsplit_once('/').unwrap_or(("", code));
    format!("/pieces/{}/{}", part(order), part(piece))
}

/// `GET /pieces/{order}/{piece}`: one step at a time.
pub(crate) async fn make(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path((order, piece)): Path<(String, String)>,
    Query(asked): Query<Asked>,
) -> Result<Response, Refusal> {
    let code = format!("{order}/{piece}");
    let mut page = make_page(&app, &caller, &order, &code).await.map_err(|why| Refusal::new(why, &caller))?;
    if let Some(step) = asked.step.filter(|step| *step < page.steps.len()) {
        page.at = step;
    }
    page.shell = page.shell.saying(asked.said.as_deref());
    Ok(html(&page))
}

async fn make_page(app: &App, caller: &Caller, order: &str, code: &str) -> Result<MakePage, Problem> {
    let order = app.loft.order(order).await?;
    let request = lines_request(app, &order).await?;
    let bench = app.answers.bench(request, code).await?;
    let kept = app.loft.piece(code).await?;
    let ticks = app.loft.ticks(code).await?;
    let steps = steps(&bench, kept.as_ref(), &ticks);
    let at = steps.iter().position(|step| !step.done).unwrap_or(steps.len().saturating_sub(1));
    Ok(MakePage {
        shell: Shell::new("at the bench", format!("{} {}", bench.piece, bench.line), caller),
        address: address(code),
        steps,
        at,
        kept,
        measured: found(app, &bench, app.loft.measured(code).await?).await?,
        photos: app.loft.photos(code).await?,
        bench,
        problem: None,
        given: String::new(),
    })
}

/// Every step of the piece in order: the cut, each end's own, the measuring.
fn steps(bench: &BenchAnswer, kept: Option<&PieceKept>, ticks: &BTreeSet<String>) -> Vec<Step> {
    if bench.refused {
        return Vec::new();
    }
    let from =
        kept.filter(|kept| !kept.reel.is_empty()).map_or_else(String::new, |kept| format!(" from reel {}", kept.reel));
    let cut = format!("Cut {} of {}{from}. Write the batch down.", bench.cut_length.text, bench.rope);
    let mut steps = vec![("cut".to_owned(), "cut", cut)];
    for end in &bench.ends {
        let texts = end.steps.iter().enumerate();
        steps.extend(texts.map(|(index, text)| (format!("{} {}", end.place, index + 1), end.place, text.clone())));
    }
    let measure = format!(
        "Pull the piece to {}, measure, and write down what you find. Wanted: {} finished.",
        bench.reference_tension.text, bench.finished_length.text
    );
    steps.push(("measure".to_owned(), "measure", measure));
    let with_tick =
        |(name, part, text): (String, &'static str, String)| Step { done: ticks.contains(&name), name, part, text };
    steps.into_iter().map(with_tick).collect()
}

/// `POST /pieces/{order}/{piece}/tick`
pub(crate) async fn tick(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path((order, piece)): Path<(String, String)>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let code = format!("{order}/{piece}");
    let fields = Fields::of_body(body).await.map_err(refuse)?;
    let page = make_page(&app, &caller, &order, &code).await.map_err(refuse)?;
    let at = fields.number("at").and_then(|at| usize::try_from(at).ok()).unwrap_or(0);
    let Some(step) = page.steps.get(at) else {
        return Err(refuse(problem(
            "no-such-step",
            format!("piece {code} has no step {}", at + 1),
            "open the piece again",
        )));
    };
    let done = fields.text("undo").is_none();
    let mark = if done { Mark::Ticked } else { Mark::Unticked };
    app.loft.tick(&code, &step.name, mark, &caller.who).await.map_err(refuse)?;
    if let Some(batch) = fields.text("batch") {
        app.loft.set_batch(&code, &batch, &caller.who).await.map_err(refuse)?;
    }
    let next = if done { (at + 1).min(page.steps.len() - 1) } else { at };
    Ok(Redirect::to(&format!("{}?step={next}", address(&code))).into_response())
}

/// `POST /pieces/{order}/{piece}/measure`
pub(crate) async fn measure(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path((order, piece)): Path<(String, String)>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let code = format!("{order}/{piece}");
    let fields = Fields::of_body(body).await.map_err(refuse)?;
    let mut page = make_page(&app, &caller, &order, &code).await.map_err(refuse)?;
    let (what, given) = (fields.raw("what"), fields.raw("given"));
    match judged(&app, &page.bench, &what, &given).await {
        Ok(measured) => {
            app.loft.measure(&code, &measured, &given, &caller.who).await.map_err(refuse)?;
            let typed = format!("{} {what}", address(&code));
            app.loft.drop_drafts(&caller.who, &typed).await.map_err(refuse)?;
            let last = page.steps.len().saturating_sub(1);
            Ok(Redirect::to(&format!("{}?step={last}&said=measured#found", address(&code))).into_response())
        }
        Err(why) => {
            let status = crate::refusal::status(&why);
            page.at = page.steps.len().saturating_sub(1);
            (page.problem, page.given) = (Some(why), given);
            Ok((status, html(&page)).into_response())
        }
    }
}

async fn found(app: &App, bench: &BenchAnswer, taken: Vec<Taken>) -> Result<Vec<Found>, Problem> {
    let mut found = Vec::new();
    for Taken { what, given, at, who } in taken {
        // What is no longer measured on the piece, because the order changed, is not shown as if it were.
        if bench.wanted.iter().any(|wanted| wanted.what == what) {
            found.push(Found { measured: judged(app, bench, &what, &given).await?, at, who });
        }
    }
    Ok(found)
}

async fn judged(app: &App, bench: &BenchAnswer, what: &str, given: &str) -> Result<Measured, Problem> {
    let wanted = bench.wanted.iter().find(|wanted| wanted.what == what).ok_or_else(|| {
        let all = bench.wanted.iter().map(|wanted| wanted.what.as_str()).collect::<Vec<_>>().join(", ");
        problem("no-such-measurement", format!("{what:?} is not measured on this piece"), &format!("one of: {all}"))
    })?;
    let system =
        units(app).await?.unwrap_or(if wanted.wanted.unit == "in" { desk::System::Us } else { desk::System::Metric });
    desk::measured(wanted, given, system)
}

/// `POST /pieces/{order}/{piece}/photo`
pub(crate) async fn photo(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path((order, piece)): Path<(String, String)>,
    form: Multipart,
) -> Result<Response, Refusal> {
    let code = format!("{order}/{piece}");
    let kept = kept_photo(&app, &caller, &code, form).await;
    let step = kept.map_err(|why| Refusal::new(why, &caller))?;
    Ok(Redirect::to(&format!("{}?step={step}&said=photo", address(&code))).into_response())
}

/// Photos decoded at once: each may take a quarter of a gigabyte.
static PHOTOS_AT_ONCE: Semaphore = Semaphore::const_new(2);

async fn kept_photo(app: &App, caller: &Caller, code: &str, mut form: Multipart) -> Result<String, Problem> {
    let mut step = "0".to_owned();
    let lost = |why: axum::extract::multipart::MultipartError| {
        let large = why.status() == axum::http::StatusCode::PAYLOAD_TOO_LARGE;
        problem(
            if large { "too-large" } else { "cannot-be-read" },
            format!("the photo did not arrive: {why}"),
            "send one of at most 16 MB",
        )
    };
    while let Some(field) = form.next_field().await.map_err(lost)? {
        match field.name() {
            Some("step") => {
                step = field.text().await.map_err(lost)?.chars().filter(char::is_ascii_digit).take(3).collect()
            }
            Some("photo") => {
                let bytes = field.bytes().await.map_err(lost)?;
                if bytes.len() > LARGEST_UPLOAD {
                    return Err(problem("too-large", "the photo is larger than 16 MB", "send a smaller one"));
                }
                let _turn = PHOTOS_AT_ONCE.acquire().await.map_err(|why| interrupted(&why))?;
                let photo = worked(move || photo::rewritten(&bytes)).await?;
                app.loft.add_photo(code, &step, photo, &caller.who).await?;
            }
            _ => {}
        }
    }
    Ok(step)
}

/// `GET /photos/{id}`
pub(crate) async fn photo_bytes(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(id): Path<String>,
) -> Result<Response, Refusal> {
    let bytes = app.loft.photo_bytes(&id).await.map_err(|why| Refusal::new(why, &caller))?;
    Ok(([(header::CONTENT_TYPE, "image/jpeg")], bytes).into_response())
}

/// `POST /pieces/{order}/{piece}/made`: the piece is finished.
pub(crate) async fn made(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path((order, piece)): Path<(String, String)>,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let code = format!("{order}/{piece}");
    let page = make_page(&app, &caller, &order, &code).await.map_err(refuse)?;
    let open = page.steps.iter().filter(|step| !step.done && step.name != "measure").count();
    if open > 0 || page.found("finished length").is_none() {
        let message = format!("{open} steps are not ticked, or the finished length was not measured");
        return Err(refuse(problem("not-finished", message, "tick them off and measure, then say that it is made")));
    }
    app.loft.made(&code, &caller.who).await.map_err(refuse)?;
    Ok(Redirect::to(&format!("/bench?order={}", part(&order))).into_response())
}
