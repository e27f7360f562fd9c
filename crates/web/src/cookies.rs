//! The one cookie: a session's id, and nothing else.

use axum::http::{HeaderMap, header};

/// Its name.
pub(crate) const NAME: &str = "becket_session";

/// The session id that came with a request.
pub(crate) fn session_id(headers: &HeaderMap) -> Option<&str> {
    let cookies = headers.get_all(header::COOKIE).iter().filter_map(|value| value.to_str().ok());
    cookies.flat_map(|line| line.split(';')).find_map(|pair| {
        let (name, value) = pair.trim().split_once('=')?;
        (name == NAME && !value.is_empty()).then_some(value)
    })
}

/// The header that sets it; it ends with the session.
pub(crate) fn set(id: &str, seconds: u64) -> String {
    format!("{NAME}={id}; Path=/; HttpOnly; SameSite=Strict; Max-Age={seconds}")
}

/// The header that takes it away.
pub(crate) fn clear() -> String {
    format!("{NAME}=; Path=/; HttpOnly; SameSite=Strict; Max-Age=0")
}
