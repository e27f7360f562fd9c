//! The exact search where remnants decide: reel by reel, short ones first.
//!
//! Each stretch is left untouched, filled tightly (its leftover is scrap), or
//! kept (its leftover stays on the rack, so that it matters little what lies
//! on it). Tight fills are listed exactly; kept stretches share what is left
//! at the end. A table per stretch bounds what the later ones must cost for
//! the rope still wanted, each with the least scrap that any of the pieces
//! could leave on it. Meant for few stretches; it says so when it gives up.

use crate::case::{Case, Load, Packing};
use crate::columns::Rest;
use crate::fill::step_of;
use crate::finish::Outcome;
use crate::quick::{packing_of, quick_packing};

/// Most cells of all tables together.
const MOST_CELLS: usize = 12_000_000;
/// Most cells times stretches.
const MOST_WORK: usize = 300_000_000;
/// Most stretches.
const MOST_STRETCHES: usize = 60;
const NEVER: i64 = i64::MAX / 4;
/// Most sums listed; beyond that a table.
const MOST_SUMS: usize = 50_000;
/// Any cost beyond this stands for `NEVER`.
const FAR: i64 = i64::MAX / 8;

/// The tables of a case, good for every goal.
pub(crate) struct Remnants<'a> {
    case: &'a Case,
    step: i64,
    /// One entry a stretch.
    order: Vec<usize>,
    /// By stretch: the least scrap of a tight fill at the start.
    least: Vec<i64>,
    /// Cells of the tables: the rope wanted.
    cells: usize,
    /// By stretch and cells wanted: what this and the later stretches cost at least.
    bounds: Vec<Vec<i64>>,
    /// By stretch: the bound on plans that do not fill it tightly.
    unless: Vec<i64>,
    /// Steps done in all searches.
    pub done: u64,
}

/// Cells and cost of a stretch filled tightly, and of one kept.
type Choices = (Option<(usize, i64)>, Option<(usize, i64)>);

/// The least that a stretch can cost, untouched included.
fn cheapest(choices: &Choices) -> i64 {
    let costs = [choices.0, choices.1].into_iter().flatten().map(|(_, cost)| cost);
    costs.min().unwrap_or(0).min(0)
}

/// Which tables are kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Keep {
    All,
    First,
}

/// One search with its goal.
struct Search<'a, 'b> {
    of: &'b Remnants<'a>,
    goal: i64,
    steps: u64,
    stop: &'b dyn Fn() -> bool,
    done: u64,
    /// Stretches that every plan within the goal fills tightly.
    forced: Vec<bool>,
    rest: Rest,
    loads: Vec<Load>,
    kept: Vec<usize>,
    stopped: bool,
    found: Option<Packing>,
}

impl<'a> Remnants<'a> {
    /// The tables, or `None` where this search does not suit.
    pub fn of(case: &'a Case) -> Option<Self> {
        let stretches: usize = case.bins.iter().map(|bin| bin.supply.min(case.count())).sum();
        let step = step_of(case);
        let cells = (case.wanted() / step) as usize + 1;
        let plain = case.kinds.iter().all(|kind| kind.drop.is_none() && kind.batch.is_none());
        let suits = plain && !case.all_scrap() && case.fuller_costs_more();
        if !suits || cells.saturating_mul(stretches) > MOST_WORK {
            return None;
        }
        let mut order: Vec<usize> = Vec::new();
        for (bin, of) in case.bins.iter().enumerate() {
            order.extend(std::iter::repeat_n(bin, of.supply.min(case.count())));
        }
        order.sort_by_key(|&bin| (case.bins[bin].open >= 0, case.bins[bin].length));
        let mut remnants =
            Remnants { case, step, order, least: Vec::new(), cells, bounds: Vec::new(), unless: Vec::new(), done: 0 };
        let longest = case.bins.iter().map(|bin| bin.length).max().unwrap_or(0) + case.loss;
        let reach = remnants.reach(&Rest::of(case), (longest / step) as usize + 1);
        remnants.least = remnants.order.iter().map(|&bin| remnants.least_scrap(bin, &reach)).collect();
        Some(remnants)
    }

    /// No plan costs less, up to one more than `ceiling`.
    pub fn bound(&self, ceiling: i64) -> i64 {
        self.total(None, ceiling)
    }

    /// Makes ready to search for plans up to `ceiling`; `false` when there are
    /// too many stretches.
    pub fn ready(&mut self, ceiling: i64) -> bool {
        let tables = self.cells.saturating_mul(self.order.len() + 1);
        if self.order.len() > MOST_STRETCHES || tables > MOST_CELLS {
            return false;
        }
        for (at, &bin) in self.order.iter().enumerate() {
            let bound = match at.checked_sub(1) {
                _ if self.case.bins[bin].open >= 0 => NEVER,
                Some(before) if self.order[before] == bin => self.unless[before],
                _ => self.total(Some(at), ceiling),
            };
            self.unless.push(bound);
        }
        self.bounds = self.tables(None, Keep::All);
        true
    }

    /// The bound on plans that do not fill the barred stretch tightly.
    fn total(&self, barred: Option<usize>, ceiling: i64) -> i64 {
        self.sparse(barred, ceiling)
            .unwrap_or_else(|| self.tables(barred, Keep::First)[0].last().copied().unwrap_or(NEVER))
    }

    /// The bound from the sums that tight stretches can make, with the room on
    /// those kept: what is neither is scrap. Sums that already cost more than
    /// the ceiling are dropped; `None` when too many remain.
    fn sparse(&self, barred: Option<usize>, ceiling: i64) -> Option<i64> {
        let wanted = self.cells as i64 - 1;
        let over = self.order.len() as i64 * self.case.loss;
        let scraps = |tight: i64| ((tight - wanted).max(0) * self.step - over).max(0);
        let choices: Vec<_> = (0..self.order.len()).map(|at| self.choices(at, barred)).collect();
        let mut later: i64 = choices.iter().map(cheapest).sum();
        let mut sums: Vec<(i64, i64, i64)> = vec![(0, 0, 0)];
        for choice in &choices {
            later -= cheapest(choice);
            let mut more = Vec::new();
            for &(tight, room, cost) in &sums {
                let (filled, left) = choice;
                more.extend(filled.map(|(cells, open)| (tight + cells as i64, room, cost + open)));
                more.extend(left.map(|(cells, open)| (tight, room + cells as i64, cost + open)));
            }
            sums.extend(more);
            sums.retain(|&(tight, _, cost)| cost + scraps(tight) + later <= ceiling);
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
        let enough = sums.iter().filter(|&&(tight, room, _)| tight + room >= wanted);
        Some(enough.map(|&(tight, _, cost)| cost + scraps(tight)).min().unwrap_or(NEVER).min(ceiling.saturating_add(1)))
    }

    /// What a stretch can be: filled tightly, or kept; cells of room and cost.
    fn choices(&self, at: usize, barred: Option<usize>) -> Choices {
        let bin = self.order[at];
        let (of, least, tail) = (&self.case.bins[bin], self.least[at], self.case.tail);
        let filled = (least < NEVER && barred != Some(at))
            .then(|| (((self.case.capacity(bin) - least) / self.step) as usize, of.open + least));
        let room = of.length - tail.smallest;
        let left = (room > 0).then(|| ((room / self.step) as usize, of.open + tail.value));
        (filled, left)
    }

    /// Searches for a plan within the goal.
    pub fn search(&mut self, goal: i64, steps: u64, stop: &dyn Fn() -> bool) -> Outcome {
        let forced =
            (0..self.order.len()).map(|at| self.case.bins[self.order[at]].open < 0 && self.unless[at] > goal).collect();
        let mut search = Search {
            of: self,
            goal,
            steps,
            stop,
            done: 0,
            forced,
            rest: Rest::of(self.case),
            loads: Vec::new(),
            kept: Vec::new(),
            stopped: false,
            found: None,
        };
        search.stretch(0, 0);
        let (done, stopped, found) = (search.done, search.stopped, search.found);
        self.done += done;
        match found {
            Some(packing) => Outcome::Found(packing),
            None if stopped => Outcome::Open,
            None => Outcome::None,
        }
    }

    /// Bounds by stretch from which on, and cells wanted. One stretch may be
    /// barred from a tight fill.
    fn tables(&self, barred: Option<usize>, keep: Keep) -> Vec<Vec<i64>> {
        // Least cost with nothing kept so far, by exact cells of tight rope, and
        // with something kept, by cells of room: both saturate at the top.
        let longest = self.case.bins.iter().map(|bin| bin.length).max().unwrap_or(0) + self.case.loss;
        let top = self.cells + (longest / self.step) as usize + 2;
        let mut tight = vec![NEVER; top + 1];
        let mut kept = vec![NEVER; top + 1];
        tight[0] = 0;
        let mut all = vec![Vec::new(); self.order.len() + 1];
        all[self.order.len()] = self.read(&tight, &kept);
        for at in (0..self.order.len()).rev() {
            let (before_tight, before_kept) = (tight.clone(), kept.clone());
            let (filled, left) = self.choices(at, barred);
            if let Some(filled) = filled {
                add(&before_tight, &mut tight, filled);
                add(&before_kept, &mut kept, filled);
            }
            if let Some(left) = left {
                add(&before_tight, &mut kept, left);
                add(&before_kept, &mut kept, left);
            }
            if at == 0 || keep == Keep::All {
                all[at] = self.read(&tight, &kept);
            }
        }
        all
    }

    /// Least cost for every amount wanted.
    fn read(&self, tight: &[i64], kept: &[i64]) -> Vec<i64> {
        let cells = self.cells;
        let mut found = vec![NEVER; cells];
        let (mut least_kept, mut least_tight) = (NEVER, NEVER);
        let over = self.order.len() as i64 * self.case.loss;
        for wanted in (0..tight.len()).rev() {
            least_kept = least_kept.min(kept[wanted]);
            if tight[wanted] < FAR {
                least_tight = least_tight.min(tight[wanted] + wanted as i64 * self.step);
            }
            if wanted < cells {
                // Every cut on a reel's end saves at most its loss of the scrap.
                let scraps = least_tight - wanted as i64 * self.step - over;
                let least = if least_tight < FAR { scraps.min(least_kept) } else { least_kept };
                found[wanted] = least;
            }
        }
        if self.case.loss > 0 {
            // The scrap saved never takes a plan below the openings alone.
            let mut open = NEVER;
            for wanted in (0..tight.len()).rev() {
                open = open.min(tight[wanted]).min(kept[wanted]);
                if wanted < cells {
                    found[wanted] = found[wanted].max(open);
                }
            }
        }
        found
    }

    /// Sums that the rest can make, as bits, up to so many cells.
    fn reach(&self, rest: &Rest, cells: usize) -> Vec<u64> {
        let mut bits = vec![0_u64; cells / 64 + 1];
        bits[0] = 1;
        for (kind, &demand) in rest.demand.iter().enumerate() {
            add_kind(&mut bits, (self.case.kinds[kind].width / self.step) as usize, demand);
        }
        bits
    }

    /// The least scrap of a tight fill, `NEVER` when there is none.
    fn least_scrap(&self, bin: usize, reach: &[u64]) -> i64 {
        let capacity = (self.case.capacity(bin) / self.step) as usize;
        let Some(fill) = highest(reach, capacity) else { return NEVER };
        let left = (self.case.bins[bin].length - fill as i64 * self.step).max(0);
        if fill > 0 && (left < self.case.tail.smallest || left == 0) { left } else { NEVER }
    }
}

impl Search<'_, '_> {
    fn halted(&mut self) -> bool {
        if self.done >= self.steps || (self.done.is_multiple_of(64) && (self.stop)()) {
            self.stopped = true;
        }
        self.stopped || self.found.is_some()
    }

    /// Decides the stretch at this place, everything before it being decided.
    fn stretch(&mut self, at: usize, cost: i64) {
        self.done += 1;
        if self.halted() {
            return;
        }
        let of = self.of;
        let case = of.case;
        if at == of.order.len() || self.rest.count() == 0 {
            return self.share(cost);
        }
        let wanted = (self.rest.wanted(case) / of.step) as usize;
        let room: i64 = self.kept.iter().map(|&bin| case.bins[bin].length - case.tail.smallest).sum();
        if cost + self.from(at, wanted, room) > self.goal {
            return;
        }
        let longest = of.order[at..].iter().map(|&bin| case.capacity(bin)).max().unwrap_or(0);
        let reach = of.reach(&self.rest, (longest / of.step) as usize + 1);
        let mut more = 0;
        for later in at..of.order.len() {
            if self.forced[later] {
                let least = of.least_scrap(of.order[later], &reach);
                if least >= NEVER {
                    return;
                }
                more += least - of.least[later];
            }
        }
        if cost + self.from(at, wanted, room) + more > self.goal {
            return;
        }
        let own = if self.forced[at] { of.least_scrap(of.order[at], &reach) - of.least[at] } else { 0 };
        self.tight(at, cost, more - own, &reach);
        if !self.forced[at] {
            if case.bins[of.order[at]].length > case.tail.smallest {
                let bin = of.order[at];
                self.kept.push(bin);
                self.stretch(at + 1, cost + case.bins[bin].open + case.tail.value);
                self.kept.pop();
            }
            self.stretch(at + 1, cost);
        }
    }

    /// Bound on the stretches from one on, for cells wanted, with room on those kept.
    fn from(&self, at: usize, wanted: usize, room: i64) -> i64 {
        let table = &self.of.bounds[at];
        if self.kept.is_empty() {
            return table[wanted];
        }
        // What the kept stretches can take need not be cut from later ones.
        let low = wanted.saturating_sub((room / self.of.step) as usize);
        table[low..=wanted].iter().copied().min().unwrap_or(NEVER).min(table[low])
    }

    /// Every tight fill of a stretch, the fullest first.
    fn tight(&mut self, at: usize, cost: i64, more: i64, reach: &[u64]) {
        let of = self.of;
        let case = of.case;
        let bin = of.order[at];
        let capacity = (case.capacity(bin) / of.step) as usize;
        let room: i64 = self.kept.iter().map(|&bin| case.bins[bin].length - case.tail.smallest).sum();
        let wanted = (self.rest.wanted(case) / of.step) as usize;
        let mut fill = highest(reach, capacity);
        while let Some(cells) = fill.filter(|&cells| cells > 0) {
            let left = (case.bins[bin].length - cells as i64 * of.step).max(0);
            if left >= case.tail.smallest && left > 0 {
                break;
            }
            let now = cost + case.bins[bin].open + left;
            // The scrap of the later stretches never shrinks below zero.
            if now + more + self.floor(at + 1) > self.goal {
                break;
            }
            if now + more + self.from(at + 1, wanted - cells, room) <= self.goal {
                self.fills(at, now, cells);
            }
            if self.halted() {
                return;
            }
            fill = highest(reach, cells - 1);
        }
    }

    /// The least that the stretches from one on can cost whatever is wanted.
    fn floor(&self, at: usize) -> i64 {
        self.of.order[at..].iter().map(|&bin| self.of.case.bins[bin].open.min(0)).sum()
    }

    /// Every set of pieces that makes this fill.
    fn fills(&mut self, at: usize, cost: i64, cells: usize) {
        let of = self.of;
        let bin = of.order[at];
        let kinds: Vec<usize> =
            (0..of.case.kinds.len()).filter(|&kind| self.rest.demand[kind] > 0 && of.case.fits(kind, bin)).collect();
        // Sums of the kinds from each on.
        let mut tails = vec![vec![0_u64; cells / 64 + 1]; kinds.len() + 1];
        tails[kinds.len()][0] = 1;
        for (place, &kind) in kinds.iter().enumerate().rev() {
            let mut bits = tails[place + 1].clone();
            add_kind(&mut bits, (of.case.kinds[kind].width / of.step) as usize, self.rest.demand[kind]);
            tails[place] = bits;
        }
        let mut pieces = Vec::new();
        self.fill(&mut Fill { at, cost, kinds: &kinds, tails: &tails, pieces: &mut pieces }, 0, cells);
    }

    fn fill(&mut self, of: &mut Fill<'_>, place: usize, left: usize) {
        if of.tails[place][left / 64] >> (left % 64) & 1 == 0 || self.halted() {
            return;
        }
        let Some(&kind) = of.kinds.get(place) else {
            let load = Load { bin: self.of.order[of.at], pieces: of.pieces.clone() };
            self.rest.take(&load, 1);
            self.loads.push(load.clone());
            self.stretch(of.at + 1, of.cost);
            self.loads.pop();
            self.rest.supply[load.bin] += 1;
            load.pieces.iter().for_each(|&(kind, count)| self.rest.demand[kind] += count);
            return;
        };
        let each = (self.of.case.kinds[kind].width / self.of.step) as usize;
        for count in (0..=self.rest.demand[kind].min(left / each)).rev() {
            if count > 0 {
                of.pieces.push((kind, count));
            }
            self.fill(of, place + 1, left - count * each);
            if count > 0 {
                of.pieces.pop();
            }
        }
    }

    /// What is left goes on the kept stretches.
    fn share(&mut self, cost: i64) {
        if cost > self.goal {
            return;
        }
        let case = self.of.case;
        let mut left = case.clone();
        for (kind, &demand) in left.kinds.iter_mut().zip(&self.rest.demand) {
            kind.demand = demand;
        }
        for (bin, of) in left.bins.iter_mut().enumerate() {
            of.supply = self.kept.iter().filter(|&&kept| kept == bin).count();
        }
        let quick = quick_packing(&left, 4, 1, i64::MIN, self.stop);
        let mut loads = self.loads.clone();
        loads.extend(quick.loads);
        let packing = packing_of(case, loads, quick.uncut);
        if packing.cost <= self.goal {
            self.found = Some(packing);
            return;
        }
        // One kept stretch that cannot take the rest is an answer; several are not.
        let wanted = self.rest.wanted(case);
        let room: i64 = self.kept.iter().map(|&bin| case.bins[bin].length - case.tail.smallest).sum();
        if wanted > 0 && wanted <= room && self.kept.len() > 1 {
            self.stopped = true;
        }
    }
}

/// The fills of one stretch being listed.
struct Fill<'a> {
    at: usize,
    cost: i64,
    kinds: &'a [usize],
    tails: &'a [Vec<u64>],
    pieces: &'a mut Vec<(usize, usize)>,
}

/// One more stretch of so many cells at this cost, used or not; sums beyond the
/// top count as the top.
fn add(from: &[i64], to: &mut [i64], choice: (usize, i64)) {
    let (cells, cost) = choice;
    let top = from.len() - 1;
    let cells = cells.min(top);
    for (&least, sum) in from.iter().zip(&mut to[cells..]) {
        *sum = (*sum).min(least + cost);
    }
    if let Some(&least) = from[top - cells..].iter().min() {
        to[top] = to[top].min(least + cost);
    }
}

/// Adds up to so many pieces of a width to the sums.
fn add_kind(bits: &mut [u64], cells: usize, count: usize) {
    let mut left = count;
    let mut take = 1;
    while left > 0 {
        let now = take.min(left);
        shift_or(bits, cells * now);
        left -= now;
        take *= 2;
    }
}

fn shift_or(bits: &mut [u64], shift: usize) {
    let (words, rest) = (shift / 64, shift % 64);
    for word in (words..bits.len()).rev() {
        let mut moved = bits[word - words] << rest;
        if rest > 0 && word > words {
            moved |= bits[word - words - 1] >> (64 - rest);
        }
        bits[word] |= moved;
    }
}

/// The highest bit set at or below a place.
fn highest(bits: &[u64], place: usize) -> Option<usize> {
    let place = place.min(bits.len() * 64 - 1);
    let mut word = place / 64;
    let mut here = bits[word] & (u64::MAX >> (63 - place % 64));
    loop {
        if here != 0 {
            return Some(word * 64 + 63 - here.leading_zeros() as usize);
        }
        word = word.checked_sub(1)?;
        here = bits[word];
    }
}
