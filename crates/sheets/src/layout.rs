//! Sizes that the facts need to know about the page.

use drawing::{Drawing, ReelBar, Shape, Stroke, Tone};

use crate::Paper;

/// Margin of every page, in mm; most printers reach it.
pub(crate) const MARGIN_MM: f64 = 10.0;

/// Between the two columns of a card, in mm.
const GUTTER_MM: f64 = 6.0;

/// Reels drawn in one picture at most.
const REELS_TO_A_PICTURE: usize = 4;

/// Widths of a drawing across the page and of one in the right column, in mm.
pub(crate) fn drawing_widths(paper: Paper) -> (f64, f64) {
    let wide = paper.size_mm().0 - 2.0 * MARGIN_MM;
    (wide, (wide - GUTTER_MM) / 2.0)
}

/// Room for a tile along the long side of the page, in mm.
pub(crate) fn tile_width(paper: Paper) -> f64 {
    paper.size_mm().1 - 2.0 * MARGIN_MM
}

/// Reels cut into pictures.
pub(crate) fn pictures_of(reels: &[ReelBar]) -> Vec<&[ReelBar]> {
    reels.chunks(REELS_TO_A_PICTURE).collect()
}

/// Length of the bar that a print is checked with, in mm.
pub(crate) const CHECK_BAR_MM: f64 = 100.0;

/// The check bar: its outer ticks stand exactly 100 mm apart.
pub(crate) fn check_bar() -> Drawing {
    let height = 3.4;
    let middle = height / 2.0;
    let mut runs = vec![vec![(0.0, middle), (CHECK_BAR_MM, middle)]];
    for tick in 0..=10 {
        let (x, half) = (f64::from(tick) * CHECK_BAR_MM / 10.0, if tick % 5 == 0 { 1.7 } else { 0.9 });
        runs.push(vec![(x, middle - half), (x, middle + half)]);
    }
    let stroke = Stroke { width_mm: 0.2, tone: Tone::Ink, dashes_mm: Vec::new() };
    Drawing {
        shapes: vec![Shape::Lines { runs, fill: None, stroke: Some(stroke) }],
        width_mm: CHECK_BAR_MM,
        height_mm: height,
        notes: Vec::new(),
        alt: "A bar of 100 mm to check the print with".to_owned(),
    }
}
