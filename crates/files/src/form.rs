//! Values of a form of their own: a point, what an eye goes on, a bury, a
//! tension that may be slack, a price, a flaw on a reel.

use crate::node::{Content, Node};
use crate::problem::{Log, Problem, nearest};
use crate::record::{FromFile, quoted, wrong_type};
use crate::shape::Shape;
use crate::value::{form_text, quantity, refuse};
use crate::word::words;
use std::ops::RangeInclusive;
use units::{Force, Length};

/// A point on the boat, from the fore side of the mast at deck.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Aft.
    pub x: Length,
    /// To starboard.
    pub y: Length,
    /// Up.
    pub z: Length,
}

words! {
    /// What an eye goes on.
    EyeHardware, "thing for an eye to go on" {
        "pin" => Pin, "a clevis or shackle pin";
        "thimble" => Thimble, "a thimble in the eye";
        "ring" => Ring, "a ring or a sheave-like bush";
        "shackle" => Shackle, "the bow of a shackle";
        "none" => None, "nothing stated";
    }

    /// How a buried tail is tapered.
    TaperWish, "taper" {
        "common" => Common, "half the strands, pair by pair over the last third";
        "none" => None, "cut off square";
        "half-at-once" => HalfAtOnce, "half the strands where the last third begins";
        "chosen" => Chosen, "where the largest step is least";
    }
}

/// What an eye goes on, and how thick that is: `8 mm pin`, or `none`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EyeOn {
    /// Thickness of the part that the rope bears on; None for `none` alone.
    pub size: Option<Length>,
    /// What it is.
    pub what: EyeHardware,
}

/// A run of rope as a length or in diameters: `720 mm`, `72 d`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BuryWish {
    /// So long.
    Length(Length),
    /// So many rope diameters.
    Diameters(f64),
}

/// The pull under which an old line was measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MeasuredAt {
    /// Laid out by hand.
    Slack,
    /// Under this pull.
    Tension(Force),
}

/// A price, digit for digit as written, and its currency: `4.20 EUR`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Price {
    /// Digits, with a decimal point if there was one.
    pub amount: String,
    /// Three capital letters.
    pub currency: String,
}

/// A stretch of a reel that no piece may use, from the reel's free end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flaw {
    /// Where it begins.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
}

const FARTHEST: RangeInclusive<Length> = Length::of_m(-100.0)..=Length::of_m(100.0);

impl FromFile for Point {
    type Limits = ();

    fn shape(_: Option<&()>) -> Shape {
        Shape::Point
    }

    fn read(node: &Node, limits: Option<&()>, log: &mut Log) -> Option<Self> {
        let shape = || Self::shape(limits);
        let items = match &node.content {
            Content::List(items) => items,
            Content::Broken => return None,
            _ => {
                wrong_type(node, &shape().allowed(), log);
                return None;
            }
        };
        let values: Vec<_> = items.iter().map(|item| Length::read(item, Some(&FARTHEST), log)).collect();
        match values[..] {
            [x, y, z] => Some(Point { x: x?, y: y?, z: z? }),
            _ => {
                let message = format!("a point has three lengths, not {}", items.len());
                refuse(node, Problem::new("wrong-count", message), &shape, log);
                None
            }
        }
    }
}

impl FromFile for EyeOn {
    type Limits = ();

    fn shape(_: Option<&()>) -> Shape {
        Shape::Form {
            what: "a thickness and one of pin, thimble, ring or shackle, or none alone",
            example: "12 mm pin",
        }
    }

    fn read(node: &Node, limits: Option<&()>, log: &mut Log) -> Option<Self> {
        let shape = || Self::shape(limits);
        let text = form_text(node, &shape, log)?;
        let (size, word) = text.rsplit_once(char::is_whitespace).unwrap_or(("", text));
        let Some(what) = EyeHardware::from_word(word) else {
            let near = nearest(word, EyeHardware::WORDS.iter().copied());
            let hint = near.map_or(String::new(), |near| format!("did you mean {near}?"));
            let message = format!("{} does not say what the eye goes on", quoted(text));
            refuse(node, Problem::new("unknown-word", message).hint(hint), &shape, log);
            return None;
        };
        match (what, size.trim()) {
            (EyeHardware::None, "") => Some(EyeOn { size: None, what }),
            (EyeHardware::None, _) => {
                let message = format!("{} gives a thickness of nothing", quoted(text));
                refuse(node, Problem::new("contradiction", message), &shape, log);
                None
            }
            (_, "") => {
                let message = format!("{} has no thickness", quoted(text));
                let hint = format!("add it, as in \"12 mm {word}\"");
                refuse(node, Problem::new("no-size", message).hint(hint), &shape, log);
                None
            }
            (_, size) => {
                let size = quantity::<Length>(size, node, &shape, log)?;
                let range = Length::of_mm(1.0)..=Length::of_mm(300.0);
                within(size, &range, node, &shape, log).map(|size| EyeOn { size: Some(size), what })
            }
        }
    }
}

fn within(
    value: Length,
    range: &RangeInclusive<Length>,
    node: &Node,
    shape: &dyn Fn() -> Shape,
    log: &mut Log,
) -> Option<Length> {
    if range.contains(&value) {
        return Some(value);
    }
    let message = format!("{} is out of range", quoted(&node.given()));
    let allowed = format!("{}, from {} to {}", shape().allowed(), range.start(), range.end());
    refuse(node, Problem::new("out-of-range", message).allowed(allowed), shape, log);
    None
}

/// `60 d` as 60.
fn diameters(text: &str, node: &Node, shape: &dyn Fn() -> Shape, log: &mut Log) -> Option<f64> {
    match text.trim().parse::<f64>() {
        Ok(count) if (1.0..=400.0).contains(&count) => Some(count),
        Ok(_) => {
            let message = format!("{} is out of range", quoted(&node.given()));
            let allowed = format!("{}, from 1 d to 400 d", shape().allowed());
            refuse(node, Problem::new("out-of-range", message).allowed(allowed), shape, log);
            None
        }
        Err(_) => {
            let message = format!("{} is not a number of diameters", quoted(&node.given()));
            refuse(node, Problem::new("not-a-number", message), shape, log);
            None
        }
    }
}

const LONGEST_RUN: RangeInclusive<Length> = Length::of_mm(1.0)..=Length::of_m(50.0);

impl FromFile for BuryWish {
    type Limits = ();

    fn shape(_: Option<&()>) -> Shape {
        Shape::Form { what: "a length, or a number of rope diameters with d", example: "72 d" }
    }

    fn read(node: &Node, limits: Option<&()>, log: &mut Log) -> Option<Self> {
        let shape = || Self::shape(limits);
        let text = form_text(node, &shape, log)?;
        if let Some(count) = text.strip_suffix('d') {
            return diameters(count, node, &shape, log).map(BuryWish::Diameters);
        }
        let length = quantity::<Length>(text, node, &shape, log)?;
        within(length, &LONGEST_RUN, node, &shape, log).map(BuryWish::Length)
    }
}

impl FromFile for MeasuredAt {
    type Limits = ();

    fn shape(_: Option<&()>) -> Shape {
        Shape::Form { what: "the pull it was measured under, or slack", example: "50 daN" }
    }

    fn read(node: &Node, limits: Option<&()>, log: &mut Log) -> Option<Self> {
        let shape = || Self::shape(limits);
        let text = form_text(node, &shape, log)?;
        if text == "slack" {
            return Some(MeasuredAt::Slack);
        }
        let pull = quantity::<Force>(text, node, &shape, log)?;
        if pull > Force::ZERO && pull <= Force::of_kn(100.0) {
            return Some(MeasuredAt::Tension(pull));
        }
        let message = format!("{} is out of range", quoted(text));
        let problem = Problem::new("out-of-range", message).hint("for a line laid out by hand write \"slack\"");
        refuse(node, problem.allowed("a pull above nothing, up to 100 kN, or slack"), &shape, log);
        None
    }
}

impl FromFile for Price {
    type Limits = ();

    fn shape(_: Option<&()>) -> Shape {
        Shape::Form { what: "an amount and a currency of three capital letters", example: "4.20 EUR" }
    }

    fn read(node: &Node, limits: Option<&()>, log: &mut Log) -> Option<Self> {
        let shape = || Self::shape(limits);
        let text = form_text(node, &shape, log)?;
        let (amount, currency) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
        let currency = currency.trim();
        let digits =
            |part: &str, most: usize| (1..=most).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
        let good_amount = match amount.split_once('.') {
            Some((whole, decimals)) => digits(whole, 9) && digits(decimals, 4),
            None => digits(amount, 9),
        };
        if good_amount && currency.len() == 3 && currency.bytes().all(|b| b.is_ascii_uppercase()) {
            return Some(Price { amount: amount.to_owned(), currency: currency.to_owned() });
        }
        let message = if currency.is_empty() {
            format!("{} has no currency", quoted(text))
        } else {
            format!("{} is not an amount of money", quoted(text))
        };
        refuse(node, Problem::new("not-a-price", message), &shape, log);
        None
    }
}

impl FromFile for Flaw {
    type Limits = ();

    fn shape(_: Option<&()>) -> Shape {
        Shape::Form { what: "two lengths from the reel's free end with two dots between", example: "12.0 m..12.4 m" }
    }

    fn read(node: &Node, limits: Option<&()>, log: &mut Log) -> Option<Self> {
        let shape = || Self::shape(limits);
        let text = form_text(node, &shape, log)?;
        let Some((from, to)) = text.split_once("..") else {
            let message = format!("{} is not a stretch of rope", quoted(text));
            refuse(node, Problem::new("not-a-stretch", message), &shape, log);
            return None;
        };
        let from = quantity::<Length>(from.trim(), node, &shape, log);
        let to = quantity::<Length>(to.trim(), node, &shape, log);
        let (from, to) = (from?, to?);
        if from < Length::ZERO || to <= from {
            let message = format!("{} does not run forward", quoted(text));
            refuse(node, Problem::new("contradiction", message).hint("the smaller length first"), &shape, log);
            return None;
        }
        Some(Flaw { from, to })
    }
}
