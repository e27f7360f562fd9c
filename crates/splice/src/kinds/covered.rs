//! The covered eye of a double braid whose core carries the load.
//!
//! The core is spliced into itself by a long bury, sized by the stripped
//! core; the cover goes round the eye with it, and its tail, tapered, goes
//! back inside the cover of the standing part. The cover counts for nothing
//! in strength. Round the eye the rope is as thick as it was on the reel.

use super::bench;
use super::buried::{Bury, EyeMarks, bury, eye_rope_used};
use super::long_bury::{finish, taper_steps};
use crate::eye::eye;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::stitching::throat;
use crate::{EndRequest, Mark, SpliceError};
use sources::{COMMON_PRACTICE, Step};
use units::{Length, Sentence};

/// Cover bunched back beyond the puller's entry, so the core can be worked.
const CLEAR_DIAMETERS: f64 = 20.0;

/// The layout of a covered eye.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let bury = bury(request)?;
    let outside = request.rope.diameter;
    let eye_answer = eye(request, outside)?;
    let eye = eye_answer.eye;
    let cover_tail = cover_tail(request, &bury)?;
    let mut sheet = MarkSheet::default();
    let at = bury.mark_eye(&mut sheet, Part::Core, &eye);
    mark_cover(&mut sheet, &at, cover_tail, outside);
    let marks = sheet.numbered();
    let thick = outside + bury.diameter * (std::f64::consts::SQRT_2 - 1.0);
    let (stitching, stitch_findings) = throat(request, outside, thick, eye.rope);
    let (rope_used, used_step) = eye_rope_used(&bury, &eye);
    let weakness = bury.weakness(request, Some(&eye))?;
    let mut layout = bury.layout(request, 60.0);
    layout.findings.extend(eye_answer.findings);
    layout.findings.extend(stitch_findings);
    layout.working.extend(eye_answer.working);
    layout.working.push(
        Step::new("cover's tail", "one fid", cover_tail, COMMON_PRACTICE.at("a fid is 21 diameters"))
            .input("d", outside)
            .input("fid in d", request.rules.fid_diameters),
    );
    layout.working.push(used_step);
    layout.steps = steps(request, &bury, cover_tail, &marks);
    layout.steps.extend(finish(&stitching));
    Ok(Layout {
        eye: Some(eye),
        marks,
        rope_used,
        stitching,
        weak_points: weakness.points,
        strength_share: Some(weakness.share),
        ..layout
    })
}

/// The cover's tail, one fid of the rope, which must lie within the bury.
fn cover_tail(request: &EndRequest, bury: &Bury) -> Result<Length, SpliceError> {
    let tail = request.rope.diameter * request.rules.fid_diameters;
    if tail > bury.length {
        return Err(SpliceError::OutOfRange {
            what: "the bury in fids of the cover",
            given: bury.length / tail,
            low: 1.0,
            high: 100.0,
        });
    }
    Ok(tail)
}

/// Marks on the cover. Core and cover lie side by side until they are parted,
/// so they have the core's own distances.
fn mark_cover(sheet: &mut MarkSheet, at: &EyeMarks, tail: Length, outside: Length) {
    sheet.mark(Part::Cover, "cover cut here", at.throat_tail - tail, Shape::PlainBand);
    sheet.mark(Part::Cover, "cover's taper begins", at.throat_tail - tail / 3.0, Shape::Arrowhead);
    sheet.mark(Part::Cover, "cover parted, throat, tail side", at.throat_tail, Shape::ClosedBand);
    sheet.mark(Part::Cover, "core comes out, throat, standing side", at.throat_standing, Shape::ClosedBand);
    sheet.mark(Part::Cover, "cover tied back", at.puller + outside * CLEAR_DIAMETERS, Shape::PlainBand);
}

fn steps(request: &EndRequest, bury: &Bury, cover_tail: Length, marks: &[Mark]) -> Vec<Sentence> {
    let core = |name| number(marks, Part::Core, name);
    let cover = |name| number(marks, Part::Cover, name);
    let mut steps = vec![
        bench::set_out(request),
        Sentence::new("tie the cover down at mark {}, then slide the cover back from the bitter end to slacken it")
            .with(cover("cover tied back")),
        Sentence::new("part the cover's strands at mark {} and pull the core's tail out there, then part them at mark {} and pull out a bight of the core; the cover stays whole round the eye")
            .with(cover("cover parted, throat, tail side"))
            .with(cover("core comes out, throat, standing side")),
        Sentence::new("cut the cover off at mark {}: {} of cover tail is left").with(cover("cover cut here")).with(cover_tail),
        Sentence::new("stretch the bare core straight again and set out the core's marks, from the same bitter end"),
    ];
    steps.extend(taper_steps(bury, core("taper begins")));
    steps.extend(bench::reeve_closed(request, bench::REEVE_EYE));
    steps.push(
        Sentence::new("open the core at mark {}, bring the puller up inside it to mark {}, draw the core's tail down until marks {} and {} meet, and milk the core smooth: the tail's end lies under mark {}")
            .with(core("puller goes in"))
            .with(core("throat, standing side"))
            .with(core("throat, tail side"))
            .with(core("throat, standing side"))
            .with(core("tail ends here")),
    );
    steps.push(Sentence::new("hold the core's throat with one basting stitch, let the cover go and milk it from the tied point back to the throat until no core shows"));
    steps.push(
        Sentence::new("taper the cover's tail from mark {} by taking out strands in opposite pairs to a point, and bury it between core and cover down the standing part over {}")
            .with(cover("cover's taper begins"))
            .with(cover_tail),
    );
    steps.extend(bench::set_and_measure(
        request,
        "back at {}, the core's buried tail must measure {} from throat to end, within {}; milk again if it does not",
        bury.length,
    ));
    steps
}
