//! Which rope for a line: the recommendation, every candidate with every
//! check, strength against mass, the rack, and what would change the choice.

use crate::app::App;
use crate::guard::Caller;
use crate::pages::lines_request;
use crate::refusal::Refusal;
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::extract::{Path, State};
use axum::response::Response;
use desk::{Problem, RopeChoiceAnswer, RopeRequest, Text};
use std::sync::Arc;

#[derive(Template)]
#[template(path = "rope.html")]
struct Page {
    shell: Shell,
    id: String,
    answer: Arc<RopeChoiceAnswer>,
}

impl Page {
    /// What stays the choice, whichever of these is changed.
    fn staying(&self) -> String {
        let staying = self.answer.moves.iter().filter(|moved| !moved.moves).map(|moved| moved.change);
        staying.collect::<Vec<_>>().join(", ")
    }
}

/// `GET /orders/{id}/lines/{line}/rope`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path((id, line)): Path<(String, String)>,
) -> Result<Response, Refusal> {
    let answer = chosen(&app, &id, &line).await.map_err(|why| Refusal::new(why, &caller))?;
    let shell = Shell::new("orders", format!("rope of {}, {}", answer.line, answer.boat), &caller);
    Ok(html(&Page { shell, id, answer }))
}

async fn chosen(app: &App, id: &str, line: &str) -> Result<Arc<RopeChoiceAnswer>, Problem> {
    let asked = lines_request(app, &app.loft.order(id).await?).await?;
    let rack = app.loft.rack().await?;
    // Everything that the answer depends on is in its name.
    let said = format!("{asked:?}");
    let texts = [said.as_str(), line, rack.as_str()];
    let request = RopeRequest {
        order: asked.order,
        line: line.to_owned(),
        ropes: asked.ropes,
        own: asked.own,
        rack: Some(Text::held("the rack", &rack)).filter(|_| !rack.trim().is_empty()),
        units: asked.units,
    };
    app.answers.other("rope", &texts, move || desk::rope(&request)).await
}
