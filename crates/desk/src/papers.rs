//! The papers of an order beside its cards: labels, line plan, calculation
//! sheet, delivery sheet.
//!
//! Each says what the answers of the other tasks say; nothing is worked out
//! here. A piece that is refused has no label and stands on no delivery sheet
//! as made; a piece made against a stop carries who overruled it, when and why
//! on both. Not covered: quotes and certificates, which come from prices and
//! tests.

use crate::cards::{Piece, day, findings, overrides, pieces, refused};
use crate::job::{Job, JobLine};
use crate::lines::{LinesRequest, job};
use crate::own::OwnAnswer;
use crate::problem::{Fault, Problem};
use crate::save::save;
use crate::{Paper, convert};
use drawing::{BoatOutline, PlanLine};
use schemars::JsonSchema;
use serde::Serialize;
use sheets::{AsMadeBox, Block, Column, Document, Headline, Label, LabelStock, Lies, Table};
use std::path::PathBuf;
use units::{System, Value};

/// A kind of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PaperKind {
    /// A label for each piece.
    Labels,
    /// The boat's lines from the side and from above, and their list.
    LinePlan,
    /// Every step of the working of every line.
    Calculation,
    /// What goes to the customer, to be signed for.
    Delivery,
}

impl PaperKind {
    /// All of them.
    pub const ALL: [PaperKind; 4] =
        [PaperKind::Labels, PaperKind::LinePlan, PaperKind::Calculation, PaperKind::Delivery];

    /// Its word on the command line, and the name of its file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            PaperKind::Labels => "labels",
            PaperKind::LinePlan => "line-plan",
            PaperKind::Calculation => "calculation",
            PaperKind::Delivery => "delivery",
        }
    }

    /// From its word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<PaperKind> {
        PaperKind::ALL.into_iter().find(|kind| kind.word() == word)
    }
}

/// What is asked.
#[derive(Debug, Clone)]
pub struct PapersRequest {
    /// Order and rope list; a name keeps to one line.
    pub lines: LinesRequest,
    /// The folder to write to.
    pub out: PathBuf,
    /// The paper, of all but labels.
    pub paper: Paper,
    /// Which papers.
    pub kinds: Vec<PaperKind>,
    /// Width and height of a label, in mm.
    pub label_mm: (f64, f64),
    /// Labels across and down on a sheet of `paper`; a roll where not given.
    pub label_sheet: Option<(u32, u32)>,
    /// Where the pages are, so that a label's picture opens its piece there;
    /// the picture holds the bare code where not given.
    pub pages_at: Option<String>,
}

/// What was written.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PapersAnswer {
    /// The order's number.
    pub order: String,
    /// Every file written.
    pub files: Vec<String>,
    /// Pieces that have no label, because they are refused.
    pub refused: Vec<String>,
    /// What was read of the loft's own figures; null where none was asked for.
    pub own: Option<OwnAnswer>,
}

/// Writes the papers asked for.
///
/// # Errors
/// When the order has mistakes, no line has the name asked for, a paper
/// cannot be set, or the folder cannot be written.
pub fn papers(request: &PapersRequest) -> Result<PapersAnswer, Problem> {
    let job = papers_job(request)?;
    let mut files = Vec::new();
    for kind in &request.kinds {
        let bytes = paper(&job, request, *kind)?;
        let path = request.out.join(format!("{}.pdf", kind.word()));
        save(&path, &bytes)?;
        files.push(path.display().to_string());
    }
    let refused = pieces(&job).iter().filter(|piece| refused(&job, piece)).map(|piece| piece.code.clone()).collect();
    Ok(PapersAnswer { order: job.number().to_owned(), files, refused, own: job.own.answer.clone() })
}

/// The order of a request, kept to one line where one is named.
pub(crate) fn papers_job(request: &PapersRequest) -> Result<Job, Problem> {
    let mut job = job(&request.lines)?;
    if let Some(name) = &request.lines.name {
        keep_line(&mut job, name)?;
    }
    Ok(job)
}

/// One paper's bytes.
pub(crate) fn paper(job: &Job, request: &PapersRequest, kind: PaperKind) -> Result<Vec<u8>, Problem> {
    match kind {
        PaperKind::Labels => labels(job, request),
        PaperKind::LinePlan => set(&line_plan(job, request.paper)?, request.paper),
        PaperKind::Calculation => set(&calculation(job), request.paper),
        PaperKind::Delivery => set(&delivery(job), request.paper),
    }
}

fn keep_line(job: &mut Job, name: &str) -> Result<(), Problem> {
    let names = job.lines.iter().map(|line| line.record.name.value.as_str()).collect::<Vec<_>>().join(", ");
    job.lines.retain(|line| line.record.name.value.eq_ignore_ascii_case(name.trim()));
    if job.lines.is_empty() {
        return Err(Problem::new(Fault::Request, "no-such-line", format!("no line is called {name:?}"))
            .hint(format!("one of: {names}")));
    }
    Ok(())
}

fn set(document: &Document, paper: Paper) -> Result<Vec<u8>, Problem> {
    sheets::document(document, paper.sheet()).map_err(cannot_set)
}

fn cannot_set(why: sheets::SheetError) -> Problem {
    Problem::refused("cannot-set", why.to_string())
}

fn blank(job: &Job, kind: &str, title: String) -> Document {
    let customer = job.order.order.value.customer.as_ref().map(|customer| customer.value.clone());
    let parts = [Some(format!("order {}", job.number())), Some(job.boat().to_owned()), customer];
    Document {
        kind: kind.to_owned(),
        title,
        subtitle: parts.into_iter().flatten().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" · "),
        headlines: Vec::new(),
        findings: Vec::new(),
        blocks: Vec::new(),
        code: None,
        lies: Lies::Upright,
        day: day(job.order.order.value.date.value),
    }
}

fn labels(job: &Job, request: &PapersRequest) -> Result<Vec<u8>, Problem> {
    let labels: Vec<Label> = pieces(job)
        .iter()
        .filter(|piece| !refused(job, piece))
        .map(|piece| label(job, piece, request.pages_at.as_deref()))
        .collect();
    if labels.is_empty() {
        return Err(Problem::refused("no-labels", "every piece of the order is refused, so none has a label")
            .hint("print the cards: each names the weak point and what clears it"));
    }
    let (width_mm, height_mm) = request.label_mm;
    let stock = match request.label_sheet {
        None => LabelStock::Roll { width_mm, height_mm },
        Some(grid) => LabelStock::Sheet { paper: request.paper.sheet(), width_mm, height_mm, grid, gap_mm: (0.0, 0.0) },
    };
    sheets::labels(&labels, stock).map_err(cannot_set)
}

fn label(job: &Job, piece: &Piece<'_>, pages_at: Option<&str>) -> Label {
    let system = job.system;
    let made = &piece.line.made;
    let lowest = made.weak_points.iter().find_map(|point| point.strength);
    Label {
        line: piece.line.record.name.value.clone(),
        boat: job.boat().to_owned(),
        piece: piece.code.clone(),
        rope: made.rope.name.clone(),
        length: Value::from(made.finished.nearest_mm()).show(system),
        strength: lowest.map_or_else(|| "not assessed".to_owned(), |force| Value::from(force).show(system)),
        working_load: Value::from(piece.line.load.steady).show(system),
        override_record: overrides(piece.line),
        code: pages_at.map_or_else(|| piece.code.clone(), |at| format!("{at}/piece/{}", piece.code)),
        day: day(job.order.order.value.date.value),
    }
}

fn calculation(job: &Job) -> Document {
    let system = job.system;
    let title = match &job.lines[..] {
        [line] => line.record.name.value.clone(),
        _ => format!("all {} lines", job.lines.len()),
    };
    let mut document = blank(job, "calculation sheet", title);
    for line in &job.lines {
        document.blocks.push(Block::Heading(format!("{} · {}", line.record.name.value, line.made.rope.name)));
        document.blocks.push(Block::Findings(findings(line, system)));
        let ends = line.made.ends();
        let parts = std::iter::once(("line", &line.steps)).chain(ends.iter().map(|(name, end)| (*name, &end.working)));
        for (name, steps) in parts.filter(|(_, steps)| !steps.is_empty()) {
            document.blocks.push(Block::Text(format!("Working of the {name}")));
            document.blocks.push(Block::Table(working(steps, system)));
        }
        document.blocks.push(Block::Text("Weak points, the lowest first".to_owned()));
        document.blocks.push(Block::Table(weak_points(line, system)));
    }
    document
}

fn working(steps: &[sources::Step], system: System) -> Table {
    let inputs = |step: &sources::Step| {
        step.inputs.iter().map(|(name, value)| format!("{name} {}", value.show(system))).collect::<Vec<_>>().join(", ")
    };
    Table {
        columns: vec![
            Column::words("what", 4),
            Column::words("formula", 5),
            Column::words("of", 5),
            Column::result("result"),
            Column::words("source and how far it is trusted", 6),
        ],
        rows: steps
            .iter()
            .map(|step| {
                vec![
                    step.what.to_owned(),
                    step.formula.to_owned(),
                    inputs(step),
                    step.result.show(system),
                    step.citation.to_string(),
                ]
            })
            .collect(),
    }
}

fn weak_points(line: &JobLine, system: System) -> Table {
    Table {
        columns: vec![
            Column::words("where", 4),
            Column::result("strength"),
            Column::words("why", 6),
            Column::words("source", 5),
        ],
        rows: line
            .made
            .weak_points
            .iter()
            .map(|point| {
                vec![
                    point.place.clone(),
                    point.strength.map_or_else(|| "not assessed".to_owned(), |force| Value::from(force).show(system)),
                    point.reason.show(system),
                    point.citation.to_string(),
                ]
            })
            .collect(),
    }
}

fn delivery(job: &Job) -> Document {
    let system = job.system;
    let all = pieces(job);
    let made: Vec<&Piece<'_>> = all.iter().filter(|piece| !refused(job, piece)).collect();
    let mut document = blank(job, "delivery sheet", format!("order {}", job.number()));
    let mass: f64 = made.iter().map(|piece| piece.line.made.mass.to_kg()).sum();
    document.headlines = vec![
        Headline { name: "pieces".to_owned(), value: made.len().to_string() },
        Headline { name: "mass, dry".to_owned(), value: Value::from(units::Mass::of_kg(mass)).show(system) },
    ];
    document.blocks.push(Block::Table(Table {
        columns: vec![
            Column::words("piece", 3),
            Column::words("line", 5),
            Column::words("rope", 5),
            Column::words("ends", 7),
            Column::result("finished"),
            Column::words("seen", 2),
        ],
        rows: made.iter().map(|piece| delivered(piece, system)).collect(),
    }));
    for piece in &made {
        if let Some(record) = overrides(piece.line) {
            document.blocks.push(Block::Text(format!(
                "{}: made against a stop, overruled by {} on {}: {}",
                piece.code, record.name, record.date, record.reason
            )));
        }
    }
    for piece in all.iter().filter(|piece| refused(job, piece)) {
        document.blocks.push(Block::Text(format!("{}: refused, not made; its card says why", piece.code)));
    }
    let empty = |name: &str| AsMadeBox { name: name.to_owned(), wanted: String::new() };
    document.blocks.push(Block::Boxes(["delivered by", "received by", "date"].map(empty).to_vec()));
    document
}

fn delivered(piece: &Piece<'_>, system: System) -> Vec<String> {
    let made = &piece.line.made;
    vec![
        piece.code.clone(),
        piece.line.record.name.value.clone(),
        made.rope.name.clone(),
        made.ends().iter().map(|(_, end)| end.kind.name()).collect::<Vec<_>>().join(", "),
        Value::from(made.finished.nearest_mm()).show(system),
        String::new(),
    ]
}

fn line_plan(job: &Job, paper: Paper) -> Result<Document, Problem> {
    let mut document = blank(job, "line plan", job.boat().to_owned());
    let lines: Vec<PlanLine> = (1..)
        .zip(&job.lines)
        .filter_map(|(number, line)| {
            let lead = convert::lead(&line.record)?;
            let place = |point: rig::Point| (point.aft.to_m(), point.starboard.to_m(), point.up.to_m());
            let turns = lead.turns.iter().map(|turn| place(turn.at));
            Some(PlanLine {
                number,
                name: line.record.name.value.clone(),
                places: std::iter::once(place(lead.hauled)).chain(turns).collect(),
            })
        })
        .collect();
    if lines.is_empty() {
        document.blocks.push(Block::Text("No line of this order has a lead, so none can be drawn.".to_owned()));
    } else {
        let width = sheets::picture_width(paper.sheet(), document.lies);
        let picture = drawing::line_plan(&outline(job), &lines, (width, 185.0))
            .map_err(|why| Problem::refused("cannot-draw", why.to_string()))?;
        document.blocks.push(Block::Picture("Lines with a lead".to_owned(), picture));
    }
    document.blocks.push(Block::Table(line_list(job, &lines)));
    Ok(document)
}

/// The boat as the plan draws her; what the order does not give is taken from
/// her length, for the outline only.
fn outline(job: &Job) -> BoatOutline {
    let boat = convert::boat(&job.order.boat.value);
    let loa = boat.loa.to_m();
    let j = boat.j.map_or(0.36 * loa, units::Length::to_m);
    let p = boat.p.map_or(1.25 * loa, units::Length::to_m);
    let boom_height = boat.bas.map_or(0.13 * loa, units::Length::to_m);
    // A little of the boat lies before the forestay.
    let stem = -(j + 0.02 * loa);
    BoatOutline {
        stem_x_m: stem,
        stern_x_m: stem + loa,
        beam_m: boat.beam.map_or(0.32 * loa, units::Length::to_m),
        freeboard_m: boat.freeboard.map_or(0.11 * loa, units::Length::to_m),
        mast_m: p + boom_height,
        boom_m: boat.e.map(|e| (e.to_m(), boom_height)),
    }
}

fn line_list(job: &Job, drawn: &[PlanLine]) -> Table {
    let system = job.system;
    Table {
        columns: vec![
            Column::result("no."),
            Column::words("line", 5),
            Column::words("rope", 5),
            Column::words("colour", 2),
            Column::numbers("peak load"),
            Column::numbers("finished"),
            Column::words("drawn", 2),
        ],
        rows: (1..)
            .zip(&job.lines)
            .map(|(number, line)| {
                let count = line.record.count.value;
                let name = &line.record.name.value;
                vec![
                    format!("{number}"),
                    if count > 1 { format!("{name}, {count} of them") } else { name.clone() },
                    line.made.rope.name.clone(),
                    line.record.colour.as_ref().map_or_else(String::new, |colour| colour.value.clone()),
                    Value::from(line.load.peak).show(system),
                    Value::from(line.made.finished.nearest_mm()).show(system),
                    if drawn.iter().any(|one| one.number == number) { "yes" } else { "no lead" }.to_owned(),
                ]
            })
            .collect(),
    }
}
