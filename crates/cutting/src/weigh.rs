//! Goals weighed into one whole number: uncut pieces, then money, then loss.
//!
//! Each weight is larger than everything that the later goals can add up to,
//! so that the least cost is the least in order.

use crate::case::Case;

/// A case with weighed costs.
#[derive(Debug, Clone)]
pub(crate) struct Weighed {
    /// The case.
    pub case: Case,
    /// Weight of one unit of money.
    pub money: i64,
    /// No plan loses more than this.
    pub most_loss: i64,
}

/// Puts money into the bins' costs and, where ranks of the kinds are given, a
/// price on leaving a kind uncut.
pub(crate) fn weigh(mut case: Case, ranks: &[u32]) -> Weighed {
    let most = case.count().max(1) as i64;
    let mut above = 0_i64;
    let mut below = 0_i64;
    let mut spent = 0_i64;
    for bin in &case.bins {
        let count = (bin.supply as i64).min(most);
        let worst = bin.length.min(case.tail.smallest).max(case.tail.value) + bin.open;
        above += count * worst.max(0);
        below += count * bin.open.min(0);
        spent += count * bin.price.unwrap_or(0);
    }
    let money = above - below + 1;
    for bin in &mut case.bins {
        bin.open += bin.price.unwrap_or(0) * money;
    }
    let mut weight = (spent + 1).saturating_mul(money);
    let mut order: Vec<u32> = ranks.to_vec();
    order.sort_unstable();
    order.dedup();
    for rank in order.into_iter().rev() {
        let mut wanted = 1;
        for (kind, _) in case.kinds.iter_mut().zip(ranks).filter(|(_, other)| **other == rank) {
            kind.drop = Some(weight);
            wanted += kind.demand as i64;
        }
        weight = weight.saturating_mul(wanted);
    }
    Weighed { case, money, most_loss: above }
}
