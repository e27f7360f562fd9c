//! The adjustable loop: an eye whose size is set by sliding its tail.
//!
//! The tail runs through the standing part for the whole bury at its full
//! thickness and comes out again, so pulling it makes the eye smaller. Nothing
//! may be stitched but a stopper at the very end, without which it would come
//! undone. Under load the braid grips as in any bury; slack, it slides.

use super::bench;
use super::buried::{Bury, bury, eye_rope_used};
use crate::eye::eye;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::stitching::{twine_for, whipping};
use crate::{EndRequest, Eye, Mark, SpliceError, TaperWish};
use sources::{COMMON_PRACTICE, Finding, Grade, OURS, Step};
use units::{Length, Sentence};

/// Tail left outside when the eye is largest, in diameters.
const STOPPER: f64 = 10.0;
/// The smallest eye as a share of the largest.
const SMALLEST: f64 = 0.5;

/// Sizes of the loop.
struct Sizes {
    /// The smallest eye.
    least: Length,
    /// Tail drawn through from the largest eye to the smallest.
    travel: Length,
    /// Tail left outside when largest.
    stopper: Length,
}

/// The layout of an adjustable loop; the eye asked for is the largest.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let whole = EndRequest { taper: TaperWish::None, ..request.clone() };
    let bury = bury(&whole)?;
    let eye_answer = eye(&whole, request.rope.diameter)?;
    let eye = eye_answer.eye;
    let sizes = sizes(&whole, &bury, &eye)?;
    let marks = marks(&bury, &eye, &sizes);
    let (used, step) = eye_rope_used(&bury, &eye);
    let weakness = bury.weakness(&whole, Some(&eye))?;
    let reason = Sentence::new("a stopper sewn round the tail keeps it from being drawn right out");
    let thick = bury.diameter * 1.5;
    let stitching = vec![whipping("stopper", thick, thick, twine_for(bury.diameter), reason)];
    let mut layout = bury.layout(&whole, 30.0);
    layout.steps = steps(request, &eye, &sizes, &marks);
    layout.findings.extend(eye_answer.findings);
    layout.findings.push(slides(&sizes));
    layout.working.extend(eye_answer.working);
    layout.working.extend(working(&sizes));
    let mut step = step.input("tail left outside", sizes.stopper);
    step.formula = "bury + rope in the eye + shrinkage + tail outside - bearing point to throat";
    step.result = (used + sizes.stopper).into();
    layout.working.push(step);
    Ok(Layout {
        eye: Some(eye),
        marks,
        puller_lead: Some(Length::ZERO),
        rope_used: used + sizes.stopper,
        stitching,
        weak_points: weakness.points,
        strength_share: Some(weakness.share),
        ..layout
    })
}

fn sizes(request: &EndRequest, bury: &Bury, eye: &Eye) -> Result<Sizes, SpliceError> {
    let least = eye.inside * SMALLEST;
    // The smallest eye must go over the fitting as well.
    if let Some(on) = request.on {
        crate::eye::eye(&EndRequest { eye: Some(least), ..request.clone() }, request.rope.diameter).map_err(|_| {
            SpliceError::TooShort {
                kind: request.kind,
                given: eye.inside,
                least: (crate::least_eye(on.diameter) / SMALLEST).up_to_mm().to_length(),
            }
        })?;
    }
    let travel = (eye.inside - least) * 2.0;
    if travel >= bury.length {
        return Err(SpliceError::OutOfRange {
            what: "the travel in buries",
            given: travel / bury.length,
            low: 0.0,
            high: 1.0,
        });
    }
    Ok(Sizes { least, travel, stopper: bury.diameter * STOPPER })
}

fn marks(bury: &Bury, eye: &Eye, sizes: &Sizes) -> Vec<Mark> {
    let throat = sizes.stopper + bury.length;
    let out = throat + eye.rope + bury.length + bury.shrinkage;
    let mut sheet = MarkSheet::default();
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Rope, "stopper", sizes.stopper / 2.0, Shape::PlainBand);
    sheet.mark(Part::Rope, "comes out when largest", sizes.stopper, Shape::BrokenBand);
    sheet.mark(Part::Rope, "comes out when smallest", sizes.stopper + sizes.travel, Shape::BrokenBand);
    sheet.mark(Part::Rope, "throat, tail side, when largest", throat, Shape::ClosedBand);
    sheet.mark(Part::Rope, "crown", throat + eye.rope / 2.0, Shape::PlainBand);
    sheet.mark(Part::Rope, "throat, standing side", throat + eye.rope, Shape::ClosedBand);
    sheet.mark(Part::Rope, "tail comes out, puller goes in", out, Shape::Cross);
    sheet.numbered()
}

fn slides(sizes: &Sizes) -> Finding {
    let text = Sentence::new("slack it does not grip: shaken, the eye grows until the stopper stands, {} longer")
        .with(sizes.travel / 2.0);
    Finding::new(Grade::Caution, "slides-slack", text, OURS.at("grip is proportional to tension"))
        .remedy(Sentence::new("use a long-bury eye where it may flog"))
}

fn working(sizes: &Sizes) -> [Step; 2] {
    [
        Step::new(
            "smallest eye, inside, flat",
            "half the largest",
            sizes.least,
            COMMON_PRACTICE.at("travel of an adjustable loop"),
        ),
        Step::new("tail left outside", "10 d", sizes.stopper, COMMON_PRACTICE.at("stopper of an adjustable loop")),
    ]
}

fn steps(request: &EndRequest, eye: &Eye, sizes: &Sizes, marks: &[Mark]) -> Vec<Sentence> {
    let n = |name| number(marks, Part::Rope, name);
    vec![
        bench::set_out(request),
        Sentence::new("open the braid at mark {}, bring the puller up inside it to mark {}, and draw the tail right through until mark {} lies in the hole and mark {} meets mark {}")
            .with(n("tail comes out, puller goes in"))
            .with(n("throat, standing side"))
            .with(n("comes out when largest"))
            .with(n("throat, tail side, when largest"))
            .with(n("throat, standing side")),
        Sentence::new("milk the braid smooth, then draw the tail on until mark {} shows: the eye is smallest, {} inside")
            .with(n("comes out when smallest"))
            .with(sizes.least),
        Sentence::new("sew the stopper round the tail at mark {}, or fold and stitch the end into a handle; nothing else is stitched").with(n("stopper")),
        Sentence::new("set the loop at its largest: pull to {} three times, nobody in line with it").with(bench::setting_load(request)),
        Sentence::new("check at {} that the tail does not move under load, that it slides by hand when slack, and that the largest eye measures {} within {}")
            .with(bench::tension(request))
            .with(eye.inside)
            .with(request.rules.tolerance),
    ]
}
