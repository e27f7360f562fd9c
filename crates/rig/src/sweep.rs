//! All winds and angles in one call, and the worst of them for each line.
//!
//! A grid of true winds and angles, each sail plan at the points where it is
//! carried, and besides at the very wind in which it is carried last: between
//! two of the grid's winds the load would be missed by the square of the step.

use crate::coefficients::CoefficientSet;
use crate::inputs::Inputs;
use crate::load::{LineLoad, LoadError, Setup};
use crate::plan::{Plan, plans};
use crate::stability::{Righting, righting};
use crate::state::{At, Conditions, Field, State};
use crate::{Boat, Dimensions, Sails};
use units::{Angle, Force, Speed};

/// The winds and angles looked at.
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    /// True winds.
    pub winds: Vec<Speed>,
    /// True wind angles.
    pub angles: Vec<Angle>,
}

impl Grid {
    /// Evenly from 4 to 42 kn, and from 40 to 180 degrees. Fewer than two of
    /// either are two.
    ///
    /// ```
    /// let grid = rig::Grid::even(20, 29);
    /// assert_eq!((grid.winds[1].to_knots().round(), grid.angles[1].to_degrees().round()), (6.0, 45.0));
    /// ```
    #[must_use]
    pub fn even(winds: usize, angles: usize) -> Grid {
        let spread = |count: usize, low: f64, high: f64| {
            let count = count.max(2);
            (0..count).map(move |index| low + (high - low) * index as f64 / (count - 1) as f64)
        };
        Grid {
            winds: spread(winds, 4.0, 42.0).map(Speed::of_knots).collect(),
            angles: spread(angles, 40.0, 180.0).map(Angle::of_degrees).collect(),
        }
    }
}

impl Default for Grid {
    fn default() -> Self {
        Grid::even(20, 29)
    }
}

/// A boat, her sails and how she is sailed: what a sweep is asked about.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// The boat.
    pub boat: Boat,
    /// Her sails.
    pub sails: Sails,
    /// Weather and hands.
    pub conditions: Conditions,
    /// Inputs that nobody published.
    pub inputs: Inputs,
    /// Lift and drag.
    pub coefficients: CoefficientSet,
    /// Winds and angles.
    pub grid: Grid,
}

impl Question {
    /// The usual inputs, coefficients and grid.
    #[must_use]
    pub fn usual(boat: Boat, sails: Sails, conditions: Conditions) -> Question {
        Question {
            boat,
            sails,
            conditions,
            inputs: Inputs::default(),
            coefficients: CoefficientSet::orc_2023(),
            grid: Grid::default(),
        }
    }
}

/// A boat swept over winds and angles.
#[derive(Debug, Clone)]
pub struct Sweep {
    pub(crate) question: Question,
    pub(crate) sized: Dimensions,
    pub(crate) righting: Righting,
    pub(crate) plans: Vec<Plan>,
    pub(crate) states: Vec<State>,
    /// The same at both ends of her righting moment's band; none where it has none.
    band: Option<Box<[Sweep; 2]>>,
}

impl Sweep {
    /// Sweeps a boat.
    #[must_use]
    pub fn of(question: Question) -> Sweep {
        let sized = question.boat.dimensions();
        let righting = righting(&question.boat);
        let band = (righting.band.0 < righting.band.1).then(|| {
            Box::new([righting.band.0, righting.band.1].map(|moment| {
                let end = Righting { moment, band: (moment, moment), ..righting.clone() };
                Sweep::with(question.clone(), sized.clone(), end)
            }))
        });
        Sweep { band, ..Sweep::with(question, sized, righting) }
    }

    /// The same with another righting moment: for its band.
    pub(crate) fn with(question: Question, sized: Dimensions, righting: Righting) -> Sweep {
        let plans = plans(&question.boat, &sized, &question.sails);
        let field = field(&question, &sized, &righting);
        let mut states = Vec::new();
        for (index, plan) in plans.iter().enumerate() {
            for &angle in &question.grid.angles {
                let Some(limit) = plan.limit(&question.conditions, angle) else { continue };
                let carried = question.grid.winds.iter().copied();
                let carried =
                    carried.filter(|wind| plan.is_carried(&question.conditions, *wind, angle) && *wind != limit);
                states.extend(
                    carried.chain([limit]).filter_map(|wind| field.state(plan, At { wind, angle, plan: index })),
                );
            }
        }
        Sweep { question, sized, righting, plans, states, band: None }
    }

    /// Every state that was looked at.
    #[must_use]
    pub fn states(&self) -> &[State] {
        &self.states
    }

    /// Her dimensions, given and assumed.
    #[must_use]
    pub const fn dimensions(&self) -> &Dimensions {
        &self.sized
    }

    /// Her righting moment.
    #[must_use]
    pub const fn righting(&self) -> &Righting {
        &self.righting
    }

    /// The question asked.
    #[must_use]
    pub const fn question(&self) -> &Question {
        &self.question
    }

    /// The load on a line: every state worked out, the worst kept.
    ///
    /// # Errors
    /// When the kind needs a sail or a load that is not there, her rig has no
    /// such line, or she lies outside the table used.
    pub fn line(&self, setup: &Setup) -> Result<LineLoad, LoadError> {
        crate::load::worst(self, setup)
    }

    /// Steady pull at the low and the high end of her righting moment's band.
    pub(crate) fn over_the_band(&self, setup: &Setup) -> Option<(Force, Force)> {
        let [low, high] = self.band.as_deref()?;
        Some((crate::load::worst_pull(low, setup)?, crate::load::worst_pull(high, setup)?))
    }

    pub(crate) fn field(&self) -> Field<'_> {
        field(&self.question, &self.sized, &self.righting)
    }
}

fn field<'a>(question: &'a Question, sized: &'a Dimensions, righting: &'a Righting) -> Field<'a> {
    Field {
        boat: &question.boat,
        sized,
        righting,
        coefficients: &question.coefficients,
        conditions: &question.conditions,
        inputs: &question.inputs,
    }
}
