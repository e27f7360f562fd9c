//! The path of one line on the boat, seen from the side and from above.
//!
//! Both views are to one scale, the bow to the left. Turns carry their
//! numbers in the order in which the rope passes them; sheaves are drawn at
//! their diameter where that can be seen. The working end is drawn hauled,
//! its eased place with a broken line. Legs run from centre to centre: the
//! rope's own tangents differ by less than a sheave's radius.

use crate::DrawingError;
use crate::laid_out::wide_enough;
use crate::pen::{Anchor, Drawing, FINE, HAIR, OUTLINE, Pen, Point, Type};
use crate::scale::in_words;

/// Margin round a view, in mm.
const MARGIN: f64 = 7.0;
/// Tallest view, in mm.
const TALLEST: f64 = 150.0;
/// Half of a number's disc, in mm.
const DISC: f64 = 2.4;

/// A place of the boat, in mm from the mast's fore side at deck.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Aft of it.
    pub aft_mm: f64,
    /// To starboard of it.
    pub starboard_mm: f64,
    /// Above it.
    pub up_mm: f64,
}

/// A turn of the path.
#[derive(Debug, Clone, PartialEq)]
pub struct LeadTurn {
    /// Its centre.
    pub at: Place,
    /// Diameter that the rope bends round, in mm; 0 for a straight passage.
    pub diameter_mm: f64,
}

/// A path with its working end.
#[derive(Debug, Clone, PartialEq)]
pub struct LeadPath {
    /// What the line is called.
    pub name: String,
    /// The working end, hauled.
    pub hauled: Place,
    /// The working end, eased.
    pub eased: Place,
    /// The turns in order, to the hand.
    pub turns: Vec<LeadTurn>,
}

/// From where the path is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum View {
    /// From the port side: up is up.
    Side,
    /// From above: starboard is up, as the bow is to the left.
    Plan,
}

impl View {
    fn flat(self, place: Place) -> (f64, f64) {
        match self {
            View::Side => (place.aft_mm, -place.up_mm),
            View::Plan => (place.aft_mm, -place.starboard_mm),
        }
    }

    const fn words(self) -> &'static str {
        match self {
            View::Side => "from the side",
            View::Plan => "from above",
        }
    }
}

/// The path in one view, at most `width_mm` wide.
///
/// # Errors
/// A width under 50 mm, or a path without turns.
pub fn lead(path: &LeadPath, view: View, width_mm: f64) -> Result<Drawing, DrawingError> {
    wide_enough(width_mm)?;
    if path.turns.is_empty() {
        return Err(DrawingError::NotPositive { what: "the number of turns", given: 0.0 });
    }
    let ends = [path.hauled, path.eased];
    let places: Vec<(f64, f64)> =
        path.turns.iter().map(|turn| turn.at).chain(ends).map(|place| view.flat(place)).chain([(0.0, 0.0)]).collect();
    let span = |of: fn(&(f64, f64)) -> f64| {
        places.iter().map(of).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
    };
    let (left, right) = span(|place| place.0);
    let (top, bottom) = span(|place| place.1);
    // A path in one plane has no width in one view; 100 mm of boat keeps the scale finite.
    let ratio = ((width_mm - 2.0 * MARGIN) / (right - left).max(100.0)).min(TALLEST / (bottom - top).max(100.0));
    let at = |place: Place| {
        let (x, y) = view.flat(place);
        (MARGIN + (x - left) * ratio, MARGIN + (y - top) * ratio)
    };
    let mut pen = Pen::default();
    boat_lines(&mut pen, at(Place { aft_mm: 0.0, starboard_mm: 0.0, up_mm: 0.0 }), view, width_mm);
    draw_path(&mut pen, path, at, ratio);
    let height = (bottom - top) * ratio + 2.0 * MARGIN;
    let alt = format!("{} {}: {} turns.", path.name, view.words(), path.turns.len());
    Ok(pen.finish(width_mm, height.max(2.0 * MARGIN), vec![in_words(ratio)], alt))
}

/// The mast's fore side and the deck at it, or the boat's middle line.
fn boat_lines(pen: &mut Pen, (x, y): Point, view: View, width: f64) {
    pen.dashed(&[(0.0, y), (width, y)], HAIR, &[2.0, 1.2]);
    match view {
        View::Side => {
            pen.line(&[(x, 1.0), (x, y)], HAIR);
            pen.text((0.5, y - 0.8), "deck", Type::SMALL);
        }
        View::Plan => {
            pen.line(&[(x, y - 1.6), (x, y + 1.6)], FINE);
            pen.text((0.5, y - 0.8), "middle line", Type::SMALL);
        }
    }
}

fn draw_path(pen: &mut Pen, path: &LeadPath, at: impl Fn(Place) -> Point, ratio: f64) {
    let hauled = at(path.hauled);
    let points: Vec<Point> = std::iter::once(hauled).chain(path.turns.iter().map(|turn| at(turn.at))).collect();
    if let Some(first) = points.get(1) {
        pen.dashed(&[at(path.eased), *first], FINE, &[1.6, 1.0]);
    }
    for (turn, centre) in path.turns.iter().zip(points.iter().skip(1)) {
        let radius = turn.diameter_mm * ratio / 2.0;
        if radius > 0.4 {
            pen.circle(*centre, radius, FINE);
        }
    }
    pen.line(&points, OUTLINE);
    let mut taken: Vec<Point> = Vec::new();
    for (index, centre) in points.iter().enumerate().skip(1) {
        let spot = free_spot(*centre, &taken);
        pen.line(&[*centre, spot], HAIR);
        pen.circle(spot, DISC, FINE);
        pen.text((spot.0, spot.1 + 1.15), &index.to_string(), Type::SMALL.bold().anchored(Anchor::Middle));
        taken.push(spot);
    }
    for (place, filled) in [(hauled, true), (at(path.eased), false)] {
        let square = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(x, y)| (place.0 + x, place.1 + y));
        if filled { pen.solid(&square) } else { pen.body(&square, FINE) }
    }
}

/// A place beside a turn where its number covers no other.
fn free_spot(centre: Point, taken: &[Point]) -> Point {
    let around = [(1.0, -1.0), (-1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
    let clear = |spot: &Point| taken.iter().all(|(x, y)| (x - spot.0).hypot(y - spot.1) > 2.0 * DISC + 0.4);
    let spots = [3.2, 6.4, 9.6, 12.8, 16.0]
        .into_iter()
        .flat_map(|far| around.map(|(x, y)| ((centre.0 + far * x).max(DISC), (centre.1 + far * y).max(DISC))));
    spots.into_iter().find(clear).unwrap_or((centre.0, centre.1 - 3.2))
}
