//! One test: what was pulled and how it ended, its load curve, and how it is
//! struck out.

use super::system;
use crate::app::App;
use crate::bodies::Fields;
use crate::guard::Caller;
use crate::pages::orders::Said;
use crate::refusal::{Refusal, status};
use crate::view::{Shell, WIDTHS_MM, html, part};
use askama::Template;
use axum::Extension;
use axum::body::Body;
use axum::extract::{Path, Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use desk::records::rows::{Struck, Test};
use desk::records::stamp;
use desk::{CurveAnswer, Picture, Problem, System, Text};

#[derive(Template)]
#[template(path = "test.html")]
struct Page {
    shell: Shell,
    test: Test,
    end_name: String,
    piece: Option<String>,
    units: System,
    struck: Option<Struck>,
    curve: Option<(CurveAnswer, [Vec<Picture>; 2])>,
    typed: Fields,
    problem: Option<Problem>,
}

impl Page {
    /// A load of the record as text.
    fn force(&self, millinewtons: &i64) -> String {
        desk::show_force(*millinewtons as f64 / 1e3, self.units)
    }

    fn seconds(&self, milliseconds: &i64) -> String {
        format!("{}\u{2009}s", *milliseconds as f64 / 1e3)
    }
}

/// `GET /test/{number}`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(number): Path<String>,
    Query(said): Query<Said>,
) -> Result<Response, Refusal> {
    let mut page = page_of(&app, &caller, &number).await.map_err(|why| Refusal::new(why, &caller))?;
    page.shell = page.shell.saying(said.said.as_deref());
    Ok(html(&page))
}

async fn page_of(app: &App, caller: &Caller, number: &str) -> Result<Page, Problem> {
    let records = app.loft.records();
    let test = records.store().test(number).await?;
    let units = system(app).await?;
    let struck = records.store().struck("test").await?.into_iter().find(|struck| struck.id == test.number);
    let curve = match desk::kept_curve(records, number, units).await? {
        Some(answer) => {
            let [narrow, wide] = WIDTHS_MM.map(|width| desk::curve_drawn(&answer, units, width));
            Some((answer, [narrow?, wide?]))
        }
        None => None,
    };
    let ends = desk::choices().ends;
    let end_name = ends.iter().find(|end| end.word == test.end_kind).map_or(test.end_kind.as_str(), |end| end.name);
    Ok(Page {
        shell: Shell::new("tests", format!("test {number}"), caller),
        end_name: end_name.to_owned(),
        piece: test.piece.as_deref().map(super::address),
        test,
        units,
        struck,
        curve,
        typed: Fields::default(),
        problem: None,
    })
}

/// `POST /test/{number}`: its curve, or the reason why it is struck out.
pub(crate) async fn change(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(number): Path<String>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let fields = Fields::of_body(body).await.map_err(refuse)?;
    match changed(&app, &caller, &number, &fields).await {
        Ok(said) => {
            let page = format!("/test/{}", part(&number));
            app.loft.drop_drafts(&caller.who, &page).await.map_err(refuse)?;
            Ok(Redirect::to(&format!("{page}?said={said}")).into_response())
        }
        Err(why) => {
            let code = status(&why);
            let mut page = page_of(&app, &caller, &number).await.map_err(refuse)?;
            (page.problem, page.typed) = (Some(why), fields);
            Ok((code, html(&page)).into_response())
        }
    }
}

async fn changed(app: &App, caller: &Caller, number: &str, fields: &Fields) -> Result<&'static str, Problem> {
    let (records, stamp) = (app.loft.records(), stamp(&caller.who)?);
    if fields.text("strike").is_some() {
        records.store().strike_out("test", number, &fields.raw("reason"), &stamp).await?;
        return Ok("struck");
    }
    let file = Text::held("the curve", fields.raw("curve"));
    desk::keep_curve(records, number, &file, system(app).await?, &stamp).await?;
    Ok("curve")
}
