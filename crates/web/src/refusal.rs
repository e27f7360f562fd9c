//! What cannot be done, as a page or as JSON: desk's `Problem` and a status.
//!
//! The words are desk's own. A page that refuses is a whole page with its
//! frame, so that there is a way on; a programme gets the envelope alone.

use crate::guard::Caller;
use crate::view::{Shell, html};
use askama::Template;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use desk::{Fault, Problem};

/// A refusal of a page.
#[derive(Debug)]
pub(crate) struct Refusal {
    pub(crate) status: StatusCode,
    pub(crate) problem: Problem,
    pub(crate) who: Caller,
}

/// A refusal of the programme interface.
#[derive(Debug)]
pub(crate) struct ApiRefusal(pub(crate) Problem);

/// A refusal's code, with its answer: what is written down of it.
#[derive(Debug, Clone)]
pub(crate) struct Code(pub(crate) String);

/// A page that says what cannot be done.
#[derive(Template)]
#[template(path = "refusal.html")]
struct RefusalPage<'a> {
    shell: Shell,
    problem: &'a Problem,
}

/// The status that goes with a problem.
pub(crate) fn status(problem: &Problem) -> StatusCode {
    match (problem.fault, problem.code.as_str()) {
        (_, "not-json") => StatusCode::UNPROCESSABLE_ENTITY,
        (_, "sign-in") => StatusCode::UNAUTHORIZED,
        (_, "not-yours" | "other-site") => StatusCode::FORBIDDEN,
        (_, "other-host") => StatusCode::MISDIRECTED_REQUEST,
        (_, "too-often") => StatusCode::TOO_MANY_REQUESTS,
        (_, "too-large") => StatusCode::PAYLOAD_TOO_LARGE,
        (_, "changed" | "taken" | "reel-held" | "not-from-here" | "occupied") => StatusCode::CONFLICT,
        (_, "not-there" | "missing" | "no-such-line" | "no-such-piece" | "no-such-plan" | "no-such-step") => {
            StatusCode::NOT_FOUND
        }
        (_, "disk-full") => StatusCode::INSUFFICIENT_STORAGE,
        (_, "store-unreachable" | "store-busy" | "read-only") => StatusCode::SERVICE_UNAVAILABLE,
        (Fault::Request, _) => StatusCode::BAD_REQUEST,
        (Fault::File | Fault::Refused, _) => StatusCode::UNPROCESSABLE_ENTITY,
        (Fault::Disk, _) => StatusCode::INTERNAL_SERVER_ERROR,
    }
}

impl Refusal {
    pub(crate) fn new(problem: Problem, who: &Caller) -> Refusal {
        Refusal { status: status(&problem), problem, who: who.clone() }
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        let shell = Shell::new("", "this cannot be done", &self.who);
        let mut response = html(&RefusalPage { shell, problem: &self.problem });
        *response.status_mut() = self.status;
        response.extensions_mut().insert(Code(self.problem.code));
        response
    }
}

impl From<Problem> for ApiRefusal {
    fn from(problem: Problem) -> ApiRefusal {
        ApiRefusal(problem)
    }
}

impl IntoResponse for ApiRefusal {
    fn into_response(self) -> Response {
        let body = serde_json::to_vec(&self.0).unwrap_or_else(|_| b"{}".to_vec());
        let mut response = (status(&self.0), [(header::CONTENT_TYPE, "application/json")], body).into_response();
        response.extensions_mut().insert(Code(self.0.code));
        response
    }
}

/// A problem of the pages' own, in desk's envelope.
pub(crate) fn problem(code: &str, message: impl Into<String>, hint: &str) -> Problem {
    let mut problem = Problem::disk(&message.into());
    problem.fault = Fault::Request;
    code.clone_into(&mut problem.code);
    if !hint.is_empty() {
        problem.hints.push(hint.to_owned());
    }
    problem
}
