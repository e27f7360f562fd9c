//! Settings: units and paper, the loft's rope list, users, refusals. An owner
//! changes them; everybody else reads.

use crate::app::App;
use crate::bodies::Fields;
use crate::guard::Caller;
use crate::loft::Refused;
use crate::pages::orders::Said;
use crate::refusal::{Refusal, problem};
use crate::users::{Role, User, new_user};
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::body::Body;
use axum::extract::{Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use desk::{FileKind, Problem, Text};

/// A word with what it is called, and whether it is chosen.
struct Choice {
    word: &'static str,
    name: &'static str,
    chosen: bool,
}

#[derive(Template)]
#[template(path = "settings.html")]
struct Page {
    shell: Shell,
    units: Vec<Choice>,
    paper: Vec<Choice>,
    ropes: String,
    /// The revision that the list was made from.
    revision: i64,
    /// The list as somebody else has saved it meanwhile.
    theirs: Option<String>,
    problem: Option<Problem>,
    shared: bool,
    owner: bool,
    users: Vec<User>,
    refusals: Vec<Refused>,
}

const UNITS: [(&str, &str); 3] = [("", "as each order says"), ("metric", "metric"), ("us", "feet, inches, pounds")];
const PAPER: [(&str, &str); 2] = [("a4", "A4"), ("letter", "Letter")];

async fn page_of(app: &App, caller: &Caller) -> Result<Page, Problem> {
    let units = app.loft.setting("units").await?.unwrap_or_default();
    let paper = app.loft.setting("paper").await?.unwrap_or_else(|| "a4".to_owned());
    let owner = caller.owner().is_ok();
    let (ropes, revision) = app.loft.rope_list().await?;
    let choose = |words: &[(&'static str, &'static str)], chosen: &str| {
        words.iter().map(|(word, name)| Choice { word, name, chosen: *word == chosen }).collect()
    };
    Ok(Page {
        shell: Shell::new("settings", "settings", caller),
        units: choose(&UNITS, &units),
        paper: choose(&PAPER, &paper),
        ropes,
        revision,
        theirs: None,
        problem: None,
        shared: app.needs_sign_in,
        owner,
        users: if owner { app.loft.users().await? } else { Vec::new() },
        refusals: if owner { app.loft.refusals(50).await? } else { Vec::new() },
    })
}

/// `GET /settings`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Query(said): Query<Said>,
) -> Result<Response, Refusal> {
    let mut page = page_of(&app, &caller).await.map_err(|why| Refusal::new(why, &caller))?;
    page.shell = page.shell.saying(said.said.as_deref());
    Ok(html(&page))
}

/// `POST /settings`: units, paper, rope list; a list with mistakes changes nothing.
pub(crate) async fn save(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    caller.owner().map_err(refuse)?;
    let fields = Fields::of_body(body).await.map_err(refuse)?;
    let ropes = fields.raw("ropes");
    if let Err(why) = written(&app, &caller, &fields, &ropes).await {
        let status = crate::refusal::status(&why);
        let mut page = page_of(&app, &caller).await.map_err(refuse)?;
        let saved = std::mem::replace(&mut page.ropes, ropes);
        if why.code == "changed" {
            page.theirs = Some(saved);
        } else {
            page.revision = fields.number("revision").unwrap_or(page.revision);
        }
        page.problem = Some(why);
        return Ok((status, html(&page)).into_response());
    }
    app.loft.drop_drafts(&caller.who, "/settings").await.map_err(refuse)?;
    Ok(Redirect::to("/settings?said=saved").into_response())
}

async fn written(app: &App, caller: &Caller, fields: &Fields, ropes: &str) -> Result<(), Problem> {
    let known = |words: &[(&str, &str)], given: &str, what: &str| {
        let all = words.iter().map(|(word, _)| *word).collect::<Vec<_>>().join(", ");
        let found = words.iter().any(|(word, _)| *word == given);
        if found {
            Ok(())
        } else {
            Err(problem("unknown-word", format!("{what}: {given:?} is not known"), &format!("one of: {all}")))
        }
    };
    let (units, paper) = (fields.raw("units"), fields.raw("paper"));
    known(&UNITS, &units, "units")?;
    known(&PAPER, &paper, "paper")?;
    if !ropes.trim().is_empty() {
        let checked = desk::check(&Text::held("rope list.csv", ropes))?;
        if checked.kind != FileKind::RopeList {
            let message = format!("this is a {}, not a rope list", checked.kind.words());
            return Err(problem(
                "other-list",
                message,
                "its first row names: name, construction, fibre, diameter, strength …",
            ));
        }
    }
    let (saved, _) = app.loft.rope_list().await?;
    if saved != ropes {
        app.loft.set_rope_list(ropes, fields.number("revision").unwrap_or(0), &caller.who).await?;
    }
    app.loft.set("units", &units, &caller.who).await?;
    app.loft.set("paper", &paper, &caller.who).await
}

/// `POST /settings/users/close`: a user signs in no more; what they did stays theirs.
pub(crate) async fn close_user(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    caller.owner().map_err(refuse)?;
    let name = Fields::of_body(body).await.map_err(refuse)?.raw("name");
    app.loft.close_user(&name, &caller.who).await.map_err(refuse)?;
    app.sessions.end_all(&name);
    Ok(Redirect::to("/settings?said=closed").into_response())
}

/// `POST /settings/users`: an owner adds a user, or gives one a new password.
pub(crate) async fn add_user(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    caller.owner().map_err(refuse)?;
    let fields = Fields::of_body(body).await.map_err(refuse)?;
    let role = Role::from_word(&fields.raw("role"))
        .ok_or_else(|| refuse(problem("unknown-word", "no role was chosen", "one of: reader, rigger, owner")))?;
    let user = new_user(&fields.raw("name"), role, &fields.raw("password")).await;
    let user = user.map_err(|why| refuse(problem("user-refused", why.to_string(), "give another name or password")))?;
    app.loft.put_user(&user, &caller.who).await.map_err(refuse)?;
    // A new password or role ends what was begun with the old one.
    app.sessions.end_all(&user.name);
    Ok(Redirect::to("/settings?said=user").into_response())
}
