//! Wind and sail force, by the room `rig`.

use super::{Answers, Entry, number};
use crate::Trouble;
use crate::given::Given;
use rig::coefficients::{CoefficientSet, SailTable, at};
use rig::wind::{Sailing, apparent, gradient, pressure};
use units::{Angle, Force, Speed};

pub(super) const ENTRIES: &[Entry] = &[
    ("wind-pressure", "rig", wind_pressure),
    ("apparent-wind", "rig", apparent_wind),
    ("wind-gradient", "rig", wind_gradient),
    ("sail-coefficients", "rig", sail_coefficients),
    ("sail-force", "rig", sail_force),
];

fn wind_pressure(given: &Given) -> Result<Answers, Trouble> {
    Ok(vec![("pressure", number(pressure(given.speed("wind")?)))])
}

fn apparent_wind(given: &Given) -> Result<Answers, Trouble> {
    let felt = apparent(&Sailing {
        wind: given.speed("wind")?,
        angle: given.angle("angle")?,
        boat: given.speed("boat")?,
        heel: if given.has("heel") { given.angle("heel")? } else { Angle::ZERO },
    });
    Ok(vec![("speed", number(felt.speed)), ("angle", number(felt.angle))])
}

fn wind_gradient(given: &Given) -> Result<Answers, Trouble> {
    let share = gradient(given.length("height")?).ok_or_else(|| Trouble::refused("below the profile"))?;
    Ok(vec![("share", number(share))])
}

fn table(given: &Given) -> Result<SailTable, Trouble> {
    match given.text("sail")? {
        "main" => Ok(SailTable::Main),
        "jib" => Ok(SailTable::Jib),
        "symmetric" => Ok(SailTable::Symmetric),
        "asymmetric" => Ok(SailTable::Asymmetric),
        other => Err(Trouble::malformed(format!("{other:?} is no sail"))),
    }
}

fn sail_coefficients(given: &Given) -> Result<Answers, Trouble> {
    let angle = given.angle("angle")?;
    let set = match given.has("set").then(|| given.text("set")).transpose()? {
        None => CoefficientSet::orc_2023(),
        Some("hazen-1980") => CoefficientSet::hazen_1980(),
        Some(other) => return Err(Trouble::malformed(format!("{other:?} is no set"))),
    };
    let found = set.at(table(given)?, angle).map_err(Trouble::refused)?;
    Ok(vec![
        ("lift", number(found.lift)),
        ("drag", number(found.drag)),
        ("size", number(found.size())),
        ("drive", number(found.drive(angle))),
        ("side", number(found.side(angle))),
    ])
}

/// Force on a sail in wind already felt: pressure x area x coefficient.
fn sail_force(given: &Given) -> Result<Answers, Trouble> {
    let wind: Speed = given.speed("wind")?;
    let found = at(table(given)?, given.angle("angle")?).map_err(Trouble::refused)?;
    let force: Force = pressure(wind) * given.area("area")? * found.size();
    Ok(vec![("force", number(force))])
}
