//! What is wrong with a statement that cannot be read, in the rigger's words.

use crate::place::Place;
use crate::problem::{Problem, shortened};
use toml::de::Error;

/// The first error of a statement, with the place it points at.
pub(crate) fn problem(statement: &str, errors: &[Error], offset: usize) -> Problem {
    let first = errors.iter().min_by_key(|error| error.span().map_or(usize::MAX, |span| span.start));
    let span = first.and_then(Error::span).unwrap_or(0..statement.len());
    let message = first.map_or("", Error::message);
    let given = statement.get(span.clone()).unwrap_or_default();
    let place = Place::of(visible(statement, span), offset);
    let found = Problem::new("syntax", "").at(place).given(given);
    if let Some(value) = unquoted_value(statement, errors) {
        let text = statement[value.clone()].trim_end();
        let value = Place::of(value.start..value.start + text.len(), offset);
        let short = shortened(text);
        if is_like_a_day(text) {
            return Problem { code: "not-a-day", message: format!("{short} is not a day of the calendar"), ..found }
                .given(text)
                .allowed("year-month-day with two digits each, such as 2026-03-31")
                .at(value);
        }
        return Problem { code: "no-quotes", message: format!("{short} is not in quotes"), ..found }
            .given(text)
            .allowed("text and quantities in double quotes; plain numbers, days, true and false without")
            .hint(format!("write \"{short}\""))
            .at(value);
    }
    let (message, hint) = said(message, statement, given);
    // Where the fault is one of the whole, the whole is shown.
    let whole = match message.as_str() {
        "the text is not closed" => unclosed_text(statement),
        "nothing is assigned" => Some(0..statement.split('\n').next().unwrap_or_default().trim_end().len()),
        _ => None,
    };
    match whole {
        Some(whole) => Problem { message, hint, ..found }.given(&statement[whole.clone()]).at(Place::of(whole, offset)),
        None => Problem { message, hint, ..found },
    }
}

fn is_like_a_day(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_digit())
        && text.matches('-').count() == 2
        && text.chars().all(|c| c.is_ascii_digit() || c == '-')
}

/// The value of `key = "text`, up to the end of its line.
fn unclosed_text(statement: &str) -> Option<std::ops::Range<usize>> {
    let (key, rest) = statement.split_once('=')?;
    let start = key.len() + 1 + rest.len() - rest.trim_start().len();
    let value = statement[start..].split('\n').next().unwrap_or_default().trim_end();
    (value.starts_with(['"', '\'']) && !key.contains(['"', '\''])).then(|| start..start + value.len())
}

/// The value of `key = 42 m2`, where words stand without quotes.
fn unquoted_value(statement: &str, errors: &[Error]) -> Option<std::ops::Range<usize>> {
    let (key, rest) = statement.split_once('=')?;
    let lead = rest.len() - rest.trim_start().len();
    let value = rest.trim_start();
    let plain = value.starts_with(|c: char| c.is_alphanumeric() || matches!(c, '.' | '-' | '+'));
    let stray = value.contains(['"', '\'', '[', ']', '{', '}', '=', '\n']);
    let key_is_good = !key.trim().is_empty() && !key.contains(['"', '\'', '[', '{', '#']);
    let value = value.split('#').next().unwrap_or(value);
    let start = key.len() + 1 + lead;
    let blamed = errors.iter().all(|error| error.span().is_none_or(|span| span.start >= start));
    (plain && !stray && key_is_good && blamed).then(|| start..start + value.len())
}

/// An error at the end of a line or between signs is shown on the sign before.
fn visible(statement: &str, span: std::ops::Range<usize>) -> std::ops::Range<usize> {
    if span.start < span.end {
        return span;
    }
    let at = span.start.min(statement.len());
    match statement[at..].chars().next() {
        Some(next) if !next.is_whitespace() => at..at + next.len_utf8(),
        _ => match statement[..at].char_indices().next_back() {
            Some((before, _)) => before..at,
            None => at..at,
        },
    }
}

/// Message and hint for what the format's parser says.
fn said(message: &str, statement: &str, given: &str) -> (String, String) {
    let cause = message.split(", expected").next().unwrap_or(message);
    let (text, hint) = match cause {
        "key with no value" => ("nothing is assigned", "write key = value, or put # before a remark"),
        "invalid basic string"
        | "invalid literal string"
        | "invalid multi-line basic string"
        | "invalid multi-line literal string" => ("the text is not closed", "add the closing quote"),
        "unclosed array" => ("the list is not closed", "add ]"),
        "unclosed inline table" => ("the table is not closed", "add }"),
        "unclosed table" => ("the header is not closed", "add ]"),
        "unclosed array table" => ("the header is not closed", "add ]]"),
        "missing comma between array elements" | "missing comma between key-value pairs" => {
            ("a comma is missing", "put a comma between two values")
        }
        "extra comma in array" | "extra comma in inline table" => ("there is a comma too many", "take it out"),
        "missing value" | "missing value for key" => ("the value is missing", "write it behind the ="),
        "unexpected key or value" | "unexpected content" | "extra assignment between key-value pairs" => {
            ("something follows what was complete", "one key and one value on each line")
        }
        "unquoted keys cannot be empty" => ("the key is missing", "write key = value"),
        "invalid unquoted key" => ("a key has letters, digits, _ and - only", "use a key of the format"),
        "string values must be quoted" if given.is_empty() => ("the value is missing", "write it behind the ="),
        "string values must be quoted" => ("text is not in quotes", "put it in double quotes"),
        "duplicate key" => ("the key stands twice", "leave one out"),
        "missing escaped value" | "invalid escape sequence" => {
            ("a backslash begins no known escape", "write \\\\ for a backslash, or use single quotes")
        }
        "carriage return must be followed by newline" => {
            ("a carriage return stands alone", "save the file with ordinary line ends")
        }
        _ if statement.contains(['\u{201c}', '\u{201d}', '\u{2018}', '\u{2019}']) => {
            ("a typographic quote stands where a plain one belongs", "use \" from the keyboard")
        }
        _ => return (message.to_owned(), "see the reference of the order file".to_owned()),
    };
    (text.to_owned(), hint.to_owned())
}
