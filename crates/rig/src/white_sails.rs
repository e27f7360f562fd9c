//! Lines of mainsail, mizzen and headsails: the statics of one sail in one state.
//!
//! Edge tensions come from the pressure on the cloth and the sag of the edge.
//! Sheet and vang are each reckoned as holding the boom alone: what one takes
//! the other is spared, and which does is the crew's choice.

use crate::inputs::{Input, Inputs};
use crate::load::{Setup, Water};
use crate::sails::Settled;
use crate::state::SailForce;
use crate::statics::{
    Boom, Edge, GaffRig, chord_pull_share, edge_end_tension, edge_tension, halyard, stay_balance, tapered_edge_tension,
};
use crate::working::Working;
use crate::{LineKind, RigType};
use sources::{Citation, GIVEN, LR_MASTS_2017, OURS, Step};
use units::{Angle, Force, Length, Value};

/// A sail in a state, with what its lines' statics need besides.
pub(crate) struct Set<'a> {
    pub(crate) sail: &'a Settled,
    pub(crate) force: &'a SailForce,
    pub(crate) inputs: &'a Inputs,
    pub(crate) water: &'a Water<'a>,
}

const GOOSENECK: Citation = LR_MASTS_2017.at("annex B 2.1, moments about the gooseneck");

impl Set<'_> {
    fn share(&self, given: Option<f64>, input: Input) -> (f64, Citation) {
        match given {
            Some(share) if !self.inputs.is_given(input) => (share, GIVEN.at("sails")),
            _ => (self.inputs.get(input), self.inputs.citation(input)),
        }
    }

    /// Tension of the leech, with its working.
    fn leech(&self, input: Input, working: &mut Working) -> Force {
        let (sag, from) = self.share(self.sail.leech_sag, input);
        let edge = Edge { pressure: self.force.pressure, chord: self.sail.chord, length: self.sail.leech, sag };
        let tension = edge_tension(&edge);
        working.note(|| self.pressure_step());
        working.note(|| Step::new("leech sag", "", Value::Share(sag), from));
        working.note(|| {
            Step::new(
                "leech tension",
                "(pressure x chord / 2) x L / (8 sag)",
                tension,
                OURS.at("uniform load on a flat edge; checked as L-V16"),
            )
            .input("chord", self.sail.chord)
            .input("L", self.sail.leech)
        });
        beside_the_edge(&edge, working);
        tension
    }

    fn pressure_step(&self) -> Step {
        Step::new(
            "pressure on the cloth",
            "wind's pressure x coefficient x what is left on",
            self.force.pressure,
            self.water.coefficients,
        )
        .input("coefficient, flattened", self.force.coefficients.size())
        .input("apparent wind angle", self.force.apparent)
    }

    /// Luff tension: the crew's, or a share of the leech's.
    fn luff(&self, leech: Force, working: &mut Working) -> Force {
        if let Some(tension) = self.sail.luff_tension.filter(|_| !self.inputs.is_given(Input::LuffOfLeech)) {
            working.note(|| Step::new("luff tension", "", tension, GIVEN.at("sails")));
            return tension;
        }
        let share = self.inputs.get(Input::LuffOfLeech);
        let tension = leech * share;
        working.note(|| {
            Step::new("luff tension", "share x leech tension", tension, self.inputs.citation(Input::LuffOfLeech))
                .input("share", share)
        });
        tension
    }

    /// Tension of the foot: a share of the whole chordwise pull.
    fn foot(&self, working: &mut Working) -> Force {
        let (camber, from) = self.share(self.sail.camber, Input::MainCamber);
        let share = self.inputs.get(Input::FootShare);
        let pull = self.force.force * (chord_pull_share(camber) * share);
        working.note(|| Step::new("camber", "", Value::Share(camber), from));
        working.note(|| {
            Step::new("foot tension", "share x F / (8 camber)", pull, self.inputs.citation(Input::FootShare))
                .input("F", self.force.force)
                .input("share", Value::Share(share))
        });
        pull
    }
}

pub(crate) fn from_main(setup: &Setup, set: &Set<'_>, working: &mut Working) -> Force {
    use LineKind as K;
    let leech = set.leech(Input::MainLeechSag, working);
    let (sail, inputs) = (set.sail, set.inputs);
    let boom = Boom { luff: sail.luff, foot: sail.foot, leech };
    match setup.kind {
        K::MainHalyard => {
            let luff = set.luff(leech, working);
            let load = halyard(luff, leech, sail.head_angle);
            working.note(|| head_step(load, luff, sail.head_angle));
            load
        }
        K::PeakHalyard | K::ThroatHalyard => {
            let luff = set.luff(leech, working);
            from_gaff(setup.kind, set, [luff, leech], working)
        }
        K::Mainsheet => {
            let along = setup.along_boom.unwrap_or(sail.foot);
            let load = boom.sheet(along);
            working.note(|| {
                Step::new("mainsheet", "leech sin b E / x", load, GOOSENECK).input("E", sail.foot).input("x", along)
            });
            load
        }
        K::Vang => {
            let along = setup.along_boom.unwrap_or(set.water.sized.e * inputs.get(Input::VangAlong));
            let down = set.water.sized.bas * inputs.get(Input::VangDown);
            let down = if down > Length::ZERO { down } else { along * 0.5 };
            let load = boom.vang(along, down);
            working.note(|| {
                Step::new("vang", "leech sin b E / (k sin g)", load, GOOSENECK)
                    .input("E", sail.foot)
                    .input("k", along)
                    .input("down the mast", down)
            });
            load
        }
        K::Outhaul => {
            let load = boom.outhaul(set.foot(working));
            working.note(|| Step::new("outhaul", "leech cos b + foot", load, GOOSENECK).input("b", boom.leech_angle()));
            load
        }
        K::Cunningham => {
            let load = set.luff(leech, working);
            working
                .note(|| Step::new("cunningham", "luff tension", load, OURS.at("the cunningham sets the luff alone")));
            load
        }
        K::Traveller => {
            let sheet = boom.sheet(setup.along_boom.unwrap_or(sail.foot));
            let off = inputs.angle(Input::TravellerAngle);
            let load = sheet * off.sin();
            working.note(|| {
                Step::new("traveller", "mainsheet x sin off upright", load, inputs.citation(Input::TravellerAngle))
                    .input("mainsheet", sheet)
                    .input("off upright", off)
            });
            load
        }
        _ => {
            let load = boom.reef_clew(set.foot(working)) * 0.5;
            working.note(|| {
                Step::new(
                    "reef line",
                    "half of leech and foot at the reefed clew",
                    load,
                    OURS.at("doubled through the clew"),
                )
                .input("b", boom.leech_angle())
            });
            load
        }
    }
}

fn head_step(load: Force, luff: Force, head: Angle) -> Step {
    Step::new("halyard", "luff + leech cos(head angle)", load, OURS.at("balance of the head"))
        .input("luff", luff)
        .input("head angle", head)
}

fn from_gaff(kind: LineKind, set: &Set<'_>, [luff, leech]: [Force; 2], working: &mut Working) -> Force {
    let sized = set.water.sized;
    let gaff = GaffRig {
        gaff: sized.gaff_angle,
        leech_off_upright: set.sail.head_angle,
        bridle: set.inputs.get(Input::PeakBridle),
        halyard_off_gaff: set.inputs.angle(Input::PeakAngle),
    };
    let peak = gaff.peak(leech);
    working.note(|| {
        Step::new(
            "peak halyard",
            "leech sin(leech off gaff) / (bridle sin(halyard off gaff))",
            peak,
            OURS.at("moments about the jaws"),
        )
        .input("bridle", Value::Share(gaff.bridle))
        .input("halyard off gaff", gaff.halyard_off_gaff)
    });
    if kind == LineKind::PeakHalyard {
        return peak;
    }
    let throat = gaff.throat(luff, leech);
    working.note(|| {
        Step::new(
            "throat halyard",
            "luff + leech's weight on the gaff less the peak halyard's lift, at least the luff",
            throat,
            OURS.at("upright balance of the gaff"),
        )
        .input("luff", luff)
    });
    throat
}

pub(crate) fn from_headsail(setup: &Setup, set: &Set<'_>, working: &mut Working) -> Force {
    use LineKind as K;
    let inputs = set.inputs;
    match setup.kind {
        K::JibHalyard | K::StaysailHalyard => {
            let leech = set.leech(Input::JibLeechSag, working);
            let luff = set.luff(leech, working);
            let load = halyard(luff, leech, set.sail.head_angle);
            working.note(|| head_step(load, luff, set.sail.head_angle));
            load
        }
        K::JibSheet | K::StaysailSheet => sheet(set, working),
        K::JibCar => {
            let sheet = sheet(set, working);
            let turn = inputs.angle(Input::CarDeflection);
            let load = crate::statics::car_push(sheet, turn);
            working.note(|| {
                Step::new(
                    "push along the track",
                    "sheet (1 - cos turn)",
                    load,
                    OURS.at("balance of the car; checked as L-V24"),
                )
                .input("sheet", sheet)
                .input("turn", turn)
            });
            load
        }
        K::FurlingLine => {
            let sheet = sheet(set, working);
            let (kept, radii) = (inputs.get(Input::FurlShare), inputs.get(Input::RollOverDrum));
            let friction = inputs.get(Input::FurlFriction);
            let load = sheet * (kept * radii * (1.0 + friction));
            working.note(|| {
                Step::new(
                    "furling line",
                    "sheet x share kept x (roll / drum) x (1 + friction)",
                    load,
                    inputs.citation(Input::FurlShare),
                )
                .input("share kept", Value::Share(kept))
                .input("roll / drum", radii)
                .input("friction", Value::Share(friction))
            });
            load
        }
        _ => after_stay(setup.kind, set, working),
    }
}

fn sheet(set: &Set<'_>, working: &mut Working) -> Force {
    let (camber, from) = set.share(set.sail.camber, Input::JibCamber);
    let load = set.force.force * chord_pull_share(camber);
    working.note(|| set.pressure_step());
    working.note(|| Step::new("camber", "", Value::Share(camber), from));
    working.note(|| {
        Step::new("sheet", "F / (8 camber)", load, OURS.at("membrane between luff and leech; checked as L-V18"))
            .input("F", set.force.force)
    });
    load
}

/// What the plain formula of an edge leaves out, in sight beside it: both
/// differences are small against the band of the sag.
fn beside_the_edge(edge: &Edge, working: &mut Working) {
    working.note(|| {
        Step::new(
            "for comparison, at the edge's ends",
            "tension x sqrt(1 + (4 sag)^2)",
            edge_end_tension(edge),
            OURS.at("tension with half the side load; checked as L-V16"),
        )
    });
    working.note(|| {
        Step::new(
            "for comparison, the load tapering to nothing at the head",
            "16 / (9 sqrt 3) x tension",
            tapered_edge_tension(edge),
            OURS.at("three-cornered load of the same mean; checked as L-V17"),
        )
    });
}

/// Backstay, runner or checkstay against the forestay.
fn after_stay(kind: LineKind, set: &Set<'_>, working: &mut Working) -> Force {
    let sized = set.water.sized;
    let (i, j) = (sized.i, sized.j);
    let sag = set.inputs.get(Input::ForestaySag);
    let edge = Edge { pressure: set.force.pressure, chord: set.sail.chord, length: sized.forestay(), sag };
    let stay = edge_tension(&edge);
    working.note(|| set.pressure_step());
    working.note(|| {
        Step::new(
            "forestay tension",
            "(pressure x chord / 2) x L / (8 sag)",
            stay,
            set.inputs.citation(Input::ForestaySag),
        )
        .input("chord", edge.chord)
        .input("L", edge.length)
        .input("sag", Value::Share(sag))
    });
    beside_the_edge(&edge, working);
    let fore = Angle::of_radians((j / i).atan());
    // The backstay comes from the masthead, which may be above the forestay;
    // a runner from where the forestay is.
    let (base, top) = match kind {
        LineKind::BackstayAdjuster => (sized.loa - j, (sized.p + sized.bas).max(i)),
        _ => (sized.loa * set.inputs.get(Input::RunnerBase), i),
    };
    let top = if set.water.rig == RigType::MastheadSloop { i } else { top };
    let aft = Angle::of_radians((base / top).atan());
    let load = stay_balance(stay, fore, aft) * (i / top);
    working.note(|| {
        Step::new(
            "after stay",
            "forestay x sin fore / sin aft x I / its height",
            load,
            OURS.at("moments about the mast's foot; checked as L-V21"),
        )
        .input("fore", fore)
        .input("aft", aft)
        .input("height", top)
    });
    if kind != LineKind::Checkstay {
        return load;
    }
    let share = set.inputs.get(Input::CheckstayShare);
    let load = load * share;
    working.note(|| {
        Step::new("checkstay", "share x runner", load, set.inputs.citation(Input::CheckstayShare))
            .input("share", Value::Share(share))
    });
    load
}
