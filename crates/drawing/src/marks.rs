//! Marks on a rope: their shapes, and numbered labels that do not collide.
//!
//! A label is a number in a ring with text beside it, joined to its mark by a
//! leader; labels that would touch go to further rows, away from the rope.

use crate::course::Course;
use crate::pen::{BENCH_TYPE_MM, Drawing, FINE, HAIR, OUTLINE, Pen, Point, Type, text_width};
use crate::plot::spread;
use crate::rope::MarkShape;

/// Radius of the ring round a mark's number, in mm.
pub(crate) const RING_MM: f64 = 3.2;

/// Height of a row of labels, in mm.
pub(crate) const ROW_MM: f64 = 7.4;

/// Draws the shape of a mark across a rope of `thick` mm at `along`, with the
/// bitter end at the start of the course.
pub(crate) fn shape(pen: &mut Pen, course: &Course, along: f64, thick: f64, shape: MarkShape) {
    let reach = thick / 2.0 + 0.8;
    let slab = |from: f64, to: f64, wide: f64| -> [Point; 4] {
        let (low, high) = (along - wide / 2.0, along + wide / 2.0);
        [course.at(low, from), course.at(high, from), course.at(high, to), course.at(low, to)]
    };
    match shape {
        MarkShape::Line => pen.line(&[course.at(along, -reach), course.at(along, reach)], OUTLINE),
        MarkShape::ClosedBand => pen.solid(&slab(-reach, reach, 1.3)),
        MarkShape::BrokenBand => {
            // Wide and broken: paper under it, so that it reads on a hatched rope.
            pen.blank(&slab(-reach, reach, 2.0));
            let piece = 2.0 * reach / 5.0;
            for index in [0.0, 2.0, 4.0] {
                pen.solid(&slab(-reach + index * piece, -reach + (index + 1.0) * piece, 1.3));
            }
        }
        MarkShape::Arrowhead => {
            let half = (thick / 2.0).clamp(1.1, 3.0);
            pen.solid(&[
                course.at(along, 0.0),
                course.at(along + 1.7 * half, -half),
                course.at(along + 1.7 * half, half),
            ]);
        }
        MarkShape::Cross => {
            let half = (thick / 2.0).clamp(1.2, 3.0);
            let arms = [
                (course.at(along - half, -half), course.at(along + half, half)),
                (course.at(along - half, half), course.at(along + half, -half)),
            ];
            pen.strokes(&arms, 0.7);
        }
    }
}

/// The shape of a mark alone on a bit of rope, for the marks table.
///
/// 12 mm wide and 4.4 mm high; the bitter end is to the left.
///
/// ```
/// let band = drawing::mark_shape(drawing::MarkShape::ClosedBand);
/// assert_eq!((band.width_mm, band.height_mm), (12.0, 4.4));
/// assert_eq!(band.alt, "closed band");
/// ```
pub fn mark_shape(shape_of_mark: MarkShape) -> Drawing {
    let mut pen = Pen::default();
    let course = Course::level(0.5, 11.5, 2.2);
    for aside in [-1.2, 1.2] {
        pen.line(&[course.at(0.0, aside), course.at(11.0, aside)], FINE);
    }
    shape(&mut pen, &course, 5.5, 2.4, shape_of_mark);
    pen.finish(12.0, 4.4, Vec::new(), name_of(shape_of_mark).to_owned())
}

/// The shape in words.
pub(crate) fn name_of(shape: MarkShape) -> &'static str {
    match shape {
        MarkShape::Line => "line",
        MarkShape::ClosedBand => "closed band",
        MarkShape::BrokenBand => "broken band",
        MarkShape::Arrowhead => "arrowhead to the bitter end",
        MarkShape::Cross => "cross",
    }
}

/// A label: where its leader starts, its number (none for text alone) and the
/// text beside it.
#[derive(Debug, Clone)]
pub(crate) struct Label {
    pub x: f64,
    pub number: Option<u32>,
    pub text: String,
}

/// A label with the row it goes to and where its ring stands.
#[derive(Debug, Clone)]
pub(crate) struct Placed {
    pub label: Label,
    pub row: usize,
    pub ring_x: f64,
    low: f64,
    high: f64,
}

/// Half the width of the ring round a number: wider for more figures.
fn ring(number: Option<u32>) -> f64 {
    match number {
        None => 0.3,
        Some(0..10) => RING_MM,
        Some(10..100) => RING_MM + 0.8,
        Some(_) => RING_MM + 2.4,
    }
}

/// Puts labels into rows so that no label touches another and no leader runs
/// through one, all within `from..to` mm.
///
/// Labels are placed from right to left. A label's text stands to the right
/// of its ring, so it may have to go over the one before it; its leader then
/// runs up on the left of that one's ring.
pub(crate) fn place(mut labels: Vec<Label>, from: f64, to: f64) -> Vec<Placed> {
    labels.sort_by(|a, b| a.x.total_cmp(&b.x));
    let mut placed: Vec<Placed> = Vec::new();
    for label in labels.into_iter().rev() {
        let radius = ring(label.number);
        let beside = if label.text.is_empty() { 0.0 } else { text_width(&label.text, Type::SMALL) + 1.4 };
        let last = placed.iter().map(|other| other.ring_x).fold(to, f64::min);
        let mut ring_x = label.x.min(to - beside - radius).min(last).max(from + radius);
        let mut row = 0;
        while let Some(blocker) = blocker(&placed, row, (ring_x - radius, ring_x + radius + beside)) {
            row = blocker.row + 1;
            if let Some(pierced) = placed.iter().find(|other| other.row < row && pierces(other, ring_x)) {
                ring_x = (pierced.low - 0.9).max(from + radius);
                row = 0;
                if ring_x <= from + radius {
                    row = placed.iter().map(|other| other.row + 1).max().unwrap_or(0);
                }
            }
        }
        placed.push(Placed { low: ring_x - radius, high: ring_x + radius + beside, label, row, ring_x });
    }
    placed.reverse();
    placed
}

/// What keeps a label out of a row: one that is there, or the leader of one
/// further away that runs through the place.
fn blocker(placed: &[Placed], row: usize, (low, high): (f64, f64)) -> Option<&Placed> {
    placed.iter().find(|other| {
        let there = other.row == row && other.low < high + 0.6 && other.high > low - 0.6;
        let runs_through = other.row > row && other.ring_x > low - 0.5 && other.ring_x < high + 0.5;
        there || runs_through
    })
}

fn pierces(other: &Placed, x: f64) -> bool {
    x > other.low - 0.5 && x < other.high + 0.5
}

/// Rows that placed labels take.
pub(crate) fn rows(placed: &[Placed]) -> usize {
    placed.iter().map(|one| one.row + 1).max().unwrap_or(0)
}

/// Draws placed labels; `rope_y` is where leaders start and `row_y` the middle
/// of the nearest row, with further rows going the same way.
pub(crate) fn draw(pen: &mut Pen, placed: &[Placed], rope_y: f64, row_y: f64) {
    draw_rows(pen, placed, (rope_y, row_y), ROW_MM);
}

/// The same with rows of another height.
pub(crate) fn draw_rows(pen: &mut Pen, placed: &[Placed], (rope_y, row_y): (f64, f64), row_height: f64) {
    let sign = if row_y < rope_y { -1.0 } else { 1.0 };
    for one in placed {
        let y = row_y + sign * row_height * one.row as f64;
        let jog = row_y - sign * (row_height / 2.0 - 0.2);
        let knee = f64::midpoint(rope_y, jog);
        let foot = if one.label.number.is_some() { y } else { y - sign * 1.6 };
        pen.line(&[(one.label.x, rope_y), (one.label.x, knee), (one.ring_x, jog), (one.ring_x, foot)], HAIR);
        if let Some(number) = one.label.number {
            numbered_ring(pen, (one.ring_x, y), number);
        }
        pen.text((one.ring_x + ring(one.label.number) + 0.8, y + 1.15), &one.label.text, Type::SMALL);
    }
}

/// Numbers alone in a row beside the rope, each with a leader to its mark.
#[derive(Debug, Clone)]
pub(crate) struct RingRows {
    /// Place of the mark, number, place of the ring, row.
    rings: Vec<(f64, u32, f64, usize)>,
    rows: usize,
}

impl RingRows {
    /// Rows that are taken: none without marks.
    pub(crate) fn rows_taken(&self) -> usize {
        if self.rings.is_empty() { 0 } else { self.rows }
    }
}

/// Puts the numbers of marks into one row, or two in turn, within
/// `from..to` mm; nothing if they do not fit so.
///
/// Rings keep the order of their marks, so leaders do not cross; a leader to
/// the outer row runs between the rings of the inner one.
pub(crate) fn ring_rows(marks: &[(f64, u32)], from: f64, to: f64) -> Option<RingRows> {
    let half = marks.iter().map(|mark| ring(Some(mark.1))).fold(RING_MM, f64::max);
    let mut marks = marks.to_vec();
    marks.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let count = marks.len().saturating_sub(1) as f64;
    let room = to - from - 2.0 * half;
    let (rows, apart) = if count * (2.0 * half + 0.5) <= room {
        (1, 2.0 * half + 0.5)
    } else if count * (half + 0.7) <= room {
        (2, half + 0.7)
    } else {
        return None;
    };
    let wanted: Vec<f64> = marks.iter().map(|mark| mark.0).collect();
    let places = spread(&wanted, apart, (from + half, to - half));
    let rings = marks.iter().zip(places).enumerate();
    Some(RingRows { rings: rings.map(|(index, (mark, place))| (mark.0, mark.1, place, index % rows)).collect(), rows })
}

/// Draws rows of numbers; `rope_y` is where leaders start and `row_y` the
/// middle of the nearest row, with the other going the same way.
pub(crate) fn draw_ring_rows(pen: &mut Pen, rows: &RingRows, rope_y: f64, row_y: f64) {
    let sign = if row_y < rope_y { -1.0 } else { 1.0 };
    for (x, number, place, row) in &rows.rings {
        let y = row_y + sign * ROW_MM * *row as f64;
        let near = row_y - sign * RING_MM;
        // Straight from the rope, then to the ring's own place at its foot.
        pen.line(&[(*x, rope_y), (*x, rope_y + sign * 0.8), (*place, near - sign * 0.3), (*place, y)], HAIR);
        numbered_ring(pen, (*place, y), *number);
    }
}

/// A number in a ring, at bench size.
pub(crate) fn numbered_ring(pen: &mut Pen, centre: Point, number: u32) {
    let half = ring(Some(number));
    if half > RING_MM {
        pen.pill(centre, (half, RING_MM), FINE);
    } else {
        pen.circle(centre, half, FINE);
    }
    pen.text((centre.0, centre.1 + 0.36 * BENCH_TYPE_MM), &number.to_string(), Type::BENCH);
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn labels_touch_neither_each_other_nor_a_leader(
            xs in prop::collection::vec(8.0..170.0_f64, 1..12),
            text in "[0-9]{1,5} mm",
        ) {
            let labels = xs.iter().enumerate().map(|(index, x)| Label {
                x: *x,
                number: Some(index as u32 + 1),
                text: text.clone(),
            });
            let placed = place(labels.collect(), 0.5, 189.5);
            prop_assert_eq!(placed.len(), xs.len());
            for (index, one) in placed.iter().enumerate() {
                for other in placed.iter().skip(index + 1) {
                    let apart = one.row != other.row || one.high <= other.low || other.high <= one.low;
                    prop_assert!(apart, "{one:?} touches {other:?}");
                    // Rings pushed against the left edge may stand over one another.
                    let at_edge = one.ring_x < 6.0;
                    let (near, far) = if one.row < other.row { (one, other) } else { (other, one) };
                    let clear = near.row == far.row || far.ring_x <= near.low || far.ring_x >= near.high;
                    prop_assert!(clear || at_edge, "the leader of {far:?} runs through {near:?}");
                }
            }
        }
    }
}
