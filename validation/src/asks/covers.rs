//! Creep, water, wind and weight of rope, by `cordage` and `makeup`.

use super::{Answers, Entry, above_zero, finite, number};
use crate::Trouble;
use crate::given::Given;
use cordage::{Fibre, creep_ratio};
use makeup::{water_held, weight_in_water, wind_drag};
use units::Mass;

pub(super) const ENTRIES: &[Entry] = &[
    ("creep-ratio", "cordage", creep),
    ("water-held", "makeup", water),
    ("wind-on-rope", "makeup", wind),
    ("weight-in-water", "makeup", floating),
];

fn fibre(given: &Given) -> Result<Fibre, Trouble> {
    let word = given.text("fibre")?;
    Fibre::from_word(word).ok_or_else(|| Trouble::malformed(format!("{word:?} is no fibre")))
}

/// How many times faster it creeps in the second state.
fn creep(given: &Given) -> Result<Answers, Trouble> {
    let celsius = |name| given.ratio(name).and_then(finite);
    let first = (given.pressure("stress")?, celsius("celsius")?);
    let second = (given.pressure("then_stress")?, celsius("then_celsius")?);
    Ok(vec![("ratio", number(creep_ratio(first, second)))])
}

/// Water over dry mass, least and most, and where a measured pick-up lies
/// between them: 0 at the least, 1 at the most.
fn water(given: &Given) -> Result<Answers, Trouble> {
    let dry = Mass::of_kg(1.0);
    let (least, most) = water_held(fibre(given)?, dry);
    let (least, most) = (least.to_kg(), most.to_kg());
    let measured = given.ratio("measured")?;
    Ok(vec![
        ("least", number(least)),
        ("most", number(most)),
        ("between", number(finite((measured - least) / (most - least))?)),
    ])
}

fn wind(given: &Given) -> Result<Answers, Trouble> {
    let diameter = above_zero(given.length("size")?, "the size")?;
    let length = above_zero(given.length("length")?, "the length")?;
    Ok(vec![("pull", number(wind_drag(given.speed("wind")?, diameter, length)))])
}

fn floating(given: &Given) -> Result<Answers, Trouble> {
    Ok(vec![("share", number(weight_in_water(fibre(given)?)))])
}
