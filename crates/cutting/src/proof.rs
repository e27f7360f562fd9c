//! What proves the bound on a rope's loss.

use std::fmt;

use crate::case::Case;
use crate::columns::{Proof, Rest};

/// What proves that no plan loses less than the bound.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Certificate {
    /// There is nothing to cut.
    Nothing,
    /// Even spliced end to end, the reels opened would leave as much.
    EndToEnd,
    /// Prices on pieces and rents on reels that no way of cutting a reel beats.
    Prices(Prices),
    /// All patterns that a better plan could use were searched; the prices say
    /// which those are.
    Search {
        /// Prices that leave every other pattern out of reach.
        prices: Prices,
        /// How many patterns were within reach.
        patterns: usize,
        /// Steps of the search.
        steps: u64,
    },
    /// Reel by reel, every fill that a better plan could use was searched.
    ReelByReel {
        /// Steps of the search.
        steps: u64,
    },
}

/// Whole-number prices: what a piece is worth and what a reel's use is worth.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Prices {
    /// What one millimetre is in the scaled numbers.
    pub scale: i64,
    /// Scaled worth by kind of piece, widest first.
    pub pieces: Vec<i64>,
    /// Scaled rent by kind of reel.
    pub reels: Vec<i64>,
}

impl Certificate {
    pub(crate) fn prices(proof: &Proof) -> Self {
        Certificate::Prices(Prices::of(proof))
    }

    pub(crate) fn searched(proof: &Proof, patterns: usize, steps: u64) -> Self {
        Certificate::Search { prices: Prices::of(proof), patterns, steps }
    }
}

impl Prices {
    fn of(proof: &Proof) -> Self {
        Prices { scale: proof.worth.scale, pieces: proof.worth.prices.clone(), reels: proof.rents.clone() }
    }
}

impl Proof {
    /// How much excess a plan of this cost can hold, in scaled numbers.
    pub fn budget(&self, case: &Case, cost: i64) -> i64 {
        let rest = Rest::of(case);
        let count = rest.count();
        let mut worth: i128 = rest
            .demand
            .iter()
            .zip(&self.worth.prices)
            .map(|(&demand, &price)| demand as i128 * i128::from(price))
            .sum();
        for (bin, &rent) in self.rents.iter().enumerate() {
            worth -= i128::from(rent) * rest.supply[bin].min(count) as i128;
        }
        let reach = i128::from(cost + case.wanted()) * i128::from(self.worth.scale) - worth;
        reach.clamp(-1, i128::from(i64::MAX / 4)) as i64
    }
}

impl fmt::Display for Certificate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Certificate::Nothing => f.write_str("nothing to cut"),
            Certificate::EndToEnd => f.write_str("the reels spliced end to end"),
            Certificate::Prices(_) => f.write_str("prices that no way of cutting a reel beats"),
            Certificate::ReelByReel { steps } => write!(f, "reel by reel, {steps} steps"),
            Certificate::Search { patterns, steps, .. } => {
                write!(f, "{patterns} patterns within reach searched in {steps} steps")
            }
        }
    }
}
