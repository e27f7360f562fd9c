//! The exact search where remnants decide: tight fills stretch by stretch.
//!
//! For one choice of modes (see [`crate::modes`]) the tight stretches are
//! filled in turn, short ones first, with every set of pieces that keeps the
//! scrap within the budget; what is left goes on the kept ones. The scrap that
//! the pieces left must leave on the stretches still to fill prunes, and so
//! does a rest met before with no more scrap. It says so when it gives up.

use std::collections::HashMap;

use crate::bits::{add_kind, has, highest, reach};
use crate::case::{Case, Load, Packing};
use crate::columns::Rest;
use crate::fill::step_of;
use crate::finish::Outcome;
use crate::modes::{Choice, least_scrap};
use crate::quick::{packing_of, quick_packing};

/// Most rests remembered.
const MOST_MET: usize = 400_000;

/// One search for a plan of given modes within a goal.
pub(crate) struct Remnants<'a> {
    case: &'a Case,
    step: i64,
    /// Tight bins in the order of filling.
    tight: Vec<usize>,
    kept: &'a [usize],
    /// Cells of room on the kept stretches.
    room: i64,
    /// Cells that the tight stretches from each place on can hold.
    holds: Vec<i64>,
    goal: i64,
    /// Cost of the modes without scrap.
    open: i64,
    /// Most scrap of all tight stretches.
    budget: i64,
    steps: u64,
    stop: &'a dyn Fn() -> bool,
    /// Steps done.
    pub done: u64,
    rest: Rest,
    loads: Vec<Load>,
    met: HashMap<(usize, Vec<u16>), i64>,
    stopped: bool,
    found: Option<Packing>,
}

impl<'a> Remnants<'a> {
    /// A search for plans of these modes that cost no more than the goal.
    pub fn of(case: &'a Case, choice: &'a Choice, goal: i64, steps: u64, stop: &'a dyn Fn() -> bool) -> Self {
        let step = step_of(case);
        let mut tight = choice.tight.clone();
        tight.sort_by_key(|&bin| (case.bins[bin].length, bin));
        let mut holds = vec![0; tight.len() + 1];
        for (at, &bin) in tight.iter().enumerate().rev() {
            holds[at] = holds[at + 1] + case.capacity(bin) / step;
        }
        let spare = |&bin: &usize| (case.bins[bin].length - case.tail.smallest.max(1)) / step;
        let opened: i64 = tight.iter().chain(&choice.kept).map(|&bin| case.bins[bin].open).sum();
        let open = opened + choice.kept.len() as i64 * case.tail.value;
        Remnants {
            case,
            step,
            tight,
            kept: &choice.kept,
            room: choice.kept.iter().map(spare).sum(),
            holds,
            goal,
            open,
            budget: goal - open,
            steps,
            stop,
            done: 0,
            rest: Rest::of(case),
            loads: Vec::new(),
            met: HashMap::new(),
            stopped: false,
            found: None,
        }
    }

    /// Searches.
    pub fn run(&mut self) -> Outcome {
        self.stretch(0, 0);
        match self.found.take() {
            Some(packing) => Outcome::Found(packing),
            None if self.stopped => Outcome::Open,
            None => Outcome::None,
        }
    }

    fn halted(&mut self) -> bool {
        if self.done >= self.steps || (self.done.is_multiple_of(64) && (self.stop)()) {
            self.stopped = true;
        }
        self.stopped || self.found.is_some()
    }

    /// Fills the tight stretch at this place, those before it being filled.
    fn stretch(&mut self, at: usize, scrap: i64) {
        self.done += 1;
        if self.halted() {
            return;
        }
        let wanted = self.rest.wanted(self.case) / self.step;
        if wanted > self.holds[at] + self.room {
            return;
        }
        let Some(&bin) = self.tight.get(at) else { return self.share(scrap) };
        let Some(later) = self.least_later(at) else { return };
        if scrap + later.iter().sum::<i64>() > self.budget || self.met_before(at, scrap) {
            return;
        }
        let others: i64 = later[1..].iter().sum();
        let sums = reach(self.case, &self.rest, self.step, (self.case.capacity(bin) / self.step) as usize);
        let mut fill = highest(&sums, (self.case.capacity(bin) / self.step) as usize);
        while let Some(cells) = fill.filter(|&cells| cells > 0) {
            let left = (self.case.bins[bin].length - cells as i64 * self.step).max(0);
            let kept = left >= self.case.tail.smallest && left > 0;
            if kept || scrap + left + others > self.budget {
                break;
            }
            if wanted - cells as i64 <= self.holds[at + 1] + self.room {
                self.fills(at, scrap + left, cells);
            }
            if self.halted() {
                return;
            }
            fill = highest(&sums, cells - 1);
        }
    }

    /// The least scrap of each stretch from one on; `None` when one cannot be tight.
    fn least_later(&self, at: usize) -> Option<Vec<i64>> {
        let longest = self.tight.last().map_or(0, |&bin| self.case.capacity(bin) / self.step);
        let sums = reach(self.case, &self.rest, self.step, longest as usize);
        self.tight[at..].iter().map(|&bin| least_scrap(self.case, bin, self.step, &sums)).collect()
    }

    /// Whether the same pieces were left here before with no more scrap.
    fn met_before(&mut self, at: usize, scrap: i64) -> bool {
        let key = (at, self.rest.demand.iter().map(|&count| count.min(usize::from(u16::MAX)) as u16).collect());
        if self.rest.demand.iter().any(|&count| count >= usize::from(u16::MAX)) {
            return false;
        }
        if let Some(least) = self.met.get_mut(&key) {
            let again = *least <= scrap;
            *least = scrap.min(*least);
            return again;
        }
        if self.met.len() < MOST_MET {
            self.met.insert(key, scrap);
        }
        false
    }

    /// Every set of pieces that makes this fill.
    fn fills(&mut self, at: usize, scrap: i64, cells: usize) {
        let case = self.case;
        let kinds: Vec<usize> = (0..case.kinds.len()).filter(|&kind| self.rest.demand[kind] > 0).collect();
        // Sums of the kinds from each on.
        let mut tails = vec![vec![0_u64; cells / 64 + 1]; kinds.len() + 1];
        tails[kinds.len()][0] = 1;
        for (place, &kind) in kinds.iter().enumerate().rev() {
            let mut bits = tails[place + 1].clone();
            add_kind(&mut bits, (case.kinds[kind].width / self.step) as usize, self.rest.demand[kind]);
            tails[place] = bits;
        }
        let mut pieces = Vec::new();
        self.fill(&mut Fill { at, scrap, kinds: &kinds, tails: &tails, pieces: &mut pieces }, 0, cells);
    }

    fn fill(&mut self, of: &mut Fill<'_>, place: usize, left: usize) {
        if !has(&of.tails[place], left) || self.halted() {
            return;
        }
        let Some(&kind) = of.kinds.get(place) else {
            let load = Load { bin: self.tight[of.at], pieces: of.pieces.clone() };
            self.rest.take(&load, 1);
            self.loads.push(load.clone());
            self.stretch(of.at + 1, of.scrap);
            self.loads.pop();
            self.rest.supply[load.bin] += 1;
            load.pieces.iter().for_each(|&(kind, count)| self.rest.demand[kind] += count);
            return;
        };
        let each = (self.case.kinds[kind].width / self.step) as usize;
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
    fn share(&mut self, scrap: i64) {
        let case = self.case;
        if self.open + scrap > self.goal || (self.kept.is_empty() && self.rest.count() > 0) {
            return;
        }
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
        } else if self.kept.len() > 1 {
            // One kept stretch takes the rest or does not; of several the quick
            // plan cannot say that they do not.
            self.stopped = true;
        }
    }
}

/// The fills of one stretch being listed.
struct Fill<'a> {
    at: usize,
    scrap: i64,
    kinds: &'a [usize],
    tails: &'a [Vec<u64>],
    pieces: &'a mut Vec<(usize, usize)>,
}
