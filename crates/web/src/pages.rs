//! The pages, one module each.

pub(crate) mod bench;
pub(crate) mod boat;
pub(crate) mod card;
pub(crate) mod cover;
pub(crate) mod cut;
pub(crate) mod drafts;
pub(crate) mod kept;
pub(crate) mod line;
pub(crate) mod lines;
pub(crate) mod money;
pub(crate) mod order;
pub(crate) mod orders;
pub(crate) mod papers;
pub(crate) mod rack;
pub(crate) mod rope;
pub(crate) mod rules;
pub(crate) mod settings;
pub(crate) mod sign;
pub(crate) mod splice;
pub(crate) mod today;

use crate::app::App;
use crate::loft::Order;
use crate::refusal::problem;
use desk::{LinesRequest, Problem, Text};

/// An order as desk's tasks take it, with the loft's rope list.
pub(crate) async fn lines_request(app: &App, order: &Order) -> Result<LinesRequest, Problem> {
    let ropes = app.loft.setting("rope-list").await?;
    Ok(LinesRequest {
        order: order_text(app, order).await?,
        ropes: ropes.map(|text| Text::held("rope list", text)),
        name: None,
        own: own_figures(app).await?,
        units: units(app).await?,
        ..LinesRequest::default()
    })
}

/// An order's text, with the loft's factors where it brings none.
pub(crate) async fn order_text(app: &App, order: &Order) -> Result<Text, Problem> {
    let factors = rules::factors(app).await?;
    Ok(Text::held(format!("order {}", order.id), desk::with_factors(&order.text, &factors)))
}

/// The loft's own figures, where it wants them in the place of the defaults.
async fn own_figures(app: &App) -> Result<desk::OwnSource, Problem> {
    let wanted = app.loft.setting("loft/figures").await?.is_some_and(|word| word == "own");
    let kept = if wanted { Some(desk::KeptFigures::of(app.loft.records()).await?) } else { None };
    Ok(desk::OwnSource { kept, ..desk::OwnSource::default() })
}

/// Units to print in, where the loft has set them.
pub(crate) async fn units(app: &App) -> Result<Option<desk::System>, Problem> {
    Ok(app.loft.setting("units").await?.and_then(|word| match word.as_str() {
        "metric" => Some(desk::System::Metric),
        "us" => Some(desk::System::Us),
        _ => None,
    }))
}

/// Work that computes, away from the requests that only wait.
pub(crate) async fn worked<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, Problem> + Send + 'static,
) -> Result<T, Problem> {
    tokio::task::spawn_blocking(work).await.unwrap_or_else(|why| Err(interrupted(&why)))
}

/// What is said when work did not come to its end.
pub(crate) fn interrupted(why: &impl std::fmt::Display) -> Problem {
    problem("interrupted", format!("the work was interrupted: {why}"), "try again; the order is as it was")
}
