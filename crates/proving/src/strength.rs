//! What the tests of one rope and one kind of splice say of its strength, and
//! when that takes the place of the default.
//!
//! Results are shares of the rope's listed strength. Breaks at the splice
//! count as they are; breaks elsewhere and held loads as "at least so much".
//! Under five breaks at the splice nothing is worked out from them. From five
//! on the low end is a limit that nine in ten splices exceed with confidence
//! 95 %, by the distribution that fits, and the usual value is the mean. It
//! replaces the default when a distribution fits, no result stands apart
//! unexplained, and the limit is above zero; the answer says which of these
//! it failed. Used rope never enters here.

use crate::statistics::{
    Chart, Goodness, Level, NormalFit, Outlier, Results, StatisticsError, WeibullFit, control_chart, farthest,
    normal_fit, normal_goodness, tolerance_factor, weibull_fit, weibull_goodness,
};
use crate::tests_log::Test;
use sources::{Citation, Finding, Grade, LOFT, MIL_HDBK_17, NIST_HANDBOOK, OURS, Step};
use splice::Span;
use statrs::distribution::{ContinuousCDF, StudentsT};
use std::sync::OnceLock;
use units::{Sentence, Value};

/// Breaks at the splice that it takes before anything is worked out.
pub const LEAST_BREAKS: usize = 5;

/// A held load below this share of the fitted splices' own scatter says
/// nothing that bears on the fit: nearly all would have held it.
const TELLS_NOTHING: f64 = 0.99;

/// What is known of a rope and kind of splice from tests.
#[derive(Debug, Clone, PartialEq)]
pub struct SpliceStrength {
    /// Breaks at the splice, new rope.
    pub breaks: usize,
    /// New splices that held at least so much.
    pub held: usize,
    /// Tests of used rope, which never enter.
    pub used: usize,
    /// Tests left out with a reason written down.
    pub left_out: usize,
    /// Worked out from five breaks on.
    pub statistics: Option<Statistics>,
    /// What is used, and why.
    pub efficiency: Efficiency,
    /// What is to be said.
    pub findings: Vec<Finding>,
    /// How it came about.
    pub working: Vec<Step>,
}

/// The statistics of the breaks. All are shares of the listed strength.
#[derive(Debug, Clone, PartialEq)]
pub struct Statistics {
    /// The normal distribution fitted.
    pub normal: NormalFit,
    /// Interval of the mean, 90 %, by Student's t.
    pub mean_interval: (f64, f64),
    /// Tolerance factor for the number of breaks.
    pub factor: f64,
    /// Lower tolerance limit of the normal.
    pub normal_limit: f64,
    /// The Weibull distribution fitted.
    pub weibull: WeibullFit,
    /// Its lower limit.
    pub weibull_limit: f64,
    /// Does the normal fit? `None` where held loads cut into the scatter.
    pub normal_goodness: Option<Goodness>,
    /// Does the Weibull?
    pub weibull_goodness: Option<Goodness>,
    /// The break farthest from the mean, counted among breaks in their order.
    pub farthest: Outlier,
    /// Control chart of the breaks in their order.
    pub chart: Chart,
    /// Which limit is taken.
    pub taken: Taken,
}

/// Which limit the tests give.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Taken {
    /// The normal's: it fits.
    Normal,
    /// The Weibull's: it fits and the normal does not.
    Weibull,
    /// The lower of the two: held loads cut into the scatter, so no fit can
    /// be tested.
    Lower,
    /// None fits.
    Neither,
}

impl Taken {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Taken::Normal => "normal",
            Taken::Weibull => "Weibull",
            Taken::Lower => "the lower of normal and Weibull",
            Taken::Neither => "neither normal nor Weibull fits",
        }
    }
}

/// The strength used for a kind of splice, as a share of the rope's.
#[derive(Debug, Clone, PartialEq)]
pub struct Efficiency {
    /// What is used; `None` where there is neither a default nor a limit.
    pub used: Option<Span<f64>>,
    /// The default of the layout.
    pub default: Option<Span<f64>>,
    /// The loft's own, where the tests give one.
    pub own: Option<Span<f64>>,
    /// Does the loft's own stand in the place of the default?
    pub replaced: bool,
    /// The rule, in words.
    pub rule: Sentence,
    /// On whose word the figure used is.
    pub citation: Citation,
}

/// What the tests of one rope and one kind of splice say. `default` is the
/// layout's share, low, usual and high.
///
/// # Errors
/// When results cannot be fitted: all alike, or not above zero.
///
/// # Example
/// ```
/// use proving::{Outcome, Test, strength_of};
/// use splice::Span;
/// use units::Force;
/// let test = |number: usize, kn: f64| Test {
///     number: number.to_string(),
///     load: Force::of_kn(kn),
///     outcome: Outcome::BrokeAtSplice,
///     listed: Force::of_kn(50.0),
///     used: None,
///     left_out: None,
/// };
/// let default = Span { low: 0.80, usual: 0.88, high: 0.95 };
/// let four: Vec<Test> = [46.1, 47.0, 45.2, 46.6].into_iter().enumerate().map(|(n, kn)| test(n, kn)).collect();
/// assert!(!strength_of(&four, Some(default))?.efficiency.replaced);
/// let five: Vec<Test> = [46.1, 47.0, 45.2, 46.6, 45.9].into_iter().enumerate().map(|(n, kn)| test(n, kn)).collect();
/// let found = strength_of(&five, Some(default))?;
/// assert!(found.efficiency.replaced);
/// assert_eq!(format!("{:.3}", found.efficiency.used.map_or(0.0, |used| used.low)), "0.876");
/// # Ok::<(), proving::StatisticsError>(())
/// ```
pub fn strength_of(tests: &[Test], default: Option<Span<f64>>) -> Result<SpliceStrength, StatisticsError> {
    let new = || tests.iter().filter(|test| test.used.is_none() && test.left_out.is_none());
    let breaks: Vec<f64> = new().filter(|test| test.outcome.is_of_splice()).map(Test::share).collect();
    let held: Vec<f64> = new().filter(|test| !test.outcome.is_of_splice()).map(Test::share).collect();
    let used = tests.iter().filter(|test| test.used.is_some()).count();
    let left_out = tests.iter().filter(|test| test.used.is_none() && test.left_out.is_some()).count();
    let (count, held_count) = (breaks.len(), held.len());
    let statistics = if count < LEAST_BREAKS { None } else { Some(statistics_of(&Results { breaks, held })?) };
    let efficiency = efficiency_of(count, statistics.as_ref(), default);
    let findings = findings_of(count, statistics.as_ref(), &efficiency);
    let working = statistics.as_ref().map(|found| working_of(count, found)).unwrap_or_default();
    Ok(SpliceStrength { breaks: count, held: held_count, used, left_out, statistics, efficiency, findings, working })
}

fn statistics_of(results: &Results) -> Result<Statistics, StatisticsError> {
    let count = results.breaks.len();
    let normal = normal_fit(results)?;
    let weibull = weibull_fit(results)?;
    let factor = b_basis_factor(count)?;
    let normal_limit = normal.mean - factor * normal.deviation;
    let weibull_limit = weibull.b_basis(count);
    let tells = |held: &&f64| 1.0 - weibull.cdf(**held) < TELLS_NOTHING;
    let fits_can_be_tested = !results.held.iter().any(|held| tells(&held));
    let (normal_goodness, weibull_goodness) = if fits_can_be_tested {
        (Some(normal_goodness(&results.breaks)?), Some(weibull_goodness(&results.breaks, weibull)?))
    } else {
        (None, None)
    };
    let taken = match (normal_goodness, weibull_goodness) {
        (Some(normal), _) if normal.fits() => Taken::Normal,
        (_, Some(weibull)) if weibull.fits() => Taken::Weibull,
        (Some(_), _) | (_, Some(_)) => Taken::Neither,
        (None, None) => Taken::Lower,
    };
    let student = StudentsT::new(0.0, 1.0, count as f64 - 1.0).map_err(|_| StatisticsError::NoScatter)?;
    let half = student.inverse_cdf(0.95) * normal.deviation / (count as f64).sqrt();
    Ok(Statistics {
        normal,
        mean_interval: (normal.mean - half, normal.mean + half),
        factor,
        normal_limit,
        weibull,
        weibull_limit,
        normal_goodness,
        weibull_goodness,
        farthest: farthest(&results.breaks)?,
        chart: control_chart(&results.breaks)?,
        taken,
    })
}

/// The factor for so many breaks, worked out once for each number up to some
/// hundred: a loft's log has many kinds of splice with as many breaks each.
fn b_basis_factor(count: usize) -> Result<f64, StatisticsError> {
    const KEPT: usize = 256;
    static FACTORS: [OnceLock<Result<f64, StatisticsError>>; KEPT] = [const { OnceLock::new() }; KEPT];
    let work_out = || tolerance_factor(count, Level::B_BASIS);
    FACTORS.get(count).map_or_else(work_out, |kept| *kept.get_or_init(work_out))
}

impl Statistics {
    /// The limit that is taken; `None` where no distribution fits.
    #[must_use]
    pub fn limit(&self) -> Option<f64> {
        match self.taken {
            Taken::Normal => Some(self.normal_limit),
            Taken::Weibull => Some(self.weibull_limit),
            Taken::Lower => Some(self.normal_limit.min(self.weibull_limit)),
            Taken::Neither => None,
        }
    }
}

fn efficiency_of(count: usize, statistics: Option<&Statistics>, default: Option<Span<f64>>) -> Efficiency {
    let limit = statistics.and_then(Statistics::limit).filter(|limit| *limit > 0.0);
    let own = statistics.zip(limit).map(|(found, low)| Span {
        low,
        usual: found.normal.mean,
        high: found.normal.mean + found.factor * found.normal.deviation,
    });
    let apart = statistics.is_some_and(|found| found.farthest.stands_apart());
    let replaced = own.is_some() && !apart;
    let rule = match (statistics, own) {
        (None, _) => Sentence::new("{} breaks at the splice: under {} they are listed, and the default stays")
            .with(count)
            .with(LEAST_BREAKS),
        (Some(_), None) => {
            Sentence::new("{} breaks, and neither a normal nor a Weibull distribution gives a limit: the default stays")
                .with(count)
        }
        (Some(_), Some(_)) if apart => {
            Sentence::new("one of {} breaks stands apart: the default stays until the reason is found").with(count)
        }
        (Some(found), Some(own)) => Sentence::new(
            "the loft's own tests replace the default: {} breaks, mean {}, low end {} ({}, nine in ten with confidence 95 %)",
        )
        .with(count)
        .with(Value::Share(found.normal.mean))
        .with(Value::Share(own.low))
        .with(found.taken.words()),
    };
    match (replaced, own) {
        (true, Some(own)) => Efficiency {
            used: Some(own),
            default,
            own: Some(own),
            replaced,
            rule,
            citation: LOFT.at("break tests of this rope and splice"),
        },
        _ => Efficiency {
            used: default,
            default,
            own,
            replaced: false,
            rule,
            citation: OURS.at(if default.is_some() { "the layout's own strength" } else { "no test and no default" }),
        },
    }
}

fn findings_of(count: usize, statistics: Option<&Statistics>, efficiency: &Efficiency) -> Vec<Finding> {
    let mut findings = Vec::new();
    let Some(found) = statistics else {
        let text = Sentence::new("{} breaks at the splice: no limit is worked out").with(count);
        let more = Sentence::new("{} more breaks at the splice").with(LEAST_BREAKS - count);
        findings.push(Finding::new(Grade::Note, "few-breaks", text, OURS.at("five breaks or more")).remedy(more));
        return findings;
    };
    if found.farthest.stands_apart() {
        let text = Sentence::new("break {} of {} lies {} standard deviations from the mean; {} is the most allowed")
            .with(found.farthest.index + 1)
            .with(count)
            .with(found.farthest.statistic)
            .with(found.farthest.critical);
        findings.push(
            Finding::new(Grade::Caution, "stands-apart", text, NIST_HANDBOOK.at("1.3.5.17.1"))
                .remedy(Sentence::new("look at the piece and the log; leave it out only with a reason written down")),
        );
    }
    if found.taken == Taken::Neither {
        let text = Sentence::new("neither a normal nor a Weibull distribution fits the {} breaks").with(count);
        findings.push(
            Finding::new(Grade::Caution, "no-fit", text, NIST_HANDBOOK.at("1.3.5.14"))
                .remedy(Sentence::new("see whether two makers, batches or methods are mixed")),
        );
    }
    for signal in &found.chart.signals {
        let text = Sentence::new("control chart, break {}: {}").with(signal.at + 1).with(signal.rule.words());
        findings.push(Finding::new(Grade::Caution, "chart-signal", text, NIST_HANDBOOK.at("6.3.2")));
    }
    if let (true, Some(default), Some(own)) = (efficiency.replaced, efficiency.default, efficiency.own) {
        let text = Sentence::new("low end {} by {} own breaks; the default is {}")
            .with(Value::Share(own.low))
            .with(count)
            .with(Value::Share(default.low));
        findings.push(Finding::new(Grade::Note, "own-strength", text, LOFT.at("break tests")));
    }
    findings
}

fn working_of(count: usize, found: &Statistics) -> Vec<Step> {
    let share = Value::Share;
    vec![
        Step::new("mean", "greatest likelihood", share(found.normal.mean), LOFT.at("break tests"))
            .input("breaks", count),
        Step::new(
            "standard deviation",
            "greatest likelihood, widened by sqrt(n/(n-1))",
            share(found.normal.deviation),
            LOFT.at("break tests"),
        ),
        Step::new(
            "tolerance factor",
            "noncentral t / sqrt(n), nine in ten, confidence 95 %",
            found.factor,
            NIST_HANDBOOK.at("7.2.6.3"),
        )
        .input("n", count),
        Step::new("normal limit", "mean - k s", share(found.normal_limit), NIST_HANDBOOK.at("7.2.6.3")),
        Step::new("Weibull shape", "greatest likelihood", found.weibull.shape, NIST_HANDBOOK.at("8.4.1.3"))
            .input("scale", share(found.weibull.scale)),
        Step::new("Weibull limit", "B basis", share(found.weibull_limit), MIL_HDBK_17.at("8.3.4.3")),
    ]
}
