//! The order of work as a line: which steps come before the tail goes in,
//! and which after.
//!
//! Steps are ticks, evenly spaced because nobody has timed each; the parts of
//! the work are brackets over them, named with the numbers of their steps. The
//! step at which there is no way back is a closed band. Not covered: which step that is.

use crate::DrawingError;
use crate::laid_out::wide_enough;
use crate::pen::{Drawing, FINE, OUTLINE, Pen, Type, shortened, text_width};
use crate::rope::positive;

/// One part of the work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Phase {
    /// What it is, such as `before the tail goes in`.
    pub name: String,
    /// How many steps it has.
    pub steps: usize,
}

/// The line, `width_mm` wide: parts in order, their steps numbered through
/// from 1. The closed band stands where the second part begins.
///
/// # Errors
/// A width under 50 mm; parts without a single step.
///
/// ```
/// use drawing::{Phase, time_line};
///
/// let phase = |name: &str, steps| Phase { name: name.into(), steps };
/// let line = time_line(&[phase("before the tail goes in", 3), phase("tail in", 2)], 120.0)?;
/// assert!(line.alt.contains("before the tail goes in: steps 1 to 3"));
/// # Ok::<(), drawing::DrawingError>(())
/// ```
pub fn time_line(phases: &[Phase], width_mm: f64) -> Result<Drawing, DrawingError> {
    wide_enough(width_mm)?;
    let steps: usize = phases.iter().map(|phase| phase.steps).sum();
    positive("number of steps", steps as f64)?;
    let (left, right) = (3.0, width_mm - 3.0);
    let pitch = (right - left) / steps as f64;
    let (words_y, line_y) = (3.0, 5.4);
    let mut pen = Pen::default();
    let mut first = 0;
    let mut told = Vec::new();
    let mut names = Vec::new();
    for (index, phase) in phases.iter().enumerate().filter(|(_, phase)| phase.steps > 0) {
        let (from, to) = (left + pitch * first as f64, left + pitch * (first + phase.steps) as f64);
        pen.line(&[(from + 0.8, line_y), (to - 0.8, line_y)], OUTLINE);
        if index > 0 {
            band(&mut pen, (from, line_y), index == 1);
        }
        for step in 0..phase.steps {
            let x = left + pitch * ((first + step) as f64 + 0.5);
            pen.strokes(&[((x, line_y - 0.9), (x, line_y + 0.9))], FINE);
        }
        let last = first + phase.steps;
        let numbers = if phase.steps == 1 { last.to_string() } else { format!("{}–{last}", first + 1) };
        names.push((from + 0.8, format!("{} {numbers}", phase.name)));
        told.push(if phase.steps == 1 {
            format!("{}: step {last}", phase.name)
        } else {
            format!("{}: steps {} to {last}", phase.name, first + 1)
        });
        first = last;
    }
    write_names(&mut pen, &names, words_y, width_mm);
    Ok(pen.finish(width_mm, 6.6, Vec::new(), format!("The order of work. {}.", told.join("; "))))
}

/// Where one part ends and the next begins; closed where there is no way back.
fn band(pen: &mut Pen, (x, y): (f64, f64), closed: bool) {
    if closed {
        pen.solid(&[(x - 0.65, y - 2.0), (x + 0.65, y - 2.0), (x + 0.65, y + 2.0), (x - 0.65, y + 2.0)]);
    } else {
        pen.line(&[(x, y - 1.6), (x, y + 1.6)], OUTLINE);
    }
}

/// Names over the beginnings of their parts, moved aside where they would
/// touch, and shortened where there is no room for all.
fn write_names(pen: &mut Pen, names: &[(f64, String)], y: f64, width: f64) {
    let set = Type::SMALL.bold();
    let gap = 2.4;
    let room = width - gap * names.len().saturating_sub(1) as f64;
    let whole: f64 = names.iter().map(|name| text_width(&name.1, set)).sum();
    let share = (room / whole.max(1e-9)).min(1.0);
    let short: Vec<String> =
        names.iter().map(|name| shortened(&name.1, set, share * text_width(&name.1, set))).collect();
    let widths: Vec<f64> = short.iter().map(|name| text_width(name, set)).collect();
    let mut places: Vec<f64> = names.iter().map(|name| name.0).collect();
    let mut least = 0.0;
    for (place, wide) in places.iter_mut().zip(&widths) {
        *place = place.max(least);
        least = *place + wide + gap;
    }
    let mut most = width;
    for (place, wide) in places.iter_mut().zip(&widths).rev() {
        *place = place.min(most - wide);
        most = *place - gap;
    }
    for (name, x) in short.iter().zip(places) {
        pen.text((x, y), name, set);
    }
}
