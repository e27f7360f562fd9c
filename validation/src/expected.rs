//! What a case expects, and how far off an answer is.
//!
//! `"2834.96 N"` is a value, good to half of its last digit unless the case
//! gives a tolerance; `"0.80 .. 0.87"` a band; `">= 20 kN"` and `"<= 45 d"`
//! one-sided; a whole number is exact; anything else is a word.

use crate::Trouble;
use crate::amount::{self, Amount, Dimension};
use crate::given::Value;

/// One expected answer.
#[derive(Debug, Clone, PartialEq)]
pub enum Expected {
    /// A value as printed.
    Printed(String, Amount),
    /// Between two.
    Band(Amount, Amount),
    /// No less than.
    AtLeast(Amount),
    /// No more than.
    AtMost(Amount),
    /// Just so many.
    Count(i64),
    /// Just this word.
    Word(String),
}

/// How far off a printed value may be.
#[derive(Debug, Clone, PartialEq)]
pub enum Tolerance {
    /// Half of the last digit printed.
    LastDigit,
    /// A share of the value.
    Relative(f64),
    /// An amount.
    Absolute(Amount),
}

/// One answer of a room.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// A number.
    Amount(Amount),
    /// A whole number.
    Count(i64),
    /// A word.
    Word(String),
}

impl Expected {
    /// From the case file.
    ///
    /// # Errors
    /// When it is a list or a band that cannot be read.
    pub fn read(value: &Value) -> Result<Expected, Trouble> {
        let number =
            |text: &str| amount::read(text).ok_or_else(|| Trouble::malformed(format!("{text:?} is no number")));
        let text = match value {
            Value::Count(count) => return Ok(Expected::Count(*count)),
            Value::List(_) => return Err(Trouble::malformed("a list cannot be expected".to_owned())),
            Value::Text(text) => text.trim(),
        };
        if let Some((low, high)) = text.split_once(" .. ") {
            let (low, high) = (number(low)?, number(high)?);
            if low.dimension != high.dimension || low.si >= high.si {
                return Err(Trouble::malformed(format!("{text:?} is no band")));
            }
            return Ok(Expected::Band(low, high));
        }
        if let Some(least) = text.strip_prefix(">=") {
            return number(least).map(Expected::AtLeast);
        }
        if let Some(most) = text.strip_prefix("<=") {
            return number(most).map(Expected::AtMost);
        }
        Ok(match amount::read(text) {
            Some(amount) => Expected::Printed(text.to_owned(), amount),
            None => Expected::Word(text.to_owned()),
        })
    }

    /// Error over tolerance: at most one is a hit. Of a band, distance from
    /// its middle over half its width; of what has no width, 0 or infinity.
    ///
    /// # Errors
    /// When answer and expectation are not of one kind, or no tolerance can be
    /// told from what was printed.
    pub fn error(&self, answer: &Answer, tolerance: &Tolerance) -> Result<f64, Trouble> {
        let hit = |hit: bool| if hit { 0.0 } else { f64::INFINITY };
        match (self, answer) {
            (Expected::Count(want), Answer::Count(got)) => Ok(hit(want == got)),
            (Expected::Word(want), Answer::Word(got)) => Ok(hit(want == got)),
            (Expected::Printed(text, want), Answer::Amount(got)) => {
                same(*want, *got)?;
                let allowed = allowed(text, *want, tolerance)?;
                // An answer just half a digit off is a hit: rounding did it.
                Ok((got.si - want.si).abs() / (allowed * (1.0 + 1e-9)))
            }
            (Expected::Band(low, high), Answer::Amount(got)) => {
                same(*low, *got)?;
                Ok((got.si - (low.si + high.si) / 2.0).abs() / ((high.si - low.si) / 2.0 * (1.0 + 1e-9)))
            }
            (Expected::AtLeast(least), Answer::Amount(got)) => {
                same(*least, *got)?;
                Ok(hit(got.si >= least.si * (1.0 - 1e-9)))
            }
            (Expected::AtMost(most), Answer::Amount(got)) => {
                same(*most, *got)?;
                Ok(hit(got.si <= most.si * (1.0 + 1e-9)))
            }
            _ => Err(Trouble::malformed(format!("{self:?} cannot be compared with {answer:?}"))),
        }
    }

    /// The text a unit could be taken from.
    #[must_use]
    pub fn printed(&self) -> Option<&str> {
        match self {
            Expected::Printed(text, _) => Some(text),
            _ => None,
        }
    }
}

fn same(want: Amount, got: Amount) -> Result<(), Trouble> {
    if want.dimension == got.dimension {
        Ok(())
    } else {
        Err(Trouble::malformed(format!("a {} is expected, the answer is a {}", want.dimension, got.dimension)))
    }
}

fn allowed(text: &str, want: Amount, tolerance: &Tolerance) -> Result<f64, Trouble> {
    let allowed = match tolerance {
        Tolerance::LastDigit => amount::half_last_digit(text).map(|half| half.si),
        Tolerance::Relative(share) => Some(share * want.si.abs()),
        Tolerance::Absolute(amount) if amount.dimension == want.dimension => Some(amount.si),
        Tolerance::Absolute(_) => None,
    };
    allowed.filter(|allowed| *allowed > 0.0).ok_or_else(|| {
        Trouble::malformed(format!("{text:?} has no tolerance: give one in its own unit, or as a share if it is not 0"))
    })
}

impl Tolerance {
    /// From the case file: `0.5 %`, or `0.1 N`, or a plain number.
    ///
    /// # Errors
    /// When it is no number above zero.
    pub fn read(text: &str) -> Result<Tolerance, Trouble> {
        let amount = amount::read(text).filter(|amount| amount.si > 0.0);
        let amount = amount.ok_or_else(|| Trouble::malformed(format!("tolerance {text:?} is no number above zero")))?;
        Ok(match amount.dimension {
            Dimension::Ratio if text.trim().ends_with('%') => Tolerance::Relative(amount.si),
            _ => Tolerance::Absolute(amount),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn error(want: &str, got: f64, tolerance: Tolerance) -> f64 {
        let want = Expected::read(&Value::Text(want.to_owned())).unwrap();
        want.error(&Answer::Amount(Amount::from(got)), &tolerance).unwrap()
    }

    #[test]
    fn errors_are_told_over_their_tolerance() {
        assert!((error("0.50", 0.5025, Tolerance::LastDigit) - 0.5).abs() < 1e-6);
        assert!(error("0.50", 0.505, Tolerance::LastDigit) <= 1.0);
        assert!(error("0.50", 0.5051, Tolerance::LastDigit) > 1.0);
        assert!((error("200", 201.0, Tolerance::Relative(0.01)) - 0.5).abs() < 1e-6);
        assert!((error("0.80 .. 0.90", 0.875, Tolerance::LastDigit) - 0.5).abs() < 1e-6);
        assert!(error(">= 1", 0.99, Tolerance::LastDigit).is_infinite());
        assert_eq!(error("<= 1", 0.99, Tolerance::LastDigit), 0.0);
    }

    #[test]
    fn unlike_things_are_not_compared() {
        let force = Expected::read(&Value::Text("3 kN".to_owned())).unwrap();
        assert!(force.error(&Answer::Amount(Amount::from(3.0)), &Tolerance::LastDigit).is_err());
        assert!(force.error(&Answer::Count(3), &Tolerance::LastDigit).is_err());
        let fraction = Expected::read(&Value::Text("9/16 in".to_owned())).unwrap();
        let length = Answer::Amount(Amount::from(units::Length::of_inches(0.5625)));
        assert!(fraction.error(&length, &Tolerance::LastDigit).is_err());
        assert!(Expected::read(&Value::Text("2 .. 1".to_owned())).is_err());
        assert!(Tolerance::read("0 N").is_err());
    }
}
