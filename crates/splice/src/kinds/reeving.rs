//! The reeving loop: a small loop at the bitter end to haul the line through.
//!
//! It carries a messenger and nothing else, and must pass where the rope
//! passes: half the strands are taken out, the tail is short, and all of it is
//! sewn. In a double braid the core is cut back first, so that the cover alone
//! makes the loop.

use super::bench;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::stitching::{twine_for, whipping};
use crate::{EndRequest, SpliceError};
use sources::{COMMON_PRACTICE, EXACT, Finding, GIVEN, Grade, Step};
use units::{Length, Sentence};

/// Inside length of the loop, in rope diameters.
const INSIDE: f64 = 2.0;
/// Tail that is buried and sewn, in rope diameters.
const TAIL: f64 = 12.0;

/// The layout of a reeving loop.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let d = request.rope.diameter;
    let inside = request.eye.unwrap_or(d * INSIDE);
    if inside <= Length::ZERO {
        return Err(SpliceError::NotAboveZero { what: "the loop", given: inside });
    }
    let tail = d * TAIL;
    // Thinned to half its strands the loop is as thick as half the area.
    let thin = d * std::f64::consts::FRAC_1_SQRT_2;
    let rope = inside * 2.0 + thin * std::f64::consts::FRAC_PI_2;
    let mut sheet = MarkSheet::default();
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Rope, "throat, tail side", tail, Shape::ClosedBand);
    sheet.mark(Part::Rope, "crown", tail + rope / 2.0, Shape::PlainBand);
    sheet.mark(Part::Rope, "throat, standing side", tail + rope, Shape::ClosedBand);
    let covered = request.rope.construction.has_cover();
    if covered {
        sheet.mark(Part::Core, "core cut here", tail + rope, Shape::BrokenBand);
    }
    sheet.mark(Part::Rope, "tail ends here", tail + rope + tail, Shape::BrokenBand);
    let marks = sheet.numbered();
    let n = |name| number(&marks, Part::Rope, name);
    let rope_used = tail + rope - inside;
    let first = if covered {
        Sentence::new("pull the core out at mark {} and cut it off there; the empty cover makes the loop")
            .with(n("throat, standing side"))
    } else {
        Sentence::new("take out three strands of each hand from the bitter end to mark {}")
            .with(n("throat, standing side"))
    };
    let steps = vec![
        bench::set_out(request),
        first,
        Sentence::new("fold at mark {}, draw the tail inside from mark {} to mark {}, and milk it smooth")
            .with(n("crown"))
            .with(n("throat, standing side"))
            .with(n("tail ends here")),
        Sentence::new("sew through both parts from the throat to mark {}, and whip the throat; roll it until it passes a hole of {}")
            .with(n("tail ends here"))
            .with(d * 1.2),
        Sentence::new("haul on it by hand with a messenger before it is trusted in a mast"),
    ];
    let working = vec![
        Step::new(
            "loop, inside, flat",
            "2 d",
            inside,
            request.eye.map_or(COMMON_PRACTICE.at("reeving loop"), |_| GIVEN.at("the eye asked for")),
        )
        .input("d", d),
        Step::new("tail", "12 d", tail, COMMON_PRACTICE.at("reeving loop, sewn all along")).input("d", d),
        Step::new("rope used", "tail + rope in the loop - inside length", rope_used, EXACT.at("sum")),
    ];
    let finding = Finding::new(
        Grade::Caution,
        "messenger-only",
        Sentence::new("the loop hauls a line through a mast and carries no other load"),
        COMMON_PRACTICE.at("reeving loop"),
    );
    let reason = Sentence::new("keeps the throat slim and the tail in");
    Ok(Layout {
        bury: Some(tail),
        marks,
        rope_used,
        stitching: vec![whipping("throat whipping", d, d, twine_for(d), reason)],
        steps,
        tools: bench::BURY_TOOLS.to_vec(),
        findings: vec![finding],
        working,
        ..Layout::of(request, bench::minutes(20.0))
    })
}
