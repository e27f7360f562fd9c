//! The exact finish: search the listed patterns until none can beat the plan.
//!
//! Depth first over the listed patterns: a pattern is cut once more, or never
//! again. At each step a linear programme over the patterns still allowed
//! gives prices; with them, in whole numbers, a bound that prunes and an excess
//! that strikes patterns off the list. A pattern may hold more than is still
//! wanted: the surplus is simply not cut, which never costs more.

use crate::case::{Case, Load, Packing};
use crate::chance::Chance;
use crate::columns::{Rest, Rows};
use crate::dive::{Dive, complete};
use crate::pricing::{Scaled, scaled};

/// How a search ended.
#[derive(Debug, Clone)]
pub(crate) enum Outcome {
    /// A plan within the goal.
    Found(Packing),
    /// There is none.
    None,
    /// Stopped or out of steps.
    Open,
}

/// A search over listed patterns.
pub(crate) struct Search<'a> {
    pub case: &'a Case,
    pub patterns: &'a [Load],
    /// A plan must cost no more than this.
    pub goal: i64,
    /// Steps before giving up.
    pub steps: u64,
    pub stop: &'a dyn Fn() -> bool,
    pub chance: Chance,
    /// Steps done.
    pub done: u64,
}

/// What a step knows.
struct Node {
    rest: Rest,
    allowed: Vec<u32>,
    cost: i64,
}

impl Search<'_> {
    /// Searches from the start.
    pub fn run(&mut self) -> Outcome {
        let rest = Rest::of(self.case);
        let allowed = (0..self.patterns.len() as u32).collect();
        let mut loads = Vec::new();
        let mut start = Vec::new();
        self.node(Node { rest, allowed, cost: 0 }, &mut loads, &mut start)
    }

    /// `warm` holds patterns that made up the parent's programme.
    fn node(&mut self, mut node: Node, loads: &mut Vec<Load>, warm: &mut Vec<u32>) -> Outcome {
        let depth = loads.len();
        let outcome = loop {
            if node.rest.count() == 0 {
                break self.whole(loads, node.cost);
            }
            self.done += 1;
            if self.done > self.steps || (self.stop)() {
                break Outcome::Open;
            }
            let Some(bounded) = self.bound(&node, warm) else { break Outcome::Open };
            if bounded.bound > self.goal - node.cost {
                break Outcome::None;
            }
            node.allowed = bounded.allowed;
            if self.done % 8 == 1 {
                let dive = Dive { case: self.case, goal: self.goal, shake: 0, stop: self.stop };
                if let Some(packing) = complete(&dive, loads, &node.rest, &mut self.chance) {
                    break Outcome::Found(packing);
                }
            }
            let Some(at) = self.branch(&node, &bounded.shares) else { break Outcome::None };
            let load = &self.patterns[at as usize];
            let mut rest = node.rest.clone();
            let cut = cut_once(&rest, load);
            rest.take(&cut, 1);
            let cost = node.cost + self.case.cost_of_fill(cut.bin, self.case.fill_of(&cut));
            let useful = |&other: &u32| self.useful(&rest, &self.patterns[other as usize]);
            let allowed = node.allowed.iter().copied().filter(useful).collect();
            loads.push(cut);
            let outcome = self.node(Node { rest, allowed, cost }, loads, warm);
            loads.truncate(depth);
            if !matches!(outcome, Outcome::None) {
                break outcome;
            }
            node.allowed.retain(|&other| other != at);
        };
        loads.truncate(depth);
        outcome
    }

    fn whole(&self, loads: &[Load], cost: i64) -> Outcome {
        if cost > self.goal {
            return Outcome::None;
        }
        Outcome::Found(Packing { loads: loads.to_vec(), uncut: vec![0; self.case.kinds.len()], cost })
    }

    /// The kind with the fewest patterns left decides; of these the largest share.
    fn branch(&self, node: &Node, shares: &[(u32, f64)]) -> Option<u32> {
        let mut ways = vec![0_u32; node.rest.demand.len()];
        for &at in &node.allowed {
            for &(kind, _) in &self.patterns[at as usize].pieces {
                ways[kind] += 1;
            }
        }
        let kind = (0..ways.len()).filter(|&kind| node.rest.demand[kind] > 0).min_by_key(|&kind| ways[kind])?;
        let share = |at: u32| shares.iter().find(|(other, _)| *other == at).map_or(0.0, |&(_, share)| share);
        let holds = |at: &&u32| self.patterns[**at as usize].pieces.iter().any(|&(of, _)| of == kind);
        let with: Vec<(u32, f64)> = node.allowed.iter().filter(holds).map(|&at| (at, share(at))).collect();
        with.into_iter().max_by(|one, other| one.1.total_cmp(&other.1)).map(|(at, _)| at)
    }

    /// Exact bound over the allowed patterns, and those that stay within reach.
    fn bound(&self, node: &Node, warm: &mut Vec<u32>) -> Option<Bounded> {
        let case = self.case;
        let rows = Rows::of(&node.rest);
        let mut simplex = rows.simplex(case, &node.rest);
        let mut inside = vec![false; self.patterns.len()];
        let mut of_column: Vec<u32> = Vec::new();
        let mut allowed = vec![false; self.patterns.len()];
        node.allowed.iter().for_each(|&at| allowed[at as usize] = true);
        for &at in warm.iter().filter(|&&at| allowed[at as usize]) {
            inside[at as usize] = true;
            simplex.add(rows.column(case, &cut_once(&node.rest, &self.patterns[at as usize])));
            of_column.push(at);
        }
        loop {
            if !simplex.optimise(self.stop) {
                return None;
            }
            let (prices, rents) = rows.prices(&simplex);
            let mut gains: Vec<(f64, u32)> = Vec::new();
            for &at in node.allowed.iter().filter(|&&at| !inside[at as usize]) {
                let gain = self.gain(&node.rest, &prices, &rents, &self.patterns[at as usize]);
                if gain < -1e-7 {
                    gains.push((gain, at));
                }
            }
            if gains.is_empty() {
                break;
            }
            gains.sort_by(|one, other| one.0.total_cmp(&other.0));
            for &(_, at) in gains.iter().take(60) {
                inside[at as usize] = true;
                simplex.add(rows.column(case, &cut_once(&node.rest, &self.patterns[at as usize])));
                of_column.push(at);
            }
        }
        let (prices, _) = rows.prices(&simplex);
        let shares: Vec<(u32, f64)> =
            simplex.solution().into_iter().map(|(column, share)| (of_column[column], share)).collect();
        warm.extend(shares.iter().map(|&(at, _)| at));
        warm.sort_unstable();
        warm.dedup();
        if warm.len() > 2_000 {
            warm.clear();
            warm.extend(shares.iter().map(|&(at, _)| at));
        }
        Some(self.exact(node, &scaled(case, &prices), shares))
    }

    fn exact(&self, node: &Node, worth: &Scaled, shares: Vec<(u32, f64)>) -> Bounded {
        let case = self.case;
        let mut rents = vec![0_i64; case.bins.len()];
        let mut excess: Vec<i64> = Vec::with_capacity(node.allowed.len());
        for &at in &node.allowed {
            let load = &self.patterns[at as usize];
            let of_pieces = |&(kind, count): &(usize, usize)| worth.prices[kind] * count.min(node.rest.demand[kind]) as i64;
            let value: i64 = load.pieces.iter().map(of_pieces).sum();
            let over = case.shifted_cost(load.bin, self.useful_fill(&node.rest, load)) * worth.scale - value;
            rents[load.bin] = rents[load.bin].max(-over);
            excess.push(over);
        }
        let count = node.rest.count();
        let pieces = node.rest.demand.iter().zip(&worth.prices);
        let mut total: i128 = pieces.map(|(&demand, &price)| demand as i128 * i128::from(price)).sum();
        for (bin, &rent) in rents.iter().enumerate() {
            total -= i128::from(rent) * node.rest.supply[bin].min(count) as i128;
        }
        let wanted = node.rest.wanted(case);
        let bound = (-((-total).div_euclid(i128::from(worth.scale)))) as i64 - wanted;
        let reach = i128::from(self.goal - node.cost + wanted) * i128::from(worth.scale) - total;
        let within = |over: i64, bin: usize| i128::from(over + rents[bin]) <= reach;
        let pairs = node.allowed.iter().zip(&excess);
        let allowed = pairs.filter(|&(&at, &over)| within(over, self.patterns[at as usize].bin)).map(|(&at, _)| at);
        Bounded { bound, allowed: allowed.collect(), shares }
    }

    /// Whether a pattern can still be cut and holds something wanted.
    fn useful(&self, rest: &Rest, load: &Load) -> bool {
        if self.case.flat() {
            rest.supply[load.bin] > 0 && load.pieces.iter().any(|&(kind, _)| rest.demand[kind] > 0)
        } else {
            rest.takes(load)
        }
    }

    /// Reduced cost of a pattern cut once, without what is no longer wanted.
    fn gain(&self, rest: &Rest, prices: &[f64], rents: &[f64], load: &Load) -> f64 {
        let of_pieces = |&(kind, count): &(usize, usize)| prices[kind] * count.min(rest.demand[kind]) as f64;
        let worth: f64 = load.pieces.iter().map(of_pieces).sum();
        self.case.shifted_cost(load.bin, self.useful_fill(rest, load)) as f64 - worth + rents[load.bin]
    }

    /// Fill of a pattern without what is no longer wanted.
    fn useful_fill(&self, rest: &Rest, load: &Load) -> i64 {
        let of_pieces = |&(kind, count): &(usize, usize)| self.case.kinds[kind].width * count.min(rest.demand[kind]) as i64;
        load.pieces.iter().map(of_pieces).sum()
    }
}

struct Bounded {
    bound: i64,
    allowed: Vec<u32>,
    shares: Vec<(u32, f64)>,
}

/// A pattern cut once, without what is no longer wanted.
fn cut_once(rest: &Rest, load: &Load) -> Load {
    let wanted = load.pieces.iter().map(|&(kind, count)| (kind, count.min(rest.demand[kind])));
    Load { bin: load.bin, pieces: wanted.filter(|&(_, count)| count > 0).collect() }
}
