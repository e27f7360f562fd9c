//! The question with one of its main inputs a little more or less: does the
//! load move, and with it the choice?

use crate::inputs::Input;
use crate::plan::{JIB, MAIN, MIZZEN, SPINNAKER, STAYSAIL, WIND};
use crate::sweep::{Question, Sweep};
use units::{Area, Speed};

/// An input that a line's load rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MainInput {
    /// The true winds in which full sail is carried.
    Wind,
    /// Cloth area of every sail.
    SailArea,
    /// What she stands up to.
    RightingMoment,
    /// Heights of the rig: I, P, ISP.
    Height,
    /// Bases of the rig: J, E.
    Base,
    /// An input that nobody published.
    Unpublished(Input),
}

impl MainInput {
    /// The main inputs, without the unpublished ones.
    pub const MEASURED: [MainInput; 5] =
        [MainInput::Wind, MainInput::SailArea, MainInput::RightingMoment, MainInput::Height, MainInput::Base];

    /// What it is.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            MainInput::Wind => "wind in which full sail is carried",
            MainInput::SailArea => "cloth area",
            MainInput::RightingMoment => "righting moment",
            MainInput::Height => "heights I, P, ISP",
            MainInput::Base => "bases J, E",
            MainInput::Unpublished(input) => input.says(),
        }
    }
}

impl Sweep {
    /// The same boat swept again with one input scaled, all else as it was.
    ///
    /// ```
    /// use rig::{Boat, Conditions, Hull, LineKind, MainInput, Mainsail, Question, RigType, Sails, Setup, Sweep};
    /// use units::Length;
    /// let boat = Boat::of_length(Length::of_m(9.0), Hull::Monohull, RigType::FractionalSloop);
    /// let sails = Sails { main: Some(Mainsail::default()), ..Sails::default() };
    /// let sweep = Sweep::of(Question::usual(boat, sails, Conditions::default()));
    /// let sheet = Setup::of(LineKind::Mainsheet);
    /// let (as_is, more) = (sweep.line(&sheet)?, sweep.scaled(MainInput::RightingMoment, 1.1).line(&sheet)?);
    /// assert!(more.steady >= as_is.steady);
    /// # Ok::<(), rig::LoadError>(())
    /// ```
    #[must_use]
    pub fn scaled(&self, input: MainInput, factor: f64) -> Sweep {
        let mut question = self.question.clone();
        match input {
            MainInput::Wind => scale_wind(&mut question, factor),
            MainInput::SailArea => self.scale_areas(&mut question, factor),
            MainInput::RightingMoment => {
                let mut righting = self.righting.clone();
                righting.moment = righting.moment * factor;
                return Sweep::with(question, self.sized.clone(), righting);
            }
            MainInput::Height => {
                question.boat.i = Some(self.sized.i * factor);
                question.boat.p = Some(self.sized.p * factor);
                question.boat.isp = Some(self.sized.isp * factor);
            }
            MainInput::Base => {
                question.boat.j = Some(self.sized.j * factor);
                question.boat.e = Some(self.sized.e * factor);
            }
            MainInput::Unpublished(input) => {
                let used = self.used(input);
                question.inputs = question.inputs.at(input, used * factor);
            }
        }
        Sweep::of(question)
    }

    /// The value of an input that the sails give, or the one used.
    fn used(&self, input: Input) -> f64 {
        let sails = &self.question.sails;
        let given = match input {
            _ if self.question.inputs.is_given(input) => None,
            Input::MainLeechSag => sails.main.and_then(|sail| sail.leech_sag),
            Input::JibCamber => sails.jib.and_then(|sail| sail.camber),
            _ => None,
        };
        given.unwrap_or(self.question.inputs.get(input))
    }

    fn scale_areas(&self, question: &mut Question, factor: f64) {
        let area = |place: usize| -> Option<Area> {
            self.plans.iter().find_map(|plan| plan.sails[place]).map(|sail| sail.area * factor)
        };
        let sails = &mut question.sails;
        if let Some(sail) = &mut sails.main {
            sail.area = area(MAIN);
        }
        if let Some(sail) = &mut sails.jib {
            sail.area = area(JIB);
        }
        if let Some(sail) = &mut sails.staysail {
            sail.area = area(STAYSAIL);
        }
        if let Some(sail) = &mut sails.mizzen {
            sail.area = area(MIZZEN);
        }
        if let Some(sail) = &mut sails.spinnaker {
            sail.area = area(SPINNAKER);
        }
    }
}

fn scale_wind(question: &mut Question, factor: f64) {
    let usual = Speed::of_knots(WIND);
    let conditions = &mut question.conditions;
    let upwind = conditions.wind_upwind.unwrap_or(usual);
    let downwind = conditions.wind_downwind.unwrap_or(upwind.max(usual));
    (conditions.wind_upwind, conditions.wind_downwind) = (Some(upwind * factor), Some(downwind * factor));
}
