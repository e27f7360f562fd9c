//! Ends laid out, tucks and eyes, by the room `splice`.

use super::{Answers, Entry, above_zero, number, word};
use crate::Trouble;
use crate::expected::Answer;
use crate::given::Given;
use cordage::Fibre;
use sources::Grade;
use splice::{
    Bearing, BuryWish, Duty, EndKind, EndRequest, Fitting, Layout, Part, full_tucks, layout, least_eye, sling_tail,
    unlay_length,
};
use units::{Angle, Length};

pub(super) const ENTRIES: &[Entry] = &[
    ("end", "splice", end),
    ("tucks", "splice", tucks),
    ("sling-tucks", "splice", sling_tucks),
    ("unlay", "splice", unlay),
    ("sling-tail", "splice", tail),
    ("least-eye", "splice", least),
];

fn laid_out(given: &Given, duty: Duty) -> Result<Layout, Trouble> {
    let rope = cordage::generic(given.text("rope")?).map_err(Trouble::refused)?;
    let kind = given.text("end")?;
    let kind = EndKind::from_word(kind).ok_or_else(|| Trouble::malformed(format!("{kind:?} is no end")))?;
    let mut request = EndRequest { duty, ..EndRequest::new(kind, &rope) };
    if given.has("pin") {
        request.on = Some(Bearing { what: Fitting::Pin, diameter: given.length("pin")? });
    }
    if given.has("eye") {
        request.eye = Some(given.length("eye")?);
    }
    if given.has("bury_diameters") {
        request.bury = Some(BuryWish::Diameters(given.ratio("bury_diameters")?));
    }
    if given.has("full_tucks") {
        request.rules.tucks = Some(given.tally("full_tucks")?);
    }
    layout(&request).map_err(Trouble::refused)
}

/// An end: its eye, bury, shrinkage and marks.
fn end(given: &Given) -> Result<Answers, Trouble> {
    let end = laid_out(given, Duty::Running)?;
    let mut answers = vec![
        ("shrinkage", number(end.shrinkage)),
        ("rope_used", number(end.rope_used)),
        ("tight_crown", word(graded(&end, "tight-crown"))),
        ("strands_left", Answer::Count(end.taper.last().map_or(12, |step| i64::from(step.strands_left)))),
    ];
    if let Some(eye) = end.eye {
        answers.push(("eye", number(eye.inside)));
        answers.push(("bearing_to_throat", number(eye.bearing_to_throat)));
        answers.push(("angle", number(eye.angle.unwrap_or(Angle::ZERO))));
    }
    if let Some(bury) = end.bury {
        answers.push(("bury", number(bury)));
    }
    let at = |part, name| end.mark(part, name).map(|mark| mark.from_bitter_end.to_length());
    if let Some(throat) = at(Part::Rope, "throat, tail side").or(at(Part::Cover, "throat, tail side")) {
        answers.push(("throat_mark", number(throat)));
    }
    let inside = (at(Part::Core, "core leaves the cover"), at(Part::Core, "cover's tail goes in"));
    if let ((Some(out), Some(into)), Some(puller)) = (inside, at(Part::Core, "puller goes in")) {
        answers.push(("core_to_entry", number(into - out)));
        answers.push(("entry_to_exit", number(puller - into)));
    }
    Ok(answers)
}

fn graded(end: &Layout, code: &str) -> &'static str {
    end.findings.iter().find(|finding| finding.code == code).map_or("none", |finding| finding.grade.word())
}

fn fibre(given: &Given) -> Result<Fibre, Trouble> {
    let word = given.text("fibre")?;
    Fibre::from_word(word).ok_or_else(|| Trouble::malformed(format!("{word:?} is no fibre")))
}

fn tucks(given: &Given) -> Result<Answers, Trouble> {
    Ok(vec![("full", Answer::Count(i64::from(full_tucks(fibre(given)?).0)))])
}

/// Does a sling's eye with so many full tucks pass?
fn sling_tucks(given: &Given) -> Result<Answers, Trouble> {
    let end = laid_out(given, Duty::Sling)?;
    let stop = end.findings.iter().any(|finding| finding.code == "few-tucks" && finding.grade == Grade::Stop);
    Ok(vec![("verdict", word(if stop { "stop" } else { "pass" }))])
}

fn unlay(given: &Given) -> Result<Answers, Trouble> {
    let diameter = above_zero(given.length("size")?, "the size")?;
    Ok(vec![("unlay", number(unlay_length(given.tally("tucks")?, diameter)))])
}

fn tail(given: &Given) -> Result<Answers, Trouble> {
    Ok(vec![("tail", number(sling_tail(given.length("size")?)))])
}

/// The smallest eye, flat, over the pin it goes on.
fn least(given: &Given) -> Result<Answers, Trouble> {
    let pin = above_zero(given.length("pin")?, "the pin")?;
    let eye: Length = least_eye(pin);
    Ok(vec![("eye", number(eye)), ("over_pin", number(eye / pin))])
}
