//! The noncentral t distribution and the tolerance factors that follow from it.
//!
//! A lower limit `mean - k s` that at least a share `p` of all pieces exceed,
//! with confidence `g`, has `k = t'/sqrt(n)`, where `t'` is the `g` quantile
//! of the noncentral t with `n - 1` degrees of freedom and noncentrality
//! `z_p sqrt(n)`. The distribution function is its defining integral,
//! `P(T' <= t) = E[Phi(t S - d)]` with `S = sqrt(chi2/f)`, summed by Gauss and
//! Legendre over the stretch where `S` has any weight; the library of
//! distributions has no noncentral t. Checked against published tables and
//! against an independent library, in `validation`.

use super::StatisticsError;
use statrs::distribution::{ContinuousCDF, Normal};
use statrs::function::{erf::erfc, gamma::ln_gamma};

/// Nodes and weights of the ten-point Gauss-Legendre rule on -1 to 1, the
/// positive half.
const GAUSS: [(f64, f64); 5] = [
    (0.148_874_338_981_631_22, 0.295_524_224_714_752_9),
    (0.433_395_394_129_247_2, 0.269_266_719_309_996_4),
    (0.679_409_568_299_024_4, 0.219_086_362_515_982_04),
    (0.865_063_366_688_984_5, 0.149_451_349_150_580_6),
    (0.973_906_528_517_171_7, 0.066_671_344_308_688_14),
];

/// Stretches that the integral is cut into. With few degrees of freedom `S`
/// spreads wide and `t` is large, so that `Phi` turns from none to all within
/// a small part of the whole.
const fn panels(freedom: f64) -> usize {
    if freedom < 3.0 {
        128
    } else if freedom < 8.0 {
        48
    } else {
        24
    }
}

/// Standard deviations of `S` beyond which it has no weight that a double
/// keeps.
const REACH: f64 = 9.0;

/// The weight of `S = sqrt(chi2/f)` at the nodes of the integral.
#[derive(Debug, Clone)]
pub struct NoncentralT {
    nodes: Vec<(f64, f64)>,
    noncentrality: f64,
}

impl NoncentralT {
    /// The distribution with so many degrees of freedom, one or more.
    #[must_use]
    pub fn new(freedom: f64, noncentrality: f64) -> NoncentralT {
        let spread = 1.0 / (2.0 * freedom).sqrt();
        let (low, high) = ((1.0 - REACH * spread).max(0.0), 1.0 + REACH * spread);
        let panels = panels(freedom);
        let width = (high - low) / panels as f64;
        let log_scale = 2f64.ln() + freedom / 2.0 * (freedom / 2.0).ln() - ln_gamma(freedom / 2.0);
        let density = |s: f64| (log_scale + (freedom - 1.0) * s.ln() - freedom * s * s / 2.0).exp();
        let nodes = (0..panels)
            .flat_map(|panel| {
                let middle = low + (panel as f64 + 0.5) * width;
                GAUSS.iter().flat_map(move |(at, weight)| {
                    [-at, *at].map(|at| (middle + at * width / 2.0, weight * width / 2.0))
                })
            })
            .map(|(s, weight)| (s, weight * density(s)))
            .collect();
        NoncentralT { nodes, noncentrality }
    }

    /// Chance of `t` or less.
    ///
    /// # Example
    /// ```
    /// use proving::NoncentralT;
    /// // Without noncentrality it is Student's: half of it lies below zero.
    /// assert!((NoncentralT::new(9.0, 0.0).cdf(0.0) - 0.5).abs() < 1e-12);
    /// assert!((NoncentralT::new(9.0, 0.0).cdf(1.833113) - 0.95).abs() < 1e-6);
    /// ```
    #[must_use]
    pub fn cdf(&self, t: f64) -> f64 {
        self.nodes.iter().map(|(s, weight)| weight * upper_half(self.noncentrality - t * s)).sum()
    }

    fn density(&self, t: f64) -> f64 {
        const ROOT_TWO_PI: f64 = 2.506_628_274_631_000_7;
        let at = |s: f64| (-(t * s - self.noncentrality).powi(2) / 2.0).exp() * s / ROOT_TWO_PI;
        self.nodes.iter().map(|(s, weight)| weight * at(*s)).sum()
    }

    /// The `t` that is exceeded with the chance `1 - chance`: Newton's steps
    /// kept inside a bracket.
    #[must_use]
    pub fn quantile(&self, chance: f64) -> f64 {
        let (mut low, mut high) = (self.noncentrality.min(0.0) - 1.0, self.noncentrality.abs() + 1.0);
        while self.cdf(high) < chance {
            high *= 2.0;
        }
        while self.cdf(low) > chance {
            low *= 2.0;
        }
        let mut t = (low + high) / 2.0;
        for _ in 0..200 {
            let off = self.cdf(t) - chance;
            if off > 0.0 {
                high = t
            } else {
                low = t
            }
            let step = off / self.density(t);
            let next =
                if step.is_finite() && t - step > low && t - step < high { t - step } else { (low + high) / 2.0 };
            if (next - t).abs() <= 1e-13 * (1.0 + t.abs()) {
                return next;
            }
            t = next;
        }
        t
    }
}

/// `Phi(-x)`.
pub(super) fn upper_half(x: f64) -> f64 {
    0.5 * erfc(x * std::f64::consts::FRAC_1_SQRT_2)
}

/// How much of all pieces a limit covers, and how surely.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Level {
    /// Share of all pieces at or above the limit.
    pub coverage: f64,
    /// Confidence that it is so.
    pub confidence: f64,
}

impl Level {
    /// Nine in ten, with confidence 95 %: what composite and rope testing call
    /// the B basis.
    pub const B_BASIS: Level = Level { coverage: 0.90, confidence: 0.95 };
    /// Ninety-nine in a hundred, with confidence 95 %: the A basis.
    pub const A_BASIS: Level = Level { coverage: 0.99, confidence: 0.95 };

    fn checked(self) -> Result<Level, StatisticsError> {
        for (what, share) in [("coverage", self.coverage), ("confidence", self.confidence)] {
            if !(0.5..=0.9999).contains(&share) {
                return Err(StatisticsError::Level { what, given: share });
            }
        }
        Ok(self)
    }
}

/// The factor `k` of a one-sided limit `mean - k s` from `n` results.
///
/// # Errors
/// Under two results, or a level outside 50 to 99.99 %.
///
/// # Source
/// NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3: the noncentral t.
///
/// # Example
/// ```
/// use proving::{Level, tolerance_factor};
/// assert_eq!(format!("{:.3}", tolerance_factor(5, Level::B_BASIS)?), "3.407");
/// assert_eq!(format!("{:.3}", tolerance_factor(10, Level::B_BASIS)?), "2.355");
/// assert!(tolerance_factor(1, Level::B_BASIS).is_err());
/// # Ok::<(), proving::StatisticsError>(())
/// ```
pub fn tolerance_factor(n: usize, level: Level) -> Result<f64, StatisticsError> {
    let level = level.checked()?;
    if n < 2 {
        return Err(StatisticsError::TooFew { given: n, least: 2, what: "a tolerance limit" });
    }
    let root = (n as f64).sqrt();
    let quantile = standard_normal()?.inverse_cdf(level.coverage);
    Ok(NoncentralT::new(n as f64 - 1.0, quantile * root).quantile(level.confidence) / root)
}

pub(super) fn standard_normal() -> Result<Normal, StatisticsError> {
    Normal::new(0.0, 1.0).map_err(|_| StatisticsError::NoScatter)
}

#[cfg(test)]
mod tests {
    use super::*;
    use statrs::distribution::StudentsT;

    #[test]
    fn without_noncentrality_it_is_students() {
        for freedom in [1.0, 2.0, 4.0, 30.0, 500.0] {
            let student = StudentsT::new(0.0, 1.0, freedom).unwrap();
            for t in [-3.0, -0.4, 0.0, 1.0, 2.5] {
                let off = NoncentralT::new(freedom, 0.0).cdf(t) - student.cdf(t);
                assert!(off.abs() < 1e-9, "{freedom} {t}: {off:e}");
            }
        }
    }

    #[test]
    fn the_weights_add_up_to_one() {
        for freedom in [1.0, 3.0, 9.0, 100.0, 20_000.0] {
            let sum: f64 = NoncentralT::new(freedom, 0.0).nodes.iter().map(|node| node.1).sum();
            assert!((sum - 1.0).abs() < 1e-10, "{freedom}: {sum}");
        }
    }

    #[test]
    fn quantile_turns_the_distribution_round() {
        for (freedom, d, chance) in [(1.0, 1.8, 0.95), (4.0, 2.9, 0.95), (42.0, 8.4, 0.99), (9.0, 4.0, 0.05)] {
            let t = NoncentralT::new(freedom, d);
            assert!((t.cdf(t.quantile(chance)) - chance).abs() < 1e-12, "{freedom} {d}");
        }
    }
}
