//! An end as it lies straight on the bench, with its numbered marks.
//!
//! Lengths along the rope are to scale, long plain gaps left out where the
//! marks could not be told apart otherwise. The bitter end is to the left.

use crate::DrawingError;
use crate::course::{Course, Part, Texture, break_at, rope, stitching, whipping};
use crate::dimensions::{self, Dimension};
use crate::marks::{self, Label, ROW_MM};
use crate::pen::{Drawing, FINE, Pen};
use crate::rope::{Look, Mark, On, RopeEnd, Stretch, What};
use crate::scale::Scale;

/// Narrowest picture that can be read, in mm.
pub(crate) const LEAST_WIDTH_MM: f64 = 50.0;

/// The end straight on the bench, `width_mm` wide.
///
/// # Errors
/// As [`RopeEnd::check`], and a width under 50 mm.
pub fn laid_out(end: &RopeEnd, width_mm: f64) -> Result<Drawing, DrawingError> {
    end.check()?;
    wide_enough(width_mm)?;
    // Room for the standing part to run on past the last mark.
    let run_on = 10.0;
    let left = 4.0;
    let mut points: Vec<f64> = end.stretches.iter().flat_map(|one| [one.from_mm, one.to_mm]).collect();
    points.extend(end.marks.iter().map(|mark| mark.from_bitter_end_mm));
    points.push(0.0);
    if end.extent_mm() == 0.0 {
        points.push(10.0 * end.rope_diameter_mm);
    }
    let scale = Scale::fit(points, left, width_mm - left - run_on);
    let (thick, thick_note) = thickness(end.rope_diameter_mm * scale.ratio, 2.6, 7.0);

    let heads = Heads::of(end, &scale, width_mm);
    let over = ROW_MM * heads.rows_over() as f64 + if heads.slanting() { 3.8 } else { 2.0 };
    let y = over + thick / 2.0 + 1.2;
    let mut pen = Pen::default();
    let course = Course::level(0.0, width_mm, y);
    let part = |from: f64, to: f64| Part::even(from, to, thick);
    rope(&mut pen, &course, part(left, width_mm - 3.0), texture_of(end.look));
    for stretch in &end.stretches {
        draw_stretch(&mut pen, &course, end.look, stretch, part(scale.at(stretch.from_mm), scale.at(stretch.to_mm)));
    }
    pen.line(&[course.at(left, -thick / 2.0), course.at(left, thick / 2.0)], FINE);
    for along in &scale.breaks {
        break_at(&mut pen, &course, *along, thick);
    }
    break_at(&mut pen, &course, width_mm - 3.0, thick);
    let under = heads.draw(&mut pen, (y - thick / 2.0 - 0.8, y + thick / 2.0 + 0.8), over);
    for mark in &end.marks {
        marks::shape(&mut pen, &course, scale.at(mark.from_bitter_end_mm), thick, mark.shape);
    }
    // Where numbers stand alone a table beside the picture has the lengths.
    let measured = end.stretches.iter().filter(|_| !heads.slanting());
    let lengths =
        measured.map(|one| Dimension { from: scale.at(one.from_mm), to: scale.at(one.to_mm), text: one.label.clone() });
    let lengths: Vec<Dimension> = lengths.collect();
    let under = if lengths.is_empty() { under - 1.2 } else { under };
    let foot = dimensions::draw(&mut pen, lengths, under + 1.4, (0.5, width_mm - 0.5));
    let mut notes = vec![scale.note()];
    notes.extend(thick_note);
    Ok(pen.finish(width_mm, foot, notes, in_words(end)))
}

/// The numbers of the marks: with their distances where those fit into one
/// row, alone where they do not; those on the cover stand under the rope.
enum Heads {
    Worded(Vec<marks::Placed>),
    Rings { over: marks::RingRows, under: Option<marks::RingRows> },
}

impl Heads {
    fn of(end: &RopeEnd, scale: &Scale, width: f64) -> Heads {
        let label = |mark: &Mark| Label {
            x: scale.at(mark.from_bitter_end_mm),
            number: Some(mark.number),
            text: mark.at_text.clone(),
        };
        let worded = marks::place(end.marks.iter().map(label).collect(), 0.5, width - 0.5);
        if marks::rows(&worded) <= 1 {
            return Heads::Worded(worded);
        }
        let side = |cover: bool| {
            let there = end.marks.iter().filter(|mark| (mark.on == On::Cover) == cover);
            let places: Vec<(f64, u32)> = there.map(|mark| (scale.at(mark.from_bitter_end_mm), mark.number)).collect();
            marks::ring_rows(&places, 0.3, width - 0.3)
        };
        match (side(false), side(true)) {
            (Some(over), Some(under)) => {
                Heads::Rings { over, under: Some(under).filter(|under| under.rows_taken() > 0) }
            }
            _ => Heads::Worded(worded),
        }
    }

    fn rows_over(&self) -> usize {
        match self {
            Heads::Worded(placed) => marks::rows(placed),
            Heads::Rings { over, .. } => over.rows_taken(),
        }
    }

    fn slanting(&self) -> bool {
        matches!(self, Heads::Rings { .. })
    }

    /// Draws the numbers over and under the rope; gives where they end below.
    fn draw(&self, pen: &mut Pen, (top, foot): (f64, f64), over: f64) -> f64 {
        match self {
            Heads::Worded(placed) => {
                marks::draw(pen, placed, top, over - 2.0 - ROW_MM / 2.0 + 0.3);
                foot
            }
            Heads::Rings { over: rings, under } => {
                marks::draw_ring_rows(pen, rings, top, over - 3.8 - ROW_MM / 2.0 + 0.3);
                let Some(rings) = under else { return foot };
                marks::draw_ring_rows(pen, rings, foot, foot + 3.4 + ROW_MM / 2.0);
                foot + 3.4 + ROW_MM * rings.rows_taken() as f64
            }
        }
    }
}

/// One stretch of the rope as it lies straight.
fn draw_stretch(pen: &mut Pen, course: &Course, look: Look, stretch: &Stretch, part: Part) {
    if part.to <= part.from {
        return;
    }
    let thick = part.thick_to;
    match stretch.what {
        What::Standing | What::Eye => rope(pen, course, part, texture_of(look)),
        What::Tucks => rope(pen, course, part, Texture::Tucks),
        What::TailInside | What::CoverInside => rope(pen, course, part, Texture::Hatch),
        What::TaperInside => {
            let thin = Part { thick_from: 0.35 * thick, ..part };
            pen.blank(&[
                course.at(part.from - 0.3, -thick),
                course.at(part.to, -thick),
                course.at(part.to, thick),
                course.at(part.from - 0.3, thick),
            ]);
            rope(pen, course, thin, Texture::Hatch);
        }
        What::Cover => rope(pen, course, part, Texture::Stipple),
        What::BareCore => {
            pen.blank(&[
                course.at(part.from, -thick),
                course.at(part.to, -thick),
                course.at(part.to, thick),
                course.at(part.from, thick),
            ]);
            rope(pen, course, Part::even(part.from, part.to, 0.66 * thick), Texture::FineLines);
        }
        What::Stitching => stitching(pen, course, part),
        What::Whipping => whipping(pen, course, part),
        What::Length => {}
    }
}

/// The texture of a standing part.
pub(crate) fn texture_of(look: Look) -> Texture {
    match look {
        Look::Braid => Texture::Plain,
        Look::Laid => Texture::Lobes,
        Look::Plait => Texture::Chevrons,
        Look::Covered => Texture::Stipple,
    }
}

/// Thickness on paper, held to what can be read, and the note if it was.
pub(crate) fn thickness(to_scale: f64, least: f64, most: f64) -> (f64, Option<String>) {
    let thick = to_scale.clamp(least, most);
    let note = if (thick - to_scale).abs() > 1e-9 {
        Some(format!("rope drawn {}", if thick > to_scale { "thicker" } else { "thinner" }))
    } else {
        None
    };
    (thick, note)
}

pub(crate) fn wide_enough(width_mm: f64) -> Result<(), DrawingError> {
    if width_mm.is_finite() && width_mm >= LEAST_WIDTH_MM {
        Ok(())
    } else {
        Err(DrawingError::TooNarrow { given_mm: width_mm, least_mm: LEAST_WIDTH_MM })
    }
}

fn in_words(end: &RopeEnd) -> String {
    let marks: Vec<String> = end
        .marks
        .iter()
        .map(|mark| format!("{} {} at {}, {}", mark.number, mark.name, mark.at_text, marks::name_of(mark.shape)))
        .collect();
    format!("The end laid straight, bitter end to the left. Marks: {}.", marks.join("; "))
}
