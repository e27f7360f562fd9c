//! Reads numbers with units as people write them: `10 mm`, `3/8 in`,
//! `12 ft 6 1/2 in`, `1,000 lbf`.
//!
//! A comma is a thousands mark and only where it stands as one; a decimal
//! comma is refused, because `1,000` would then mean two things.

use thiserror::Error;

/// A unit of one quantity: how it is written, and its size in the SI unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// Every spelling that is read; the first is the one printed.
    pub names: &'static [&'static str],
    /// The unit's size in the quantity's SI unit.
    pub factor: f64,
    /// A smaller unit that may follow in the same text, as inches follow feet.
    pub then: Option<&'static str>,
}

/// Why a text was not read as a quantity.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ParseError {
    /// Nothing was written.
    #[error("empty: a number and a unit are wanted, such as {example:?}")]
    Empty {
        /// A text that would be read.
        example: &'static str,
    },
    /// The text does not begin with a number, or the number is malformed.
    #[error("{given:?} is not a number: write it as {example:?}")]
    NotANumber {
        /// The text as given.
        given: String,
        /// A text that would be read.
        example: &'static str,
    },
    /// A comma that is not a thousands mark.
    #[error("the comma in {given:?} could be a decimal or a thousands mark: write a point for decimals")]
    Comma {
        /// The text as given.
        given: String,
    },
    /// A bare number.
    #[error("{given:?} has no unit: add one of {allowed}")]
    NoUnit {
        /// The text as given.
        given: String,
        /// The units of this quantity.
        allowed: String,
    },
    /// A unit of another quantity, or none known.
    #[error("{unit:?} is not a unit of {quantity}: use one of {allowed}{hint}")]
    UnknownUnit {
        /// The unit as given.
        unit: String,
        /// What was wanted.
        quantity: &'static str,
        /// The units of this quantity.
        allowed: String,
        /// What may have been meant.
        hint: &'static str,
    },
    /// A second number and unit that do not belong together, as in `3 in 2 ft`.
    #[error("{given:?}: {second:?} cannot follow {first:?}")]
    Sequence {
        /// The text as given.
        given: String,
        /// The unit read first.
        first: String,
        /// The unit that followed.
        second: String,
    },
    /// Larger than anything in a rope loft, or not finite.
    #[error("{given:?} is too large: at most 1e12 in the basic unit")]
    TooLarge {
        /// The text as given.
        given: String,
    },
}

/// The largest magnitude that is read, in SI units: products of two such
/// numbers are still far from the end of `f64`.
const LARGEST: f64 = 1e12;

/// Reads `text` as a sum of numbers with units from `units`, in SI.
pub(crate) fn parse(
    text: &str,
    quantity: &'static str,
    units: &'static [Unit],
    example: &'static str,
) -> Result<f64, ParseError> {
    let given = || shortened(text);
    let normal = normal_text(text);
    let (negative, mut rest) = match normal.trim().strip_prefix('-') {
        Some(after) => (true, after.trim_start()),
        None => (false, normal.trim()),
    };
    if rest.is_empty() {
        return Err(ParseError::Empty { example });
    }
    let mut total = 0.0;
    let mut before: Option<(&'static Unit, f64)> = None;
    while !rest.is_empty() {
        let (number, after) = split_number(rest);
        let amount = number_value(number).map_err(|fault| match fault {
            Fault::Comma => ParseError::Comma { given: given() },
            Fault::Other => ParseError::NotANumber { given: given(), example },
        })?;
        let (name, after) = split_unit(after);
        if name.is_empty() {
            return Err(ParseError::NoUnit { given: given(), allowed: listed(units) });
        }
        let unit = find(units, name).ok_or_else(|| ParseError::UnknownUnit {
            unit: shortened(name),
            quantity,
            allowed: listed(units),
            hint: hint(quantity, name),
        })?;
        if let Some((first, _)) = before
            && first.then != Some(unit.names[0])
        {
            return Err(ParseError::Sequence {
                given: given(),
                first: first.names[0].to_owned(),
                second: unit.names[0].to_owned(),
            });
        }
        before = Some((unit, amount));
        total += amount * unit.factor;
        rest = after;
    }
    if !total.is_finite() || total.abs() > LARGEST {
        return Err(ParseError::TooLarge { given: given() });
    }
    Ok(if negative { -total } else { total })
}

/// Spaces, minus signs and inch marks of every kind as the plain ones, and
/// the hyphen of `1-1/2 in` as the space that it stands for.
fn normal_text(text: &str) -> String {
    let plain: Vec<char> = text
        .chars()
        .map(|c| match c {
            '\u{a0}' | '\u{202f}' | '\u{2009}' => ' ',
            '\u{2212}' => '-',
            '\u{2018}' | '\u{2019}' => '\'',
            '\u{201c}' | '\u{201d}' => '"',
            other => other,
        })
        .collect();
    let joins = |at: usize| {
        let before = at.checked_sub(1).and_then(|before| plain.get(before));
        let after = plain.get(at + 1);
        before.is_some_and(|c| c.is_ascii_digit() || *c == '\'') && after.is_some_and(char::is_ascii_digit)
    };
    plain.iter().enumerate().map(|(at, c)| if *c == '-' && joins(at) { ' ' } else { *c }).collect()
}

fn listed(units: &[Unit]) -> String {
    units.iter().map(|unit| unit.names[0]).collect::<Vec<_>>().join(", ")
}

fn find(units: &'static [Unit], name: &str) -> Option<&'static Unit> {
    units.iter().find(|unit| unit.names.contains(&name)).or_else(|| {
        let mut fitting = units.iter().filter(|unit| unit.names.iter().any(|known| differs_in_case(known, name)));
        match (fitting.next(), fitting.next()) {
            (Some(unit), None) => Some(unit),
            _ => None,
        }
    })
}

/// The same unit in careless capitals. A leading m or M tells milli from mega
/// and must be right, unless the whole name is in capitals, as `MM`.
fn differs_in_case(known: &str, name: &str) -> bool {
    let prefix = known.len() > 1 && known.starts_with(['m', 'M']);
    let shouted = known.starts_with('m') && name.chars().all(char::is_uppercase);
    known.eq_ignore_ascii_case(name) && (!prefix || shouted || known.chars().next() == name.chars().next())
}

fn hint(quantity: &str, name: &str) -> &'static str {
    match (quantity, name) {
        ("force", "lb" | "lbs" | "pound" | "pounds") => " (lb is a mass; for a pull write lbf)",
        ("force", "kg" | "kilo" | "kilos") => " (kg is a mass; for a pull write kgf, daN or kN)",
        ("force", "t" | "ton" | "tons" | "tonne") => " (a ton is a mass; for a pull write tf or kN)",
        ("mass", "lbf") => " (lbf is a pull; for a mass write lb)",
        ("mass", "kgf") => " (kgf is a pull; for a mass write kg)",
        ("mass", "ton" | "tons") => " (several tons exist; write kg, t or lb)",
        ("linear density", "kg" | "g") => " (a mass per length is wanted, such as g/m)",
        _ => "",
    }
}

/// The longest start of `text` that can be a number, and what follows.
/// The space inside `6 1/2` belongs to the number; any other does not.
fn split_number(text: &str) -> (&str, &str) {
    let is_part = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '/');
    let exponent_end = |text: &str, at: usize| {
        let tail = &text[at..];
        let mut chars = tail.char_indices();
        if !matches!(chars.next(), Some((_, 'e' | 'E'))) {
            return at;
        }
        let digits = tail[1..].strip_prefix(['+', '-']).unwrap_or(&tail[1..]);
        let count = digits.bytes().take_while(u8::is_ascii_digit).count();
        if count == 0 { at } else { at + tail.len() - digits.len() + count }
    };
    let end = text.find(|c| !is_part(c)).unwrap_or(text.len());
    let end = exponent_end(text, end);
    let tail = text[end..].trim_start();
    let next = tail.find(|c| !is_part(c)).unwrap_or(tail.len());
    if !text[..end].contains('/') && tail[..next].contains('/') {
        let end = text.len() - tail.len() + next;
        return (&text[..end], text[end..].trim_start());
    }
    (&text[..end], tail)
}

/// The unit's name up to the next number, and what follows. A digit belongs
/// to the name as a power (`m2`) or behind a stroke (`lb/100 ft`); any other
/// begins the next number (`6ft2in`).
fn split_unit(text: &str) -> (&str, &str) {
    let mut slash = false;
    for (at, c) in text.char_indices() {
        if c == '/' {
            slash = true;
        }
        let power = matches!(c, '2' | '3')
            && at > 0
            && !text[..at].ends_with(' ')
            && !text[at + 1..].starts_with(|next: char| next.is_alphanumeric() || matches!(next, '.' | '/' | ','));
        if c.is_ascii_digit() && !power && !slash {
            return (text[..at].trim_end(), &text[at..]);
        }
        // 6'2" : the mark ends the unit.
        if matches!(c, '\'' | '"' | '\u{2032}' | '\u{2033}') {
            let end = at + c.len_utf8();
            return (&text[..end], text[end..].trim_start());
        }
    }
    (text.trim_end(), "")
}

enum Fault {
    Comma,
    Other,
}

/// A plain number, a fraction, or a whole number with a fraction.
fn number_value(text: &str) -> Result<f64, Fault> {
    let text = text.trim();
    if let Some((whole, fraction)) = text.split_once(char::is_whitespace) {
        let whole: u32 = whole.parse().map_err(|_| Fault::Other)?;
        return Ok(f64::from(whole) + fraction_value(fraction.trim())?);
    }
    if text.contains('/') {
        return fraction_value(text);
    }
    let plain = if text.contains(',') { without_thousands(text).ok_or(Fault::Comma)? } else { text.to_owned() };
    let starts_well = plain.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    match plain.parse::<f64>() {
        Ok(value) if starts_well => Ok(value),
        _ => Err(Fault::Other),
    }
}

fn fraction_value(text: &str) -> Result<f64, Fault> {
    let (above, below) = text.split_once('/').ok_or(Fault::Other)?;
    let above: u32 = above.parse().map_err(|_| Fault::Other)?;
    let below: u32 = below.parse().map_err(|_| Fault::Other)?;
    if below == 0 { Err(Fault::Other) } else { Ok(f64::from(above) / f64::from(below)) }
}

fn without_thousands(text: &str) -> Option<String> {
    let (whole, decimals) = text.split_once('.').map_or((text, None), |(w, d)| (w, Some(d)));
    let mut groups = whole.split(',');
    let first = groups.next()?;
    let good_first = (1..=3).contains(&first.len()) && !first.starts_with('0');
    let good_rest = whole.split(',').skip(1).all(|g| g.len() == 3);
    let digits = whole.chars().all(|c| c.is_ascii_digit() || c == ',');
    let good_decimals = decimals.is_none_or(|d| d.bytes().all(|b| b.is_ascii_digit()));
    (good_first && good_rest && digits && good_decimals).then(|| text.replace(',', ""))
}

/// Text for a message, never longer than a line.
fn shortened(text: &str) -> String {
    const LONGEST: usize = 40;
    if text.chars().count() <= LONGEST {
        text.to_owned()
    } else {
        text.chars().take(LONGEST).collect::<String>() + "…"
    }
}

/// Writes a number with a comma at each thousand: `12345.6` at one decimal is
/// `12,345.6`, which [`ParseError::Comma`] never refuses when read back.
///
/// ```
/// assert_eq!(units::group_thousands(12345.6, 1), "12,345.6");
/// ```
pub fn group_thousands(value: f64, decimals: usize) -> String {
    let text = format!("{:.*}", decimals, value.abs());
    let (whole, rest) = match text.find('.') {
        Some(at) => text.split_at(at),
        None => (text.as_str(), ""),
    };
    let mut grouped = String::new();
    for (index, digit) in whole.chars().enumerate() {
        if index > 0 && (whole.len() - index).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    let sign = if value < 0.0 && text.bytes().any(|b| (b'1'..=b'9').contains(&b)) { "-" } else { "" };
    format!("{sign}{grouped}{rest}")
}
