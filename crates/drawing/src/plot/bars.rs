//! One bar a row: weak points, load at each wind, what a choice costs.

use crate::DrawingError;
use crate::laid_out::wide_enough;
use crate::marks;
use crate::pen::{Anchor, Drawing, FINE, OUTLINE, Pen, SMALL_TYPE_MM, Type, shortened, text_width};
use crate::plot::axis::{Ruled, ruled};
use crate::plot::labels::LINE_MM;
use crate::plot::{Axis, Dash, Span, finite};

/// Height of a row and of its bar, in mm.
const ROW_MM: f64 = 6.4;
const BAR_MM: f64 = 4.0;

/// Share of the width that the names of rows may take.
const NAMES_SHARE: f64 = 0.42;

/// One row.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// What it is.
    pub name: String,
    /// How long it is; `None` is an empty row, not a bar of zero.
    pub value: Option<f64>,
    /// Lowest and highest it may be, drawn as a line through its end.
    pub range: Option<(f64, f64)>,
    /// The value as printed, or why there is none.
    pub text: String,
    /// Whether it is the one that counts: filled with ink, its name bold.
    pub counts: bool,
}

/// Bars and the limits they are held against.
///
/// ```
/// use drawing::plot::{Axis, Bar, BarPlot, Dash, bars};
///
/// let bar = |name: &str, value, counts| Bar {
///     name: name.into(), value: Some(value), range: None, text: format!("{value} kN"), counts };
/// let picture = bars(&BarPlot {
///     title: "weak points".into(),
///     axis: Axis::new("strength", "kN"),
///     bars: vec![bar("end of the bury", 41.0, true), bar("crown on the pin", 52.0, false)],
///     limits: vec![("wanted".into(), 30.0, Dash::Short)],
/// }, 120.0)?;
/// assert!(picture.svg().contains("crown on the pin"));
/// # Ok::<(), drawing::DrawingError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct BarPlot {
    /// Its title; empty for none.
    pub title: String,
    /// The axis along the bars. Bars begin at zero, so it is never fitted.
    pub axis: Axis,
    /// The bars from the top.
    pub bars: Vec<Bar>,
    /// Upright limits: name with value, place, dash.
    pub limits: Vec<(String, f64, Dash)>,
}

/// The bars, `width_mm` wide and as high as they need.
///
/// # Errors
/// A width under 50 mm, no bar at all, a value that is not a number.
pub fn bars(plot: &BarPlot, width_mm: f64) -> Result<Drawing, DrawingError> {
    wide_enough(width_mm)?;
    let values = values(plot)?;
    let mut notes = Vec::new();
    let widest = plot.bars.iter().map(|bar| text_width(&bar.name, Type::SMALL.bold())).fold(0.0, f64::max);
    let left = (widest + 1.6).min(NAMES_SHARE * width_mm);
    let texts = plot.bars.iter().map(|bar| text_width(&bar.text, Type::SMALL)).fold(0.0, f64::max);
    let right = (width_mm - texts - 2.0).max(left + 0.25 * width_mm);
    let axis = Axis { span: Span::FromZero, ..plot.axis.clone() };
    let steps = (((right - left) / 15.0).floor().max(1.0)) as usize;
    let axis_x = ruled(&axis, &values, ((left, right), steps))?;
    let labels = plot.limits.iter().map(|(name, at, _)| marks::Label {
        x: axis_x.at(*at),
        number: None,
        text: shortened(name, Type::SMALL, width_mm - 4.0),
    });
    let placed = marks::place(labels.collect(), 0.5, width_mm - 0.5);
    let title_mm = if plot.title.is_empty() { 0.0 } else { LINE_MM + 0.8 };
    let rows_mm = if placed.is_empty() { 0.0 } else { LINE_MM * (marks::rows(&placed) as f64 + 0.6) };
    let top = title_mm + rows_mm + 0.6;
    let foot = top + ROW_MM * plot.bars.len() as f64;

    let mut pen = Pen::default();
    pen.text((0.0, SMALL_TYPE_MM), &shortened(&plot.title, Type::SMALL.bold(), width_mm), Type::SMALL.bold());
    marks::draw_rows(&mut pen, &placed, (top, top - 1.8 - LINE_MM / 2.0), LINE_MM);
    let middle = |index: usize| top + ROW_MM * (index as f64 + 0.5);
    let ends: Vec<f64> =
        plot.bars.iter().enumerate().map(|(index, bar)| row(&mut pen, bar, &axis_x, middle(index))).collect();
    for (_, at, dash) in &plot.limits {
        let x = axis_x.at(*at);
        pen.paper_line(&[(x, top), (x, foot)], 0.7);
        pen.dashed(&[(x, top), (x, foot)], OUTLINE, dash.lengths_mm());
    }
    for (index, (bar, end)) in plot.bars.iter().zip(ends).enumerate() {
        words(&mut pen, bar, (left, end, width_mm), middle(index), &mut notes);
    }
    pen.line(&[(left, top), (left, foot), (right, foot)], OUTLINE);
    for (value, figures) in &axis_x.ticks {
        let x = axis_x.at(*value);
        pen.line(&[(x, foot), (x, foot + 0.9)], FINE);
        pen.text((x, foot + 1.2 + SMALL_TYPE_MM), figures, Type::SMALL.anchored(Anchor::Middle));
    }
    let height = foot + 2.0 * LINE_MM + 1.6;
    pen.text((right, height - 0.8), &plot.axis.title(), Type::SMALL.anchored(Anchor::End));
    let told: Vec<String> = plot.bars.iter().map(|bar| format!("{}: {}", bar.name, bar.text)).collect();
    let limits: Vec<&str> = plot.limits.iter().map(|limit| limit.0.as_str()).collect();
    let alt = format!("{}. {}. Limits: {}.", plot.title, told.join("; "), limits.join("; "));
    Ok(pen.finish(width_mm, height, notes, alt))
}

fn values(plot: &BarPlot) -> Result<Vec<f64>, DrawingError> {
    if plot.bars.is_empty() {
        return Err(DrawingError::NothingToPlot);
    }
    let ranges = plot.bars.iter().filter_map(|bar| bar.range).flat_map(|(low, high)| [low, high]);
    let limits = plot.limits.iter().map(|limit| limit.1);
    let mut values: Vec<f64> = plot.bars.iter().filter_map(|bar| bar.value).chain(ranges).chain(limits).collect();
    for value in &values {
        finite("a value of a bar", *value)?;
    }
    values.push(0.0);
    Ok(values)
}

/// The bar of a row; gives where it ends on paper.
fn row(pen: &mut Pen, bar: &Bar, axis: &Ruled, y: f64) -> f64 {
    let mut end = axis.paper.0;
    if let Some(value) = bar.value {
        let (from, to) = (axis.at(0.0), axis.at(value));
        let (low, high) = (from.min(to), from.max(to));
        let half = BAR_MM / 2.0;
        let corners = [(low, y - half), (high, y - half), (high, y + half), (low, y + half)];
        if bar.counts {
            pen.solid(&corners)
        } else {
            pen.body(&corners, FINE)
        }
        end = high;
    }
    if let Some((low, high)) = bar.range {
        let (from, to) = (axis.at(low), axis.at(high));
        pen.paper_line(&[(from, y), (to, y)], 1.1);
        let ends = [((from, y - 1.0), (from, y + 1.0)), ((to, y - 1.0), (to, y + 1.0))];
        pen.strokes(&[((from, y), (to, y)), ends[0], ends[1]], OUTLINE);
        end = end.max(to);
    }
    end
}

/// Name and value of a row, over whatever limit runs there.
fn words(pen: &mut Pen, bar: &Bar, (left, end, width): (f64, f64, f64), y: f64, notes: &mut Vec<String>) {
    let set = if bar.counts { Type::SMALL.bold() } else { Type::SMALL };
    let name = shortened(&bar.name, set, left - 1.4);
    if name != bar.name {
        notes.push(format!("{name} is {}", bar.name));
    }
    pen.text((left - 1.4, y + 1.1), &name, set.anchored(Anchor::End));
    let text = shortened(&bar.text, set, width - end - 1.2);
    if text != bar.text {
        notes.push(format!("{}: {}", bar.name, bar.text));
    }
    let (from, to) = (end + 0.8, (end + 1.6 + text_width(&text, set)).min(width));
    if !text.is_empty() {
        pen.blank(&[(from, y - 2.0), (to, y - 2.0), (to, y + 2.0), (from, y + 2.0)]);
    }
    pen.text((end + 1.2, y + 1.1), &text, set);
}
