//! Control chart of single results in the order they were tested: has the
//! bench changed?
//!
//! Limits from the mean moving range of two neighbours; four run rules and a
//! rule for trends. A signal says "look for the reason", not "bad splice".

use super::StatisticsError;
use super::censored::mean;

/// Mean range of two normal results over their standard deviation, `2/sqrt(pi)`.
const D2: f64 = 1.128;
/// Upper limit of a moving range over its mean.
const D4: f64 = 3.267;

/// A chart.
#[derive(Debug, Clone, PartialEq)]
pub struct Chart {
    /// Centre line.
    pub centre: f64,
    /// Mean of the moving ranges.
    pub moving_range: f64,
    /// Lower limit, three deviations down.
    pub lower: f64,
    /// Upper limit, three deviations up.
    pub upper: f64,
    /// Upper limit of a moving range.
    pub range_upper: f64,
    /// What stands out, in the order of the results.
    pub signals: Vec<Signal>,
}

/// A rule broken, at the last result that it takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Signal {
    /// Which rule.
    pub rule: Rule,
    /// At which result, counted from 0.
    pub at: usize,
}

/// The rules.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rule {
    /// One result beyond three deviations.
    BeyondLimits,
    /// Two of three beyond two deviations on one side.
    TwoOfThree,
    /// Four of five beyond one deviation on one side.
    FourOfFive,
    /// Eight in a row on one side.
    EightOnOneSide,
    /// Six in a row rising, or falling.
    SixInTrend,
    /// A moving range beyond its limit.
    RangeBeyondLimit,
}

impl Rule {
    /// The rule in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Rule::BeyondLimits => "a result beyond three standard deviations",
            Rule::TwoOfThree => "two of three results beyond two standard deviations, on one side",
            Rule::FourOfFive => "four of five results beyond one standard deviation, on one side",
            Rule::EightOnOneSide => "eight results in a row on one side of the mean",
            Rule::SixInTrend => "six results in a row that rise or fall",
            Rule::RangeBeyondLimit => "a step between neighbours beyond its limit",
        }
    }
}

/// The chart of results in the order they were tested.
///
/// # Errors
/// Under two results, or results that are all alike.
///
/// # Source
/// NIST/SEMATECH e-Handbook, 6.3.2.2 (limits) and 6.3.2 (run rules), whose
/// worked example this is:
///
/// ```
/// let flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
/// let chart = proving::control_chart(&flow)?;
/// assert_eq!(format!("{:.2} {:.4}", chart.centre, chart.moving_range), "50.81 1.8778");
/// assert_eq!(format!("{:.4} {:.4}", chart.lower, chart.upper), "45.8159 55.8041");
/// assert!(chart.signals.is_empty());
/// # Ok::<(), proving::StatisticsError>(())
/// ```
pub fn control_chart(values: &[f64]) -> Result<Chart, StatisticsError> {
    if values.len() < 2 {
        return Err(StatisticsError::TooFew { given: values.len(), least: 2, what: "a control chart" });
    }
    let ranges: Vec<f64> = values.windows(2).map(|pair| (pair[1] - pair[0]).abs()).collect();
    let (centre, moving_range) = (mean(values), mean(&ranges));
    if moving_range <= 1e-12 * centre.abs() {
        return Err(StatisticsError::NoScatter);
    }
    let deviation = moving_range / D2;
    let range_upper = D4 * moving_range;
    let z: Vec<f64> = values.iter().map(|value| (value - centre) / deviation).collect();
    let signals = (0..values.len())
        .flat_map(|at| {
            let range = at.checked_sub(1).and_then(|before| ranges.get(before)).copied().unwrap_or(0.0);
            rules_at(&z, values, at)
                .into_iter()
                .chain((range > range_upper).then_some(Rule::RangeBeyondLimit))
                .map(move |rule| Signal { rule, at })
        })
        .collect();
    Ok(Chart {
        centre,
        moving_range,
        lower: centre - 3.0 * deviation,
        upper: centre + 3.0 * deviation,
        range_upper,
        signals,
    })
}

/// The rules that the result at `at` completes.
fn rules_at(z: &[f64], values: &[f64], at: usize) -> Vec<Rule> {
    let last = |count: usize| (at + 1).checked_sub(count).map(|from| &z[from..=at]);
    let side = if z[at] < 0.0 { -1.0 } else { 1.0 };
    let beyond = |window: &[f64], limit: f64| window.iter().filter(|z| side * **z > limit).count();
    let outside = |limit: f64| side * z[at] > limit;
    let mut rules = Vec::new();
    if outside(3.0) {
        rules.push(Rule::BeyondLimits);
    }
    if outside(2.0) && last(3).is_some_and(|window| beyond(window, 2.0) >= 2) {
        rules.push(Rule::TwoOfThree);
    }
    if outside(1.0) && last(5).is_some_and(|window| beyond(window, 1.0) >= 4) {
        rules.push(Rule::FourOfFive);
    }
    if last(8).is_some_and(|window| beyond(window, 0.0) == 8) {
        rules.push(Rule::EightOnOneSide);
    }
    let trend = (at + 1).checked_sub(6).map(|from| &values[from..=at]);
    if trend.is_some_and(|window| {
        window.windows(2).all(|pair| pair[1] > pair[0]) || window.windows(2).all(|pair| pair[1] < pair[0])
    }) {
        rules.push(Rule::SixInTrend);
    }
    rules
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Which rules the last of these results completes, told in deviations.
    fn last(z: &[f64]) -> Vec<Rule> {
        rules_at(z, z, z.len() - 1)
    }

    #[test]
    fn each_rule_speaks_at_its_edge() {
        assert_eq!(last(&[0.1, -3.01]), [Rule::BeyondLimits]);
        assert!(last(&[0.1, 2.99]).is_empty());
        assert_eq!(last(&[2.1, 0.0, 2.1]), [Rule::TwoOfThree]);
        assert!(last(&[-2.1, 0.0, 2.1]).is_empty(), "on two sides");
        assert_eq!(last(&[1.1, 1.2, 0.0, 1.3, 1.1]), [Rule::FourOfFive]);
        assert_eq!(last(&[0.1, 0.2, 0.1, 0.2, 0.1, 0.2, 0.1, 0.2]), [Rule::EightOnOneSide]);
        assert!(last(&[0.1, 0.2, 0.1, -0.2, 0.1, 0.2, 0.1, 0.2]).is_empty());
        assert_eq!(last(&[-0.3, -0.2, -0.1, 0.1, 0.2, 0.3]), [Rule::SixInTrend]);
        assert!(last(&[-0.3, -0.2, -0.1, 0.1, 0.1, 0.3]).is_empty(), "a rest in the rise");
    }

    #[test]
    fn a_jump_is_seen_in_the_ranges() {
        let values = [10.0, 10.1, 9.9, 10.0, 10.1, 9.95, 10.05, 14.0, 10.0];
        let chart = control_chart(&values).unwrap();
        assert!(chart.signals.contains(&Signal { rule: Rule::RangeBeyondLimit, at: 7 }), "{chart:?}");
        assert!(control_chart(&[1.0, 1.0]).is_err());
    }
}
