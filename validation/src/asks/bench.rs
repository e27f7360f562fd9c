//! Units, and tests of rope, by the rooms `units` and `proving`.

use super::{Answers, Entry, number, word};
use crate::Trouble;
use crate::expected::Answer;
use crate::given::Given;
use proving::{BreakAt, Verdict, accept_unspliced, proof_load, sample_size};
use units::Force;

pub(super) const ENTRIES: &[Entry] = &[
    ("convert-force", "units", convert_force),
    ("convert-mass", "units", convert_mass),
    ("sample-size", "proving", samples),
    ("accept-unspliced", "proving", accept),
    ("proof-load", "proving", proof),
];

fn convert_force(given: &Given) -> Result<Answers, Trouble> {
    Ok(vec![("force", number(given.force("force")?))])
}

fn convert_mass(given: &Given) -> Result<Answers, Trouble> {
    Ok(vec![("mass", number(given.linear_density("mass")?))])
}

fn samples(given: &Given) -> Result<Answers, Trouble> {
    Ok(vec![("specimens", Answer::Count(i64::from(sample_size(given.tally("coils")?))))])
}

fn accept(given: &Given) -> Result<Answers, Trouble> {
    let at = match given.text("broke")? {
        "between the marks" => BreakAt::BetweenMarks,
        "outside the marks" => BreakAt::OutsideMarks,
        other => return Err(Trouble::malformed(format!("{other:?} is no place"))),
    };
    let verdict = accept_unspliced(given.force("specified")?, given.force("load")?, at);
    Ok(vec![("verdict", word(if verdict == Verdict::Accepted { "accepted" } else { "refused" }))])
}

/// How a proof load is graded against a strength.
fn proof(given: &Given) -> Result<Answers, Trouble> {
    let strength = given.force("strength")?;
    if strength <= Force::ZERO {
        return Err(Trouble::refused("no strength"));
    }
    let graded = proof_load(given.force("load")?, strength);
    Ok(vec![("grade", word(sources::worst(&graded.findings).map_or("none", sources::Grade::word)))])
}
