//! Which total costs can occur: bounds are rounded up to the next of them.
//!
//! Every cost is a multiple of what lengths, openings and remnant value share.
//! Where every leftover is scrap, the rope opened is a sum of reel lengths,
//! and less than the next such sum cannot occur either (with equal reels: a
//! whole number of reels).

use crate::case::Case;
use crate::fill::{Sums, gcd};

/// The costs that can occur.
#[derive(Debug, Clone)]
pub(crate) struct Ladder {
    step: i64,
    wanted: i64,
    /// Sums of opened rope, ascending; empty when they say nothing.
    sums: Vec<i64>,
    /// Most that one reel adds to its own length by a cut on its end.
    over: i64,
    shortest: i64,
}

impl Ladder {
    /// For costs of plans of a case that need not cost more than `most`.
    pub fn of(case: &Case, most: i64) -> Self {
        let mut step = case.kinds.iter().fold(case.tail.value, |step, kind| gcd(step, kind.width));
        for bin in &case.bins {
            step = gcd(gcd(step, bin.length), bin.open);
        }
        for kind in &case.kinds {
            step = gcd(step, kind.drop.unwrap_or(0));
        }
        if case.all_scrap() {
            // Nothing is kept, so the value of a remnant enters only through the openings.
            step = case.kinds.iter().fold(0, |step, kind| gcd(gcd(step, kind.width), kind.drop.unwrap_or(0)));
            step = case.bins.iter().fold(step, |step, bin| gcd(gcd(step, bin.length), bin.open));
        }
        let wanted = case.wanted();
        let shortest = case.bins.iter().map(|bin| bin.length + bin.open).min().unwrap_or(1);
        let plain = case.all_scrap() && shortest > 0 && case.kinds.iter().all(|kind| kind.drop.is_none());
        let sums = if plain { opened(case, most.saturating_add(wanted)) } else { Vec::new() };
        Ladder { step: step.max(1), wanted, sums, over: case.loss, shortest }
    }

    /// The least cost that can occur and is not below `bound`.
    pub fn up(&self, bound: i64) -> i64 {
        let bound = -(-bound).div_euclid(self.step) * self.step;
        let opened = bound.saturating_add(self.wanted);
        let at = self.sums.partition_point(|&sum| sum + sum / self.shortest * self.over < opened);
        match self.sums.get(at) {
            Some(&sum) => bound.max(sum - self.wanted),
            None => bound,
        }
    }
}

impl Ladder {
    /// The most that a plan can cost and still cost no more than `cost`.
    pub fn down(&self, cost: i64) -> i64 {
        let cost = cost.div_euclid(self.step) * self.step;
        let opened = cost.saturating_add(self.wanted);
        let at = self.sums.partition_point(|&sum| sum <= opened);
        match at.checked_sub(1).and_then(|at| self.sums.get(at)) {
            Some(&sum) => cost.min(sum + sum / self.shortest * self.over - self.wanted),
            None => cost,
        }
    }
}

/// Ascending sums of opened lengths up to `most`, none when there are too many.
fn opened(case: &Case, most: i64) -> Vec<i64> {
    let step = case.bins.iter().fold(0, |step, bin| gcd(step, bin.length + bin.open)).max(1);
    let mut sums = Sums::new(step);
    let bins = case.bins.iter().enumerate().map(|(at, bin)| (at, bin.length + bin.open, bin.supply.min(case.count())));
    if !sums.reach(most, i64::MAX, bins) {
        return Vec::new();
    }
    let mut found: Vec<i64> = sums.downwards().collect();
    found.reverse();
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::case::{Bin, Kind, Tail};

    /// No more reels are ever opened than there are pieces, so the number counts.
    fn case(lengths: &[(i64, usize)], (pieces, width): (usize, i64), smallest: i64) -> Case {
        let bin = |&(length, supply)| Bin { length, supply, batch: 0, open: 0, remnant: false, price: None };
        Case {
            kinds: vec![Kind { width, demand: pieces, batch: None, set: None, drop: None }],
            bins: lengths.iter().map(bin).collect(),
            batches: 1,
            sets: 0,
            loss: 0,
            tail: Tail { smallest, value: smallest },
        }
    }

    #[test]
    fn equal_reels_round_up_to_whole_reels() {
        let ladder = Ladder::of(&case(&[(100, 9)], (10, 13), 1_000), 1_000);
        assert_eq!((ladder.up(0), ladder.up(70), ladder.up(71)), (70, 70, 170));
        assert_eq!((ladder.down(70), ladder.down(169), ladder.down(170)), (70, 70, 170));
    }

    #[test]
    fn mixed_reels_round_up_to_their_sums() {
        let ladder = Ladder::of(&case(&[(100, 1), (70, 2)], (10, 5), 1_000), 1_000);
        assert_eq!((ladder.up(0), ladder.up(21), ladder.up(51), ladder.up(91)), (20, 50, 90, 120));
    }

    #[test]
    fn kept_leftovers_leave_only_the_common_step() {
        let ladder = Ladder::of(&case(&[(100, 9)], (1, 130), 50), 1_000);
        assert_eq!((ladder.up(-7), ladder.up(71)), (0, 80));
    }
}
