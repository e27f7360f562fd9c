//! Cut plans, by the room `cutting`. Each plan is checked before it is
//! answered.

use super::{Answers, Entry, number, word};
use crate::Trouble;
use crate::amount::Amount;
use crate::expected::Answer;
use crate::given::Given;
use cutting::{Aim, Job, Piece, Plan, Reel, Rules, Settings, check, plan};
use units::{Length, Millimetres};

pub(super) const ENTRIES: &[Entry] =
    &[("fewest-reels", "cutting", fewest_reels), ("least-loss", "cutting", least_loss)];

/// Whole millimetres, or a refusal.
fn whole(length: Length) -> Result<Millimetres, Trouble> {
    let near = length.nearest_mm();
    let off = (near.to_length() - length).abs();
    if off > Length::of_mm(1e-6) { Err(Trouble::refused(format!("{length} is no whole millimetre"))) } else { Ok(near) }
}

fn pieces(given: &Given) -> Result<Vec<Piece>, Trouble> {
    let (lengths, counts) = (given.lengths("lengths")?, given.tallies("counts")?);
    if lengths.len() != counts.len() {
        return Err(Trouble::malformed("lengths and counts are not of one number"));
    }
    let mut pieces = Vec::new();
    for (length, count) in lengths.into_iter().zip(counts) {
        for _ in 0..count {
            pieces.push(Piece::new(format!("piece {}", pieces.len() + 1), "rope", whole(length)?));
        }
    }
    Ok(pieces)
}

fn planned(job: &Job) -> Result<Plan, Trouble> {
    let plan = plan(job, &Settings::default()).map_err(Trouble::refused)?;
    check(job, &plan).map_err(|faults| Trouble::refused(format!("the plan is wrong: {faults:?}")))?;
    if plan.uncut.is_empty() { Ok(plan) } else { Err(Trouble::refused("not enough rope")) }
}

fn proven(plan: &Plan) -> Answer {
    word(if plan.proven_least_waste() { "yes" } else { "no" })
}

/// Equal reels without end, every leftover scrap: the fewest reels. Answers
/// also what the pieces alone need, rounded up.
fn fewest_reels(given: &Given) -> Result<Answers, Trouble> {
    let pieces = pieces(given)?;
    let length = whole(given.length("reel")?)?;
    let reel = Reel { count: pieces.len() as u32, ..Reel::new("reel", "rope", length) };
    let rules = Rules::keeping(Millimetres::new(length.count() + 1));
    let job = Job { pieces, reels: vec![reel], rules };
    let plan = planned(&job)?;
    let total: i64 = job.pieces.iter().map(|piece| piece.length.count()).sum();
    Ok(vec![
        ("reels", Answer::Count(plan.totals.reels as i64)),
        ("material", Answer::Count((total + length.count() - 1) / length.count())),
        ("proven", proven(&plan)),
        ("waste", number(1.0 - total as f64 / (plan.totals.reels as f64 * length.count() as f64))),
    ])
}

/// Reels of several lengths, a loss per cut, and leftovers kept from a length
/// on at a value: the least loss.
fn least_loss(given: &Given) -> Result<Answers, Trouble> {
    let (lengths, counts) = (given.lengths("reels")?, given.tallies("reel_counts")?);
    let reels = lengths
        .into_iter()
        .zip(counts)
        .enumerate()
        .map(|(at, (length, count))| {
            let reel = Reel::new(format!("reel {}", at + 1), "rope", whole(length)?);
            Ok(Reel { count, ..reel })
        })
        .collect::<Result<Vec<_>, Trouble>>()?;
    let mut rules = Rules::keeping(whole(given.length("smallest_remnant")?)?);
    rules.loss_per_cut = whole(given.length("loss_per_cut")?)?;
    rules.remnant_value = given.has("remnant_value").then(|| whole(given.length("remnant_value")?)).transpose()?;
    let plan = planned(&Job { pieces: pieces(given)?, reels, rules })?;
    let goal = plan.goal(Aim::Loss).ok_or_else(|| Trouble::refused("no loss"))?;
    Ok(vec![
        ("loss", number(Amount::from(Length::of_mm(goal.value as f64)))),
        ("bound", number(Amount::from(Length::of_mm(goal.bound as f64)))),
        ("proven", proven(&plan)),
    ])
}
