//! Pieces that are no single end: a join, a ring, a strop, a soft shackle, a
//! rope on a chain.
//!
//! What is made up on one side of a crossing, throat or knot is given once and
//! drawn on both. Lengths along the rope are to scale; a ring is drawn open,
//! its length round to scale. Rope too thin to read is drawn thicker, and the
//! notes say so. Not covered: how a stopper knot is tied.

use std::f64::consts::PI;

use crate::DrawingError;
use crate::course::{Course, Part, Texture, break_at, rope, stitching, tube, whipping};
use crate::dimensions::{self, Dimension};
use crate::finished::finished;
use crate::laid_out::{texture_of, thickness, wide_enough};
use crate::marks;
use crate::pen::{Anchor, Drawing, FINE, OUTLINE, Pen, Point, Shape, Type};
use crate::rope::{MarkShape, RopeEnd, Stretch, What, positive};
use crate::scale::in_words;

/// How much thicker a rope is over a tail of its own thickness.
const SWOLLEN: f64 = 1.35;

/// What a piece is, as a whole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Form {
    /// Two ropes past each other; made up alike on both sides of the crossing.
    Join,
    /// A ring of rope, its inside length pulled flat, in mm.
    Ring(f64),
    /// An eye at each end, alike.
    TwoEyes,
    /// A doubled rope closed over its knot, its inside length, in mm.
    Shackle(f64),
    /// Strands round the bar of a chain's link, its diameter in mm.
    Chain(f64),
}

/// A whole piece made up, `width_mm` wide.
///
/// # Errors
/// As [`RopeEnd::check`], a length of the form that is not more than zero, and
/// a width under 50 mm (twice that for two eyes).
pub fn piece(end: &RopeEnd, form: Form, width_mm: f64) -> Result<Drawing, DrawingError> {
    end.check()?;
    wide_enough(width_mm)?;
    match form {
        Form::Join => Ok(join(end, width_mm)),
        Form::Ring(inside) => {
            positive("inside length of the ring", inside)?;
            Ok(ring(end, inside, width_mm))
        }
        Form::TwoEyes => two_eyes(end, width_mm),
        Form::Shackle(inside) => {
            positive("inside length of the shackle", inside)?;
            Ok(shackle(end, inside, width_mm))
        }
        Form::Chain(bar) => {
            positive("bar of the link", bar)?;
            Ok(chain(end, bar, width_mm))
        }
    }
}

/// One side of a piece along a course: where it starts, and which way it runs.
struct Side<'a> {
    course: &'a Course,
    start: f64,
    sign: f64,
    ratio: f64,
    thick: f64,
    base: Texture,
}

impl Side<'_> {
    /// The part of the course between two distances, thick ends in order.
    fn part(&self, (from, to): (f64, f64), (near, far): (f64, f64)) -> Part {
        let at = |mm: f64| self.start + self.sign * mm * self.ratio;
        if self.sign > 0.0 {
            Part { from: at(from), to: at(to), thick_from: near, thick_to: far }
        } else {
            Part { from: at(to), to: at(from), thick_from: far, thick_to: near }
        }
    }

    fn draw(&self, pen: &mut Pen, made_up: &[Stretch]) {
        let thick = self.thick;
        for one in made_up {
            let run = (one.from_mm, one.to_mm);
            match one.what {
                What::TailInside | What::CoverInside => {
                    rope(pen, self.course, self.part(run, (SWOLLEN * thick, SWOLLEN * thick)), Texture::Plain);
                    rope(pen, self.course, self.part(run, (0.72 * thick, 0.72 * thick)), Texture::Hatch);
                }
                What::TaperInside => {
                    rope(pen, self.course, self.part(run, (SWOLLEN * thick, 1.05 * thick)), Texture::Plain);
                    rope(pen, self.course, self.part(run, (0.72 * thick, 0.22 * thick)), Texture::Hatch);
                }
                What::Tucks => rope(pen, self.course, self.part(run, (1.5 * thick, 1.1 * thick)), Texture::Tucks),
                What::BareCore => {
                    rope(pen, self.course, self.part(run, (0.66 * thick, 0.66 * thick)), Texture::FineLines);
                }
                What::Cover => rope(pen, self.course, self.part(run, (1.2 * thick, 1.2 * thick)), Texture::Stipple),
                What::Standing | What::Eye => rope(pen, self.course, self.part(run, (thick, thick)), self.base),
                What::Stitching | What::Whipping | What::Length => {}
            }
        }
        for one in made_up {
            let part = self.part((one.from_mm, one.to_mm), (SWOLLEN * thick, SWOLLEN * thick));
            match one.what {
                What::Stitching => stitching(pen, self.course, part),
                What::Whipping => whipping(pen, self.course, part),
                _ => {}
            }
        }
        let buried = made_up.iter().filter(|one| matches!(one.what, What::TailInside | What::TaperInside));
        if let Some(end) = buried.map(|one| one.to_mm).reduce(f64::max) {
            marks::shape(pen, self.course, self.start + self.sign * end * self.ratio, thick, MarkShape::BrokenBand);
        }
    }
}

fn join(end: &RopeEnd, width: f64) -> Drawing {
    let extent = end.made_up_extent_mm().max(4.0 * end.rope_diameter_mm);
    let run_on = (0.15 * extent).max(3.0 * end.rope_diameter_mm);
    let ratio = ((width - 4.0) / 2.0 / (extent + run_on)).min(1.0);
    let (thick, note) = thickness(end.rope_diameter_mm * ratio, 2.6, 9.0);
    let y = 0.75 * thick + 5.6;
    let course = Course::level(0.0, width, y);
    let mut pen = Pen::default();
    let base = texture_of(end.look);
    rope(&mut pen, &course, Part::even(2.0, width - 2.0, thick), base);
    for sign in [-1.0, 1.0] {
        let side = Side { course: &course, start: width / 2.0, sign, ratio, thick, base };
        side.draw(&mut pen, &end.made_up);
    }
    marks::shape(&mut pen, &course, width / 2.0, 1.4 * thick, MarkShape::ClosedBand);
    pen.text((width / 2.0, 3.2), "crossing", Type::SMALL.bold().anchored(Anchor::Middle));
    for along in [2.5, width - 2.5] {
        break_at(&mut pen, &course, along, 1.3 * thick);
    }
    let at = |mm: f64| width / 2.0 + mm * ratio;
    let foot = labels(&mut pen, end, at, (y + 0.75 * thick + 1.6, width));
    finish(pen, (width, foot.max(y + thick)), (ratio, note), "Two ropes joined at the crossing in the middle")
}

/// Dimension lines of one side's labelled stretches; gives their foot.
fn labels(pen: &mut Pen, end: &RopeEnd, at: impl Fn(f64) -> f64, (top, width): (f64, f64)) -> f64 {
    let lengths =
        end.made_up.iter().map(|one| Dimension { from: at(one.from_mm), to: at(one.to_mm), text: one.label.clone() });
    dimensions::draw(pen, lengths.collect(), top, (0.5, width - 0.5))
}

fn finish(pen: Pen, (width, height): (f64, f64), (ratio, note): (f64, Option<String>), alt: &str) -> Drawing {
    let mut notes = vec![in_words(ratio)];
    notes.extend(note);
    pen.finish(width, height, notes, format!("{alt}."))
}

/// A closed course round a ring, from the middle of its foot to the right,
/// `around` long.
fn stadium(centre_x: f64, top: f64, around: f64, radius: f64) -> Course {
    let half = (around - 2.0 * PI * radius).max(0.0) / 4.0;
    let (high, low) = (top, top + 2.0 * radius);
    let arc = |centre: f64, from: f64| {
        (0..=24).map(move |step| {
            let angle = from - PI * f64::from(step) / 24.0;
            (centre + radius * angle.cos(), top + radius + radius * angle.sin())
        })
    };
    let mut points: Vec<Point> = vec![(centre_x, low)];
    points.extend(arc(centre_x + half, PI / 2.0));
    points.push((centre_x - half, high));
    points.extend(arc(centre_x - half, 1.5 * PI));
    points.push((centre_x, low));
    Course::through(points)
}

fn ring(end: &RopeEnd, inside: f64, width: f64) -> Drawing {
    let around = 2.0 * inside + PI * end.rope_diameter_mm;
    // The ends of the open ring take a tenth of its length.
    let radius_mm = 0.1 * around / PI;
    let long = (around - 2.0 * PI * radius_mm) / 2.0 + 2.0 * radius_mm;
    let room = width - 4.0;
    let ratio = (room / (long + 2.0 * end.rope_diameter_mm)).min(1.0);
    let (thick, note) = thickness(end.rope_diameter_mm * ratio, 2.4, 9.0);
    let course = stadium(width / 2.0, thick + 1.0, around * ratio, radius_mm * ratio);
    let mut pen = Pen::default();
    let base = texture_of(end.look);
    rope(&mut pen, &course, Part::even(0.0, course.length(), thick), base);
    for (start, sign) in [(0.0, 1.0), (course.length(), -1.0)] {
        let side = Side { course: &course, start, sign, ratio, thick, base };
        side.draw(&mut pen, &end.made_up);
    }
    marks::shape(&mut pen, &course, 0.0, 1.4 * thick, MarkShape::ClosedBand);
    let foot = thick + 1.0 + 2.0 * radius_mm * ratio;
    pen.text((width / 2.0, foot + thick + 4.4), "crossing", Type::SMALL.bold().anchored(Anchor::Middle));
    finish(pen, (width, foot + thick + 5.6), (ratio, note), "A ring of rope, its crossing at the foot")
}

/// The end to the left, and the same end mirrored to the right.
fn two_eyes(end: &RopeEnd, width: f64) -> Result<Drawing, DrawingError> {
    let half = (width - 1.0) / 2.0;
    let left = finished(end, half)?;
    let mut shapes = left.shapes.clone();
    shapes.extend(left.shapes.iter().map(|shape| mirrored(shape, width)));
    Ok(Drawing {
        shapes,
        width_mm: width,
        height_mm: left.height_mm,
        notes: left.notes,
        alt: "A strop: an eye at each end, made up alike.".to_owned(),
    })
}

/// A shape seen in a mirror on the picture's middle; words stay readable.
fn mirrored(shape: &Shape, width: f64) -> Shape {
    let flip = |(x, y): Point| (width - x, y);
    match shape {
        Shape::Lines { runs, fill, stroke } => Shape::Lines {
            runs: runs.iter().map(|run| run.iter().copied().map(flip).collect()).collect(),
            fill: *fill,
            stroke: stroke.clone(),
        },
        Shape::Round { centre, half, line_mm } => {
            Shape::Round { centre: flip(*centre), half: *half, line_mm: *line_mm }
        }
        Shape::Dots { centres, radius_mm } => {
            Shape::Dots { centres: centres.iter().copied().map(flip).collect(), radius_mm: *radius_mm }
        }
        Shape::Text { at, text, set } => {
            let anchor = match set.anchor {
                Anchor::Start => Anchor::End,
                Anchor::Middle => Anchor::Middle,
                Anchor::End => Anchor::Start,
            };
            Shape::Text { at: flip(*at), text: text.clone(), set: Type { anchor, ..*set } }
        }
    }
}

fn shackle(end: &RopeEnd, inside: f64, width: f64) -> Drawing {
    let d = end.rope_diameter_mm;
    let around = 2.0 * inside + PI * d;
    let radius_mm = (0.16 * around / PI).max(1.5 * d);
    let long = ((around - 2.0 * PI * radius_mm) / 2.0).max(0.0) + 2.0 * radius_mm;
    let ratio = ((width - 6.0) / (long + 7.0 * d)).min(0.7);
    let (thick, note) = thickness(d * ratio, 1.8, 5.0);
    let top = 2.0 * thick + 1.0;
    // Room for the knot to the left and for the outer leg to the right.
    let centre = 2.0 + 4.6 * thick + (long * ratio) / 2.0;
    let course = stadium(centre, top, around * ratio, radius_mm * ratio);
    // The knot closes the ring at its left end, three quarters of the way
    // round from the foot.
    let whole = course.length();
    let knot_at = 0.75 * whole;
    let knot = course.at(knot_at, 0.0);
    let mut pen = Pen::default();
    // Two legs side by side all the way round, the tails inside them by the knot.
    for aside in [-0.5 * thick, 0.5 * thick] {
        let points = (0..=160).map(|step| course.at(whole * f64::from(step) / 160.0, aside)).collect();
        let leg = Course::through(points);
        rope(&mut pen, &leg, Part::even(0.0, leg.length(), thick), Texture::Plain);
        let along = leg.length() * 0.75;
        for one in end.made_up.iter().filter(|one| one.what == What::TailInside) {
            let to = (along - (one.to_mm + d) * ratio).max(0.0);
            rope(&mut pen, &leg, Part::even(to, along - thick, 0.6 * thick), Texture::Hatch);
        }
    }
    let size = 1.9 * thick;
    // The knot: a ball with the parts of its strands across it.
    let ball = (knot.0 - 0.4 * size, knot.1);
    pen.circle(ball, size, OUTLINE);
    for share in [-0.6, -0.2, 0.2, 0.6_f64] {
        let half = (1.0 - share * share).sqrt() * size;
        let (along, aside) = (share * size, half);
        // A chord at half a right angle.
        let at = |sign: f64| {
            let (x, y) = (along, sign * aside);
            (ball.0 + (x - y) * std::f64::consts::FRAC_1_SQRT_2, ball.1 + (x + y) * std::f64::consts::FRAC_1_SQRT_2)
        };
        pen.line(&[at(-1.0), at(1.0)], FINE);
    }
    // The eye lies round both legs where they leave the knot.
    let neck = knot.0 + 0.85 * size;
    let tall = 1.35 * thick;
    pen.body(
        &[
            (neck - 0.5 * thick, knot.1 - tall),
            (neck + 0.5 * thick, knot.1 - tall),
            (neck + 0.5 * thick, knot.1 + tall),
            (neck - 0.5 * thick, knot.1 + tall),
        ],
        OUTLINE,
    );
    let foot = top + 2.0 * radius_mm * ratio + 1.2 * thick;
    pen.text((2.0, foot + 4.0), "knot, and the eye round its neck", Type::SMALL.bold());
    finish(pen, (width, foot + 5.4), (ratio, note), "A soft shackle closed over its knot, to the left")
}

fn chain(end: &RopeEnd, bar: f64, width: f64) -> Drawing {
    let d = end.rope_diameter_mm;
    let extent = end.made_up_extent_mm().max(6.0 * d);
    let link_mm = 9.0 * bar;
    let ratio = ((width - 6.0) / (link_mm + extent + 6.0 * d)).min(1.0);
    let (thick, note) = thickness(d * ratio, 2.6, 9.0);
    let size = (bar * ratio).max(1.6);
    let turn = (size + thick) / 2.0;
    let y = (2.2 * size).max(turn + thick / 2.0) + 1.0;
    let middle = 3.0 + 8.0 * size;
    let mut pen = Pen::default();
    // A link edge on, and the end link, seen flat, whose bar the rope goes round.
    pen.pill((3.0 + 1.9 * size, y), (1.9 * size, 0.5 * size), OUTLINE);
    pen.pill((middle - 2.6 * size, y), (3.1 * size, 1.9 * size), OUTLINE);
    pen.pill((middle - 2.6 * size, y), (2.1 * size, 0.9 * size), OUTLINE);
    let throat = middle + 1.6 * turn;
    let mut points = vec![(throat, y - thick / 4.0)];
    points.extend((0..=24).map(|step| {
        let angle = PI / 2.0 + PI * f64::from(step) / 24.0;
        (middle + turn * angle.cos(), y - turn * angle.sin())
    }));
    points.push((throat, y + thick / 4.0));
    tube(&mut pen, &Course::through(points), thick, (Texture::Plain, 0.0));
    pen.circle((middle, y), size / 2.0, FINE);
    let course = Course::level(0.0, width, y);
    let base = texture_of(end.look);
    rope(&mut pen, &course, Part::even(throat, width - 2.0, thick), base);
    let side = Side { course: &course, start: throat, sign: 1.0, ratio, thick, base };
    side.draw(&mut pen, &end.made_up);
    break_at(&mut pen, &course, width - 2.5, 1.3 * thick);
    let at = |mm: f64| throat + mm * ratio;
    let foot = labels(&mut pen, end, at, (y + 0.75 * thick + 1.6, width));
    finish(
        pen,
        (width, foot.max(2.0 * y)),
        (ratio, note),
        "A rope round the end link of a chain, its tucks to the right",
    )
}
