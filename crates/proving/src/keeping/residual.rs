//! What is left of a used piece's strength, and on what that rests.
//!
//! Break tests of retired pieces of the same rope and splice come first: from
//! five on their low limit is the estimate. Without them, published losses
//! are taken together: the low end multiplies them, the high end is a new
//! piece less the yarns that are gone. Where neither is known there is no
//! figure. It never feeds the strength of new splices.

use super::Reading;
use crate::statistics::{Level, Results, StatisticsError, normal_fit, tolerance_factor};
use crate::strength::LEAST_BREAKS;
use crate::tests_log::Test;
use sources::{Finding, Grade, ISO_9554, LOFT, MEG4, NAVEDTRA_14160, OURS, Step};
use splice::Span;
use units::{Sentence, Value};

/// Strength left after about two years in the weather, older synthetic rope.
const WEATHERED: f64 = 0.70;
/// Months that it was told for.
const WEATHERED_AFTER: f64 = 24.0;
/// Strength left with a hockle, at worst.
const HOCKLED: f64 = 0.70;
/// Below this share of the design strength a mooring line is replaced.
const REPLACED_BELOW: f64 = 0.75;

/// The strength that is left, as a share of the listed one.
#[derive(Debug, Clone, PartialEq)]
pub struct Residual {
    /// Low, usual and high; `None` where nothing is known.
    pub share: Option<Span<f64>>,
    /// What it rests on.
    pub basis: Sentence,
    /// What is to be said.
    pub findings: Vec<Finding>,
    /// How it came about.
    pub working: Vec<Step>,
}

/// Tests of used pieces of the same rope and splice.
#[derive(Debug, Clone, Copy)]
pub struct UsedTests<'a> {
    /// The tests; those of new pieces are passed over.
    pub tests: &'a [Test],
    /// Strength of a new splice, share of the listed, low end and usual.
    pub new: Option<Span<f64>>,
}

/// What is left of a piece that has been in the weather for so many months,
/// with the readings of its last inspection.
///
/// # Errors
/// When five tests or more cannot be fitted: all alike.
pub fn residual(
    months: f64,
    readings: &[(String, Reading)],
    known: UsedTests<'_>,
) -> Result<Residual, StatisticsError> {
    let breaks: Vec<f64> = known
        .tests
        .iter()
        .filter(|test| test.left_out.is_none() && test.outcome.is_of_splice())
        .filter(|test| test.used.is_some_and(|used| used.months >= months))
        .map(Test::share)
        .collect();
    let mut found =
        if breaks.len() >= LEAST_BREAKS { by_tests(breaks)? } else { by_losses(months, readings, known.new) };
    if let Some(share) = found.share.filter(|share| share.low < REPLACED_BELOW) {
        let text =
            Sentence::new("strength left may be as low as {} of the listed; mooring lines are replaced below {}")
                .with(Value::Share(share.low))
                .with(Value::Share(REPLACED_BELOW));
        found.findings.push(
            Finding::new(Grade::Caution, "weak-by-age", text, MEG4.at("residual strength"))
                .remedy(Sentence::new("break a piece of the same age for test, or retire it")),
        );
    }
    Ok(found)
}

fn by_tests(breaks: Vec<f64>) -> Result<Residual, StatisticsError> {
    let count = breaks.len();
    let fit = normal_fit(&Results { breaks, held: Vec::new() })?;
    let factor = tolerance_factor(count, Level::B_BASIS)?;
    let (low, high) = ((fit.mean - factor * fit.deviation).max(0.0), fit.mean + factor * fit.deviation);
    let step = Step::new("strength left", "mean - k s", Value::Share(low), LOFT.at("tests of retired pieces"))
        .input("tests as old or older", count)
        .input("mean", Value::Share(fit.mean));
    Ok(Residual {
        share: Some(Span { low, usual: fit.mean, high }),
        basis: Sentence::new("{} break tests of retired pieces as old or older").with(count),
        findings: Vec::new(),
        working: vec![step],
    })
}

fn by_losses(months: f64, readings: &[(String, Reading)], new: Option<Span<f64>>) -> Residual {
    let mut losses: Vec<Loss> = Vec::new();
    for (code, reading) in readings {
        losses.extend(loss_of(code, *reading));
    }
    if months >= WEATHERED_AFTER {
        losses.push(Loss {
            what: "two years in the weather",
            low: WEATHERED,
            high: 1.0,
            citation: NAVEDTRA_14160.at("weather, about 30 % in two years"),
        });
    }
    if losses.is_empty() {
        return Residual {
            share: None,
            basis: Sentence::new("nothing that tells: no test of a piece as old, no loss seen"),
            findings: Vec::new(),
            working: Vec::new(),
        };
    }
    let start = new.unwrap_or(Span { low: 1.0, usual: 1.0, high: 1.0 });
    let mut share = start;
    let mut working = Vec::new();
    for loss in &losses {
        share = Span {
            low: share.low * loss.low,
            usual: share.usual * (loss.low + loss.high) / 2.0,
            high: share.high * loss.high,
        };
        working.push(Step::new(loss.what, "strength left, at worst", Value::Share(loss.low), loss.citation));
    }
    working.push(Step::new(
        "strength left",
        "new x each of them",
        Value::Share(share.low),
        OURS.at("losses multiplied"),
    ));
    let basis = if new.is_some() {
        Sentence::new("published losses of other ropes, on a new splice; no test of a piece as old")
    } else {
        Sentence::new("published losses of other ropes, on the listed strength; no test of a piece as old")
    };
    Residual { share: Some(share), basis, findings: Vec::new(), working }
}

struct Loss {
    what: &'static str,
    low: f64,
    high: f64,
    citation: sources::Citation,
}

fn loss_of(code: &str, reading: Reading) -> Option<Loss> {
    match (code, reading) {
        ("yarn-breaks" | "wear", Reading::Share(share)) if share > 0.0 => Some(Loss {
            what: "yarns gone",
            low: 1.0 - share,
            high: 1.0 - share,
            citation: OURS.at("strength by the yarns that are left"),
        }),
        ("hockle", Reading::Present) => {
            Some(Loss { what: "a hockle", low: HOCKLED, high: 1.0, citation: ISO_9554.at("C.2.6") })
        }
        ("knot", Reading::Present) => {
            Some(Loss { what: "a knot", low: 0.50, high: 1.0, citation: ISO_9554.at("C.2.5") })
        }
        _ => None,
    }
}
