//! A rope's centre line, and a rope drawn along it with its texture.
//!
//! A [`Course`] is a run of straight lines measured along itself. Everything
//! that is drawn on a rope is placed in the rope's own terms, so far along
//! and so far to the side, so a rope looks the same straight and round a pin.

use crate::pen::{FINE, HAIR, OUTLINE, Pen, Point};

/// A centre line.
#[derive(Debug, Clone)]
pub(crate) struct Course {
    points: Vec<Point>,
    along: Vec<f64>,
}

impl Course {
    /// A centre line through the points, of which there are at least two.
    pub(crate) fn through(points: Vec<Point>) -> Course {
        let mut along = Vec::with_capacity(points.len());
        let mut total = 0.0;
        for (index, point) in points.iter().enumerate() {
            if let Some(before) = index.checked_sub(1).and_then(|before| points.get(before)) {
                total += (point.0 - before.0).hypot(point.1 - before.1);
            }
            along.push(total);
        }
        Course { points, along }
    }

    /// A level line from left to right.
    pub(crate) fn level(from_x: f64, to_x: f64, y: f64) -> Course {
        Course::through(vec![(from_x, y), (to_x, y)])
    }

    pub(crate) fn length(&self) -> f64 {
        self.along.last().copied().unwrap_or(0.0)
    }

    /// The point `along` mm from the start and `aside` mm to the right of the
    /// way it runs (below it, for a line that runs from left to right).
    pub(crate) fn at(&self, along: f64, aside: f64) -> Point {
        let last = self.points.len().saturating_sub(1);
        let next = self.along.partition_point(|&reached| reached < along).clamp(1, last.max(1)).min(last);
        let (a, b) = (self.points[next.saturating_sub(1)], self.points[next]);
        let span = (b.0 - a.0).hypot(b.1 - a.1);
        if span == 0.0 {
            return a;
        }
        let (ux, uy) = ((b.0 - a.0) / span, (b.1 - a.1) / span);
        let on = along - self.along[next.saturating_sub(1)];
        (a.0 + ux * on - uy * aside, a.1 + uy * on + ux * aside)
    }

    /// Distances along at which the line has corners, between two others.
    fn corners(&self, from: f64, to: f64) -> impl Iterator<Item = f64> + '_ {
        self.along.iter().copied().filter(move |&along| along > from && along < to)
    }
}

/// A part of a rope: from, to along its course, and its thickness at each end.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Part {
    pub from: f64,
    pub to: f64,
    pub thick_from: f64,
    pub thick_to: f64,
}

impl Part {
    pub(crate) fn even(from: f64, to: f64, thick: f64) -> Part {
        Part { from, to, thick_from: thick, thick_to: thick }
    }

    fn thick(&self, along: f64) -> f64 {
        if self.to <= self.from {
            return self.thick_from;
        }
        let share = ((along - self.from) / (self.to - self.from)).clamp(0.0, 1.0);
        self.thick_from + share * (self.thick_to - self.thick_from)
    }

    fn middle(&self) -> f64 {
        f64::midpoint(self.from, self.to)
    }
}

/// What fills the outline of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Texture {
    Plain,
    Lobes,
    Chevrons,
    Tucks,
    Stipple,
    Hatch,
    FineLines,
}

/// The outline of a part on paper, filled with its texture.
pub(crate) fn rope(pen: &mut Pen, course: &Course, part: Part, texture: Texture) {
    if part.to - part.from <= 0.0 {
        return;
    }
    let (right, left) = sides(course, part);
    let mut outline = right.clone();
    outline.extend(left.iter().rev());
    pen.blank(&outline);
    fill(pen, course, part, texture);
    pen.line(&right, OUTLINE);
    pen.line(&left, OUTLINE);
}

/// A rope along the whole course seen from one side, as one outline however
/// its legs overlap; `bare` is the length at either end left without texture.
pub(crate) fn tube(pen: &mut Pen, course: &Course, thick: f64, (texture, bare): (Texture, f64)) {
    pen.line(&course.points, thick + OUTLINE);
    pen.paper_line(&course.points, thick - OUTLINE);
    fill(pen, course, Part::even(bare, course.length() - bare, thick), texture);
}

fn sides(course: &Course, part: Part) -> (Vec<Point>, Vec<Point>) {
    let mut stations = vec![part.from];
    stations.extend(course.corners(part.from, part.to));
    stations.push(part.to);
    let side = |sign: f64| stations.iter().map(|&along| course.at(along, sign * part.thick(along) / 2.0)).collect();
    (side(1.0), side(-1.0))
}

/// A line across the rope at `along`, slanted so that it leads by `lean` mm;
/// clipped where it would leave the part.
fn across(course: &Course, part: Part, along: f64, lean: f64) -> Option<(Point, Point)> {
    let (low, high) = (along - lean / 2.0, along + lean / 2.0);
    let (from, to) = (low.max(part.from), high.min(part.to));
    if from > to {
        return None;
    }
    let aside = |x: f64| {
        let share = if lean > 0.0 { (x - low) / lean } else { 0.0 };
        (0.5 - share) * part.thick(x)
    };
    if lean <= 0.0 {
        return Some((course.at(along, part.thick(along) / 2.0), course.at(along, -part.thick(along) / 2.0)));
    }
    Some((course.at(from, aside(from)), course.at(to, aside(to))))
}

fn stations(part: Part, pitch: f64) -> impl Iterator<Item = f64> {
    let count = ((part.to - part.from) / pitch).floor().clamp(0.0, 4000.0) as usize;
    let first = part.middle() - pitch * count as f64 / 2.0;
    (0..=count).map(move |index| first + pitch * index as f64)
}

fn fill(pen: &mut Pen, course: &Course, part: Part, texture: Texture) {
    let thick = part.thick_from.max(part.thick_to);
    match texture {
        Texture::Plain => {}
        Texture::Lobes => lobes(pen, course, part, 0.62),
        Texture::Tucks => lobes(pen, course, part, 0.3),
        Texture::Chevrons => {
            let mut strokes = Vec::new();
            for along in stations(part, (0.9 * thick).max(1.4)) {
                chevron(course, part, along, &mut strokes);
                chevron(course, part, along + 0.22 * thick, &mut strokes);
            }
            pen.strokes(&strokes, FINE);
        }
        Texture::Stipple => stipple(pen, course, part),
        Texture::Hatch => {
            // Beyond both ends, so that slanted lines fill the corners.
            let wider = Part { from: part.from - thick, to: part.to + thick, ..part };
            let strokes: Vec<_> =
                stations(wider, 1.1).filter_map(|along| across(course, part, along, 0.8 * part.thick(along))).collect();
            pen.strokes(&strokes, FINE);
        }
        Texture::FineLines => {
            for share in [-0.17, 0.17] {
                let fine = Part { thick_from: part.thick_from * share, thick_to: part.thick_to * share, ..part };
                pen.line(&sides(course, fine).0, HAIR);
                pen.line(&sides(course, fine).1, HAIR);
            }
        }
    }
}

/// Slanted lobes: one S-shaped line for each strand that comes to the front,
/// `pitch` thicknesses apart.
fn lobes(pen: &mut Pen, course: &Course, part: Part, pitch: f64) {
    let thick = part.thick_from.max(part.thick_to);
    for along in stations(part, (pitch * thick).max(0.9)) {
        let lean = 0.9 * thick;
        let bend = [(-0.5, -0.5), (-0.3, -0.36), (0.0, 0.0), (0.3, 0.36), (0.5, 0.5)];
        if along - lean / 2.0 < part.from || along + lean / 2.0 > part.to {
            continue;
        }
        let points: Vec<Point> = bend
            .iter()
            .map(|(lead, side)| {
                let on = along + lead * lean;
                course.at(on, -side * part.thick(on))
            })
            .collect();
        pen.line(&points, FINE);
    }
}

fn chevron(course: &Course, part: Part, along: f64, strokes: &mut Vec<(Point, Point)>) {
    let reach = 0.35 * part.thick(along);
    if along - reach < part.from || along > part.to {
        return;
    }
    let tip = course.at(along, 0.0);
    for side in [-0.5, 0.5] {
        strokes.push((tip, course.at(along - reach, side * part.thick(along - reach))));
    }
}

fn stipple(pen: &mut Pen, course: &Course, part: Part) {
    let thick = part.thick_from.max(part.thick_to);
    let rows = (thick / 1.1).floor().clamp(2.0, 12.0) as usize;
    let mut dots = Vec::new();
    for (index, along) in stations(part, 1.1).enumerate() {
        let shift = if index % 2 == 0 { 0.25 } else { 0.75 };
        for row in 0..rows {
            let side = (row as f64 + shift) / rows as f64 - 0.5;
            dots.push(course.at(along, side * part.thick(along) * 0.92));
        }
    }
    pen.dots(dots, 0.13);
}

/// Short bars along the rope: lock stitching.
pub(crate) fn stitching(pen: &mut Pen, course: &Course, part: Part) {
    let thick = part.thick_from.max(part.thick_to);
    let bar = (0.45 * thick).max(0.9);
    let mut strokes = Vec::new();
    for (index, along) in stations(part, bar * 1.9).enumerate() {
        let aside = if index % 2 == 0 { 0.16 } else { -0.16 } * thick;
        let from = (along - bar / 2.0).max(part.from);
        let to = (along + bar / 2.0).min(part.to);
        strokes.push((course.at(from, aside), course.at(to, aside)));
    }
    pen.strokes(&strokes, 0.55);
}

/// Turns side by side: whipping or seizing.
pub(crate) fn whipping(pen: &mut Pen, course: &Course, part: Part) {
    let proud = Part { thick_from: part.thick_from + 0.7, thick_to: part.thick_to + 0.7, ..part };
    rope(pen, course, proud, Texture::Plain);
    let turns: Vec<_> = stations(proud, 0.5).filter_map(|along| across(course, proud, along, 0.12)).collect();
    pen.strokes(&turns, FINE);
}

/// The break of a drawing: two slanted lines with paper between them.
pub(crate) fn break_at(pen: &mut Pen, course: &Course, along: f64, thick: f64) {
    let (half, reach) = (0.8, thick / 2.0 + 1.2);
    let corner = |lead: f64, aside: f64| course.at(along + lead, aside);
    pen.blank(&[
        corner(-half - 0.5, reach),
        corner(-half + 0.5, -reach),
        corner(half + 0.5, -reach),
        corner(half - 0.5, reach),
    ]);
    pen.line(&[corner(-half - 0.5, reach), corner(-half + 0.5, -reach)], FINE);
    pen.line(&[corner(half - 0.5, reach), corner(half + 0.5, -reach)], FINE);
}
