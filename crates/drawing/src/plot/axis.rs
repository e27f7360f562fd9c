//! An axis with round steps.

use crate::DrawingError;
use crate::plot::{Axis, Span, finite};

/// An axis laid along a stretch of paper.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Ruled {
    /// Lowest and highest value.
    pub low: f64,
    pub high: f64,
    /// Values that are named, with their words.
    pub ticks: Vec<(f64, String)>,
    /// Paper of the lowest and of the highest value, in mm.
    pub paper: (f64, f64),
}

impl Ruled {
    /// Where a value stands on paper, in mm.
    pub(crate) fn at(&self, value: f64) -> f64 {
        let share = (value - self.low) / (self.high - self.low);
        self.paper.0 + share * (self.paper.1 - self.paper.0)
    }

    /// Whether a value is on the axis.
    pub(crate) fn holds(&self, value: f64) -> bool {
        let slack = 1e-9 * (self.high - self.low);
        value >= self.low - slack && value <= self.high + slack
    }
}

/// Lays the axis over the values it must show, `steps` steps at most.
///
/// # Errors
/// A range given that is not one.
pub(crate) fn ruled(axis: &Axis, values: &[f64], (paper, steps): ((f64, f64), usize)) -> Result<Ruled, DrawingError> {
    let lowest = values.iter().copied().fold(f64::INFINITY, f64::min);
    let highest = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let (low, high, round) = match axis.span {
        Span::FromZero => (lowest.min(0.0), highest.max(0.0), true),
        Span::Fitted => (lowest, highest, true),
        Span::Between(low, high) => {
            finite("start of an axis", low)?;
            finite("end of an axis", high)?;
            if high <= low {
                return Err(DrawingError::NotRising { what: "an axis", from: low, to: high });
            }
            (low, high, false)
        }
    };
    // All values alike still need an axis: one step around them.
    let (low, high) = if high - low > 1e-12 * high.abs().max(low.abs()) {
        (low, high)
    } else {
        let around = if low == 0.0 { 1.0 } else { 0.1 * low.abs() };
        (low - around, high + around)
    };
    let step = round_step((high - low) / steps.max(1) as f64);
    let (low, high) =
        if round { ((low / step + 1e-9).floor() * step, (high / step - 1e-9).ceil() * step) } else { (low, high) };
    let first = (low / step - 1e-9).ceil() as i64;
    let last = (high / step + 1e-9).floor() as i64;
    let ticks = (first..=last).map(|tick| (tick as f64 * step, words(tick as f64 * step, step))).collect();
    Ok(Ruled { low, high, ticks, paper })
}

/// The least of 1, 2 or 5 times a power of ten that is not under `least`.
fn round_step(least: f64) -> f64 {
    let power = 10_f64.powf(least.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0].into_iter().find(|factor| factor * power >= least * (1.0 - 1e-9));
    step.unwrap_or(10.0) * power
}

/// A value with as many decimals as its step has, thousands set apart.
fn words(value: f64, step: f64) -> String {
    let decimals = (-step.log10().floor()).clamp(0.0, 9.0) as usize;
    let text = format!("{value:.decimals$}");
    let text = if text.trim_start_matches('-').chars().all(|c| c == '0' || c == '.') {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    };
    let (whole, rest) = text.split_once('.').map_or((text.as_str(), String::new()), |(a, b)| (a, format!(".{b}")));
    let (sign, digits) = whole.strip_prefix('-').map_or(("", whole), |digits| ("\u{2212}", digits));
    let mut grouped = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index) % 3 == 0 && digits.len() > 4 {
            grouped.push('\u{2009}');
        }
        grouped.push(digit);
    }
    format!("{sign}{grouped}{rest}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(values: &[f64], steps: usize, expected: &[&str]) {
        let axis = ruled(&Axis::new("x", ""), values, ((0.0, 100.0), steps)).map(|axis| axis.ticks);
        let words: Vec<String> = axis.unwrap_or_default().into_iter().map(|tick| tick.1).collect();
        assert_eq!(words, expected);
    }

    #[test]
    fn steps_are_round() {
        check(&[0.0, 30.0], 6, &["0", "5", "10", "15", "20", "25", "30"]);
        check(&[0.0, 31.0], 4, &["0", "10", "20", "30", "40"]);
        check(&[0.2, 0.93], 5, &["0.0", "0.2", "0.4", "0.6", "0.8", "1.0"]);
        check(&[-3.0, 3.0], 3, &["\u{2212}4", "\u{2212}2", "0", "2", "4"]);
        check(&[0.0, 41_000.0], 3, &["0", "20\u{2009}000", "40\u{2009}000", "60\u{2009}000"]);
    }

    #[test]
    fn values_all_alike_still_have_an_axis() {
        let axis = ruled(&Axis::new("x", "").fitted(), &[7.0, 7.0], ((0.0, 100.0), 4));
        let axis = axis.unwrap_or_else(|_| unreachable!("the values are finite"));
        assert!(axis.low < 7.0 && axis.high > 7.0);
        assert!((axis.at(7.0) - 50.0).abs() < 1e-9);
        check(&[0.0], 4, &["\u{2212}1.0", "\u{2212}0.5", "0.0", "0.5", "1.0"]);
    }

    #[test]
    fn a_range_that_is_none_is_refused() {
        let axis = |from, to| ruled(&Axis::new("x", "").between(from, to), &[1.0], ((0.0, 100.0), 4));
        assert!(matches!(axis(2.0, 2.0), Err(DrawingError::NotRising { .. })));
        assert!(matches!(axis(0.0, f64::NAN), Err(DrawingError::NotFinite { .. })));
        assert!(axis(0.0, 2.0).is_ok_and(|axis| axis.holds(2.0) && !axis.holds(2.1)));
    }
}
