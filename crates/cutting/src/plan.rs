//! A job planned: rope by rope, batch sets settled, goals in order.

use std::cell::Cell;

use crate::answer::{Plan, RopePlan, Totals};
use crate::assemble::Assembled;
use crate::goals::{goals_of, goals_together};
use crate::mistake::{Refused, mistakes};
use crate::model::Job;
use crate::shelf::{Answer, find_within};
use crate::{Progress, Settings};

/// The best plan for a job.
///
/// The same job, seed and effort give the same plan, unless `stop` cuts the
/// search short.
///
/// # Errors
/// A job with mistakes; all of them are listed.
///
/// # Example
/// ```
/// use cutting::{Aim, Job, Piece, Reel, Rules, Settings, plan};
/// use units::Millimetres;
/// let mm = Millimetres::new;
/// let piece = |id: &str, length| Piece::new(id, "10 mm", mm(length));
/// let job = Job {
///     pieces: vec![piece("halyard", 30_000), piece("sheet", 18_000), piece("tail", 2_000)],
///     reels: vec![Reel::new("A", "10 mm", mm(50_000)), Reel::new("B", "10 mm", mm(100_000))],
///     rules: Rules::keeping(mm(1_000)),
/// };
/// let plan = plan(&job, &Settings::default()).map_err(|refused| refused.to_string())?;
/// assert_eq!(plan.reels[0].reel, "A");
/// assert_eq!(plan.goal(Aim::Loss).map(|goal| (goal.value, goal.proven)), Some((0, true)));
/// # Ok::<(), String>(())
/// ```
pub fn plan(job: &Job, settings: &Settings<'_>) -> Result<Plan, Refused> {
    let mistakes = mistakes(job);
    if !mistakes.is_empty() {
        return Err(Refused { mistakes });
    }
    let mut names: Vec<&str> = job.pieces.iter().map(|piece| piece.rope.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    let stopped = Cell::new(false);
    let stop = || {
        stopped.set(stopped.get() || (settings.stop)());
        stopped.get()
    };
    let watched = Settings { stop: &stop, ..*settings };
    let mut reels = Vec::new();
    let mut uncut = Vec::new();
    let mut ropes = Vec::new();
    for rope in names {
        let (part, rope_plan) = plan_rope(job, rope, &watched);
        reels.extend(part.reels);
        uncut.extend(part.uncut);
        ropes.push(rope_plan);
    }
    let totals = ropes.iter().fold(Totals::NONE, |sum, part| sum.and(&part.totals));
    let goals = goals_together(&ropes.iter().map(|part| part.goals.clone()).collect::<Vec<_>>());
    Ok(Plan { reels, uncut, totals, goals, ropes, interrupted: stopped.get() })
}

fn plan_rope(job: &Job, rope: &str, settings: &Settings<'_>) -> (Assembled, RopePlan) {
    let told = |step: Progress<'_>| (settings.progress)(Progress { rope, ..step });
    let Answer { found, part, bounds } = find_within(job, rope, &Settings { progress: &told, ..*settings });
    let goals = goals_of(job, &part, rope, &found.uncut, bounds);
    let plan = RopePlan { rope: rope.to_owned(), totals: part.totals, goals, certificate: found.certificate };
    (part, plan)
}
