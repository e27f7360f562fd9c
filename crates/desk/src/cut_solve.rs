//! A plan sought within the time, checked, and what the rack alone lacks.

use crate::cut_ask::{CutProgress, CutRequest, Watch};
use crate::cut_table::Table;
use crate::problem::Problem;
use cutting::{Job, Mistake, Plan, Progress, Settings, Uncut, Why, check, mistakes, plan};
use std::cell::Cell;
use std::collections::HashSet;
use std::time::{Duration, Instant};
use units::Millimetres;

const USUAL_LIMIT: Duration = Duration::from_secs(10);
/// A gap beyond this is that of an earlier goal: weighed, no longer rope.
const NO_LENGTH: i64 = 1_000_000_000;

/// A checked plan.
pub(crate) struct Solved {
    pub plan: Plan,
    /// Pieces that the rack alone cannot give.
    pub not_from_rack: Vec<Uncut>,
    pub seconds: f64,
}

/// The best plan that is found in the time.
pub(crate) fn solve(table: &Table, request: &CutRequest, watch: &Watch<'_>) -> Result<Solved, Problem> {
    let begun = Instant::now();
    let limit = request.limit.unwrap_or(USUAL_LIMIT);
    let (rope, gap) = (Cell::new(None::<String>), Cell::new(None));
    let tell = || {
        let name = rope.take().unwrap_or_default();
        (watch.told)(CutProgress { rope: &name, gap: gap.get(), time: begun.elapsed() });
        rope.set(Some(name));
    };
    let stop = || {
        tell();
        begun.elapsed() >= limit || (watch.stop)()
    };
    let progress = |step: Progress<'_>| {
        rope.set(Some(step.rope.to_owned()));
        gap.set((step.gap < NO_LENGTH).then(|| Millimetres::new(step.gap).to_length()));
        tell();
    };
    let settings = Settings { seed: request.seed, tolerance: 0, stop: &stop, progress: &progress };
    let found = checked(&table.job, &settings)?;
    let not_from_rack = if table.offers.is_empty() {
        found.uncut.clone()
    } else if found.totals.money > 0 || !found.uncut.is_empty() {
        beyond_the_rack(&table.rack_only(), &settings)?
    } else {
        Vec::new()
    };
    Ok(Solved { plan: found, not_from_rack, seconds: begun.elapsed().as_secs_f64() })
}

/// A plan that has passed the independent check.
fn checked(job: &Job, settings: &Settings<'_>) -> Result<Plan, Problem> {
    let found = plan(job, settings).map_err(|refused| {
        let mut problem = Problem::refused("cannot-plan", "these pieces cannot be cut from this rack");
        problem.hints = refused.mistakes.iter().map(ToString::to_string).collect();
        problem
    })?;
    check(job, &found).map_err(|faults| {
        let mut problem =
            Problem::refused("plan-faulty", "the plan did not pass its independent check: nothing is to be cut by it");
        problem.hints = faults.iter().map(ToString::to_string).collect();
        problem
    })?;
    Ok(found)
}

/// The pieces that the rack alone cannot give, those too long for every reel
/// among them.
fn beyond_the_rack(job: &Job, settings: &Settings<'_>) -> Result<Vec<Uncut>, Problem> {
    let mut job = job.clone();
    let mut beyond = Vec::new();
    // Sets are looked at only once every piece fits by itself.
    for _ in 0..2 {
        let (mut pieces, mut sets) = (HashSet::new(), HashSet::new());
        for mistake in mistakes(&job) {
            match mistake {
                Mistake::PieceLongerThanEveryReel { id, .. } => pieces.insert(id),
                Mistake::SetLongerThanEveryReel { set, .. } => sets.insert(set),
                _ => false,
            };
        }
        // A pair is cut together or not at all.
        let of_piece = job.pieces.iter().filter(|piece| pieces.contains(&piece.id));
        sets.extend(of_piece.filter_map(|piece| piece.same_reel.clone()));
        job.pieces.retain(|piece| {
            let in_set = piece.same_reel.as_ref().is_some_and(|set| sets.contains(set));
            let too_long = pieces.contains(&piece.id) || in_set;
            if too_long {
                beyond.push(Uncut { piece: piece.id.clone(), why: Why::NotEnough });
            }
            !too_long
        });
    }
    beyond.extend(checked(&job, settings)?.uncut);
    Ok(beyond)
}
