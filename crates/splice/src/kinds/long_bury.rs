//! The long-bury eye of a hollow braid.
//!
//! The tail is tapered, pulled back inside its own standing part from the
//! throat, and held there by the braid that closes on it. Marks are set out
//! on free rope; the standing part shortens over the bury, so the mark where
//! the tail ends lies further out by the shrinkage.

use super::bench;
use super::buried::{bury, eye_rope_used};
use crate::eye::eye;
use crate::layout::{Layout, Part};
use crate::marks::{MarkSheet, number};
use crate::stitching::throat;
use crate::{EndRequest, SpliceError};
use units::Sentence;

/// The layout of a long-bury eye.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let bury = bury(request)?;
    let eye_answer = eye(request, request.rope.diameter)?;
    let eye = eye_answer.eye;
    let mut sheet = MarkSheet::default();
    bury.mark_eye(&mut sheet, Part::Rope, &eye);
    let marks = sheet.numbered();
    let thick = bury.diameter * std::f64::consts::SQRT_2;
    let (stitching, stitch_findings) = throat(request, bury.diameter, thick, eye.rope);
    let (rope_used, used_step) = eye_rope_used(&bury, &eye);
    let weakness = bury.weakness(request, Some(&eye))?;
    let n = |name| number(&marks, Part::Rope, name);

    let mut steps = vec![bench::set_out(request)];
    steps.extend(taper_steps(&bury, n("taper begins")));
    if eye.on.is_some_and(|on| on.what.is_closed()) {
        steps.push(Sentence::new("reeve the tail through the fitting now: it cannot be put in later"));
    }
    steps.push(
        Sentence::new("open the braid at mark {}, work the puller up inside the standing part and out at mark {}")
            .with(n("puller goes in"))
            .with(n("throat, standing side")),
    );
    steps.push(
        Sentence::new("hook the tail's end and draw it down inside until marks {} and {} meet at the throat; take the end out at mark {} and let it go back in")
            .with(n("throat, tail side"))
            .with(n("throat, standing side"))
            .with(n("puller goes in")),
    );
    steps.push(
        Sentence::new("milk the braid hard from the throat downwards until it lies smooth on the tail and the tail's end is felt under mark {}")
            .with(n("tail ends here")),
    );
    steps.push(Sentence::new("hold the throat with one basting stitch"));
    steps.extend(bench::set_and_measure(
        request,
        "back at {}, the buried tail must measure {} from throat to end, within {}; milk again if it does not",
        bury.length,
    ));
    steps.extend(finish(&stitching));

    let mut findings = bury.findings.clone();
    findings.extend(eye_answer.findings);
    findings.extend(stitch_findings);
    let mut working = bury.working.clone();
    working.extend(eye_answer.working);
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
        time: bench::minutes(35.0),
        cautions: bench::cautions(),
        grip: Some(bury.grip(request)),
        weak_points: weakness.points,
        strength_share: Some(weakness.share),
        findings,
        working,
    })
}

/// The steps that taper a tail.
pub(crate) fn taper_steps(bury: &super::buried::Bury, first_mark: u32) -> Vec<Sentence> {
    if bury.tail.steps.is_empty() {
        return vec![Sentence::new("tape the tail's end tight: it stays at its full thickness")];
    }
    let left = bury.tail.steps.first().map_or(crate::STRANDS, |(_, left)| *left);
    vec![
        Sentence::new("from mark {} towards the bitter end, at each arrowhead pull out one strand of each hand and cut both off where they leave the braid: {} strands are left")
            .with(first_mark)
            .with(left),
        Sentence::new("cut what is left on the slant over the last {}, milk the tail smooth and tape its end to the puller")
            .with(bury.diameter * bury.tail.cut),
    ]
}

/// Stitching comes last.
pub(crate) fn finish(stitching: &[crate::Stitching]) -> Vec<Sentence> {
    let mut steps = stitching
        .iter()
        .map(|stitch| {
            Sentence::new("finish with the {}: {} of {} twine").with(stitch.name).with(stitch.length).with(stitch.twine)
        })
        .collect::<Vec<_>>();
    steps.push(Sentence::new("write what was measured, the setting load and the batch in the boxes, and sign"));
    steps
}
