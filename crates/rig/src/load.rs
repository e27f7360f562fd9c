//! The pull on one line: its own statics in every state of the sweep, the
//! worst kept, and the purchase taken off.

use crate::boat::Dimensions;
use crate::dead_weights::{by_hand, from_weight, ground_tackle};
use crate::inputs::{Input, Inputs};
use crate::offwind::{SPINNAKER_PEAK, SPINNAKER_PEAK_FROM, corners, foreguy, guy};
use crate::plan::{JIB, MAIN, MIZZEN, SPINNAKER, STAYSAIL, explain};
use crate::state::{Conditions, SailSet, State};
use crate::sweep::{Question, Sweep};
use crate::tackle::{Fall, Tackle};
use crate::white_sails::{Set, from_headsail, from_main};
use crate::working::Working;
use crate::{BalanceError, Boat, LineKind, RigType, Sails};
use sources::{ABYC_H40, COMMON_PRACTICE, Citation, Finding, GIVEN, Grade, OURS, Step};
use thiserror::Error;
use units::{Force, Length, Sentence, Value};

/// Which mast a line belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Mast {
    /// The main, or only one.
    #[default]
    Main,
    /// The mizzen.
    Mizzen,
}

/// What of a line bears on its load.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// The kind of line.
    pub kind: LineKind,
    /// Its mast.
    pub mast: Mast,
    /// The reef that it hauls down; any where not said.
    pub reef: Option<u32>,
    /// Parts at the moving block.
    pub parts: u32,
    /// Parts of each purchase between the load and this line's own, in series.
    pub cascade: Vec<u32>,
    /// Share of tension left after each sheave of its purchase.
    pub sheave_efficiency: f64,
    /// Where the sheet or vang holds the boom, from the gooseneck.
    pub along_boom: Option<Length>,
    /// Steady and peak pull in the line, where the order gives them.
    pub given: Option<(Force, Option<Force>)>,
}

impl Setup {
    /// A single line of a kind on the main mast, ball-bearing blocks.
    #[must_use]
    pub const fn of(kind: LineKind) -> Setup {
        Setup {
            kind,
            mast: Mast::Main,
            reef: None,
            parts: 1,
            cascade: Vec::new(),
            sheave_efficiency: 0.97,
            along_boom: None,
            given: None,
        }
    }

    /// Parts of all its purchases together.
    #[must_use]
    pub fn power(&self) -> f64 {
        self.cascade.iter().map(|parts| f64::from(*parts)).product::<f64>() * f64::from(self.parts)
    }

    /// Load over pull at the fall, hauling.
    fn hauling(&self) -> f64 {
        self.tackles().map(|tackle| tackle.advantage()).product()
    }

    /// Load over pull at the fall, easing.
    fn easing(&self) -> f64 {
        self.tackles().map(|tackle| tackle.easing()).product()
    }

    /// A line that no block turns back is no tackle.
    fn tackles(&self) -> impl Iterator<Item = Tackle> {
        let efficiency = self.sheave_efficiency;
        let all = self.cascade.iter().copied().chain([self.parts]);
        all.filter(|parts| *parts > 1).map(move |parts| Tackle { parts, fall: Fall::FixedBlock, efficiency })
    }
}

/// What an input that nobody published does to a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effect {
    /// The input.
    pub input: Input,
    /// Its value used.
    pub used: f64,
    /// Steady pull at the low end of its range, in the governing state.
    pub at_low: Force,
    /// The same at the high end.
    pub at_high: Force,
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
    /// The same while easing: friction holds with the hand.
    pub easing: Force,
    /// The state that governs; none where weather has no part in it.
    pub governing: Option<State>,
    /// The worst of another point of sailing or other sails, and its steady pull.
    pub second: Option<(State, Force)>,
    /// Lowest and highest steady pull over the range of any one input nobody published.
    pub range: Option<(Force, Force)>,
    /// What each of those inputs does.
    pub effects: Vec<Effect>,
    /// The worst steady pull with her righting moment at the low and at the
    /// high end of its band, swept anew; none where it was given, or where
    /// stability has no part in it.
    pub stability: Option<(Force, Force)>,
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
    /// A line that her rig has not.
    #[error("a {rig} has no {kind}: {instead}")]
    Rig {
        /// The kind.
        kind: &'static str,
        /// The rig.
        rig: &'static str,
        /// What to give.
        instead: &'static str,
    },
    /// A reef that the mainsail has not.
    #[error("reef {reef} is hauled down, and the mainsail has {reefs}: give sails.main.reefs, or another reef")]
    Reef {
        /// The reef asked for; 0 for any.
        reef: u32,
        /// The reefs there are.
        reefs: u32,
    },
    /// A sail that is never set in the winds looked at.
    #[error("no point of the sweep sets the sail that a {kind} serves: {why}")]
    Never {
        /// The kind.
        kind: &'static str,
        /// Why.
        why: &'static str,
    },
    /// A spinnaker's lines that cannot balance it.
    #[error("the spinnaker's lines do not balance it: {0}")]
    Balance(#[from] BalanceError),
    /// A boat outside a table.
    #[error("a {kind} for a boat with a {what} of {given}: the table has lengths of 20 to 60 ft; give load.steady")]
    OutsideTable {
        /// The kind.
        kind: &'static str,
        /// Which dimension.
        what: &'static str,
        /// What it is.
        given: Length,
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

/// What the statics of a line need of the boat.
pub(crate) struct Water<'a> {
    pub(crate) boat: &'a Boat,
    pub(crate) sized: &'a Dimensions,
    pub(crate) rig: RigType,
    pub(crate) coefficients: Citation,
}

/// The load on a line of a boat, with the usual inputs and coefficients.
///
/// One line alone; [`Sweep`] serves many lines of one boat in one go.
///
/// # Errors
/// When the kind needs a sail or a load that the order does not give, or the
/// boat lies outside the table used.
pub fn line_load(boat: &Boat, sails: &Sails, conditions: &Conditions, setup: &Setup) -> Result<LineLoad, LoadError> {
    Sweep::of(Question::usual(*boat, *sails, *conditions)).line(setup)
}

/// The worst of a sweep for one line.
pub(crate) fn worst(sweep: &Sweep, setup: &Setup) -> Result<LineLoad, LoadError> {
    if let Some(given) = setup.given {
        return given_load(given);
    }
    let line = Line::of(sweep, setup)?;
    let (first, second) = line.worst()?;
    let mut working = Working::kept();
    let weather = first.state.filter(|_| !line.crew_alone.get());
    if let (Some(state), Some(sail)) = (weather, line.sail) {
        let plan = &sweep.plans[state.plan];
        working.notes(|| sweep.field().explain(plan, &state));
        working
            .notes(|| explain(&sweep.question.boat, &sweep.sized, &sweep.question.sails, plan.set, sail).into_steps());
    }
    let inputs = &sweep.question.inputs;
    line.pull(first.state.as_ref(), inputs, &mut working)?;
    let power = setup.power();
    let steady = first.load / power;
    let (hauling, easing) = (first.load / setup.hauling(), first.load / setup.easing());
    if power > 1.0 {
        working.notes(|| purchase_steps(setup, first.load, [steady, hauling, easing]));
    }
    let (factor, from) = peak_factor(setup.kind);
    let peak = steady.max(hauling) * factor;
    working.note(|| {
        Step::new("peak", "factor x pull", peak, from).input("factor", factor).input("pull", steady.max(hauling))
    });
    let effects = line.effects(first.state.as_ref(), inputs, power)?;
    let mut findings = Vec::new();
    if weather.is_some() {
        // Weather and stability have no part in the others.
        findings.extend(sweep.righting.findings.iter().cloned());
        findings.extend(line.unbalanced_finding());
    }
    let ends = effects.iter().flat_map(|effect| [effect.at_low, effect.at_high]).chain([steady]);
    let range = ends.fold(None, |range: Option<(Force, Force)>, pull| {
        Some(range.map_or((pull, pull), |(low, high)| (low.min(pull), high.max(pull))))
    });
    Ok(LineLoad {
        steady,
        peak,
        hauling,
        easing,
        governing: weather,
        second: weather.and(second).and_then(|point| Some((point.state?, point.load / power))),
        range: range.filter(|_| !effects.is_empty()),
        effects,
        stability: weather.and_then(|_| sweep.over_the_band(setup)),
        working: working.into_steps(),
        findings,
    })
}

/// The worst steady pull alone, without its working.
pub(crate) fn worst_pull(sweep: &Sweep, setup: &Setup) -> Option<Force> {
    let (first, _) = Line::of(sweep, setup).ok()?.worst().ok()?;
    Some(first.load / setup.power())
}

fn purchase_steps(setup: &Setup, load: Force, [steady, hauling, easing]: [Force; 3]) -> Vec<Step> {
    let compounding = OURS.at("friction builds up from sheave to sheave; tackles in series multiply");
    vec![
        Step::new("steady pull in each part", "load / parts", steady, sources::EXACT.at("parts share alike when held"))
            .input("load", load)
            .input("parts", setup.power()),
        Step::new("pull at the fall, hauling", "load / product of E (1 - E^n) / (1 - E)", hauling, compounding)
            .input("E", setup.sheave_efficiency)
            .input("n", i64::from(setup.parts)),
        Step::new("pull at the fall, easing", "the same with 1 / E", easing, compounding),
    ]
}

/// One point that was looked at.
#[derive(Clone, Copy)]
struct Point {
    state: Option<State>,
    load: Force,
}

/// A line with what it is worked out from.
struct Line<'a> {
    sweep: &'a Sweep,
    setup: &'a Setup,
    water: Water<'a>,
    /// The sail it serves; none where no sail loads it.
    sail: Option<usize>,
    /// States in which the corners' directions do not balance the spinnaker.
    unbalanced: std::cell::Cell<usize>,
    /// The same in every state: the crew sets it, and not the weather.
    crew_alone: std::cell::Cell<bool>,
}

impl<'a> Line<'a> {
    fn of(sweep: &'a Sweep, setup: &'a Setup) -> Result<Line<'a>, LoadError> {
        let question = &sweep.question;
        let sail = served(&question.boat, &question.sails, setup)?;
        let table = sail.and_then(|sail| sweep.plans.iter().find_map(|plan| plan.sails[sail])).map(|sail| sail.table);
        let coefficients = table.map_or(OURS.at("no sail"), |table| question.coefficients.citation(table));
        let water = Water { boat: &question.boat, sized: &sweep.sized, rig: question.boat.rig, coefficients };
        let (unbalanced, crew_alone) = (std::cell::Cell::new(0), std::cell::Cell::new(false));
        Ok(Line { sweep, setup, water, sail, unbalanced, crew_alone })
    }

    /// The worst point, and the worst of another point of sailing or sails.
    fn worst(&self) -> Result<(Point, Option<Point>), LoadError> {
        let kind = self.setup.kind.word();
        let inputs = &self.sweep.question.inputs;
        let Some(sail) = self.sail else {
            let load = self.pull(None, inputs, &mut Working::silent())?;
            return Ok((Point { state: None, load }, None));
        };
        // The worst of each point of sailing and set of sails.
        let mut best: Vec<(Point, &'static str, SailSet)> = Vec::new();
        let (mut least, mut fault) = (None, None);
        for state in &self.sweep.states {
            if state.forces[sail].is_none() || !self.reefed_for(state.set) {
                continue;
            }
            let load = match self.pull(Some(state), inputs, &mut Working::silent()) {
                Ok(load) => load,
                Err(why) => {
                    self.unbalanced.set(self.unbalanced.get() + 1);
                    fault.get_or_insert(why);
                    continue;
                }
            };
            least = Some(least.map_or(load, |least: Force| least.min(load)));
            let name = state.point_of_sailing();
            match best.iter_mut().find(|(_, of, set)| *of == name && *set == state.set) {
                Some((most, ..)) if most.load >= load => {}
                Some((most, ..)) => *most = Point { state: Some(*state), load },
                None => best.push((Point { state: Some(*state), load }, name, state.set)),
            }
        }
        best.sort_by(|a, b| b.0.load.compare(&a.0.load));
        let Some((first, _, set)) = best.first() else {
            let why = "the winds, angles or coefficient rows do not reach it";
            return Err(fault.unwrap_or(LoadError::Never { kind, why }));
        };
        self.crew_alone.set(least == Some(first.load));
        // Other sails say more than the next angle; without them the next angle.
        let second = best.iter().find(|(_, _, other)| other != set).or(best.get(1));
        Ok((*first, second.map(|(point, ..)| *point)))
    }

    fn reefed_for(&self, set: SailSet) -> bool {
        use LineKind as K;
        match (self.setup.kind, set) {
            (K::ReefLineSlab | K::ReefLineSingle, SailSet::Reefed(reef)) => {
                self.setup.reef.is_none_or(|own| own == reef)
            }
            (K::ReefLineSlab | K::ReefLineSingle, _) => false,
            _ => true,
        }
    }

    /// The load in one state, before any purchase.
    fn pull(&self, state: Option<&State>, inputs: &Inputs, working: &mut Working) -> Result<Force, LoadError> {
        use LineKind as K;
        let (setup, question) = (self.setup, &self.sweep.question);
        let served = state.zip(self.sail).and_then(|(state, sail)| {
            Some((self.sweep.plans[state.plan].sails[sail].as_ref()?, state.forces[sail].as_ref()?))
        });
        let Some((sail, force)) = served else {
            return match setup.kind {
                K::DockLine | K::AnchorRode => ground_tackle(setup, &self.water, working),
                K::Messenger => Ok(by_hand(&question.conditions, working)),
                _ => Ok(from_weight(&question.sails, setup, &self.water, inputs, working)),
            };
        };
        let set = Set { sail, force, inputs, water: &self.water };
        match self.sail {
            Some(MAIN | MIZZEN) => Ok(from_main(setup, &set, working)),
            Some(SPINNAKER) => {
                let corners = corners(sail, force, inputs, working)?;
                Ok(match setup.kind {
                    K::SpinnakerHalyard => corners.head,
                    K::SpinnakerSheet => corners.clew,
                    K::TackLine => corners.tack,
                    K::Foreguy => foreguy(corners.tack, inputs, working),
                    _ => guy(corners.tack, inputs, working),
                })
            }
            _ => Ok(from_headsail(setup, &set, working)),
        }
    }

    /// What each unpublished input does at its ends, where it does anything.
    fn effects(&self, state: Option<&State>, inputs: &Inputs, power: f64) -> Result<Vec<Effect>, LoadError> {
        let mut effects = Vec::new();
        let usual = self.pull(state, inputs, &mut Working::silent())?;
        for input in Input::ALL {
            if inputs.is_given(input) {
                continue;
            }
            let (low, used, high) = input.range();
            let at = |value: f64| self.pull(state, &inputs.at(input, value), &mut Working::silent());
            // A figure of the order stands in its own place and has no range.
            if self.is_given_by_sail(input) || at(low * 1.001) == Ok(usual) {
                continue;
            }
            // At an end the lines may not balance: the usual pull stands for it.
            let [at_low, at_high] = [low, high].map(|end| at(end).unwrap_or(usual) / power);
            effects.push(Effect { input, used, at_low, at_high });
        }
        Ok(effects)
    }

    fn is_given_by_sail(&self, input: Input) -> bool {
        let sails = &self.sweep.question.sails;
        let main = if self.setup.mast == Mast::Mizzen { sails.mizzen } else { sails.main };
        let head = if self.sail == Some(STAYSAIL) { sails.staysail } else { sails.jib };
        let of_main = matches!(self.sail, Some(MAIN | MIZZEN) | None);
        match input {
            Input::MainLeechSag => main.is_some_and(|sail| sail.leech_sag.is_some()),
            Input::LuffOfLeech if of_main => main.is_some_and(|sail| sail.luff_tension.is_some()),
            Input::LuffOfLeech => head.is_some_and(|sail| sail.luff_tension.is_some()),
            Input::JibCamber => head.is_some_and(|sail| sail.camber.is_some()),
            Input::ClothMass => main.is_some_and(|sail| sail.mass.is_some()),
            _ => false,
        }
    }

    fn unbalanced_finding(&self) -> Option<Finding> {
        let left_out = self.unbalanced.get();
        (left_out > 0).then(|| {
            let text = Sentence::new("at {} points of the sweep the directions of the three corners do not balance the spinnaker: they are left out")
                .with(Value::Count(left_out as i64));
            Finding::new(Grade::Note, "corners-unbalanced", text, OURS.at("directions of a set spinnaker"))
                .remedy(Sentence::new("give load.steady"))
        })
    }
}

/// The sail that a line serves; none where no sail loads it.
fn served(boat: &Boat, sails: &Sails, setup: &Setup) -> Result<Option<usize>, LoadError> {
    use LineKind as K;
    let (kind, rig) = (setup.kind.word(), boat.rig.words());
    let needs = |sail: &'static str, place: usize, set: bool| {
        if set { Ok(Some(place)) } else { Err(LoadError::Sail { kind, sail }) }
    };
    let hers = |has: bool, instead| if has { Ok(()) } else { Err(LoadError::Rig { kind, rig, instead }) };
    if setup.mast == Mast::Mizzen {
        hers(boat.rig.has_mizzen(), "give another rig, or leave mast out")?;
    }
    match setup.kind {
        K::MainHalyard if setup.mast == Mast::Main => {
            hers(boat.rig != RigType::Gaff, "give a throat-halyard and a peak-halyard")?;
        }
        K::PeakHalyard | K::ThroatHalyard => hers(boat.rig == RigType::Gaff, "give a main-halyard")?,
        K::BackstayAdjuster | K::Runner | K::Checkstay => hers(boat.rig.has_forestay(), "give load.steady")?,
        _ => {}
    }
    match setup.kind {
        K::ReefLineSlab | K::ReefLineSingle => {
            let reefs = sails.main.as_ref().map_or(0, crate::sails::reefs);
            needs("main", MAIN, sails.main.is_some())?;
            if setup.reef.unwrap_or(1) > reefs || setup.reef == Some(0) {
                return Err(LoadError::Reef { reef: setup.reef.unwrap_or(1), reefs });
            }
            Ok(Some(MAIN))
        }
        K::MainHalyard
        | K::PeakHalyard
        | K::ThroatHalyard
        | K::Mainsheet
        | K::Vang
        | K::Outhaul
        | K::Cunningham
        | K::Traveller => match setup.mast {
            Mast::Main => needs("main", MAIN, sails.main.is_some()),
            Mast::Mizzen => needs("mizzen", MIZZEN, sails.mizzen.is_some()),
        },
        K::StaysailHalyard | K::StaysailSheet => needs("staysail", STAYSAIL, sails.staysail.is_some()),
        K::JibHalyard | K::JibSheet | K::JibCar | K::FurlingLine | K::BackstayAdjuster | K::Runner | K::Checkstay => {
            needs("jib", JIB, sails.jib.is_some())
        }
        K::SpinnakerHalyard | K::SpinnakerSheet | K::Guy | K::TackLine | K::Foreguy => {
            needs("spinnaker", SPINNAKER, sails.spinnaker.is_some())
        }
        K::ToppingLift | K::PoleLift | K::LazyJack | K::DockLine | K::AnchorRode | K::Messenger => Ok(None),
        K::LifelineLashing | K::Strop | K::Loop | K::SoftShackle => Err(LoadError::Give { kind }),
    }
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
        easing: steady,
        governing: None,
        second: None,
        range: None,
        effects: Vec::new(),
        stability: None,
        working,
        findings: Vec::new(),
    })
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
