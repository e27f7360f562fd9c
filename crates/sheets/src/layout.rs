//! Sizes that the facts need to know about the page.

use drawing::{Drawing, ReelBar, Shape, Stroke, Tone};

use crate::Paper;

/// Margin at the sides of a page, in mm; most printers reach it.
pub(crate) const fn margin(paper: Paper) -> f64 {
    match paper {
        Paper::A4 | Paper::Letter => 7.0,
        Paper::Roll => 4.0,
    }
}

/// Between the two columns of a card, in mm.
const GUTTER_MM: f64 = 5.0;

/// Reels drawn in one picture at most.
const REELS_TO_A_PICTURE: usize = 4;

/// Widths of a drawing across the page and of one in the right column, in mm.
pub(crate) fn drawing_widths(paper: Paper) -> (f64, f64) {
    let wide = paper.size_mm().0 - 2.0 * margin(paper);
    (wide, if paper == Paper::Roll { wide } else { (wide - GUTTER_MM) / 2.0 })
}

/// Room for a tile along the long side of the page, in mm; on a roll, a
/// whole strip of `length_mm` is one tile.
pub(crate) fn tile_width(paper: Paper, length_mm: f64) -> f64 {
    match paper {
        Paper::A4 | Paper::Letter => paper.size_mm().1 - 2.0 * margin(paper),
        Paper::Roll => (length_mm + 40.0).max(150.0),
    }
}

/// Reels cut into pictures.
pub(crate) fn pictures_of(reels: &[ReelBar]) -> Vec<&[ReelBar]> {
    reels.chunks(REELS_TO_A_PICTURE).collect()
}

/// Length of the bar that a print is checked with, in mm; a roll is too
/// narrow for 100.
pub(crate) const fn check_bar_mm(paper: Paper) -> f64 {
    match paper {
        Paper::A4 | Paper::Letter => 100.0,
        Paper::Roll => 80.0,
    }
}

/// The check bar: its outer ticks stand exactly that far apart.
pub(crate) fn check_bar(paper: Paper) -> Drawing {
    let long = check_bar_mm(paper);
    let height = 3.4;
    let middle = height / 2.0;
    let mut runs = vec![vec![(0.0, middle), (long, middle)]];
    for tick in 0..=10 {
        let (x, half) = (f64::from(tick) * long / 10.0, if tick % 5 == 0 { 1.7 } else { 0.9 });
        runs.push(vec![(x, middle - half), (x, middle + half)]);
    }
    let stroke = Stroke { width_mm: 0.2, tone: Tone::Ink, dashes_mm: Vec::new() };
    Drawing {
        shapes: vec![Shape::Lines { runs, fill: None, stroke: Some(stroke) }],
        width_mm: long,
        height_mm: height,
        notes: Vec::new(),
        alt: format!("A bar of {long} mm to check the print with"),
    }
}
