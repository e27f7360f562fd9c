//! Bench cards, cut plan and summary of an order, written to a folder.

use crate::cut::{CutRequest, Watch, write_plan};
use crate::cut_pieces::of_jobs;
use crate::job::{Job, JobLine};
use crate::lines::{LinesRequest, job};
use crate::picture::picture;
use crate::problem::{Fault, Problem};
use crate::save::{ready, save};
use crate::text::Text;
use schemars::JsonSchema;
use serde::Serialize;
use sheets::{
    AsMadeBox, BenchCard, Day, EndCard, FindingLine, Grade, Headline, OverrideRecord, Overrule, TaperRow, WeakPointRow,
    WorkingRow,
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
}

impl Paper {
    pub(crate) const fn sheet(self) -> sheets::Paper {
        match self {
            Paper::A4 => sheets::Paper::A4,
            Paper::Letter => sheets::Paper::Letter,
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
    Ok(CardsAnswer { order: job.number().to_owned(), cards, files })
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

fn card(job: &Job, piece: &Piece<'_>) -> BenchCard {
    let system = job.system;
    let line = piece.line;
    let made = &line.made;
    let show = |value: Value| value.show(system);
    let rope = match &line.record.colour {
        Some(colour) => format!("{}, {}", made.rope.name, colour.value),
        None => made.rope.name.clone(),
    };
    let customer = job.order.order.value.customer.as_ref().map_or_else(String::new, |customer| customer.value.clone());
    let tolerance = splice::LoftRules::COMMON.tolerance;
    let mut as_made = vec![AsMadeBox {
        name: "finished length".to_owned(),
        wanted: format!("{} ± {}", show(made.finished.nearest_mm().into()), show(tolerance.into())),
    }];
    for (name, end) in made.ends() {
        if let Some(bury) = end.bury {
            as_made.push(AsMadeBox {
                name: format!("bury, {name}"),
                wanted: format!("{} ± {}", show(bury.nearest_mm().into()), show(tolerance.into())),
            });
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
        findings: line.findings.iter().map(|finding| finding_line(finding, made, system)).collect(),
        cautions: cautions(made, system),
        as_made,
        weak_points: weak_points(made, system),
        working: line.steps.iter().map(|step| working_row(step, system)).collect(),
        override_record: line.record.overridden.as_ref().map(|record| OverrideRecord {
            name: record.value.by.value.clone(),
            date: record.value.date.value.to_string(),
            reason: record.value.reason.value.clone(),
        }),
        code: piece.code.clone(),
        day: day(job.order.order.value.date.value),
        ruler: match system {
            System::Metric => drawing::Ruler::Millimetres,
            System::Us => drawing::Ruler::Inches,
        },
    }
}

/// Cautions of both ends, each once.
fn cautions(made: &makeup::MadeUp, system: System) -> Vec<String> {
    let mut cautions: Vec<String> = Vec::new();
    for (_, end) in made.ends() {
        for caution in end.cautions.iter().map(|caution| caution.show(system)) {
            if !cautions.contains(&caution) {
                cautions.push(caution);
            }
        }
    }
    cautions
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
            basis: point.citation.to_string(),
            lowest: index == 0,
        })
        .collect()
}

fn working_row(step: &sources::Step, system: System) -> WorkingRow {
    let inputs: Vec<String> =
        step.inputs.iter().map(|(name, value)| format!("{name} {}", value.show(system))).collect();
    let formula = match (step.formula.is_empty(), inputs.is_empty()) {
        (_, true) => step.formula.to_owned(),
        (true, false) => inputs.join(", "),
        (false, false) => format!("{}; {}", step.formula, inputs.join(", ")),
    };
    WorkingRow {
        what: step.what.to_owned(),
        formula,
        result: step.result.show(system),
        source: step.citation.to_string(),
    }
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
        weak_point: made.weak_points.first().filter(|_| weak).map(|point| point.place.clone()),
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
        headline("eye, inside flat", show(eye.inside.nearest_mm().into()));
    }
    if end.shrinkage.to_mm() >= 0.5 {
        headline("shrinkage", show(end.shrinkage.nearest_mm().into()));
    }
    if let Some(grip) = &end.grip {
        headline("grip margin, low end", format!("{:.2}", grip.margin.low));
    }
    if let Some(stitching) = end.stitching.first() {
        headline(&format!("{}, {} twine", stitching.name, show(stitching.twine.into())), show(stitching.length.into()));
    }
    EndCard {
        name: name.to_owned(),
        kind: format!("{}{on}", end.kind.name()),
        headlines,
        layout: picture(rope, end, system),
        taper: end
            .taper
            .iter()
            .map(|step| TaperRow {
                at: show(step.at.into()),
                pick: step.pick.to_string(),
                taken_out: format!("one strand, {} hand", step.hand.word()),
                strands_left: step.strands_left.to_string(),
            })
            .collect(),
        steps: end.steps.iter().map(|step| step.show(system)).collect(),
        tools: end.tools.iter().map(|tool| (*tool).to_owned()).collect(),
        time: show(end.time.get().unwrap_or(units::Duration::ZERO).into()),
    }
}
