//! Whole plans from the pattern programme: fix what is whole, round, solve again.
//!
//! Each dive fixes the whole parts of the shares, rounds one up, and prices the
//! rest afresh, with the quick plan tried on what remains. Later dives shake
//! the choice. A dive ends as soon as its bound shows that nothing better than
//! the plan at hand can come of it.

use crate::case::{Case, Load, Packing};
use crate::chance::Chance;
use crate::columns::{Call, Pool, Relaxed, Rest, relax};
use crate::pricing::Pricer;
use crate::quick::{packing_of, quick_packing};

/// A dive's view of the search.
pub(crate) struct Dive<'a> {
    pub case: &'a Case,
    /// A plan that costs no more than this is worth finding.
    pub goal: i64,
    /// How much chance shifts the choice, in hundredths.
    pub shake: usize,
    pub stop: &'a dyn Fn() -> bool,
}

/// Rounds of pricing at each depth.
const ROUNDS: usize = 80;
/// Pieces left below which the quick plan is tried at every depth.
const FEW: usize = 400;

/// One dive; a packing only when it costs no more than the goal.
pub(crate) fn dive(
    dive: &Dive<'_>,
    start: Option<Relaxed>,
    pool: &mut Pool,
    pricer: &mut Pricer,
    chance: &mut Chance,
) -> Option<Packing> {
    let case = dive.case;
    let mut rest = Rest::of(case);
    let mut loads: Vec<Load> = Vec::new();
    let mut cost = 0;
    let mut relaxed = start;
    while rest.count() > 0 {
        if (dive.stop)() {
            return None;
        }
        let call =
            Call { case, rest: &rest, target: dive.goal - cost + 1, rounds: ROUNDS, tilt: 0, seed: 0, stop: dive.stop };
        let now = relaxed.take().unwrap_or_else(|| relax(&call, pool, pricer));
        if now.bound > dive.goal - cost {
            return None;
        }
        let chosen = choose(&now, pool, &rest, dive.shake, chance);
        if chosen.is_empty() {
            break;
        }
        for (at, times) in chosen {
            let load = &pool.loads[at];
            let times = times.min(rest.times(load));
            rest.take(load, times);
            cost += times as i64 * case.cost_of_fill(load.bin, case.fill_of(load));
            loads.extend(std::iter::repeat_n(load.clone(), times));
        }
        if rest.count() <= FEW
            && let Some(packing) = complete(dive, &loads, &rest, chance)
        {
            return Some(packing);
        }
    }
    complete(dive, &loads, &rest, chance)
}

/// Patterns to fix: all whole parts, or else the largest share rounded up.
fn choose(relaxed: &Relaxed, pool: &Pool, rest: &Rest, shake: usize, chance: &mut Chance) -> Vec<(usize, usize)> {
    let fits = |&&(at, _): &&(usize, f64)| rest.takes(&pool.loads[at]);
    let whole: Vec<(usize, usize)> = relaxed
        .shares
        .iter()
        .filter(fits)
        .map(|&(at, share)| (at, (share + 1e-6).floor() as usize))
        .filter(|&(_, times)| times > 0)
        .collect();
    if !whole.is_empty() {
        return whole;
    }
    let shaken = |share: f64, chance: &mut Chance| share * (1.0 + chance.below(shake + 1) as f64 / 100.0);
    let mut best: Option<(usize, f64)> = None;
    for &(at, share) in relaxed.shares.iter().filter(fits) {
        let weight = shaken(share, chance);
        if best.is_none_or(|(_, most)| weight > most) {
            best = Some((at, weight));
        }
    }
    best.map(|(at, _)| (at, 1)).into_iter().collect()
}

/// The quick plan on the rest, put together with what is fixed.
pub(crate) fn complete(dive: &Dive<'_>, loads: &[Load], rest: &Rest, chance: &mut Chance) -> Option<Packing> {
    let mut left = dive.case.clone();
    for (kind, &demand) in left.kinds.iter_mut().zip(&rest.demand) {
        kind.demand = demand;
    }
    for (bin, &supply) in left.bins.iter_mut().zip(&rest.supply) {
        bin.supply = supply;
    }
    let quick = quick_packing(&left, 2, chance.next(), i64::MIN, dive.stop);
    let mut all = loads.to_vec();
    all.extend(quick.loads);
    let packing = packing_of(dive.case, all, quick.uncut);
    (packing.cost <= dive.goal).then_some(packing)
}
