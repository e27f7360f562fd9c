//! Ropes, tables, fibres and stretch, by the room `cordage`.

use super::{Answers, Entry, above_zero, number, word};
use crate::Trouble;
use crate::given::Given;
use cordage::tables::{Row, Table, Written, laid_or_plaited, polyamide_double_braid};
use cordage::{Fibre, Rope, Use, design_factor, generic, reference_tension, stretch_at};
use units::{Force, Length};

pub(super) const ENTRIES: &[Entry] = &[
    ("table-strength", "cordage", table_strength),
    ("smallest-rope", "cordage", smallest_rope),
    ("strength-bands", "cordage", strength_bands),
    ("strength-over-load", "cordage", strength_over_load),
    ("working-load", "cordage", working_load),
    ("rope", "cordage", rope),
    ("double-braid-design", "cordage", double_braid_design),
    ("reference-tension", "cordage", tension),
    ("design-factor", "cordage", factor),
    ("fibre", "cordage", fibre_facts),
    ("bend", "cordage", bend),
];

fn fibre(given: &Given) -> Result<Fibre, Trouble> {
    let word = given.text("fibre")?;
    Fibre::from_word(word).ok_or_else(|| Trouble::malformed(format!("{word:?} is no fibre")))
}

fn table(given: &Given) -> Result<&'static Table, Trouble> {
    laid_or_plaited(fibre(given)?).ok_or_else(|| Trouble::refused("no table"))
}

/// Size as its text has it: inches by the inch row, else both ways.
fn size(given: &Given) -> Result<(Length, Written), Trouble> {
    let inches = given.text("size")?.trim_end().ends_with("in");
    Ok((given.length("size")?, if inches { Written::Inches } else { Written::Metric }))
}

fn strength_at(given: &Given) -> Result<Force, Trouble> {
    let (size, written) = size(given)?;
    table(given)?.strength(size, written).map_err(Trouble::refused)
}

fn table_strength(given: &Given) -> Result<Answers, Trouble> {
    let strength = strength_at(given)?;
    let (size, written) = size(given)?;
    let mut answers = vec![("strength", number(strength))];
    if let Some(mass) = table(given)?.linear_density(size, written).map_err(Trouble::refused)? {
        answers.push(("mass", number(mass)));
        answers.push(("tenacity", number(units::Tenacity::of_si(strength.si() / mass.si()))));
    }
    Ok(answers)
}

/// The smallest row of a table that a load times a factor does not pass.
fn smallest_rope(given: &Given) -> Result<Answers, Trouble> {
    let wanted = given.force("load")? * given.ratio("factor")?;
    if wanted <= Force::ZERO {
        return Err(Trouble::refused(format!("a strength of {wanted}")));
    }
    let row = table(given)?.rows().iter().find(|row| row.strength >= wanted * (1.0 - 1e-12));
    let row = row.ok_or_else(|| Trouble::refused(format!("no rope has {wanted}")))?;
    Ok(vec![
        ("size", number(row.exact)),
        ("nominal", number(row.nominal)),
        ("strength", number(row.strength)),
        ("wanted", number(wanted)),
    ])
}

/// Lowest and highest strength over square of diameter and over mass.
fn strength_bands(given: &Given) -> Result<Answers, Trouble> {
    let rows = table(given)?.rows();
    let square = |row: &Row| row.strength.to_kn() / row.nominal.to_mm().powi(2);
    let tenacity = |row: &Row| row.linear_density.map(|mass| row.strength.si() / mass.si());
    let low = |values: &[f64]| values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = |values: &[f64]| values.iter().copied().fold(0.0, f64::max);
    let squares: Vec<f64> = rows.iter().map(square).collect();
    let tenacities: Vec<f64> = rows.iter().filter_map(tenacity).collect();
    Ok(vec![
        ("least_over_square", number(low(&squares))),
        ("most_over_square", number(high(&squares))),
        ("least_tenacity", number(units::Tenacity::of_si(low(&tenacities)))),
        ("most_tenacity", number(units::Tenacity::of_si(high(&tenacities)))),
    ])
}

fn strength_over_load(given: &Given) -> Result<Answers, Trouble> {
    Ok(vec![("factor", number(strength_at(given)? / given.force("load")?))])
}

fn working_load(given: &Given) -> Result<Answers, Trouble> {
    Ok(vec![("load", number(strength_at(given)? / given.ratio("factor")?))])
}

fn described(given: &Given) -> Result<Rope, Trouble> {
    generic(given.text("rope")?).map_err(Trouble::refused)
}

/// A rope by its description; its stretch at a share of its strength.
fn rope(given: &Given) -> Result<Answers, Trouble> {
    let rope = described(given)?;
    let mut answers = vec![
        ("strength", number(rope.strength.force)),
        ("mass", number(rope.linear_density)),
        ("basis", word(rope.strength.basis.word())),
        ("per_100_m", number(rope.linear_density * Length::of_m(100.0))),
    ];
    if given.has("share") {
        let load = rope.strength.force * given.ratio("share")?;
        let stretch = stretch_at(&rope, load).ok_or_else(|| Trouble::refused("no stiffness"))?;
        answers.push(("stretch", number(stretch)));
    }
    if given.has("fits") {
        // A strength found otherwise, over ours.
        answers.push(("over_ours", number(given.force("fits")? / rope.strength.force)));
    }
    Ok(answers)
}

/// A mooring line of double-braid polyamide: average strength, less what
/// water takes, over a factor; and the stretch at that load, dry.
fn double_braid_design(given: &Given) -> Result<Answers, Trouble> {
    let table = polyamide_double_braid();
    let size = given.length("size")?;
    let average = table.strength(size, Written::Inches).map_err(Trouble::refused)?;
    let wet = Fibre::Polyamide.facts().wet_strength.get().ok_or_else(|| Trouble::refused("no wet strength"))?;
    let allowed = average * (wet / given.ratio("factor")?);
    let stiffness = table.stiffness(size).map_err(Trouble::refused)?;
    let stiffness = stiffness.ok_or_else(|| Trouble::refused("no stiffness"))?;
    let mut rope = generic("1 in double-braid nylon").map_err(Trouble::refused)?;
    rope.strength.force = average;
    let stretch = stretch_at(&rope, allowed).ok_or_else(|| Trouble::refused("no stretch"))?;
    Ok(vec![
        ("average", number(average)),
        ("wet", number(average * wet)),
        ("allowed", number(allowed)),
        ("stiffness", number(stiffness)),
        ("stretch_by_row", number(allowed / stiffness)),
        ("stretch", number(stretch)),
    ])
}

fn tension(given: &Given) -> Result<Answers, Trouble> {
    Ok(vec![("tension", number(reference_tension(above_zero(given.length("size")?, "the size")?)))])
}

fn factor(given: &Given) -> Result<Answers, Trouble> {
    let of = match given.text("use")? {
        "club racing" => Use::ClubRacing,
        "coastal cruising" => Use::CoastalCruising,
        "offshore" => Use::Offshore,
        "charter" => Use::Charter,
        other => return Err(Trouble::malformed(format!("{other:?} is no use"))),
    };
    Ok(vec![("factor", number(design_factor(of).get().unwrap_or_default()))])
}

fn fibre_facts(given: &Given) -> Result<Answers, Trouble> {
    let facts = fibre(given)?.facts();
    let missing = || Trouble::refused("no such fact");
    let tenacity = facts.yarn_tenacity.and_then(|fact| fact.get()).ok_or_else(missing)?;
    let modulus = facts.yarn_modulus.and_then(|fact| fact.get()).ok_or_else(missing)?;
    let density = facts.density.get().ok_or_else(missing)?;
    // Strength for mass times density is stress.
    let stress = units::Pressure::of_pa(tenacity.si() * density.si());
    Ok(vec![
        ("tenacity", number(tenacity)),
        ("modulus", number(modulus)),
        ("density", number(density)),
        ("stress", number(stress)),
        ("wet", number(facts.wet_strength.get().ok_or_else(missing)?)),
    ])
}

fn bend(given: &Given) -> Result<Answers, Trouble> {
    let finding = cordage::bend(&described(given)?, given.length("round")?);
    Ok(vec![("finding", word(finding.map_or("none", |finding| finding.grade.word())))])
}
