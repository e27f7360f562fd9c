//! The exact finish: search the listed patterns until none can beat the plan.
//!
//! Branch and bound over a list that holds every pattern a better plan could
//! use. At each step a linear programme over the patterns still allowed gives
//! prices; with them, in whole numbers, a bound that prunes and an excess that
//! strikes patterns off. Two pieces are then cut from one reel or from two
//! (Ryan and Foster 1981), or a pattern is cut at most or at least so often.
//! The floats choose where to look; only whole numbers close a branch.

use std::collections::BTreeMap;

use crate::case::{Case, Load, Packing};
use crate::chance::Chance;
use crate::columns::{Rest, Rows, dear};
use crate::dive::{Dive, complete};
use crate::pricing::scaled;
use crate::quick::packing_of;
use crate::simplex::{Sense, Simplex};

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

/// One open branch.
#[derive(Clone)]
struct Node {
    simplex: Simplex,
    allowed: Vec<u32>,
    /// Patterns, how often at least or most, in the order of the added rows.
    rows: Vec<(Vec<u32>, Sense, i64)>,
}

/// Where to branch.
enum Branch {
    /// These two kinds, each wanted once, from one reel or from two.
    Pair(usize, usize),
    /// These patterns together at least so often, or at most one time less.
    Often(Vec<u32>, i64),
}

/// The bound at a node.
struct Bounded {
    bound: i64,
    allowed: Vec<u32>,
}

impl Search<'_> {
    /// Searches from the start.
    pub fn run(&mut self) -> Outcome {
        let rest = Rest::of(self.case);
        let rows = Rows::of(&rest);
        let mut simplex = rows.simplex(self.case, &rest);
        for load in self.patterns {
            simplex.add(&rows.column(self.case, load));
        }
        let allowed = (0..self.patterns.len() as u32).collect();
        let mut open = vec![Node { simplex, allowed, rows: Vec::new() }];
        while let Some(mut node) = open.pop() {
            self.done += 1;
            if self.done > self.steps || (self.stop)() || !node.simplex.optimise(self.stop) {
                return Outcome::Open;
            }
            let Some(bounded) = self.exact(&node, &rows, &rest) else { return Outcome::Open };
            if bounded.bound > self.goal {
                continue;
            }
            self.strike(&mut node, &bounded.allowed);
            let shares = self.shares(&node);
            if let Some(packing) = self.whole(&rest, &shares) {
                return Outcome::Found(packing);
            }
            match self.branch(&shares, &node.allowed, &rest) {
                Some(branch) => self.split(node, branch, &mut open),
                // Whole shares that do not make a plan: the floats are at fault.
                None => return Outcome::Open,
            }
        }
        Outcome::None
    }

    /// Patterns with their shares.
    fn shares(&self, node: &Node) -> Vec<(u32, f64)> {
        let shares = node.simplex.solution().into_iter().filter(|&(at, _)| at < self.patterns.len());
        shares.map(|(at, share)| (at as u32, share)).collect()
    }

    /// Strikes patterns off that are no longer allowed.
    fn strike(&self, node: &mut Node, allowed: &[u32]) {
        let dear = dear(self.case);
        let mut stays = vec![false; self.patterns.len()];
        allowed.iter().for_each(|&at| stays[at as usize] = true);
        for &at in node.allowed.iter().filter(|&&at| !stays[at as usize]) {
            node.simplex.ban(at as usize, dear);
        }
        node.allowed = allowed.to_vec();
    }

    /// The shares rounded down and completed quickly: a plan, if that is enough.
    fn whole(&mut self, rest: &Rest, shares: &[(u32, f64)]) -> Option<Packing> {
        let mut left = rest.clone();
        let mut loads = Vec::new();
        let whole = shares.iter().all(|&(_, share)| (share - share.round()).abs() < 1e-4);
        let least = if whole || self.done.is_multiple_of(3) { 0.5 } else { 0.999 };
        let mut order = shares.to_vec();
        order.sort_by(|one, other| other.1.total_cmp(&one.1));
        for (at, share) in order {
            let load = &self.patterns[at as usize];
            let times = ((share + 1.0 - least).floor() as usize).min(left.times(load));
            left.take(load, times);
            loads.extend(std::iter::repeat_n(load.clone(), times));
        }
        let packing = packing_of(self.case, loads.clone(), left.demand.clone());
        if packing.cost <= self.goal {
            return Some(packing);
        }
        if left.count() == 0 {
            return None;
        }
        if !whole && self.done % 4 != 1 {
            return None;
        }
        let dive = Dive { case: self.case, goal: self.goal, shake: 0, stop: self.stop };
        complete(&dive, &loads, &left, &mut self.chance)
    }

    /// The pair nearest to half together, or the pattern nearest to half a time.
    fn branch(&self, shares: &[(u32, f64)], allowed: &[u32], rest: &Rest) -> Option<Branch> {
        let mut together: BTreeMap<(usize, usize), f64> = BTreeMap::new();
        for &(at, share) in shares {
            for pair in pairs_in(&self.patterns[at as usize]) {
                *together.entry(pair).or_default() += share;
            }
        }
        let off = |share: f64| (share - share.floor() - 0.5).abs();
        let mut ways = vec![0_usize; rest.demand.len()];
        for &at in allowed {
            self.patterns[at as usize].pieces.iter().for_each(|&(kind, _)| ways[kind] += 1);
        }
        let single = |kind: usize| rest.demand[kind] == 1;
        let pair = together.into_iter().filter(|&(_, share)| off(share) < 0.5 - 1e-4).min_by(|one, other| {
            let rank = |&((first, second), share): &((usize, usize), f64)| {
                let few = ways[first].min(ways[second]) as f64;
                (share - share.floor() - 0.6).abs() * 2.0
                    + few / 10.0
                    + if single(first) && single(second) { 0.0 } else { 1000.0 }
            };
            rank(one).total_cmp(&rank(other))
        });
        if let Some((pair, share)) = pair {
            if single(pair.0) && single(pair.1) {
                return Some(Branch::Pair(pair.0, pair.1));
            }
            let holds = |at: &u32| pairs_in(&self.patterns[*at as usize]).any(|of| of == pair);
            let patterns = allowed.iter().copied().filter(holds).collect();
            return Some(Branch::Often(patterns, share.floor() as i64 + 1));
        }
        let split = shares.iter().filter(|&&(_, share)| off(share) < 0.5 - 1e-4);
        let (at, share) = split.min_by(|one, other| off(one.1).total_cmp(&off(other.1)))?;
        Some(Branch::Often(vec![*at], share.floor() as i64 + 1))
    }

    /// Two nodes for one; the last on the stack is searched first.
    fn split(&self, node: Node, branch: Branch, open: &mut Vec<Node>) {
        let mut second = node.clone();
        let mut first = node;
        match branch {
            Branch::Pair(one, other) => {
                let has = |at: u32, kind: usize| self.patterns[at as usize].pieces.iter().any(|&(of, _)| of == kind);
                let apart =
                    first.allowed.iter().copied().filter(|&at| !(has(at, one) && has(at, other))).collect::<Vec<_>>();
                let joined =
                    first.allowed.iter().copied().filter(|&at| has(at, one) == has(at, other)).collect::<Vec<_>>();
                self.strike(&mut first, &joined);
                self.strike(&mut second, &apart);
            }
            Branch::Often(patterns, times) => {
                self.limit(&mut first, &patterns, Sense::AtLeast, times);
                self.limit(&mut second, &patterns, Sense::AtMost, times - 1);
            }
        }
        open.push(second);
        open.push(first);
    }

    fn limit(&self, node: &mut Node, patterns: &[u32], sense: Sense, times: i64) {
        if sense == Sense::AtMost && times == 0 {
            let stay: Vec<u32> = node.allowed.iter().copied().filter(|at| !patterns.contains(at)).collect();
            return self.strike(node, &stay);
        }
        let over: Vec<usize> = patterns.iter().map(|&at| at as usize).collect();
        node.simplex.add_row(&over, sense, times as f64, dear(self.case));
        node.rows.push((patterns.to_vec(), sense, times));
    }

    /// Exact bound over the allowed patterns, and those that stay within reach.
    fn exact(&self, node: &Node, rows: &Rows, rest: &Rest) -> Option<Bounded> {
        let case = self.case;
        let (prices, _) = rows.prices(&node.simplex);
        let worth = scaled(case, &prices)?;
        let added = &node.simplex.prices()[node.simplex.prices().len() - node.rows.len()..];
        let mut bonus = vec![0_i64; self.patterns.len()];
        let pieces = rest.demand.iter().zip(&worth.prices);
        let mut total: i128 = pieces.map(|(&demand, &price)| demand as i128 * i128::from(price)).sum();
        for ((patterns, sense, times), &price) in node.rows.iter().zip(added) {
            let price = (price * worth.scale as f64) as i64;
            let price = if *sense == Sense::AtLeast { price.max(0) } else { price.min(0) };
            patterns.iter().for_each(|&at| bonus[at as usize] += price);
            total += i128::from(price) * i128::from(*times);
        }
        let mut rents = vec![0_i64; case.bins.len()];
        let mut excess: Vec<i64> = Vec::with_capacity(node.allowed.len());
        for &at in &node.allowed {
            let load = &self.patterns[at as usize];
            let value: i64 = load.pieces.iter().map(|&(kind, count)| worth.prices[kind] * count as i64).sum();
            let over = case.shifted_cost(load.bin, case.fill_of(load)) * worth.scale - value - bonus[at as usize];
            rents[load.bin] = rents[load.bin].max(-over);
            excess.push(over);
        }
        let count = rest.count();
        for (bin, &rent) in rents.iter().enumerate() {
            total -= i128::from(rent) * rest.supply[bin].min(count) as i128;
        }
        let wanted = case.wanted();
        let bound = (-((-total).div_euclid(i128::from(worth.scale)))) as i64 - wanted;
        let reach = i128::from(self.goal + wanted) * i128::from(worth.scale) - total;
        let within = |over: i64, at: u32| i128::from(over + rents[self.patterns[at as usize].bin]) <= reach;
        let pairs = node.allowed.iter().zip(&excess);
        let allowed = pairs.filter(|&(&at, &over)| within(over, at)).map(|(&at, _)| at).collect();
        Some(Bounded { bound, allowed })
    }
}

/// The pairs of kinds in a pattern; a kind there twice pairs with itself.
fn pairs_in(load: &Load) -> impl Iterator<Item = (usize, usize)> {
    let pieces = &load.pieces;
    pieces.iter().enumerate().flat_map(move |(at, &(first, count))| {
        let same = (count > 1).then_some((first, first));
        same.into_iter().chain(pieces[at + 1..].iter().map(move |&(second, _)| (first, second)))
    })
}
