//! Blocks, purchases, friction and winches, by the room `rig`.

use super::{Answers, Entry, above_zero, finite, number};
use crate::Trouble;
use crate::given::Given;
use rig::block_load;
use rig::tackle::{
    Fall, SheaveBearing, Tackle, capstan, sheave_efficiency, ten_per_cent_rule, turn_efficiency, winch_ratio,
};

pub(super) const ENTRIES: &[Entry] = &[
    ("block-load", "rig", block),
    ("tackle", "rig", tackle),
    ("ten-per-cent-rule", "rig", ten_per_cent),
    ("capstan", "rig", drum),
    ("sheave-turn", "rig", sheave_turn),
    ("winch", "rig", winch),
];

fn block(given: &Given) -> Result<Answers, Trouble> {
    let before = given.force("before")?;
    let after = if given.has("after") { given.force("after")? } else { before };
    Ok(vec![("load", number(block_load(before, after, given.angle("wrap")?)))])
}

/// Efficiency of one sheave: given, or that of a bearing the room knows.
fn efficiency(given: &Given) -> Result<f64, Trouble> {
    if given.has("efficiency") {
        return given.ratio("efficiency");
    }
    let bearing = match given.text("bearing")? {
        "plain" => SheaveBearing::Plain,
        "roller" => SheaveBearing::Roller,
        "ball" => SheaveBearing::Ball,
        other => return Err(Trouble::malformed(format!("{other:?} is no bearing"))),
    };
    sheave_efficiency(bearing).get().ok_or_else(|| Trouble::refused("no efficiency"))
}

fn tackle(given: &Given) -> Result<Answers, Trouble> {
    let fall = match given.text("fall")? {
        "standing block" => Fall::FixedBlock,
        "moving block" => Fall::MovingBlock,
        other => return Err(Trouble::malformed(format!("{other:?} is no block"))),
    };
    let efficiency = efficiency(given)?;
    let tackle = Tackle { parts: given.tally("parts")?, fall, efficiency };
    // A lead block is one more sheave between the tackle and the hand.
    let leads = if given.has("lead_blocks") { given.tally("lead_blocks")? } else { 0 };
    let factor = finite(1.0 / (tackle.advantage() * efficiency.powi(leads as i32)))?;
    let mut answers = vec![("advantage", number(1.0 / factor)), ("pull_over_load", number(factor))];
    let share = finite(tackle.advantage() / f64::from(tackle.parts))?;
    answers.push(("useful_work", number(share)));
    if given.has("load") {
        answers.push(("pull", number(given.force("load")? * factor)));
    }
    Ok(answers)
}

fn ten_per_cent(given: &Given) -> Result<Answers, Trouble> {
    let power = given.tally("power")?;
    if power == 0 {
        return Err(Trouble::refused("no power"));
    }
    Ok(vec![("pull", number(ten_per_cent_rule(given.force("load")?, given.tally("sheaves")?, power)))])
}

fn drum(given: &Given) -> Result<Answers, Trouble> {
    let held = finite(capstan(given.ratio("friction")?, given.angle("wrap")?))?;
    Ok(vec![("held_over_pull", number(held))])
}

fn sheave_turn(given: &Given) -> Result<Answers, Trouble> {
    let left = turn_efficiency(given.ratio("half_turn")?, given.angle("wrap")?);
    Ok(vec![("left", number(finite(left)?))])
}

fn winch(given: &Given) -> Result<Answers, Trouble> {
    let drum = above_zero(given.length("drum")?, "the drum")?;
    let ratio = winch_ratio(given.length("handle")?, drum, given.ratio("gear")?);
    Ok(vec![("ratio", number(ratio)), ("pull", number(given.force("hand")? * ratio))])
}
