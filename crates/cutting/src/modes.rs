//! Which stretches are filled tightly, which are kept: bounds for mixed racks.
//!
//! A touched stretch is either tight (its leftover is scrap) or kept (its
//! leftover goes back on the rack, at a fixed cost). Whatever a choice of modes
//! can hold beyond the rope wanted, and the kept ones cannot take as leftover,
//! is scrap. Every tight stretch leaves at least the least scrap that any of
//! the pieces could leave on it. The cheapest choice is a bound on every plan
//! that cuts all pieces; the choices within reach are what a search must refute.

use crate::bits::{highest, reach};
use crate::case::Case;
use crate::columns::Rest;
use crate::fill::step_of;

/// Most cells of the bit set of sums.
const MOST_CELLS: i64 = 20_000_000;
/// Most choices listed, and most nodes to list them.
const MOST_CHOICES: usize = 3_000;
const MOST_NODES: usize = 200_000;
/// Most sums kept for the bound alone.
const MOST_SUMS: usize = 50_000;
pub(crate) const NEVER: i64 = i64::MAX / 4;

/// What the stretches of each bin can be.
pub(crate) struct Modes<'a> {
    case: &'a Case,
    step: i64,
    /// Cells wanted.
    wanted: i64,
    bins: Vec<Bin>,
}

/// One kind of stretch.
struct Bin {
    bin: usize,
    supply: usize,
    /// Cells of room and cost when tight.
    tight: Option<(i64, i64)>,
    /// Cells of room and cost when kept.
    kept: Option<(i64, i64)>,
}

/// A choice of modes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Choice {
    /// No plan with these modes costs less.
    pub bound: i64,
    /// Bins filled tightly, one entry a stretch.
    pub tight: Vec<usize>,
    /// Bins kept, one entry a stretch.
    pub kept: Vec<usize>,
}

impl<'a> Modes<'a> {
    /// The modes of a case, or `None` where they do not apply.
    pub fn of(case: &'a Case) -> Option<Self> {
        let step = step_of(case);
        let longest = case.bins.iter().map(|bin| bin.length).max()? + case.loss;
        let plain = case.kinds.iter().all(|kind| kind.drop.is_none() && kind.batch.is_none());
        if !plain || case.all_scrap() || !case.fuller_costs_more() || longest / step > MOST_CELLS {
            return None;
        }
        let sums = reach(case, &Rest::of(case), step, (longest / step) as usize);
        let mut bins: Vec<Bin> = (0..case.bins.len()).map(|bin| modes_of(case, bin, step, &sums)).collect();
        bins.sort_by_key(|bin| (case.bins[bin.bin].open >= 0, case.bins[bin.bin].length));
        Some(Modes { case, step, wanted: case.wanted() / step, bins })
    }

    /// Cost of rope in tight stretches that is neither wanted nor saved by cuts on ends.
    fn scraps(&self, tight: i64, stretches: i64) -> i64 {
        ((tight - self.wanted).max(0) * self.step - stretches * self.case.loss).max(0)
    }

    /// No plan costs less, up to one more than `ceiling`; `None` when there are
    /// too many sums to say.
    pub fn bound(&self, ceiling: i64) -> Option<i64> {
        let most: i64 = self.bins.iter().map(|bin| bin.supply as i64).sum();
        let mut later: i64 = self.bins.iter().map(|bin| bin.supply as i64 * cheapest(bin)).sum();
        let mut sums: Vec<(i64, i64, i64)> = vec![(0, 0, 0)];
        for bin in self.bins.iter().flat_map(|bin| std::iter::repeat_n(bin, bin.supply)) {
            later -= cheapest(bin);
            let mut more = Vec::new();
            for &(tight, room, cost) in &sums {
                more.extend(bin.tight.map(|(cells, open)| (tight + cells, room, cost + open)));
                more.extend(bin.kept.map(|(cells, open)| (tight, room + cells, cost + open)));
            }
            sums.extend(more);
            sums.retain(|&(tight, _, cost)| cost + self.scraps(tight, most) + later <= ceiling);
            // Of equal sums, more room for no more cost is all that counts.
            sums.sort_unstable_by_key(|&(tight, room, cost)| (tight, cost, -room));
            let mut best = (-1, -1);
            sums.retain(|&(tight, room, _)| {
                let better = tight != best.0 || room > best.1;
                best = if better { (tight, room) } else { best };
                better
            });
            if sums.len() > MOST_SUMS {
                return None;
            }
        }
        let enough = sums.iter().filter(|&&(tight, room, _)| tight + room >= self.wanted);
        let least = enough.map(|&(tight, _, cost)| cost + self.scraps(tight, most)).min();
        Some(least.unwrap_or(NEVER).min(ceiling.saturating_add(1)))
    }

    /// Every choice whose bound is within the ceiling, the cheapest first;
    /// `None` when there are too many.
    pub fn choices(&self, ceiling: i64) -> Option<Vec<Choice>> {
        let mut room_later = vec![0; self.bins.len() + 1];
        let mut cost_later = vec![0; self.bins.len() + 1];
        for (at, bin) in self.bins.iter().enumerate().rev() {
            let most = bin.tight.map_or(0, |(cells, _)| cells).max(bin.kept.map_or(0, |(cells, _)| cells));
            room_later[at] = room_later[at + 1] + bin.supply as i64 * most;
            cost_later[at] = cost_later[at + 1] + bin.supply as i64 * cheapest(bin);
        }
        let mut listing = Listing {
            of: self,
            ceiling,
            room_later,
            cost_later,
            nodes: 0,
            now: Choice { bound: 0, tight: Vec::new(), kept: Vec::new() },
            found: Vec::new(),
        };
        if !listing.go(0, (0, 0, 0)) {
            return None;
        }
        let mut found = listing.found;
        found.sort_by(|one, other| (one.bound, &one.tight).cmp(&(other.bound, &other.tight)));
        Some(found)
    }
}

/// A listing of choices, bin by bin.
struct Listing<'a, 'b> {
    of: &'b Modes<'a>,
    ceiling: i64,
    room_later: Vec<i64>,
    cost_later: Vec<i64>,
    nodes: usize,
    now: Choice,
    found: Vec<Choice>,
}

impl Listing<'_, '_> {
    /// `sums` holds cells tight, cells of room kept, and cost so far.
    fn go(&mut self, at: usize, sums: (i64, i64, i64)) -> bool {
        let (tight, room, cost) = sums;
        let stretches = (self.now.tight.len() + self.now.kept.len()) as i64;
        let most = stretches + self.of.bins[at..].iter().map(|bin| bin.supply as i64).sum::<i64>();
        let bound = cost + self.of.scraps(tight, most) + self.cost_later[at];
        if bound > self.ceiling || tight + room + self.room_later[at] < self.of.wanted {
            return true;
        }
        self.nodes += 1;
        if self.nodes > MOST_NODES {
            return false;
        }
        let Some(bin) = self.of.bins.get(at) else {
            let bound = cost + self.of.scraps(tight, stretches);
            if bound <= self.ceiling {
                self.found.push(Choice { bound, ..self.now.clone() });
            }
            return self.found.len() <= MOST_CHOICES;
        };
        let (fills, leaves) = (self.now.tight.len(), self.now.kept.len());
        for filled in (0..=if bin.tight.is_some() { bin.supply } else { 0 }).rev() {
            // More kept of one bin never costs less: a kept one costs 0 or more.
            for left in 0..=if bin.kept.is_some() { bin.supply - filled } else { 0 } {
                let (cells, open) = bin.tight.unwrap_or((0, 0));
                let (spare, keep) = bin.kept.unwrap_or((0, 0));
                let sums = (
                    tight + cells * filled as i64,
                    room + spare * left as i64,
                    cost + open * filled as i64 + keep * left as i64,
                );
                if sums.2 + self.cost_later[at + 1] > self.ceiling {
                    break;
                }
                self.now.tight.extend(std::iter::repeat_n(bin.bin, filled));
                self.now.kept.extend(std::iter::repeat_n(bin.bin, left));
                let fine = self.go(at + 1, sums);
                self.now.tight.truncate(fills);
                self.now.kept.truncate(leaves);
                if !fine {
                    return false;
                }
            }
        }
        true
    }
}

fn modes_of(case: &Case, bin: usize, step: i64, sums: &[u64]) -> Bin {
    let of = &case.bins[bin];
    let tight = least_scrap(case, bin, step, sums)
        .map(|least| ((case.capacity(bin) - least).div_euclid(step), of.open + least));
    let room = of.length - case.tail.smallest.max(1);
    let narrowest = case.kinds.iter().map(|kind| kind.width).min().unwrap_or(0);
    let kept = (room >= narrowest).then(|| (room / step, of.open + case.tail.value));
    Bin { bin, supply: of.supply.min(case.count()), tight, kept }
}

/// The least scrap of a tight fill that some of the sums leave, if there is one.
pub(crate) fn least_scrap(case: &Case, bin: usize, step: i64, sums: &[u64]) -> Option<i64> {
    let fill = highest(sums, (case.capacity(bin) / step) as usize).filter(|&fill| fill > 0)?;
    let left = (case.bins[bin].length - fill as i64 * step).max(0);
    (left < case.tail.smallest || left == 0).then_some(left)
}

/// The least that a stretch can cost, untouched included.
fn cheapest(bin: &Bin) -> i64 {
    let costs = [bin.tight, bin.kept].into_iter().flatten().map(|(_, cost)| cost);
    costs.min().unwrap_or(0).min(0)
}
