//! A join of unlike ropes: hollow braids of another fibre or thickness.
//!
//! Each rope's tail lies inside the other's braid from the crossing on. A tail
//! of area `r^2` of the braid's own opens it as a share `r^2` of a like tail
//! does, and grips by the more slippery of the two fibres. Both ways must hold.
//! Where the other rope is a double braid its core is taken out as far as the
//! join reaches, and its cover is the braid. Thicknesses further apart than a
//! third are refused: the thin tail would not open the braid.

use super::bench;
use super::buried::{Bury, bury};
use super::long_bury::{finish, taper_steps};
use crate::grip::{Hold, hold};
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::stitching::throat;
use crate::tail::{Slice, shrinkage};
use crate::{EndRequest, SpliceError, prior::prior};
use cordage::{Construction, LoadOn};
use sources::{EXACT, Finding, GIVEN, Grade, OURS, Step};
use units::{Length, Sentence};

/// Thickness of one rope over the other's, at most.
const THICKEST: f64 = 1.33;

/// The layout of a join of unlike ropes.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let missing = SpliceError::Missing { kind: request.kind, what: "the other rope" };
    let other = request.other.ok_or(missing)?;
    if !matches!(other.construction, Construction::TwelveStrand | Construction::DoubleBraid(LoadOn::Both)) {
        return Err(SpliceError::WrongConstruction {
            kind: request.kind,
            rope: other.name.clone(),
            construction: other.construction.name(),
            instead: None,
        });
    }
    // The more slippery fibre settles bury and grip of both.
    let slippery =
        if prior(other.fibre).friction.low < prior(request.rope.fibre).friction.low { other } else { request.rope };
    let own = cordage::Rope { fibre: slippery.fibre, ..request.rope.clone() };
    let one = bury(&EndRequest { rope: &own, ..request.clone() })?;
    let ratio = other.diameter / one.diameter;
    if !(1.0 / THICKEST..=THICKEST).contains(&ratio) {
        return Err(SpliceError::OutOfRange {
            what: "the other rope's diameter over this one's",
            given: ratio,
            low: 1.0 / THICKEST,
            high: THICKEST,
        });
    }
    let here = Way::of(&one, ratio, one.diameter);
    let there = Way::of(&one, 1.0 / ratio, other.diameter);
    let mut layout = one.layout(request, 75.0);
    let worse = if here.hold.margin.low < there.hold.margin.low { &here.hold } else { &there.hold };
    if let Some(grip) = layout.grip.as_mut() {
        grip.margin = worse.margin;
        grip.margin_full_contact = worse.margin_full_contact;
        grip.chance = worse.chance;
        grip.tail_creep = None;
        grip.passing = Vec::new();
    }
    add_findings(&mut layout, &one, worse);
    let mut sheet = MarkSheet::default();
    one.mark_tail(&mut sheet, Part::Rope);
    mark(&mut sheet, Part::Rope, &one, here.shrinkage);
    sheet.mark(Part::OtherRope, "bitter end", Length::ZERO, Shape::PlainBand);
    mark(&mut sheet, Part::OtherRope, &one, there.shrinkage);
    layout.marks = sheet.numbered();
    layout.shrinkage = here.shrinkage;
    layout.rope_used = one.length + here.shrinkage;
    layout.working.push(Step::new("other rope's diameter", "", other.diameter, GIVEN.at("rope list or description")));
    layout.working.push(Step::new(
        "other rope's shrinkage",
        "integral over this rope's tail",
        there.shrinkage,
        OURS.at("strands keep their length"),
    ));
    layout.working.push(Step::new(
        "rope used of this rope",
        "bury + shrinkage, from the crossing",
        layout.rope_used,
        EXACT.at("sum"),
    ));
    layout.working.push(Step::new(
        "rope used of the other",
        "bury + shrinkage, from the crossing",
        one.length + there.shrinkage,
        EXACT.at("sum"),
    ));
    let (stitching, findings) =
        throat(request, one.diameter, one.diameter * std::f64::consts::SQRT_2, one.length * 2.0);
    layout.findings.extend(findings);
    layout.steps = steps(request, &one, &layout.marks, other.construction.has_cover());
    layout.steps.extend(finish(&stitching));
    layout.stitching = stitching;
    Ok(layout)
}

/// One rope's braid round the other's tail.
struct Way {
    hold: Hold,
    shrinkage: Length,
}

impl Way {
    /// A braid of `diameter` round a tail `ratio` times as thick.
    fn of(bury: &Bury, ratio: f64, diameter: Length) -> Way {
        let scale = bury.diameter / diameter;
        let slices = bury
            .tail
            .slices()
            .iter()
            .map(|slice| Slice { length: slice.length * scale, share: slice.share * ratio * ratio })
            .collect::<Vec<_>>();
        Way { hold: hold(&bury.belief, &slices, bury.rho), shrinkage: diameter * shrinkage(&bury.braid, &slices) }
    }
}

fn add_findings(layout: &mut Layout, bury: &Bury, worse: &Hold) {
    layout.findings.retain(|finding| finding.code != "grip-margin" && finding.code != "short-bury");
    if worse.margin.low < 1.0 {
        let text = Sentence::new(
            "the grip margin is {} at the low end of friction, in the thicker rope's braid: a bury of {} may let go",
        )
        .with(worse.margin.low)
        .with(bury.length);
        let longer = bury.length / worse.margin.low;
        layout.findings.push(
            Finding::new(Grade::Stop, "grip-margin", text, OURS.at("grip model"))
                .remedy(Sentence::new("bury {} or more").with(longer.up_to_mm())),
        );
    }
    layout.findings.push(Finding::new(
        Grade::Note,
        "unlike-strength",
        Sentence::new("the join is as strong as the weaker rope at most; its share at the crossing is not assessed"),
        OURS.at("unlike ropes share load by stiffness"),
    ));
}

fn mark(sheet: &mut MarkSheet, part: Part, bury: &Bury, shrinkage: Length) {
    sheet.mark(part, "crossing", bury.length, Shape::ClosedBand);
    let end = bury.length * 2.0 + shrinkage;
    sheet.mark(part, "other tail ends here", end, Shape::BrokenBand);
    sheet.mark(part, "puller goes in", end + bury.lead, Shape::Cross);
}

fn steps(request: &EndRequest, bury: &Bury, marks: &[crate::Mark], covered: bool) -> Vec<Sentence> {
    let this = |name| number(marks, Part::Rope, name);
    let that = |name| number(marks, Part::OtherRope, name);
    let mut steps = vec![
        bench::set_out(request),
        Sentence::new("set out the other rope's marks {} to {} from its own bitter end")
            .with(that("bitter end"))
            .with(that("puller goes in")),
    ];
    if covered {
        steps.push(Sentence::new("take the other rope's core out at its mark {} and cut it off there on the slant; its cover is the braid of this join").with(that("puller goes in")));
    }
    steps.extend(taper_steps(bury, this("taper begins")));
    steps.extend([
        Sentence::new("taper the other rope's tail alike, strands out in opposite pairs over its last third, and cut it on the slant"),
        Sentence::new("open the other rope at mark {}, bring the puller inside it to mark {}, and draw this rope's tail in until marks {} and {} lie on each other")
            .with(that("puller goes in"))
            .with(that("crossing"))
            .with(this("crossing"))
            .with(that("crossing")),
        Sentence::new("do the same the other way, in at mark {} of this rope: its tail's end lies under mark {}").with(this("crossing")).with(this("other tail ends here")),
        Sentence::new("milk both smooth away from the crossing, and hold it with one basting stitch"),
    ]);
    steps.extend(bench::set_and_measure(
        request,
        "back at {}, each buried tail must measure {} from the crossing to its end, within {}; milk again if it does not",
        bury.length,
    ));
    steps
}
