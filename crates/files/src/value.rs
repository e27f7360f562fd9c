//! Single values: text, numbers, days, quantities, shares and fixed words.
//!
//! Nothing is guessed: a bare number where a quantity belongs, a word that is
//! not one of the list and a number outside its range are refused. What is in
//! quotes is text and what is not is a number; a spreadsheet's cell may be
//! either. Ranges are ours, wide enough for any boat a loft serves, and there
//! to catch a slipped unit or decimal point.

use crate::node::{Content, Node};
use crate::problem::{Log, Problem, nearest};
use crate::record::{FromFile, quoted, wrong_type};
use crate::shape::Shape;
use crate::word::Word;
use std::fmt;
use std::ops::RangeInclusive;
use units::{Angle, Area, Force, Length, LinearDensity, Mass, Moment, ParseError, Speed, System, Value};

/// A day of the calendar, as a file writes it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    /// Year, four digits.
    pub year: u16,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month, from 1.
    pub day: u8,
}

impl Date {
    /// The day, if the calendar has it.
    ///
    /// ```
    /// use files::Date;
    /// assert!(Date::new(2028, 2, 29).is_some());
    /// assert!(Date::new(2026, 2, 29).is_none());
    /// ```
    #[must_use]
    pub fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        let days = match month {
            4 | 6 | 9 | 11 => 30,
            2 if leap => 29,
            2 => 28,
            1..=12 => 31,
            _ => return None,
        };
        (year >= 1 && (1..=days).contains(&day)).then_some(Date { year, month, day })
    }

    /// From `2026-03-31`, digit for digit.
    #[must_use]
    pub fn from_text(text: &str) -> Option<Self> {
        let digits = |part: &str, count: usize| part.len() == count && part.bytes().all(|b| b.is_ascii_digit());
        let mut parts = text.split('-');
        let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
        let good = parts.next().is_none() && digits(year, 4) && digits(month, 2) && digits(day, 2);
        good.then(|| Date::new(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?)).flatten()
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{:04}-{:02}-{:02}", self.year, self.month, self.day))
    }
}

/// A share of one, written in per cent.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Share {
    /// The share; 0.08 is 8 %.
    pub fraction: f64,
}

/// Text over several lines: remarks that nothing is computed from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Notes(pub String);

/// The text of a node that is text or a cell, without the spaces around it.
pub(crate) fn text_of(node: &Node) -> Option<&str> {
    match &node.content {
        Content::Text(text) | Content::Cell(text) => Some(text.trim()),
        _ => None,
    }
}

/// The text of a node of a fixed form; a problem when it is anything else.
pub(crate) fn form_text<'n>(node: &'n Node, shape: &dyn Fn() -> Shape, log: &mut Log) -> Option<&'n str> {
    if matches!(node.content, Content::Broken) {
        return None;
    }
    let text = text_of(node);
    match text {
        None => {
            wrong_type(node, &shape().allowed(), log);
            if let (Content::Whole(_) | Content::Decimal(_), Some(last)) = (&node.content, log.path.last()) {
                let hint = format!("write it with its unit and in quotes, such as {last} = {}", shape().example());
                log.amend_last(|problem| problem.hint(hint));
            }
            None
        }
        Some("") => {
            let key = log.path.last().cloned().unwrap_or_default();
            log.push(
                Problem::new("empty", format!("{key} is empty"))
                    .allowed(shape().allowed())
                    .hint("fill it in, or leave the key out")
                    .at(node.place),
            );
            None
        }
        text => text,
    }
}

/// Reports a value that is of the right type and still cannot be.
pub(crate) fn refuse(node: &Node, problem: Problem, shape: &dyn Fn() -> Shape, log: &mut Log) {
    let problem = problem.given(&node.given()).at(node.place);
    let allowed = if problem.allowed.is_empty() { shape().allowed() } else { problem.allowed.clone() };
    log.push(problem.allowed(allowed));
}

impl FromFile for String {
    type Limits = ();

    fn shape(_: Option<&()>) -> Shape {
        Shape::Text { longest: 200, lines: false }
    }

    fn read(node: &Node, limits: Option<&()>, log: &mut Log) -> Option<Self> {
        own_text(node, &|| Self::shape(limits), log)
    }
}

impl FromFile for Notes {
    type Limits = ();

    fn shape(_: Option<&()>) -> Shape {
        Shape::Text { longest: 4000, lines: true }
    }

    fn read(node: &Node, limits: Option<&()>, log: &mut Log) -> Option<Self> {
        own_text(node, &|| Self::shape(limits), log).map(Notes)
    }
}

fn own_text(node: &Node, shape: &dyn Fn() -> Shape, log: &mut Log) -> Option<String> {
    if let Content::Whole(number) | Content::Decimal(number) = &node.content {
        let hint = format!("put it in quotes: \"{}\"", crate::problem::shortened(number));
        wrong_type(node, &shape().allowed(), log);
        log.amend_last(|problem| problem.hint(hint));
        return None;
    }
    let text = form_text(node, shape, log)?;
    let Shape::Text { longest, lines } = shape() else {
        return None;
    };
    let key = log.path.last().cloned().unwrap_or_default();
    let count = text.chars().count();
    if count > longest {
        let message = format!("{key} is {count} characters long");
        refuse(node, Problem::new("too-long", message), shape, log);
        return None;
    }
    let stray = |c: char| c.is_control() && !(lines && matches!(c, '\n' | '\r' | '\t'));
    if let Some(c) = text.chars().find(|c| stray(*c)) {
        let message = format!("{key} holds the control character {}", c.escape_unicode());
        refuse(node, Problem::new("control-character", message), shape, log);
        return None;
    }
    Some(text.to_owned())
}

/// The text of a bare number, or of a cell; a problem when it is anything else.
fn number_text<'n>(node: &'n Node, shape: &dyn Fn() -> Shape, log: &mut Log) -> Option<&'n str> {
    match &node.content {
        Content::Whole(text) | Content::Decimal(text) => Some(text),
        Content::Cell(text) => Some(text.trim()),
        Content::Broken => None,
        _ => {
            wrong_type(node, &shape().allowed(), log);
            if let Content::Text(text) = &node.content
                && text.trim().parse::<f64>().is_ok()
            {
                log.amend_last(|problem| problem.hint("write the number without quotes"));
            }
            None
        }
    }
}

fn out_of_range(node: &Node, shape: &dyn Fn() -> Shape, log: &mut Log) {
    let key = log.path.last().cloned().unwrap_or_default();
    let message = format!("{key} = {} is out of range", crate::problem::shortened(&node.given()));
    let hint = "check the unit and the decimal point";
    refuse(node, Problem::new("out-of-range", message).hint(hint), shape, log);
}

impl FromFile for f64 {
    type Limits = RangeInclusive<f64>;

    fn shape(limits: Option<&Self::Limits>) -> Shape {
        Shape::Number { whole: false, limits: limits.map(|range| (*range.start(), *range.end())) }
    }

    fn read(node: &Node, limits: Option<&Self::Limits>, log: &mut Log) -> Option<Self> {
        let shape = || Self::shape(limits);
        let text = number_text(node, &shape, log)?;
        match text.parse::<f64>() {
            Ok(number) if number.is_finite() && limits.is_none_or(|range| range.contains(&number)) => Some(number),
            Ok(_) => {
                out_of_range(node, &shape, log);
                None
            }
            Err(_) => {
                let message = format!("{} is not a plain number", quoted(text));
                refuse(node, Problem::new("not-a-number", message), &shape, log);
                None
            }
        }
    }
}

impl FromFile for u32 {
    type Limits = RangeInclusive<u32>;

    fn shape(limits: Option<&Self::Limits>) -> Shape {
        let limits = limits.map(|range| (f64::from(*range.start()), f64::from(*range.end())));
        Shape::Number { whole: true, limits }
    }

    fn read(node: &Node, limits: Option<&Self::Limits>, log: &mut Log) -> Option<Self> {
        let shape = || Self::shape(limits);
        let text = number_text(node, &shape, log)?;
        match text.parse::<i128>() {
            Ok(number) => {
                let whole = u32::try_from(number).ok().filter(|n| limits.is_none_or(|range| range.contains(n)));
                if whole.is_none() {
                    out_of_range(node, &shape, log);
                }
                whole
            }
            // Digits alone, and too many for any integer type.
            Err(_) if text.trim_start_matches(['+', '-']).bytes().all(|b| b.is_ascii_digit()) && !text.is_empty() => {
                out_of_range(node, &shape, log);
                None
            }
            Err(_) => {
                let message = format!("{} is not a whole number", quoted(text));
                refuse(node, Problem::new("not-a-number", message), &shape, log);
                None
            }
        }
    }
}

impl FromFile for bool {
    type Limits = ();

    fn shape(_: Option<&()>) -> Shape {
        Shape::Flag
    }

    fn read(node: &Node, limits: Option<&()>, log: &mut Log) -> Option<Self> {
        match &node.content {
            Content::Flag(flag) => Some(*flag),
            // A spreadsheet writes its own truth values in capitals.
            Content::Cell(text) if matches!(text.trim(), "true" | "TRUE") => Some(true),
            Content::Cell(text) if matches!(text.trim(), "false" | "FALSE") => Some(false),
            Content::Broken => None,
            _ => {
                wrong_type(node, &Self::shape(limits).allowed(), log);
                None
            }
        }
    }
}

impl FromFile for Date {
    type Limits = ();

    fn shape(_: Option<&()>) -> Shape {
        Shape::Date
    }

    fn read(node: &Node, limits: Option<&()>, log: &mut Log) -> Option<Self> {
        if let Content::Date(date) = &node.content {
            return Some(*date);
        }
        let shape = || Self::shape(limits);
        let text = form_text(node, &shape, log)?;
        let date = Date::from_text(text);
        if date.is_none() {
            let message = format!("{} is not a day of the calendar", quoted(text));
            refuse(node, Problem::new("not-a-day", message).hint("year-month-day, with two digits each"), &shape, log);
        }
        date
    }
}

/// Reads a quantity's text and says what is wrong with it in this file's words.
pub(crate) fn quantity<T>(text: &str, node: &Node, shape: &dyn Fn() -> Shape, log: &mut Log) -> Option<T>
where
    T: std::str::FromStr<Err = ParseError>,
{
    let error = match text.parse::<T>() {
        Ok(value) => return Some(value),
        Err(error) => error,
    };
    let problem = match &error {
        ParseError::NoUnit { .. } => Problem::new("no-unit", format!("{} has no unit", quoted(text)))
            .hint(format!("add the unit, as in {}", shape().example())),
        ParseError::UnknownUnit { unit, quantity, hint, .. } => {
            let hint = hint.trim().trim_start_matches('(').trim_end_matches(')');
            Problem::new("wrong-unit", format!("{} is not a unit of {quantity}", quoted(unit))).hint(hint)
        }
        ParseError::Comma { .. } => Problem::new("comma", error.to_string()),
        ParseError::TooLarge { .. } => Problem::new("out-of-range", error.to_string()),
        _ => Problem::new("not-a-quantity", format!("{} is not a number with its unit", quoted(text))),
    };
    refuse(node, problem, shape, log);
    None
}

/// A limit as text: `60 m` rather than `60.00 m`.
fn plain_text(value: &Value) -> String {
    let text = value.show(System::Metric);
    match text.split_once(' ') {
        Some((number, unit)) if number.contains('.') => {
            format!("{} {unit}", number.trim_end_matches('0').trim_end_matches('.'))
        }
        _ => text,
    }
}

/// How a number without a unit could be written: with the unit that brings it
/// into the range, if one does. It is only said, never assumed.
fn unit_hint<T: Bounded>(number: &str, limits: Option<&RangeInclusive<T>>) -> String {
    let number = crate::problem::shortened(number.trim());
    let fits = |unit: &&units::Unit| {
        let value = format!("{number} {}", unit.names[0]).parse::<T>();
        value.is_ok_and(|value| limits.is_none_or(|range| range.contains(&value)))
    };
    let text = T::known_units().iter().find(fits).map(|unit| format!("\"{number} {}\"", unit.names[0]));
    match text {
        Some(text) => format!("write it with its unit and in quotes, such as {text}"),
        None => "write it with its unit and in quotes".to_owned(),
    }
}

/// A quantity, for messages that go through its units.
trait Bounded: std::str::FromStr<Err = ParseError> + PartialOrd {
    fn known_units() -> &'static [units::Unit];
}

macro_rules! read_quantity {
    ($($name:ident, $what:literal, $example:literal;)+) => {$(
        impl Bounded for $name {
            fn known_units() -> &'static [units::Unit] {
                $name::UNITS
            }
        }

        impl FromFile for $name {
            type Limits = RangeInclusive<$name>;

            fn shape(limits: Option<&Self::Limits>) -> Shape {
                let text = |value: $name| plain_text(&Value::from(value));
                Shape::Quantity {
                    what: $what,
                    units: $name::UNITS.iter().map(|unit| unit.names[0]).collect(),
                    example: $example,
                    limits: limits.map(|range| (text(*range.start()), text(*range.end()))),
                }
            }

            fn read(node: &Node, limits: Option<&Self::Limits>, log: &mut Log) -> Option<Self> {
                let shape = || Self::shape(limits);
                if let Content::Whole(number) | Content::Decimal(number) = &node.content {
                    let message = format!("{} has no unit", crate::problem::shortened(number));
                    refuse(node, Problem::new("no-unit", message).hint(unit_hint::<$name>(number, limits)), &shape, log);
                    return None;
                }
                let text = form_text(node, &shape, log)?;
                let value = match text.parse::<$name>() {
                    Err(ParseError::NoUnit { .. }) => {
                        let problem = Problem::new("no-unit", format!("{} has no unit", quoted(text)));
                        refuse(node, problem.hint(unit_hint::<$name>(text, limits)), &shape, log);
                        return None;
                    }
                    _ => quantity::<$name>(text, node, &shape, log)?,
                };
                if limits.is_some_and(|range| !range.contains(&value)) {
                    out_of_range(node, &shape, log);
                    return None;
                }
                Some(value)
            }
        }
    )+};
}

read_quantity! {
    Length, "a length", "10 mm";
    Area, "an area", "42 m2";
    Force, "a force", "4.5 kN";
    Mass, "a mass", "5200 kg";
    LinearDensity, "a mass per length", "62 g/m";
    Speed, "a speed", "25 kn";
    Moment, "a moment", "32 kN m";
    Angle, "an angle", "30 deg";
}

impl FromFile for Share {
    type Limits = RangeInclusive<f64>;

    fn shape(limits: Option<&Self::Limits>) -> Shape {
        let text = |share: f64| plain_text(&Value::Share(share));
        Shape::Quantity {
            what: "a share",
            units: vec!["%"],
            example: "8 %",
            limits: limits.map(|range| (text(*range.start()), text(*range.end()))),
        }
    }

    fn read(node: &Node, limits: Option<&Self::Limits>, log: &mut Log) -> Option<Self> {
        let shape = || Self::shape(limits);
        let bare = matches!(node.content, Content::Whole(_) | Content::Decimal(_));
        let text = if bare { "" } else { form_text(node, &shape, log)? };
        let Some(number) = text.strip_suffix('%') else {
            let message = format!("{} has no per cent sign", crate::problem::shortened(&node.given()));
            refuse(node, Problem::new("no-unit", message).hint("write it as in \"8 %\""), &shape, log);
            return None;
        };
        match number.trim().parse::<f64>() {
            Ok(percent) if percent.is_finite() => {
                let fraction = percent / 100.0;
                if limits.is_some_and(|range| !range.contains(&fraction)) {
                    out_of_range(node, &shape, log);
                    return None;
                }
                Some(Share { fraction })
            }
            _ => {
                let message = format!("{} is not a number in per cent", quoted(text));
                refuse(node, Problem::new("not-a-number", message), &shape, log);
                None
            }
        }
    }
}

/// A fixed word's shape and reader, for [`words!`](crate::word::words).
macro_rules! read_word {
    ($name:ident) => {
        impl crate::record::FromFile for $name {
            type Limits = ();

            fn shape(_: Option<&()>) -> crate::shape::Shape {
                crate::value::word_shape::<$name>()
            }

            fn read(node: &crate::node::Node, _: Option<&()>, log: &mut crate::problem::Log) -> Option<Self> {
                crate::value::read_one_word(node, log)
            }
        }
    };
}
pub(crate) use read_word;

pub(crate) fn word_shape<W: Word>() -> Shape {
    Shape::Words(W::ALL.iter().map(|(_, word, meaning)| (*word, *meaning)).collect())
}

pub(crate) fn read_one_word<W: Word>(node: &Node, log: &mut Log) -> Option<W> {
    let shape = word_shape::<W>;
    let text = form_text(node, &shape, log)?;
    let word = W::from_word(text);
    if word.is_none() {
        let near = nearest(text, W::ALL.iter().map(|(_, word, _)| *word));
        let hint = near.map_or(String::new(), |near| format!("did you mean {near}?"));
        let problem = Problem::new("unknown-word", format!("{} is not a {}", quoted(text), W::WHAT)).hint(hint);
        refuse(node, problem, &shape, log);
    }
    word
}
