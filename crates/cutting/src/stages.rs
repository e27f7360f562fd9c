//! The goals of one rope taken in order, each proven before the next.
//!
//! Where every piece can be cut, money (if rope is offered) and then loss are
//! made least. Where rope runs short, first the uncut pieces by rank, then all
//! goals together in weighed costs.

use crate::case::{Case, Ledger, Packing, Ranks, case_of};
use crate::goals::ranks_of;
use crate::model::Job;
use crate::proof::Certificate;
use crate::solve::{Solved, solve};
use crate::weigh::{Weighed, for_money, for_uncut, price_share, together};
use crate::{Settings, batches};

/// What is found and proven about one rope.
pub(crate) struct Found {
    pub case: Case,
    pub ledger: Ledger,
    pub packing: Packing,
    /// Bounds on the uncut pieces, rank by rank.
    pub uncut: Vec<i64>,
    /// Bound on the money.
    pub money: i64,
    /// Bound on the loss without the remnants on the rack at the start.
    pub loss: i64,
    pub certificate: Certificate,
}

/// Stands for a bound that is not known.
pub(crate) const NO_BOUND: i64 = i64::MIN / 4;

/// The best plan of one rope.
pub(crate) fn find(job: &Job, rope: &str, settings: &Settings<'_>) -> Found {
    find_all_cut(job, rope, settings).unwrap_or_else(|| find_some_cut(job, rope, settings))
}

/// The plan with every piece cut, or `None` when the search finds none.
fn find_all_cut(job: &Job, rope: &str, settings: &Settings<'_>) -> Option<Found> {
    let (case, ledger) = case_of(job, rope, Ranks::Together);
    if case.bins.is_empty() {
        return None;
    }
    let offered = case.bins.iter().any(|bin| bin.price.is_some());
    let least = offered.then(|| settle(&for_money(&case), None, settings));
    if least.as_ref().is_some_and(|least| !least.packing.whole()) {
        return None;
    }
    let weighed = together(&case, &[]);
    let start = least.as_ref().map(|least| &least.packing);
    let uncut = vec![0; ranks_of(job, rope).len()];
    let spent = |packing: &Packing| packing.loads.iter().filter_map(|load| case.bins[load.bin].price).sum::<i64>();
    let money_bound = least.as_ref().map_or(0, |least| least.bound);
    let Some(Weighed { case: weighed, money, most_loss, .. }) = weighed else {
        // Weights too large: the cheapest plan stands, its loss unproven.
        let least = least?;
        let money = least.bound;
        let certificate = least.certificate;
        return Some(Found { case, ledger, packing: least.packing, uncut, money, loss: NO_BOUND, certificate });
    };
    let solved = settle(&weighed, start, settings);
    if !solved.packing.whole() {
        return None;
    }
    let shares = spent(&solved.packing) / price_share(&case);
    // Money and loss from one weighed bound: only whole money counts.
    let by_weight = (-(most_loss - solved.bound).div_euclid(money)).clamp(0, shares) * price_share(&case);
    let money_bound = by_weight.max(money_bound);
    let loss = if money_bound == spent(&solved.packing) { solved.bound - shares * money } else { NO_BOUND };
    let Solved { packing, certificate, .. } = solved;
    Some(Found { case, ledger, packing, uncut, money: money_bound, loss, certificate })
}

/// The plan that serves as many as it can, the most urgent first.
fn find_some_cut(job: &Job, rope: &str, settings: &Settings<'_>) -> Found {
    let (case, ledger) = case_of(job, rope, Ranks::Apart);
    let all_ranks = ranks_of(job, rope);
    let place = |rank: u32| all_ranks.iter().position(|&other| other == rank).unwrap_or(0);
    let ranks: Vec<Vec<usize>> = ledger
        .bundles
        .iter()
        .map(|bundles| bundles[0].pieces.iter().map(|&piece| place(job.pieces[piece].rank)).collect())
        .collect();
    let (served, drops) = for_uncut(&case, &ranks);
    let first = settle(&served, None, settings);
    let mut uncut = uncut_bounds(&first, &drops, &by_rank(&first.packing, &ranks, drops.len()));
    let Some(weighed) = together(&case, &ranks).filter(|_| !case.bins.is_empty()) else {
        let (packing, certificate) = (first.packing, first.certificate);
        return Found { case, ledger, packing, uncut, money: 0, loss: NO_BOUND, certificate };
    };
    let solved = settle(&weighed.case, Some(&first.packing), settings);
    let reached = by_rank(&solved.packing, &ranks, drops.len());
    let spent = solved.packing.loads.iter().filter_map(|load| case.bins[load.bin].price).sum::<i64>();
    let shares = spent / price_share(&case);
    let left: i64 = reached.iter().zip(&weighed.drops).map(|(&count, &weight)| count * weight).sum();
    let closed = solved.bound >= solved.packing.cost;
    if closed {
        uncut = reached.clone();
    }
    let proven = uncut == reached;
    let beyond = solved.bound - left;
    let by_weight = -(weighed.most_loss - beyond).div_euclid(weighed.money);
    let money = if proven && spent > 0 { by_weight.clamp(0, shares) * price_share(&case) } else { 0 };
    let loss = if proven && money == spent { beyond - shares * weighed.money } else { NO_BOUND };
    let (packing, certificate) = (solved.packing, solved.certificate);
    Found { case, ledger, packing, uncut, money, loss, certificate }
}

fn settle(case: &Case, start: Option<&Packing>, settings: &Settings<'_>) -> Solved {
    batches::settle(case, start, settings, &|case, start, beat| solve(case, start, beat, settings))
}

/// Uncut pieces by place of rank.
fn by_rank(packing: &Packing, ranks: &[Vec<usize>], places: usize) -> Vec<i64> {
    let mut counts = vec![0; places];
    for (&uncut, of) in packing.uncut.iter().zip(ranks) {
        of.iter().for_each(|&place| counts[place] += uncut as i64);
    }
    counts
}

/// Bounds by rank from the weighed bound: all, when plan and bound meet; else
/// what the first rank cannot do without.
fn uncut_bounds(solved: &Solved, drops: &[i64], reached: &[i64]) -> Vec<i64> {
    let apart = drops.windows(2).all(|two| two[0] > two[1]);
    let mut bounds = vec![0; drops.len()];
    if solved.bound >= solved.packing.cost && (apart || reached.iter().all(|&count| count == 0)) {
        bounds.copy_from_slice(reached);
    } else if let (Some(first), Some(&weight)) = (bounds.first_mut(), drops.first())
        && apart
    {
        *first = (-(weight - 1 - solved.bound).div_euclid(weight)).clamp(0, reached[0]);
    }
    bounds
}
