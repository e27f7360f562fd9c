//! Mean and scatter of results of which some only say "at least this much".
//!
//! A rope that broke elsewhere, or a piece that passed its proof load, shows
//! that its splice would have held at least that load: a right-censored
//! result. Mean and standard deviation of a normal distribution, and shape
//! and scale of a Weibull, are those of greatest likelihood, in which a break
//! counts by its density and a censored result by the chance of exceeding it.
//! The normal's likelihood is concave in `mean/s` and `1/s`, the Weibull's
//! equation for its shape rises steadily: both have one answer.

use super::StatisticsError;
use super::noncentral::upper_half;
use statrs::function::gamma::gamma;

/// Results: what broke, and what held at least.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Results {
    /// Where the thing tested broke.
    pub breaks: Vec<f64>,
    /// What it is known to have held without breaking.
    pub held: Vec<f64>,
}

/// A normal distribution fitted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NormalFit {
    /// Mean.
    pub mean: f64,
    /// Standard deviation, with the divisor `n - 1` where nothing is censored.
    pub deviation: f64,
}

/// A Weibull distribution fitted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeibullFit {
    /// Scale: what 63.2 % break below.
    pub scale: f64,
    /// Shape: the higher, the less scatter.
    pub shape: f64,
}

impl WeibullFit {
    /// Mean.
    #[must_use]
    pub fn mean(self) -> f64 {
        self.scale * gamma(1.0 + 1.0 / self.shape)
    }

    /// Standard deviation.
    #[must_use]
    pub fn deviation(self) -> f64 {
        let (one, two) = (gamma(1.0 + 1.0 / self.shape), gamma(1.0 + 2.0 / self.shape));
        self.scale * (two - one * one).max(0.0).sqrt()
    }

    /// The value that a share `coverage` of all exceed.
    #[must_use]
    pub fn exceeded_by(self, coverage: f64) -> f64 {
        self.scale * (-coverage.ln()).powf(1.0 / self.shape)
    }

    /// A lower limit that nine in ten exceed, with confidence 95 %, from `n`
    /// breaks. By MIL-HDBK-17's approximation, which lies on the safe side
    /// under ten breaks: at five its confidence is 97 %.
    ///
    /// # Source
    /// MIL-HDBK-17-1F, 8.3.4.3.
    #[must_use]
    pub fn b_basis(self, n: usize) -> f64 {
        let n = n as f64;
        let factor = 3.803 + (1.79 - 0.516 * n.ln() + 5.1 / (n - 1.0)).exp();
        self.exceeded_by(0.90) * (-factor / (self.shape * n.sqrt())).exp()
    }

    /// Chance of `x` or less.
    #[must_use]
    pub fn cdf(self, x: f64) -> f64 {
        -(-(x / self.scale).powf(self.shape)).exp_m1()
    }
}

/// Mean of plain results.
#[must_use]
pub fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

/// Standard deviation of plain results, divisor `n - 1`.
#[must_use]
pub fn deviation(values: &[f64]) -> f64 {
    let mean = mean(values);
    let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
    (squares / (values.len() as f64 - 1.0)).sqrt()
}

/// Two breaks or more that differ, all results above zero.
fn usable(results: &Results) -> Result<(), StatisticsError> {
    if results.breaks.len() < 2 {
        return Err(StatisticsError::TooFew { given: results.breaks.len(), least: 2, what: "a scatter" });
    }
    if let Some(given) = results.breaks.iter().chain(&results.held).find(|value| !value.is_finite() || **value <= 0.0) {
        return Err(StatisticsError::NotAboveZero { given: *given });
    }
    let first = results.breaks[0];
    if results.breaks.iter().all(|value| (value - first).abs() <= 1e-12 * first) {
        return Err(StatisticsError::NoScatter);
    }
    Ok(())
}

/// The normal distribution of greatest likelihood. Its standard deviation is
/// widened by `sqrt(r/(r-1))`, `r` breaks, so that without censored results it
/// is the usual one.
///
/// # Errors
/// Under two breaks, breaks that are all alike, or a result not above zero.
///
/// # Example
/// ```
/// use proving::{Results, normal_fit};
/// let plain = Results { breaks: vec![9.0, 10.0, 11.0], held: vec![] };
/// assert!((normal_fit(&plain)?.deviation - 1.0).abs() < 1e-12);
/// // A splice that held 12 without breaking raises the mean.
/// let more = Results { held: vec![12.0], ..plain };
/// assert!(normal_fit(&more)?.mean > 10.5);
/// # Ok::<(), proving::StatisticsError>(())
/// ```
pub fn normal_fit(results: &Results) -> Result<NormalFit, StatisticsError> {
    usable(results)?;
    let (start, spread) = (mean(&results.breaks), deviation(&results.breaks));
    if results.held.is_empty() {
        return Ok(NormalFit { mean: start, deviation: spread });
    }
    let count = results.breaks.len() as f64;
    // In units of the breaks' own scatter about their mean.
    let at = |value: &f64| (value - start) / spread;
    let sums = Sums {
        count,
        sum: results.breaks.iter().map(at).sum(),
        squares: results.breaks.iter().map(|value| at(value).powi(2)).sum(),
        held: results.held.iter().map(at).collect(),
    };
    let (mut g, mut h) = (0.0, (count / (count - 1.0)).sqrt());
    let mut best = sums.likelihood(g, h);
    for _ in 0..100 {
        let (step_g, step_h) = sums.newton(g, h);
        let mut share = 1.0;
        // Shorter steps until the likelihood does not fall.
        let next = loop {
            let trial = (g + share * step_g, h + share * step_h);
            let likelihood = if trial.1 > 0.0 { sums.likelihood(trial.0, trial.1) } else { f64::NEG_INFINITY };
            if likelihood >= best || share < 1e-12 {
                break (trial, likelihood);
            }
            share /= 2.0;
        };
        let moved = (next.0.0 - g).abs().max((next.0.1 - h).abs());
        if share < 1e-12 {
            break;
        }
        ((g, h), best) = next;
        if moved < 1e-13 * (1.0 + g.abs() + h) {
            break;
        }
    }
    Ok(NormalFit { mean: start + spread * g / h, deviation: spread / h * (count / (count - 1.0)).sqrt() })
}

/// What the likelihood needs, with `g = mean/s` and `h = 1/s`.
struct Sums {
    count: f64,
    sum: f64,
    squares: f64,
    held: Vec<f64>,
}

impl Sums {
    fn likelihood(&self, g: f64, h: f64) -> f64 {
        let breaks = self.count * h.ln() - (h * h * self.squares - 2.0 * g * h * self.sum + self.count * g * g) / 2.0;
        breaks + self.held.iter().map(|held| log_upper(h * held - g)).sum::<f64>()
    }

    /// Newton's step from the first and second derivatives.
    fn newton(&self, g: f64, h: f64) -> (f64, f64) {
        let (mut dg, mut dh) = (h * self.sum - self.count * g, self.count / h - h * self.squares + g * self.sum);
        let (mut gg, mut gh, mut hh) = (-self.count, self.sum, -self.count / (h * h) - self.squares);
        for held in &self.held {
            let z = h * held - g;
            let hazard = hazard(z);
            let curve = -hazard * (hazard - z);
            dg += hazard;
            dh -= hazard * held;
            gg += curve;
            gh -= curve * held;
            hh += curve * held * held;
        }
        let determinant = gg * hh - gh * gh;
        (-(hh * dg - gh * dh) / determinant, -(gg * dh - gh * dg) / determinant)
    }
}

/// Normal density over the chance of more: for large `z` by its continued
/// fraction, where both go to nothing.
fn hazard(z: f64) -> f64 {
    const ROOT_TWO_PI: f64 = 2.506_628_274_631_000_7;
    if z > 25.0 {
        return z + 1.0 / (z + 2.0 / (z + 3.0 / z));
    }
    (-z * z / 2.0).exp() / ROOT_TWO_PI / upper_half(z)
}

fn log_upper(z: f64) -> f64 {
    const LOG_ROOT_TWO_PI: f64 = 0.918_938_533_204_672_8;
    if z > 25.0 { -z * z / 2.0 - LOG_ROOT_TWO_PI - hazard(z).ln() } else { upper_half(z).ln() }
}

/// The Weibull distribution of greatest likelihood.
///
/// # Errors
/// As for [`normal_fit`].
///
/// # Source
/// NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.2 and 8.4.1.3, whose
/// worked example this is:
///
/// ```
/// use proving::{Results, weibull_fit};
/// let fit = weibull_fit(&Results {
///     breaks: [54, 187, 216, 240, 244, 335, 361, 373, 375, 386].map(f64::from).to_vec(),
///     held: vec![500.0; 10],
/// })?;
/// assert_eq!(format!("{:.2} {:.4}", fit.scale, fit.shape), "606.53 1.7208");
/// # Ok::<(), proving::StatisticsError>(())
/// ```
pub fn weibull_fit(results: &Results) -> Result<WeibullFit, StatisticsError> {
    usable(results)?;
    let count = results.breaks.len() as f64;
    // Logarithms about the largest, so that no power overflows.
    let largest = results.breaks.iter().chain(&results.held).fold(0.0, |most: f64, value| most.max(*value));
    let logs: Vec<f64> = results.breaks.iter().chain(&results.held).map(|value| (value / largest).ln()).collect();
    let mean_log = logs[..results.breaks.len()].iter().sum::<f64>() / count;
    let sums = |shape: f64| {
        logs.iter().fold((0.0, 0.0, 0.0), |(zero, one, two), log| {
            let power = (shape * log).exp();
            (zero + power, one + power * log, two + power * log * log)
        })
    };
    let off = |shape: f64| {
        let (zero, one, two) = sums(shape);
        let value = one / zero - 1.0 / shape - mean_log;
        (value, two / zero - (one / zero).powi(2) + 1.0 / (shape * shape))
    };
    let (mut low, mut high) = (1e-6, 1.0);
    while off(high).0 < 0.0 && high < 1e9 {
        low = high;
        high *= 2.0;
    }
    let mut shape = (low + high) / 2.0;
    for _ in 0..200 {
        let (value, slope) = off(shape);
        if value > 0.0 {
            high = shape
        } else {
            low = shape
        }
        let newton = shape - value / slope;
        let next = if newton > low && newton < high { newton } else { (low + high) / 2.0 };
        if (next - shape).abs() <= 1e-13 * shape {
            break;
        }
        shape = next;
    }
    let scale = largest * (sums(shape).0 / count).powf(1.0 / shape);
    Ok(WeibullFit { scale, shape })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A second road: the likelihood itself, searched over a grid that closes in.
    fn brute(results: &Results) -> (f64, f64) {
        let value = |mean: f64, s: f64| {
            results.breaks.iter().map(|x| -s.ln() - ((x - mean) / s).powi(2) / 2.0).sum::<f64>()
                + results.held.iter().map(|x| log_upper((x - mean) / s)).sum::<f64>()
        };
        let (mut mean, mut s) = (super::mean(&results.breaks), deviation(&results.breaks));
        let mut step = s;
        while step > 1e-9 {
            let trials = [(step, 0.0), (-step, 0.0), (0.0, step), (0.0, -step)];
            let better = trials
                .iter()
                .map(|(a, b)| (mean + a, s + b))
                .filter(|(_, s)| *s > 0.0)
                .find(|(m, d)| value(*m, *d) > value(mean, s));
            match better {
                Some(next) => (mean, s) = next,
                None => step /= 2.0,
            }
        }
        (mean, s)
    }

    #[test]
    fn the_censored_fit_is_the_top_of_the_likelihood() {
        let cases = [
            (vec![9.0, 10.0, 11.5, 12.0, 9.5], vec![10.5, 11.0, 4.0]),
            (vec![50.0, 52.0, 51.0], vec![60.0, 61.0, 62.0, 63.0]),
            (vec![0.91, 0.95, 0.88, 0.97], vec![0.5; 40]),
        ];
        for (breaks, held) in cases {
            let results = Results { breaks, held };
            let fit = normal_fit(&results).unwrap();
            let (mean, s) = brute(&results);
            let r = results.breaks.len() as f64;
            assert!((fit.mean - mean).abs() < 1e-5 * mean, "{fit:?} {mean}");
            assert!((fit.deviation / (r / (r - 1.0)).sqrt() - s).abs() < 1e-5 * mean, "{fit:?} {s}");
        }
    }

    #[test]
    fn a_proof_load_far_below_says_nothing_new() {
        let breaks = vec![9.0, 10.0, 11.0, 10.5];
        let plain = normal_fit(&Results { breaks: breaks.clone(), held: vec![] }).unwrap();
        let proved = normal_fit(&Results { breaks, held: vec![2.0; 30] }).unwrap();
        assert!((plain.mean - proved.mean).abs() < 1e-9 && (plain.deviation - proved.deviation).abs() < 1e-9);
    }

    #[test]
    fn what_cannot_be_fitted_is_refused() {
        let results = |breaks: &[f64], held: &[f64]| Results { breaks: breaks.to_vec(), held: held.to_vec() };
        assert!(matches!(normal_fit(&results(&[5.0], &[])), Err(StatisticsError::TooFew { .. })));
        assert!(matches!(weibull_fit(&results(&[5.0, 5.0, 5.0], &[])), Err(StatisticsError::NoScatter)));
        assert!(matches!(normal_fit(&results(&[5.0, -1.0], &[])), Err(StatisticsError::NotAboveZero { .. })));
        assert!(matches!(weibull_fit(&results(&[5.0, 6.0], &[0.0])), Err(StatisticsError::NotAboveZero { .. })));
    }
}
