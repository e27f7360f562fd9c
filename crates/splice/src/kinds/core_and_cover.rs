//! The core-and-cover eye of a double braid that carries on both, by fids.
//!
//! The cover's tail goes inside the core and the core's tail inside the cover,
//! so that each half of the eye has both. Lengths are in fids of 21 rope
//! diameters: seven circumferences where a circumference is taken as three
//! diameters (with pi it would be 22.0 diameters). Positions of the core's
//! marks follow the handbook; the length of a short fid was printed in no page
//! that was read, and is common practice. No grip model covers this splice:
//! core and cover lock each other, and its strength is that of tests.

use super::bench;
use super::long_bury::finish;
use crate::eye::eye;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::prior::{Measured, usual_belief};
use crate::stitching::throat;
use crate::tail::shrinkage;
use crate::taper::even;
use crate::weak::{WeakPoint, basis_finding};
use crate::{EndRequest, SpliceError};
use sources::{BITTING_1982, COMMON_PRACTICE, EXACT, Finding, GIVEN, Grade, MERRY, OURS, Step};
use units::{Length, Sentence};

/// How far up the standing part the slip knot stands, in fids.
const KNOT_FIDS: f64 = 5.0;
/// Thickness of core and of cover where each carries half: each has half the
/// area of the rope.
const HALF_AREA: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// The layout of a core-and-cover eye.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let diameter = request.rope.diameter;
    let fid = diameter * request.rules.fid_diameters;
    let short = fid * request.rules.short_fid_share;
    let eye_answer = eye(request, diameter)?;
    let eye = eye_answer.eye;
    let core = diameter * HALF_AREA;
    // The cover's tail, tapered over its last third, inside a core of the
    // same area.
    let belief = usual_belief(request.rope.fibre)?;
    let (braid, _, _) = belief.bench_braid(Measured::default())?;
    let tail = even(fid / core, 3, 1.0 / 3.0);
    let shrinkage = core * shrinkage(&braid, &tail.slices());

    let out = fid + eye.rope;
    let mut sheet = MarkSheet::default();
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Cover, "cover's taper begins", fid / 3.0, Shape::Arrowhead);
    sheet.mark(Part::Cover, "throat, tail side", fid, Shape::ClosedBand);
    sheet.mark(Part::Rope, "crown", fid + eye.rope / 2.0, Shape::PlainBand);
    sheet.mark(Part::Cover, "throat, standing side: core comes out", out, Shape::ClosedBand);
    sheet.mark(Part::Core, "core leaves the cover", out, Shape::PlainBand);
    sheet.mark(Part::Core, "cover's tail goes in", out + short, Shape::PlainBand);
    sheet.mark(Part::Core, "cover's tail ends here", out + short + fid + shrinkage, Shape::BrokenBand);
    sheet.mark(Part::Core, "puller goes in", out + short + fid + short, Shape::Cross);
    sheet.mark(Part::Rope, "slip knot", out + fid * KNOT_FIDS, Shape::PlainBand);
    let marks = sheet.numbered();
    let rope_used = fid + eye.rope + shrinkage - eye.bearing_to_throat;
    let (stitching, stitch_findings) = throat(request, diameter, diameter * std::f64::consts::SQRT_2, eye.rope);

    let mut findings = eye_answer.findings;
    findings.extend(stitch_findings);
    if shrinkage > short {
        return Err(SpliceError::OutOfRange {
            what: "the short fid as a share of a fid",
            given: request.rules.short_fid_share,
            low: shrinkage / fid,
            high: 0.9,
        });
    }
    findings.push(Finding::new(
        Grade::Note,
        "no-grip-model",
        Sentence::new(
            "core and cover lock each other in this splice: no grip margin is computed for it, tests stand for it",
        ),
        BITTING_1982.at("abstract"),
    ));
    findings.extend(basis_finding(request.rope));
    let mut working = fid_steps(request, fid, short);
    working.extend(eye_answer.working);
    working.push(Step::new(
        "shrinkage",
        "integral over the cover's tail inside the core",
        shrinkage,
        OURS.at("strands keep their length; core and cover of equal area"),
    ));
    working.push(
        Step::new(
            "rope used",
            "fid + rope in the eye + shrinkage - bearing point to throat",
            rope_used,
            EXACT.at("sum"),
        )
        .input("fid", fid)
        .input("rope in the eye", eye.rope)
        .input("shrinkage", shrinkage)
        .input("bearing point to throat", eye.bearing_to_throat),
    );
    let steps = steps(request, fid, &marks, &stitching);
    Ok(Layout {
        kind: request.kind,
        gripping_diameter: core,
        eye: Some(eye),
        bury: Some(fid),
        taper: Vec::new(),
        slanted_cut: None,
        marks,
        puller_lead: Some(short - shrinkage),
        shrinkage,
        rope_used,
        finished: None,
        stitching,
        steps,
        tools: bench::BURY_TOOLS.to_vec(),
        time: bench::minutes(60.0),
        cautions: bench::cautions(),
        grip: None,
        weak_points: weak_points(),
        strength_share: None,
        findings,
        working,
    })
}

/// Fid and short fid, and which seven circumferences are meant.
pub(crate) fn fid_steps(request: &EndRequest, fid: Length, short: Length) -> Vec<Step> {
    let rules = request.rules;
    let cited = if rules.fid_diameters == 21.0 {
        COMMON_PRACTICE.at("7 circumferences, each taken as 3 diameters; with pi it is 22.0 d")
    } else {
        GIVEN.at("loft's rule")
    };
    vec![
        Step::new("fid", "n d", fid, cited).input("n", rules.fid_diameters).input("d", request.rope.diameter),
        Step::new(
            "short fid",
            "share of a fid",
            short,
            COMMON_PRACTICE.at("three eighths; the ratio was read nowhere"),
        )
        .input("share", rules.short_fid_share),
    ]
}

fn weak_points() -> Vec<WeakPoint> {
    vec![
        WeakPoint {
            place: "where the standing part is first disturbed",
            from_throat: None,
            share: None,
            reason: Sentence::new(
                "tapered ends stop there: the usual place of a break; not assessed without the loft's own tests",
            ),
            citation: MERRY.at("p. 49"),
        },
        WeakPoint {
            place: "crown",
            from_throat: None,
            share: None,
            reason: Sentence::new(
                "an eye that turns on its fitting under load can break at one leg, at 62 % with an old way of splicing; none was lost with the revised one",
            ),
            citation: BITTING_1982.at("abstract"),
        },
    ]
}

fn steps(request: &EndRequest, fid: Length, marks: &[crate::Mark], stitching: &[crate::Stitching]) -> Vec<Sentence> {
    let rope = |name| number(marks, Part::Rope, name);
    let core = |name| number(marks, Part::Core, name);
    let cover = |name| number(marks, Part::Cover, name);
    let mut steps = vec![
        bench::set_out(request),
        Sentence::new("put a slip knot in the rope at mark {}, so that core and cover cannot part beyond it").with(rope("slip knot")),
        Sentence::new("bend the rope sharply at mark {}, part the cover's strands there without cutting one, and pull the core out to its end")
            .with(cover("throat, standing side: core comes out")),
        Sentence::new("slide the cover back towards the knot until the core lies bare and straight, and set out the core's marks {} to {}")
            .with(core("core leaves the cover"))
            .with(core("puller goes in")),
        Sentence::new("taper the cover's tail from mark {} to its end by taking out strands in opposite pairs, and tape it to a point")
            .with(cover("cover's taper begins")),
    ];
    steps.extend(bench::reeve_closed(request, bench::REEVE_TAIL));
    steps.extend([
        Sentence::new("open the core at mark {}, bring the puller up inside it to mark {}, and draw the cover's tail in until cover mark {} stands at the hole: its end lies at mark {}")
            .with(core("puller goes in"))
            .with(core("cover's tail goes in"))
            .with(cover("throat, tail side"))
            .with(core("cover's tail ends here")),
        Sentence::new("take the core's tail into the cover at mark {}, through the empty cover of the eye, and out beyond the crown at mark {}; haul both tails until the crossing is tight, and cut the core's tail on the slant so that it ends {} inside")
            .with(cover("throat, tail side"))
            .with(rope("crown"))
            .with(fid * 0.5),
        Sentence::new("milk cover and core smooth away from the crossing, so that both tails' ends vanish"),
        Sentence::new("anchor the knot and milk the slack cover from it towards the eye, hard, until the crossing has gone into the throat and marks {} and {} meet")
            .with(cover("throat, tail side"))
            .with(cover("throat, standing side: core comes out")),
        Sentence::new("untie the slip knot"),
    ]);
    steps.extend(bench::set_and_measure(
        request,
        "back at {}, the buried tail must be felt for {} below the throat, within {}, and no core may show",
        fid,
    ));
    steps.extend(finish(stitching));
    steps
}
