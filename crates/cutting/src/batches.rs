//! Batch sets settled: which batch each set comes from.
//!
//! The case without the sets bounds them all. Few choices are all tried; of
//! many, one set at a time is moved to another batch while that helps.

use crate::Settings;
use crate::case::{Case, Packing};
use crate::solve::Solved;

/// Most choices of batches all tried.
const MOST_CHOICES: usize = 256;
/// Rounds of moving one set at a time.
const ROUNDS: usize = 3;

/// Solves a case: where to start from, and the cost that is worth beating.
type Solve<'a> = dyn Fn(&Case, Option<&Packing>, i64) -> Solved + 'a;

/// The best solution over the choices of a batch for every batch set.
pub(crate) fn settle(case: &Case, start: Option<&Packing>, settings: &Settings<'_>, solve: &Solve<'_>) -> Solved {
    if case.sets == 0 {
        return solve(case, start, i64::MAX);
    }
    let free = solve(case, None, i64::MAX);
    let mut choice = start.map_or_else(|| vec![0; case.sets], |start| choice_of(case, start));
    let mut best = solve(&chosen(case, &choice), start, i64::MAX);
    let mut bound = best.bound;
    let choices = (0..case.sets).try_fold(1_usize, |product, _| product.checked_mul(case.batches));
    if choices.is_some_and(|choices| choices <= MOST_CHOICES) {
        choice.fill(0);
        loop {
            if best.packing.cost <= free.bound || (settings.stop)() {
                bound = bound.min(free.bound);
                break;
            }
            let solved = solve(&chosen(case, &choice), None, best.packing.cost);
            bound = bound.min(solved.bound);
            if solved.packing.cost < best.packing.cost {
                best = solved;
            }
            if !next(&mut choice, case.batches) {
                break;
            }
        }
    } else {
        one_by_one(case, &mut choice, &mut best, (free.bound, settings), solve);
        bound = free.bound;
    }
    best.bound = bound.max(free.bound).min(best.packing.cost);
    if best.bound <= free.bound {
        best.certificate = free.certificate;
    }
    best
}

/// Moves one set at a time to another batch while that costs less.
fn one_by_one(case: &Case, choice: &mut [usize], best: &mut Solved, until: (i64, &Settings<'_>), solve: &Solve<'_>) {
    let (enough, settings) = until;
    for _ in 0..ROUNDS {
        let before = best.packing.cost;
        for set in 0..case.sets {
            for batch in 0..case.batches {
                if best.packing.cost <= enough || (settings.stop)() {
                    return;
                }
                let was = std::mem::replace(&mut choice[set], batch);
                if was == batch {
                    continue;
                }
                let solved = solve(&chosen(case, choice), None, best.packing.cost);
                if solved.packing.cost < best.packing.cost {
                    *best = solved;
                } else {
                    choice[set] = was;
                }
            }
        }
        if best.packing.cost == before {
            return;
        }
    }
}

fn chosen(case: &Case, choice: &[usize]) -> Case {
    let mut chosen = case.clone();
    for kind in &mut chosen.kinds {
        kind.batch = kind.set.map(|set| choice[set]);
    }
    chosen
}

/// The batches that a packing takes its sets from.
fn choice_of(case: &Case, packing: &Packing) -> Vec<usize> {
    let mut choice = vec![0; case.sets];
    for load in &packing.loads {
        for set in load.pieces.iter().filter_map(|&(kind, _)| case.kinds[kind].set) {
            choice[set] = case.bins[load.bin].batch;
        }
    }
    choice
}

fn next(choice: &mut [usize], batches: usize) -> bool {
    for place in choice {
        *place += 1;
        if *place < batches {
            return true;
        }
        *place = 0;
    }
    false
}
