//! An independent check of a plan against its job.
//!
//! Shares nothing with the solver but the types of question and answer: it
//! walks every reel mark by mark, and recomputes sums, losses and goals. A
//! plan without faults can be cut as it stands. Whether a bound is true it
//! cannot say; the tests ask every plan there is.

use std::collections::{HashMap, HashSet};

use thiserror::Error;
use units::Millimetres;

use crate::answer::{Aim, Becomes, CutReel, Leftover, Plan, Totals, Uncut, Why};
use crate::model::{Job, Origin, Piece, Reel};

/// One thing wrong with a plan.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[expect(missing_docs, reason = "each variant's message says what its fields are")]
pub enum Fault {
    #[error("the plan cuts reel \"{reel}\", the rack has no such reel")]
    UnknownReel { reel: String },
    #[error("the plan cuts copy {copy} of reel \"{reel}\", there are {count}")]
    NoSuchCopy { reel: String, copy: u32, count: u32 },
    #[error("the plan cuts copy {copy} of reel \"{reel}\" twice")]
    ReelTwice { reel: String, copy: u32 },
    #[error("reel \"{reel}\" is listed without a cut")]
    NothingCut { reel: String },
    #[error("the plan names piece \"{piece}\", the job has no such piece")]
    UnknownPiece { piece: String },
    #[error("piece \"{piece}\" appears {times} times")]
    PieceTimes { piece: String, times: usize },
    #[error("piece \"{piece}\" of \"{wanted}\" is cut from reel \"{reel}\" of \"{rope}\"")]
    WrongRope { piece: String, wanted: String, reel: String, rope: String },
    #[error("piece \"{piece}\" is marked {marked} long, it must be {wanted}")]
    WrongLength { piece: String, marked: Millimetres, wanted: Millimetres },
    #[error("piece \"{piece}\" on reel \"{reel}\" begins at {from}, it must begin at {expected}")]
    WrongMark { piece: String, reel: String, from: Millimetres, expected: Millimetres },
    #[error("piece \"{piece}\" on reel \"{reel}\" does not lie in a sound stretch")]
    NotSound { piece: String, reel: String },
    #[error("the leftovers of reel \"{reel}\" are not what the cuts leave")]
    WrongLeftovers { reel: String },
    #[error("set \"{set}\" is not cut side by side from one stretch of one reel")]
    ReelSetSplit { set: String },
    #[error("set \"{set}\" is cut from more than one batch")]
    BatchSetSplit { set: String },
    #[error("piece \"{piece}\" is uncut for the wrong reason")]
    WrongReason { piece: String },
    #[error("the sums of {what} do not agree with the cuts")]
    WrongTotals { what: String },
    #[error("the goal \"{aim}\" of {what} says {said}, the cuts give {found}")]
    WrongGoal { what: String, aim: Aim, said: i64, found: i64 },
    #[error("the goal \"{aim}\" of {what} has value {value} beyond its bound {bound}")]
    BeyondBound { what: String, aim: Aim, value: i64, bound: i64 },
    #[error("the goal \"{aim}\" of {what} is called proven and is not")]
    NotProven { what: String, aim: Aim },
}

/// Checks a plan against its job.
///
/// # Errors
/// Every fault found.
pub fn check(job: &Job, plan: &Plan) -> Result<(), Vec<Fault>> {
    let mut walk = Walk::new(job);
    for cut in &plan.reels {
        walk.reel(cut);
    }
    for uncut in &plan.uncut {
        walk.uncut(uncut);
    }
    walk.every_piece_once();
    walk.sets();
    if walk.faults.is_empty() {
        walk.sums(plan);
    }
    if walk.faults.is_empty() { Ok(()) } else { Err(walk.faults) }
}

/// Where a piece was found.
struct Found {
    reel: String,
    copy: u32,
    batch: Option<String>,
    stretch: usize,
    order: usize,
}

struct Walk<'a> {
    job: &'a Job,
    reels: HashMap<&'a str, &'a Reel>,
    pieces: HashMap<&'a str, &'a Piece>,
    times: HashMap<&'a str, usize>,
    found: HashMap<&'a str, Found>,
    seen: HashSet<(&'a str, u32)>,
    totals: HashMap<&'a str, Totals>,
    longest: HashMap<&'a str, Millimetres>,
    prices: HashMap<&'a str, i64>,
    faults: Vec<Fault>,
}

impl<'a> Walk<'a> {
    fn new(job: &'a Job) -> Self {
        let mut totals: HashMap<&str, Totals> = HashMap::new();
        for piece in &job.pieces {
            totals.insert(&piece.rope, Totals::NONE);
        }
        for reel in &job.reels {
            if let Some(totals) = totals.get_mut(reel.rope.as_str()) {
                let shelved = stretches(job, reel).iter().filter(|&&span| counts_as_remnant(job, reel, span)).count();
                totals.remnants += shelved as u64 * u64::from(reel.count);
            }
        }
        Walk {
            job,
            reels: job.reels.iter().map(|reel| (reel.id.as_str(), reel)).collect(),
            pieces: job.pieces.iter().map(|piece| (piece.id.as_str(), piece)).collect(),
            times: HashMap::new(),
            found: HashMap::new(),
            seen: HashSet::new(),
            totals,
            longest: HashMap::new(),
            prices: HashMap::new(),
            faults: Vec::new(),
        }
    }

    /// Walks one reel from its free end.
    fn reel(&mut self, cut: &CutReel) {
        let name = cut.reel.clone();
        let Some(&reel) = self.reels.get(cut.reel.as_str()) else {
            return self.faults.push(Fault::UnknownReel { reel: name });
        };
        if cut.copy == 0 || cut.copy > reel.count {
            return self.faults.push(Fault::NoSuchCopy { reel: name, copy: cut.copy, count: reel.count });
        }
        if !self.seen.insert((&reel.id, cut.copy)) {
            return self.faults.push(Fault::ReelTwice { reel: name, copy: cut.copy });
        }
        if cut.cuts.is_empty() {
            return self.faults.push(Fault::NothingCut { reel: name });
        }
        let mut sum = Totals { reels: 1, ..Totals::NONE };
        if let Origin::Supplier { price } = reel.origin {
            sum.money = price;
        }
        let mut leftovers = Vec::new();
        let mut used_up = 0;
        let mut next = 0;
        for (index, &(from, to)) in stretches(self.job, reel).iter().enumerate() {
            let begin = next;
            let mut at = from;
            while let Some(mark) = cut.cuts.get(next).filter(|mark| mark.from.count() < to) {
                if mark.from.count() != at {
                    let (piece, reel) = (mark.piece.clone(), name.clone());
                    let expected = Millimetres::new(at);
                    self.faults.push(Fault::WrongMark { piece, reel, from: mark.from, expected });
                }
                if mark.to.count() > to || mark.from.count() < from {
                    self.faults.push(Fault::NotSound { piece: mark.piece.clone(), reel: name.clone() });
                }
                self.piece_on(&mark.piece, mark.to - mark.from, reel, (cut.copy, index, next));
                let loss = self.job.rules.loss_per_cut.count().min(to - mark.to.count()).max(0);
                sum.cut = sum.cut + (mark.to - mark.from);
                sum.cut_loss = sum.cut_loss + Millimetres::new(loss);
                at = mark.to.count() + loss;
                next += 1;
            }
            if next == begin {
                let (from, to) = (Millimetres::new(from), Millimetres::new(to));
                leftovers.push(Leftover { from, to, becomes: Becomes::Untouched });
                continue;
            }
            if from == self.job.rules.trim.count() {
                sum.trim = sum.trim + self.job.rules.trim;
            }
            used_up += u64::from(counts_as_remnant(self.job, reel, (from, to)));
            let left = Millimetres::new(to - at);
            let becomes = if left < self.job.rules.smallest_remnant { Becomes::Scrap } else { Becomes::Remnant };
            if left > Millimetres::ZERO {
                leftovers.push(Leftover { from: Millimetres::new(at), to: Millimetres::new(to), becomes });
                match becomes {
                    Becomes::Remnant => {
                        sum.remnants += 1;
                        sum.remnant_length = sum.remnant_length + left;
                        let longest = self.longest.entry(&reel.rope).or_insert(left);
                        *longest = left.max(*longest);
                    }
                    _ => sum.scrap = sum.scrap + left,
                }
            }
        }
        for lost in &cut.cuts[next..] {
            self.faults.push(Fault::NotSound { piece: lost.piece.clone(), reel: name.clone() });
        }
        if leftovers != cut.leftovers || cut.rope != reel.rope {
            self.faults.push(Fault::WrongLeftovers { reel: name });
        }
        if let Some(price) = reel.price_per_metre {
            let taken = sum.cut + sum.cut_loss + sum.trim + sum.scrap;
            *self.prices.entry(&reel.rope).or_default() += price * taken.count();
        }
        if let Some(totals) = self.totals.get_mut(reel.rope.as_str()) {
            *totals = totals.and(&sum);
            totals.remnants -= used_up.min(totals.remnants);
        }
    }

    fn piece_on(&mut self, name: &str, marked: Millimetres, reel: &Reel, at: (u32, usize, usize)) {
        let Some(&piece) = self.pieces.get(name) else {
            return self.faults.push(Fault::UnknownPiece { piece: name.to_owned() });
        };
        if piece.rope != reel.rope {
            let (piece, wanted) = (piece.id.clone(), piece.rope.clone());
            let (reel, rope) = (reel.id.clone(), reel.rope.clone());
            self.faults.push(Fault::WrongRope { piece, wanted, reel, rope });
        }
        let wanted = Millimetres::new(piece.length.count() + piece.allowance.count());
        if marked != wanted {
            self.faults.push(Fault::WrongLength { piece: piece.id.clone(), marked, wanted });
        }
        *self.times.entry(&piece.id).or_default() += 1;
        let (copy, stretch, order) = at;
        let found = Found { reel: reel.id.clone(), copy, batch: reel.batch.clone(), stretch, order };
        self.found.insert(&piece.id, found);
    }

    fn uncut(&mut self, uncut: &Uncut) {
        let Some(&piece) = self.pieces.get(uncut.piece.as_str()) else {
            return self.faults.push(Fault::UnknownPiece { piece: uncut.piece.clone() });
        };
        *self.times.entry(&piece.id).or_default() += 1;
        let some_reel =
            self.job.reels.iter().any(|reel| reel.rope == piece.rope && !stretches(self.job, reel).is_empty());
        if (uncut.why == Why::NoReel) == some_reel {
            self.faults.push(Fault::WrongReason { piece: piece.id.clone() });
        }
    }

    fn every_piece_once(&mut self) {
        for piece in &self.job.pieces {
            let times = self.times.get(piece.id.as_str()).copied().unwrap_or(0);
            if times != 1 {
                self.faults.push(Fault::PieceTimes { piece: piece.id.clone(), times });
            }
        }
    }

    fn sets(&mut self) {
        let mut of_reel: HashMap<&str, Vec<Option<&Found>>> = HashMap::new();
        let mut of_batch: HashMap<&str, Vec<&Found>> = HashMap::new();
        for piece in &self.job.pieces {
            let found = self.found.get(piece.id.as_str());
            if let Some(set) = &piece.same_reel {
                of_reel.entry(set).or_default().push(found);
            }
            if let (Some(set), Some(found)) = (&piece.same_batch, found) {
                of_batch.entry(set).or_default().push(found);
            }
        }
        for (set, members) in of_reel {
            let cut: Vec<&Found> = members.iter().filter_map(|found| *found).collect();
            let together = cut
                .windows(2)
                .all(|two| (&two[0].reel, two[0].copy, two[0].stretch) == (&two[1].reel, two[1].copy, two[1].stretch));
            let orders: Vec<usize> = cut.iter().map(|found| found.order).collect();
            let spread = orders.iter().max().zip(orders.iter().min()).map_or(0, |(most, least)| most - least + 1);
            if !together || spread != cut.len() || (!cut.is_empty() && cut.len() != members.len()) {
                self.faults.push(Fault::ReelSetSplit { set: set.to_owned() });
            }
        }
        for (set, members) in of_batch {
            let same = members.windows(2).all(|two| match (&two[0].batch, &two[1].batch) {
                (Some(one), Some(other)) => one == other,
                _ => (&two[0].reel, two[0].copy) == (&two[1].reel, two[1].copy),
            });
            if !same {
                self.faults.push(Fault::BatchSetSplit { set: set.to_owned() });
            }
        }
    }

    fn sums(&mut self, plan: &Plan) {
        let mut all = Totals::NONE;
        let named: HashSet<&str> = plan.ropes.iter().map(|part| part.rope.as_str()).collect();
        if named.len() != plan.ropes.len() || named.len() != self.totals.len() {
            self.faults.push(Fault::WrongTotals { what: "the ropes".to_owned() });
        }
        for part in &plan.ropes {
            let mut found = self.totals.get(part.rope.as_str()).copied().unwrap_or(Totals::NONE);
            found.waste = found.scrap + found.trim + found.cut_loss;
            if found != part.totals {
                self.faults.push(Fault::WrongTotals { what: part.rope.clone() });
            }
            self.goals(&part.rope, &part.goals, &found, Some(&part.rope), plan);
            all = all.and(&found);
        }
        if all != plan.totals {
            self.faults.push(Fault::WrongTotals { what: "the whole plan".to_owned() });
        }
        self.goals("the whole plan", &plan.goals, &all, None, plan);
    }

    fn goals(&mut self, what: &str, goals: &[crate::answer::Goal], totals: &Totals, rope: Option<&str>, plan: &Plan) {
        let mut proven_so_far = true;
        for goal in goals {
            let found = match goal.aim {
                Aim::Uncut(rank) => plan
                    .uncut
                    .iter()
                    .filter_map(|uncut| self.pieces.get(uncut.piece.as_str()))
                    .filter(|piece| piece.rank == rank && rope.is_none_or(|rope| rope == piece.rope))
                    .count() as i64,
                Aim::Money => totals.money,
                Aim::Excess => {
                    let most = self.job.rules.most_remnants.unwrap_or(u64::MAX);
                    let of = |totals: &Totals| totals.remnants.saturating_sub(most) as i64;
                    rope.map_or_else(|| self.totals.values().map(of).sum(), |_| of(totals))
                }
                Aim::Price => {
                    let differ = |rope: &str| {
                        let prices = self.job.reels.iter().filter(|reel| reel.rope == rope);
                        let prices: HashSet<i64> = prices.filter_map(|reel| reel.price_per_metre).collect();
                        prices.len() > 1
                    };
                    let of = |rope: &str| self.prices.get(rope).copied().filter(|_| differ(rope)).unwrap_or(0);
                    rope.map_or_else(|| self.totals.keys().map(|&rope| of(rope)).sum(), of)
                }
                Aim::Loss => {
                    let value = self.job.rules.value_of_a_remnant().count();
                    (totals.scrap + totals.trim).count() + value * totals.remnants as i64
                }
                Aim::Reels => totals.reels as i64,
                Aim::LongestRemnant => {
                    let of = |rope: &str| self.longest.get(rope).map_or(0, |longest| longest.count());
                    match rope {
                        Some(rope) => of(rope),
                        None => self.totals.keys().map(|&rope| of(rope)).sum(),
                    }
                }
            };
            let (what, aim, value, bound) = (what.to_owned(), goal.aim, goal.value, goal.bound);
            if found != value {
                self.faults.push(Fault::WrongGoal { what, aim, said: value, found });
                continue;
            }
            let beyond = if aim == Aim::LongestRemnant { value > bound } else { value < bound };
            if beyond {
                self.faults.push(Fault::BeyondBound { what, aim, value, bound });
            } else if goal.proven && (value != bound || !proven_so_far) {
                self.faults.push(Fault::NotProven { what, aim });
            }
            proven_so_far &= goal.proven;
        }
    }
}

/// Sound stretches: a boundary is every place where being in a flaw changes.
fn stretches(job: &Job, reel: &Reel) -> Vec<(i64, i64)> {
    let start = job.rules.trim.count();
    let end = reel.length.count();
    let mut edges: Vec<i64> = vec![start, end];
    for flaw in &reel.flaws {
        edges.extend([flaw.from.count().max(start), flaw.to.count().max(start)]);
    }
    edges.sort_unstable();
    edges.dedup();
    let mut found: Vec<(i64, i64)> = Vec::new();
    for edge in edges.windows(2) {
        let (from, to) = (edge[0], edge[1]);
        let flawed = reel.flaws.iter().any(|flaw| flaw.from.count() < to && from < flaw.to.count());
        if flawed || to > end {
            continue;
        }
        // A flaw's edge inside sound rope (two flaws that touch nothing) does not cut it.
        match found.last_mut() {
            Some(last) if last.1 == from => last.1 = to,
            _ => found.push((from, to)),
        }
    }
    found
}

/// Whether an untouched stretch counts as a remnant on the rack.
fn counts_as_remnant(job: &Job, reel: &Reel, span: (i64, i64)) -> bool {
    match (reel.origin, reel.flaws.is_empty()) {
        (Origin::Supplier { .. }, _) => false,
        (_, false) => span.1 - span.0 >= job.rules.smallest_remnant.count(),
        (Origin::Remnant, true) => true,
        (Origin::Rack, true) => false,
    }
}
