//! Two double braids joined, or one into a ring, by fid lengths.
//!
//! At the crossing each cover's tail goes into the other's core and each core's
//! tail into the other's cover. The cover is marked one fid from its end, and
//! its core comes out one short fid further; marks of the core follow. No grip
//! model covers it: core and cover lock each other.

use super::bench;
use super::core_and_cover::fid_steps;
use super::long_bury::finish;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::prior::{Measured, usual_belief};
use crate::stitching::throat;
use crate::tail::shrinkage;
use crate::taper::even;
use crate::weak::{WeakPoint, basis_finding};
use crate::{EndKind, EndRequest, SpliceError};
use sources::{EXACT, Finding, Grade, MERRY, OURS, Step};
use units::{Length, Sentence};

/// Slip knot from the bitter end, in fids.
const KNOT_FIDS: f64 = 6.0;

/// The layout of a join or ring of double braid.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let d = request.rope.diameter;
    let fid = d * request.rules.fid_diameters;
    let short = fid * request.rules.short_fid_share;
    let core = d * std::f64::consts::FRAC_1_SQRT_2;
    let (braid, _, _) = usual_belief(request.rope.fibre)?.bench_braid(Measured::default())?;
    let shrinkage = core * shrinkage(&braid, &even(fid / core, 3, 1.0 / 3.0).slices());
    let mut working = fid_steps(request, fid, short);
    let is_loop = request.kind == EndKind::CoreAndCoverLoop;
    let around = if is_loop { Some(around(request, (fid + short) * 2.0, &mut working)?) } else { None };
    let mut sheet = MarkSheet::default();
    let out = fid + short;
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Cover, "cover's taper begins", fid / 3.0, Shape::Arrowhead);
    sheet.mark(Part::Cover, "crossing", fid, Shape::ClosedBand);
    sheet.mark(Part::Cover, "core comes out", out, Shape::PlainBand);
    sheet.mark(Part::Core, "other cover goes in", out + short, Shape::PlainBand);
    sheet.mark(Part::Core, "other cover's tail ends here", out + short + fid + shrinkage, Shape::BrokenBand);
    sheet.mark(Part::Core, "puller goes in", out + short + fid + short, Shape::Cross);
    sheet.mark(Part::Rope, "slip knot", fid * KNOT_FIDS + out, Shape::PlainBand);
    let marks = sheet.numbered();
    let each = fid + shrinkage;
    let rope_used = around.map_or(each, |around| around + each * 2.0);
    let (formula, what) = match around {
        Some(_) => ("middle line + 2 (fid + shrinkage)", "cut length"),
        None => ("fid + shrinkage, from the crossing", "rope used, each rope"),
    };
    working.push(Step::new(
        "shrinkage",
        "integral over the cover's tail inside the core",
        shrinkage,
        OURS.at("strands keep their length; core and cover of equal area"),
    ));
    working.push(Step::new(what, formula, rope_used, EXACT.at("sum")).input("fid", fid).input("shrinkage", shrinkage));
    let (stitching, mut findings) = throat(request, d, d * std::f64::consts::SQRT_2, fid * 2.0);
    findings.push(Finding::new(
        Grade::Note,
        "no-grip-model",
        Sentence::new(
            "core and cover lock each other in this splice: no grip margin is computed for it, tests stand for it",
        ),
        MERRY.at("p. 56"),
    ));
    findings.extend(basis_finding(request.rope));
    let mut steps = steps(request, fid, &marks, rope_used);
    steps.extend(finish(&stitching));
    let point = WeakPoint {
        place: "where each rope is first disturbed",
        from_throat: None,
        share: None,
        reason: Sentence::new("tapered ends stop there: not assessed without the loft's own tests"),
        citation: MERRY.at("p. 49"),
    };
    Ok(Layout {
        gripping_diameter: core,
        bury: Some(fid),
        marks,
        puller_lead: Some(short - shrinkage),
        shrinkage: if is_loop { shrinkage * 2.0 } else { shrinkage },
        rope_used,
        finished: request.eye.filter(|_| is_loop),
        stitching,
        steps,
        tools: bench::BURY_TOOLS.to_vec(),
        weak_points: vec![point],
        findings,
        working,
        ..Layout::of(request, bench::minutes(75.0))
    })
}

fn around(request: &EndRequest, least: Length, working: &mut Vec<Step>) -> Result<Length, SpliceError> {
    let missing = SpliceError::Missing { kind: request.kind, what: "the eye: the loop's inside length, pulled flat" };
    let inside = request.eye.ok_or(missing)?;
    let turns = request.rope.diameter * std::f64::consts::PI;
    let around = inside * 2.0 + turns;
    if around < least {
        let least = ((least - turns) / 2.0).up_to_mm().to_length();
        return Err(SpliceError::TooShort { kind: request.kind, given: inside, least });
    }
    working.extend(bench::round_the_loop(inside, request.rope.diameter, around));
    Ok(around)
}

fn steps(request: &EndRequest, fid: Length, marks: &[crate::Mark], cut: Length) -> Vec<Sentence> {
    let n = |part, name| number(marks, part, name);
    let mut steps = Vec::new();
    if request.kind == EndKind::CoreAndCoverLoop {
        steps.push(Sentence::new("cut {} of rope").with(cut.up_to_mm()));
    }
    steps.extend([
        bench::set_out(request),
        Sentence::new("set out the same marks from the other bitter end, and treat both alike"),
        Sentence::new("put a slip knot at mark {} of each, so that core and cover cannot part beyond it").with(n(Part::Rope, "slip knot")),
        Sentence::new("part the cover at mark {} and pull the core's tail out; slide the cover back and set out the core's marks {} to {}")
            .with(n(Part::Cover, "core comes out"))
            .with(n(Part::Core, "other cover goes in"))
            .with(n(Part::Core, "puller goes in")),
        Sentence::new("taper each cover's tail from mark {} to its end, strands out in opposite pairs").with(n(Part::Cover, "cover's taper begins")),
        Sentence::new("draw each cover's tail into the other's core, in at mark {} and towards mark {}, until cover mark {} stands at the hole: its end lies at mark {}")
            .with(n(Part::Core, "other cover goes in"))
            .with(n(Part::Core, "puller goes in"))
            .with(n(Part::Cover, "crossing"))
            .with(n(Part::Core, "other cover's tail ends here")),
        Sentence::new("take each core's tail into the other's cover at mark {}, for {}, cut on the slant")
            .with(n(Part::Cover, "crossing"))
            .with(fid * 0.5),
        Sentence::new("tighten both crossings, milk both covers from the knots until the crossings vanish, and untie the knots"),
    ]);
    steps.extend(bench::set_and_measure(
        request,
        "back at {}, each buried tail must be felt for {} beyond the crossing, within {}, and no core may show",
        fid,
    ));
    steps
}
