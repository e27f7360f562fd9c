//! Two double braids joined, or one into a ring, by fid lengths.
//!
//! At the crossing each cover's tail goes into the other's core and each core's
//! tail into the other's cover. The cover is marked one fid from its end, and
//! its core comes out one short fid further; the core meets the crossing
//! another short fid on, so it is drawn out by two of them, and the finished
//! length is the core's. Each core's tail fills the other's empty cover, a
//! short fid long. No grip model covers it: core and cover lock each other.

use super::bench;
use super::fids::{Fids, fids, mark_tail, take_up};
use super::long_bury::finish;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::stitching::throat;
use crate::weak::{WeakPoint, basis_finding};
use crate::{EndKind, EndRequest, Mark, SpliceError};
use sources::{EXACT, MERRY, Step};
use units::{Length, Sentence};

/// Slip knot beyond where the core comes out, in fids.
const KNOT_FIDS: f64 = 6.0;
/// In a ring, room between the pullers of both ends, in fids.
const ROOM_FIDS: f64 = 1.0;

/// The layout of a join or ring of double braid.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let d = request.rope.diameter;
    let fids = fids(request, MERRY.at("p. 56"))?;
    let is_loop = request.kind == EndKind::CoreAndCoverLoop;
    let mut layout = Layout::of(request, bench::minutes(75.0));
    layout.working.clone_from(&fids.working);
    let each = core_crossing(&fids) + fids.shrinkage;
    let around = if is_loop { Some(around(request, &fids, &mut layout.working)?) } else { None };
    let rope_used = around.map_or(each, |around| around + each * 2.0);
    layout.working.push(used(&fids, around, rope_used));
    let marks = marks(&fids, around.map(|_| rope_used));
    let (stitching, findings) = throat(request, d, d * std::f64::consts::SQRT_2, fids.fid * 2.0);
    layout.steps = steps(request, &fids, &marks, rope_used);
    layout.steps.extend(finish(&stitching));
    layout.findings.extend(findings);
    layout.findings.push(take_up(fids.short * 2.0 + fids.shrinkage));
    layout.findings.extend(fids.findings);
    layout.findings.extend(basis_finding(request.rope));
    layout.weak_points.push(WeakPoint {
        place: "where each rope is first disturbed",
        from_throat: None,
        share: None,
        reason: Sentence::new("tapered ends stop there: not assessed without the loft's own tests"),
        citation: MERRY.at("p. 49"),
    });
    Ok(Layout {
        gripping_diameter: fids.core,
        bury: Some(fids.fid),
        marks,
        puller_lead: Some(fids.short - fids.shrinkage),
        shrinkage: if is_loop { fids.shrinkage * 2.0 } else { fids.shrinkage },
        rope_used,
        finished: request.eye.filter(|_| is_loop),
        stitching,
        tools: bench::BURY_TOOLS.to_vec(),
        ..layout
    })
}

/// Where the core meets the crossing, from its end.
fn core_crossing(fids: &Fids) -> Length {
    fids.fid + fids.short * 2.0
}

fn marks(fids: &Fids, ring: Option<Length>) -> Vec<Mark> {
    let out = fids.fid + fids.short;
    let mut sheet = MarkSheet::default();
    mark_tail(&mut sheet, fids, core_crossing(fids), ["crossing, other cover goes in", "other cover's tail ends here"]);
    sheet.mark(Part::Cover, "crossing", fids.fid, Shape::ClosedBand);
    sheet.mark(Part::Cover, "core comes out", out, Shape::PlainBand);
    sheet.mark(Part::Core, "core's tail ends here", out, Shape::BrokenBand);
    // In a ring too short for a knot of each end's own, one in the middle
    // serves both.
    let knot = out + fids.fid * KNOT_FIDS;
    let knot = ring.map_or(knot, |cut| knot.min(cut / 2.0));
    sheet.mark(Part::Rope, "slip knot", knot, Shape::PlainBand);
    sheet.numbered()
}

fn used(fids: &Fids, around: Option<Length>, used: Length) -> Step {
    let (formula, what) = match around {
        Some(_) => ("middle line + 2 (fid + 2 short fids + shrinkage)", "cut length"),
        None => ("fid + 2 short fids + shrinkage, from the crossing", "rope used, each rope"),
    };
    Step::new(what, formula, used, EXACT.at("sum along the core"))
        .input("fid", fids.fid)
        .input("short fid", fids.short)
        .input("shrinkage", fids.shrinkage)
}

fn around(request: &EndRequest, fids: &Fids, working: &mut Vec<Step>) -> Result<Length, SpliceError> {
    let missing = SpliceError::Missing { kind: request.kind, what: "the eye: the loop's inside length, pulled flat" };
    let inside = request.eye.ok_or(missing)?;
    let turns = request.rope.diameter * std::f64::consts::PI;
    let around = inside * 2.0 + turns;
    // Both cores reach from the crossing to the holes for their pullers, and
    // the knot between them needs room.
    let least = (fids.fid + fids.short) * 2.0 + fids.fid * ROOM_FIDS;
    if around < least {
        let least = ((least - turns) / 2.0).up_to_mm().to_length();
        return Err(SpliceError::TooShort { kind: request.kind, given: inside, least });
    }
    working.extend(bench::round_the_loop(inside, request.rope.diameter, around));
    Ok(around)
}

fn steps(request: &EndRequest, fids: &Fids, marks: &[Mark], cut: Length) -> Vec<Sentence> {
    let core = |name| number(marks, Part::Core, name);
    let cover = |name| number(marks, Part::Cover, name);
    let goes_in = core("crossing, other cover goes in");
    let mut steps = Vec::new();
    if request.kind == EndKind::CoreAndCoverLoop {
        steps.push(Sentence::new("cut {} of rope").with(cut.up_to_mm()));
        steps.extend(bench::reeve_closed(request, bench::REEVE_LOOP));
    }
    steps.extend([
        bench::set_out(request),
        Sentence::new("set out the same marks from the other bitter end, and treat both alike"),
        Sentence::new("put a slip knot at mark {} of each, so that core and cover cannot part beyond it; where both marks fall together, one knot")
            .with(number(marks, Part::Rope, "slip knot")),
        Sentence::new("part the cover at mark {} and pull the core's tail out; slide the cover back and set out the core's marks {} to {}")
            .with(cover("core comes out"))
            .with(core("core's tail ends here"))
            .with(core("puller goes in")),
        Sentence::new("taper each cover's tail from mark {} to its end, strands out in opposite pairs")
            .with(cover("cover's taper begins")),
        Sentence::new("draw each cover's tail into the other's core, in at mark {} and towards mark {}, until cover mark {} stands at the hole: its end lies at mark {}")
            .with(goes_in)
            .with(core("puller goes in"))
            .with(cover("crossing"))
            .with(core("other cover's tail ends here")),
        Sentence::new("take each core's tail into the other's empty cover at mark {} and out at mark {}, tighten both crossings, and cut it on the slant at its own mark {}, so that it just fills the empty cover")
            .with(cover("crossing"))
            .with(cover("core comes out"))
            .with(core("core's tail ends here")),
        Sentence::new("milk both covers from the knots, in turn, until the crossings vanish, and untie the knots"),
    ]);
    steps.extend(bench::set_and_measure(
        request,
        "back at {}, each buried tail must be felt for {} beyond the crossing, within {}, and no core may show",
        fids.fid,
    ));
    steps
}
