//! The covered eye of a double braid whose core carries the load.
//!
//! The core is spliced into itself by a long bury, sized by the stripped
//! core; the cover goes round the eye with it, and its tail, tapered, goes
//! back inside the cover of the standing part. The cover counts for nothing
//! in strength. Round the eye the rope is as thick as it was on the reel.

use super::bench;
use super::buried::{bury, eye_rope_used};
use super::long_bury::{finish, taper_steps};
use crate::eye::eye;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::stitching::throat;
use crate::{EndRequest, SpliceError};
use sources::{COMMON_PRACTICE, Step};
use units::Sentence;

/// Cover bunched back beyond the puller's entry, so the core can be worked.
const CLEAR_DIAMETERS: f64 = 20.0;

/// The layout of a covered eye.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let bury = bury(request)?;
    let outside = request.rope.diameter;
    let eye_answer = eye(request, outside)?;
    let eye = eye_answer.eye;
    let cover_tail = outside * request.rules.fid_diameters;
    if cover_tail > bury.length {
        return Err(SpliceError::OutOfRange {
            what: "the bury in fids of the cover",
            given: bury.length / cover_tail,
            low: 1.0,
            high: 100.0,
        });
    }
    let mut sheet = MarkSheet::default();
    let at = bury.mark_eye(&mut sheet, Part::Core, &eye);
    // Core and cover lie side by side until they are parted, so marks on the
    // whole rope have the core's own distances.
    sheet.mark(Part::Cover, "cover cut here", at.throat_tail - cover_tail, Shape::PlainBand);
    sheet.mark(Part::Cover, "cover parted, throat, tail side", at.throat_tail, Shape::ClosedBand);
    sheet.mark(Part::Cover, "core comes out, throat, standing side", at.throat_standing, Shape::ClosedBand);
    sheet.mark(Part::Cover, "cover tied back", at.puller + outside * CLEAR_DIAMETERS, Shape::PlainBand);
    sheet.mark(Part::Cover, "cover's taper begins", at.throat_tail - cover_tail / 3.0, Shape::Arrowhead);
    let marks = sheet.numbered();
    let thick = outside + bury.diameter * (std::f64::consts::SQRT_2 - 1.0);
    let (stitching, stitch_findings) = throat(request, outside, thick, eye.rope);
    let (rope_used, used_step) = eye_rope_used(&bury, &eye);
    let weakness = bury.weakness(request, Some(&eye))?;
    let core = |name| number(&marks, Part::Core, name);
    let cover = |name| number(&marks, Part::Cover, name);

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
    steps.extend(taper_steps(&bury, core("taper begins")));
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
    steps.extend(finish(&stitching));

    let mut findings = bury.findings.clone();
    findings.extend(eye_answer.findings);
    findings.extend(stitch_findings);
    let mut working = bury.working.clone();
    working.extend(eye_answer.working);
    working.push(
        Step::new("cover's tail", "one fid", cover_tail, COMMON_PRACTICE.at("a fid is 21 diameters"))
            .input("d", outside)
            .input("fid in d", request.rules.fid_diameters),
    );
    working.push(used_step);
    Ok(Layout {
        kind: request.kind,
        gripping_diameter: bury.diameter,
        eye: Some(eye),
        bury: Some(bury.length),
        taper: bury.taper_steps(),
        slanted_cut: bury.slanted_cut(),
        marks,
        puller_lead: Some(bury.lead),
        shrinkage: bury.shrinkage,
        rope_used,
        finished: None,
        stitching,
        steps,
        tools: bench::BURY_TOOLS.to_vec(),
        time: bench::minutes(60.0),
        cautions: bench::cautions(),
        grip: Some(bury.grip(request)),
        weak_points: weakness.points,
        strength_share: Some(weakness.share),
        findings,
        working,
    })
}
