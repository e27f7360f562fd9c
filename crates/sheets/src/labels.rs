//! Labels that go with a piece: on a roll, or on sheets of labels.
//!
//! A label is given by its size; nothing here knows a make of label. A piece
//! that was refused has no label: whoever makes the labels leaves it out. A
//! piece made against a stop carries who overruled it, when and why. Not
//! covered: how a label is fixed to a rope.

use typst::foundations::{Dict, IntoValue, dict};

use crate::facts::{Day, OverrideRecord, Paper};
use crate::pictures::Pictures;
use crate::text::boxed;
use crate::{SheetError, values};

/// Least width and height of a label that can be read, in mm.
pub const LEAST_LABEL_MM: (f64, f64) = (60.0, 36.0);

/// What a label says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Line.
    pub line: String,
    /// Boat.
    pub boat: String,
    /// Piece code.
    pub piece: String,
    /// Rope.
    pub rope: String,
    /// Finished length.
    pub length: String,
    /// Strength at the weakest point.
    pub strength: String,
    /// Working load.
    pub working_load: String,
    /// Who overruled a stop, if anybody.
    pub override_record: Option<OverrideRecord>,
    /// Text of the code that leads back to the record; at most 1,000 bytes.
    pub code: String,
    /// The day.
    pub day: Day,
}

/// What labels are printed on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LabelStock {
    /// A roll: one label a page.
    Roll {
        /// Width of a label, in mm.
        width_mm: f64,
        /// Height of a label, in mm.
        height_mm: f64,
    },
    /// Sheets of labels, set in the middle of the paper.
    Sheet {
        /// The paper.
        paper: Paper,
        /// Width of a label, in mm.
        width_mm: f64,
        /// Height of a label, in mm.
        height_mm: f64,
        /// Labels across and down.
        grid: (u32, u32),
        /// Between labels, across and down, in mm.
        gap_mm: (f64, f64),
    },
}

impl LabelStock {
    fn size(self) -> (f64, f64) {
        match self {
            LabelStock::Roll { width_mm, height_mm } | LabelStock::Sheet { width_mm, height_mm, .. } => {
                (width_mm, height_mm)
            }
        }
    }
}

/// Refuses labels that cannot be read, and sheets that do not hold them.
pub(crate) fn check(stock: LabelStock) -> Result<(), SheetError> {
    let (width, height) = stock.size();
    let large = |given: f64, least: f64| given.is_finite() && given >= least;
    if !(large(width, LEAST_LABEL_MM.0) && large(height, LEAST_LABEL_MM.1)) {
        return Err(SheetError::LabelTooSmall { width_mm: width, height_mm: height });
    }
    if let LabelStock::Sheet { paper, grid, gap_mm, .. } = stock {
        let needed =
            |count: u32, size: f64, gap: f64| f64::from(count) * size + f64::from(count.saturating_sub(1)) * gap;
        let (across, down) = (needed(grid.0, width, gap_mm.0), needed(grid.1, height, gap_mm.1));
        let (wide, high) = paper.size_mm();
        if grid.0 == 0 || grid.1 == 0 || !(across <= wide && down <= high) {
            return Err(SheetError::LabelsDoNotFit { across_mm: across, down_mm: down });
        }
    }
    Ok(())
}

/// The facts of labels as their template reads them.
pub(crate) fn facts(labels: &[Label], stock: LabelStock, pictures: &mut Pictures) -> Result<Dict, SheetError> {
    let first = labels.first().ok_or(SheetError::Empty)?;
    let (width, height) = stock.size();
    let (page, grid, gap, paper_mm) = match stock {
        LabelStock::Roll { .. } => ("roll", (1, 1), (0.0, 0.0), (width, height)),
        LabelStock::Sheet { paper, grid, gap_mm, .. } => ("sheet", grid, gap_mm, paper.size_mm()),
    };
    let labels = labels.iter().map(|label| one(label, pictures)).collect::<Result<Vec<_>, _>>()?;
    Ok(dict! {
        "stock" => page,
        "width" => width,
        "height" => height,
        "page_width" => paper_mm.0,
        "page_height" => paper_mm.1,
        "across" => i64::from(grid.0),
        "down" => i64::from(grid.1),
        "gap_x" => gap.0,
        "gap_y" => gap.1,
        "labels" => values::array(&labels, Clone::clone),
        "day" => values::day(first.day),
    })
}

fn one(label: &Label, pictures: &mut Pictures) -> Result<typst::foundations::Value, SheetError> {
    // An overruled stop takes the place of boat and of half the rope's name.
    let overruled = label.override_record.as_ref().map(|record| {
        format!("{}, {}: {}", boxed(&record.name, 18), boxed(&record.date, 10), boxed(&record.reason, 34))
    });
    let rope = boxed(&label.rope, if overruled.is_some() { 18 } else { 36 });
    Ok(dict! {
        "line" => boxed(&label.line, 16),
        "boat" => boxed(&label.boat, 18),
        "piece" => boxed(&label.piece, 16),
        "rope" => rope,
        "length" => boxed(&label.length, 18),
        "strength" => boxed(&label.strength, 12),
        "working_load" => boxed(&label.working_load, 12),
        "overruled" => overruled.unwrap_or_default(),
        "code" => values::code_space(&label.code, pictures)?,
        "day" => values::day(label.day),
    }
    .into_value())
}
