//! The goals of a rope's plan in order, with bound and proof each.

use crate::answer::{Aim, Becomes, CutReel, Goal, Uncut};
use std::collections::HashMap;

use crate::case::{Case, Ledger};
use crate::model::{Job, Piece};

/// Bounds proven for one rope. The loss is that of the whole rack.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Bounds {
    pub money: i64,
    pub excess: i64,
    pub loss: i64,
    pub reels: i64,
    pub longest: i64,
    pub price: i64,
}

/// One rope's goals.
pub(crate) fn goals_of(
    job: &Job,
    part: &crate::assemble::Assembled,
    rope: &str,
    uncut: &[i64],
    bounds: Bounds,
) -> Vec<Goal> {
    let totals = &part.totals;
    let value_each = job.rules.value_of_a_remnant().count();
    let mut goals: Vec<Goal> = Vec::new();
    for (at, rank) in ranks_of(job, rope).into_iter().enumerate() {
        let value = uncut_of_rank(job, &part.uncut, rank);
        goals.push(Goal { aim: Aim::Uncut(rank), value, bound: uncut.get(at).copied().unwrap_or(0), proven: false });
    }
    goals.push(Goal { aim: Aim::Money, value: totals.money, bound: bounds.money, proven: false });
    if let Some(most) = job.rules.most_remnants {
        let value = i64::try_from(totals.remnants.saturating_sub(most)).unwrap_or(i64::MAX);
        goals.push(Goal { aim: Aim::Excess, value, bound: bounds.excess, proven: false });
    }
    let loss = (totals.scrap + totals.trim).count() + value_each * totals.remnants as i64;
    goals.push(Goal { aim: Aim::Loss, value: loss, bound: bounds.loss, proven: false });
    goals.push(Goal { aim: Aim::Reels, value: totals.reels as i64, bound: bounds.reels, proven: false });
    let longest = longest_remnant(&part.reels);
    goals.push(Goal { aim: Aim::LongestRemnant, value: longest, bound: bounds.longest, proven: false });
    if prices_differ(job, rope) {
        goals.push(Goal { aim: Aim::Price, value: part.price, bound: bounds.price.min(part.price), proven: false });
    }
    settle(&mut goals);
    goals
}

/// Goals of all ropes: values and bounds add up, rope by rope independent.
pub(crate) fn goals_together(parts: &[Vec<Goal>]) -> Vec<Goal> {
    let mut all: Vec<Goal> = Vec::new();
    let mut open: Vec<(Aim, bool)> = Vec::new();
    for goal in parts.iter().flatten() {
        match all.iter_mut().find(|other| other.aim == goal.aim) {
            Some(sum) => {
                sum.value += goal.value;
                sum.bound += goal.bound;
            }
            None => all.push(*goal),
        }
        open.push((goal.aim, goal.proven));
    }
    all.sort_by_key(|goal| goal.aim);
    let mut so_far = true;
    for goal in &mut all {
        so_far &= open.iter().filter(|(aim, _)| *aim == goal.aim).all(|(_, proven)| *proven);
        goal.proven = so_far;
    }
    all
}

/// A goal is proven when it meets its bound and every earlier one is proven.
fn settle(goals: &mut [Goal]) {
    let mut so_far = true;
    for goal in goals {
        so_far &= goal.value == goal.bound;
        goal.proven = so_far;
    }
}

/// The due ranks of one rope's pieces, first things first.
pub(crate) fn ranks_of(job: &Job, rope: &str) -> Vec<u32> {
    let mut ranks: Vec<u32> = job.pieces.iter().filter(|piece| piece.rope == rope).map(|piece| piece.rank).collect();
    ranks.sort_unstable();
    ranks.dedup();
    ranks
}

fn uncut_of_rank(job: &Job, uncut: &[Uncut], rank: u32) -> i64 {
    let left: std::collections::HashSet<&str> = uncut.iter().map(|uncut| uncut.piece.as_str()).collect();
    let of_rank = |piece: &&Piece| piece.rank == rank && left.contains(piece.id.as_str());
    job.pieces.iter().filter(of_rank).count() as i64
}

/// The longest remnant on the touched reels, 0 when there is none. Millimetres.
pub(crate) fn longest_remnant(reels: &[CutReel]) -> i64 {
    let leftovers = reels.iter().flat_map(|reel| &reel.leftovers);
    let kept = leftovers.filter(|leftover| leftover.becomes == Becomes::Remnant);
    kept.map(|leftover| (leftover.to - leftover.from).count()).max().unwrap_or(0)
}

/// Whether reels of a rope have prices a metre that differ.
pub(crate) fn prices_differ(job: &Job, rope: &str) -> bool {
    let mut prices = job.reels.iter().filter(|reel| reel.rope == rope).filter_map(|reel| reel.price_per_metre);
    prices.next().is_some_and(|first| prices.any(|price| price != first))
}

/// Rope that every plan with as few pieces uncut cuts at least: all of it, or
/// the shortest pieces where some stay uncut.
pub(crate) fn least_cut(job: &Job, rope: &str, part: &crate::assemble::Assembled) -> i64 {
    if part.uncut.is_empty() {
        return part.totals.cut.count();
    }
    let of_rope = job.pieces.iter().filter(|piece| piece.rope == rope);
    let mut lengths: Vec<i64> = of_rope.map(|piece| piece.cut_length().count()).collect();
    lengths.sort_unstable();
    lengths.iter().take(lengths.len() - part.uncut.len()).sum()
}

/// What the physical reels of a case can hold, whatever stretches they are in.
pub(crate) struct Holds {
    /// By reel: capacity of all its stretches, longest first.
    whole: Vec<i64>,
    /// By reel: price of a metre (0 where not known) and sound length, cheapest first.
    priced: Vec<(i64, i64)>,
    /// Each stretch with its own length and its reel's capacity.
    stretches: Vec<(i64, i64)>,
    narrowest: i64,
}

impl Holds {
    /// The reels behind a case.
    pub fn of(job: &Job, case: &Case, ledger: &Ledger) -> Self {
        let mut by_reel: HashMap<(usize, u32), i64> = HashMap::new();
        let mut priced: Vec<(i64, i64)> = Vec::new();
        for place in ledger.places.iter().flatten() {
            priced.push((job.reels[place.reel].price_per_metre.unwrap_or(0), place.to - place.from));
            *by_reel.entry((place.reel, place.copy)).or_default() += place.to - place.from + case.loss;
        }
        let mut stretches: Vec<(i64, i64)> = Vec::new();
        for place in ledger.places.iter().flatten() {
            stretches.push((place.to - place.from, by_reel[&(place.reel, place.copy)]));
        }
        stretches.sort_unstable();
        stretches.dedup();
        let mut whole: Vec<i64> = by_reel.into_values().collect();
        whole.sort_unstable_by(|one, other| other.cmp(one));
        priced.sort_unstable();
        let narrowest = case.kinds.iter().map(|kind| kind.width).min().unwrap_or(0);
        Holds { whole, priced, stretches, narrowest }
    }

    /// Least price of so much rope. Thousandths of a minor unit.
    pub fn cheapest(&self, cut: i64) -> i64 {
        let mut left = cut;
        let mut sum = 0;
        for &(price, holds) in &self.priced {
            sum += price * holds.min(left);
            left -= holds.min(left);
        }
        sum
    }

    /// Fewest reels that hold so much rope.
    pub fn fewest(&self, cut: i64) -> i64 {
        let mut left = cut;
        self.whole
            .iter()
            .take_while(|&&holds| {
                let wanted = left > 0;
                left -= holds;
                wanted
            })
            .count() as i64
    }

    /// Longest that one leftover can be when so many reels hold so much rope.
    pub fn longest_leftover(&self, cut: i64, reels: usize) -> i64 {
        let most: i64 = self.whole.iter().take(reels).sum();
        let least_of_most = reels.checked_sub(1).and_then(|last| self.whole.get(last)).copied().unwrap_or(0);
        let longest = self.stretches.iter().map(|&(length, holds)| {
            let together = if holds >= least_of_most { most } else { most - least_of_most + holds };
            length - self.narrowest.max(cut - (together - length))
        });
        longest.max().unwrap_or(0).max(0)
    }
}
