//! Cover on or off for a line: the verdict, what it saves and costs, the
//! travel, and which of the loft's rules spoke.

use crate::app::App;
use crate::bodies::Fields;
use crate::guard::Caller;
use crate::pages::lines_request;
use crate::refusal::{Refusal, problem};
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::extract::{Path, RawQuery, State};
use axum::response::Response;
use desk::{CoverAnswer, CoverRequest, Problem, RangeAnswer, Text};
use std::sync::Arc;

#[derive(Template)]
#[template(path = "cover.html")]
struct Page {
    shell: Shell,
    id: String,
    asked: Fields,
    answer: Arc<CoverAnswer>,
}

impl Page {
    /// Cover on beside run bare, row by row; what is not known is not shown.
    fn rows(&self) -> Vec<[String; 3]> {
        let answer = &self.answer;
        let mut rows = Vec::new();
        let mut row = |name: &str, covered: String, bare: String| rows.push([name.to_owned(), covered, bare]);
        let range = |range: &Option<RangeAnswer>| range.as_ref().map_or_else(|| "?".to_owned(), RangeAnswer::text);
        if let (Some(covered), Some(bare)) = (&answer.per_metre_covered_dry, &answer.per_metre_bare_dry) {
            row("per metre, dry", covered.text.clone(), bare.text.clone());
            row("per metre, wet", range(&answer.per_metre_covered_wet), range(&answer.per_metre_bare_wet));
        }
        if answer.mass_covered_dry.is_some() {
            row("line, dry", range(&answer.mass_covered_dry), range(&answer.mass_stripped_dry));
            row("line, wet", range(&answer.mass_covered_wet), range(&answer.mass_stripped_wet));
        }
        if let Some(clew) = &answer.clew_load {
            row("clew carries, dry", clew.covered_dry.text.clone(), clew.stripped_dry.text.clone());
            row("clew carries, wet", clew.covered_wet.text(), clew.stripped_wet.text());
        }
        if let Some(lift) = &answer.lift_wind {
            row("lifted from, dry", lift.covered_dry.text.clone(), lift.stripped_dry.text.clone());
            row("lifted from, wet", lift.covered_wet.text(), lift.stripped_wet.text());
        }
        if let Some(hoist) = &answer.hoist {
            row("largest pull, wet", hoist.largest_covered.text.clone(), hoist.largest_stripped.text.clone());
            let up = format!("time up at {:.0} W", hoist.power_w);
            row(&up, hoist.time_covered.text.clone(), hoist.time_stripped.text.clone());
        }
        if let Some(drag) = &answer.drag {
            row(&format!("drag in {}", drag.wind.text), drag.covered.text.clone(), drag.stripped.text.clone());
        }
        if let Some(friction) = &answer.fairleads {
            let bare = format!("{:.2} to {:.2}", friction.bare[0], friction.bare[1]);
            row("pull over fairleads", format!("{:.2}", friction.covered), bare);
        }
        rows
    }
}

/// `GET /orders/{id}/lines/{line}/cover?clew_height=1.5+m&span=6+m&slack=0.05&power=100`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path((id, line)): Path<(String, String)>,
    RawQuery(query): RawQuery,
) -> Result<Response, Refusal> {
    let asked = Fields::of_text(&query.unwrap_or_default());
    let answer = judged(&app, &id, &line, &asked).await.map_err(|why| Refusal::new(why, &caller))?;
    let shell = Shell::new("orders", format!("cover of {}, {}", answer.line, answer.boat), &caller);
    Ok(html(&Page { shell, id, asked, answer }))
}

async fn judged(app: &App, id: &str, line: &str, asked: &Fields) -> Result<Arc<CoverAnswer>, Problem> {
    let lines = lines_request(app, &app.loft.order(id).await?).await?;
    let rules = app.loft.setting("rules").await?.filter(|text| !text.trim().is_empty());
    let length = |name: &str| asked.text(name).map(|text| desk::length(name, &text)).transpose();
    let number = |name: &str| {
        let Some(text) = asked.text(name) else { return Ok(None) };
        let number = text.parse::<f64>().ok().filter(|number| number.is_finite());
        let why = || problem("cannot-be-read", format!("{name}: {text:?} is no number"), "slack 0.05, power 100");
        number.map(Some).ok_or_else(why)
    };
    // Everything that the answer depends on is in its name.
    let said = format!("{lines:?} {asked:?}");
    let request = CoverRequest {
        order: lines.order,
        line: line.to_owned(),
        ropes: lines.ropes,
        rules: rules.as_ref().map(|text| Text::held("the loft's rules", text)),
        clew_height: length("clew_height")?,
        span: length("span")?,
        slack: number("slack")?,
        power_w: number("power")?,
        units: lines.units,
    };
    let texts = [said.as_str(), line, rules.as_deref().unwrap_or_default()];
    app.answers.other("cover", &texts, move || desk::cover(&request)).await
}
