//! Signing in and out of a shared loft.

use crate::app::App;
use crate::bodies::Fields;
use crate::cookies;
use crate::guard::Caller;
use crate::refusal::problem;
use crate::users;
use crate::view::{Shell, html};
use askama::Template;
use axum::Extension;
use axum::body::Body;
use axum::extract::{RawQuery, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use desk::Problem;

#[derive(Template)]
#[template(path = "sign_in.html")]
struct Page {
    shell: Shell,
    name: String,
    to: String,
    problem: Option<Problem>,
}

/// `GET /sign-in`
pub(crate) async fn page(Extension(caller): Extension<Caller>, RawQuery(query): RawQuery) -> Response {
    let to = inside(&Fields::of_text(&query.unwrap_or_default()).raw("to"));
    html(&Page { shell: Shell::new("", "sign in", &caller), name: String::new(), to, problem: None })
}

/// `POST /sign-in`
pub(crate) async fn sign_in(State(app): State<App>, Extension(caller): Extension<Caller>, body: Body) -> Response {
    let fields = Fields::of_body(body).await.unwrap_or_default();
    let (name, to) = (fields.raw("name").trim().to_owned(), inside(&fields.raw("to")));
    let refused = |status: StatusCode, problem: Problem| {
        let shell = Shell::new("", "sign in", &caller);
        (status, html(&Page { shell, name: name.clone(), to: to.clone(), problem: Some(problem) })).into_response()
    };
    if !app.sessions.may_try(caller.from, &name) {
        let often = problem("too-often", "too many tries to sign in", "wait a minute, then try again");
        return refused(StatusCode::TOO_MANY_REQUESTS, often);
    }
    let user = match app.loft.user(&name).await {
        Ok(user) => user,
        Err(why) => return refused(StatusCode::INTERNAL_SERVER_ERROR, why),
    };
    // The same words for a wrong name and a wrong password.
    if !users::is_right(user.as_ref(), &fields.raw("password")).await {
        return refused(
            StatusCode::UNAUTHORIZED,
            problem("sign-in", "this name and password do not belong together", "type them again"),
        );
    }
    let begun = user.and_then(|user| app.sessions.begin(&user.name, user.role));
    match begun {
        Some(id) => {
            ([(header::SET_COOKIE, cookies::set(&id, app.sessions.longest()))], Redirect::to(&to)).into_response()
        }
        None => refused(StatusCode::INTERNAL_SERVER_ERROR, Problem::disk("no session could be begun")),
    }
}

/// `POST /sign-out`
pub(crate) async fn sign_out(State(app): State<App>, headers: HeaderMap) -> Response {
    if let Some(id) = cookies::session_id(&headers) {
        app.sessions.end(id);
    }
    ([(header::SET_COOKIE, cookies::clear())], Redirect::to("/sign-in")).into_response()
}

/// An address of ours, or today: nobody is sent elsewhere after signing in.
fn inside(to: &str) -> String {
    let ours = to.starts_with('/') && !to.starts_with("//") && !to.contains('\\') && !to.chars().any(char::is_control);
    if ours { to.to_owned() } else { "/".to_owned() }
}

#[cfg(test)]
mod tests {
    use super::inside;

    #[test]
    fn nobody_is_sent_elsewhere() {
        assert_eq!(inside("/orders/26-041"), "/orders/26-041");
        for elsewhere in ["//evil.example", "https://evil.example", "/\\evil.example", "", "/a\r\nb"] {
            assert_eq!(inside(elsewhere), "/", "{elsewhere:?}");
        }
    }
}
