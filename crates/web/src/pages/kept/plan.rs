//! The proof plan of a piece: how far it is pulled, with what stands against
//! it, and the cautions first.

use super::{address, rope_list};
use crate::app::App;
use crate::bodies::Fields;
use crate::guard::Caller;
use crate::pages::units;
use crate::refusal::{Refusal, status};
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::extract::{Path, RawQuery, State};
use axum::response::{IntoResponse, Response};
use desk::{PlanAnswer, Problem, ProveRequest};

#[derive(Template)]
#[template(path = "plan.html")]
struct Page {
    shell: Shell,
    code: String,
    address: String,
    asked: Fields,
    plan: Result<PlanAnswer, Problem>,
}

impl Page {
    fn load(&self) -> String {
        self.asked.text("load").unwrap_or_else(|| USUAL.to_owned())
    }

    /// The plan as the beginning of the test's entry.
    fn entry(&self, plan: &PlanAnswer) -> String {
        let part = |text: &str| crate::view::part(text.replace(['\u{2009}', '\u{a0}'], " "));
        let amount =
            |amount: &Option<desk::Amount>| amount.as_ref().map(|amount| part(&amount.text)).unwrap_or_default();
        format!(
            "/tests?piece={}&wanted={}&estimate={}&hold={}&broke=held#enter",
            crate::view::part(&self.code),
            amount(&plan.load),
            amount(&plan.strength),
            part(&plan.hold.text),
        )
    }
}

/// What is offered first; the loft sets its own.
const USUAL: &str = "40 %";

/// `GET /proof/{code}?load=40+%25&hold=1+min&cycles=1`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(code): Path<String>,
    RawQuery(query): RawQuery,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let asked = Fields::of_text(&query.unwrap_or_default());
    let request = ProveRequest {
        code: code.clone(),
        load: asked.text("load").unwrap_or_else(|| USUAL.to_owned()),
        hold: asked.text("hold"),
        cycles: asked.number("cycles").and_then(|cycles| u32::try_from(cycles).ok()).unwrap_or(1),
        ropes: rope_list(&app).await.map_err(refuse)?,
        units: units(&app).await.map_err(refuse)?,
    };
    let plan = desk::plan_piece(app.loft.records(), &request).await;
    let code_of = match &plan {
        Ok(_) => axum::http::StatusCode::OK,
        Err(why) if why.code == "missing" => return Err(refuse(why.clone())),
        Err(why) => status(why),
    };
    let shell = Shell::new("tests", format!("proof of {code}"), &caller);
    Ok((code_of, html(&Page { shell, address: address(&code), code, asked, plan })).into_response())
}
