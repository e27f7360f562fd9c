//! The loft's own: its rules on ends and covers, its factors for orders that
//! bring none, how often pieces are looked at, whose figures count, and where
//! labels lead.

use crate::app::App;
use crate::bodies::Fields;
use crate::guard::Caller;
use crate::pages::orders::Said;
use crate::refusal::{Refusal, problem, status};
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::body::Body;
use axum::extract::{Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use desk::records::stamp;
use desk::{FactAnswer, Problem, Text};

#[derive(Template)]
#[template(path = "rules.html")]
struct Page {
    shell: Shell,
    rules: String,
    own: bool,
    facts: Vec<FactAnswer>,
    problem: Option<Problem>,
}

#[derive(Template)]
#[template(path = "loft.html")]
struct LoftPage {
    shell: Shell,
    fields: Fields,
    problem: Option<Problem>,
}

async fn page_of(app: &App, caller: &Caller) -> Result<Page, Problem> {
    let own = app.loft.setting("rules").await?.filter(|text| !text.trim().is_empty());
    Ok(Page {
        shell: Shell::new("settings", "the loft's rules", caller),
        own: own.is_some(),
        rules: own.unwrap_or_else(|| desk::LOFT_RULES.to_owned()),
        facts: desk::rule_facts(),
        problem: None,
    })
}

/// `GET /settings/rules`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Query(said): Query<Said>,
) -> Result<Response, Refusal> {
    let mut page = page_of(&app, &caller).await.map_err(|why| Refusal::new(why, &caller))?;
    page.shell = page.shell.saying(said.said.as_deref());
    Ok(html(&page))
}

/// `POST /settings/rules`: a table with mistakes changes nothing; an empty one
/// goes back to the rules of the program.
pub(crate) async fn save(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    caller.owner().map_err(refuse)?;
    let rules = Fields::of_body(body).await.map_err(refuse)?.raw("rules");
    if !rules.trim().is_empty()
        && let Err(why) = desk::check_rules(&Text::held("the loft's rules", &rules))
    {
        let code = status(&why);
        let mut page = page_of(&app, &caller).await.map_err(refuse)?;
        (page.problem, page.rules) = (Some(why), rules);
        return Ok((code, html(&page)).into_response());
    }
    let kept = if rules.trim() == desk::LOFT_RULES.trim() { String::new() } else { rules };
    app.loft.set("rules", &kept, &caller.who).await.map_err(refuse)?;
    app.loft.drop_drafts(&caller.who, "/settings/rules").await.map_err(refuse)?;
    Ok(Redirect::to("/settings/rules?said=saved").into_response())
}

/// What the loft has set, as the form's fields.
async fn fields_of(app: &App) -> Result<Fields, Problem> {
    let mut pairs = Vec::new();
    for name in desk::FACTORS.iter().map(|factor| factor.0).chain(["figures", "address"]) {
        pairs.push((name.to_owned(), app.loft.setting(&format!("loft/{name}")).await?.unwrap_or_default()));
    }
    let kept = app.loft.records().store().setting("inspection").await?;
    let json: serde_json::Value =
        kept.and_then(|setting| serde_json::from_str(&setting.value).ok()).unwrap_or_default();
    for name in ["months", "hours"] {
        pairs.push((name.to_owned(), if json[name].is_null() { String::new() } else { json[name].to_string() }));
    }
    Ok(Fields::of_pairs(pairs))
}

/// `GET /settings/loft`
pub(crate) async fn loft_page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Query(said): Query<Said>,
) -> Result<Response, Refusal> {
    let fields = fields_of(&app).await.map_err(|why| Refusal::new(why, &caller))?;
    let shell = Shell::new("settings", "the loft's own", &caller).saying(said.said.as_deref());
    Ok(html(&LoftPage { shell, fields, problem: None }))
}

/// `POST /settings/loft`: what cannot be read changes nothing.
pub(crate) async fn save_loft(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    caller.owner().map_err(refuse)?;
    let fields = Fields::of_body(body).await.map_err(refuse)?;
    match written(&app, &caller, &fields).await {
        Ok(()) => {
            app.loft.drop_drafts(&caller.who, "/settings/loft").await.map_err(refuse)?;
            Ok(Redirect::to("/settings/loft?said=saved").into_response())
        }
        Err(why) => {
            let code = status(&why);
            let shell = Shell::new("settings", "the loft's own", &caller);
            Ok((code, html(&LoftPage { shell, fields, problem: Some(why) })).into_response())
        }
    }
}

async fn written(app: &App, caller: &Caller, fields: &Fields) -> Result<(), Problem> {
    desk::check_factors(&factors_text(|name| fields.text(name)))?;
    let number = |name: &str, most: f64, hint: &str| {
        let Some(text) = fields.text(name) else { return Ok(None) };
        let number = text.parse::<f64>().ok().filter(|number| *number > 0.0 && *number <= most);
        number.map(Some).ok_or_else(|| problem("cannot-be-read", format!("{name}: {text:?} is not allowed"), hint))
    };
    let months = number("months", 600.0, "whole months between two looks, such as 12")?;
    if months.is_some_and(|months| months.fract() > 0.0) {
        return Err(problem(
            "cannot-be-read",
            "months: not a whole number",
            "whole months between two looks, such as 12",
        ));
    }
    let hours = number("hours", 1e5, "hours under load between two looks, such as 500")?;
    let address = fields.raw("address").trim().trim_end_matches('/').to_owned();
    if !(address.is_empty() || address.starts_with("http://") || address.starts_with("https://")) {
        let hint = "as the browsers of the loft open the pages: http://loft.example:4310";
        return Err(problem("cannot-be-read", format!("address: {address:?} is no address of pages"), hint));
    }
    for (name, _, _) in desk::FACTORS {
        app.loft.set(&format!("loft/{name}"), fields.raw(name).trim(), &caller.who).await?;
    }
    let figures = if fields.raw("figures") == "own" { "own" } else { "" };
    app.loft.set("loft/figures", figures, &caller.who).await?;
    app.loft.set("loft/address", &address, &caller.who).await?;
    let json = serde_json::json!({ "months": months.map(|months| months as u64), "hours": hours }).to_string();
    app.loft.records().store().set("inspection", &json, None, &stamp(&caller.who)?).await?;
    Ok(())
}

/// The loft's factors as a table of an order.
fn factors_text(of: impl Fn(&str) -> Option<String>) -> String {
    let rows = desk::FACTORS.iter().filter_map(|(name, _, _)| Some((*name, of(name)?)));
    desk::factors_text(rows)
}

/// The loft's factors, for an order that brings none.
pub(crate) async fn factors(app: &App) -> Result<String, Problem> {
    let mut given = Vec::new();
    for (name, _, _) in desk::FACTORS {
        if let Some(text) = app.loft.setting(&format!("loft/{name}")).await?.filter(|text| !text.is_empty()) {
            given.push((name, text));
        }
    }
    Ok(factors_text(|name| given.iter().find(|one| one.0 == name).map(|one| one.1.clone())))
}
