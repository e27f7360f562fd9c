//! Why a sheet was not printed.

use thiserror::Error;

/// What keeps a sheet from being printed.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SheetError {
    /// A drawing on it was refused.
    #[error("a drawing cannot be made: {0}")]
    Drawing(#[from] drawing::DrawingError),
    /// The text of the code is empty or too long.
    #[error("the text of the code has {bytes} bytes, but must have 1 to 1000")]
    CodeTooLong {
        /// Bytes given.
        bytes: usize,
    },
    /// The day does not exist.
    #[error("{year}-{month:02}-{day:02} is no day of the calendar")]
    NoSuchDay {
        /// Year given.
        year: i32,
        /// Month given.
        month: u8,
        /// Day given.
        day: u8,
    },
    /// A row of a table without a cell for each column.
    #[error("a row of a table has {cells} cells, but the table has {columns} columns")]
    Uneven {
        /// Cells given.
        cells: usize,
        /// Columns there are.
        columns: usize,
    },
    /// A label too small to be read.
    #[error("a label {width_mm} mm wide and {height_mm} mm high is too small: at least 60 mm by 36 mm is wanted")]
    LabelTooSmall {
        /// Width given, in mm.
        width_mm: f64,
        /// Height given, in mm.
        height_mm: f64,
    },
    /// Labels that their sheet does not hold.
    #[error("the labels come to {across_mm} mm across and {down_mm} mm down, more than the paper holds")]
    LabelsDoNotFit {
        /// Across, in mm.
        across_mm: f64,
        /// Down, in mm.
        down_mm: f64,
    },
    /// Nothing to print.
    #[error("there is nothing to print, and a document needs at least one page")]
    Empty,
    /// The template failed: a mistake in the program, told in its own words.
    #[error("the sheet's template failed: {0}")]
    Template(String),
    /// The document could not be written as PDF/A-2b.
    #[error("the PDF cannot be written: {0}")]
    Pdf(String),
}
