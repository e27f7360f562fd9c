//! Why a buried tail is laid out as it is: its working and its findings.

use super::buried::Bury;
use crate::grip::bury_for_margin;
use crate::tail::Slice;
use crate::taper::tail_for;
use crate::weak::basis_finding;
use crate::{Braid, EndRequest};
use sources::{COMMON_PRACTICE, Citation, EXACT, Finding, GIVEN, Grade, LOFT, OURS, Step};
use units::{Angle, Length, Sentence, Value};

/// Geometry, grip and bench sizes, one step each.
pub(crate) fn working(bury: &Bury, request: &EndRequest, slices: &[Slice], braid: (Braid, f64, f64)) -> Vec<Step> {
    let mut steps = geometry(bury, request, braid);
    steps.extend(grip(bury, request));
    steps.extend(bury.at_loads(request, &bury.hold, slices).iter().map(|at| {
        Step::new(
            "grip margin at a load, usual",
            "mu sum(c k^n dx) / integral of du/(u^n c(u T))",
            at.margin.usual,
            OURS.at("onset of grip, and friction that falls with load where asked"),
        )
        .input(at.what, at.load)
        .input("low", at.margin.low)
        .input("high", at.margin.high)
        .input("n", request.law.exponent)
    }));
    steps.extend(bench_sizes(bury, request, slices));
    steps
}

/// The free braid's angle and how far the tail opens it: measured or assumed.
pub(crate) fn shape(request: &EndRequest, diameter: Length, (braid, angle, inflation): (Braid, f64, f64)) -> [Step; 2] {
    let is_measured =
        |given: bool| if given { GIVEN.at("measured") } else { OURS.at("assumed: median of what is kept") };
    let bench = request.measured;
    let has_pitch = bench.pitch.is_some() || bench.picks_per_metre.is_some() || request.rope.pitch.is_some();
    [
        Step::new("strands' angle, free", "tan a0 = 2 pi R0 / pitch", Angle::of_degrees(angle), is_measured(has_pitch))
            .input("pitch", diameter * braid.pitch()),
        Step::new("inflation", "R1 / R0", inflation, is_measured(false)),
    ]
}

fn geometry(bury: &Bury, request: &EndRequest, (braid, angle, inflation): (Braid, f64, f64)) -> Vec<Step> {
    let hold = &bury.hold;
    let mut steps = shape(request, bury.diameter, (braid, angle, inflation)).to_vec();
    steps.extend([
        Step::new(
            "strands' angle round the tail",
            "sin a1 = sin a0 R1/R0",
            braid.angle(1.0),
            OURS.at("strands keep their length"),
        ),
        Step::new("pick", "pitch / 6", bury.pick, EXACT.at("six strands of each hand")),
        Step::new(
            "shrinkage",
            "integral of (cos a0/cos a1 - 1) dx over the bury",
            bury.shrinkage,
            OURS.at("strands keep their length"),
        )
        .input("low", bury.diameter * hold.shrinkage.low)
        .input("high", bury.diameter * hold.shrinkage.high),
    ]);
    steps
}

fn grip(bury: &Bury, request: &EndRequest) -> Vec<Step> {
    let kept = OURS.at("prior kept where the common splice holds");
    let hold = &bury.hold;
    vec![
        Step::new("friction, usual", "", hold.friction.usual, friction_from(bury, request))
            .input("low", hold.friction.low)
            .input("high", hold.friction.high),
        Step::new("share of the prior kept", "", Value::Share(bury.belief.kept), kept)
            .input("friction from", bury.belief.prior.friction.low)
            .input("to", bury.belief.prior.friction.high)
            .input("bury that holds, d", bury.belief.prior.common_bury),
        Step::new(
            "grip margin, usual",
            "mu sum(c tan^2 a / R dx) / ln(1/(1-rho))",
            hold.margin.usual,
            OURS.at("grip model"),
        )
        .input("low", hold.margin.low)
        .input("high", hold.margin.high)
        .input("with full contact", hold.margin_full_contact.usual)
        .input("tail share", Value::Share(bury.rho)),
        Step::new(
            "critical bury, usual",
            "bury at a grip margin of 1",
            bury.diameter * hold.critical_bury.usual.min(1e6),
            OURS.at("grip model"),
        )
        .input("low", bury.diameter * hold.critical_bury.low.min(1e6))
        .input("high", bury.diameter * hold.critical_bury.high.min(1e6)),
    ]
}

fn friction_from(bury: &Bury, request: &EndRequest) -> Citation {
    match request.friction {
        Some(_) => GIVEN.at("friction asked about"),
        None if request.friction_times() == 1.0 => bury.belief.prior.citation,
        None => LOFT.at("own pull-out tests, weighed with the fibre's range"),
    }
}

fn bench_sizes(bury: &Bury, request: &EndRequest, slices: &[Slice]) -> Vec<Step> {
    let mut steps = vec![Step::new(
        "setting load",
        "working load, or a fifth of the listed strength",
        super::bench::setting_load(request),
        OURS.at("load a splice is set at"),
    )];
    let tapered = slices.iter().filter(|slice| slice.share < 1.0).map(|slice| slice.length).sum::<f64>();
    if tapered > 0.0 {
        steps.push(
            Step::new(
                "tapered part of the tail",
                "",
                bury.diameter * tapered,
                COMMON_PRACTICE.at("pairs at whole picks over the last third"),
            )
            .input("slanted cut", bury.diameter * bury.tail.cut),
        );
    }
    steps.push(
        Step::new(
            "puller goes in beyond the tail's end",
            "n d",
            bury.lead,
            COMMON_PRACTICE.at("a little beyond the bury"),
        )
        .input("n", request.rules.puller_lead_diameters),
    );
    steps
}

/// Does it hold, and what was assumed.
pub(crate) fn findings(bury: &Bury, request: &EndRequest) -> Vec<Finding> {
    let braid = &bury.braid;
    let mut findings = Vec::new();
    let margin = bury.hold.margin;
    let common = bury.belief.prior.common_bury;
    if margin.low < 1.0 {
        let text = Sentence::new("the grip margin is {} at the low end of friction: a bury of {} may let go")
            .with(margin.low)
            .with(bury.length);
        let finding = Finding::new(Grade::Stop, "grip-margin", text, OURS.at("grip model"));
        let tail_of = |length: f64| {
            tail_for(request.taper, length, bury.pick / bury.diameter)
                .unwrap_or_else(|_| crate::taper::common(length))
                .slices()
        };
        findings.push(match bury_for_margin(&bury.belief, 1.0, bury.rho, tail_of) {
            Some(diameters) => {
                finding.remedy(Sentence::new("bury {} or more").with((bury.diameter * diameters).up_to_mm()))
            }
            None => finding.remedy(Sentence::new("no bury clears it: measure the rope, or choose another end")),
        });
    } else if bury.length < bury.diameter * (common - 1e-6) {
        let text = Sentence::new(
            "a bury of {} is under the common {} diameters; it holds with a grip margin of {} at the low end",
        )
        .with(bury.length)
        .with(common)
        .with(margin.low);
        findings.push(
            Finding::new(Grade::Caution, "short-bury", text, COMMON_PRACTICE.at("bury in diameters"))
                .remedy(Sentence::new("bury {}").with((bury.diameter * common).up_to_mm())),
        );
    }
    findings.extend(at_loads(bury, request));
    if braid.angle(1.0) > Angle::of_degrees(45.0) {
        let text = Sentence::new("round the tail the strands stand at {}: beyond 45° the wall closes again")
            .with(braid.angle(1.0));
        findings.push(Finding::new(Grade::Caution, "steep-braid", text, OURS.at("braid geometry")));
    }
    if request.friction.is_none() && measured_nothing(request) {
        let text = Sentence::new(
            "angle and opening of this braid are assumed; measuring its pitch and its diameter over a trial bury narrows the grip margin",
        );
        findings.push(Finding::new(Grade::Note, "assumed-braid", text, OURS.at("grip model")));
    }
    findings.extend(basis_finding(request.rope));
    findings
}

/// Loads at which a bury that holds by plain friction does not.
fn at_loads(bury: &Bury, request: &EndRequest) -> Vec<Finding> {
    if bury.hold.margin.low < 1.0 {
        return Vec::new();
    }
    let falls = request.law.exponent < 1.0;
    let mut findings = Vec::new();
    for at in bury.at_loads(request, &bury.hold, &bury.tail.slices()) {
        if at.margin.low >= 1.0 || at.what == "nearly slack" {
            continue;
        }
        let (grade, code, text) = if falls {
            let text =
                "where friction falls with load the grip margin is {} at the low end at a {} of {}: it may let go";
            (Grade::Stop, "grip-at-load", text)
        } else {
            let text = "the grip margin is {} at the low end at a {} of {}: the braid is not yet closed on the tail, and the twine carries the rest";
            (Grade::Caution, "grip-at-low-load", text)
        };
        let text = Sentence::new(text).with(at.margin.low).with(at.what).with(at.load);
        let remedy = Sentence::new("a longer bury, or lock stitching for that load");
        findings.push(Finding::new(grade, code, text, OURS.at("grip at a load")).remedy(remedy));
    }
    findings
}

fn measured_nothing(request: &EndRequest) -> bool {
    let bench = request.measured;
    bench.pitch.is_none()
        && bench.picks_per_metre.is_none()
        && bench.over_bury.is_none()
        && request.rope.pitch.is_none()
}
