//! The core-and-cover eye of a double braid that carries on both, by fids.
//!
//! The cover's tail goes inside the core and the core's tail inside the cover
//! round the eye, so that each leg has both. At the throat the cover's tail
//! enters the core a short fid beyond where the core came out of the cover, so
//! the core is drawn that far towards the eye, and the finished length is the
//! core's. Positions of the marks follow the handbook; the length of a short
//! fid was printed in no page that was read. No grip model covers this splice.

use super::bench;
use super::fids::{EYE_TESTS, Fids, fids, mark_tail, take_up};
use super::long_bury::finish;
use crate::eye::eye;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::stitching::throat;
use crate::weak::{WeakPoint, basis_finding};
use crate::{EndRequest, Eye, Mark, SpliceError, Stitching};
use sources::{BITTING_1982, EXACT, MERRY, Step};
use units::{Length, Sentence};

/// How far up the standing part the slip knot stands, in fids.
const KNOT_FIDS: f64 = 5.0;

/// The layout of a core-and-cover eye.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let diameter = request.rope.diameter;
    let fids = fids(request, EYE_TESTS)?;
    let eye_answer = eye(request, diameter)?;
    let eye = eye_answer.eye;
    let marks = marks(&fids, &eye);
    let (rope_used, used) = used(&fids, &eye);
    let (stitching, stitch_findings) = throat(request, diameter, diameter * std::f64::consts::SQRT_2, eye.rope);
    let mut layout = Layout::of(request, bench::minutes(60.0));
    layout.steps = steps(request, &fids, &marks, &stitching);
    layout.findings.extend(eye_answer.findings);
    layout.findings.extend(stitch_findings);
    layout.findings.push(take_up(fids.short + fids.shrinkage));
    layout.findings.extend(fids.findings);
    layout.findings.extend(basis_finding(request.rope));
    layout.working = fids.working;
    layout.working.extend(eye_answer.working);
    layout.working.push(used);
    Ok(Layout {
        gripping_diameter: fids.core,
        eye: Some(eye),
        bury: Some(fids.fid),
        marks,
        puller_lead: Some(fids.short - fids.shrinkage),
        shrinkage: fids.shrinkage,
        rope_used,
        stitching,
        tools: bench::BURY_TOOLS.to_vec(),
        weak_points: weak_points(),
        ..layout
    })
}

fn marks(fids: &Fids, eye: &Eye) -> Vec<Mark> {
    let (fid, out) = (fids.fid, fids.fid + eye.rope);
    let mut sheet = MarkSheet::default();
    mark_tail(&mut sheet, fids, out + fids.short, ["cover's tail goes in", "cover's tail ends here"]);
    sheet.mark(Part::Cover, "throat, tail side", fid, Shape::ClosedBand);
    sheet.mark(Part::Cover, "crown", fid + eye.rope / 2.0, Shape::PlainBand);
    sheet.mark(Part::Cover, "throat, standing side: core comes out", out, Shape::ClosedBand);
    // From the crossing once round the eye.
    sheet.mark(Part::Core, "core's tail ends here", fid + fids.short, Shape::BrokenBand);
    sheet.mark(Part::Core, "core leaves the cover", out, Shape::PlainBand);
    sheet.mark(Part::Rope, "slip knot", out + fid * KNOT_FIDS, Shape::PlainBand);
    sheet.numbered()
}

fn used(fids: &Fids, eye: &Eye) -> (Length, Step) {
    let used = fids.fid + eye.rope + fids.short + fids.shrinkage - eye.bearing_to_throat;
    let formula = "fid + rope in the eye + short fid + shrinkage - bearing point to throat";
    let step = Step::new("rope used", formula, used, EXACT.at("sum along the core"))
        .input("fid", fids.fid)
        .input("rope in the eye", eye.rope)
        .input("short fid", fids.short)
        .input("shrinkage", fids.shrinkage)
        .input("bearing point to throat", eye.bearing_to_throat);
    (used, step)
}

fn weak_points() -> Vec<WeakPoint> {
    let point = |place, reason, citation| WeakPoint {
        place,
        from_throat: None,
        share: None,
        reason: Sentence::new(reason),
        citation,
    };
    vec![
        point(
            "where the standing part is first disturbed",
            "tapered ends stop there: the usual place of a break; not assessed without the loft's own tests",
            MERRY.at("p. 49"),
        ),
        point(
            "crown",
            "an eye that turns on its fitting under load can break at one leg, at 62 % with an old way of splicing; none was lost with the revised one",
            BITTING_1982.at("abstract"),
        ),
    ]
}

fn steps(request: &EndRequest, fids: &Fids, marks: &[Mark], stitching: &[Stitching]) -> Vec<Sentence> {
    let core = |name| number(marks, Part::Core, name);
    let cover = |name| number(marks, Part::Cover, name);
    let out = cover("throat, standing side: core comes out");
    let mut steps = vec![
        bench::set_out(request),
        Sentence::new("put a slip knot in the rope at mark {}, so that core and cover cannot part beyond it")
            .with(number(marks, Part::Rope, "slip knot")),
        Sentence::new("bend the rope sharply at mark {}, part the cover's strands there without cutting one, and pull the core out to its end")
            .with(out),
        Sentence::new("slide the cover back towards the knot until the core lies bare and straight, and set out the core's marks {} to {}")
            .with(core("core's tail ends here"))
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
        Sentence::new("take the core's tail into the cover at mark {}, right round through the empty cover of the eye past mark {}, and out at mark {}; haul both tails until the crossing is tight")
            .with(cover("throat, tail side"))
            .with(cover("crown"))
            .with(out),
        Sentence::new("smooth the eye, and cut the core's tail on the slant at its mark {}, which has come to mark {}: it draws back inside, and both legs have core and cover")
            .with(core("core's tail ends here"))
            .with(out),
        Sentence::new("milk cover and core smooth away from the crossing, so that both tails' ends vanish"),
        Sentence::new("anchor the knot and milk the slack cover from it towards the eye, hard, until the crossing has gone into the throat and marks {} and {} meet")
            .with(cover("throat, tail side"))
            .with(out),
        Sentence::new("untie the slip knot"),
    ]);
    steps.extend(bench::set_and_measure(
        request,
        "back at {}, the buried tail must be felt for {} below the throat, within {}, and no core may show",
        fids.fid,
    ));
    steps.extend(finish(stitching));
    steps
}
