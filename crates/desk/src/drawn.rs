//! Answers with their pictures: an end, a line with its lead, a cut plan.
//!
//! The same geometry that the cards print, as SVG in millimetres at the width
//! that the front end asks for. Text in a picture is at least 9 pt at its own
//! size, so a narrow screen asks for a narrow picture instead of shrinking a
//! wide one.

use crate::cut::{CutAnswer, ReelAnswer};
use crate::job::JobLine;
use crate::lines::{LineAnswer, LinesRequest, job, line_answer};
use crate::picture::picture;
use crate::problem::{Fault, Problem};
use crate::splice_answer::SpliceAnswer;
use crate::splice_out::{Named, drawn, pictures, refused};
use crate::splice_task::{SpliceRequest, splice};
use crate::taken::ReelTaken;
use drawing::{Drawing, LeadPath, LeadTurn, PieceBar, Place, ReelBar, Rest, RestBar, RopeEnd, View, cut_bars};
use schemars::JsonSchema;
use serde::Serialize;
use units::System;

/// One picture.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Picture {
    /// What it shows, in two or three words.
    pub title: &'static str,
    /// The picture: SVG, one unit a millimetre, ink as `currentColor`.
    pub svg: String,
    /// What must be read with it: scale, breaks.
    pub notes: Vec<String>,
}

/// An end with its pictures, once for each width asked for.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SpliceDrawn {
    /// The end.
    pub answer: SpliceAnswer,
    /// Its pictures, width by width.
    pub pictures: Vec<Vec<Picture>>,
}

/// A line with its pictures.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LineDrawn {
    /// The order's number.
    pub order: String,
    /// The boat's name.
    pub boat: String,
    /// The line.
    pub answer: LineAnswer,
    /// Where it runs, in order; empty where the order gives no lead.
    pub turns: Vec<String>,
    /// Pictures of each end and of the lead, width by width.
    pub pictures: Vec<LinePictures>,
}

/// The pictures of a line at one width.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LinePictures {
    /// Side and plan view of the lead; empty where the order gives none.
    pub lead: Vec<Picture>,
    /// Pictures of each end, in the order of the answer's ends.
    pub ends: Vec<Vec<Picture>>,
}

/// One end laid out, with pictures at each of the widths, in mm.
///
/// # Errors
/// As [`splice`](crate::splice), and when a width is under 50 mm.
pub fn splice_drawn(request: &SpliceRequest, widths_mm: &[f64]) -> Result<SpliceDrawn, Problem> {
    let answer = splice(request)?;
    let at = |width: &f64| Ok(titled(drawn(request, *width)?));
    Ok(SpliceDrawn { answer, pictures: widths_mm.iter().map(at).collect::<Result<_, Problem>>()? })
}

/// One line of an order, with pictures at each of the widths, in mm.
///
/// # Errors
/// As [`lines`](crate::lines), when the request names no line, and when a
/// width is under 50 mm.
pub fn line_drawn(request: &LinesRequest, widths_mm: &[f64]) -> Result<LineDrawn, Problem> {
    let job = job(request)?;
    let wanted = request.name.as_deref().unwrap_or_default().trim();
    let found = job.lines.iter().find(|line| line.record.name.value.eq_ignore_ascii_case(wanted));
    let line = found.ok_or_else(|| {
        let names = job.lines.iter().map(|line| line.record.name.value.as_str()).collect::<Vec<_>>().join(", ");
        Problem::new(Fault::Request, "no-such-line", format!("no line is called {wanted:?}"))
            .hint(format!("one of: {names}"))
    })?;
    let pictures = widths_mm.iter().map(|width| line_pictures(line, job.system, *width)).collect::<Result<_, _>>()?;
    Ok(LineDrawn {
        order: job.number().to_owned(),
        boat: job.boat().to_owned(),
        answer: line_answer(line, job.system),
        turns: line.record.lead.iter().map(|turn| turn.value.name.value.clone()).collect(),
        pictures,
    })
}

fn line_pictures(line: &JobLine, system: System, width: f64) -> Result<LinePictures, Problem> {
    let of_end = |end| end_pictures(&picture(&line.made.rope, end, system), end, system, width);
    let ends = line.made.ends().into_iter().map(|(_, end)| of_end(end)).collect::<Result<_, _>>()?;
    Ok(LinePictures { lead: lead_pictures(line, width)?, ends })
}

fn lead_pictures(line: &JobLine, width: f64) -> Result<Vec<Picture>, Problem> {
    let Some(working) = line.record.working.as_ref().filter(|_| !line.record.lead.is_empty()) else {
        return Ok(Vec::new());
    };
    let place =
        |point: files::Point| Place { aft_mm: point.x.to_mm(), starboard_mm: point.y.to_mm(), up_mm: point.z.to_mm() };
    let path = LeadPath {
        name: line.record.name.value.clone(),
        hauled: place(working.value.hauled.value),
        eased: place(working.value.eased.value),
        turns: line
            .record
            .lead
            .iter()
            .map(|turn| LeadTurn {
                at: place(turn.value.at.value),
                diameter_mm: turn.value.diameter.as_ref().map_or(0.0, |diameter| diameter.value.to_mm()),
            })
            .collect(),
    };
    let side = drawing::lead(&path, View::Side, width).map_err(|why| refused(&why))?;
    let plan = drawing::lead(&path, View::Plan, width).map_err(|why| refused(&why))?;
    Ok(vec![of("lead from the side", side), of("lead from above", plan)])
}

/// Every picture of a laid-out end, `width` mm wide.
pub(crate) fn end_pictures(
    shape: &RopeEnd,
    end: &splice::Layout,
    system: System,
    width: f64,
) -> Result<Vec<Picture>, Problem> {
    pictures(shape, end, system, width).map(titled).map_err(|why| refused(&why))
}

fn titled(all: Vec<Named>) -> Vec<Picture> {
    all.into_iter().map(|named| of(named.title, named.drawing)).collect()
}

/// The reels of a plan as bars, rope by rope, `width_mm` wide.
///
/// # Errors
/// When a width is under 50 mm.
pub fn plan_drawn(plan: &CutAnswer, width_mm: f64) -> Result<Vec<(String, Picture)>, Problem> {
    let mut ropes: Vec<(String, Vec<ReelBar>)> = Vec::new();
    let mut number = 0;
    for reel in &plan.cuts {
        let taken = plan.taken.iter().find(|taken| taken.reel == reel.reel && taken.copy == reel.copy);
        let bar = bar(reel, taken, &mut number);
        match ropes.iter_mut().find(|(rope, _)| *rope == reel.rope) {
            Some((_, bars)) => bars.push(bar),
            None => ropes.push((reel.rope.clone(), vec![bar])),
        }
    }
    let draw = |(rope, bars): (String, Vec<ReelBar>)| {
        Ok((rope, of("reels with their pieces", cut_bars(&bars, 0.0, width_mm).map_err(|why| refused(&why))?)))
    };
    ropes.into_iter().map(draw).collect()
}

/// A reel's bar from the exact cut: pieces, leftovers and flaws where they lie.
fn bar(reel: &ReelAnswer, taken: Option<&ReelTaken>, number: &mut u32) -> ReelBar {
    let mut pieces = Vec::new();
    let exact = taken.map(|taken| taken.pieces.as_slice()).unwrap_or_default();
    for (cut, (_, from, to)) in reel.pieces.iter().zip(exact) {
        *number += 1;
        pieces.push(PieceBar {
            number: *number,
            name: cut.name.clone(),
            from_mm: *from as f64,
            length_mm: (to - from) as f64,
            running_text: cut.to.text.clone(),
        });
    }
    let words: Vec<String> =
        reel.leftovers.iter().map(|left| format!("{} {}", left.becomes, left.length.text)).collect();
    let stretch = |from: i64, to: i64, rest: Rest| RestBar { from_mm: from as f64, to_mm: to as f64, rest };
    let rests = taken.into_iter().flat_map(|taken| {
        let kept = |kept: bool| if kept { Rest::Kept } else { Rest::Scrap };
        let lefts = taken.leftovers.iter().map(move |(from, to, is_kept)| stretch(*from, *to, kept(*is_kept)));
        lefts.chain(taken.flaws.iter().map(move |(from, to)| stretch(*from, *to, Rest::Flaw)))
    });
    ReelBar {
        name: format!("{}, {}", reel.reel, reel.length.text),
        length_mm: taken.map_or(0.0, |taken| taken.seen_mm as f64),
        pieces,
        rest_text: words.join(", "),
        rests: rests.collect(),
    }
}

fn of(title: &'static str, drawn: Drawing) -> Picture {
    Picture { title, svg: drawn.svg(), notes: drawn.notes }
}
