//! Bench cards, cut plan and summary of an order, written to a folder.

use crate::cut::{CutRequest, Watch, write_plan};
use crate::cut_pieces::of_jobs;
use crate::job::{Job, JobLine};
use crate::lines::{LinesRequest, job};
use crate::order_of_work::{before, phases};
use crate::own::OwnAnswer;
use crate::picture::picture;
use crate::problem::{Fault, Problem};
use crate::save::{ready, save};
use crate::text::Text;
use schemars::JsonSchema;
use serde::Serialize;
use sheets::{
    AsMadeBox, BenchCard, Day, EndCard, FindingLine, Grade, Headline, OverrideRecord, Overrule, WeakPointRow,
};
use sources::Finding;
use std::path::PathBuf;
use units::{System, Value};

/// The paper a card is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 x 297 mm.
    #[default]
    A4,
    /// 8 1/2 x 11 in.
    Letter,
    /// A roll 100 mm wide, as label printers take.
    Roll,
}

impl Paper {
    pub(crate) const fn sheet(self) -> sheets::Paper {
        match self {
            Paper::A4 => sheets::Paper::A4,
            Paper::Letter => sheets::Paper::Letter,
            Paper::Roll => sheets::Paper::Roll,
        }
    }
}

/// What is asked.
#[derive(Debug, Clone)]
pub struct CardsRequest {
    /// Order and rope list.
    pub lines: LinesRequest,
    /// The folder to write to.
    pub out: PathBuf,
    /// The paper.
    pub paper: Paper,
    /// A rack, for the cut plan beside the cards.
    pub rack: Option<Text>,
}

/// What was written.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CardsAnswer {
    /// The order's number.
    pub order: String,
    /// Pieces with a card.
    pub cards: Vec<CardMade>,
    /// Every file written.
    pub files: Vec<String>,
    /// What was read of the loft's own figures; null where none was asked for.
    pub own: Option<OwnAnswer>,
}

/// One card.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CardMade {
    /// The piece's code.
    pub piece: String,
    /// Its line.
    pub line: String,
    /// Its file.
    pub file: String,
    /// Was it refused for a stop finding?
    pub refused: bool,
    /// Who overruled a stop, if anybody.
    pub overridden_by: Option<String>,
}

impl CardsAnswer {
    /// Was a card refused?
    #[must_use]
    pub fn has_stop(&self) -> bool {
        self.cards.iter().any(|card| card.refused)
    }
}

/// One piece of an order: its line and its code.
pub(crate) struct Piece<'a> {
    pub(crate) code: String,
    pub(crate) line: &'a JobLine,
}

/// The pieces of an order, coded: `2026-031/03` or `/03a`, `/03b`.
pub(crate) fn pieces(job: &Job) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    for (index, line) in job.lines.iter().enumerate() {
        let count = line.record.count.value;
        for copy in 0..count {
            let letter = if count == 1 { String::new() } else { letters(copy) };
            pieces.push(Piece { code: format!("{}/{:02}{letter}", job.number(), index + 1), line });
        }
    }
    pieces
}

/// a, b … z, aa, ab …
fn letters(mut index: u32) -> String {
    let mut text = String::new();
    loop {
        text.insert(0, char::from(b'a' + (index % 26) as u8));
        if index < 26 {
            return text;
        }
        index = index / 26 - 1;
    }
}

/// Writes a card for every piece, one PDF each and one with all of them, and
/// the cut plan where a rack is given.
///
/// # Errors
/// When the order has mistakes, a card cannot be set, or the folder cannot be
/// written.
pub fn cards(request: &CardsRequest) -> Result<CardsAnswer, Problem> {
    let job = job(&request.lines)?;
    let pieces = pieces(&job);
    if pieces.is_empty() {
        return Err(Problem::new(Fault::Request, "no-lines", "the order has no lines, so there is nothing to make")
            .hint("add a [[line]]"));
    }
    ready(&request.out)?;
    let facts: Vec<BenchCard> = pieces.iter().map(|piece| card(&job, piece)).collect();
    let paper = request.paper.sheet();
    let set = sheets::bench_card_set(&facts, paper).map_err(|why| Problem::refused("cannot-set", why.to_string()))?;
    let mut files = Vec::new();
    let mut cards = Vec::new();
    for ((piece, card), bytes) in pieces.iter().zip(&facts).zip(&set.each) {
        let path = request.out.join("cards").join(file_name(&piece.code, &piece.line.record.name.value));
        save(&path, bytes)?;
        cards.push(CardMade {
            piece: piece.code.clone(),
            line: piece.line.record.name.value.clone(),
            file: path.display().to_string(),
            refused: card.refused(),
            overridden_by: card.override_record.as_ref().map(|record| record.name.clone()),
        });
        files.push(path.display().to_string());
    }
    let path = request.out.join("cards.pdf");
    save(&path, &set.all)?;
    files.push(path.display().to_string());
    if let Some(rack) = &request.rack {
        let cut = CutRequest { rack: rack.clone(), units: request.lines.units, ..CutRequest::default() };
        let (_, written) =
            write_plan(&cut, of_jobs(&cut, std::slice::from_ref(&job))?, (&request.out, request.paper), &Watch::NONE)?;
        files.extend(written);
    }
    Ok(CardsAnswer { order: job.number().to_owned(), cards, files, own: job.own.answer.clone() })
}

/// A name that every disk takes: letters, digits and dashes of code and line.
fn file_name(code: &str, line: &str) -> String {
    let plain = |text: &str| {
        let dashed: String =
            text.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
        dashed.split('-').filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-")
    };
    let mut name = format!("{}-{}", plain(code), plain(line));
    name.truncate(100);
    format!("{}.pdf", name.trim_end_matches('-'))
}

pub(crate) fn day(date: files::Date) -> Day {
    Day { year: i32::from(date.year), month: date.month, day: date.day }
}

pub(crate) fn card(job: &Job, piece: &Piece<'_>) -> BenchCard {
    let system = job.system;
    let line = piece.line;
    let made = &line.made;
    let show = |value: Value| value.show(system);
    let rope = match &line.record.colour {
        Some(colour) => format!("{}, {}", made.rope.name, colour.value),
        None => made.rope.name.clone(),
    };
    let customer = job.order.order.value.customer.as_ref().map_or_else(String::new, |customer| customer.value.clone());
    let mut as_made = vec![wanted("finished length", made.finished, system)];
    let ends = made.ends();
    // Which end is said only where both have one.
    let both = |has: fn(&splice::Layout) -> bool| ends.iter().filter(|(_, end)| has(end)).count() > 1;
    let of = |what: &str, name: &str, both: bool| if both { format!("{what}, {name}") } else { what.to_owned() };
    for (name, end) in &ends {
        if let Some(eye) = &end.eye {
            as_made.push(wanted(&of("eye", name, both(|end| end.eye.is_some())), eye.inside, system));
        }
        if let Some(bury) = end.bury {
            as_made.push(wanted(&of("bury", name, both(|end| end.bury.is_some())), bury, system));
        }
    }
    BenchCard {
        order: job.number().to_owned(),
        boat: job.boat().to_owned(),
        customer,
        line: line.record.name.value.clone(),
        piece: piece.code.clone(),
        rope,
        cut_length: show(Value::Cut(made.cut)),
        finished_length: show(made.finished.nearest_mm().into()),
        reference_tension: show(cordage::reference_tension(made.rope.diameter).into()),
        ends: made.ends().into_iter().map(|(name, end)| end_card(name, &made.rope, end, system)).collect(),
        findings: findings(line, system),
        cautions: cautions(made, system),
        as_made,
        weak_points: weak_points(made, system),
        rests_on: rests_on(line),
        override_record: overrides(line),
        code: piece.code.clone(),
        day: day(job.order.order.value.date.value),
        ruler: match system {
            System::Metric => drawing::Ruler::Millimetres,
            System::Us => drawing::Ruler::Inches,
        },
    }
}

/// A box for a length, with what it should be: `288 ± 5 mm`.
fn wanted(name: &str, length: units::Length, system: System) -> AsMadeBox {
    let tolerance = Value::from(splice::LoftRules::COMMON.tolerance).show(system);
    let length = Value::from(length.nearest_mm()).show(system);
    // The same unit behind both is written once.
    let short = length.strip_suffix(" mm").filter(|_| tolerance.ends_with(" mm"));
    AsMadeBox { name: name.to_owned(), wanted: format!("{} ± {tolerance}", short.unwrap_or(&length)) }
}

/// Who overruled a stop on a line, if anybody.
pub(crate) fn overrides(line: &JobLine) -> Option<OverrideRecord> {
    line.record.overridden.as_ref().map(|record| OverrideRecord {
        name: record.value.by.value.clone(),
        date: record.value.date.value.to_string(),
        reason: record.value.reason.value.clone(),
    })
}

/// Whether a piece is refused: by a stop that nobody overruled or may.
pub(crate) fn refused(job: &Job, piece: &Piece<'_>) -> bool {
    sheets::refused(&findings(piece.line, job.system), overrides(piece.line).as_ref())
}

/// What the box of cautions on every card says already.
const ALWAYS_SAID: [&str; 4] =
    ["not for life support", "a proof or break test outranks", "rope under load recoils", "cut away from the hand"];

/// Cautions of both ends beside those of every card, each once.
fn cautions(made: &makeup::MadeUp, system: System) -> Vec<String> {
    let mut cautions: Vec<String> = Vec::new();
    for (_, end) in made.ends() {
        for caution in end.cautions.iter().map(|caution| caution.show(system)) {
            let said = ALWAYS_SAID.iter().any(|said| caution.starts_with(said));
            if !said && !cautions.contains(&caution) {
                cautions.push(caution);
            }
        }
    }
    cautions
}

/// Numbers of a piece that rest on no published source, by what they rest on
/// instead.
fn rests_on(line: &JobLine) -> Vec<String> {
    let ends = line.made.ends();
    let steps = || line.steps.iter().chain(ends.iter().flat_map(|(_, end)| &end.working));
    let of = |kind: sources::Kind| {
        let mut names: Vec<&str> = Vec::new();
        for step in steps().filter(|step| step.citation.source.kind == kind) {
            if !names.contains(&step.what) {
                names.push(step.what);
            }
        }
        (!names.is_empty()).then(|| format!("{}: {}", kind.words(), names.join(", ")))
    };
    [sources::Kind::CommonPractice, sources::Kind::FromMemory].into_iter().filter_map(of).collect()
}

fn weak_points(made: &makeup::MadeUp, system: System) -> Vec<WeakPointRow> {
    made.weak_points
        .iter()
        .enumerate()
        .map(|(index, point)| WeakPointRow {
            place: point.place.clone(),
            strength: point
                .strength
                .map_or_else(|| "not assessed".to_owned(), |strength| Value::from(strength).show(system)),
            basis: weak_basis(point),
            lowest: index == 0,
        })
        .collect()
}

/// What a weak point's strength rests on: its share of the rope and the kind
/// of source; the calculation sheet names the source itself.
fn weak_basis(point: &makeup::WeakPoint) -> String {
    let kind = point.citation.source.kind.words();
    match point.share {
        Some(share) => format!("{:.0} % of the rope ({kind})", 100.0 * share),
        None => kind.to_owned(),
    }
}

/// Findings of both ends and the line, each once.
pub(crate) fn findings(line: &JobLine, system: System) -> Vec<FindingLine> {
    let mut findings: Vec<FindingLine> = Vec::new();
    for finding in &line.findings {
        let one = finding_line(finding, &line.made, system);
        if !findings.contains(&one) {
            findings.push(one);
        }
    }
    findings
}

fn finding_line(finding: &Finding, made: &makeup::MadeUp, system: System) -> FindingLine {
    let never = matches!(finding.code, "holds-person" | "standing-rigging");
    let weak = finding.code == "too-weak" || finding.code == "thin-margin";
    FindingLine {
        grade: match finding.grade {
            sources::Grade::Note => Grade::Note,
            sources::Grade::Caution => Grade::Caution,
            sources::Grade::Stop => Grade::Stop,
        },
        text: finding.text.show(system),
        remedy: finding.remedy.as_ref().map(|remedy| remedy.show(system)),
        weak_point: match finding.code {
            "grip-margin" | "short-bury" => Some("the buried tail".to_owned()),
            _ => made.weak_points.first().filter(|_| weak).map(|point| point.place.clone()),
        },
        overrule: if never { Overrule::Never } else { Overrule::Allowed },
    }
}

fn end_card(name: &str, rope: &cordage::Rope, end: &splice::Layout, system: System) -> EndCard {
    let show = |value: Value| value.show(system);
    let on = end
        .eye
        .as_ref()
        .and_then(|eye| eye.on)
        .map_or_else(String::new, |on| format!(" on {} {}", show(on.diameter.into()), on.what.word()));
    let mut headlines = Vec::new();
    let mut headline = |name: &str, value: String| headlines.push(Headline { name: name.to_owned(), value });
    if let Some(bury) = end.bury {
        headline("bury", show(bury.nearest_mm().into()));
    }
    if let Some(eye) = &end.eye {
        headline("eye inside, flat", show(eye.inside.nearest_mm().into()));
    }
    if end.shrinkage.to_mm() >= 0.5 {
        headline("shrinkage", show(end.shrinkage.nearest_mm().into()));
    }
    if let Some(grip) = &end.grip {
        headline("grip margin, low", format!("{:.2}", grip.margin.low));
    }
    // Of a buried end the steps say what each stitching takes.
    if let Some(stitching) = end.stitching.first().filter(|_| end.bury.is_none()) {
        headline(
            &format!("{} twine for the {}", show(stitching.twine.into()), stitching.name),
            show(stitching.length.into()),
        );
    }
    let steps: Vec<String> = end.steps.iter().map(|step| step.show(system)).collect();
    EndCard {
        name: name.to_owned(),
        kind: format!("{}{on}", end.kind.name()),
        headlines,
        layout: picture(rope, end, system),
        phases: phases(&steps),
        before: before(end),
        steps,
        tools: end.tools.iter().map(|tool| (*tool).to_owned()).collect(),
        time: show(end.time.get().unwrap_or(units::Duration::ZERO).into()),
    }
}
