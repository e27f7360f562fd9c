//! The soft shackle: a doubled rope whose eye closes over its own stopper knot.
//!
//! The rope is doubled at its middle, where a small eye is left; the two legs
//! run side by side to a stopper knot, and the tails are buried back into the
//! legs. Lengths of knot and eye are common practice: tie one, measure it, and
//! make the next by it. No published test of strength was found, so none is
//! given. The knot's tails are the only buried parts, and carry little.

use super::bench;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::weak::WeakPoint;
use crate::{EndRequest, SpliceError};
use sources::{COMMON_PRACTICE, EXACT, Finding, GIVEN, Grade, Step};
use units::{Length, Sentence};

/// Rope that the stopper knot takes of each leg, in diameters.
const KNOT: f64 = 16.0;
/// Tail of each leg, buried below the knot, in diameters.
const TAIL: f64 = 20.0;
/// Half of the closing eye, in diameters of rope.
const HALF_EYE: f64 = 5.0;

/// The layout of a soft shackle; the eye asked for is its inside length,
/// closed and pulled flat.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let missing = SpliceError::Missing {
        kind: request.kind,
        what: "the eye: the inside length of the closed shackle, pulled flat",
    };
    let inside = request.eye.ok_or(missing)?;
    let d = request.rope.diameter;
    let least = d * 12.0;
    if inside < least {
        return Err(SpliceError::TooShort { kind: request.kind, given: inside, least });
    }
    // Closed and pulled flat the loop runs twice the inside length and half a
    // turn at each end; each leg is one such loop long, eye to knot.
    let leg = inside * 2.0 + d * std::f64::consts::PI;
    let knot = d * KNOT;
    let tail = d * TAIL;
    let half = tail + knot + leg;
    let cut = half * 2.0;
    let mut sheet = MarkSheet::default();
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Rope, "knot ends", tail, Shape::PlainBand);
    sheet.mark(Part::Rope, "knot begins", tail + knot, Shape::ClosedBand);
    sheet.mark(Part::Rope, "tail ends here", tail + knot + tail, Shape::BrokenBand);
    sheet.mark(Part::Rope, "neck of the eye", half - d * HALF_EYE, Shape::ClosedBand);
    sheet.mark(Part::Rope, "middle", half, Shape::PlainBand);
    let marks = sheet.numbered();
    let n = |name| number(&marks, Part::Rope, name);
    let steps = vec![
        Sentence::new("cut {} of rope, and set out the marks of the table from both bitter ends").with(cut.up_to_mm()),
        Sentence::new("double the rope at mark {}; at the two marks {} pass one leg through the other, so that a small eye is left that opens and closes by sliding")
            .with(n("middle"))
            .with(n("neck of the eye")),
        Sentence::new("lay the legs together, evenly, and tie the stopper knot with both at once: from mark {} to mark {} of each leg goes into it")
            .with(n("knot begins"))
            .with(n("knot ends")),
        Sentence::new("draw the knot up by hand, each part in turn, then set it hard: eye over the knot, pull to {} three times, nobody in line with it")
            .with(bench::setting_load(request)),
        Sentence::new("thin each tail by half its strands, cut it on the slant, and bury it back into its own leg: it ends under mark {}").with(n("tail ends here")),
        Sentence::new("measure the closed shackle at {}: {} inside, within {}; write what was measured, and make the next by it")
            .with(bench::tension(request))
            .with(inside)
            .with(request.rules.tolerance),
    ];
    let working = vec![
        Step::new("closed shackle, inside, flat", "", inside, GIVEN.at("the loop asked for")),
        Step::new("leg, eye to knot", "2 L + pi d", leg, EXACT.at("once round, with half a turn at each end"))
            .input("L", inside)
            .input("d", d),
        Step::new("knot, each leg", "16 d", knot, COMMON_PRACTICE.at("stopper knot of two legs, measured by the loft"))
            .input("d", d),
        Step::new("tail, each leg", "20 d", tail, COMMON_PRACTICE.at("tails of a soft shackle")).input("d", d),
        Step::new("cut length", "2 (tail + knot + leg)", cut, EXACT.at("sum")),
    ];
    let finding = Finding::new(
        Grade::Caution,
        "untested-shackle",
        Sentence::new(
            "no published test of a soft shackle was found and none is computed: break two of each size before trusting one",
        ),
        COMMON_PRACTICE.at("soft shackle"),
    );
    let point = WeakPoint {
        place: "stopper knot",
        from_throat: None,
        share: None,
        reason: Sentence::new("two legs share the load, and the knot can slip or cut in: not assessed"),
        citation: COMMON_PRACTICE.at("soft shackle"),
    };
    Ok(Layout {
        bury: Some(tail),
        marks,
        rope_used: cut,
        finished: Some(inside),
        steps,
        tools: bench::BURY_TOOLS.to_vec(),
        weak_points: vec![point],
        findings: vec![finding],
        working,
        ..Layout::of(request, bench::minutes(40.0))
    })
}
