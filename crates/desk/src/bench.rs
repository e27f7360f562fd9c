//! A piece at the bench: its steps one by one, what is measured when it is
//! made, and what to do when a measurement is out of tolerance.
//!
//! The same layout that the card prints. A piece with a stop in force has no
//! steps here, as it has no marks on its card. What was ticked and measured is
//! kept elsewhere; here it is only judged. What to do about a wrong length is
//! our own, from how rope behaves: it can be taken off and not put back.

use crate::cards::{Piece, pieces};
use crate::drawn::{Picture, end_pictures};
use crate::job::Job;
use crate::lines::{LinesRequest, job};
use crate::picture::picture;
use crate::problem::{Fault, Problem};
use crate::splice_answer::{MarkAnswer, marks, taper};
use crate::splice_task::length;
use crate::wire::{Amount, FindingAnswer, TaperStepAnswer, findings};
use schemars::JsonSchema;
use serde::Serialize;
use units::{Length, System};

/// A piece of an order, as a list shows it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PieceListed {
    /// Its code.
    pub piece: String,
    /// Its line.
    pub line: String,
    /// Its rope, with its colour.
    pub rope: String,
    /// Its cut length.
    pub cut_length: Amount,
    /// Is it wanted before others?
    pub rush: bool,
    /// Does a stop forbid it?
    pub refused: bool,
}

/// A piece at the bench.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct BenchAnswer {
    /// Its code.
    pub piece: String,
    /// The order's number.
    pub order: String,
    /// The boat's name.
    pub boat: String,
    /// Its line.
    pub line: String,
    /// Its rope, with its colour.
    pub rope: String,
    /// What is cut from the reel.
    pub cut_length: Amount,
    /// Its finished length.
    pub finished_length: Amount,
    /// Tension at which marks and lengths are measured.
    pub reference_tension: Amount,
    /// Does a stop forbid it? Then it has no steps.
    pub refused: bool,
    /// What is to be said about it, the worst first.
    pub findings: Vec<FindingAnswer>,
    /// What can hurt, people or rope.
    pub cautions: Vec<String>,
    /// Its ends, in the order to make them.
    pub ends: Vec<BenchEnd>,
    /// What is measured on the piece when it is made.
    pub wanted: Vec<Wanted>,
}

/// An end at the bench.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct BenchEnd {
    /// `working end` or `bitter end`.
    pub place: &'static str,
    /// What it is, in words.
    pub kind: &'static str,
    /// Marks on free rope at reference tension.
    pub marks: Vec<MarkAnswer>,
    /// Strands taken out.
    pub taper: Vec<TaperStepAnswer>,
    /// Tools, by name.
    pub tools: Vec<&'static str>,
    /// Time at the bench.
    pub time: Amount,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// Pictures, width by width.
    pub pictures: Vec<Vec<Picture>>,
}

/// What is measured on a made piece.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Wanted {
    /// What: `finished length`, `bury, working end`.
    pub what: String,
    /// What it should be.
    pub wanted: Amount,
    /// How far off it may be, either way.
    pub tolerance: Amount,
}

/// A measurement, judged.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Measured {
    /// What was measured.
    pub what: String,
    /// What was found.
    pub measured: Amount,
    /// Found less wanted; below zero is short.
    pub off: Amount,
    /// Is it within tolerance?
    pub within: bool,
    /// The same in a sentence.
    pub verdict: String,
    /// What to do; null when it is within tolerance.
    pub remedy: Option<String>,
}

/// The pieces of an order, coded.
///
/// # Errors
/// When the order or its rope list has mistakes.
pub fn order_pieces(request: &LinesRequest) -> Result<Vec<PieceListed>, Problem> {
    let job = job(request)?;
    let listed = |piece: Piece<'_>| PieceListed {
        line: piece.line.record.name.value.clone(),
        rope: rope_words(&piece),
        cut_length: Amount::of(piece.line.made.cut, job.system),
        rush: piece.line.record.rush.value,
        refused: refused(&piece),
        piece: piece.code,
    };
    Ok(pieces(&job).into_iter().map(listed).collect())
}

/// One piece of an order, with pictures at each of the widths, in mm.
///
/// # Errors
/// When the order or its rope list has mistakes, when no piece has the code,
/// and when a width is under 50 mm.
pub fn bench(request: &LinesRequest, code: &str, widths_mm: &[f64]) -> Result<BenchAnswer, Problem> {
    let job = job(request)?;
    let all = pieces(&job);
    let piece = all.iter().find(|piece| piece.code == code).ok_or_else(|| {
        let codes = all.iter().map(|piece| piece.code.as_str()).collect::<Vec<_>>().join(", ");
        Problem::new(Fault::Request, "no-such-piece", format!("no piece of order {} is coded {code:?}", job.number()))
            .hint(format!("one of: {codes}"))
    })?;
    answer(&job, piece, widths_mm)
}

fn refused(piece: &Piece<'_>) -> bool {
    let stops = piece.line.findings.iter().any(|finding| finding.grade == sources::Grade::Stop);
    stops && piece.line.record.overridden.is_none()
}

fn rope_words(piece: &Piece<'_>) -> String {
    let rope = &piece.line.made.rope.name;
    piece.line.record.colour.as_ref().map_or_else(|| rope.clone(), |colour| format!("{rope}, {}", colour.value))
}

fn answer(job: &Job, piece: &Piece<'_>, widths: &[f64]) -> Result<BenchAnswer, Problem> {
    let (line, system) = (piece.line, job.system);
    let made = &line.made;
    let refused = refused(piece);
    let tolerance = Amount::of(splice::LoftRules::COMMON.tolerance, system);
    let mut wanted = vec![Wanted {
        what: "finished length".to_owned(),
        wanted: Amount::of(made.finished.nearest_mm(), system),
        tolerance: tolerance.clone(),
    }];
    let mut ends = Vec::new();
    let mut cautions: Vec<String> = Vec::new();
    for (place, end) in made.ends().into_iter().filter(|_| !refused) {
        if let Some(bury) = end.bury {
            let wanted_bury = Amount::of(bury.nearest_mm(), system);
            wanted.push(Wanted { what: format!("bury, {place}"), wanted: wanted_bury, tolerance: tolerance.clone() });
        }
        let shape = picture(&made.rope, end, system);
        ends.push(BenchEnd {
            place,
            kind: end.kind.name(),
            marks: marks(end, system),
            taper: taper(end, system),
            tools: end.tools.clone(),
            time: Amount::of(end.time.get().unwrap_or(units::Duration::ZERO), system),
            steps: end.steps.iter().map(|step| step.show(system)).collect(),
            pictures: widths.iter().map(|width| end_pictures(&shape, end, system, *width)).collect::<Result<_, _>>()?,
        });
        for caution in end.cautions.iter().map(|caution| caution.show(system)) {
            if !cautions.contains(&caution) {
                cautions.push(caution);
            }
        }
    }
    Ok(BenchAnswer {
        piece: piece.code.clone(),
        order: job.number().to_owned(),
        boat: job.boat().to_owned(),
        line: line.record.name.value.clone(),
        rope: rope_words(piece),
        cut_length: Amount::of(units::Value::Cut(made.cut), system),
        finished_length: Amount::of(made.finished.nearest_mm(), system),
        reference_tension: Amount::of(cordage::reference_tension(made.rope.diameter), system),
        refused,
        findings: findings(&line.findings, system),
        cautions,
        ends,
        wanted,
    })
}

/// Every piece of an order with its steps, as it is kept when it is cut; without pictures.
///
/// # Errors
/// When the order or its rope list has mistakes.
pub fn bench_cards(request: &LinesRequest) -> Result<Vec<BenchAnswer>, Problem> {
    let job = job(request)?;
    pieces(&job).iter().map(|piece| answer(&job, piece, &[])).collect()
}

/// A length in whole millimetres as a person reads it.
///
/// ```
/// assert_eq!(desk::show_millimetres(34_031, desk::System::Metric), "34,031 mm");
/// ```
#[must_use]
pub fn show_millimetres(count: i64, system: System) -> String {
    units::Value::from(units::Millimetres::new(count)).show(system)
}

impl Measured {
    /// What was found, in whole micrometres.
    #[must_use]
    pub fn micrometres(&self) -> i64 {
        micrometres(read_back(&self.measured))
    }

    /// What was wanted, in whole micrometres.
    #[must_use]
    pub fn wanted_micrometres(&self) -> i64 {
        micrometres(read_back(&self.measured) - read_back(&self.off))
    }
}

/// To the nearest; lengths of rope are far inside what an `i64` holds.
fn micrometres(length: Length) -> i64 {
    (length.to_mm() * 1000.0).round() as i64
}

/// Judges what was measured against what is wanted.
///
/// # Errors
/// When the text is no length, or below zero.
pub fn measured(wanted: &Wanted, given: &str, system: System) -> Result<Measured, Problem> {
    let found = length(&wanted.what, given)?;
    let (target, tolerance) = (read_back(&wanted.wanted), read_back(&wanted.tolerance));
    let off = found - target;
    // Half a millimetre either way is the tape, not the rope.
    let within = off.abs().to_mm() <= tolerance.to_mm() + 0.5;
    let show = |length: Length| Amount::of(length.nearest_mm(), system).text;
    let way = if off < Length::ZERO { "short" } else { "long" };
    let verdict = match (within, off.abs().to_mm() < 0.5) {
        (true, true) => format!("{} {}: as wanted", wanted.what, show(found)),
        (true, false) => {
            format!("{} {}: {} {way}, within {}", wanted.what, show(found), show(off.abs()), wanted.tolerance.text)
        }
        (false, _) => {
            format!("{} {}: {} {way}, more than {}", wanted.what, show(found), show(off.abs()), wanted.tolerance.text)
        }
    };
    Ok(Measured {
        what: wanted.what.clone(),
        measured: Amount::of(found.nearest_mm(), system),
        off: Amount::of(off.nearest_mm(), system),
        within,
        verdict,
        remedy: (!within).then(|| remedy(&wanted.what, off, &show(off.abs()))),
    })
}

fn read_back(amount: &Amount) -> Length {
    if amount.unit == "in" { Length::of_inches(amount.value) } else { Length::of_mm(amount.value) }
}

fn remedy(what: &str, off: Length, by: &str) -> String {
    match (what.starts_with("bury"), off < Length::ZERO) {
        (true, true) => format!(
            "open the splice and bury {by} more of the tail: a short bury holds less than was worked out; \
             if there is no tail left, cut the end off and make it again from the marks"
        ),
        (true, false) => format!(
            "it holds, but the extra {by} has gone into the bury: measure the finished length, and open the \
             splice if that is short"
        ),
        (false, true) => format!(
            "measure again at the reference tension with the splice set and the cover milked; if {by} is still \
             missing, use the piece where that does not matter, or cut a new one: no rope can be put back"
        ),
        (false, false) => format!(
            "measure again at the reference tension with the splice set; if it is still long, take {by} off the \
             bitter end and finish that end again"
        ),
    }
}
