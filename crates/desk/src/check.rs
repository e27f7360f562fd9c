//! Every mistake of a file in one pass.

use crate::input::{Input, open};
use crate::job::{read, read_ropes};
use crate::problem::Problem;
use crate::text::Text;
use schemars::JsonSchema;
use serde::Serialize;

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
}

/// Checks a file: an order by its ending `.toml`, a table by its header row.
///
/// # Errors
/// Every mistake found.
pub fn check(text: &Text) -> Result<CheckAnswer, Problem> {
    let is_table = text.ends_with("csv");
    if !is_table {
        let job = read(text, None, None)?;
        return Ok(CheckAnswer { file: text.to_string(), kind: FileKind::Order, records: job.lines.len() });
    }
    let input = open(text, files::LARGEST_TABLE)?;
    let kind = table_kind(&input);
    let records = match kind {
        FileKind::Rack => input.complete(files::read_rack(&input.bytes))?.len(),
        FileKind::PieceList => input.complete(files::read_pieces(&input.bytes))?.len(),
        FileKind::Offers => input.complete(files::read_offers(&input.bytes))?.len(),
        FileKind::RopeList | FileKind::Order => read_ropes(text)?.len(),
    };
    Ok(CheckAnswer { file: input.name, kind, records })
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
