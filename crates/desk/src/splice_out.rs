//! The drawings of one end, as SVG: marked, made up, tapered, and how load
//! passes along its bury.

use crate::made_up::form;
use crate::picture::{other_picture, picture};
use crate::problem::{Fault, Problem};
use crate::save::{ready, save};
use crate::splice_answer::SpliceAnswer;
use crate::splice_read::{asked, cannot, ropes};
use crate::splice_task::{SpliceRequest, splice};
use drawing::plot::{Axis, Curve, Dash, Limit, LimitAt, Plot, draw};
use drawing::{Drawing, DrawingError, RopeEnd, finished, laid_out, piece, taper};
use splice::{Layout, Part};
use std::path::Path;
use units::{System, Value};

/// Width of the drawings, in mm: they fit a sheet of A4 and of Letter.
pub const DRAWING_WIDTH_MM: f64 = 180.0;
/// Height of the plot.
const PLOT_MM: f64 = 80.0;

/// A drawing under the name of its file.
pub(crate) struct Named {
    /// `laid-out`, `made-up`, `taper`, `load-passing`.
    pub(crate) name: &'static str,
    /// What it shows, for a reader.
    pub(crate) title: &'static str,
    pub(crate) drawing: Drawing,
}

/// One end laid out, its drawings and its JSON written to a folder. Returns
/// the answer and the files.
///
/// # Errors
/// As [`splice`](crate::splice()), and when the folder cannot be written to.
pub fn splice_to(request: &SpliceRequest, out: &Path) -> Result<(SpliceAnswer, Vec<String>), Problem> {
    let answer = splice(request)?;
    ready(out)?;
    let mut files = Vec::new();
    let mut write = |name: String, bytes: &[u8]| {
        let path = out.join(name);
        save(&path, bytes)?;
        files.push(path.display().to_string());
        Ok::<(), Problem>(())
    };
    for named in drawn(request, DRAWING_WIDTH_MM)? {
        write(format!("{}-{}.svg", answer.end, named.name), named.drawing.svg().as_bytes())?;
    }
    let json = serde_json::to_vec_pretty(&answer).map_err(|why| Problem::disk(&why.to_string()))?;
    write(format!("{}.json", answer.end), &json)?;
    Ok((answer, files))
}

/// One drawing of an end as SVG, by its name: `laid-out`, `made-up`, `taper`,
/// `load-passing`, or `other-rope` of a join of unlike ropes; `width_mm` wide,
/// as `splice_to` draws them in [`DRAWING_WIDTH_MM`].
///
/// # Errors
/// As [`splice`](crate::splice()), and when the end has no drawing of that name.
pub fn splice_svg(request: &SpliceRequest, name: &str, width_mm: f64) -> Result<String, Problem> {
    let all = drawn(request, width_mm)?;
    let names = all.iter().map(|named| named.name).collect::<Vec<_>>().join(", ");
    let found = all.into_iter().find(|named| named.name == name);
    found.map(|named| named.drawing.svg()).ok_or_else(|| {
        Problem::new(Fault::Request, "unknown-word", format!("svg: this end has no drawing {name:?}"))
            .hint(format!("one of: {names}"))
    })
}

/// Every drawing of the end asked for, `width_mm` wide.
pub(crate) fn drawn(request: &SpliceRequest, width_mm: f64) -> Result<Vec<Named>, Problem> {
    let ropes = ropes(request)?;
    let end = splice::layout(&asked(request, &ropes)?).map_err(|why| cannot(&why))?;
    let shape = picture(&ropes.rope, &end, request.units);
    let mut all = pictures(&shape, &end, request.units, width_mm).map_err(|why| refused(&why))?;
    if let Some(other) = ropes.other.filter(|_| end.marks.iter().any(|mark| mark.part == Part::OtherRope)) {
        let drawing = laid_out(&other_picture(&other, &end, request.units), width_mm).map_err(|why| refused(&why))?;
        all.push(Named { name: "other-rope", title: "the other rope, marked", drawing });
    }
    Ok(all)
}

pub(crate) fn refused(why: &DrawingError) -> Problem {
    Problem::refused("cannot-be-drawn", why.to_string())
}

/// Every drawing of an end, `width_mm` wide.
pub(crate) fn pictures(
    shape: &RopeEnd,
    end: &Layout,
    system: System,
    width_mm: f64,
) -> Result<Vec<Named>, DrawingError> {
    let made = match form(end) {
        Some(form) => piece(shape, form, width_mm)?,
        None => finished(shape, width_mm)?,
    };
    let mut all = vec![
        Named {
            name: "laid-out",
            title: "marked, straight on the bench",
            drawing: laid_out(&told_apart(shape, end), width_mm)?,
        },
        Named { name: "made-up", title: "made up", drawing: made },
    ];
    all.extend(taper(shape, width_mm)?.map(|drawing| Named {
        name: "taper",
        title: "taper, strand by strand",
        drawing,
    }));
    if let Some(drawing) = load_passing(end, system, width_mm)? {
        all.push(Named { name: "load-passing", title: "load passing along the bury", drawing });
    }
    Ok(all)
}

/// Where core and cover are both marked, each mark says which it is on.
fn told_apart(shape: &RopeEnd, end: &Layout) -> RopeEnd {
    let parts = |part| end.marks.iter().any(|mark| mark.part == part);
    let mut shape = shape.clone();
    if parts(Part::Core) && (parts(Part::Cover) || parts(Part::Rope)) {
        let own = end.marks.iter().filter(|mark| mark.part != Part::OtherRope);
        for (drawn, mark) in shape.marks.iter_mut().zip(own) {
            drawn.at_text = format!("{} {}", mark.part.word(), drawn.at_text);
        }
    }
    shape
}

/// The load in the tail and in the braid round it, along the bury.
pub(crate) fn load_passing(end: &Layout, system: System, width_mm: f64) -> Result<Option<Drawing>, DrawingError> {
    let Some(grip) = end.grip.as_ref().filter(|grip| grip.passing.len() > 1) else { return Ok(None) };
    // Newtons by the thousand: the loads of rope.
    let (unit, thousands) = match Value::from(grip.creep_load).number(system).1 {
        "N" => ("kN", 1e-3),
        unit => (unit, 1.0),
    };
    let (_, along) = Value::from(end.bury.unwrap_or(units::Length::ZERO)).number(system);
    let at = |length: units::Length| Value::from(length).number(system).0;
    let load = |share: f64| thousands * Value::from(grip.creep_load * share).number(system).0;
    let mut tail: Vec<(f64, f64)> = grip.passing.iter().map(|(x, share)| (at(*x), load(*share))).collect();
    if let Some(bury) = end.bury {
        tail.push((at(bury), 0.0));
    }
    let braid = tail.iter().map(|(x, carried)| (*x, load(1.0) - carried)).collect();
    let taper = crate::made_up::taper_begins(end);
    let begins = end.bury.map(|bury| at(units::Length::of_mm((bury.to_mm() - taper).max(0.0))));
    let title = format!("load passing at {}", Value::from(grip.creep_load).show(system));
    let plot = Plot {
        curves: vec![
            Curve { name: "tail".to_owned(), points: tail, dash: Dash::Solid },
            Curve { name: "braid round it".to_owned(), points: braid, dash: Dash::Long },
        ],
        limits: begins
            .filter(|_| taper > 0.0)
            .map(|at| Limit { name: "taper begins".to_owned(), at: LimitAt::X(at), dash: Dash::Short })
            .into_iter()
            .collect(),
        ..Plot::new(title, Axis::new("from the throat", along), Axis::new("load", unit))
    };
    draw(&plot, width_mm, PLOT_MM).map(Some)
}
