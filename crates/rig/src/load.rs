//! The pull on one line: its own statics in every sailing state, the worst
//! kept, and the purchase taken off.

use crate::dead_weights::{by_hand, from_weight, ground_tackle};
use crate::offwind::{SPINNAKER_PEAK, SPINNAKER_PEAK_FROM, corners, guy_step};
use crate::state::{Conditions, SailForce, State, sailing_states};
use crate::tackle::{Fall, Tackle};
use crate::white_sails::{from_jib, from_main};
use crate::{BalanceError, Boat, LineKind, Sails};
use sources::{ABYC_H40, COMMON_PRACTICE, Citation, Finding, GIVEN, Grade, OURS, Step};
use thiserror::Error;
use units::{Angle, Force, Length, Sentence, Value};

/// What of a line bears on its load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Setup {
    /// The kind of line.
    pub kind: LineKind,
    /// Parts at the moving block.
    pub parts: u32,
    /// Share of tension left after each sheave of its purchase.
    pub sheave_efficiency: f64,
    /// Where the sheet or vang holds the boom, from the gooseneck.
    pub along_boom: Option<Length>,
    /// Steady and peak pull in the line, where the order gives them.
    pub given: Option<(Force, Option<Force>)>,
}

/// The pull on a line.
#[derive(Debug, Clone, PartialEq)]
pub struct LineLoad {
    /// Steady pull in the most loaded part while it is held.
    pub steady: Force,
    /// Peak pull.
    pub peak: Force,
    /// Steady pull at the fall while hauling, friction of the purchase in it.
    pub hauling: Force,
    /// The state that governs; none where weather has no part in it.
    pub governing: Option<&'static str>,
    /// The second worst state and its steady pull.
    pub second: Option<(&'static str, Force)>,
    /// Lowest and highest steady pull over the range of inputs nobody published.
    pub range: Option<(Force, Force)>,
    /// How it was worked out.
    pub working: Vec<Step>,
    /// What is to be said about it.
    pub findings: Vec<Finding>,
}

/// Why a line has no load.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum LoadError {
    /// The kind has no statics: the order must say.
    #[error("a {kind} has no load of its own kind: give load.steady")]
    Give {
        /// The kind.
        kind: &'static str,
    },
    /// A sail that the line serves is not on the order.
    #[error("a {kind} needs the {sail} in the order: give sails.{sail}, or load.steady")]
    Sail {
        /// The kind.
        kind: &'static str,
        /// The sail.
        sail: &'static str,
    },
    /// A spinnaker's lines that cannot balance it.
    #[error("the spinnaker's lines do not balance it: {0}")]
    Balance(#[from] BalanceError),
    /// A boat outside a table.
    #[error("a {kind} for a boat of {loa}: the table has 20 to 60 ft; give load.steady")]
    OutsideTable {
        /// The kind.
        kind: &'static str,
        /// The boat's length.
        loa: Length,
    },
    /// A given load that is none.
    #[error("load.{which} is {given}: {allowed}")]
    Given {
        /// Which of the two.
        which: &'static str,
        /// The load given.
        given: Force,
        /// What is allowed.
        allowed: &'static str,
    },
}

/// Peak over steady where a line has no measurement of its own: ours.
const PEAK: f64 = 1.3;
const PEAK_FROM: Citation = OURS.at("peak over steady; no published figure for this line");
/// What one person pulls on a line for a while.
pub(crate) const HAND: f64 = 250.0;

/// One candidate: a state, the load at the moving end, and its working.
pub(crate) struct Candidate {
    pub(crate) state: Option<&'static str>,
    pub(crate) load: Force,
    pub(crate) range: Option<(Force, Force)>,
    pub(crate) steps: Vec<Step>,
}

/// The load on a line of a boat: every state worked out, the worst kept.
///
/// # Errors
/// When the kind needs a sail or a load that the order does not give, or the
/// boat lies outside the table used.
pub fn line_load(boat: &Boat, sails: &Sails, conditions: &Conditions, setup: &Setup) -> Result<LineLoad, LoadError> {
    if let Some(given) = setup.given {
        return given_load(given);
    }
    let (states, mut findings) = sailing_states(boat, sails, conditions);
    let mut candidates = candidates(boat, sails, conditions, setup, &states)?;
    candidates.sort_by(|a, b| b.load.compare(&a.load));
    let kind = setup.kind.word();
    let second = candidates.get(1).and_then(|c| Some((c.state?, c.load / f64::from(setup.parts))));
    let worst = candidates.into_iter().next().ok_or(LoadError::Give { kind })?;
    if worst.state.is_none() {
        // Weather and stability have no part in it.
        findings.clear();
    }
    let mut working: Vec<Step> = Vec::new();
    if let Some(state) = worst.state.and_then(|name| states.iter().find(|state| state.name == name)) {
        working.extend(state.steps.iter().cloned());
    }
    working.extend(worst.steps);
    let parts = f64::from(setup.parts);
    let steady = worst.load / parts;
    let hauling = hauling(setup, worst.load);
    if setup.parts > 1 {
        working.push(
            Step::new(
                "steady pull in each part",
                "load / parts",
                steady,
                sources::EXACT.at("parts share alike when held"),
            )
            .input("load", worst.load)
            .input("parts", i64::from(setup.parts)),
        );
        working.push(
            Step::new(
                "pull at the fall, hauling",
                "load / (E (1 - E^n) / (1 - E))",
                hauling,
                OURS.at("friction builds up from sheave to sheave"),
            )
            .input("E", setup.sheave_efficiency)
            .input("n", i64::from(setup.parts)),
        );
    }
    let (factor, from) = peak_factor(setup.kind);
    let peak = steady.max(hauling) * factor;
    working.push(
        Step::new("peak", "factor x pull", peak, from).input("factor", factor).input("pull", steady.max(hauling)),
    );
    Ok(LineLoad {
        steady,
        peak,
        hauling,
        governing: worst.state,
        second,
        range: worst.range.map(|(low, high)| (low / parts, high / parts)),
        working,
        findings,
    })
}

fn hauling(setup: &Setup, load: Force) -> Force {
    if setup.parts == 1 {
        return load;
    }
    Tackle { parts: setup.parts, fall: Fall::FixedBlock, efficiency: setup.sheave_efficiency }.pull(load)
}

fn peak_factor(kind: LineKind) -> (f64, Citation) {
    match kind {
        LineKind::SpinnakerHalyard
        | LineKind::SpinnakerSheet
        | LineKind::Guy
        | LineKind::TackLine
        | LineKind::Foreguy => (SPINNAKER_PEAK, SPINNAKER_PEAK_FROM),
        LineKind::DockLine | LineKind::AnchorRode => (2.0, ABYC_H40.at("table 1, storm over working")),
        _ => (PEAK, PEAK_FROM),
    }
}

fn given_load((steady, peak): (Force, Option<Force>)) -> Result<LineLoad, LoadError> {
    if steady <= Force::ZERO {
        return Err(LoadError::Given { which: "steady", given: steady, allowed: "above zero" });
    }
    if let Some(peak) = peak.filter(|peak| *peak < steady) {
        return Err(LoadError::Given { which: "peak", given: peak, allowed: "not below load.steady" });
    }
    let mut working = vec![Step::new("steady pull", "", steady, GIVEN.at("line"))];
    let peak = match peak {
        Some(peak) => {
            working.push(Step::new("peak pull", "", peak, GIVEN.at("line")));
            peak
        }
        None => {
            let peak = steady * PEAK;
            working.push(Step::new("peak", "factor x pull", peak, PEAK_FROM).input("factor", PEAK));
            peak
        }
    };
    Ok(LineLoad {
        steady,
        peak,
        hauling: steady,
        governing: None,
        second: None,
        range: None,
        working,
        findings: Vec::new(),
    })
}

fn candidates(
    boat: &Boat,
    sails: &Sails,
    conditions: &Conditions,
    setup: &Setup,
    states: &[State],
) -> Result<Vec<Candidate>, LoadError> {
    use LineKind as K;
    let kind = setup.kind.word();
    let needs = |sail: &'static str, set: bool| if set { Ok(()) } else { Err(LoadError::Sail { kind, sail }) };
    match setup.kind {
        K::MainHalyard
        | K::Mainsheet
        | K::Vang
        | K::Outhaul
        | K::Cunningham
        | K::Traveller
        | K::ReefLineSlab
        | K::ReefLineSingle => {
            needs("main", sails.main.is_some())?;
            Ok(with_sail(states, |state| state.main.as_ref(), |state, sail| from_main(boat, setup, state, sail)))
        }
        K::JibHalyard
        | K::StaysailHalyard
        | K::JibSheet
        | K::StaysailSheet
        | K::FurlingLine
        | K::BackstayAdjuster
        | K::Runner
        | K::Checkstay => {
            needs("jib", sails.jib.is_some())?;
            Ok(with_sail(states, |state| state.jib.as_ref(), |state, sail| from_jib(boat, setup, state, sail)))
        }
        K::SpinnakerHalyard | K::SpinnakerSheet | K::Guy | K::TackLine | K::Foreguy => {
            needs("spinnaker", sails.spinnaker.is_some())?;
            states.iter().filter_map(|state| from_spinnaker(setup.kind, state)).collect()
        }
        K::ToppingLift | K::PoleLift | K::LazyJack => Ok(vec![from_weight(boat, sails, setup.kind)]),
        K::DockLine | K::AnchorRode => ground_tackle(boat, kind).map(|candidate| vec![candidate]),
        K::Messenger => Ok(vec![by_hand(conditions)]),
        K::LifelineLashing | K::Strop | K::Loop | K::SoftShackle => Err(LoadError::Give { kind }),
    }
}

fn with_sail<'a>(
    states: &'a [State],
    sail: impl Fn(&'a State) -> Option<&'a SailForce>,
    load: impl Fn(&'a State, &'a SailForce) -> Candidate,
) -> Vec<Candidate> {
    states.iter().filter_map(|state| sail(state).map(|set| load(state, set))).collect()
}

fn from_spinnaker(kind: LineKind, state: &State) -> Option<Result<Candidate, LoadError>> {
    let corners = match corners(state)? {
        Ok(corners) => corners,
        Err(fault) => return Some(Err(fault.into())),
    };
    let mut steps = corners.steps;
    let load = match kind {
        LineKind::SpinnakerHalyard => corners.head,
        LineKind::SpinnakerSheet => corners.clew,
        LineKind::TackLine => corners.tack,
        LineKind::Foreguy => {
            let load = corners.tack * Angle::of_degrees(40.0).sin();
            steps.push(
                Step::new("foreguy", "tack pull x sin 40°", load, OURS.at("what lifts the pole"))
                    .input("tack pull", corners.tack),
            );
            load
        }
        _ => {
            let (load, step) = guy_step(corners.tack);
            steps.push(step);
            load
        }
    };
    Some(Ok(Candidate { state: Some(state.name), load, range: None, steps }))
}

/// A grade for a pull that a person must give without a winch.
///
/// `None` while one person can do it.
#[must_use]
pub fn hand_finding(pull: Force, conditions: &Conditions) -> Option<Finding> {
    let one = conditions.hand_pull.unwrap_or(Force::of_n(HAND));
    let from = if conditions.hand_pull.is_some() { GIVEN.at("use") } else { COMMON_PRACTICE.at("one person's pull") };
    (pull > one).then(|| {
        let text = Sentence::new("hauling takes {} at the hand; one person gives {}").with(pull).with(one);
        Finding::new(Grade::Note, "hard-to-haul", text, from)
            .remedy(Sentence::new("a winch, or a purchase of {} more").with(Value::Number((pull / one).ceil())))
    })
}
