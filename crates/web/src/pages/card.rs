//! Bench cards to print, set when they are asked for.

use crate::app::App;
use crate::guard::Caller;
use crate::pages::lines_request;
use crate::refusal::Refusal;
use axum::Extension;
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use desk::{Paper, Problem};

/// `GET /orders/{id}/cards.pdf`: every card of an order.
pub(crate) async fn order(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(id): Path<String>,
) -> Result<Response, Refusal> {
    pdf(&app, &id, None).await.map_err(|why| Refusal::new(why, &caller))
}

/// `GET /pieces/{order}/{piece}/card.pdf`: one card.
pub(crate) async fn piece(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path((order, piece)): Path<(String, String)>,
) -> Result<Response, Refusal> {
    let code = format!("{order}/{piece}");
    pdf(&app, &order, Some(code)).await.map_err(|why| Refusal::new(why, &caller))
}

async fn pdf(app: &App, id: &str, piece: Option<String>) -> Result<Response, Problem> {
    let request = lines_request(app, &app.loft.order(id).await?).await?;
    let paper = match app.loft.setting("paper").await?.as_deref() {
        Some("letter") => Paper::Letter,
        _ => Paper::A4,
    };
    let name = format!("inline; filename=\"{}.pdf\"", plain(piece.as_deref().unwrap_or(id)));
    let bytes = app.answers.cards(request, piece, paper).await?.to_vec();
    Ok(([(header::CONTENT_TYPE, "application/pdf".to_owned()), (header::CONTENT_DISPOSITION, name)], bytes)
        .into_response())
}

/// A name that every disk takes and no header can be broken with.
fn plain(name: &str) -> String {
    let plain: String = name.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).take(80).collect();
    format!("card-{plain}")
}

#[cfg(test)]
mod tests {
    use super::plain;

    #[test]
    fn names_are_plain() {
        assert_eq!(plain("26-041/03a"), "card-26-041-03a");
        assert_eq!(plain("../../x\"\r\nSet-Cookie: y"), "card-------x---Set-Cookie--y");
    }
}
