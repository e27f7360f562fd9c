//! What is asked of every request before a page sees it.
//!
//! In order: the host must be ours (421), or a page elsewhere could make a
//! browser talk to the bench under its own name; whoever writes must come from
//! our own pages (403), shown by `Sec-Fetch-Site` or `Origin`, or send JSON,
//! which another site cannot without asking; on a shop network there must be a
//! session (401) with the role for it (403). Every answer leaves with headers
//! that forbid scripts, styles and frames from anywhere else.

use crate::app::App;
use crate::cookies;
use crate::pace::Turn;
use crate::refusal::{ApiRefusal, Code, Refusal, problem};
use crate::users::Role;
use axum::extract::{ConnectInfo, Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use desk::Problem;
use std::io::Write;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};

/// Who somebody is before they sign in; no user can have the name.
const NOBODY: &str = "(nobody signed in)";

/// Who is asking.
#[derive(Debug, Clone)]
pub(crate) struct Caller {
    /// Their name: `bench` where nobody signs in.
    pub(crate) who: String,
    /// What they may do.
    pub(crate) role: Role,
    /// Did they sign in?
    pub(crate) signed_in: bool,
    /// Where they are.
    pub(crate) from: IpAddr,
}

impl Caller {
    fn bench(from: IpAddr) -> Caller {
        Caller { who: "bench".to_owned(), role: Role::Owner, signed_in: false, from }
    }

    /// Somebody who has not signed in where one must.
    fn nobody(from: IpAddr) -> Caller {
        Caller { who: NOBODY.to_owned(), role: Role::Reader, signed_in: false, from }
    }

    /// Refuses who is not an owner.
    pub(crate) fn owner(&self) -> Result<(), Problem> {
        if self.role == Role::Owner {
            return Ok(());
        }
        Err(problem("not-yours", format!("a {} cannot do this", self.role.word()), "ask an owner of the loft"))
    }
}

/// The guard of all routes.
pub(crate) async fn guard(State(app): State<App>, mut request: Request, next: Next) -> Response {
    let from =
        request.extensions().get::<ConnectInfo<SocketAddr>>().map_or(IpAddr::V4(Ipv4Addr::LOCALHOST), |at| at.0.ip());
    let mut response = match admit(&app, &request, from) {
        Ok(caller) => {
            let asked = format!("{} {}", request.method(), request.uri().path());
            request.extensions_mut().insert(caller.clone());
            let response = next.run(request).await;
            if response.status().is_client_error() && response.status() != 404 {
                let code = response.extensions().get::<Code>().map_or("", |code| code.0.as_str());
                let why = format!("{} {code}", response.status().as_str());
                note(&app, &caller.who, from, &asked, why.trim_end()).await;
            }
            response
        }
        Err(why) => {
            let asked = format!("{} {}", request.method(), request.uri().path());
            let who = if app.needs_sign_in { NOBODY } else { "bench" };
            note(&app, why.who.as_deref().unwrap_or(who), from, &asked, &why.problem.code).await;
            turned_away(&request, why.problem, from)
        }
    };
    for (name, value) in HEADERS {
        response.headers_mut().entry(HeaderName::from_static(name)).or_insert(HeaderValue::from_static(value));
    }
    response
}

const HEADERS: [(&str, &str); 7] = [
    (
        "content-security-policy",
        "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
    ),
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    ("referrer-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    ("cache-control", "no-store"),
];

/// Writes a refusal down; it stands whether or not that can be done.
async fn note(app: &App, who: &str, from: IpAddr, asked: &str, why: &str) {
    let (asked, why) = match app.refusals.count(&from.to_string()) {
        Turn::Within => (asked, why),
        Turn::FirstOver => ("more than is written down in a minute", "too-often"),
        Turn::Over => return,
    };
    if let Err(lost) = app.loft.note_refusal(asked, why, &from.to_string(), who).await {
        let _ = writeln!(std::io::stderr(), "becket: a refusal could not be written down: {lost}");
    }
}

fn admit(app: &App, request: &Request, from: IpAddr) -> Result<Caller, TurnedAway> {
    let host = host_of(request)?;
    if !app.is_ours(host) {
        let message = format!("this is Becket, but {host:?} was asked for");
        let hint = "open the address that the program printed when it started";
        return Err(problem("other-host", message, hint).into());
    }
    let reads = matches!(*request.method(), Method::GET | Method::HEAD);
    if !reads && !from_our_pages(request.headers(), host) {
        let hint = "open the page here and send it again";
        return Err(problem("other-site", "the form came from another site", hint).into());
    }
    let path = request.uri().path();
    if !app.needs_sign_in {
        return Ok(Caller::bench(from));
    }
    if is_open(path) {
        return Ok(Caller::nobody(from));
    }
    let session = cookies::session_id(request.headers()).and_then(|id| app.sessions.find(id));
    let Some(session) = session else {
        return Err(problem("sign-in", "this loft is shared: sign in first", "open /sign-in").into());
    };
    let caller = Caller { who: session.who, role: session.role, signed_in: true, from };
    let asks = matches!(path, "/api/splice" | "/api/cut");
    if !reads && !asks && caller.role == Role::Reader && path != "/sign-out" {
        let why = problem("not-yours", "a reader looks and does not change anything", "ask an owner of the loft");
        return Err(TurnedAway { problem: why, who: Some(caller.who) });
    }
    if !reads && app.changes.count(&caller.who) != Turn::Within {
        let why = problem("too-often", "too many changes in a minute", "wait a minute, then go on");
        return Err(TurnedAway { problem: why, who: Some(caller.who) });
    }
    Ok(caller)
}

/// Why somebody was turned away, and who, where that is known.
struct TurnedAway {
    problem: Problem,
    who: Option<String>,
}

impl From<Problem> for TurnedAway {
    fn from(problem: Problem) -> TurnedAway {
        TurnedAway { problem, who: None }
    }
}

/// What is seen without signing in: the sign-in page, what it looks like, and health.
fn is_open(path: &str) -> bool {
    path == "/sign-in" || path == "/health" || path.starts_with("/assets/")
}

fn host_of(request: &Request) -> Result<&str, Problem> {
    let named = request.headers().get(header::HOST).and_then(|host| host.to_str().ok());
    named
        .or_else(|| request.uri().authority().map(|authority| authority.as_str()))
        .ok_or_else(|| problem("other-host", "the request names no host", "send the Host header"))
}

fn from_our_pages(headers: &HeaderMap, host: &str) -> bool {
    let text = |name: &str| headers.get(name).and_then(|value| value.to_str().ok());
    if let Some(site) = text("sec-fetch-site") {
        return matches!(site, "same-origin" | "none");
    }
    if let Some(origin) = text("origin") {
        return origin.split_once("://").is_some_and(|(_, from)| from == host);
    }
    text("content-type").is_some_and(|kind| kind.starts_with("application/json"))
}

fn turned_away(request: &Request, why: Problem, from: IpAddr) -> Response {
    let path = request.uri().path();
    if path.starts_with("/api/") {
        return ApiRefusal(why).into_response();
    }
    if why.code == "sign-in" && request.method() == Method::GET {
        return Redirect::to(&format!("/sign-in?to={}", crate::view::part(path))).into_response();
    }
    Refusal::new(why, &Caller::nobody(from)).into_response()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn headers(pairs: &[(&'static str, &'static str)]) -> HeaderMap {
        pairs.iter().map(|(name, value)| (HeaderName::from_static(name), HeaderValue::from_static(value))).collect()
    }

    #[test]
    fn only_our_own_pages_may_write() {
        let ours = |pairs| from_our_pages(&headers(pairs), "localhost:4310");
        assert!(ours(&[("sec-fetch-site", "same-origin")]));
        assert!(!ours(&[("sec-fetch-site", "cross-site"), ("origin", "http://localhost:4310")]));
        assert!(!ours(&[("sec-fetch-site", "same-site")]));
        assert!(ours(&[("origin", "http://localhost:4310")]));
        assert!(!ours(&[("origin", "http://localhost:4311")]));
        assert!(!ours(&[("origin", "null")]));
        assert!(ours(&[("content-type", "application/json")]));
        assert!(!ours(&[("content-type", "text/plain")]));
        assert!(!ours(&[]));
    }
}
