//! Lines of mainsail and headsail: the statics of one sail in one state.
//!
//! Edge tensions come from the pressure on the cloth and the sag of the edge;
//! sag and luff tension have no published figures, so each load carries what
//! their range does to it.

use crate::load::{Candidate, Setup};
use crate::sails::Settled;
use crate::state::{SailForce, State};
use crate::statics::{Boom, Edge, chord_pull_share, edge_tension, halyard, stay_balance};
use crate::{Boat, LineKind};
use sources::{COMMON_PRACTICE, Citation, GIVEN, LR_MASTS_2017, OURS, Step};
use units::{Angle, Force, Length, Value};

/// Leech tension with its range and working.
fn leech(sail: &SailForce) -> (Force, (Force, Force), Vec<Step>) {
    let settled: &Settled = &sail.sail;
    let at =
        |sag: f64| edge_tension(&Edge { pressure: sail.pressure, chord: settled.chord, length: settled.leech, sag });
    let tension = at(settled.leech_sag);
    let (low, high) = settled.leech_sag_range;
    let mut steps = settled.steps.clone();
    steps.push(
        Step::new(
            "pressure on the cloth",
            "pressure x coefficient x allowed",
            sail.pressure,
            sources::ORC_VPP_2023.at("tables 5.1, 5.4, 5.6, 5.7"),
        )
        .input("coefficient", sail.coefficients.size()),
    );
    steps.push(
        Step::new(
            "leech tension",
            "(pressure x chord / 2) x L / (8 sag)",
            tension,
            OURS.at("uniform load on a flat edge; checked as L-V16"),
        )
        .input("chord", settled.chord)
        .input("L", settled.leech)
        .input("sag", Value::Share(settled.leech_sag)),
    );
    (tension, (at(high), at(low)), steps)
}

/// Luff tension: the crew's, or a share of the leech's.
fn luff(settled: &Settled, leech: Force) -> (Force, Step) {
    match settled.luff_tension {
        Some(tension) => (tension, Step::new("luff tension", "", tension, GIVEN.at("sails"))),
        None => {
            let tension = leech * settled.luff_of_leech;
            let step = Step::new(
                "luff tension",
                "share x leech tension",
                tension,
                OURS.at("set by the crew; no published figure, give luff_tension"),
            )
            .input("share", settled.luff_of_leech);
            (tension, step)
        }
    }
}

pub(crate) fn from_main(boat: &Boat, setup: &Setup, state: &State, sail: &SailForce) -> Candidate {
    use LineKind as K;
    let (tension, (low, high), mut steps) = leech(sail);
    let (foot, foot_step) = foot_tension(sail);
    let (p, e, bas) = (boat.p().value, boat.e().value, boat.bas().value);
    let gooseneck: Citation = LR_MASTS_2017.at("annex B 2.1, moments about the gooseneck");
    let along = setup.along_boom.unwrap_or(match setup.kind {
        K::Vang => e * 0.33,
        _ => e,
    });
    let boom = |leech: Force| Boom { luff: p, foot: e, leech };
    let evaluate = |leech: Force| -> Force {
        match setup.kind {
            K::MainHalyard => halyard(luff(&sail.sail, leech).0, leech, sail.sail.head_angle),
            K::Mainsheet => boom(leech).sheet(along),
            K::Vang => boom(leech).vang(along, bas * 0.8),
            K::Outhaul => boom(leech).outhaul(foot),
            K::Cunningham => luff(&sail.sail, leech).0,
            K::Traveller => boom(leech).sheet(along) * Angle::of_degrees(TRAVELLER_ANGLE).sin(),
            // The line is doubled through the clew: each leg holds half.
            _ => boom(leech).reef_clew(foot) * 0.5,
        }
    };
    let load = evaluate(tension);
    let step = match setup.kind {
        K::MainHalyard => {
            let (luff_tension, step) = luff(&sail.sail, tension);
            steps.push(step);
            Step::new("halyard", "luff + leech cos(head angle)", load, OURS.at("balance of the head"))
                .input("luff", luff_tension)
                .input("head angle", sail.sail.head_angle)
        }
        K::Mainsheet => Step::new("mainsheet", "leech sin b E / x", load, gooseneck).input("E", e).input("x", along),
        K::Vang => Step::new("vang", "leech sin b E / (k sin g)", load, gooseneck)
            .input("k", along)
            .input("down the mast", bas * 0.8),
        K::Outhaul => {
            steps.push(foot_step);
            Step::new("outhaul", "leech cos b + foot", load, gooseneck)
        }
        K::Cunningham => {
            steps.push(luff(&sail.sail, tension).1);
            Step::new("cunningham", "luff tension", load, OURS.at("the cunningham sets the luff alone"))
        }
        K::Traveller => Step::new("traveller", "mainsheet x sin 20°", load, OURS.at("sheet 20° off upright"))
            .input("mainsheet", boom(tension).sheet(along)),
        _ => {
            steps.push(foot_step);
            Step::new("reef line", "half of leech and foot at the clew", load, OURS.at("doubled through the clew"))
        }
    };
    steps.push(step);
    Candidate { state: Some(state.name), load, range: Some((evaluate(low), evaluate(high))), steps }
}

const TRAVELLER_ANGLE: f64 = 20.0;

/// Tension of the mainsail's foot: a share of the whole chordwise pull.
fn foot_tension(sail: &SailForce) -> (Force, Step) {
    const SHARE: f64 = 0.25;
    let pull = sail.force * (chord_pull_share(sail.sail.camber) * SHARE);
    let step =
        Step::new("foot tension", "quarter of F / (8 camber)", pull, OURS.at("share of the foot; no published figure"))
            .input("F", sail.force)
            .input("camber", Value::Share(sail.sail.camber));
    (pull, step)
}

pub(crate) fn from_jib(boat: &Boat, setup: &Setup, state: &State, sail: &SailForce) -> Candidate {
    use LineKind as K;
    let (tension, (low, high), mut steps) = leech(sail);
    let sheet = sail.force * chord_pull_share(sail.sail.camber);
    let stay = edge_tension(&Edge {
        pressure: sail.pressure,
        chord: sail.sail.chord,
        length: Length::of_m(boat.i().value.to_m().hypot(boat.j().value.to_m())),
        sag: FORESTAY_SAG,
    });
    let fixed = |load: Force| (load, None);
    let (load, range) = match setup.kind {
        K::JibHalyard | K::StaysailHalyard => {
            let at = |leech: Force| halyard(luff(&sail.sail, leech).0, leech, sail.sail.head_angle);
            steps.push(luff(&sail.sail, tension).1);
            let load = at(tension);
            steps.push(
                Step::new("halyard", "luff + leech cos(head angle)", load, OURS.at("balance of the head"))
                    .input("head angle", sail.sail.head_angle),
            );
            (load, Some((at(low), at(high))))
        }
        K::JibSheet | K::StaysailSheet => {
            steps.push(
                Step::new(
                    "sheet",
                    "F / (8 camber)",
                    sheet,
                    OURS.at("membrane between luff and leech, ± 30 %; checked as L-V18"),
                )
                .input("F", sail.force)
                .input("camber", Value::Share(sail.sail.camber)),
            );
            (sheet, Some((sheet * 0.7, sheet * 1.3)))
        }
        K::FurlingLine => {
            const WHILE_FURLING: f64 = 0.15;
            const ROLL_OVER_DRUM: f64 = 0.75;
            let load = sheet * (WHILE_FURLING * ROLL_OVER_DRUM);
            steps.push(
                Step::new(
                    "furling line",
                    "0.15 sheet x roll / drum",
                    load,
                    OURS.at("sheet eased to a sixth; no published figure"),
                )
                .input("sheet", sheet)
                .input("roll / drum", ROLL_OVER_DRUM),
            );
            fixed(load)
        }
        _ => {
            steps.push(
                Step::new(
                    "forestay tension",
                    "(pressure x chord / 2) x L / (8 sag)",
                    stay,
                    COMMON_PRACTICE.at("forestay sag 1 %"),
                )
                .input("sag", Value::Share(FORESTAY_SAG)),
            );
            let (load, step) = aft_stay(boat, stay, setup.kind);
            steps.push(step);
            fixed(load)
        }
    };
    Candidate { state: Some(state.name), load, range, steps }
}

const FORESTAY_SAG: f64 = 0.01;

fn aft_stay(boat: &Boat, stay: Force, kind: LineKind) -> (Force, Step) {
    let (i, j) = (boat.i().value, boat.j().value);
    let fore = Angle::of_radians((j / i).atan());
    // Backstay to the stern; runners a third of the length abaft the mast.
    let base = match kind {
        LineKind::BackstayAdjuster => boat.loa - j,
        _ => boat.loa * 0.33,
    };
    let aft = Angle::of_radians((base / i).atan());
    let load = stay_balance(stay, fore, aft);
    // A checkstay holds the mast's middle: a third of the runner's pull.
    let load = if kind == LineKind::Checkstay { load / 3.0 } else { load };
    let step = Step::new(
        "after stay",
        "forestay x sin fore / sin aft",
        load,
        OURS.at("horizontal balance at the masthead; checked as L-V21"),
    )
    .input("forestay", stay)
    .input("fore", fore)
    .input("aft", aft);
    (load, step)
}
