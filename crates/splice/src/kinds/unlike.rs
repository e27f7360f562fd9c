//! A join of unlike ropes: hollow braids of another fibre or thickness.
//!
//! Each rope's tail lies inside the other's braid from the crossing on. A tail
//! of area `r^2` of the braid's own opens it as a share `r^2` of a like tail
//! does, and grips by the more slippery of the two fibres. Both ways must hold.
//! Where a rope is a double braid, the part that lies inside and grips is the
//! stripped core of one that carries on it, and the empty cover of one that
//! carries on both. Thicknesses further apart than a third are refused: the
//! thin tail would not open the braid.

use super::bench;
use super::buried::{Bury, bury, mark_tail};
use super::long_bury::{finish, taper_steps};
use crate::grip::{Hold, hold};
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::stitching::throat;
use crate::tail::{Slice, Tail, shrinkage};
use crate::taper::on_picks;
use crate::{EndRequest, Mark, SpliceError, prior::prior};
use cordage::{Construction, LoadOn, Rope};
use sources::{EXACT, Finding, GIVEN, Grade, OURS, Step};
use units::{Length, Sentence};

/// Thickness of one rope over the other's, at most.
const THICKEST: f64 = 1.33;

/// The join: this rope's bury, the other's diameter and tail, and what each
/// braid does round the tail of the other.
struct Join<'a> {
    one: Bury,
    other: &'a Rope,
    other_tail: Tail,
    here: Way,
    there: Way,
    /// What this rope's marks are made on.
    part: Part,
}

/// The layout of a join of unlike ropes.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let other = other_rope(request)?;
    // The more slippery fibre settles bury and grip of both.
    let slippery =
        if prior(other.fibre).friction.low < prior(request.rope.fibre).friction.low { other } else { request.rope };
    let own = Rope { fibre: slippery.fibre, ..request.rope.clone() };
    let one = bury(&EndRequest { rope: &own, ..request.clone() })?;
    let join = join(request, one, other)?;
    let mut layout = join.one.layout(request, 75.0);
    add_grip(request, &mut layout, &join);
    layout.marks = marks(&join);
    layout.shrinkage = join.here.shrinkage;
    layout.rope_used = join.one.length + join.here.shrinkage;
    layout.working.extend(working(&join));
    let thick = join.one.diameter * std::f64::consts::SQRT_2;
    let (stitching, findings) = throat(request, join.one.diameter, thick, join.one.length * 2.0);
    layout.findings.extend(findings);
    layout.steps = steps(request, &join, &layout.marks);
    layout.steps.extend(finish(&stitching));
    layout.stitching = stitching;
    Ok(layout)
}

fn other_rope<'a>(request: &EndRequest<'a>) -> Result<&'a Rope, SpliceError> {
    let other = request.other.ok_or(SpliceError::Missing { kind: request.kind, what: "the other rope" })?;
    if matches!(other.construction, Construction::TwelveStrand | Construction::DoubleBraid(LoadOn::Both)) {
        return Ok(other);
    }
    Err(SpliceError::WrongConstruction {
        kind: request.kind,
        rope: other.name.clone(),
        construction: other.construction.name(),
        instead: None,
    })
}

fn join<'a>(request: &EndRequest, one: Bury, other: &'a Rope) -> Result<Join<'a>, SpliceError> {
    let ratio = other.diameter / one.diameter;
    if !(1.0 / THICKEST..=THICKEST).contains(&ratio) {
        return Err(SpliceError::OutOfRange {
            what: "the other rope's diameter over this one's",
            given: ratio,
            low: 1.0 / THICKEST,
            high: THICKEST,
        });
    }
    // The other rope's tail is tapered alike, on picks of its own.
    let alike = scaled(&one.tail, 1.0 / ratio);
    let other_tail = on_picks(&alike, one.braid.pick())?;
    let here = Way::of(&one, &scaled(&other_tail, ratio), ratio, one.diameter);
    let there = Way::of(&one, &alike, 1.0 / ratio, other.diameter);
    let part = if request.rope.construction.has_cover() { Part::Core } else { Part::Rope };
    Ok(Join { one, other, other_tail, here, there, part })
}

/// A tail with its lengths in other diameters.
fn scaled(tail: &Tail, by: f64) -> Tail {
    let steps = tail.steps.iter().map(|(at, left)| (at * by, *left)).collect();
    Tail { bury: tail.bury * by, steps, cut: tail.cut * by }
}

/// One rope's braid round the other's tail.
struct Way {
    slices: Vec<Slice>,
    hold: Hold,
    shrinkage: Length,
}

impl Way {
    /// A braid of `diameter` round a tail, in diameters of the braid, that is
    /// `ratio` times as thick.
    fn of(bury: &Bury, tail: &Tail, ratio: f64, diameter: Length) -> Way {
        let mut slices = tail.slices();
        for slice in &mut slices {
            slice.share *= ratio * ratio;
        }
        Way {
            hold: hold(&bury.belief, &slices, bury.rho),
            shrinkage: diameter * shrinkage(&bury.braid, &slices),
            slices,
        }
    }
}

/// The worse of the two ways is the join's grip.
fn add_grip(request: &EndRequest, layout: &mut Layout, join: &Join) {
    let worse = if join.here.hold.margin.low < join.there.hold.margin.low { &join.here } else { &join.there };
    let (worse, slices) = (&worse.hold, &worse.slices);
    if let Some(grip) = layout.grip.as_mut() {
        grip.at_loads = join.one.at_loads(request, worse, slices);
        grip.margin = worse.margin;
        grip.margin_full_contact = worse.margin_full_contact;
        grip.critical_bury = worse.critical_bury.map(|bury| join.one.diameter * bury.min(1e6));
        grip.chance = worse.chance;
        grip.tail_creep = None;
        grip.passing = Vec::new();
    }
    layout.working.push(
        Step::new(
            "grip margin, the worse way",
            "as above, the tail taken at its own area",
            worse.margin.usual,
            OURS.at("grip model"),
        )
        .input("low", worse.margin.low)
        .input("high", worse.margin.high),
    );
    layout.findings.retain(|finding| finding.code != "grip-margin" && finding.code != "short-bury");
    if worse.margin.low < 1.0 {
        let text = Sentence::new(
            "the grip margin is {} at the low end of friction, in the thicker rope's braid: a bury of {} may let go",
        )
        .with(worse.margin.low)
        .with(join.one.length);
        let finding = Finding::new(Grade::Stop, "grip-margin", text, OURS.at("grip model"));
        let longer = worse.margin.low.recip();
        layout.findings.push(if longer < 20.0 {
            finding.remedy(Sentence::new("bury {} or more").with((join.one.length * longer).up_to_mm()))
        } else {
            finding.remedy(Sentence::new("no bury clears it: measure the ropes, or choose another join"))
        });
    }
    layout.findings.push(Finding::new(
        Grade::Note,
        "unlike-strength",
        Sentence::new("the join is as strong as the weaker rope at most; its share at the crossing is not assessed"),
        OURS.at("unlike ropes share load by stiffness"),
    ));
}

fn marks(join: &Join) -> Vec<Mark> {
    let mut sheet = MarkSheet::default();
    join.one.mark_tail(&mut sheet, join.part);
    mark_crossing(&mut sheet, join.part, &join.one, join.here.shrinkage);
    mark_tail(&mut sheet, Part::OtherRope, &join.other_tail, join.other.diameter);
    mark_crossing(&mut sheet, Part::OtherRope, &join.one, join.there.shrinkage);
    sheet.numbered()
}

fn mark_crossing(sheet: &mut MarkSheet, part: Part, bury: &Bury, shrinkage: Length) {
    sheet.mark(part, "crossing", bury.length, Shape::ClosedBand);
    let end = bury.length * 2.0 + shrinkage;
    sheet.mark(part, "other tail ends here", end, Shape::BrokenBand);
    sheet.mark(part, "puller goes in", end + bury.lead, Shape::Cross);
}

fn working(join: &Join) -> [Step; 4] {
    let sum = EXACT.at("sum");
    let formula = "bury + shrinkage, from the crossing";
    [
        Step::new("other rope's diameter", "", join.other.diameter, GIVEN.at("rope list or description")),
        Step::new(
            "other rope's shrinkage",
            "integral over this rope's tail",
            join.there.shrinkage,
            OURS.at("strands keep their length; the same angle taken for both"),
        ),
        Step::new("rope used of this rope", formula, join.one.length + join.here.shrinkage, sum)
            .input("shrinkage", join.here.shrinkage),
        Step::new("rope used of the other", formula, join.one.length + join.there.shrinkage, sum),
    ]
}

fn steps(request: &EndRequest, join: &Join, marks: &[Mark]) -> Vec<Sentence> {
    let bury = &join.one;
    let this = |name| number(marks, join.part, name);
    let that = |name| number(marks, Part::OtherRope, name);
    let mut steps = vec![bench::set_out(request)];
    if join.part == Part::Core {
        steps.push(Sentence::new("draw the cover of this rope back beyond mark {}, tie it there, and set the marks out on the stretched core").with(this("puller goes in")));
    }
    steps.push(
        Sentence::new("set out the other rope's marks {} to {} from its own bitter end")
            .with(that("bitter end"))
            .with(that("puller goes in")),
    );
    if join.other.construction.has_cover() {
        steps.push(Sentence::new("take the other rope's core out at its mark {} and cut it off there on the slant; its cover is the braid of this join").with(that("puller goes in")));
    }
    steps.extend(taper_steps(bury, this("taper begins")));
    if !join.other_tail.steps.is_empty() {
        steps.push(Sentence::new("taper the other rope's tail alike at its own arrowheads, from mark {} towards its bitter end, and cut it on the slant from mark {}").with(that("taper begins")).with(that("slanted cut begins")));
    }
    steps.extend([
        Sentence::new("open the other rope at mark {}, bring the puller inside it to mark {}, and draw this rope's tail in until marks {} and {} lie on each other: its end lies under mark {}")
            .with(that("puller goes in"))
            .with(that("crossing"))
            .with(this("crossing"))
            .with(that("crossing"))
            .with(that("other tail ends here")),
        Sentence::new("do the same the other way: open this rope at mark {}, bring the puller to mark {}, and draw the other's tail in until its end lies under mark {}")
            .with(this("puller goes in"))
            .with(this("crossing"))
            .with(this("other tail ends here")),
        Sentence::new("milk both smooth away from the crossing, and hold it with one basting stitch"),
    ]);
    steps.extend(bench::set_and_measure(
        request,
        "back at {}, each buried tail must measure {} from the crossing to its end, within {}; milk again if it does not",
        bury.length,
    ));
    steps
}
