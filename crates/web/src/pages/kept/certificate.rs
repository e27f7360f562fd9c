//! A certificate of a piece, or the refusal that says who may give one.

use super::{address, rope_list, system};
use crate::app::App;
use crate::calendar;
use crate::guard::Caller;
use crate::refusal::{Refusal, status};
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::extract::{Path, State};
use axum::response::{IntoResponse, Response};
use desk::{CertificateAnswer, CertifyRequest, Problem};

#[derive(Template)]
#[template(path = "certificate.html")]
struct Page {
    shell: Shell,
    code: String,
    address: String,
    answer: Result<CertificateAnswer, Problem>,
}

/// `GET /certificate/{code}`
pub(crate) async fn page(
    State(app): State<App>,
    Extension(caller): Extension<Caller>,
    Path(code): Path<String>,
) -> Result<Response, Refusal> {
    let refuse = |why| Refusal::new(why, &caller);
    let request = CertifyRequest {
        code: code.clone(),
        on: calendar::today(),
        ropes: rope_list(&app).await.map_err(refuse)?,
        units: system(&app).await.map_err(refuse)?,
    };
    let answer = desk::certify(app.loft.records(), &request).await;
    let code_of = match &answer {
        Ok(_) => axum::http::StatusCode::OK,
        Err(why) if why.code == "missing" => return Err(refuse(why.clone())),
        Err(why) => status(why),
    };
    let shell = Shell::new("service", format!("certificate of {code}"), &caller);
    Ok((code_of, html(&Page { shell, address: address(&code), code, answer })).into_response())
}
