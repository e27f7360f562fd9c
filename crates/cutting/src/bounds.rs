//! Bounds that need no linear programme.
//!
//! End to end: even if the reels opened were spliced into one rope, they would
//! leave so much, and every remnant not used up stays on the rack. Valid for
//! any case in which every piece is cut; batches and single fits are ignored.

use crate::case::Case;
use crate::fill::gcd;

/// Most cells of the table over the length opened.
const MOST_CELLS: i64 = 3_000_000;
const NEVER: i64 = i64::MAX / 4;

/// No packing that cuts every piece costs less than this. `None`: there is
/// not rope enough to cut them all.
pub(crate) fn end_to_end(case: &Case) -> Option<i64> {
    if case.kinds.is_empty() {
        return Some(0);
    }
    let wanted = case.wanted();
    let most_bins = case.bins.iter().map(|bin| bin.supply.min(case.count())).sum::<usize>().min(case.count()) as i64;
    let need = (wanted - case.loss * most_bins).max(1);
    let longest = case.bins.iter().map(|bin| bin.length).max()?;
    let remnants: i64 = case.bins.iter().filter(|bin| bin.open < 0).map(|bin| bin.length * bin.supply as i64).sum();
    let keeps = !case.all_scrap();
    let slack = if keeps { case.tail.value.max(longest) } else { longest } + remnants;
    let step = case.bins.iter().fold(0, |step, bin| gcd(step, bin.length)).max(1);
    let unit = if (wanted + slack) / step < MOST_CELLS { step } else { (wanted + slack) / MOST_CELLS + 1 };
    let rounded = if unit == step { 0 } else { most_bins };
    let top = ((wanted + slack) / unit + 1) as usize;
    let least = least_open(case, unit, top);
    let scraps = |cells: usize| ((cells as i64 - rounded) * unit - wanted).max(0);
    (0..=top)
        .filter(|&cells| cells as i64 * unit >= need && least[cells] < NEVER)
        .map(|cells| least[cells] + if keeps { scraps(cells).min(case.tail.value) } else { scraps(cells) })
        .min()
}

/// Least cost of opening bins of so many cells in all; the last cell stands for that many or more.
fn least_open(case: &Case, unit: i64, top: usize) -> Vec<i64> {
    let mut least = vec![NEVER; top + 1];
    least[0] = 0;
    let mut reached = 0;
    for bin in &case.bins {
        let each = (bin.length + unit - 1) / unit;
        let mut left = bin.supply.min(case.count());
        let mut take = 1;
        while left > 0 {
            let count = take.min(left);
            let (cells, cost) = ((each * count as i64).min(top as i64) as usize, bin.open * count as i64);
            for from in (0..=reached).rev() {
                if least[from] < NEVER {
                    let to = (from + cells).min(top);
                    least[to] = least[to].min(least[from] + cost);
                }
            }
            reached = (reached + cells).min(top);
            left -= count;
            take *= 2;
        }
    }
    least
}
