//! One rope solved: quick plan, bounds, and whatever it takes to close the gap.

use crate::case::{Case, Packing};
use crate::proof::Certificate;
use crate::{Settings, bounds, quick};

/// A packing with what is proven about its cost.
#[derive(Debug, Clone)]
pub(crate) struct Solved {
    /// The best packing found.
    pub packing: Packing,
    /// No packing costs less.
    pub bound: i64,
    /// Why.
    pub certificate: Certificate,
}

/// Shaken restarts of the quick plan.
const TRIES: usize = 200;

/// The best packing of a case whose batch sets are settled.
pub(crate) fn solve(case: &Case, settings: &Settings<'_>) -> Solved {
    if case.kinds.is_empty() {
        let packing = Packing { loads: Vec::new(), uncut: Vec::new(), cost: 0 };
        return Solved { packing, bound: 0, certificate: Certificate::Nothing };
    }
    let bound = bounds::end_to_end(case).unwrap_or(i64::MIN / 4);
    let packing = quick::quick_packing(case, TRIES, settings.seed, bound, settings.stop);
    Solved { packing, bound, certificate: Certificate::EndToEnd }
}
