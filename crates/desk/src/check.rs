//! Every mistake of a file in one pass.

use crate::input::{Input, open};
use crate::job::{Listed, read, read_listed};
use crate::problem::Problem;
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
    if !text.ends_with("csv") {
        let records = read(text, None, None)?.lines.len();
        return Ok(CheckAnswer { file: text.to_string(), kind: FileKind::Order, records, look_again: Vec::new() });
    }
    let input = open(text, files::LARGEST_TABLE)?;
    let kind = table_kind(&input);
    let (records, look_again) = match kind {
        FileKind::Rack => (input.complete(files::read_rack(&input.bytes))?.len(), Vec::new()),
        FileKind::PieceList => (input.complete(files::read_pieces(&input.bytes))?.len(), Vec::new()),
        FileKind::Offers => (input.complete(files::read_offers(&input.bytes))?.len(), Vec::new()),
        FileKind::RopeList | FileKind::Order => {
            let ropes = read_listed(text)?;
            (ropes.len(), ropes.iter().filter_map(doubtful).collect())
        }
    };
    Ok(CheckAnswer { file: input.name, kind, records, look_again })
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
    if names.contains(&"reel") {
        FileKind::Rack
    } else if names.contains(&"piece") {
        FileKind::PieceList
    } else if names.contains(&"price") {
        FileKind::Offers
    } else {
        FileKind::RopeList
    }
}
