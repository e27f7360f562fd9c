//! An end made up: the whole to scale, throat and taper enlarged.
//!
//! The eye is to the left, round its pin; the standing part runs off to the
//! right. Lengths are to scale. Where the rope would be too thin to read it
//! is drawn thicker, and the throat and the end of the bury are drawn again
//! beneath at a larger scale; the notes say which. Geometry of the eye: legs
//! are tangents from the throat to the circle of the rope round the pin.

use std::f64::consts::PI;

use crate::DrawingError;
use crate::course::{Course, Part, Texture, break_at, rope, stitching, tube, whipping};
use crate::dimensions::{self, Dimension};
use crate::laid_out::{texture_of, thickness, wide_enough};
use crate::marks;
use crate::pen::{Drawing, FINE, HAIR, Pen, Point, Type};
use crate::rope::{Eye, MarkShape, RopeEnd, Stretch, What};
use crate::scale::in_words;

/// Rope thinner than this on paper gets its throat and taper enlarged, in mm.
const READABLE_THICK_MM: f64 = 4.0;

/// Thickness of the rope in the enlarged pictures at most, in mm.
const ENLARGED_MM: f64 = 6.5;

/// Thickness of the rope in the enlarged throat at least, in mm.
const LEAST_ENLARGED_MM: f64 = 3.6;

/// Half the height of the enlarged throat at most, in mm: a wider eye is cut
/// off where it has opened so far.
const HIGHEST_INSET_MM: f64 = 8.0;

/// The made-up end, `width_mm` wide.
///
/// # Errors
/// As [`RopeEnd::check`], and a width under 50 mm.
pub fn finished(end: &RopeEnd, width_mm: f64) -> Result<Drawing, DrawingError> {
    end.check()?;
    wide_enough(width_mm)?;
    let eye_mm = end.eye.map_or(0.0, |eye| eye.length_mm + end.rope_diameter_mm);
    let run_on_mm = (0.08 * (eye_mm + end.made_up_extent_mm())).max(4.0 * end.rope_diameter_mm);
    let ratio = ((width_mm - 4.0) / (eye_mm + end.made_up_extent_mm() + run_on_mm)).min(1.0);
    let (thick, note) = thickness(end.rope_diameter_mm * ratio, 2.2, 12.0);
    let view = View { end, ratio, thick, from_mm: -eye_mm, to_mm: end.made_up_extent_mm() + run_on_mm };
    let mut pen = Pen::default();
    let whole = draw_view(&mut pen, &view, (2.0, 0.0));
    let mut notes = vec![in_words(ratio)];
    notes.extend(note);
    let mut height = whole;
    if thick < READABLE_THICK_MM {
        height = insets(&mut pen, end, (width_mm, whole + 0.8));
    }
    let words: Vec<&str> = end.made_up.iter().map(|one| one.label.as_str()).filter(|text| !text.is_empty()).collect();
    let alt = format!(
        "The end made up, {}, standing part to the right. {}",
        if end.eye.is_some() { "eye to the left" } else { "end to the left" },
        words.join("; ")
    );
    Ok(pen.finish(width_mm, height, notes, alt))
}

/// What part of the end is drawn, and how large.
struct View<'a> {
    end: &'a RopeEnd,
    ratio: f64,
    thick: f64,
    /// From here, measured from the throat; the eye is negative.
    from_mm: f64,
    to_mm: f64,
}

/// Throat and end of the bury enlarged, side by side; gives where they end.
fn insets(pen: &mut Pen, end: &RopeEnd, (width, top): (f64, f64)) -> f64 {
    let d = end.rope_diameter_mm;
    let buried = end.made_up.iter().filter(|one| matches!(one.what, What::TailInside | What::TaperInside));
    let bury_end = buried.map(|one| one.to_mm).fold(0.0, f64::max);
    let wide = if bury_end > 0.0 { (width - 6.0) / 2.0 } else { width };
    let mut foot = top;
    if end.eye.is_some() || bury_end > 0.0 {
        let eye_mm = end.eye.map_or(0.0, |eye| eye.length_mm + d);
        // As much of the eye as leaves the throat legible: a long eye is cut off.
        // Somewhat smaller if that lets the whole eye in; else a long eye is
        // cut off, so that the throat stays legible.
        let fitting = (wide - 3.0) / (eye_mm + 3.0 * d);
        let ratio = if fitting * d >= LEAST_ENLARGED_MM { fitting.min(ENLARGED_MM / d) } else { LEAST_ENLARGED_MM / d };
        let room_mm = (wide - 3.0) / ratio;
        let radius = end.eye.map_or(0.0, |eye| eye_radius_of(eye, (ratio, ratio * d)));
        let legible = if radius > HIGHEST_INSET_MM { eye_mm * HIGHEST_INSET_MM / radius } else { eye_mm };
        let shown_eye = legible.min(room_mm - 3.0 * d);
        let view = View { end, ratio, thick: ratio * d, from_mm: -shown_eye, to_mm: room_mm - shown_eye };
        pen.text((1.0, top + 3.2), &format!("throat, {}", of_scale(ratio)), Type::SMALL.bold());
        foot = foot.max(draw_view(pen, &view, (1.5, top + 4.0)));
    }
    if bury_end > 0.0 {
        let tapers = end.made_up.iter().filter(|one| one.what == What::TaperInside).map(|one| one.from_mm);
        let begin = tapers.fold(bury_end - 6.0 * d, f64::min).max(0.0) - 2.0 * d;
        let shown = bury_end + 4.0 * d - begin;
        let ratio = ((wide - 3.0) / shown).min(ENLARGED_MM / d);
        let thick = thickness(d * ratio, 3.2, ENLARGED_MM).0;
        let view = View { end, ratio, thick, from_mm: begin, to_mm: bury_end + 4.0 * d };
        let left = width - wide;
        pen.text((left, top + 3.2), &format!("end of the bury, {}", of_scale(ratio)), Type::SMALL.bold());
        foot = foot.max(draw_view(pen, &view, (left + 1.5, top + 4.0)));
    }
    foot
}

/// A scale behind a word that says what is to it.
fn of_scale(ratio: f64) -> String {
    in_words(ratio).trim_start_matches("scale ").to_owned()
}

/// Draws a view with its top left corner at `(left, top)`; gives its foot.
fn draw_view(pen: &mut Pen, view: &View<'_>, (left, top): (f64, f64)) -> f64 {
    let half = half_height(view);
    let y = top + half + 1.2;
    let x_of = |mm: f64| left + (mm - view.from_mm) * view.ratio;
    let from = x_of(view.from_mm.max(0.0));
    let to = x_of(view.to_mm);
    let course = Course::level(0.0, to + 10.0, y);
    if let Some(eye) = view.end.eye.filter(|_| view.from_mm < 0.0) {
        draw_eye(pen, view, eye, (x_of(0.0), y));
    }
    outer(pen, view, &course, (from, to), x_of);
    let clipped = |one: &Stretch| {
        let (low, high) = (one.from_mm.max(view.from_mm.max(0.0)), one.to_mm.min(view.to_mm));
        (low < high).then(|| (x_of(low), x_of(high)))
    };
    for over in [false, true] {
        for stretch in &view.end.made_up {
            if matches!(stretch.what, What::Stitching | What::Whipping) == over
                && let Some((low, high)) = clipped(stretch)
            {
                draw_made_up(pen, view, &course, stretch, (low, high), x_of);
            }
        }
    }
    if let Some(bury_end) = buried_end(view.end).filter(|end| *end <= view.to_mm && *end > view.from_mm) {
        marks::shape(pen, &course, x_of(bury_end), view.thick, MarkShape::BrokenBand);
    }
    if view.end.eye.is_some() && view.from_mm < 0.0 {
        marks::shape(pen, &course, x_of(0.0), 1.5 * view.thick, MarkShape::ClosedBand);
    }
    if view.from_mm > 0.0 {
        break_at(pen, &course, from + 0.5, 1.3 * view.thick);
    }
    break_at(pen, &course, to - 0.5, 1.3 * view.thick);
    let under_rope = y + 0.75 * view.thick + 1.6;
    draw_dimensions(pen, view, under_rope, x_of).max(y + half + 1.0)
}

fn buried_end(end: &RopeEnd) -> Option<f64> {
    let buried = end.made_up.iter().filter(|one| matches!(one.what, What::TailInside | What::TaperInside));
    buried.map(|one| one.to_mm).reduce(f64::max)
}

/// Half the height that a view takes: the eye's, or the swollen rope's.
fn half_height(view: &View<'_>) -> f64 {
    let rope_half = 0.75 * view.thick + 1.0;
    match view.end.eye {
        Some(eye) if view.from_mm < 0.0 => {
            // A long eye that is cut off opens only as far as it is shown.
            let whole = eye.length_mm + view.end.rope_diameter_mm;
            let shown = (-view.from_mm / whole).min(1.0);
            rope_half.max(shown * eye_radius(view, eye) + view.thick / 2.0 + 0.6)
        }
        _ => rope_half,
    }
}

/// Radius of the rope's centre line round the pin; a slack eye is drawn with
/// the width that a loop of that length takes when it hangs free.
fn eye_radius(view: &View<'_>, eye: Eye) -> f64 {
    eye_radius_of(eye, (view.ratio, eye_thickness(view)))
}

/// The same at a scale, for a rope of that thickness on paper.
fn eye_radius_of(eye: Eye, (ratio, thick): (f64, f64)) -> f64 {
    let bearing = if eye.pin_mm > 0.0 { eye.pin_mm } else { eye.length_mm / 3.0 };
    (bearing / 2.0).min(0.48 * eye.length_mm) * ratio + thick / 2.0
}

/// The rope round the pin and its legs to the throat.
fn draw_eye(pen: &mut Pen, view: &View<'_>, eye: Eye, throat: Point) {
    let radius = eye_radius(view, eye);
    let pin = radius - eye_thickness(view) / 2.0;
    // The pin's centre lies its own radius from the bearing point.
    let reach = (eye.length_mm * view.ratio - pin).max(0.2);
    let centre = (throat.0 - reach, throat.1);
    let shown_from = throat.0 + view.from_mm * view.ratio;
    let tangent = if reach > radius { (radius / reach).acos() } else { 0.35 };
    let mut points = vec![throat];
    let steps = 48;
    for step in 0..=steps {
        let angle = tangent + (2.0 * PI - 2.0 * tangent) * f64::from(step) / f64::from(steps);
        points.push((centre.0 + radius * angle.cos(), centre.1 - radius * angle.sin()));
    }
    points.push(throat);
    let cut_off = points.iter().any(|point| point.0 < shown_from - 1e-6 - view.thick / 2.0);
    if cut_off {
        // A long eye shows its two legs only, broken at the left.
        let leg = |sign: f64| {
            let tip = points.get(if sign < 0.0 { 1 } else { points.len() - 2 }).copied().unwrap_or(throat);
            let share = ((throat.0 - shown_from) / (throat.0 - tip.0).max(1e-9)).min(1.0);
            vec![(throat.0 - share * (throat.0 - tip.0), throat.1 + share * (tip.1 - throat.1)), throat]
        };
        for sign in [1.0, -1.0] {
            let course = Course::through(leg(sign));
            tube(pen, &course, view.thick, (Texture::Plain, 0.0));
            break_at(pen, &course, 0.6, view.thick);
        }
        return;
    }
    let course = Course::through(points);
    // Where the legs lie over each other there is no texture.
    let bare = (0.55 * view.thick * reach / radius).min(0.3 * course.length());
    tube(pen, &course, eye_thickness(view), (eye_texture(view), bare));
    if eye.pin_mm > 0.0 && pin > 0.4 {
        pen.circle(centre, pin, FINE);
        let arm = (0.45 * pin).min(2.0);
        pen.strokes(
            &[
                ((centre.0 - arm, centre.1), (centre.0 + arm, centre.1)),
                ((centre.0, centre.1 - arm), (centre.0, centre.1 + arm)),
            ],
            HAIR,
        );
    }
}

/// How thick the rope of the eye is: a bare core is thinner than its rope.
fn eye_thickness(view: &View<'_>) -> f64 {
    if eye_texture(view) == Texture::FineLines { 0.66 * view.thick } else { view.thick }
}

/// What the rope of the eye looks like: as its stretch on the free rope says,
/// so that a bare-core eye is fine and a covered one stippled.
fn eye_texture(view: &View<'_>) -> Texture {
    let end = view.end;
    let eye = end.stretches.iter().find(|one| one.what == What::Eye);
    let within = |one: &&Stretch| eye.is_some_and(|eye| one.from_mm <= eye.from_mm && one.to_mm >= eye.to_mm);
    match end.stretches.iter().filter(within).map(|one| one.what).find(|what| *what != What::Eye) {
        Some(What::BareCore) => Texture::FineLines,
        Some(What::Cover) => Texture::Stipple,
        _ => texture_of(end.look),
    }
}

/// Thickness and texture of the rope by itself at a distance from the throat.
fn base(view: &View<'_>, mm: f64) -> (f64, Texture) {
    let mut found = (view.thick, texture_of(view.end.look));
    for one in view.end.made_up.iter().filter(|one| mm >= one.from_mm && mm <= one.to_mm) {
        match one.what {
            What::BareCore => found = (0.66 * view.thick, Texture::FineLines),
            What::Cover => found = (1.2 * view.thick, Texture::Stipple),
            What::Tucks => found = (view.thick, Texture::Tucks),
            _ => {}
        }
    }
    found
}

/// How thick the gripping rope is at a distance from the throat: swollen over
/// the tail inside, closing over the taper.
fn swollen(view: &View<'_>, mm: f64) -> f64 {
    let mut factor = 1.0_f64;
    for one in view.end.made_up.iter().filter(|one| mm >= one.from_mm && mm <= one.to_mm) {
        let share = if one.to_mm > one.from_mm { (mm - one.from_mm) / (one.to_mm - one.from_mm) } else { 1.0 };
        match one.what {
            What::TailInside | What::CoverInside => factor = factor.max(1.35),
            What::TaperInside => factor = factor.max(1.35 - 0.3 * share),
            What::Tucks => factor = factor.max(1.5 - 0.4 * share),
            _ => {}
        }
    }
    factor * base(view, mm).0
}

/// The rope that is seen from outside, in parts of even swelling.
fn outer(pen: &mut Pen, view: &View<'_>, course: &Course, (from, to): (f64, f64), x_of: impl Fn(f64) -> f64) {
    let mut joints: Vec<f64> = view.end.made_up.iter().flat_map(|one| [one.from_mm, one.to_mm]).collect();
    joints.extend([view.from_mm.max(0.0), view.to_mm]);
    joints.retain(|joint| (view.from_mm.max(0.0)..=view.to_mm).contains(joint));
    joints.sort_by(f64::total_cmp);
    joints.dedup();
    for pair in joints.windows(2) {
        let (low, high) = (x_of(pair[0]).max(from), x_of(pair[1]).min(to));
        let inset = (pair[1] - pair[0]) * 1e-6;
        let part = Part {
            from: low,
            to: high,
            thick_from: swollen(view, pair[0] + inset),
            thick_to: swollen(view, pair[1] - inset),
        };
        // Over a tail the rope is left plain, so that the hatching reads.
        let texture = base(view, f64::midpoint(pair[0], pair[1])).1;
        let over_tail = swollen(view, pair[0] + inset) > 1.01 * base(view, pair[0] + inset).0;
        let plain = over_tail && !matches!(texture, Texture::Tucks);
        rope(pen, course, part, if plain { Texture::Plain } else { texture });
    }
}

fn draw_made_up(
    pen: &mut Pen,
    view: &View<'_>,
    course: &Course,
    stretch: &Stretch,
    (low, high): (f64, f64),
    x_of: impl Fn(f64) -> f64,
) {
    let thick = base(view, f64::midpoint(stretch.from_mm, stretch.to_mm)).0;
    match stretch.what {
        // The outside of the rope is drawn before.
        What::Standing | What::Eye | What::Tucks | What::Cover | What::BareCore | What::Length => {}
        What::TailInside => rope(pen, course, Part::even(low, high, 0.72 * thick), Texture::Hatch),
        What::CoverInside => {
            let (from, to) = (x_of(stretch.from_mm), x_of(stretch.to_mm));
            let at = |x: f64| (0.3 + 0.42 * ((x - from) / (to - from).max(1e-9) * 3.0).min(1.0)) * thick;
            let part = Part { from: low, to: high, thick_from: at(low), thick_to: at(high) };
            rope(pen, course, part, Texture::Hatch);
            if low <= from + 1e-9 {
                marks::shape(pen, course, low, view.thick, MarkShape::BrokenBand);
            }
        }
        What::TaperInside => {
            let (from, to) = (x_of(stretch.from_mm), x_of(stretch.to_mm));
            let at = |x: f64| (0.72 - 0.5 * (x - from) / (to - from).max(1e-9)) * thick;
            let part = Part { from: low, to: high, thick_from: at(low), thick_to: at(high) };
            rope(pen, course, part, Texture::Hatch);
        }
        What::Stitching => stitching(pen, course, Part::even(low, high, thick)),
        What::Whipping => {
            let from = swollen(view, stretch.from_mm);
            whipping(pen, course, Part { from: low, to: high, thick_from: from, thick_to: from });
        }
    }
}

/// Dimension lines for the labelled stretches of a whole view; gives their foot.
fn draw_dimensions(pen: &mut Pen, view: &View<'_>, top: f64, x_of: impl Fn(f64) -> f64) -> f64 {
    let whole = view.from_mm <= 0.0 && view.to_mm >= view.end.made_up_extent_mm();
    if !whole {
        return top;
    }
    let lengths = view.end.made_up.iter().map(|one| Dimension {
        from: x_of(one.from_mm),
        to: x_of(one.to_mm),
        text: one.label.clone(),
    });
    dimensions::draw(pen, lengths.collect(), top, (x_of(0.0), x_of(view.to_mm)))
}
