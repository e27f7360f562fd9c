//! One rope solved: quick plan, bounds, and whatever it takes to close the gap.
//!
//! In order, each only while plan and bound differ: end-to-end bound, quick
//! plan, pattern bound, dives, and the exact search over the patterns within
//! reach. Interrupted at any point, the best plan and bound so far stand.

use crate::case::{Case, NOT_WHOLE, Packing};
use crate::chance::Chance;
use crate::columns::{Call, Pool, Proof, Relaxed, Rest, middle_proof, relax};
use crate::dive::{Dive, dive};
use crate::enumerate::patterns_within;
use crate::finish::{Outcome, Search};
use crate::ladder::Ladder;
use crate::mend::mend;
use crate::modes::{Choice, Modes};
use crate::pricing::Pricer;
use crate::proof::Certificate;
use crate::remnants::Remnants;
use crate::{Progress, Settings, bounds, quick};

/// A packing with what is proven about its cost.
#[derive(Debug, Clone)]
pub(crate) struct Solved {
    /// The best packing found.
    pub packing: Packing,
    /// No packing costs less.
    pub bound: i64,
    /// Why.
    pub certificate: Certificate,
}

/// Restarts of the quick plan, each with so many rounds of mending.
const TRIES: [(usize, usize); 4] = [(4, 300), (20, 1_000), (20, 1_000), (60, 3_000)];
/// Dives before the exact search and after it.
const DIVES: [usize; 2] = [8, 40];
/// Patterns that the exact search takes on.
const MOST_PATTERNS: usize = 40_000;
/// With no more than this the first prices will do.
const FEW_PATTERNS: usize = 2_000;
/// Steps of one exact search.
const STEPS: u64 = 40_000;
/// Steps of the search reel by reel after each round of the quick plan.
const MODE_STEPS: [u64; 4] = [3_000, 30_000, 300_000, 3_000_000];
/// Steps that an attempt beyond the bound is worth.
const FEW_STEPS: u64 = 8_000;
/// Rounds of pricing at the top.
const ROUNDS: usize = 3_000;

/// The best packing of a case whose batch sets are settled. A known packing may
/// be given to start from; a plan that does not cost less than `beat` is not
/// worth finding.
pub(crate) fn solve(case: &Case, start: Option<&Packing>, beat: i64, settings: &Settings<'_>) -> Solved {
    if case.kinds.is_empty() {
        let packing = Packing { loads: Vec::new(), uncut: Vec::new(), cost: 0 };
        return Solved { packing, bound: 0, certificate: Certificate::Nothing };
    }
    let mut packing = quick::one_by_one(case);
    if let Some(start) = start {
        let start = quick::packing_of(case, start.loads.clone(), start.uncut.clone());
        packing = if start.cost < packing.cost { start } else { packing };
    }
    let ladder = Ladder::of(case, packing.cost);
    let all_cut = case.kinds.iter().all(|kind| kind.drop.is_none());
    let bound = if all_cut { bounds::end_to_end(case).unwrap_or(NOT_WHOLE) } else { NO_BOUND };
    let mut effort = Effort {
        case,
        settings,
        ladder,
        packing,
        beat,
        searched: 0,
        bound: NO_BOUND,
        certificate: Certificate::EndToEnd,
        chance: Chance::new(settings.seed),
    };
    effort.raise(bound, || Certificate::EndToEnd);
    let modes = Modes::of(case);
    for (at, (tries, rounds)) in TRIES.into_iter().enumerate() {
        if !effort.closed() {
            effort.quick(tries, rounds);
        }
        if let Some(modes) = &modes
            && effort.packing.whole()
            && !effort.closed()
        {
            effort.modes(modes, MODE_STEPS[at]);
        }
    }
    if !effort.closed()
        && let Some(mut pricer) = Pricer::new(case)
    {
        effort.columns(&mut pricer);
    }
    Solved { packing: effort.packing, bound: effort.bound, certificate: effort.certificate }
}

const NO_BOUND: i64 = i64::MIN / 4;

/// A choice of modes, and how far beyond its bound the next search goes.
struct Attempt {
    choice: Choice,
    ahead: i64,
}

/// The state of the search.
struct Effort<'a> {
    case: &'a Case,
    settings: &'a Settings<'a>,
    ladder: Ladder,
    packing: Packing,
    beat: i64,
    /// Steps of the searches reel by reel.
    searched: u64,
    bound: i64,
    certificate: Certificate,
    chance: Chance,
}

impl Effort<'_> {
    fn closed(&self) -> bool {
        let worth = self.packing.cost.min(self.beat);
        self.bound >= worth.saturating_sub(self.settings.tolerance) || (self.settings.stop)()
    }

    /// The most that a better plan may cost.
    fn goal(&self) -> i64 {
        self.ladder.down(self.packing.cost.min(self.beat) - 1)
    }

    fn offer(&mut self, packing: Packing) {
        if packing.cost < self.packing.cost {
            self.packing = packing;
            self.tell("found a better plan");
        }
    }

    fn quick(&mut self, tries: usize, rounds: usize) {
        let (case, settings) = (self.case, self.settings);
        for spare in 0..3 {
            let seed = self.chance.next();
            let Some(packing) = quick::on_chosen_reels(case, spare, seed, settings.stop) else { break };
            self.offer(packing.clone());
            if packing.whole() && !case.all_scrap() && !self.closed() {
                let mended = mend(case, packing, rounds / 3, self.bound, &mut self.chance, settings.stop);
                self.offer(mended);
            }
            if self.closed() {
                return;
            }
        }
        let packing = quick::quick_packing(case, tries, self.chance.next(), self.bound, settings.stop);
        self.offer(packing.clone());
        if packing.whole() && !case.all_scrap() {
            let mended = mend(case, packing, rounds, self.bound, &mut self.chance, settings.stop);
            self.offer(mended);
        }
    }

    fn raise(&mut self, bound: i64, certificate: impl FnOnce() -> Certificate) {
        let bound = if bound > NO_BOUND { self.ladder.up(bound).min(self.packing.cost.min(self.beat)) } else { bound };
        if bound > self.bound {
            self.bound = bound;
            self.certificate = certificate();
            self.tell("raised the bound");
        }
    }

    fn tell(&self, doing: &str) {
        if self.packing.whole() && self.bound > NO_BOUND {
            (self.settings.progress)(Progress { rope: "", doing, gap: self.packing.cost - self.bound });
        }
    }

    /// The bound over modes, and the search of the cheapest choice of modes,
    /// again and again, while the steps last.
    fn modes(&mut self, modes: &Modes<'_>, steps: u64) {
        if let Some(bound) = modes.bound(self.goal()) {
            self.raise(bound, || Certificate::EndToEnd);
        }
        if self.closed() {
            return;
        }
        let Some(choices) = modes.choices(self.goal()) else { return };
        let mut open: Vec<Attempt> = choices.into_iter().map(|choice| Attempt { choice, ahead: 0 }).collect();
        let mut done = 0;
        while !self.closed() && done < steps {
            let searched = self.searched;
            let goal = self.goal();
            open.retain(|attempt| attempt.choice.bound <= goal);
            let Some(at) = (0..open.len()).min_by_key(|&at| open[at].choice.bound) else {
                self.raise(goal + 1, || Certificate::ReelByReel { steps: searched });
                return;
            };
            let least = open[at].choice.bound;
            self.raise(least, || Certificate::ReelByReel { steps: searched });
            let attempt = &mut open[at];
            let reach = attempt.choice.bound.saturating_add(attempt.ahead).min(goal);
            let few = if attempt.ahead > 0 { (steps - done).min(FEW_STEPS) } else { steps - done };
            let mut search = Remnants::of(self.case, &attempt.choice, reach, few, self.settings.stop);
            let outcome = search.run();
            let spent = search.done;
            done += spent;
            self.searched += spent;
            match outcome {
                Outcome::Found(packing) => self.offer(packing),
                Outcome::None => {
                    attempt.choice.bound = self.ladder.up(reach + 1);
                    attempt.ahead = if spent < FEW_STEPS / 4 { attempt.ahead * 2 + 1 } else { attempt.ahead / 2 };
                }
                Outcome::Open if attempt.ahead > 0 => attempt.ahead = 0,
                Outcome::Open => return,
            }
        }
    }

    fn columns(&mut self, pricer: &mut Pricer) {
        let mut pool = Pool::default();
        for load in &self.packing.loads {
            pool.add(load.clone());
        }
        let rest = Rest::of(self.case);
        let stop = self.settings.stop;
        let target = self.packing.cost.min(self.beat);
        let call =
            Call { case: self.case, rest: &rest, target, rounds: ROUNDS, tilt: 0, seed: self.settings.seed, stop };
        let relaxed = relax(&call, &mut pool, pricer);
        self.tell(&format!("priced {} patterns", pool.loads.len()));
        if let Some(proof) = &relaxed.proof {
            self.raise(relaxed.bound, || Certificate::prices(proof));
        }
        self.dives(relaxed.clone(), &mut pool, pricer, DIVES[0]);
        self.tell("dived");
        if self.closed() {
            return;
        }
        if let Some(proof) = &relaxed.proof {
            let few = patterns_within(self.case, proof, proof.budget(self.case, self.goal()), FEW_PATTERNS, stop);
            let middle = if few.is_some() { None } else { middle_proof(&call, proof, &mut pool, pricer) };
            self.exact(middle.as_ref().unwrap_or(proof), &relaxed);
        }
        self.dives(relaxed, &mut pool, pricer, DIVES[1]);
    }

    fn dives(&mut self, relaxed: Relaxed, pool: &mut Pool, pricer: &mut Pricer, times: usize) {
        for at in 0..times {
            if self.closed() {
                return;
            }
            let goal = self.goal();
            let plunge = Dive { case: self.case, goal, shake: at * 12, stop: self.settings.stop };
            let start = Some(relaxed.clone());
            if let Some(packing) = dive(&plunge, start, pool, pricer, &mut self.chance) {
                self.offer(packing);
            }
        }
    }

    /// The exact search, goal after goal, as far as the lists stay manageable.
    fn exact(&mut self, proof: &Proof, relaxed: &Relaxed) {
        let case = self.case;
        if !case.fuller_costs_more() {
            return;
        }
        while !self.closed() {
            let goal = self.goal();
            let budget = proof.budget(case, goal);
            self.tell(&format!(
                "goal {goal} budget {} of scale {}, lp {}",
                budget as f64 / proof.worth.scale as f64,
                proof.worth.scale,
                relaxed.bound
            ));
            let Some(patterns) = patterns_within(case, proof, budget, MOST_PATTERNS, self.settings.stop) else {
                return;
            };
            self.tell(&format!("listed {} patterns within reach", patterns.len()));
            let stop = self.settings.stop;
            let chance = self.chance.clone();
            let mut search = Search { case, patterns: &patterns, goal, steps: STEPS, stop, chance, done: 0 };
            let outcome = search.run();
            self.tell(&format!("searched {} steps", search.done));
            match outcome {
                Outcome::Found(packing) => self.offer(packing),
                Outcome::None => {
                    let (count, steps) = (patterns.len(), search.done);
                    self.raise(goal + 1, || Certificate::searched(proof, count, steps));
                }
                Outcome::Open => return,
            }
        }
        let _ = relaxed;
    }
}
