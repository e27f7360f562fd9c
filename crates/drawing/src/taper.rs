//! The tail's taper strand by strand.
//!
//! Every strand is a line from the throat side towards the bitter end, which
//! is to the left; a strand that is taken out ends in an arrowhead where it
//! leaves. Distances are to scale.

use crate::DrawingError;
use crate::laid_out::wide_enough;
use crate::marks::{self, Label};
use crate::pen::{Drawing, FINE, HAIR, Pen, Type, text_width};
use crate::rope::{RopeEnd, Taper};
use crate::scale::Scale;
use crate::svg::number;

/// Height of a row of labels, in mm.
const LABEL_MM: f64 = 3.7;

/// From strand to strand, in mm.
const STRAND_MM: f64 = 1.0;

/// The taper of an end, `width_mm` wide, or `None` if the end has none.
///
/// # Errors
/// As [`RopeEnd::check`], and a width under 50 mm.
pub fn taper(end: &RopeEnd, width_mm: f64) -> Result<Option<Drawing>, DrawingError> {
    end.check()?;
    wide_enough(width_mm)?;
    Ok(end.taper.as_ref().filter(|taper| taper.strands > 0).map(|taper| picture(taper, width_mm)))
}

fn picture(taper: &Taper, width: f64) -> Drawing {
    let run_on = 14.0;
    let mut points: Vec<f64> = taper.steps.iter().map(|step| step.from_bitter_end_mm).collect();
    points.extend([0.0, taper.slanted_cut_mm]);
    let scale = Scale::fit(points, 1.0, width - 1.0 - run_on);
    let labels = taper
        .steps
        .iter()
        .filter(|step| !step.words.is_empty())
        .map(|step| Label { x: scale.at(step.from_bitter_end_mm), number: None, text: step.words.clone() })
        .collect();
    let placed = marks::place(labels, 0.5, width - 0.5);
    let over = LABEL_MM * marks::rows(&placed) as f64 + 1.6;
    let high = STRAND_MM * f64::from(taper.strands);

    let mut pen = Pen::default();
    marks::draw_rows(&mut pen, &placed, (over, over - 1.6 - LABEL_MM / 2.0), LABEL_MM);
    for strand in 0..taper.strands {
        let y = over + 1.0 + STRAND_MM * f64::from(strand);
        draw_strand(&mut pen, taper, &scale, (strand, y), width);
    }
    for step in &taper.steps {
        let x = scale.at(step.from_bitter_end_mm);
        pen.dashed(&[(x, over - 0.3), (x, over + high)], HAIR, &[0.8, 0.8]);
    }
    let full = format!("{}", taper.strands);
    pen.text((width - text_width(&full, Type::SMALL) - 0.2, over + high / 2.0 + 1.0), &full, Type::SMALL.bold());
    let steps: Vec<String> = taper
        .steps
        .iter()
        .map(|step| format!("{} strands left at {} mm", step.strands_left, number(step.from_bitter_end_mm)))
        .collect();
    let alt = format!("The taper strand by strand, {} strands at the throat; {}.", taper.strands, steps.join("; "));
    pen.finish(width, over + high + 0.4, vec![scale.note()], alt)
}

/// One strand; the ones that stay longest lie lowest.
fn draw_strand(pen: &mut Pen, taper: &Taper, scale: &Scale, (strand, y): (u32, f64), width: f64) {
    let rank = taper.strands - 1 - strand;
    let right = width - 6.0;
    let out = taper.steps.iter().find(|step| step.strands_left <= rank);
    let last = taper.steps.last().map_or(taper.strands, |step| step.strands_left);
    match out {
        Some(step) => {
            let x = scale.at(step.from_bitter_end_mm);
            pen.line(&[(x + 1.2, y), (right, y)], FINE * 1.6);
            pen.solid(&[(x, y), (x + 1.8, y - 0.6), (x + 1.8, y + 0.6)]);
        }
        None => {
            // The slanted cut: the lowest strand reaches the bitter end.
            let share = if last > 1 { f64::from(rank) / f64::from(last - 1) } else { 0.0 };
            let x = scale.at(share * taper.slanted_cut_mm);
            pen.line(&[(x, y), (right, y)], FINE * 1.6);
        }
    }
}
