//! `becket export` and `becket import`: the line list that people exchange.

use crate::tables::{rows, wrapped};
use clap::Args;
use desk::{ColumnAnswer, ExportAnswer, ImportAnswer};
use std::fmt::Write;
use std::path::PathBuf;

/// Lines out.
#[derive(Debug, Args)]
pub struct ExportAsk {
    /// The order file (TOML).
    pub order: PathBuf,
    /// The loft's rope list (CSV); ropes.csv beside the order if there is one.
    #[arg(long)]
    pub ropes: Option<PathBuf>,
    /// The list to write: .xlsx is a spreadsheet, anything else CSV.
    #[arg(long)]
    pub out: PathBuf,
}

/// Lines in.
#[derive(Debug, Args)]
pub struct ImportAsk {
    /// The list: .xlsx is a spreadsheet, anything else CSV.
    #[arg(required_unless_present = "columns")]
    pub list: Option<PathBuf>,
    /// Write the lines to this file instead of the terminal.
    #[arg(long)]
    pub out: Option<PathBuf>,
    /// List the columns with their units.
    #[arg(long)]
    pub columns: bool,
}

/// What was written.
pub fn exported(answer: &ExportAnswer) -> String {
    format!("{}: {} lines\n", answer.file, answer.lines)
}

/// What was refused, for standard error.
pub fn refused(answer: &ImportAnswer) -> String {
    let mut text = String::new();
    for row in &answer.refused {
        for reason in &row.reasons {
            text.push_str(&wrapped(&format!("row {} refused: {reason}", row.row), "  "));
        }
    }
    if let Some(file) = &answer.kept_for_repair {
        let _ = writeln!(text, "kept for repair: {file}");
    }
    let _ = write!(text, "{} lines taken over, {} refused", answer.lines, answer.refused.len());
    text
}

/// The columns as a table.
pub fn columns(columns: &[ColumnAnswer]) -> String {
    let each = |column: &ColumnAnswer| {
        let allowed = crate::tables::fit(&column.allowed, 60);
        vec![column.column.to_owned(), column.needed.clone(), column.about.to_owned(), allowed]
    };
    rows(&["column", "needed", "what it is", "allowed"], columns.iter().map(each).collect())
}
