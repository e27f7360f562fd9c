//! The cut plan as bars: each reel to one scale with its pieces in order.
//!
//! Everything lies where it lies on the reel, measured from its free end:
//! pieces, and between them remnants, scrap and flaws; a gap is rope that is
//! cut away. A piece too short for its words carries its number on a leader.

use crate::DrawingError;
use crate::course::{Course, Part, Texture, rope};
use crate::laid_out::wide_enough;
use crate::marks::{self, Label, ROW_MM};
use crate::pen::{Anchor, BENCH_TYPE_MM, Drawing, FINE, OUTLINE, Pen, Type, shortened, text_width};
use crate::rope::{not_negative, positive};
use crate::scale::in_words;

const BAR_MM: f64 = 8.0;

/// A piece on a reel.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceBar {
    /// Its number on the plan.
    pub number: u32,
    /// Its name, such as `main halyard`.
    pub name: String,
    /// Where it begins on the reel, in mm from the free end.
    pub from_mm: f64,
    /// Length cut, in mm.
    pub length_mm: f64,
    /// The running length mark at its far end as printed, from the reel's
    /// free end; empty for none.
    pub running_text: String,
}

/// A reel with its pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct ReelBar {
    /// What is printed over the bar, such as `reel 12, 10 mm HMPE, 100 m`.
    pub name: String,
    /// Length on the reel, in mm.
    pub length_mm: f64,
    /// The pieces, in the order in which they are cut.
    pub pieces: Vec<PieceBar>,
    /// What the rest is called and how long it is, such as `left 12.3 m`.
    pub rest_text: String,
    /// What lies beside the pieces.
    pub rests: Vec<RestBar>,
}

/// A stretch of a reel that is no piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RestBar {
    /// Where it begins, in mm from the free end.
    pub from_mm: f64,
    /// Where it ends, in mm.
    pub to_mm: f64,
    /// What it is.
    pub rest: Rest,
}

/// What a stretch is that is no piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rest {
    /// It goes back to the rack: drawn plain.
    Kept,
    /// It is too short to keep: hatched.
    Scrap,
    /// It is flawed: crossed out.
    Flaw,
}

/// The reels one under another, `width_mm` wide, to the scale at which a reel
/// of `longest_mm` (or the longest of these, if that is longer) fills it.
///
/// # Errors
/// A length that is not more than zero, pieces that come to more than their
/// reel, or a width under 50 mm.
pub fn cut_bars(reels: &[ReelBar], longest_mm: f64, width_mm: f64) -> Result<Drawing, DrawingError> {
    wide_enough(width_mm)?;
    not_negative("longest reel", longest_mm)?;
    let mut longest = longest_mm;
    for reel in reels {
        check(reel)?;
        longest = longest.max(reel.length_mm);
    }
    let ratio = if longest > 0.0 { (width_mm - 2.0) / longest } else { 1.0 };
    let mut pen = Pen::default();
    let mut y = 0.0;
    for reel in reels {
        y = bar(&mut pen, reel, ratio, y, width_mm);
    }
    let words: Vec<String> =
        reels.iter().map(|reel| format!("{}: {} pieces, {}", reel.name, reel.pieces.len(), reel.rest_text)).collect();
    Ok(pen.finish(
        width_mm,
        y.max(1.0),
        vec![in_words(ratio)],
        format!("Reels with their pieces. {}.", words.join("; ")),
    ))
}

fn check(reel: &ReelBar) -> Result<(), DrawingError> {
    positive("length of a reel", reel.length_mm)?;
    let mut reached = 0.0;
    for piece in &reel.pieces {
        positive("length of a piece", piece.length_mm)?;
        not_negative("beginning of a piece", piece.from_mm)?;
        if piece.from_mm < reached - 1e-6 {
            return Err(DrawingError::Backwards { from_mm: reached, to_mm: piece.from_mm });
        }
        reached = piece.from_mm + piece.length_mm;
    }
    let ends = reel.rests.iter().map(|rest| rest.to_mm).fold(reached, f64::max);
    if ends > reel.length_mm + 1e-6 {
        return Err(DrawingError::ReelTooShort { reel: reel.name.clone(), pieces_mm: ends, reel_mm: reel.length_mm });
    }
    for rest in &reel.rests {
        not_negative("beginning of a rest", rest.from_mm)?;
        if rest.to_mm < rest.from_mm {
            return Err(DrawingError::Backwards { from_mm: rest.from_mm, to_mm: rest.to_mm });
        }
    }
    Ok(())
}

/// Draws one reel from `top` and gives where it ends.
fn bar(pen: &mut Pen, reel: &ReelBar, ratio: f64, top: f64, width: f64) -> f64 {
    let left = 1.0;
    let name = shortened(&reel.name, Type::SMALL.bold(), width - 2.0);
    pen.text((left, top + 3.6), &name, Type::SMALL.bold());
    let on_paper = |mm: f64| left + mm * ratio;
    let spots: Vec<_> = reel
        .pieces
        .iter()
        .map(|piece| (piece, on_paper(piece.from_mm), on_paper(piece.from_mm + piece.length_mm)))
        .collect();
    let narrow: Vec<Label> = spots
        .iter()
        .filter(|(piece, from, to)| inside(piece, to - from).is_none())
        .map(|(piece, from, to)| Label {
            x: f64::midpoint(*from, *to),
            number: Some(piece.number),
            text: String::new(),
        })
        .collect();
    let placed = marks::place(narrow, 0.5, width - 0.5);
    let rows = marks::rows(&placed) as f64 * ROW_MM;
    let y = top + 5.4 + rows + BAR_MM / 2.0;
    let course = Course::level(0.0, width, y);
    let end = on_paper(reel.length_mm);
    for rest in &reel.rests {
        rest_bar(pen, &course, (on_paper(rest.from_mm), on_paper(rest.to_mm)), rest.rest);
    }
    pen.line(&[course.at(end, -0.3 * BAR_MM), course.at(end, 0.3 * BAR_MM)], OUTLINE);
    for (piece, from, to) in &spots {
        let half = BAR_MM / 2.0;
        pen.body(&[(*from, y - half), (*to, y - half), (*to, y + half), (*from, y + half)], OUTLINE);
        if let Some(text) = inside(piece, to - from) {
            pen.text((from + 1.0, y + 1.7), &piece.number.to_string(), Type::BENCH.anchored(Anchor::Start));
            let after = from + 1.0 + text_width(&piece.number.to_string(), Type::BENCH) + 0.8;
            pen.text((after, y + 1.2), &text, Type::SMALL);
        }
    }
    marks::draw(pen, &placed, y - BAR_MM / 2.0, top + 5.0 + ROW_MM / 2.0 + (rows - ROW_MM).max(0.0));
    running_marks(pen, (&spots, width), y + BAR_MM / 2.0);
    // The words go where the last rest has room behind the last piece.
    let at = spots.last().map_or(left, |(_, _, to)| *to);
    let last = reel.rests.iter().filter(|rest| rest.rest != Rest::Flaw).map(|rest| on_paper(rest.from_mm));
    let at = last.fold(at, f64::max);
    rest_words(pen, reel, (at, end), y, width);
    y + BAR_MM / 2.0 + 7.2
}

/// The words inside a piece's bar if its number fits there: the name, shortened.
fn inside(piece: &PieceBar, room: f64) -> Option<String> {
    let figures = text_width(&piece.number.to_string(), Type::BENCH) + 1.6;
    (figures <= room).then(|| shortened(&piece.name, Type::SMALL, room - figures - 1.2))
}

/// A stretch beside the pieces, drawn as what it is.
fn rest_bar(pen: &mut Pen, course: &Course, (from, to): (f64, f64), rest: Rest) {
    match rest {
        Rest::Kept => rope(pen, course, Part::even(from, to, 0.6 * BAR_MM), Texture::Plain),
        Rest::Scrap => rope(pen, course, Part::even(from, to, 0.6 * BAR_MM), Texture::Hatch),
        Rest::Flaw => {
            // A cross as wide as the flaw, and never too narrow to be seen.
            let half = (0.5 * (to - from)).max(1.0);
            let middle = f64::midpoint(from, to);
            for side in [-0.3 * BAR_MM, 0.3 * BAR_MM] {
                pen.line(&[course.at(middle - half, -side), course.at(middle + half, side)], OUTLINE);
            }
        }
    }
}

/// Running lengths under the bar, where they do not touch the one before; all
/// stay within the frame.
fn running_marks(pen: &mut Pen, (spots, width): (&[(&PieceBar, f64, f64)], f64), foot: f64) {
    let mut taken = 0.0;
    for (piece, _, to) in spots {
        pen.line(&[(*to, foot), (*to, foot + 1.2)], FINE);
        let half = text_width(&piece.running_text, Type::SMALL) / 2.0;
        let x = to.min(width - half - 0.4).max(half + 0.4);
        if x - half >= taken && !piece.running_text.is_empty() {
            pen.text((x, foot + 4.2), &piece.running_text, Type::SMALL.anchored(Anchor::Middle));
            taken = x + half + 1.0;
        }
    }
}

/// What becomes of the rest: inside its bar if that fits, else over its end.
fn rest_words(pen: &mut Pen, reel: &ReelBar, (from, to): (f64, f64), y: f64, width: f64) {
    if reel.rest_text.is_empty() {
        return;
    }
    let wide = text_width(&reel.rest_text, Type::SMALL);
    if wide + 3.0 <= to - from {
        let middle = f64::midpoint(from, to);
        let half = wide / 2.0 + 0.6;
        pen.blank(&[
            (middle - half, y - 1.9),
            (middle + half, y - 1.9),
            (middle + half, y + 1.9),
            (middle - half, y + 1.9),
        ]);
        pen.text((middle, y + 1.15), &reel.rest_text, Type::SMALL.anchored(Anchor::Middle));
    } else if to + 1.0 + wide <= width {
        pen.text((to + 1.0, y + 1.15), &reel.rest_text, Type::SMALL);
    } else {
        let x = (width - 0.5).min(to + wide);
        let name = text_width(&reel.name, Type::SMALL.bold());
        let line = y - BAR_MM / 2.0 - if x - wide > name + 3.0 { 1.8 } else { BENCH_TYPE_MM };
        pen.text((x, line), &reel.rest_text, Type::SMALL.anchored(Anchor::End));
    }
}
