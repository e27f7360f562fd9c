//! Every mistake of a file in one pass.

use crate::input::{Input, open};
use crate::job::{Job, Listed, OrderAsked, read, read_listed};
use crate::learned::measures_of_file;
use crate::own::OwnSource;
use crate::problem::{Fault, Mistake, Problem};
use crate::proof::{curve_of_file, tests_of_file};
use crate::text::Text;
use schemars::JsonSchema;
use serde::Serialize;
use units::System;

/// What a file is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum FileKind {
    /// An order.
    Order,
    /// A rack.
    Rack,
    /// A rope list.
    RopeList,
    /// A piece list.
    PieceList,
    /// A supplier's offers.
    Offers,
    /// A log of tests.
    Tests,
    /// Measured figures.
    Measures,
    /// Items of a quote.
    Items,
    /// A load curve.
    Curve,
}

impl FileKind {
    /// The words printed.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            FileKind::Order => "order",
            FileKind::Rack => "rack",
            FileKind::RopeList => "rope list",
            FileKind::PieceList => "piece list",
            FileKind::Offers => "offers",
            FileKind::Tests => "log of tests",
            FileKind::Measures => "measured figures",
            FileKind::Items => "items of a quote",
            FileKind::Curve => "load curve",
        }
    }
}

/// A file without mistakes.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CheckAnswer {
    /// The file.
    pub file: String,
    /// What it is.
    pub kind: FileKind,
    /// How many lines, reels, ropes or pieces it holds.
    pub records: usize,
    /// What to look at again: figures that are possible, and unusual.
    pub look_again: Vec<String>,
}

/// Checks a file: an order by its ending `.toml`, a table by its header row.
///
/// # Errors
/// Every mistake found.
pub fn check(text: &Text) -> Result<CheckAnswer, Problem> {
    check_with(text, &OwnSource::default())
}

/// The same with the loft's own figures: an order is read with them, and what
/// they replace is told under what to look at again.
///
/// # Errors
/// As [`check`]; when the own figures cannot be read.
pub fn check_with(text: &Text, own: &OwnSource) -> Result<CheckAnswer, Problem> {
    if !text.ends_with("csv") {
        let job = read(&OrderAsked { order: text, ropes: None, own, units: None })?;
        let (records, look_again) = (job.lines.len(), own_figures(&job));
        return Ok(CheckAnswer { file: text.to_string(), kind: FileKind::Order, records, look_again });
    }
    let input = open(text, files::LARGEST_TABLE)?;
    let kind = table_kind(&input);
    let (records, look_again) = match kind {
        FileKind::Rack => (input.complete(files::read_rack(&input.bytes))?.len(), Vec::new()),
        FileKind::PieceList => (input.complete(files::read_pieces(&input.bytes))?.len(), Vec::new()),
        FileKind::Offers => (input.complete(files::read_offers(&input.bytes))?.len(), Vec::new()),
        FileKind::Tests => (complete(tests_of_file(text, &[])?, &input)?, Vec::new()),
        FileKind::Measures => (complete(measures_of_file(text)?, &input)?, Vec::new()),
        FileKind::Items => (input.complete(files::read_items(&input.bytes))?.len(), Vec::new()),
        FileKind::Curve => {
            let (curve, refused) = curve_of_file(text)?;
            (complete((curve.samples, refused), &input)?, Vec::new())
        }
        FileKind::RopeList | FileKind::Order => {
            let ropes = read_listed(text)?;
            (ropes.len(), ropes.iter().filter_map(doubtful).collect())
        }
    };
    Ok(CheckAnswer { file: input.name, kind, records, look_again })
}

/// A table whose refused rows are told beside it elsewhere: here each is a
/// mistake.
fn complete<T>((rows, refused): (Vec<T>, Vec<Mistake>), input: &Input) -> Result<usize, Problem> {
    if refused.is_empty() {
        return Ok(rows.len());
    }
    let mut problem = Problem::new(Fault::File, "mistakes", format!("{} has {} mistakes", input.name, refused.len()));
    problem.mistakes = refused;
    Err(problem)
}

/// What of the loft's own stands in an order's lines, and what was refused.
fn own_figures(job: &Job) -> Vec<String> {
    let notes = job.lines.iter().flat_map(|line| {
        let own = line.findings.iter().filter(|finding| finding.code.starts_with("own-"));
        own.map(|finding| format!("{}: {}", line.record.name.value, finding.text.show(job.system)))
    });
    let refused = job.own.answer.iter().flat_map(|own| own.refused.iter().map(Mistake::to_string));
    refused.chain(notes).collect()
}

/// A row of a rope list that is possible, and unusual.
fn doubtful(listed: &Listed) -> Option<String> {
    let doubt = listed.doubt.as_ref()?;
    let row = listed.row.map_or(String::new(), |row| format!("row {row}, "));
    let remedy = doubt.remedy.as_ref().map_or(String::new(), |remedy| format!("; {}", remedy.show(System::Metric)));
    Some(format!("{row}{}: {} ({}){remedy}", listed.rope.name, doubt.text.show(System::Metric), doubt.citation))
}

/// What the first row speaks of: reels, pieces, or ropes.
fn table_kind(input: &Input) -> FileKind {
    let end = input.bytes.iter().position(|byte| *byte == b'\n').unwrap_or(input.bytes.len());
    let header = String::from_utf8_lossy(input.bytes.get(..end).unwrap_or_default()).to_lowercase();
    let names: Vec<&str> =
        header.trim_start_matches('\u{feff}').split(',').map(|name| name.trim().trim_matches('"')).collect();
    let has = |name: &str| names.contains(&name);
    if has("test") && has("broke") {
        FileKind::Tests
    } else if has("what") && has("value") {
        FileKind::Measures
    } else if has("kind") && has("item") {
        FileKind::Items
    } else if names.iter().any(|name| name.starts_with("time")) && names.iter().any(|name| name.starts_with("load")) {
        FileKind::Curve
    } else if names.contains(&"reel") {
        FileKind::Rack
    } else if names.contains(&"piece") {
        FileKind::PieceList
    } else if names.contains(&"price") {
        FileKind::Offers
    } else {
        FileKind::RopeList
    }
}
