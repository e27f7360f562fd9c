//! The splice bench: one end laid out, drawn again as its numbers change.
//!
//! The whole question is in the address, so that it can be kept, sent and gone
//! back to. `/splice/answer` gives the answer alone, for the script that
//! redraws.

use crate::app::App;
use crate::bodies::Fields;
use crate::guard::Caller;
use crate::pages::units;
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::extract::{RawQuery, State};
use axum::response::Response;
use desk::{Choices, Problem, SpliceDrawn, SpliceRequest, Variant};
use std::sync::Arc;

#[derive(Template)]
#[template(path = "splice.html")]
struct Page<'a> {
    shell: Shell,
    asked: &'a Asked,
    choices: &'a Choices,
    drawn: Result<Arc<SpliceDrawn>, Problem>,
    compared: Arc<Vec<Variant>>,
}

#[derive(Template)]
#[template(path = "splice_answer.html")]
struct Answer {
    drawn: Result<Arc<SpliceDrawn>, Problem>,
}

/// What the form holds; every field as it was typed.
#[derive(Debug, Clone)]
pub(crate) struct Asked {
    size: String,
    construction: String,
    fibre: String,
    rope: Option<String>,
    end: String,
    bury: Option<String>,
    margin: Option<String>,
    eye: Option<String>,
    eye_on: Option<String>,
    taper: String,
    lock: String,
    friction: Option<String>,
    load: Option<String>,
    compare: bool,
}

impl Asked {
    fn of(fields: &Fields) -> Asked {
        let or = |name: &str, usual: &str| fields.text(name).unwrap_or_else(|| usual.to_owned());
        let end = or("end", "long-bury-eye");
        // An eye needs something to go on; a bare address asks for a common one.
        let fresh = fields.text("size").is_none() && fields.text("rope").is_none();
        let usual = |name: &str, usual: &str| fields.text(name).or_else(|| fresh.then(|| usual.to_owned()));
        Asked {
            size: or("size", "10 mm"),
            construction: or("construction", "12-strand"),
            fibre: or("fibre", "hmpe"),
            rope: fields.text("rope"),
            bury: fields.text("bury"),
            margin: fields.text("margin"),
            eye: usual("eye", "60 mm"),
            eye_on: usual("eye_on", "12 mm pin"),
            taper: or("taper", "common"),
            lock: or("lock", "stitch-and-whip"),
            friction: fields.text("friction"),
            load: fields.text("load"),
            compare: fields.text("compare").is_some(),
            end,
        }
    }

    /// Is anything asked for that is folded away as a rule?
    fn has_more(&self) -> bool {
        self.rope.is_some()
            || self.margin.is_some()
            || self.friction.is_some()
            || self.load.is_some()
            || self.lock != "stitch-and-whip"
    }

    fn request(&self, units: desk::System, ropes: Option<desk::Text>) -> SpliceRequest {
        let described = format!("{} {} {}", self.size, self.construction, self.fibre);
        SpliceRequest {
            rope: self.rope.clone().unwrap_or(described),
            end: self.end.clone(),
            ropes,
            bury: self.bury.clone(),
            wanted_margin: self.margin.clone(),
            eye: self.eye.clone(),
            eye_on: self.eye_on.clone(),
            taper: Some(self.taper.clone()),
            lock: Some(self.lock.clone()),
            friction: self.friction.clone(),
            load: self.load.clone(),
            units,
            ..SpliceRequest::default()
        }
    }
}

/// `GET /splice`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    RawQuery(query): RawQuery,
) -> Response {
    let asked = Asked::of(&Fields::of_text(&query.unwrap_or_default()));
    let request = asked.request(system(&app).await, rope_list(&app).await);
    let compare = asked.compare;
    let compared =
        if compare { app.answers.compare(request.clone()).await.unwrap_or_default() } else { Arc::default() };
    let drawn = app.answers.splice_drawn(request).await;
    let choices = desk::choices();
    html(&Page {
        shell: Shell::new("splice bench", "splice bench", &caller),
        asked: &asked,
        choices: &choices,
        drawn,
        compared,
    })
}

/// `GET /splice/answer`: the answer alone.
pub(crate) async fn answer(State(app): State<App>, RawQuery(query): RawQuery) -> Response {
    let asked = Asked::of(&Fields::of_text(&query.unwrap_or_default()));
    let request = asked.request(system(&app).await, rope_list(&app).await);
    html(&Answer { drawn: app.answers.splice_drawn(request).await })
}

async fn system(app: &App) -> desk::System {
    units(app).await.ok().flatten().unwrap_or_default()
}

async fn rope_list(app: &App) -> Option<desk::Text> {
    app.loft.setting("rope-list").await.ok().flatten().map(|text| desk::Text::held("rope list", text))
}
