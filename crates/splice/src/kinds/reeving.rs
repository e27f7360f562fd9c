//! The reeving loop: a small loop at the bitter end to haul the line through.
//!
//! It carries a messenger and nothing else, and must pass where the rope
//! passes: half the strands of a hollow braid are taken out, the tail is short,
//! and all of it is sewn; the rope shortens a little over it. In a double
//! braid the core is cut off where the tail will end, so that the cover makes
//! the loop and its tail takes the core's place, no thicker than the rope.

use super::bench;
use super::buried::assumed_braid;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::stitching::{twine_for, whipping};
use crate::tail::{Slice, shrinkage};
use crate::{EndRequest, Mark, SpliceError};
use sources::{COMMON_PRACTICE, EXACT, Finding, GIVEN, Grade, OURS, Step};
use units::{Length, Sentence};

/// Inside length of the loop, in rope diameters.
const INSIDE: f64 = 2.0;
/// Tail that is buried and sewn, in rope diameters.
const TAIL: f64 = 12.0;

/// Sizes of the loop.
struct Loop {
    inside: Length,
    tail: Length,
    /// Rope in the loop.
    rope: Length,
    shrinkage: Length,
}

/// The layout of a reeving loop.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let d = request.rope.diameter;
    let inside = request.eye.unwrap_or(d * INSIDE);
    if inside <= Length::ZERO {
        return Err(SpliceError::NotAboveZero { what: "the loop", given: inside });
    }
    let mut layout = Layout::of(request, bench::minutes(20.0));
    let shrinkage = if request.rope.construction.has_cover() {
        Length::ZERO
    } else {
        let (braid, assumed) = assumed_braid(request, d)?;
        layout.working = assumed;
        d * shrinkage(&braid, &[Slice { length: TAIL, share: 0.5 }])
    };
    // Thinned to half its strands the loop is as thick as half the area.
    let thin = d * std::f64::consts::FRAC_1_SQRT_2;
    let sizes = Loop { inside, tail: d * TAIL, rope: inside * 2.0 + thin * std::f64::consts::FRAC_PI_2, shrinkage };
    let marks = marks(request, &sizes);
    let rope_used = sizes.tail + sizes.rope + shrinkage - inside;
    layout.steps = steps(request, &marks);
    layout.working.extend(working(request, &sizes, rope_used));
    layout.findings.push(Finding::new(
        Grade::Caution,
        "messenger-only",
        Sentence::new("the loop hauls a line through a mast and carries no other load"),
        COMMON_PRACTICE.at("reeving loop"),
    ));
    let reason = Sentence::new("keeps the throat slim and the tail in");
    Ok(Layout {
        bury: Some(sizes.tail),
        marks,
        shrinkage,
        rope_used,
        stitching: vec![whipping("throat whipping", d, d, twine_for(d), reason)],
        tools: bench::BURY_TOOLS.to_vec(),
        ..layout
    })
}

fn marks(request: &EndRequest, sizes: &Loop) -> Vec<Mark> {
    let Loop { tail, rope, shrinkage, .. } = *sizes;
    let ends = tail + rope + tail + shrinkage;
    let mut sheet = MarkSheet::default();
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Rope, "throat, tail side", tail, Shape::ClosedBand);
    sheet.mark(Part::Rope, "crown", tail + rope / 2.0, Shape::PlainBand);
    sheet.mark(Part::Rope, "throat, standing side", tail + rope, Shape::ClosedBand);
    if request.rope.construction.has_cover() {
        sheet.mark(Part::Core, "core cut here", ends, Shape::PlainBand);
    }
    sheet.mark(Part::Rope, "tail ends here", ends, Shape::BrokenBand);
    sheet.numbered()
}

fn working(request: &EndRequest, sizes: &Loop, used: Length) -> Vec<Step> {
    let d = request.rope.diameter;
    let asked = request.eye.map_or(COMMON_PRACTICE.at("reeving loop"), |_| GIVEN.at("the eye asked for"));
    let mut steps = vec![
        Step::new("loop, inside, flat", "2 d", sizes.inside, asked).input("d", d),
        Step::new("tail", "12 d", sizes.tail, COMMON_PRACTICE.at("reeving loop, sewn all along")).input("d", d),
    ];
    if sizes.shrinkage > Length::ZERO {
        let ours = OURS.at("strands keep their length");
        steps.push(Step::new("shrinkage", "over a tail of half the strands", sizes.shrinkage, ours));
    }
    steps.push(Step::new("rope used", "tail + rope in the loop + shrinkage - inside length", used, EXACT.at("sum")));
    steps
}

fn steps(request: &EndRequest, marks: &[Mark]) -> Vec<Sentence> {
    let n = |name| number(marks, Part::Rope, name);
    let first = if request.rope.construction.has_cover() {
        Sentence::new("pull the core out as far as its mark {}, cut it off there, and let it draw back: the empty cover makes the loop, and its tail will take the core's place")
            .with(number(marks, Part::Core, "core cut here"))
    } else {
        Sentence::new("take out three strands of each hand from the bitter end to mark {}")
            .with(n("throat, standing side"))
    };
    vec![
        bench::set_out(request),
        first,
        Sentence::new("fold at mark {}, draw the tail inside from mark {} to mark {}, and milk it smooth")
            .with(n("crown"))
            .with(n("throat, standing side"))
            .with(n("tail ends here")),
        Sentence::new("sew through both parts from the throat to mark {}, and whip the throat; roll it until it passes a hole of {}")
            .with(n("tail ends here"))
            .with(request.rope.diameter * 1.2),
        Sentence::new("haul on it by hand with a messenger before it is trusted in a mast"),
    ]
}
