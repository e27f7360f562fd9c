//! Every plan of a small job, one by one: the second road.
//!
//! Pieces are placed one at a time on every reel they may lie on; nothing of
//! the solver is used. The cost is that of the rules: scrap and trims plus the
//! value of each remnant on the rack.

use std::collections::HashMap;

use cutting::{Aim, Job, Origin, Plan};

/// What the best plan of a small job reaches.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Best {
    /// Uncut pieces by rank, money, remnants beyond the largest number (where
    /// there is one), loss: compared in this order.
    pub goals: Vec<i64>,
}

/// A stretch of a reel being filled.
struct Stretch {
    reel: usize,
    from: i64,
    to: i64,
    batch: String,
    pieces: Vec<usize>,
}

struct Brute<'a> {
    job: &'a Job,
    ranks: Vec<u32>,
    stretches: Vec<Stretch>,
    bundles: Vec<Vec<usize>>,
    uncut: Vec<usize>,
    batch_of: HashMap<String, (String, usize)>,
    best: Option<Best>,
}

/// The best goals of a job of one rope.
pub fn best(job: &Job) -> Best {
    let mut ranks: Vec<u32> = job.pieces.iter().map(|piece| piece.rank).collect();
    ranks.sort_unstable();
    ranks.dedup();
    let mut bundles: Vec<Vec<usize>> = Vec::new();
    let mut sets: HashMap<&str, usize> = HashMap::new();
    for (at, piece) in job.pieces.iter().enumerate() {
        match piece.same_reel.as_deref().map(|set| *sets.entry(set).or_insert(bundles.len())) {
            Some(known) if known < bundles.len() => bundles[known].push(at),
            _ => bundles.push(vec![at]),
        }
    }
    let mut stretches = Vec::new();
    for (at, reel) in job.reels.iter().enumerate() {
        for copy in 0..reel.count {
            let mut from = job.rules.trim.count();
            let mut flaws = reel.flaws.clone();
            flaws.sort_by_key(|flaw| flaw.from);
            let batch = reel.batch.clone().unwrap_or(format!("unknown {at} {copy}"));
            let mut push = |from: i64, to: i64| {
                if to > from {
                    stretches.push(Stretch { reel: at, from, to, batch: batch.clone(), pieces: Vec::new() });
                }
            };
            for flaw in flaws {
                push(from, flaw.from.count());
                from = from.max(flaw.to.count());
            }
            push(from, reel.length.count());
        }
    }
    let mut brute = Brute { job, ranks, stretches, bundles, uncut: Vec::new(), batch_of: HashMap::new(), best: None };
    brute.place(0);
    brute.best.unwrap()
}

/// The same goals as a plan states them.
pub fn stated(plan: &Plan) -> Best {
    Best { goals: plan.goals.iter().filter(|goal| goal.aim <= Aim::Loss).map(|goal| goal.value).collect() }
}

impl Brute<'_> {
    fn place(&mut self, at: usize) {
        if at == self.bundles.len() {
            let now = self.goals();
            if self.best.as_ref().is_none_or(|best| now < *best) {
                self.best = Some(now);
            }
            return;
        }
        let bundle = self.bundles[at].clone();
        for stretch in 0..self.stretches.len() {
            let untouched_twin = (0..stretch).any(|other| {
                let (one, two) = (&self.stretches[other], &self.stretches[stretch]);
                one.pieces.is_empty()
                    && two.pieces.is_empty()
                    && one.reel == two.reel
                    && (one.from, one.to, &one.batch) == (two.from, two.to, &two.batch)
            });
            if untouched_twin || !self.fits(&bundle, stretch) {
                continue;
            }
            let before = self.batch_of.clone();
            let batch = self.stretches[stretch].batch.clone();
            let sets: Vec<String> =
                bundle.iter().filter_map(|&piece| self.job.pieces[piece].same_batch.clone()).collect();
            let clash = sets.iter().any(|set| self.batch_of.get(set).is_some_and(|(other, _)| *other != batch));
            if clash {
                continue;
            }
            for set in sets {
                self.batch_of.insert(set, (batch.clone(), 0));
            }
            self.stretches[stretch].pieces.extend(&bundle);
            self.place(at + 1);
            let keep = self.stretches[stretch].pieces.len() - bundle.len();
            self.stretches[stretch].pieces.truncate(keep);
            self.batch_of = before;
        }
        self.uncut.extend(&bundle);
        self.place(at + 1);
        self.uncut.truncate(self.uncut.len() - bundle.len());
    }

    fn used(&self, pieces: &[usize]) -> i64 {
        let lengths = pieces.iter().map(|&piece| self.job.pieces[piece].cut_length().count());
        lengths.map(|length| length + self.job.rules.loss_per_cut.count()).sum()
    }

    fn fits(&self, bundle: &[usize], stretch: usize) -> bool {
        let of = &self.stretches[stretch];
        let all = self.used(&of.pieces) + self.used(bundle) - self.job.rules.loss_per_cut.count();
        all <= of.to - of.from
    }

    fn goals(&self) -> Best {
        let rules = &self.job.rules;
        let uncut_of =
            |rank: u32| self.uncut.iter().filter(|&&piece| self.job.pieces[piece].rank == rank).count() as i64;
        let mut goals: Vec<i64> = self.ranks.iter().map(|&rank| uncut_of(rank)).collect();
        let (mut money, mut loss, mut remnants) = (0, 0, 0_i64);
        for of in &self.stretches {
            let reel = &self.job.reels[of.reel];
            let flawed = !reel.flaws.is_empty();
            let bought = matches!(reel.origin, Origin::Supplier { .. });
            let smallest = rules.smallest_remnant.count();
            let was = if flawed { of.to - of.from >= smallest && !bought } else { reel.origin == Origin::Remnant };
            if of.pieces.is_empty() {
                loss += if was { rules.value_of_a_remnant().count() } else { 0 };
                remnants += i64::from(was);
                continue;
            }
            if let Origin::Supplier { price } = reel.origin {
                money += price;
            }
            if of.from == rules.trim.count() {
                loss += rules.trim.count();
            }
            let left = (of.to - of.from - self.used(&of.pieces)).max(0);
            remnants += i64::from(left > 0 && left >= smallest);
            loss += if left > 0 && left >= smallest { rules.value_of_a_remnant().count() } else { left };
        }
        goals.push(money);
        goals.extend(rules.most_remnants.map(|most| (remnants - most as i64).max(0)));
        goals.push(loss);
        Best { goals }
    }
}
