//! Statistics of test results: fit, limits, charts. Plain numbers; what they
//! are of, and what follows, stands in [`strength_of`](crate::strength_of).

mod censored;
mod chart;
mod goodness;
mod noncentral;

pub use censored::{NormalFit, Results, WeibullFit, deviation, mean, normal_fit, weibull_fit};
pub use chart::{Chart, Rule, Signal, control_chart};
pub use goodness::{Goodness, Outlier, SIGNIFICANT, farthest, grubbs_critical, normal_goodness, weibull_goodness};
pub use noncentral::{Level, NoncentralT, tolerance_factor};

use thiserror::Error;

/// Why results carry no statistics.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum StatisticsError {
    /// Too few.
    #[error("{given} results: {what} needs {least} or more")]
    TooFew {
        /// How many there are.
        given: usize,
        /// How many it takes.
        least: usize,
        /// For what.
        what: &'static str,
    },
    /// All alike: a scatter of nothing is a mistake of the record.
    #[error("the results are all alike: they have no scatter")]
    NoScatter,
    /// A result that no test gives.
    #[error("a result of {given}: it must be above zero")]
    NotAboveZero {
        /// The result.
        given: f64,
    },
    /// A level that no limit is asked at.
    #[error("a {what} of {given}: it must lie between 0.5 and 0.9999")]
    Level {
        /// Coverage or confidence.
        what: &'static str,
        /// As given.
        given: f64,
    },
}
