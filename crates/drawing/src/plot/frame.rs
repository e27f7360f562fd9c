//! A plot set into its frame.
//!
//! From the top: title, key to the shapes of points, names of upright limits,
//! name of the upward axis, the frame with everything in it and the names of
//! curves, bands and level limits at its right, figures, name of the other
//! axis.

use crate::DrawingError;
use crate::laid_out::wide_enough;
use crate::marks;
use crate::pen::{Anchor, Drawing, FINE, HAIR, OUTLINE, Pen, Point, SMALL_TYPE_MM, Type, shortened, text_width};
use crate::plot::axis::{Ruled, ruled};
use crate::plot::labels::{Box4, LINE_MM, beside, spread};
use crate::plot::{Band, Dot, Fill, Group, Limit, LimitAt, Plot};

/// Height of the frame at least, in mm.
const LEAST_FRAME_MM: f64 = 15.0;

/// Width of a curve's line, in mm.
const CURVE_MM: f64 = 0.45;

/// Share of the width that names at the right may take.
const NAMES_SHARE: f64 = 0.36;

/// The plot, `width_mm` by `height_mm`.
///
/// # Errors
/// A width under 50 mm, a height that leaves no room for the frame or for the
/// names at its right, a value that is not a number, nothing to plot, an axis
/// or band that does not rise, a point outside axes that were given.
pub fn draw(plot: &Plot, width_mm: f64, height_mm: f64) -> Result<Drawing, DrawingError> {
    wide_enough(width_mm)?;
    let (x_values, y_values) = plot.check()?;
    let mut notes = Vec::new();
    let key = key_rows(plot, width_mm);
    let names = names_wide(plot, width_mm);
    let title_mm = if plot.title.is_empty() { 0.0 } else { LINE_MM + 0.8 };
    let upright = plot.limits.iter().filter(|limit| matches!(limit.at, LimitAt::X(_))).count();
    let over = title_mm + LINE_MM * key.len() as f64 + LINE_MM + 2.2;
    let foot = height_mm - 2.0 * LINE_MM - 1.6;
    // Figures of the upward axis are as wide as the widest of them.
    let guess = ruled(&plot.y, &y_values, ((foot, over), 5))?;
    let figures = guess.ticks.iter().map(|tick| text_width(&tick.1, Type::SMALL)).fold(0.0, f64::max);
    let left = figures + 2.2;
    let x_steps = (((width_mm - left - names) / 16.0).floor().max(1.0)) as usize;
    let x = ruled(&plot.x, &x_values, ((left, width_mm - names - 3.0), x_steps))?;
    let placed = upright_names(plot, &x, (left, width_mm));
    let over = over + LINE_MM * if upright > 0 { marks::rows(&placed) as f64 + 0.4 } else { 0.0 };
    let at_right = plot.curves.iter().map(|curve| &curve.name).chain(plot.bands.iter().map(|band| &band.name));
    let at_right = at_right.filter(|name| !name.is_empty()).count() + plot.limits.len() - upright;
    let least = over + LEAST_FRAME_MM.max(LINE_MM * at_right as f64) + height_mm - foot;
    if !height_mm.is_finite() || height_mm < least {
        return Err(DrawingError::TooLow { given_mm: height_mm, least_mm: least });
    }
    let y_steps = (((foot - over) / 9.0).floor().max(1.0)) as usize;
    let y = ruled(&plot.y, &y_values, ((foot, over), y_steps))?;
    check_inside(plot, (&x, &y))?;

    let mut pen = Pen::default();
    let frame = Frame { x: &x, y: &y };
    heads(&mut pen, plot, &key, (width_mm, title_mm));
    pen.text((0.0, over - 2.6), &plot.y.title(), Type::SMALL);
    for band in &plot.bands {
        frame.band(&mut pen, band);
    }
    frame.rules(&mut pen);
    marks::draw_rows(&mut pen, &placed, (over, over - 3.8 - LINE_MM), LINE_MM);
    for limit in &plot.limits {
        frame.limit(&mut pen, limit);
    }
    let mut taken: Vec<Box4> = Vec::new();
    for curve in &plot.curves {
        if frame.curve(&mut pen, &curve.points, curve.dash.lengths_mm(), &mut taken) {
            notes.push(format!("{} runs on outside the frame", named(&curve.name, "a curve")));
        }
    }
    frame.names(&mut pen, plot, (width_mm, names), &mut notes);
    frame.spots(&mut pen, &plot.groups, taken, &mut notes);
    pen.text((x.paper.1, height_mm - 0.8), &plot.x.title(), Type::SMALL.anchored(Anchor::End));
    Ok(pen.finish(width_mm, height_mm, notes, in_words(plot, (&x, &y))))
}

fn named<'a>(name: &'a str, without: &'a str) -> &'a str {
    if name.is_empty() { without } else { name }
}

fn check_inside(plot: &Plot, (x, y): (&Ruled, &Ruled)) -> Result<(), DrawingError> {
    let mut spots = plot.groups.iter().flat_map(|group| &group.spots);
    match spots.find(|spot| !(x.holds(spot.x) && y.holds(spot.y))) {
        Some(spot) => Err(DrawingError::OutsideAxes { x: spot.x, y: spot.y }),
        None => Ok(()),
    }
}

/// Room for the names at the right, in mm.
fn names_wide(plot: &Plot, width: f64) -> f64 {
    let level = plot.limits.iter().filter(|limit| matches!(limit.at, LimitAt::Y(_))).map(|limit| &limit.name);
    let names = plot.curves.iter().map(|curve| &curve.name).chain(plot.bands.iter().map(|band| &band.name));
    let widest = names.chain(level).map(|name| text_width(name, Type::SMALL)).fold(0.0, f64::max);
    if widest > 0.0 { (widest + 3.2).min(NAMES_SHARE * width) } else { 0.0 }
}

/// Rows of the key: the groups in each, with where each begins.
fn key_rows(plot: &Plot, width: f64) -> Vec<Vec<(f64, &Group)>> {
    let mut rows: Vec<Vec<(f64, &Group)>> = Vec::new();
    let mut next = f64::INFINITY;
    for group in plot.groups.iter().filter(|group| !group.name.is_empty()) {
        let wide = text_width(&group.name, Type::SMALL) + 8.0;
        if next + wide > width {
            rows.push(Vec::new());
            next = 1.6;
        }
        if let Some(row) = rows.last_mut() {
            row.push((next, group));
        }
        next += wide;
    }
    rows
}

fn heads(pen: &mut Pen, plot: &Plot, key: &[Vec<(f64, &Group)>], (width, title_mm): (f64, f64)) {
    pen.text((0.0, SMALL_TYPE_MM), &shortened(&plot.title, Type::SMALL.bold(), width), Type::SMALL.bold());
    for (row, groups) in key.iter().enumerate() {
        let y = title_mm + LINE_MM * (row as f64 + 0.5) + 0.4;
        for (at, group) in groups {
            dot(pen, (*at, y), group.dot);
            pen.text((at + 2.4, y + 1.1), &shortened(&group.name, Type::SMALL, width - 5.0), Type::SMALL);
        }
    }
}

fn upright_names(plot: &Plot, x: &Ruled, (left, right): (f64, f64)) -> Vec<marks::Placed> {
    let labels = plot.limits.iter().filter_map(|limit| match limit.at {
        LimitAt::X(at) if x.holds(at) => Some(marks::Label {
            x: x.at(at),
            number: None,
            text: shortened(&limit.name, Type::SMALL, right - left - 3.0),
        }),
        _ => None,
    });
    marks::place(labels.collect(), left, right - 0.5)
}

/// The frame with its two axes.
struct Frame<'a> {
    x: &'a Ruled,
    y: &'a Ruled,
}

impl Frame<'_> {
    fn at(&self, (x, y): (f64, f64)) -> Point {
        (self.x.at(x), self.y.at(y))
    }

    fn sides(&self) -> Box4 {
        (self.x.paper.0, self.y.paper.1, self.x.paper.1, self.y.paper.0)
    }

    /// Axes, figures and fine level lines.
    fn rules(&self, pen: &mut Pen) {
        let (left, top, right, foot) = self.sides();
        for (value, words) in &self.y.ticks {
            let y = self.y.at(*value);
            pen.dashed(&[(left, y), (right, y)], HAIR, &[0.3, 1.2]);
            pen.line(&[(left - 0.9, y), (left, y)], FINE);
            pen.text((left - 1.4, y + 1.1), words, Type::SMALL.anchored(Anchor::End));
        }
        for (value, words) in &self.x.ticks {
            let x = self.x.at(*value);
            pen.line(&[(x, foot), (x, foot + 0.9)], FINE);
            pen.text((x, foot + 1.2 + SMALL_TYPE_MM), words, Type::SMALL.anchored(Anchor::Middle));
        }
        pen.line(&[(left, top), (left, foot), (right, foot)], OUTLINE);
        if self.y.low < 0.0 && self.y.high > 0.0 {
            let y = self.y.at(0.0);
            pen.line(&[(left, y), (right, y)], FINE);
        }
    }

    fn limit(&self, pen: &mut Pen, limit: &Limit) {
        let (left, top, right, foot) = self.sides();
        match limit.at {
            LimitAt::X(at) if self.x.holds(at) => {
                let x = self.x.at(at);
                pen.dashed(&[(x, top), (x, foot)], FINE, limit.dash.lengths_mm());
            }
            LimitAt::Y(at) if self.y.holds(at) => {
                let y = self.y.at(at);
                pen.dashed(&[(left, y), (right, y)], FINE, limit.dash.lengths_mm());
            }
            _ => {}
        }
    }

    /// A run of lines clipped to the frame; true if some of it was left out.
    fn curve(&self, pen: &mut Pen, points: &[(f64, f64)], dashes: &[f64], taken: &mut Vec<Box4>) -> bool {
        let sides = self.sides();
        let mut runs: Vec<Vec<Point>> = Vec::new();
        let mut left_out = false;
        for pair in points.windows(2) {
            let (from, to) = (self.at(pair[0]), self.at(pair[1]));
            let Some((a, b)) = clipped(from, to, sides) else {
                left_out = true;
                continue;
            };
            left_out |= a != from || b != to;
            match runs.last_mut().filter(|run| run.last() == Some(&a)) {
                Some(run) => run.push(b),
                None => runs.push(vec![a, b]),
            }
            // Names of points keep off the curve, a millimetre of it at a time.
            let steps = ((b.0 - a.0).hypot(b.1 - a.1)).ceil().clamp(1.0, 400.0) as usize;
            taken.extend((0..=steps).map(|step| {
                let share = step as f64 / steps as f64;
                let (x, y) = (a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1));
                (x - 0.4, y - 0.4, x + 0.4, y + 0.4)
            }));
        }
        for run in &runs {
            pen.dashed(run, CURVE_MM, dashes);
        }
        left_out
    }

    fn band(&self, pen: &mut Pen, band: &Band) {
        let clamp = |value: f64| value.clamp(self.y.low, self.y.high);
        let edge = |x: f64| {
            let pair = band.edges.windows(2).find(|pair| x >= pair[0].0 && x <= pair[1].0)?;
            let wide = pair[1].0 - pair[0].0;
            let share = if wide > 0.0 { (x - pair[0].0) / wide } else { 0.0 };
            let between = |a: f64, b: f64| clamp(a + share * (b - a));
            Some((between(pair[0].1, pair[1].1), between(pair[0].2, pair[1].2)))
        };
        let (left, _, right, _) = self.sides();
        let value = |paper: f64| self.x.low + (paper - left) / (right - left) * (self.x.high - self.x.low);
        let pitch = 1.3;
        let count = ((right - left) / pitch).floor().clamp(0.0, 2000.0) as usize;
        let (mut strokes, mut dots) = (Vec::new(), Vec::new());
        for column in 0..=count {
            let x = left + pitch * (column as f64 + 0.5);
            let Some((low, high)) = edge(value(x)) else { continue };
            let (foot, top) = (self.y.at(low), self.y.at(high));
            match band.fill {
                Fill::Lines => strokes.push(((x, foot), (x, top))),
                Fill::Dots => {
                    let shift = if column % 2 == 0 { 0.0 } else { 0.5 };
                    let (first, last) = ((top / pitch - shift).ceil() as i64, (foot / pitch - shift).floor() as i64);
                    dots.extend((first..=last).map(|row| (x, (row as f64 + shift) * pitch)));
                }
            }
        }
        pen.strokes(&strokes, HAIR);
        pen.dots(dots, 0.16);
        for side in 0..2 {
            let run: Vec<Point> = band
                .edges
                .iter()
                .map(|edge| self.at((edge.0, clamp(if side == 0 { edge.1 } else { edge.2 }))))
                .collect();
            pen.line(&run, HAIR);
        }
    }

    /// Names of curves, bands and level limits at the right of the frame.
    fn names(&self, pen: &mut Pen, plot: &Plot, (width, room): (f64, f64), notes: &mut Vec<String>) {
        let clamp = |value: f64| value.clamp(self.y.low, self.y.high);
        let mut wanted: Vec<(Point, &str)> = Vec::new();
        for curve in &plot.curves {
            // Where the curve is last seen.
            let seen = curve.points.iter().rev().find(|point| self.x.holds(point.0));
            if let Some(point) = seen {
                wanted.push((self.at((point.0, clamp(point.1))), &curve.name));
            }
        }
        for band in &plot.bands {
            if let Some((x, low, high)) = band.edges.last() {
                let x = x.clamp(self.x.low, self.x.high);
                wanted.push((self.at((x, f64::midpoint(clamp(*low), clamp(*high)))), &band.name));
            }
        }
        for limit in &plot.limits {
            if let LimitAt::Y(at) = limit.at {
                wanted.push(((self.x.paper.1, self.y.at(clamp(at))), &limit.name));
            }
        }
        wanted.retain(|one| !one.1.is_empty());
        let (_, top, right, foot) = self.sides();
        let heights: Vec<f64> = wanted.iter().map(|one| one.0.1).collect();
        let placed = spread(&heights, LINE_MM, (top + 1.0, foot - 1.0));
        for ((end, name), y) in wanted.iter().zip(placed) {
            let short = shortened(name, Type::SMALL, room - 3.0);
            if short != **name {
                notes.push(format!("{short} is {name}"));
            }
            pen.line(&[(end.0.max(self.x.paper.0) + 0.4, end.1), (right + 1.4, y)], HAIR);
            pen.text((width - room + 2.0 - 3.0 + 0.4, y + 1.1), &short, Type::SMALL);
        }
    }

    fn spots(&self, pen: &mut Pen, groups: &[Group], mut taken: Vec<Box4>, notes: &mut Vec<String>) {
        let all = || groups.iter().flat_map(|group| group.spots.iter().map(move |spot| (group.dot, spot)));
        for (shape, spot) in all() {
            let place = self.at((spot.x, spot.y));
            if let Some((low, high)) = spot.range {
                let (foot, top) = (self.y.at(low.max(self.y.low)), self.y.at(high.min(self.y.high)));
                let (x, bar) = (place.0, 0.8);
                pen.strokes(
                    &[((x, foot), (x, top)), ((x - bar, foot), (x + bar, foot)), ((x - bar, top), (x + bar, top))],
                    FINE,
                );
                taken.push((x - bar, top, x + bar, foot));
            }
            dot(pen, place, shape);
            taken.push((place.0 - 1.3, place.1 - 1.3, place.0 + 1.3, place.1 + 1.3));
        }
        for (_, spot) in all().filter(|(_, spot)| !spot.name.is_empty()) {
            if !beside(pen, self.at((spot.x, spot.y)), &spot.name, self.sides(), &mut taken) {
                notes.push(format!("not named for want of room: {} at {}, {}", spot.name, spot.x, spot.y));
            }
        }
    }
}

/// The shape of a point round its place.
fn dot(pen: &mut Pen, (x, y): Point, shape: Dot) {
    let r = 1.0;
    match shape {
        Dot::Filled => pen.dots(vec![(x, y)], 0.9),
        Dot::Ring => pen.circle((x, y), 0.9, OUTLINE),
        Dot::Cross => pen.strokes(&[((x - r, y - r), (x + r, y + r)), ((x - r, y + r), (x + r, y - r))], CURVE_MM),
        Dot::Square => {
            let s = 0.85;
            pen.body(&[(x - s, y - s), (x + s, y - s), (x + s, y + s), (x - s, y + s)], OUTLINE);
        }
        Dot::Triangle => pen.solid(&[(x, y - 1.2), (x + 1.1, y + 0.8), (x - 1.1, y + 0.8)]),
    }
}

/// A line clipped to a box; nothing if it lies outside. Each side in turn
/// narrows the share of the line that is kept.
fn clipped(from: Point, to: Point, (left, top, right, foot): Box4) -> Option<(Point, Point)> {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let (mut low, mut high) = (0.0_f64, 1.0_f64);
    let slack = 1e-6;
    let sides = [(-dx, from.0 - left), (dx, right - from.0), (-dy, from.1 - top), (dy, foot - from.1)];
    for (towards, room) in sides {
        if towards.abs() < 1e-12 {
            if room < -slack {
                return None;
            }
        } else if towards < 0.0 {
            low = low.max((room + slack) / towards);
        } else {
            high = high.min((room + slack) / towards);
        }
    }
    let point = |share: f64| {
        if share <= 0.0 {
            from
        } else if share >= 1.0 {
            to
        } else {
            (from.0 + share * dx, from.1 + share * dy)
        }
    };
    (low < high).then(|| (point(low), point(high)))
}

fn in_words(plot: &Plot, (x, y): (&Ruled, &Ruled)) -> String {
    let mut parts = Vec::new();
    let ends = |points: &[(f64, f64)]| match (points.first(), points.last()) {
        (Some(first), Some(last)) => format!("from {} at {} to {} at {}", first.1, first.0, last.1, last.0),
        _ => "empty".to_owned(),
    };
    parts.extend(plot.curves.iter().map(|curve| format!("{}: {}", named(&curve.name, "a curve"), ends(&curve.points))));
    parts.extend(plot.bands.iter().map(|band| format!("band {}", band.name)));
    parts.extend(plot.limits.iter().map(|limit| format!("limit {}", limit.name)));
    parts.extend(plot.groups.iter().map(|group| format!("{} points {}", group.spots.len(), group.name)));
    format!(
        "{}: {} from {} to {} against {} from {} to {}. {}.",
        named(&plot.title, "Plot"),
        plot.y.title(),
        y.low,
        y.high,
        plot.x.title(),
        x.low,
        x.high,
        parts.join("; ")
    )
}
