//! What every page has: its frame, its numbers as text, its answer as HTML.

use askama::Template;
use axum::http::header;
use axum::response::{IntoResponse, Response};

/// The pages of the frame: address and word.
pub(crate) const PAGES: [(&str, &str); 10] = [
    ("/", "today"),
    ("/orders", "orders"),
    ("/bench", "at the bench"),
    ("/splice", "splice bench"),
    ("/rack", "rack"),
    ("/cut", "cut plan"),
    ("/service", "service"),
    ("/tests", "tests"),
    ("/prices", "prices"),
    ("/settings", "settings"),
];

/// Widths at which drawings are made, in mm: a phone and a tablet or desk.
pub(crate) const WIDTHS_MM: [f64; 2] = [88.0, 190.0];

/// The frame of a page.
#[derive(Debug, Clone, Default)]
pub(crate) struct Shell {
    /// Title of the page.
    pub(crate) title: String,
    /// Which of [`PAGES`] it belongs to.
    pub(crate) here: &'static str,
    /// Who is signed in; empty without sign-in.
    pub(crate) who: String,
    /// What has just been done, to be said once.
    pub(crate) said: Option<String>,
}

impl Shell {
    pub(crate) fn new(here: &'static str, title: impl Into<String>, caller: &crate::guard::Caller) -> Shell {
        let who = if caller.signed_in { caller.who.clone() } else { String::new() };
        Shell { title: title.into(), here, who, said: None }
    }

    pub(crate) fn saying(mut self, said: Option<&str>) -> Shell {
        self.said = said.and_then(words_of).map(str::to_owned);
        self
    }
}

/// What a page may be asked to say: fixed sentences, so that a link cannot put words on a page.
fn words_of(said: &str) -> Option<&'static str> {
    Some(match said {
        "saved" => "Saved.",
        "made" => "The order is on the book.",
        "confirmed" => "The plan is confirmed: the rack is updated and the pieces are at the bench.",
        "dropped" => "The plan is dropped and its reels are free again.",
        "thrown" => "What you had typed is thrown away: this is the order as it is saved.",
        "ticked" => "Ticked.",
        "measured" => "The measurement is kept.",
        "photo" => "The photo is kept.",
        "user" => "The user is kept.",
        "closed" => "The user signs in no more.",
        "inspected" => "The inspection is kept; the history says what it came to.",
        "entered" => "It is entered in the piece's history.",
        "brought" => "The piece is in the records.",
        "tested" => "The test is in the log.",
        "curve" => "The load curve is kept with the test.",
        "struck" => "It is struck out: it stays where it is and does not count.",
        "figure" => "The figure is kept.",
        "quoted" => "The quote is kept.",
        "demo" => "The demo order, its rope list and its rack are loaded.",
        "empty" => "The loft is empty: put an order on the book, or reels on the rack.",
        _ => return None,
    })
}

/// A template as an answer; a template that cannot be written is our fault and says so.
pub(crate) fn html(page: &impl Template) -> Response {
    match page.render() {
        Ok(text) => ([(header::CONTENT_TYPE, "text/html; charset=utf-8")], text).into_response(),
        Err(why) => (axum::http::StatusCode::INTERNAL_SERVER_ERROR, format!("this page could not be written: {why}"))
            .into_response(),
    }
}

/// A number, however deep a template refers to it.
pub(crate) trait Number {
    fn number(&self) -> f64;
}

impl Number for f64 {
    fn number(&self) -> f64 {
        *self
    }
}

impl<N: Number> Number for &N {
    fn number(&self) -> f64 {
        (**self).number()
    }
}

/// A share as whole per cent.
pub(crate) fn percent(share: impl Number) -> String {
    format!("{:.0}\u{2009}%", share.number() * 100.0)
}

/// A share as per cent with one decimal.
pub(crate) fn percent_one(share: impl Number) -> String {
    format!("{:.1}\u{2009}%", share.number() * 100.0)
}

/// A share as the length of a bar of 100; what is over its frame ends there.
pub(crate) fn bar(share: impl Number) -> String {
    format!("{:.1}", (share.number() * 100.0).clamp(0.0, 100.0))
}

/// A number with one decimal.
pub(crate) fn one(number: impl Number) -> String {
    format!("{:.1}", number.number())
}

/// A number with two decimals.
pub(crate) fn two(number: impl Number) -> String {
    format!("{:.2}", number.number())
}

/// A number with three figures that count: 0.0625, 1.04, 25.3.
pub(crate) fn figure(number: impl Number) -> String {
    let number = number.number();
    let places = match number.abs() {
        large if large >= 100.0 => 0,
        large if large >= 10.0 => 1,
        large if large >= 1.0 || large == 0.0 => 2,
        large if large >= 0.1 => 3,
        _ => 4,
    };
    format!("{number:.places$}")
}

/// The shape of a grade: octagon, triangle, ring.
pub(crate) fn shape(grade: impl AsRef<str>) -> &'static str {
    match grade.as_ref() {
        "stop" => r#"<svg viewBox="0 0 24 24" aria-hidden="true"><path d="M8 2h8l6 6v8l-6 6H8l-6-6V8z"/></svg>"#,
        "caution" => r#"<svg viewBox="0 0 24 24" aria-hidden="true"><path d="M12 3 22 21H2z"/></svg>"#,
        _ => r#"<svg viewBox="0 0 24 24" aria-hidden="true"><circle cx="12" cy="12" r="9"/></svg>"#,
    }
}

/// A file's word as people say it: `bare-core-eye` is a bare core eye.
pub(crate) fn words(word: impl AsRef<str>) -> String {
    word.as_ref().replace('-', " ")
}

/// Text as part of an address.
pub(crate) fn part(text: impl AsRef<str>) -> String {
    let mut out = String::new();
    for byte in text.as_ref().bytes() {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_' | b'.' | b'~') {
            out.push(char::from(byte));
        } else {
            out.push_str(&format!("%{byte:02X}"));
        }
    }
    out
}

/// The time of an entry, to the minute, as people read it.
pub(crate) fn when(at: impl AsRef<str>) -> String {
    let at = at.as_ref();
    match (at.get(..10), at.get(11..16)) {
        (Some(day), Some(minute)) if at.ends_with('Z') => format!("{day} {minute} UTC"),
        _ => at.to_owned(),
    }
}

/// The text of an option, or nothing.
pub(crate) fn or_empty(text: &Option<String>) -> &str {
    text.as_deref().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_keeps_every_name() {
        assert_eq!(part("lazy jack, upper"), "lazy%20jack%2C%20upper");
        assert_eq!(part("26-041"), "26-041");
        assert_eq!(part("a/b?c#d"), "a%2Fb%3Fc%23d");
        assert_eq!(part("größe"), "gr%C3%B6%C3%9Fe");
    }

    #[test]
    fn only_our_own_sentences_are_said() {
        assert_eq!(words_of("saved"), Some("Saved."));
        assert_eq!(words_of("<b>pay here</b>"), None);
    }

    #[test]
    fn times_are_read_to_the_minute() {
        assert_eq!(when("2026-11-25T19:08:10.931Z"), "2026-11-25 19:08 UTC");
        assert_eq!(when("yesterday"), "yesterday");
    }

    #[test]
    fn shares_are_bars_within_their_frame() {
        assert_eq!((percent(0.876).as_str(), bar(1.3).as_str()), ("88\u{2009}%", "100.0"));
    }
}
