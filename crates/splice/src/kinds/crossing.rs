//! Two hollow braids joined, or one joined to itself: tails past each other.
//!
//! Where the ropes cross each carries half the load; from there each one's
//! tail lies inside the other. The length of a join is counted from the
//! crossing. An endless loop of inside flat length `L` has a middle line of
//! `2 L + pi d`, and is cut from that, two tails, and the shrinkage over both.

use super::bench;
use super::buried::{Bury, bury};
use super::long_bury::{finish, taper_steps};
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::stitching::throat;
use crate::{EndKind, EndRequest, SpliceError};
use sources::{EXACT, Step};
use units::{Length, Sentence};

/// The layout of an end-to-end join or an endless loop.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    if let Some(other) =
        request.other.filter(|other| other.diameter != request.rope.diameter || other.fibre != request.rope.fibre)
    {
        return Err(SpliceError::OutOfRange {
            what: "the other rope's diameter over this one's, in a join of like ropes,",
            given: other.diameter / request.rope.diameter,
            low: 1.0,
            high: 1.0,
        });
    }
    let bury = bury(request)?;
    let is_loop = request.kind == EndKind::EndlessLoop;
    let mut layout = bury.layout(request, 60.0);
    let around = if is_loop { Some(around(request, &bury, &mut layout.working)?) } else { None };
    let tail_end = bury.length * 2.0 + bury.shrinkage;
    let mut sheet = MarkSheet::default();
    mark_end(&mut sheet, &bury, tail_end);
    layout.marks = sheet.numbered();
    let thick = bury.diameter * std::f64::consts::SQRT_2;
    let (stitching, findings) = throat(request, bury.diameter, thick, bury.length * 2.0);
    layout.findings.extend(findings);
    let weakness = bury.weakness(request, None)?;
    layout.weak_points = weakness.points;
    layout.strength_share = Some(weakness.share);
    let each = bury.length + bury.shrinkage;
    layout.rope_used = match around {
        Some(around) => around + each * 2.0,
        None => each,
    };
    layout.working.push(used(&bury, around, layout.rope_used));
    layout.finished = request.eye.filter(|_| is_loop);
    if is_loop {
        layout.shrinkage = bury.shrinkage * 2.0;
    }
    layout.steps = steps(request, &bury, &layout);
    layout.steps.extend(finish(&stitching));
    layout.stitching = stitching;
    Ok(layout)
}

/// Middle line of a loop, after checking that both buries fit in it.
fn around(request: &EndRequest, bury: &Bury, working: &mut Vec<Step>) -> Result<Length, SpliceError> {
    let missing = SpliceError::Missing { kind: request.kind, what: "the eye: the loop's inside length, pulled flat" };
    let inside = request.eye.ok_or(missing)?;
    if inside <= Length::ZERO {
        return Err(SpliceError::NotAboveZero { what: "the loop", given: inside });
    }
    let around = inside * 2.0 + bury.diameter * std::f64::consts::PI;
    let least = (bury.length + bury.lead) * 2.0;
    if around < least {
        let least = (least - bury.diameter * std::f64::consts::PI) / 2.0;
        return Err(SpliceError::TooShort { kind: request.kind, given: inside, least: least.up_to_mm().to_length() });
    }
    working.extend(bench::round_the_loop(inside, bury.diameter, around));
    Ok(around)
}

fn mark_end(sheet: &mut MarkSheet, bury: &Bury, tail_end: Length) {
    bury.mark_tail(sheet, Part::Rope);
    sheet.mark(Part::Rope, "crossing", bury.length, Shape::ClosedBand);
    sheet.mark(Part::Rope, "other tail ends here", tail_end, Shape::BrokenBand);
    sheet.mark(Part::Rope, "puller goes in", tail_end + bury.lead, Shape::Cross);
}

fn used(bury: &Bury, around: Option<Length>, used: Length) -> Step {
    let step = match around {
        Some(around) => Step::new("cut length", "middle line + 2 (bury + shrinkage)", used, EXACT.at("sum"))
            .input("middle line", around),
        None => Step::new("rope used, each rope", "bury + shrinkage, from the crossing", used, EXACT.at("sum")),
    };
    step.input("bury", bury.length).input("shrinkage", bury.shrinkage)
}

fn steps(request: &EndRequest, bury: &Bury, layout: &Layout) -> Vec<Sentence> {
    let n = |name| number(&layout.marks, Part::Rope, name);
    let mut steps = Vec::new();
    if request.kind == EndKind::EndlessLoop {
        steps.push(Sentence::new("cut {} of rope").with(layout.rope_used.up_to_mm()));
        steps.extend(bench::reeve_closed(request, bench::REEVE_LOOP));
    }
    steps.push(bench::set_out(request));
    steps.push(Sentence::new("set out the same marks from the other bitter end, and treat both alike"));
    steps.extend(taper_steps(bury, n("taper begins")));
    steps.extend([
        Sentence::new("open the braid of one end at mark {} and bring the puller inside it to its mark {}; draw the other end's tail in until both marks {} lie on each other")
            .with(n("puller goes in"))
            .with(n("crossing"))
            .with(n("crossing")),
        Sentence::new("do the same the other way: now each tail leaves its own rope and enters the other at the crossing, without a gap"),
        Sentence::new("milk both braids smooth away from the crossing: each tail's end lies under the other's mark {}").with(n("other tail ends here")),
        Sentence::new("hold the crossing with one basting stitch"),
    ]);
    steps.extend(bench::set_and_measure(
        request,
        "back at {}, each buried tail must measure {} from the crossing to its end, within {}; milk again if it does not",
        bury.length,
    ));
    steps
}
