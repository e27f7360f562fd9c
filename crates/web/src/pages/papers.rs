//! The papers of an order beside its cards, set when they are asked for:
//! labels, line plan, calculation sheet, delivery sheet.

use crate::app::App;
use crate::bodies::Fields;
use crate::guard::Caller;
use crate::pages::{lines_request, worked};
use crate::refusal::{Refusal, problem};
use axum::extract::{Path, RawQuery, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use axum::{Extension, Router};
use desk::{LinesRequest, Paper, PaperKind, PapersRequest, Problem};

/// The route of these papers.
pub(crate) fn routes() -> Router<App> {
    Router::new().route("/orders/{id}/papers/{kind}", get(paper))
}

/// Width and height of a label where nothing else is asked, in mm.
const LABEL_MM: (f64, f64) = (70.0, 42.0);

/// `GET /orders/{id}/papers/labels.pdf`; `?line=` keeps to one line, labels
/// take `width=`, `height=` and `sheet=2x6`.
async fn paper(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path((id, file)): Path<(String, String)>,
    RawQuery(query): RawQuery,
) -> Result<Response, Refusal> {
    let asked = Fields::of_text(&query.unwrap_or_default());
    pdf(&app, &id, &file, &asked).await.map_err(|why| Refusal::new(why, &caller))
}

async fn pdf(app: &App, id: &str, file: &str, asked: &Fields) -> Result<Response, Problem> {
    let kind = file.strip_suffix(".pdf").and_then(PaperKind::from_word).ok_or_else(|| {
        let all = PaperKind::ALL.map(|kind| format!("{}.pdf", kind.word())).join(", ");
        problem("not-there", format!("an order has no paper {file:?}"), &format!("one of: {all}"))
    })?;
    let length = |field: &str, usual: f64| match asked.text(field) {
        Some(text) => desk::length(field, &text).map(|length| length.to_mm()),
        None => Ok(usual),
    };
    let request = PapersRequest {
        lines: LinesRequest { name: asked.text("line"), ..lines_request(app, &app.loft.order(id).await?).await? },
        out: std::path::PathBuf::new(),
        paper: paper_size(app).await?,
        kinds: vec![kind],
        label_mm: (length("width", LABEL_MM.0)?, length("height", LABEL_MM.1)?),
        pages_at: app.loft.setting("loft/address").await?.filter(|address| !address.is_empty()),
        label_sheet: asked.text("sheet").map(|text| desk::grid("sheet", &text)).transpose()?,
    };
    let bytes = worked(move || desk::paper_pdf(&request, kind)).await?;
    let plain: String = id.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).take(80).collect();
    let name = format!("inline; filename=\"{}-{plain}.pdf\"", kind.word());
    Ok(([(header::CONTENT_TYPE, "application/pdf".to_owned()), (header::CONTENT_DISPOSITION, name)], bytes)
        .into_response())
}

/// The loft's paper.
pub(crate) async fn paper_size(app: &App) -> Result<Paper, Problem> {
    Ok(match app.loft.setting("paper").await?.as_deref() {
        Some("letter") => Paper::Letter,
        _ => Paper::A4,
    })
}
