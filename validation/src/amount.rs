//! A number with its quantity, as cases write it: `18750 N`, `9/16 in`,
//! `3.66 %`, `0.5176`.
//!
//! The reading is that of the `units` room; beside the number it keeps what
//! the source printed: half of its last digit, and the unit that an error of
//! units would put in its place.

use std::fmt;

/// Which quantity a number is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dimension {
    /// A plain number or a share.
    Ratio,
    /// A quantity of the `units` room.
    Quantity(&'static str),
}

/// A number of a quantity, in SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount {
    /// Of what.
    pub dimension: Dimension,
    /// How much, in SI units.
    pub si: f64,
}

macro_rules! quantities {
    ($($name:ident),+ $(,)?) => {
        /// The quantity and SI number of a text with a unit.
        fn read_quantity(text: &str) -> Option<Amount> {
            let exact = split(text).map(|(_, unit)| unit).unwrap_or_default();
            $(
                let known = units::$name::UNITS.iter().any(|unit| unit.names.contains(&exact));
                if let (true, Ok(value)) = (known || exact.contains(' '), text.parse::<units::$name>()) {
                    return Some(Amount::from(value));
                }
            )+
            None
        }

        $(
            impl From<units::$name> for Amount {
                fn from(value: units::$name) -> Self {
                    Amount { dimension: Dimension::Quantity(stringify!($name)), si: value.si() }
                }
            }
        )+
    };
}

quantities!(Length, Area, Force, Mass, LinearDensity, Tenacity, Density, Speed, Pressure, Moment, Angle, Duration,);

impl From<f64> for Amount {
    fn from(value: f64) -> Self {
        Amount { dimension: Dimension::Ratio, si: value }
    }
}

impl fmt::Display for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Dimension::Ratio => f.write_str("plain number"),
            Dimension::Quantity(name) => f.write_str(name),
        }
    }
}

/// Number and unit of a text: `("9/16", "in")`.
#[must_use]
pub fn split(text: &str) -> Option<(&str, &str)> {
    let text = text.trim();
    let end = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | '-' | '+' | ' ')));
    let end = end.unwrap_or(text.len());
    let number = text.get(..end)?.trim();
    number.contains(|c: char| c.is_ascii_digit()).then_some((number, text.get(end..)?.trim()))
}

/// A text as a number of some quantity; `None` when it is not one.
///
/// ```
/// use validation::amount::read;
/// assert_eq!(read("1.3 kN").unwrap().si, 1300.0);
/// assert_eq!(read("25 %").unwrap().si, 0.25);
/// assert!(read("pass").is_none());
/// ```
#[must_use]
pub fn read(text: &str) -> Option<Amount> {
    let (number, unit) = split(text)?;
    match unit {
        "" => number.parse::<f64>().ok().filter(|value| value.is_finite()).map(Amount::from),
        "%" => number.parse::<f64>().ok().filter(|value| value.is_finite()).map(|value| Amount::from(value / 100.0)),
        _ => read_quantity(text),
    }
}

/// Half of the last digit printed, as a number of the same quantity; `None`
/// for fractions, which print no digit.
///
/// ```
/// use validation::amount::half_last_digit;
/// assert_eq!(half_last_digit("2834.96 N").unwrap().si, 0.005);
/// assert!(half_last_digit("9/16 in").is_none());
/// ```
#[must_use]
pub fn half_last_digit(text: &str) -> Option<Amount> {
    let (number, unit) = split(text)?;
    if number.contains('/') || unit.contains(|c: char| c.is_ascii_digit()) && unit.contains(' ') {
        return None;
    }
    let decimals = number.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    read(&format!("{:.*} {unit}", decimals + 1, 0.5 * 10f64.powi(-(decimals as i32))))
}

/// Units that are taken for each other.
const TAKEN_FOR: &[(&str, &str)] = &[
    ("mm", "in"),
    ("m", "ft"),
    ("kN", "kip"),
    ("N", "lbf"),
    ("tf", "kN"),
    ("kgf", "N"),
    ("daN", "N"),
    ("N m", "ft lbf"),
    ("kN m", "ft lbf"),
    ("deg", "rad"),
    ("kn", "mph"),
    ("m/s", "kn"),
    ("kg", "lb"),
    ("g/m", "lb/ft"),
    ("ktex", "lb/ft"),
    ("m2", "ft2"),
    ("Pa", "lbf/ft2"),
    ("%", ""),
];

/// The same number with the unit it could be mistaken for: `4 in` for `4 mm`,
/// and a share for a percentage.
#[must_use]
pub fn unit_mistaken(text: &str) -> Option<String> {
    let (number, unit) = split(text)?;
    let other = TAKEN_FOR.iter().find_map(|(one, other)| match unit {
        unit if unit == *one => Some(*other),
        unit if unit == *other => Some(*one),
        _ => None,
    })?;
    Some(format!("{number} {other}"))
}

/// What mistaking the unit of `text` makes of a number.
#[must_use]
pub fn unit_factor(text: &str) -> Option<f64> {
    let (_, unit) = split(text)?;
    let one = format!("1 {unit}");
    Some(read(&unit_mistaken(&one)?)?.si / read(&one)?.si)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_unit_that_can_be_mistaken_is_read() {
        for (one, other) in TAKEN_FOR {
            let (one, other) = (read(&format!("1 {one}")), read(&format!("1 {other}")));
            let (Some(one), Some(other)) = (one, other) else { panic!("{one:?} and {other:?}") };
            assert_eq!(one.dimension, other.dimension);
            assert!((one.si / other.si - 1.0).abs() > 0.1, "{one:?} is no mistake for {other:?}");
        }
    }

    #[test]
    fn knots_and_kilonewtons_are_told_apart() {
        assert_eq!(read("25 kn").map(|a| a.dimension), Some(Dimension::Quantity("Speed")));
        assert_eq!(read("25 kN").map(|a| a.dimension), Some(Dimension::Quantity("Force")));
        assert_eq!(read("2 t").map(|a| a.dimension), Some(Dimension::Quantity("Mass")));
    }

    #[test]
    fn half_of_the_last_digit_follows_what_was_printed() {
        for (text, half) in [("33.60 kN", 5.0), ("800 mm", 0.0005), ("0.5176", 0.00005), ("25 %", 0.005)] {
            let read = half_last_digit(text).map(|amount| amount.si).unwrap_or_default();
            assert!((read - half).abs() < 1e-12, "{text}: {read}");
        }
    }
}
