//! The soft shackle: a doubled rope whose eye closes over its own stopper knot.
//!
//! The rope is doubled at its middle, where a small eye is left; the two legs
//! run side by side to a stopper knot, and the tails are buried back into the
//! legs, which shorten over them. Closed, the eye lies round the two legs just
//! under the knot. Lengths of knot and eye are common practice: tie one,
//! measure it, and make the next by it. No published test of strength was
//! found, so none is given.

use super::bench;
use super::buried::assumed_braid;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::tail::{Tail, shrinkage};
use crate::taper::SLANT;
use crate::weak::WeakPoint;
use crate::{EndRequest, Mark, STRANDS, SpliceError};
use sources::{COMMON_PRACTICE, EXACT, Finding, GIVEN, Grade, OURS, Step};
use units::{Length, Sentence};

/// Rope that the stopper knot takes of each leg, in diameters.
const KNOT: f64 = 16.0;
/// Tail of each leg, buried below the knot, in diameters.
const TAIL: f64 = 20.0;
/// Half of the closing eye, in diameters of rope.
const HALF_EYE: f64 = 5.0;
/// Least loop inside, in diameters: both tails lie in it.
const LEAST: f64 = 12.0;
/// What closing takes of a leg, in diameters: the eye's rope lies half a
/// diameter under the knot, and goes round the far side of the neck a diameter
/// from its middle.
const CLOSING: f64 = 1.5;

/// Lengths along one leg, from its bitter end to the middle of the rope.
struct Leg {
    tail: Length,
    knot: Length,
    /// Eye to knot, as made.
    made: Length,
    /// What the leg shortens over its tail.
    shrinkage: Length,
}

impl Leg {
    fn half(&self) -> Length {
        self.tail + self.knot + self.made + self.shrinkage
    }
}

/// The layout of a soft shackle; the eye asked for is its inside length,
/// closed and pulled flat.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let missing = SpliceError::Missing {
        kind: request.kind,
        what: "the eye: the inside length of the closed shackle, pulled flat",
    };
    let inside = request.eye.ok_or(missing)?;
    let d = request.rope.diameter;
    let least = d * LEAST;
    if inside < least {
        return Err(SpliceError::TooShort { kind: request.kind, given: inside, least });
    }
    let (braid, assumed) = assumed_braid(request, d)?;
    // Half the strands, cut off on the slant.
    let thinned = Tail { bury: TAIL, steps: vec![(TAIL, STRANDS / 2)], cut: SLANT };
    let leg = Leg {
        tail: d * TAIL,
        knot: d * KNOT,
        made: inside * 2.0 + d * (std::f64::consts::PI + CLOSING),
        shrinkage: d * shrinkage(&braid, &thinned.slices()) * request.shrinkage_times(),
    };
    let marks = marks(&leg, d);
    let mut layout = Layout::of(request, bench::minutes(40.0));
    layout.steps = steps(request, inside, &leg, &marks);
    layout.working = assumed;
    layout.working.extend(working(inside, d, &leg));
    layout.findings.push(Finding::new(
        Grade::Caution,
        "untested-shackle",
        Sentence::new(
            "no published test of a soft shackle was found and none is computed: break two of each size before trusting one",
        ),
        COMMON_PRACTICE.at("soft shackle"),
    ));
    layout.weak_points.push(WeakPoint {
        place: "stopper knot",
        from_throat: None,
        share: None,
        reason: Sentence::new("two legs share the load, and the knot can slip or cut in: not assessed"),
        citation: COMMON_PRACTICE.at("soft shackle"),
    });
    Ok(Layout {
        bury: Some(leg.tail),
        slanted_cut: Some(d * SLANT),
        marks,
        shrinkage: leg.shrinkage * 2.0,
        rope_used: leg.half() * 2.0,
        finished: Some(inside),
        tools: bench::BURY_TOOLS.to_vec(),
        ..layout
    })
}

fn marks(leg: &Leg, d: Length) -> Vec<Mark> {
    let knot_begins = leg.tail + leg.knot;
    let mut sheet = MarkSheet::default();
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Rope, "knot ends, thin from here", leg.tail, Shape::Arrowhead);
    sheet.mark(Part::Rope, "knot begins", knot_begins, Shape::ClosedBand);
    sheet.mark(Part::Rope, "tail ends here", knot_begins + leg.tail + leg.shrinkage, Shape::BrokenBand);
    sheet.mark(Part::Rope, "neck of the eye", leg.half() - d * HALF_EYE, Shape::ClosedBand);
    sheet.mark(Part::Rope, "middle", leg.half(), Shape::PlainBand);
    sheet.numbered()
}

fn working(inside: Length, d: Length, leg: &Leg) -> Vec<Step> {
    vec![
        Step::new("closed shackle, inside, flat", "", inside, GIVEN.at("the loop asked for")),
        Step::new(
            "leg, eye to knot",
            "2 L + pi d + 1.5 d",
            leg.made,
            OURS.at("once round, half a turn at each end, and the eye round the neck"),
        )
        .input("L", inside)
        .input("d", d),
        Step::new(
            "knot, each leg",
            "16 d",
            leg.knot,
            COMMON_PRACTICE.at("stopper knot of two legs, measured by the loft"),
        )
        .input("d", d),
        Step::new("tail, each leg", "20 d", leg.tail, COMMON_PRACTICE.at("tails of a soft shackle")).input("d", d),
        Step::new(
            "shrinkage, each leg",
            "integral over its tail of half the strands",
            leg.shrinkage,
            OURS.at("strands keep their length"),
        ),
        Step::new("cut length", "2 (tail + knot + leg + shrinkage)", leg.half() * 2.0, EXACT.at("sum")),
    ]
}

fn steps(request: &EndRequest, inside: Length, leg: &Leg, marks: &[Mark]) -> Vec<Sentence> {
    let n = |name| number(marks, Part::Rope, name);
    vec![
        Sentence::new("cut {} of rope, and set out the marks of the table from both bitter ends, stretched straight at {}")
            .with((leg.half() * 2.0).up_to_mm())
            .with(bench::tension(request)),
        Sentence::new("double the rope at mark {}; at the two marks {} pass one leg through the other, so that a small eye is left that opens and closes by sliding")
            .with(n("middle"))
            .with(n("neck of the eye")),
        Sentence::new("lay the legs together, evenly, and tie the stopper knot with both at once: from mark {} to mark {} of each leg goes into it")
            .with(n("knot begins"))
            .with(n("knot ends, thin from here")),
        Sentence::new("draw the knot up by hand, each part in turn, then set it hard: eye over the knot, pull to {} three times, nobody in line with it")
            .with(bench::setting_load(request)),
        Sentence::new("from mark {} take three strands of each hand out of each tail, cut what is left on the slant, and bury it back into its own leg from the knot down: it ends under mark {}")
            .with(n("knot ends, thin from here"))
            .with(n("tail ends here")),
        Sentence::new("measure the closed shackle at {}: {} inside, within {}; write what was measured, and make the next by it")
            .with(bench::tension(request))
            .with(inside)
            .with(request.rules.tolerance),
    ]
}
