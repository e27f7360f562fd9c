//! Batch sets settled: which batch each set comes from.

use crate::Settings;
use crate::case::Case;
use crate::solve::Solved;

/// Most choices of batches tried one by one.
const MOST_CHOICES: usize = 256;

/// The best solution over the choices of a batch for every batch set.
pub(crate) fn settle(case: &Case, settings: &Settings<'_>, solve: &dyn Fn(&Case) -> Solved) -> Solved {
    if case.sets == 0 {
        return solve(case);
    }
    let mut choice = vec![0; case.sets];
    let mut best: Option<Solved> = None;
    for _ in 0..MOST_CHOICES {
        let solved = solve(&chosen(case, &choice));
        if best.as_ref().is_none_or(|best| solved.packing.cost < best.packing.cost) {
            best = Some(solved);
        }
        if !next(&mut choice, case.batches) || (settings.stop)() {
            break;
        }
    }
    let mut best = best.unwrap_or_else(|| solve(&chosen(case, &choice)));
    best.bound = best.bound.min(solve(case).bound);
    best
}

fn chosen(case: &Case, choice: &[usize]) -> Case {
    let mut chosen = case.clone();
    for kind in &mut chosen.kinds {
        kind.batch = kind.set.map(|set| choice[set]);
    }
    chosen
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
