//! No more open remnants than the loft wants: the largest number held.
//!
//! A plan that keeps to the number by itself is the answer. Else every remnant
//! is priced higher until the plans keep to it: at a price beyond all scrap
//! the fewest remnants come first, and prices between the two trade one for
//! the other (Lagrange's way of holding a limit). Each price gives a bound too:
//! whatever its plans lose at least, less what the limit may save of the
//! higher price. Where the bounds do not meet the plan, the gap is told.

use std::cmp::Reverse;

use units::Millimetres;

use crate::Settings;
use crate::answer::Aim;
use crate::assemble::{Assembled, assemble};
use crate::goals::{Bounds, Holds, goals_of, least_cut};
use crate::model::Job;
use crate::stages::{Found, NO_BOUND, find};

/// Prices tried between the usual one and the one beyond all scrap.
const PRICES: usize = 6;

/// A rope's answer with what is proven about its goals.
pub(crate) struct Answer {
    pub found: Found,
    pub part: Assembled,
    pub bounds: Bounds,
}

/// The best plan of one rope under the rule on remnants, if there is one.
pub(crate) fn find_within(job: &Job, rope: &str, settings: &Settings<'_>) -> Answer {
    let usual = job.rules.value_of_a_remnant().count();
    let mut tried = vec![Tried::at(job, rope, usual, settings)];
    if let Some(most) = job.rules.most_remnants {
        let most = i64::try_from(most).unwrap_or(i64::MAX / 4);
        if tried[0].remnants() > most {
            let dear = beyond_scrap(job, rope).max(usual);
            tried.push(Tried::at(job, rope, dear, settings));
            trade(job, rope, most, &mut tried, settings);
        }
    }
    best_of(job, rope, tried)
}

/// One price of a remnant and what comes of it.
struct Tried {
    value: i64,
    found: Found,
    part: Assembled,
    shelved: i64,
}

impl Tried {
    fn at(job: &Job, rope: &str, value: i64, settings: &Settings<'_>) -> Self {
        let mut priced = job.clone();
        priced.rules.remnant_value = Some(Millimetres::new(value));
        let found = find(&priced, rope, settings);
        let part = assemble(job, rope, &found.case, &found.ledger, &found.packing);
        let shelved = found.case.bins.iter().filter(|bin| bin.remnant).map(|bin| bin.supply as i64).sum();
        Tried { value, found, part, shelved }
    }

    fn remnants(&self) -> i64 {
        self.part.totals.remnants as i64
    }

    fn scrap(&self) -> i64 {
        (self.part.totals.scrap + self.part.totals.trim).count()
    }

    /// No plan has less scrap and price of remnants together; `None`: unknown.
    fn least(&self) -> Option<i64> {
        (self.found.loss > NO_BOUND).then(|| self.found.loss + self.value * self.shelved)
    }
}

/// A price of a remnant that no amount of scrap outweighs.
fn beyond_scrap(job: &Job, rope: &str) -> i64 {
    let pieces = job.pieces.iter().filter(|piece| piece.rope == rope).count() as i64;
    let each = |reel: &&crate::Reel| {
        let stretches = (reel.flaws.len() as i64 + 1) * i64::from(reel.count);
        (reel.length.count().min(job.rules.smallest_remnant.count()) + job.rules.trim.count(), stretches)
    };
    let mut scraps: Vec<(i64, i64)> =
        job.reels.iter().filter(|reel| reel.rope == rope).map(|reel| each(&reel)).collect();
    scraps.sort_by_key(|&(scrap, _)| Reverse(scrap));
    let mut left = pieces;
    let mut sum = 1;
    for (scrap, stretches) in scraps {
        sum += scrap * stretches.min(left);
        left -= stretches.min(left);
    }
    sum
}

/// Prices at which a plan within the limit and one beyond it cost the same.
fn trade(job: &Job, rope: &str, most: i64, tried: &mut Vec<Tried>, settings: &Settings<'_>) {
    for _ in 0..PRICES {
        let within = tried.iter().filter(|one| one.remnants() <= most).min_by_key(|one| one.value);
        let beyond = tried.iter().filter(|one| one.remnants() > most).max_by_key(|one| one.value);
        let (Some(within), Some(beyond)) = (within, beyond) else { return };
        if within.remnants() == most || (settings.stop)() {
            return;
        }
        let value = (within.scrap() - beyond.scrap()).div_euclid(beyond.remnants() - within.remnants());
        if value <= beyond.value || value >= within.value {
            return;
        }
        tried.push(Tried::at(job, rope, value, settings));
    }
}

/// The best of the plans tried, and the strongest of their bounds.
fn best_of(job: &Job, rope: &str, tried: Vec<Tried>) -> Answer {
    let usual = job.rules.value_of_a_remnant().count();
    let most = job.rules.most_remnants.map_or(i64::MAX / 4, |most| i64::try_from(most).unwrap_or(i64::MAX / 4));
    let beyond = |one: &Tried| (one.remnants() - most).max(0);
    // The goals before the remnants, as the plan reaches them.
    let earlier = |one: &Tried| {
        let none = Bounds { money: 0, excess: 0, loss: 0, reels: 0, longest: 0, price: 0 };
        let goals = goals_of(job, &one.part, rope, &[], none);
        goals.iter().filter(|goal| goal.aim < Aim::Excess).map(|goal| goal.value).collect::<Vec<_>>()
    };
    let key = |one: &Tried| (earlier(one), beyond(one), one.scrap() + usual * one.remnants());
    let at = (0..tried.len()).min_by_key(|&at| key(&tried[at])).unwrap_or(0);
    let held = earlier(&tried[at]);
    let excess = beyond(&tried[at]);
    let alike = || tried.iter().filter(|one| earlier(one) == held);
    let fewest = alike().filter_map(|one| {
        // Only at a price beyond all scrap does the bound count remnants.
        let scrap = beyond_scrap(job, rope) - 1;
        (one.value > scrap).then(|| one.least().map(|least| -(scrap - least).div_euclid(one.value)))?
    });
    let fewest = fewest.max().unwrap_or(0);
    let limit = most.saturating_add(excess);
    let loss = alike().filter_map(|one| {
        let saved = i128::from(one.value - usual) * i128::from(limit);
        Some(i64::try_from(i128::from(one.least()?) - saved).unwrap_or(NO_BOUND))
    });
    let loss = loss.max().unwrap_or(NO_BOUND);
    let money = alike().map(|one| one.found.money).max().unwrap_or(0);
    let mut tried = tried;
    let Tried { found, part, .. } = tried.swap_remove(at);
    let holds = Holds::of(job, &found.case, &found.ledger);
    let cut = least_cut(job, rope, &part);
    let bounds = Bounds {
        money,
        excess: (fewest - most).clamp(0, excess),
        loss: loss.max(0),
        reels: holds.fewest(cut),
        longest: holds.longest_leftover(cut, part.totals.reels as usize),
        price: holds.cheapest(cut),
    };
    Answer { found, part, bounds }
}
