//! Every pattern that a better plan could use.
//!
//! At exact prices each pattern has a whole-number excess of cost over worth,
//! and the excesses of a plan add up to its cost above the bound. A plan within
//! reach therefore uses only patterns whose own excess is within reach. They
//! are listed by depth-first search over a table of the best completion, so no
//! step is wasted.

use crate::case::{Case, Load};
use crate::columns::{Proof, Rest};
use crate::fill::step_of;

/// Most cells of a completion table, kinds times fills.
const MOST_CELLS: usize = 24_000_000;
const NEVER: i64 = i64::MIN / 4;

/// All patterns with an excess of at most `budget`, or `None` when there are
/// more than `most` or the tables would be too large.
pub(crate) fn patterns_within(
    case: &Case,
    proof: &Proof,
    budget: i64,
    most: usize,
    stop: &dyn Fn() -> bool,
) -> Option<Vec<Load>> {
    let step = step_of(case);
    let rest = Rest::of(case);
    let mut found = Vec::new();
    for bin in 0..case.bins.len() {
        let kinds: Vec<usize> = (0..case.kinds.len()).filter(|&kind| case.fits(kind, bin)).collect();
        let cells = (case.capacity(bin) / step) as usize;
        if (kinds.len() + 1).saturating_mul(cells + 1) > MOST_CELLS || stop() {
            return None;
        }
        let best = completions(case, proof, bin, &kinds, (cells, step));
        let mut walk = Walk {
            case,
            proof,
            rest: &rest,
            bin,
            kinds: &kinds,
            best: &best,
            row: cells + 1,
            step,
            least: -budget - proof.rents[bin],
            most,
            pieces: Vec::new(),
            found: &mut found,
        };
        if !walk.go(0, 0, 0) {
            return None;
        }
    }
    Some(found)
}

/// By kind and fill: the most that worth added from this kind on exceeds the final cost.
fn completions(case: &Case, proof: &Proof, bin: usize, kinds: &[usize], size: (usize, i64)) -> Vec<i64> {
    let (cells, step) = size;
    let row = cells + 1;
    let mut best = vec![NEVER; (kinds.len() + 1) * row];
    let last = kinds.len() * row;
    for fill in 0..row {
        best[last + fill] = -case.shifted_cost(bin, fill as i64 * step) * proof.worth.scale;
    }
    for (at, &kind) in kinds.iter().enumerate().rev() {
        let each = (case.kinds[kind].width / step) as usize;
        let price = proof.worth.prices[kind];
        let (head, tail) = best.split_at_mut((at + 1) * row);
        let (now, next) = (&mut head[at * row..], &tail[..row]);
        for fill in 0..row {
            let mut most = next[fill];
            let mut worth = 0;
            let mut to = fill + each;
            for _ in 0..case.kinds[kind].demand {
                if to >= row {
                    break;
                }
                worth += price;
                most = most.max(worth + next[to]);
                to += each;
            }
            now[fill] = most;
        }
    }
    best
}

struct Walk<'a> {
    case: &'a Case,
    proof: &'a Proof,
    rest: &'a Rest,
    bin: usize,
    kinds: &'a [usize],
    best: &'a [i64],
    row: usize,
    step: i64,
    /// Least worth above cost that is still within reach.
    least: i64,
    most: usize,
    pieces: Vec<(usize, usize)>,
    found: &'a mut Vec<Load>,
}

impl Walk<'_> {
    fn go(&mut self, at: usize, fill: usize, worth: i64) -> bool {
        if worth + self.best[at * self.row + fill] < self.least {
            return true;
        }
        let Some(&kind) = self.kinds.get(at) else {
            if !self.pieces.is_empty() {
                self.found.push(Load { bin: self.bin, pieces: self.pieces.clone() });
            }
            return self.found.len() <= self.most;
        };
        let each = (self.case.kinds[kind].width / self.step) as usize;
        let most = self.rest.demand[kind].min((self.row - 1 - fill) / each);
        for count in (0..=most).rev() {
            if count > 0 {
                self.pieces.push((kind, count));
            }
            let price = self.proof.worth.prices[kind];
            let fine = self.go(at + 1, fill + each * count, worth + price * count as i64);
            if count > 0 {
                self.pieces.pop();
            }
            if !fine {
                return false;
            }
        }
        true
    }
}
