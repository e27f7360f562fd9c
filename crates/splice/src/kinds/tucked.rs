//! The tucked eye of a three-strand rope.
//!
//! Full tucks: three in natural fibre, four in synthetic, five in polyamide,
//! which is slippery and stretches. In a sling the tails stay proud by the
//! sling rule; elsewhere two more tucks, thinned to a half and a quarter,
//! finish the splice. Each tuck is given three diameters of unlaid strand. How
//! much the standing part swells and shortens under the tucks is not modelled.

use super::bench;
use crate::eye::eye;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::stitching::{twine_for, whipping};
use crate::weak::{WeakPoint, basis_finding};
use crate::{Duty, EndRequest, SpliceError, TuckFinish};
use cordage::Fibre;
use sources::{
    BITTING_1982, CFR_1926_251, COMMON_PRACTICE, Citation, EXACT, Finding, GIVEN, Grade, NAVEDTRA_14067,
    NAVEDTRA_14325, Step,
};
use units::{Length, Sentence};

/// Unlaid strand for one tuck, in rope diameters: five tucks in half-inch rope
/// take seven and a half inches.
pub const UNLAY_PER_TUCK: f64 = 3.0;
/// Thinned tucks that finish a splice whose tails may not stand proud.
pub const FINISHING_TUCKS: u32 = 2;

/// Full tucks of an eye in a laid rope, and on whose word.
///
/// ```
/// use cordage::Fibre;
/// assert_eq!(splice::full_tucks(Fibre::Manila).0, 3);
/// assert_eq!(splice::full_tucks(Fibre::Polyester).0, 4);
/// assert_eq!(splice::full_tucks(Fibre::Polyamide).0, 5);
/// ```
#[must_use]
pub fn full_tucks(fibre: Fibre) -> (u32, Citation) {
    match fibre {
        Fibre::Polyamide => (5, NAVEDTRA_14067.at("4 or 5 tucks, especially nylon")),
        fibre if fibre.is_natural() => (3, NAVEDTRA_14325.at("natural fibre, 3 tucks")),
        _ => (4, NAVEDTRA_14325.at("synthetic, 4 tucks")),
    }
}

/// Strand to unlay for so many tucks.
///
/// ```
/// use units::Length;
/// assert_eq!(splice::unlay_length(5, Length::of_inches(0.5)).to_inches(), 7.5);
/// ```
#[must_use]
pub fn unlay_length(tucks: u32, diameter: Length) -> Length {
    diameter * (UNLAY_PER_TUCK * f64::from(tucks))
}

/// How far the tails of a sling's tucks stand proud: six diameters below an
/// inch, six inches from an inch on.
#[must_use]
pub fn sling_tail(diameter: Length) -> Length {
    if diameter < Length::of_inches(1.0) { diameter * 6.0 } else { Length::of_inches(6.0) }
}

/// The fewest full tucks of a sling's eye.
fn sling_tucks(fibre: Fibre) -> u32 {
    if fibre.is_natural() { 3 } else { 4 }
}

/// Tucks and tail of a laid rope's splice.
pub(crate) struct Tucks {
    pub full: u32,
    pub finishing: u32,
    /// Strand to unlay, tail included.
    pub unlay: Length,
    /// What stands proud at the end.
    pub tail: Length,
    pub working: Vec<Step>,
    pub findings: Vec<Finding>,
}

/// How a laid rope is tucked, by fibre, duty and the loft's rule.
pub(crate) fn tucks(request: &EndRequest) -> Tucks {
    let diameter = request.rope.diameter;
    let (usual, cited) = full_tucks(request.rope.fibre);
    let (full, cited) = match request.rules.tucks {
        Some(tucks) => (tucks, GIVEN.at("loft's rule")),
        None => (usual, cited),
    };
    let (finishing, tail, tail_from) = match (request.duty, request.rules.finish) {
        (Duty::Sling, _) => (0, sling_tail(diameter), CFR_1926_251.at("tails stand proud")),
        (Duty::Running, TuckFinish::Thinned) => {
            (FINISHING_TUCKS, Length::ZERO, COMMON_PRACTICE.at("two thinned tucks finish the splice"))
        }
        (Duty::Running, TuckFinish::Proud) => (0, diameter, COMMON_PRACTICE.at("tails cut off a little proud")),
    };
    let unlay = unlay_length(full + finishing, diameter) + tail;
    let mut findings = Vec::new();
    let least = sling_tucks(request.rope.fibre);
    if full < least {
        let text = Sentence::new("{} full tucks are fewer than the {} this fibre needs").with(full).with(least);
        let grade = if request.duty == Duty::Sling { Grade::Stop } else { Grade::Caution };
        let remedy = Sentence::new("make {} full tucks").with(least);
        findings.push(Finding::new(grade, "few-tucks", text, CFR_1926_251.at("fewest full tucks")).remedy(remedy));
    }
    findings.extend(finishes(request));
    let working = vec![
        Step::new("full tucks", "", full as i64, cited),
        Step::new("finishing tucks", "", finishing as i64, tail_from),
        Step::new(
            "strand to unlay",
            "3 d for each tuck, and the tail",
            unlay,
            COMMON_PRACTICE.at("3 d a tuck, as an encyclopaedia has it"),
        )
        .input("d", diameter)
        .input("tucks", full + finishing)
        .input("tail", tail),
    ];
    Tucks { full, finishing, unlay, tail, working, findings }
}

/// Both finishes are common: which was taken, and when the other is.
fn finishes(request: &EndRequest) -> Option<Finding> {
    let text = match (request.duty, request.rules.finish) {
        (Duty::Sling, _) => return None,
        (Duty::Running, TuckFinish::Thinned) => {
            "finished with two thinned tucks, slim enough for a hole of its size; tails left proud instead are quicker, and a sling's must be"
        }
        (Duty::Running, TuckFinish::Proud) => {
            "finished with its tails a little proud; two thinned tucks instead are slimmer, where it must pass a hole or a hand"
        }
    };
    let source = COMMON_PRACTICE.at("two ways to finish tucks");
    Some(Finding::new(Grade::Note, "tuck-finish", Sentence::new(text), source))
}

/// What is done with the strands' tails.
pub(crate) fn tails(request: &EndRequest, tucks: &Tucks) -> Sentence {
    match (request.duty, tucks.finishing) {
        (Duty::Sling, _) => {
            Sentence::new("leave the tails standing proud by {}: a sling's tails are not cut flush").with(tucks.tail)
        }
        (Duty::Running, 0) => Sentence::new("cut the tails off {} proud").with(tucks.tail),
        (Duty::Running, finishing) => {
            Sentence::new("thin each strand to a half for one tuck and to a quarter for the next, {} finishing tucks, and cut the ends a little proud")
                .with(finishing)
        }
    }
}

/// The layout of a tucked eye.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let diameter = request.rope.diameter;
    let tucks = tucks(request);
    let eye_answer = eye(request, diameter)?;
    let eye = eye_answer.eye;
    let mut sheet = MarkSheet::default();
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Rope, "throat, tail side", tucks.unlay, Shape::ClosedBand);
    sheet.mark(Part::Rope, "crown", tucks.unlay + eye.rope / 2.0, Shape::PlainBand);
    sheet.mark(Part::Rope, "throat, standing side", tucks.unlay + eye.rope, Shape::ClosedBand);
    let marks = sheet.numbered();
    let rope_used = tucks.unlay + eye.rope - eye.bearing_to_throat;
    let reason = Sentence::new("keeps the throat's first tuck from opening");
    let stitching = vec![whipping("throat whipping", diameter * 1.4, diameter, twine_for(diameter), reason)];

    let mut findings = tucks.findings.clone();
    findings.extend(eye_answer.findings);
    findings.push(unmodelled());
    findings.extend(basis_finding(request.rope));
    let mut working = tucks.working.clone();
    working.extend(eye_answer.working);
    working.push(
        Step::new("rope used", "strand unlaid + rope in the eye - bearing point to throat", rope_used, EXACT.at("sum"))
            .input("unlaid", tucks.unlay)
            .input("rope in the eye", eye.rope)
            .input("bearing point to throat", eye.bearing_to_throat),
    );
    let steps = steps(request, &tucks, &marks);
    Ok(Layout {
        kind: request.kind,
        gripping_diameter: diameter,
        eye: Some(eye),
        bury: None,
        taper: Vec::new(),
        slanted_cut: None,
        marks,
        puller_lead: None,
        shrinkage: Length::ZERO,
        rope_used,
        finished: None,
        stitching,
        steps,
        tools: bench::TUCK_TOOLS.to_vec(),
        time: bench::minutes(25.0),
        cautions: bench::cautions(),
        grip: None,
        weak_points: weak_points(),
        strength_share: None,
        findings,
        working,
    })
}

/// Tucks take up something, and no one has said how much.
pub(crate) fn unmodelled() -> Finding {
    let text = Sentence::new(
        "what the tucks take up of the standing part is not modelled: measure the first one and cut the next by it",
    );
    Finding::new(Grade::Note, "tuck-take-up", text, COMMON_PRACTICE.at("tucked splices are measured, not computed"))
}

fn weak_points() -> Vec<WeakPoint> {
    vec![WeakPoint {
        place: "tucks",
        from_throat: None,
        share: None,
        reason: Sentence::new(
            "a polyamide eye turned on a bollard lost a leg at 81 % because its tucks pulled out; straight pulls were not assessed",
        ),
        citation: BITTING_1982.at("abstract"),
    }]
}

fn steps(request: &EndRequest, tucks: &Tucks, marks: &[crate::Mark]) -> Vec<Sentence> {
    let n = |name| number(marks, Part::Rope, name);
    let mut steps = vec![
        bench::set_out(request),
        Sentence::new("seize the rope at mark {}, unlay the three strands down to it, and tape or melt each end")
            .with(n("throat, tail side")),
    ];
    steps.extend(bench::reeve_closed(request, bench::REEVE_EYE));
    steps.extend([
        Sentence::new("lay mark {} on mark {}; tuck the middle strand under the strand it lies on, the left one under the next to the left, turn the eye over and tuck the last under the one that is left: each against the lay, all coming out at one level")
            .with(n("throat, tail side"))
            .with(n("throat, standing side")),
        Sentence::new("haul each strand down in turn and go on over one, under one, until there are {} full tucks of all three strands").with(tucks.full),
    ]);
    steps.push(tails(request, tucks));
    steps.extend([
        Sentence::new("roll the splice underfoot or between boards to bed the strands"),
        Sentence::new("set the splice: eye on its fitting, pull to {} three times, nobody in line with it")
            .with(bench::setting_load(request)),
        Sentence::new("back at {}, measure from bearing point to the other end; within {}")
            .with(bench::tension(request))
            .with(request.rules.tolerance),
        Sentence::new("whip the throat where it can open, and write what was measured in the boxes"),
    ]);
    steps
}
