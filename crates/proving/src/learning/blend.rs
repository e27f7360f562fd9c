//! A default and the loft's own measurements, weighed together.
//!
//! The default counts as so many measurements, a number stated for each kind
//! of figure: `used = (w default + n mean) / (w + n)`. So the first own figure
//! moves the answer a little, the tenth has most of the say, and the answer
//! always tells both, the weight and what moved. The weights are choices of
//! ours. Strength of splices has its own, harder rule in
//! [`strength_of`](crate::strength_of).

use crate::statistics::{Results, StatisticsError, farthest, mean, normal_fit};
use sources::{Citation, Finding, Grade, LOFT, NIST_HANDBOOK, OURS, Step};
use statrs::distribution::{ContinuousCDF, StudentsT};
use units::{Sentence, Value};

/// What is learnt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Learns {
    /// Friction of strand on strand, from pull-out tests.
    Friction,
    /// Shrinkage over a bury, made over computed.
    Shrinkage,
    /// Length gained when a splice is set, as a share.
    BeddingIn,
    /// Minutes for one kind of end, made over planned.
    Minutes,
}

impl Learns {
    /// Everything that is learnt.
    pub const ALL: [Learns; 4] = [Learns::Friction, Learns::Shrinkage, Learns::BeddingIn, Learns::Minutes];

    /// The word of records.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Learns::Friction => "friction",
            Learns::Shrinkage => "shrinkage",
            Learns::BeddingIn => "bedding-in",
            Learns::Minutes => "minutes",
        }
    }

    /// From its word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Learns> {
        Learns::ALL.into_iter().find(|kind| kind.word().eq_ignore_ascii_case(word.trim()))
    }

    /// As how many measurements the default counts.
    #[must_use]
    pub const fn weight_of_default(self) -> f64 {
        match self {
            // A range that no readable source pins down, conditioned on
            // splices that are known to hold.
            Learns::Friction => 5.0,
            // Geometry, which is right as far as the braid's angle is.
            Learns::Shrinkage => 4.0,
            Learns::BeddingIn => 3.0,
            // Common practice, of no loft in particular.
            Learns::Minutes => 2.0,
        }
    }
}

/// A default with its origin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Default {
    /// The figure.
    pub value: f64,
    /// On whose word.
    pub citation: Citation,
}

/// A default and the loft's own side by side, and what is used.
#[derive(Debug, Clone, PartialEq)]
pub struct Learned {
    /// What it is.
    pub kind: Learns,
    /// Measurements, and those that only say "at least so much".
    pub count: usize,
    /// Of them, how many only say "at least".
    pub at_least: usize,
    /// The default.
    pub default: Default,
    /// Mean of the loft's own; `None` without one.
    pub own: Option<f64>,
    /// Interval of that mean, 90 %, by Student's t; from two measurements on.
    pub interval: Option<(f64, f64)>,
    /// Share of the say that the loft's own has.
    pub weight: f64,
    /// What is used.
    pub used: f64,
    /// The rule, in words.
    pub rule: Sentence,
    /// What is to be said.
    pub findings: Vec<Finding>,
    /// How it came about.
    pub working: Vec<Step>,
}

/// A default and the loft's measurements weighed together.
///
/// # Errors
/// When a measurement is not above zero.
///
/// # Example
/// ```
/// use proving::{Default, Learns, Results, blend};
/// use sources::COMMON_PRACTICE;
/// let planned = Default { value: 30.0, citation: COMMON_PRACTICE.at("minutes for an eye") };
/// let own = Results { breaks: vec![40.0, 44.0], held: vec![] };
/// let minutes = blend(Learns::Minutes, planned, &own)?;
/// // The default counts as two, so own and default have equal say.
/// assert_eq!((minutes.weight, minutes.used), (0.5, 36.0));
/// # Ok::<(), proving::StatisticsError>(())
/// ```
pub fn blend(kind: Learns, default: Default, own: &Results) -> Result<Learned, StatisticsError> {
    if let Some(given) = own.breaks.iter().chain(&own.held).find(|value| !value.is_finite() || **value <= 0.0) {
        return Err(StatisticsError::NotAboveZero { given: *given });
    }
    let count = own.breaks.len();
    // Without two that differ there is no scatter to weigh "at least" by.
    let fit = normal_fit(own).ok();
    let found = match (count, fit) {
        (0, _) => None,
        (_, Some(fit)) => Some(fit.mean),
        (_, None) => Some(mean(&own.breaks)),
    };
    let interval = fit.filter(|_| count >= 2).and_then(|fit| {
        let student = StudentsT::new(0.0, 1.0, count as f64 - 1.0).ok()?;
        let half = student.inverse_cdf(0.95) * fit.deviation / (count as f64).sqrt();
        Some((fit.mean - half, fit.mean + half))
    });
    let prior = kind.weight_of_default();
    let weight = count as f64 / (count as f64 + prior);
    let used = found.map_or(default.value, |mean| weight * mean + (1.0 - weight) * default.value);
    let rule = match found {
        None => Sentence::new("no measurement of your own: the default is used"),
        Some(_) => Sentence::new("{} of your own against a default that counts as {}: yours has {} of the say")
            .with(count)
            .with(prior)
            .with(Value::Share(weight)),
    };
    let mut working = vec![Step::new("default", "", default.value, default.citation)];
    if let Some(mean) = found {
        working.push(Step::new("own", "mean", mean, LOFT.at(kind.word())).input("measurements", count));
        working.push(
            Step::new("used", "(w default + n mean) / (w + n)", used, OURS.at("weight of a default"))
                .input("w", prior)
                .input("n", count),
        );
    }
    let findings = apart(kind, own).into_iter().collect();
    let (at_least, own) = (own.held.len(), found);
    Ok(Learned {
        kind,
        count: count + at_least,
        at_least,
        default,
        own,
        interval,
        weight,
        used,
        rule,
        findings,
        working,
    })
}

fn apart(kind: Learns, own: &Results) -> Option<Finding> {
    let far = farthest(&own.breaks).ok().filter(|far| far.stands_apart())?;
    let text = Sentence::new("{}: measurement {} of {}, {}, lies {} standard deviations from the mean")
        .with(kind.word())
        .with(far.index + 1)
        .with(own.breaks.len())
        .with(own.breaks[far.index])
        .with(far.statistic);
    Some(
        Finding::new(Grade::Caution, "stands-apart", text, NIST_HANDBOOK.at("1.3.5.17.1"))
            .remedy(Sentence::new("look for a slip in the record; leave it out only with a reason written down")),
    )
}
