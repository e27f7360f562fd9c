//! The boat's lines from the side and from above.
//!
//! Each line is drawn along the places that its lead names, with the number
//! that the list beside the picture gives it; blocks and turns are rings at
//! their places. Hull, mast and boom are outlines from the boat's main
//! dimensions and no drawing of the boat: straight stem and transom, the
//! beam's outline from above. Both views have one scale. Lines without a lead
//! are not drawn; the caller lists them. Not covered: how a line is rove
//! between two blocks.

use crate::DrawingError;
use crate::laid_out::wide_enough;
use crate::marks::numbered_ring;
use crate::pen::{Drawing, FINE, HAIR, OUTLINE, Pen, Point, SMALL_TYPE_MM, Type, text_width};
use crate::plot::{finite, spread};
use crate::rope::positive;
use crate::scale::in_words;

/// The boat's main dimensions, in metres; x runs aft from the mast's fore
/// side at deck, y to starboard, z up from the deck.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoatOutline {
    /// The stem and the transom.
    pub stem_x_m: f64,
    /// The transom.
    pub stern_x_m: f64,
    /// Greatest beam.
    pub beam_m: f64,
    /// From the water to the deck.
    pub freeboard_m: f64,
    /// Masthead over the deck.
    pub mast_m: f64,
    /// Length of the boom and its height over the deck; none without a boom.
    pub boom_m: Option<(f64, f64)>,
}

/// A line along its lead.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanLine {
    /// Its number in the list.
    pub number: u32,
    /// Its name, for those who cannot see the picture.
    pub name: String,
    /// Its places from the working end to the hand: x, y, z in metres.
    pub places: Vec<(f64, f64, f64)>,
}

/// Side view over plan view, `width_mm` wide and at most `height_mm` high.
///
/// # Errors
/// A width under 50 mm, a height or dimension that is not above zero, a place
/// that is not a number.
pub fn line_plan(
    boat: &BoatOutline,
    lines: &[PlanLine],
    (width_mm, height_mm): (f64, f64),
) -> Result<Drawing, DrawingError> {
    wide_enough(width_mm)?;
    check(boat, lines, height_mm)?;
    let places = || lines.iter().flat_map(|line| &line.places);
    let fold = |start: f64, of: &dyn Fn(&(f64, f64, f64)) -> f64, highest: bool| {
        places().map(of).fold(start, |a, b| if highest { a.max(b) } else { a.min(b) })
    };
    let fore = fold(boat.stem_x_m, &|place| place.0, false);
    let aft = fold(boat.stern_x_m, &|place| place.0, true);
    let top = fold(boat.mast_m, &|place| place.2, true);
    let half = fold(boat.beam_m / 2.0, &|place| place.1.abs(), true);
    // Numbers stand in a column on either side of each view.
    let column = 12.0;
    let words = 2.0 * (SMALL_TYPE_MM + 1.6);
    let across = (width_mm - 2.0 * column) / (aft - fore);
    let upright = (height_mm - words - 6.0) / (top + boat.freeboard_m + 2.0 * half);
    let ratio_m = across.min(upright);
    let left = column + (width_mm - 2.0 * column - ratio_m * (aft - fore)) / 2.0;
    let x = |place: f64| left + (place - fore) * ratio_m;

    let mut pen = Pen::default();
    let side_top = SMALL_TYPE_MM + 1.6;
    let deck = side_top + 1.0 + top * ratio_m;
    let side = View { lines, at: &|place| (x(place.0), deck - place.2 * ratio_m) };
    pen.text((0.0, SMALL_TYPE_MM), "from the side", Type::SMALL.bold());
    hull_from_side(&mut pen, boat, (&x, deck, ratio_m));
    let side_foot = deck + boat.freeboard_m * ratio_m + 1.0;
    side.draw(&mut pen, (width_mm, side_top, side_foot));

    let plan_top = side_foot + SMALL_TYPE_MM + 2.2;
    let middle = plan_top + half * ratio_m;
    let plan = View { lines, at: &|place| (x(place.0), middle + place.1 * ratio_m) };
    pen.text((0.0, plan_top - 1.2), "from above, starboard below", Type::SMALL.bold());
    hull_from_above(&mut pen, boat, (&x, middle, ratio_m));
    let plan_foot = middle + half * ratio_m + 1.0;
    plan.draw(&mut pen, (width_mm, plan_top, plan_foot));

    let told: Vec<String> = lines.iter().map(|line| format!("{} {}", line.number, line.name)).collect();
    let alt = format!("The boat's lines from the side and from above: {}.", told.join("; "));
    Ok(pen.finish(width_mm, plan_foot + 0.6, vec![in_words(ratio_m / 1000.0)], alt))
}

fn check(boat: &BoatOutline, lines: &[PlanLine], height_mm: f64) -> Result<(), DrawingError> {
    positive("height of the plan", height_mm)?;
    positive("length of the boat", boat.stern_x_m - boat.stem_x_m)?;
    positive("beam", boat.beam_m)?;
    positive("freeboard", boat.freeboard_m)?;
    positive("height of the mast", boat.mast_m)?;
    for (x, y, z) in lines.iter().flat_map(|line| &line.places) {
        for value in [x, y, z] {
            finite("a place of a line", *value)?;
        }
    }
    if lines.iter().all(|line| line.places.is_empty()) {
        return Err(DrawingError::NothingToPlot);
    }
    Ok(())
}

type Across<'a> = &'a dyn Fn(f64) -> f64;

fn hull_from_side(pen: &mut Pen, boat: &BoatOutline, (x, deck, ratio): (Across<'_>, f64, f64)) {
    let water = deck + boat.freeboard_m * ratio;
    let (stem, stern) = (x(boat.stem_x_m), x(boat.stern_x_m));
    pen.line(&[(stem, deck), (stern, deck), (stern - 0.04 * (stern - stem), water)], OUTLINE);
    pen.line(&[(stem, deck), (stem + 0.05 * (stern - stem), water)], OUTLINE);
    pen.dashed(&[(stem - 3.0, water), (stern + 3.0, water)], HAIR, &[2.0, 1.2]);
    pen.line(&[(x(0.0), deck), (x(0.0), deck - boat.mast_m * ratio)], 0.7);
    if let Some((length, height)) = boat.boom_m {
        let y = deck - height * ratio;
        pen.line(&[(x(0.0), y), (x(length), y)], 0.7);
    }
}

fn hull_from_above(pen: &mut Pen, boat: &BoatOutline, (x, middle, ratio): (Across<'_>, f64, f64)) {
    // Half breadth along the hull, as shares of the greatest: a plain outline.
    let shape =
        [(0.0, 0.0), (0.08, 0.3), (0.2, 0.6), (0.35, 0.86), (0.55, 1.0), (0.75, 0.97), (0.9, 0.86), (1.0, 0.76)];
    let long = boat.stern_x_m - boat.stem_x_m;
    let side = |sign: f64| -> Vec<Point> {
        shape
            .iter()
            .map(|(along, wide)| (x(boat.stem_x_m + along * long), middle + sign * wide * boat.beam_m / 2.0 * ratio))
            .collect()
    };
    let mut outline = side(1.0);
    outline.extend(side(-1.0).into_iter().rev());
    pen.line(&outline, OUTLINE);
    pen.dashed(&[(x(boat.stem_x_m), middle), (x(boat.stern_x_m), middle)], HAIR, &[2.0, 1.2]);
    pen.circle((x(0.0), middle), 0.9, OUTLINE);
}

/// One view: how a place comes to paper.
struct View<'a> {
    lines: &'a [PlanLine],
    at: &'a dyn Fn(&(f64, f64, f64)) -> Point,
}

impl View<'_> {
    /// Lines, turns, and numbers in the columns at both sides, each with a
    /// leader to the end of its line that is nearer to that side.
    fn draw(&self, pen: &mut Pen, (width, top, foot): (f64, f64, f64)) {
        let mut sides: [Vec<(Point, u32)>; 2] = [Vec::new(), Vec::new()];
        for line in self.lines.iter().filter(|line| !line.places.is_empty()) {
            let points: Vec<Point> = line.places.iter().map(self.at).collect();
            pen.line(&points, FINE * 1.4);
            for point in points.iter().skip(1) {
                pen.circle(*point, 0.55, FINE);
            }
            let ends = [points[0], points[points.len() - 1]];
            let nearest = |x: f64| ends.iter().copied().min_by(|a, b| (a.0 - x).abs().total_cmp(&(b.0 - x).abs()));
            let (Some(to_left), Some(to_right)) = (nearest(0.0), nearest(width)) else { continue };
            // The shorter leader, unless its column is fuller by far.
            let fuller = sides[0].len() as f64 - sides[1].len() as f64;
            let left = to_left.0 + 8.0 * fuller < width - to_right.0;
            if left { sides[0].push((to_left, line.number)) } else { sides[1].push((to_right, line.number)) }
        }
        for (side, numbers) in sides.iter().enumerate() {
            let heights: Vec<f64> = numbers.iter().map(|number| number.0.1).collect();
            let room = (top + 3.4, (foot - 3.4).max(top + 3.4));
            // As close as need be: numbers may not leave their view.
            let apart = 6.8_f64.min((room.1 - room.0) / numbers.len().saturating_sub(1).max(1) as f64);
            for ((point, number), y) in numbers.iter().zip(spread(&heights, apart, room)) {
                let wide = text_width(&number.to_string(), Type::BENCH) / 2.0 + 1.2;
                let x = if side == 0 { wide.max(3.4) } else { width - wide.max(3.4) };
                pen.line(&[*point, (x, y)], HAIR);
                numbered_ring(pen, (x, y), *number);
            }
        }
    }
}
