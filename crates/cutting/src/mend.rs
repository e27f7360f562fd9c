//! A plan mended a few reels at a time.
//!
//! A reel with scrap, and one or two others, give up their pieces and are
//! filled again by exact subset sums; the change stays when it costs no more.
//! A kept leftover takes what does not fit, which is why most scrap can be
//! swapped away. No proof here.

use crate::case::{Case, Load, Packing};
use crate::chance::Chance;
use crate::fill::{Sums, step_of};

/// Mends a whole packing until it costs `enough` or the rounds are spent.
pub(crate) fn mend(
    case: &Case,
    mut packing: Packing,
    rounds: usize,
    enough: i64,
    chance: &mut Chance,
    stop: &dyn Fn() -> bool,
) -> Packing {
    let mut sums = Sums::new(step_of(case));
    let scrap = |load: &Load| {
        let left = case.bins[load.bin].length - case.fill_of(load);
        left > 0 && left < case.tail.smallest
    };
    for round in 0..rounds {
        if packing.cost <= enough || packing.loads.len() < 2 || (round % 16 == 0 && stop()) {
            break;
        }
        let spoiled: Vec<usize> = (0..packing.loads.len()).filter(|&at| scrap(&packing.loads[at])).collect();
        if spoiled.is_empty() {
            break;
        }
        let mut chosen = vec![spoiled[chance.below(spoiled.len())]];
        let kept: Vec<usize> = (0..packing.loads.len())
            .filter(|&at| !scrap(&packing.loads[at]) && leaves(case, &packing.loads[at]))
            .collect();
        if !kept.is_empty() && chance.in_hundred(70) {
            chosen.push(kept[chance.below(kept.len())]);
        }
        for _ in 0..1 + chance.below(2) {
            chosen.push(chance.below(packing.loads.len()));
        }
        chosen.sort_unstable();
        chosen.dedup();
        let old: i64 = chosen.iter().map(|&at| cost(case, &packing.loads[at])).sum();
        let given: Vec<Load> = chosen.iter().map(|&at| packing.loads[at].clone()).collect();
        let Some(filled) = refill(case, &given, chance, &mut sums) else { continue };
        let new: i64 = filled.iter().map(|load| cost(case, load)).sum();
        if new <= old {
            for (&at, load) in chosen.iter().zip(filled) {
                packing.loads[at] = load;
            }
            packing.loads.retain(|load| !load.pieces.is_empty());
            packing.cost += new - old;
        }
    }
    packing
}

fn leaves(case: &Case, load: &Load) -> bool {
    case.bins[load.bin].length > case.fill_of(load)
}

fn cost(case: &Case, load: &Load) -> i64 {
    if load.pieces.is_empty() { 0 } else { case.cost_of_fill(load.bin, case.fill_of(load)) }
}

/// The same pieces in the same bins, filled afresh; loads in the order given.
fn refill(case: &Case, given: &[Load], chance: &mut Chance, sums: &mut Sums) -> Option<Vec<Load>> {
    let mut pool: Vec<(usize, usize)> = given.iter().flat_map(|load| load.pieces.iter().copied()).collect();
    pool.sort_unstable();
    pool.dedup_by(|later, first| {
        let same = later.0 == first.0;
        first.1 += if same { later.1 } else { 0 };
        same
    });
    // The roomiest is filled last: it takes the rest.
    let mut order: Vec<usize> = (0..given.len()).collect();
    order.sort_by_key(|&at| case.bins[given[at].bin].length - case.fill_of(&given[at]));
    let last = order.pop()?;
    if order.len() > 1 && chance.in_hundred(50) {
        order.reverse();
    }
    let mut filled: Vec<Load> = given.iter().map(|load| Load { bin: load.bin, pieces: Vec::new() }).collect();
    for at in order {
        let bin = given[at].bin;
        let some =
            pool.iter().filter(|&&(kind, count)| count > 0 && case.fits(kind, bin)).filter_map(|&(kind, count)| {
                let count = if chance.in_hundred(15) { count / 2 } else { count };
                (count > 0).then_some((kind, case.kinds[kind].width, count))
            });
        if !sums.reach(case.capacity(bin), case.bins[bin].length, some) {
            return None;
        }
        let best =
            sums.downwards().take_while(|&sum| sum > 0).take(200).min_by_key(|&sum| case.cost_of_fill(bin, sum))?;
        filled[at].pieces = sums.trace(best);
        for &(kind, count) in &filled[at].pieces {
            let left = pool.iter_mut().find(|(other, _)| *other == kind)?;
            left.1 -= count;
        }
    }
    pool.retain(|&(_, count)| count > 0);
    let rest = Load { bin: given[last].bin, pieces: pool };
    let fits = rest.pieces.iter().all(|&(kind, _)| case.fits(kind, rest.bin));
    if !fits || case.fill_of(&rest) > case.capacity(rest.bin) {
        return None;
    }
    filled[last] = rest;
    Some(filled)
}
