//! Sizes that the facts need to know about the page.

use drawing::ReelBar;

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
