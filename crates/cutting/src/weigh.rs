//! Goals weighed into one whole number: uncut pieces, then money, then loss.
//!
//! Each weight is larger than everything that the later goals can add up to,
//! so that the least cost is the least in order. Weights that would grow too
//! large for exact sums are refused; the caller then takes one goal at a time.

use crate::case::{Case, Tail};
use crate::fill::gcd;

/// Costs beyond this are refused.
const MOST: i128 = 1 << 52;

/// A case with weighed costs and what the weights are.
#[derive(Debug, Clone)]
pub(crate) struct Weighed {
    /// The case.
    pub case: Case,
    /// Weight of one unit of money.
    pub money: i64,
    /// Weight of an uncut piece, by rank.
    pub drops: Vec<i64>,
    /// No plan loses more than this.
    pub most_loss: i64,
}

/// Only the uncut pieces count. `ranks` holds, by kind, the rank of each piece
/// of a bundle as its place among all ranks; `drops` its weights by place.
pub(crate) fn for_uncut(case: &Case, ranks: &[Vec<usize>]) -> (Case, Vec<i64>) {
    let mut case = case.clone();
    case.tail = Tail { smallest: 0, value: 0 };
    for bin in &mut case.bins {
        bin.open = 0;
    }
    // Later ranks that no longer fit share the least weight.
    let counts = counts_by_rank(&case, ranks);
    let mut drops = vec![1; counts.len()];
    let mut weight = 1_i128;
    for (place, &count) in counts.iter().enumerate().rev() {
        drops[place] = weight as i64;
        let next = weight * (count as i128 + 1);
        if next < 1 << 40 {
            weight = next;
        }
    }
    put_drops(&mut case, ranks, &drops);
    (case, drops)
}

/// Only money counts, and every piece must be cut.
pub(crate) fn for_money(case: &Case) -> Case {
    let mut case = case.clone();
    case.tail = Tail { smallest: 0, value: 0 };
    for bin in &mut case.bins {
        bin.open = bin.price.unwrap_or(0);
    }
    case
}

/// All goals in one; every piece must be cut where no ranks are given. `None`
/// when the weights would be too large.
pub(crate) fn together(case: &Case, ranks: &[Vec<usize>]) -> Option<Weighed> {
    let mut case = case.clone();
    let most = case.count().max(1) as i128;
    let (mut above, mut below, mut spent) = (0_i128, 0_i128, 0_i128);
    let mut share = 0;
    for bin in &case.bins {
        let count = (bin.supply as i128).min(most);
        let worst = bin.length.min(case.tail.smallest).max(case.tail.value) + bin.open;
        above += count * i128::from(worst.max(0));
        below += count * i128::from(bin.open.min(0));
        spent += count * i128::from(bin.price.unwrap_or(0));
        share = gcd(share, bin.price.unwrap_or(0));
    }
    let share = share.max(1);
    let money = if spent > 0 { above - below + 1 } else { share.into() };
    for bin in &mut case.bins {
        bin.open += i64::try_from(i128::from(bin.price.unwrap_or(0) / share) * money).ok()?;
    }
    let mut weight = spent / i128::from(share) * money + above - below + 1;
    let mut drops = vec![0; ranks.iter().flatten().map(|&place| place + 1).max().unwrap_or(0)];
    for (place, &count) in counts_by_rank(&case, ranks).iter().enumerate().rev() {
        drops[place] = i64::try_from(weight).ok()?;
        weight = weight.checked_mul(count as i128 + 1).filter(|&weight| weight < MOST)?;
    }
    if weight >= MOST {
        return None;
    }
    if !ranks.is_empty() {
        put_drops(&mut case, ranks, &drops);
    }
    // One unit of money weighs `money / share`, which need not be whole: the
    // weight is that of the share.
    Some(Weighed { case, money: i64::try_from(money).ok()?, drops, most_loss: i64::try_from(above).ok()? })
}

/// What prices share: money counts in these units.
pub(crate) fn price_share(case: &Case) -> i64 {
    case.bins.iter().fold(0, |share, bin| gcd(share, bin.price.unwrap_or(0))).max(1)
}

fn counts_by_rank(case: &Case, ranks: &[Vec<usize>]) -> Vec<usize> {
    let mut counts = vec![0; ranks.iter().flatten().map(|&place| place + 1).max().unwrap_or(0)];
    for (kind, places) in case.kinds.iter().zip(ranks) {
        places.iter().for_each(|&place| counts[place] += kind.demand);
    }
    counts
}

fn put_drops(case: &mut Case, ranks: &[Vec<usize>], drops: &[i64]) {
    for (kind, places) in case.kinds.iter_mut().zip(ranks) {
        kind.drop = Some(places.iter().map(|&place| drops[place]).sum());
    }
}
