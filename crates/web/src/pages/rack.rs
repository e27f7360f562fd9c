//! The rack: every reel and remnant, and new ones put on it.

use crate::app::App;
use crate::bodies::Fields;
use crate::guard::Caller;
use crate::loft::Reel;
use crate::pages::orders::Said;
use crate::pages::units;
use crate::refusal::Refusal;
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::body::Body;
use axum::extract::{Query, State};
use axum::response::{IntoResponse, Redirect, Response};
use desk::Problem;

#[derive(Template)]
#[template(path = "rack.html")]
struct Page {
    shell: Shell,
    ropes: Vec<(String, Vec<Reel>)>,
    count: usize,
    text: String,
    problem: Option<Problem>,
}

async fn page_of(app: &App, caller: &Caller) -> Result<Page, Problem> {
    let reels = app.loft.reels(units(app).await?.unwrap_or_default()).await?;
    let count = reels.len();
    let mut ropes: Vec<(String, Vec<Reel>)> = Vec::new();
    for reel in reels {
        match ropes.iter_mut().find(|(rope, _)| *rope == reel.rope) {
            Some((_, of_rope)) => of_rope.push(reel),
            None => ropes.push((reel.rope.clone(), vec![reel])),
        }
    }
    let drafts = app.loft.drafts(&caller.who, "/rack").await?;
    let text = drafts
        .into_iter()
        .find(|draft| draft.field == "text")
        .map_or_else(|| "reel,rope,colour,batch,length,price_per_metre\n".to_owned(), |draft| draft.value);
    Ok(Page { shell: Shell::new("rack", "rack", caller), ropes, count, text, problem: None })
}

/// `GET /rack`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Query(said): Query<Said>,
) -> Result<Response, Refusal> {
    let mut page = page_of(&app, &caller).await.map_err(|why| Refusal::new(why, &caller))?;
    page.shell = page.shell.saying(said.said.as_deref());
    Ok(html(&page))
}

/// `POST /rack`: reels put on it, all or none.
pub(crate) async fn add(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    body: Body,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let text = Fields::of_body(body).await.map_err(refuse)?.raw("text");
    match app.loft.add_reels(&text, &caller.who).await {
        Ok(()) => {
            app.loft.drop_drafts(&caller.who, "/rack").await.map_err(refuse)?;
            Ok(Redirect::to("/rack?said=saved").into_response())
        }
        Err(why) => {
            let status = crate::refusal::status(&why);
            let mut page = page_of(&app, &caller).await.map_err(refuse)?;
            (page.text, page.problem) = (text, Some(why));
            Ok((status, html(&page)).into_response())
        }
    }
}
