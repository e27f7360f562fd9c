//! A good plan in no time: reels filled one by one by exact subset sums.
//!
//! Remnants go first, short before long, then full reels; each takes the fill
//! whose leftover costs least. A second way places pieces one by one, widest
//! first, where they fit tightest. Restarts shake both. No proof here.

use crate::case::{Case, Load, Packing};
use crate::chance::Chance;
use crate::fill::{Sums, gcd, step_of};

/// How one attempt goes about it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Manner {
    /// Begin each reel with the widest piece still wanted.
    widest_first: WidestFirst,
    /// Chance in hundred that a kind sits a reel out.
    sit_out: usize,
    /// Chance in hundred that a bin swaps places with its neighbour.
    swap: usize,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum WidestFirst {
    Always,
    Never,
}

/// The best packing of some attempts. `enough` is a cost that need not be beaten.
pub(crate) fn quick_packing(case: &Case, tries: usize, seed: u64, enough: i64, stop: &dyn Fn() -> bool) -> Packing {
    let mut best = one_by_one(case);
    let mut chance = Chance::new(seed);
    let mut sums = Sums::new(step_of(case));
    for attempt in 0..tries {
        if best.cost <= enough || stop() {
            break;
        }
        let widest_first = if attempt % 2 == 0 { WidestFirst::Always } else { WidestFirst::Never };
        let shaken = if attempt < 2 { 0 } else { 5 + attempt % 5 * 8 };
        let manner = Manner { widest_first, sit_out: shaken, swap: shaken };
        let packing = reel_by_reel(case, manner, &mut chance, &mut sums, stop);
        if packing.cost < best.cost || (packing.cost == best.cost && packing.loads.len() < best.loads.len()) {
            best = packing;
        }
    }
    best
}

/// Loads and uncut pieces as a packing. Pieces that must be cut but are not
/// make it worthless: its cost is then beyond any other.
pub(crate) fn packing_of(case: &Case, loads: Vec<Load>, uncut: Vec<usize>) -> Packing {
    let whole = uncut.iter().zip(&case.kinds).all(|(&count, kind)| count == 0 || kind.drop.is_some());
    let cost = if whole { case.cost_of(&loads, &uncut) } else { crate::case::NOT_WHOLE };
    Packing { loads, uncut, cost }
}

/// Every stretch in the order to use: offers last, remnants first, short before long.
fn stretches_in_order(case: &Case) -> Vec<usize> {
    let wanted = case.count();
    let mut order = Vec::new();
    for (bin, stretch) in case.bins.iter().enumerate() {
        order.extend(std::iter::repeat_n(bin, stretch.supply.min(wanted)));
    }
    order
}

/// A packing on every remnant and the full reels that together hold the pieces
/// with the least to spare: the reels are chosen first, then filled. `spare`
/// counts how many better sums to pass over.
pub(crate) fn on_chosen_reels(case: &Case, spare: usize, seed: u64, stop: &dyn Fn() -> bool) -> Option<Packing> {
    let full = |bin: &usize| case.bins[*bin].open >= 0 && case.bins[*bin].price.is_none();
    let used: Vec<usize> = (0..case.bins.len()).filter(full).collect();
    let remnants = (0..case.bins.len()).filter(|bin| case.bins[*bin].open < 0);
    let step = used.iter().fold(0, |step, &bin| gcd(step, case.capacity(bin))).max(1);
    let held: i64 = remnants.map(|bin| case.capacity(bin) * case.bins[bin].supply as i64).sum();
    let least = case.wanted() - held;
    let longest = used.iter().map(|&bin| case.capacity(bin)).max()?;
    let mut sums = Sums::new(step);
    let most = case.count();
    let bins = used.iter().map(|&bin| (bin, case.capacity(bin), case.bins[bin].supply.min(most)));
    if least <= 0 || !sums.reach(least + longest * 2, i64::MAX, bins) {
        return None;
    }
    let mut enough: Vec<i64> = sums.downwards().take_while(|&sum| sum >= least).collect();
    enough.reverse();
    let mut chosen = case.clone();
    used.iter().for_each(|&bin| chosen.bins[bin].supply = 0);
    sums.trace(*enough.get(spare)?).iter().for_each(|&(bin, count)| chosen.bins[bin].supply = count);
    let packing = quick_packing(&chosen, 3, seed, i64::MIN, stop);
    Some(packing_of(case, packing.loads, packing.uncut))
}

fn reel_by_reel(case: &Case, manner: Manner, chance: &mut Chance, sums: &mut Sums, stop: &dyn Fn() -> bool) -> Packing {
    let mut order = stretches_in_order(case);
    for at in 1..order.len() {
        if manner.swap > 0 && chance.in_hundred(manner.swap) {
            order.swap(at - 1, at);
        }
    }
    let mut left: Vec<usize> = case.kinds.iter().map(|kind| kind.demand).collect();
    let mut wanted = case.count();
    let mut loads = Vec::new();
    for bin in order {
        if wanted == 0 || (loads.len() % 16 == 15 && stop()) {
            break;
        }
        if let Some(load) = fill_one(case, bin, &left, manner, chance, sums) {
            for &(kind, count) in &load.pieces {
                left[kind] -= count;
                wanted -= count;
            }
            loads.push(load);
        }
    }
    if wanted > 0 {
        left = place_rest(case, &mut loads, left);
    }
    packing_of(case, loads, left)
}

/// The cheapest fill of one bin, the fullest among equals; `None` when nothing fits.
fn fill_one(
    case: &Case,
    bin: usize,
    left: &[usize],
    manner: Manner,
    chance: &mut Chance,
    sums: &mut Sums,
) -> Option<Load> {
    let may = |kind: usize| left[kind] > 0 && case.fits(kind, bin);
    let first = match manner.widest_first {
        WidestFirst::Always => Some((0..left.len()).find(|&kind| may(kind))?),
        WidestFirst::Never => None,
    };
    let taken = first.map_or(0, |kind| case.kinds[kind].width);
    let room = case.capacity(bin) - taken;
    let some = (0..left.len()).filter(|&kind| may(kind)).filter_map(|kind| {
        if manner.sit_out > 0 && chance.in_hundred(manner.sit_out) {
            return None;
        }
        let count = left[kind] - usize::from(first == Some(kind));
        (count > 0).then_some((kind, case.kinds[kind].width, count))
    });
    if !sums.reach(room, case.bins[bin].length - taken, some) {
        return greedy_fill(case, bin, left);
    }
    let mut best: Option<(i64, i64)> = None;
    for sum in sums.downwards() {
        let fill = sum + taken;
        if fill == 0 {
            break;
        }
        let cost = case.cost_of_fill(bin, fill);
        if best.is_none_or(|(least, _)| cost < least) {
            best = Some((cost, sum));
        }
        if case.bins[bin].length - fill > case.tail.smallest {
            break;
        }
    }
    let (_, sum) = best?;
    let mut pieces = sums.trace(sum);
    if let Some(kind) = first {
        match pieces.iter_mut().find(|(other, _)| *other == kind) {
            Some((_, count)) => *count += 1,
            None => pieces.push((kind, 1)),
        }
        pieces.sort_unstable();
    }
    Some(Load { bin, pieces })
}

/// Widest first while it fits: for reels too long for a table.
fn greedy_fill(case: &Case, bin: usize, left: &[usize]) -> Option<Load> {
    let mut room = case.capacity(bin);
    let mut pieces = Vec::new();
    for kind in (0..left.len()).filter(|&kind| left[kind] > 0 && case.fits(kind, bin)) {
        let count = left[kind].min((room / case.kinds[kind].width) as usize);
        if count > 0 {
            room -= case.kinds[kind].width * count as i64;
            pieces.push((kind, count));
        }
    }
    (!pieces.is_empty()).then_some(Load { bin, pieces })
}

/// Every piece widest first into the tightest open reel, else the next that takes it.
pub(crate) fn one_by_one(case: &Case) -> Packing {
    let mut loads = Vec::new();
    let left = place_rest(case, &mut loads, case.kinds.iter().map(|kind| kind.demand).collect());
    packing_of(case, loads, left)
}

/// Places pieces tightest into loads and unused stretches; returns those without room.
pub(crate) fn place_rest(case: &Case, loads: &mut Vec<Load>, mut left: Vec<usize>) -> Vec<usize> {
    let mut supply: Vec<usize> = case.bins.iter().map(|bin| bin.supply).collect();
    let mut rooms: Vec<i64> = Vec::new();
    for load in loads.iter() {
        supply[load.bin] -= 1;
        rooms.push(case.capacity(load.bin) - case.fill_of(load));
    }
    let mut order: Vec<usize> = (0..left.len()).filter(|&kind| left[kind] > 0).collect();
    order.sort_by_key(|&kind| (std::cmp::Reverse(case.kinds[kind].drop), kind));
    for kind in order {
        while left[kind] > 0 {
            let width = case.kinds[kind].width;
            let tightest = (0..loads.len())
                .filter(|&at| rooms[at] >= width && case.fits(kind, loads[at].bin))
                .min_by_key(|&at| rooms[at]);
            let at = match tightest {
                Some(at) => at,
                None => {
                    let Some(bin) = (0..supply.len()).find(|&bin| supply[bin] > 0 && case.fits(kind, bin)) else {
                        break;
                    };
                    supply[bin] -= 1;
                    loads.push(Load { bin, pieces: Vec::new() });
                    rooms.push(case.capacity(bin));
                    loads.len() - 1
                }
            };
            let count = left[kind].min((rooms[at] / width) as usize).max(1);
            rooms[at] -= width * count as i64;
            left[kind] -= count;
            let pieces = &mut loads[at].pieces;
            match pieces.iter_mut().find(|(other, _)| *other == kind) {
                Some((_, so_far)) => *so_far += count,
                None => pieces.push((kind, count)),
            }
            pieces.sort_unstable();
        }
    }
    left
}
