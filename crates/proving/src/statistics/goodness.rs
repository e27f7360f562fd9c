//! Does a distribution fit, and does one result stand apart?
//!
//! Anderson and Darling's statistic with parameters estimated from the same
//! results, its chance by the published approximations for the normal
//! (Stephens) and the Weibull (MIL-HDBK-17); Grubbs' test, which is the
//! maximum normed residual, for one result that stands apart. Both are for
//! results of which none is censored.

use super::StatisticsError;
use super::censored::{WeibullFit, deviation, mean};
use super::noncentral::upper_half;
use statrs::distribution::{ContinuousCDF, StudentsT};

/// A fit tested.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Goodness {
    /// Anderson and Darling's statistic, as it is.
    pub statistic: f64,
    /// The chance of as bad a fit or worse if the distribution is right.
    pub chance: f64,
}

/// Below this chance a distribution is taken not to fit, and a result to
/// stand apart.
pub const SIGNIFICANT: f64 = 0.05;

impl Goodness {
    /// May the distribution be used?
    #[must_use]
    pub fn fits(self) -> bool {
        self.chance >= SIGNIFICANT
    }
}

/// Anderson and Darling's statistic of sorted chances.
fn statistic(chances: &[f64]) -> f64 {
    let n = chances.len() as f64;
    let sum: f64 = (0..chances.len())
        .map(|at| {
            let (low, high) = (chances[at], chances[chances.len() - 1 - at]);
            (2.0 * at as f64 + 1.0) * (low.max(1e-300).ln() + (-high).ln_1p().max(-690.0))
        })
        .sum();
    -n - sum / n
}

fn sorted(values: &[f64]) -> Vec<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted
}

fn enough(values: &[f64], what: &'static str) -> Result<(), StatisticsError> {
    if values.len() < 3 {
        return Err(StatisticsError::TooFew { given: values.len(), least: 3, what });
    }
    if deviation(values) <= 1e-12 * mean(values).abs() {
        return Err(StatisticsError::NoScatter);
    }
    Ok(())
}

/// Do the results come from a normal distribution?
///
/// # Errors
/// Under three results, or results all alike.
///
/// # Source
/// Statistic: NIST/SEMATECH e-Handbook, 1.3.5.14. Chance: the approximation of
/// Stephens 1986 for mean and deviation estimated.
pub fn normal_goodness(values: &[f64]) -> Result<Goodness, StatisticsError> {
    enough(values, "a test of fit")?;
    let (mean, deviation, n) = (mean(values), deviation(values), values.len() as f64);
    let chances: Vec<f64> = sorted(values).iter().map(|value| upper_half((mean - value) / deviation)).collect();
    let statistic = statistic(&chances);
    let a = statistic * (1.0 + 0.75 / n + 2.25 / (n * n));
    let chance = match a {
        a if a < 0.20 => 1.0 - (-13.436 + 101.14 * a - 223.73 * a * a).exp(),
        a if a < 0.34 => 1.0 - (-8.318 + 42.796 * a - 59.938 * a * a).exp(),
        a if a < 0.60 => (0.9177 - 4.279 * a - 1.38 * a * a).exp(),
        a if a < 13.0 => (1.2937 - 5.709 * a + 0.0186 * a * a).exp(),
        _ => 0.0,
    };
    Ok(Goodness { statistic, chance: chance.clamp(0.0, 1.0) })
}

/// Do the results come from the Weibull distribution fitted to them?
///
/// # Errors
/// Under three results, or results all alike.
///
/// # Source
/// MIL-HDBK-17-1F, 8.3.4: the observed significance level.
pub fn weibull_goodness(values: &[f64], fit: WeibullFit) -> Result<Goodness, StatisticsError> {
    enough(values, "a test of fit")?;
    let chances: Vec<f64> = sorted(values).iter().map(|value| fit.cdf(*value)).collect();
    let statistic = statistic(&chances);
    let a = (1.0 + 0.2 / (values.len() as f64).sqrt()) * statistic;
    let chance = 1.0 / (1.0 + (-0.10 + 1.24 * a.max(1e-9).ln() + 4.48 * a).exp());
    Ok(Goodness { statistic, chance })
}

/// One result tested for standing apart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outlier {
    /// Which result, in the order given.
    pub index: usize,
    /// How far it is from the mean, in standard deviations.
    pub statistic: f64,
    /// What that may be.
    pub critical: f64,
}

impl Outlier {
    /// Does it stand apart?
    #[must_use]
    pub fn stands_apart(self) -> bool {
        self.statistic > self.critical
    }
}

/// The result farthest from the mean, and how far it may be: Grubbs' test,
/// two-sided, at 5 %.
///
/// # Errors
/// Under three results, or results all alike.
///
/// # Source
/// NIST/SEMATECH e-Handbook, 1.3.5.17.1.
///
/// # Example
/// ```
/// use proving::farthest;
/// let found = farthest(&[199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57])?;
/// assert_eq!((found.index, format!("{:.2}", found.statistic)), (7, "2.47".to_owned()));
/// assert!(found.stands_apart());
/// # Ok::<(), proving::StatisticsError>(())
/// ```
pub fn farthest(values: &[f64]) -> Result<Outlier, StatisticsError> {
    enough(values, "a test for outliers")?;
    let (mean, deviation) = (mean(values), deviation(values));
    let far = |index: &usize| (values[*index] - mean).abs() / deviation;
    let index = (0..values.len()).max_by(|a, b| far(a).total_cmp(&far(b))).unwrap_or(0);
    Ok(Outlier { index, statistic: far(&index), critical: grubbs_critical(values.len(), SIGNIFICANT)? })
}

/// The largest normed residual that `n` normal results have with a chance of
/// `1 - significance`.
///
/// # Errors
/// Under three results.
pub fn grubbs_critical(n: usize, significance: f64) -> Result<f64, StatisticsError> {
    if n < 3 {
        return Err(StatisticsError::TooFew { given: n, least: 3, what: "a test for outliers" });
    }
    let count = n as f64;
    let student = StudentsT::new(0.0, 1.0, count - 2.0).map_err(|_| StatisticsError::NoScatter)?;
    let t = student.inverse_cdf(1.0 - significance / (2.0 * count));
    Ok((count - 1.0) / count.sqrt() * (t * t / (count - 2.0 + t * t)).sqrt())
}
