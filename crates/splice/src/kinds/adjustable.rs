//! The adjustable loop: an eye whose size is set by sliding its tail.
//!
//! The tail runs through the standing part for the whole bury at its full
//! thickness and comes out again, so pulling it makes the eye smaller. Nothing
//! may be stitched but a stopper at the very end, without which it would come
//! undone. Under load the braid grips as in any bury; slack, it slides.

use super::bench;
use super::buried::{bury, eye_rope_used};
use crate::eye::eye;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::stitching::{twine_for, whipping};
use crate::{EndRequest, SpliceError, TaperWish};
use sources::{COMMON_PRACTICE, Finding, Grade, OURS, Step};
use units::{Length, Sentence};

/// Tail left outside when the eye is largest, in diameters.
const STOPPER: f64 = 10.0;
/// The smallest eye as a share of the largest.
const SMALLEST: f64 = 0.5;

/// The layout of an adjustable loop; the eye asked for is the largest.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let whole = EndRequest { taper: TaperWish::None, ..request.clone() };
    let bury = bury(&whole)?;
    let eye_answer = eye(&whole, request.rope.diameter)?;
    let eye = eye_answer.eye;
    let least = eye.inside * SMALLEST;
    // The smallest eye must go over the fitting as well.
    if let Some(on) = request.on {
        crate::eye::eye(&EndRequest { eye: Some(least), ..whole.clone() }, request.rope.diameter).map_err(|_| {
            SpliceError::TooShort {
                kind: request.kind,
                given: eye.inside,
                least: crate::least_eye(on.diameter) / SMALLEST,
            }
        })?;
    }
    let stopper = bury.diameter * STOPPER;
    let travel = (eye.inside - least) * 2.0;
    let throat = stopper + bury.length;
    let mut sheet = MarkSheet::default();
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Rope, "stopper", stopper / 2.0, Shape::PlainBand);
    sheet.mark(Part::Rope, "comes out when largest", stopper, Shape::BrokenBand);
    sheet.mark(Part::Rope, "comes out when smallest", stopper + travel, Shape::BrokenBand);
    sheet.mark(Part::Rope, "throat, tail side, when largest", throat, Shape::ClosedBand);
    sheet.mark(Part::Rope, "crown", throat + eye.rope / 2.0, Shape::PlainBand);
    sheet.mark(Part::Rope, "throat, standing side", throat + eye.rope, Shape::ClosedBand);
    let out = throat + eye.rope + bury.length + bury.shrinkage;
    sheet.mark(Part::Rope, "tail comes out, puller goes in", out, Shape::Cross);
    let marks = sheet.numbered();
    if travel >= bury.length {
        return Err(SpliceError::OutOfRange {
            what: "the travel in buries",
            given: travel / bury.length,
            low: 0.0,
            high: 1.0,
        });
    }
    let (used, step) = eye_rope_used(&bury, &eye);
    let weakness = bury.weakness(&whole, Some(&eye))?;
    let n = |name| number(&marks, Part::Rope, name);
    let reason = Sentence::new("a stopper sewn round the tail keeps it from being drawn right out");
    let stitching =
        vec![whipping("stopper", bury.diameter * 1.5, bury.diameter * 1.5, twine_for(bury.diameter), reason)];
    let mut layout = bury.layout(&whole, 30.0);
    layout.puller_lead = Some(Length::ZERO);
    layout.steps = vec![
        bench::set_out(request),
        Sentence::new("open the braid at mark {}, bring the puller up inside it to mark {}, and draw the tail right through until mark {} lies in the hole and mark {} meets mark {}")
            .with(n("tail comes out, puller goes in"))
            .with(n("throat, standing side"))
            .with(n("comes out when largest"))
            .with(n("throat, tail side, when largest"))
            .with(n("throat, standing side")),
        Sentence::new("milk the braid smooth, then draw the tail on until mark {} shows: the eye is smallest, {} inside")
            .with(n("comes out when smallest"))
            .with(least),
        Sentence::new("sew the stopper round the tail at mark {}, or fold and stitch the end into a handle; nothing else is stitched").with(n("stopper")),
        Sentence::new("set the loop at its largest: pull to {} three times, nobody in line with it").with(bench::setting_load(request)),
        Sentence::new("check at {} that the tail does not move under load, that it slides by hand when slack, and that the largest eye measures {} within {}")
            .with(bench::tension(request))
            .with(eye.inside)
            .with(request.rules.tolerance),
    ];
    layout.findings.extend(eye_answer.findings);
    layout.findings.push(
        Finding::new(
            Grade::Caution,
            "slides-slack",
            Sentence::new("slack it does not grip: shaken, the eye grows until the stopper stands, {} longer")
                .with(travel / 2.0),
            OURS.at("grip is proportional to tension"),
        )
        .remedy(Sentence::new("use a long-bury eye where it may flog")),
    );
    layout.working.extend(eye_answer.working);
    layout.working.push(Step::new(
        "smallest eye, inside, flat",
        "half the largest",
        least,
        COMMON_PRACTICE.at("travel of an adjustable loop"),
    ));
    layout.working.push(Step::new(
        "tail left outside",
        "10 d",
        stopper,
        COMMON_PRACTICE.at("stopper of an adjustable loop"),
    ));
    let mut step = step.input("tail left outside", stopper);
    step.formula = "bury + rope in the eye + shrinkage + tail outside - bearing point to throat";
    step.result = (used + stopper).into();
    layout.working.push(step);
    layout.weak_points = weakness.points;
    Ok(Layout {
        eye: Some(eye),
        marks,
        rope_used: used + stopper,
        stitching,
        strength_share: Some(weakness.share),
        ..layout
    })
}
