//! Type, style and scripts, built into the program.

use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};

/// An asset: name, type, content.
const ASSETS: [(&str, &str, &[u8]); 6] = [
    ("becket.css", "text/css; charset=utf-8", include_bytes!("../assets/becket.css")),
    ("becket.js", "text/javascript; charset=utf-8", include_bytes!("../assets/becket.js")),
    ("splice.js", "text/javascript; charset=utf-8", include_bytes!("../assets/splice.js")),
    ("mark.svg", "image/svg+xml", include_bytes!("../assets/mark.svg")),
    ("noto-regular.woff2", "font/woff2", include_bytes!("../assets/noto-regular.woff2")),
    ("noto-bold.woff2", "font/woff2", include_bytes!("../assets/noto-bold.woff2")),
];

/// `GET /assets/{name}`
pub(crate) async fn asset(Path(name): Path<String>) -> Response {
    let found = ASSETS.iter().find(|(known, _, _)| *known == name);
    match found {
        Some((_, kind, bytes)) => {
            ([(header::CONTENT_TYPE, *kind), (header::CACHE_CONTROL, "max-age=300")], *bytes).into_response()
        }
        None => (StatusCode::NOT_FOUND, "there is no such file").into_response(),
    }
}
