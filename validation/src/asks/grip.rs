//! Braids round tails, grip and strength at a tail's end, by the room
//! `splice`.

use super::{Answers, Entry, above_zero, finite, number};
use crate::Trouble;
use crate::given::Given;
use cordage::Fibre;
use splice::{
    Braid, BraidShape, FULL_RADIUS, LoadLaw, Slice, Tail, common_taper, critical_bury_even, grip_needed,
    grip_sum_full_contact, hold, leg_share, margin_with_exponent, prediction, step_share, turn_penalty, usual_belief,
};
use units::{Angle, Force, Length, Pressure};

pub(super) const ENTRIES: &[Entry] = &[
    ("inward-force", "splice", inward_force),
    ("sleeve-under-pressure", "splice", sleeve),
    ("critical-bury", "splice", critical_bury),
    ("opened-braid", "splice", opened),
    ("legs", "splice", legs),
    ("tapered-end", "splice", tapered_end),
    ("friction-by-load", "splice", friction_by_load),
    ("believed-hold", "splice", believed),
    ("blunt-over-tapered", "splice", blunt_over_tapered),
    ("blunt-predicted", "splice", blunt_predicted),
];

/// A braid whose strands stand at `angle` at `radius` round its full tail, and
/// the diameter that its lengths are told in. How far it opened does not enter
/// what is asked of it; its strands are thin, so that it is never jammed.
fn round_tail(given: &Given) -> Result<(Braid, Length), Trouble> {
    const OPENED: f64 = 1.2;
    let free = Angle::of_radians(finite((given.angle("angle")?.sin() / OPENED).asin())?);
    let shape = BraidShape { strand_width: Some(0.02), ..BraidShape::new(free, OPENED) };
    let diameter = above_zero(given.length("radius")?, "the radius")? * (1.0 / FULL_RADIUS);
    Ok((Braid::new(shape).map_err(Trouble::refused)?, diameter))
}

fn inward_force(given: &Given) -> Result<Answers, Trouble> {
    let (braid, diameter) = round_tail(given)?;
    let per_metre = given.force("pull")?.to_n() * braid.grip(1.0) / diameter.to_m();
    let round = 2.0 * std::f64::consts::PI * given.length("radius")?.to_m();
    Ok(vec![("per_metre", number(Force::of_n(per_metre))), ("pressure", number(Pressure::of_pa(per_metre / round)))])
}

/// A braided sleeve under a pressure from inside: tension of the braid, and
/// what is left of it outside once its end's pressure is taken off.
fn sleeve(given: &Given) -> Result<Answers, Trouble> {
    let (braid, diameter) = round_tail(given)?;
    let (radius, pressure) = (given.length("radius")?.to_m(), given.pressure("pressure")?.to_pa());
    let per_metre = pressure * 2.0 * std::f64::consts::PI * radius;
    let braid_tension = per_metre * diameter.to_m() / braid.grip(1.0);
    let on_end = pressure * std::f64::consts::PI * radius * radius;
    Ok(vec![
        ("braid_tension", number(Force::of_n(braid_tension))),
        ("outside", number(Force::of_n(braid_tension - on_end))),
    ])
}

fn critical_bury(given: &Given) -> Result<Answers, Trouble> {
    let (braid, diameter) = round_tail(given)?;
    let bury = critical_bury_even(&braid, given.ratio("friction")?, given.ratio("tail_share")?);
    let bury = bury.ok_or_else(|| Trouble::refused("no bury holds"))?;
    Ok(vec![("bury", number(diameter * finite(bury)?))])
}

/// A braid opened by a full tail of its own.
fn opened_braid(given: &Given) -> Result<Braid, Trouble> {
    Braid::new(BraidShape::new(given.angle("angle")?, given.ratio("inflation")?)).map_err(Trouble::refused)
}

fn opened(given: &Given) -> Result<Answers, Trouble> {
    let braid = opened_braid(given)?;
    Ok(vec![("angle", number(braid.angle(1.0))), ("shortening", number(1.0 - braid.shortened(1.0)))])
}

fn legs(given: &Given) -> Result<Answers, Trouble> {
    let share =
        if given.has("tail_share") { given.ratio("tail_share")? } else { leg_share(given.ratio("pin_friction")?) };
    let needed = finite(grip_needed(share))?;
    Ok(vec![("share", number(share)), ("needed", number(needed)), ("over_even", number(needed / grip_needed(0.5)))])
}

/// Strength of a braid over a tail whose area falls evenly to nothing over a
/// stretch: the least share of strand strength along it. All of the inward
/// force is taken to reach the thin tail.
fn tapered_end(given: &Given) -> Result<Answers, Trouble> {
    const SLICES: usize = 4000;
    let braid = opened_braid(given)?;
    let (friction, inflation) = (given.ratio("friction")?, given.ratio("inflation")?);
    // The stretch at which the index does not pass one, as published for it.
    let enough = (inflation * inflation - 1.0) * braid.free_radius() / (2.0 * friction);
    let stretch = finite(enough * given.ratio("stretch_over_enough")?)?;
    let slices: Vec<Slice> = (0..SLICES)
        .map(|at| Slice { length: stretch / SLICES as f64, share: (at as f64 + 0.5) / SLICES as f64 })
        .collect();
    let mut least = if stretch > 0.0 { 1.0 } else { braid.shortened(1.0) };
    let mut held = 0.0;
    for slice in &slices {
        held += grip_sum_full_contact(&braid, std::slice::from_ref(slice));
        least = (braid.shortened(slice.share) * (friction * held).exp()).min(least);
    }
    Ok(vec![("share", number(finite(least)?))])
}

/// How far friction has fallen at so many times the tension, and the bury that
/// makes up for it: both from the margin of a blunt tail.
fn friction_by_load(given: &Given) -> Result<Answers, Trouble> {
    let braid = Braid::new(BraidShape::new(Angle::of_degrees(15.0), 1.6)).map_err(Trouble::refused)?;
    let slices = Tail::blunt(60.0).slices();
    let exponent = given.ratio("exponent")?;
    let at = |over_reference| margin_with_exponent(&braid, &slices, 0.1, 0.5, LoadLaw { exponent, over_reference });
    let fallen = finite(at(given.ratio("tension_over_reference")?) / at(1.0))?;
    Ok(vec![("friction", number(fallen)), ("bury", number(1.0 / fallen))])
}

/// Margin of a bury for all that is believed of a fibre's braid.
fn believed(given: &Given) -> Result<Answers, Trouble> {
    let word = given.text("fibre")?;
    let fibre = Fibre::from_word(word).ok_or_else(|| Trouble::malformed(format!("{word:?} is no fibre")))?;
    let bury = given.ratio("bury_diameters")?;
    if bury <= 0.0 {
        return Err(Trouble::refused("no bury"));
    }
    let held = hold(usual_belief(fibre).map_err(Trouble::refused)?, &common_taper(bury).slices(), 0.5);
    Ok(vec![("low", number(held.margin.low)), ("usual", number(held.margin.usual)), ("chance", number(held.chance))])
}

/// The fit itself: the blunt end's share of the tapered one's strength.
fn blunt_over_tapered(given: &Given) -> Result<Answers, Trouble> {
    let penalty = turn_penalty().map_err(Trouble::refused)?;
    let share = step_share(&opened_braid(given)?, 1.0, 0.0, 0.0, penalty.per_radian);
    Ok(vec![("ratio", number(share))])
}

fn blunt_predicted(given: &Given) -> Result<Answers, Trouble> {
    let found = prediction(given.angle("angle")?, given.ratio("inflation")?).map_err(Trouble::refused)?;
    Ok(vec![("share", number(found.predicted))])
}
