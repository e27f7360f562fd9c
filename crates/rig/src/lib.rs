//! What every line must carry, where it runs and how long it is.
//!
//! The way: [`Boat`] and [`Sails`] with [`Conditions`] are a [`Question`]; a
//! [`Sweep`] works out every [`State`] of wind, angle and sails, each with a
//! pressure on every sail, capped by the boat's stability; [`Sweep::line`]
//! turns them into the pull on a line by its own statics and keeps the worst
//! state; [`Lead`] gives length, wrap, friction and block loads. [`Inputs`]
//! that nobody published (luff tension, leech sag) are visible, have a range,
//! and the answer carries what the range does.
//!
//! Not covered: standing rigging, gybes and broaches beyond the stated peak
//! factor, waves.

mod balance;
mod boat;
mod catenary;
pub mod coefficients;
mod dead_weights;
mod inland;
mod inputs;
mod kind;
mod lead;
mod length_rule;
mod load;
mod offwind;
mod plan;
mod point;
mod sails;
mod stability;
mod state;
mod statics;
mod sweep;
pub mod tackle;
mod tenths;
mod white_sails;
pub mod wind;
mod working;

pub use balance::{BalanceError, three_corners};
pub use boat::{Boat, BoatError, Dimensions, Hull, Inclining, RigType};
pub use catenary::{Catenary, HangError, Hanging, Lift, hang, hang_over_deck, lifting_wind};
pub use coefficients::{CoefficientSet, GivenRow, SailTable, SetError};
pub use inland::{Hauling, InlandLine, InlandMaterial, Minimum, inland_minimum};
pub use inputs::{Input, InputOutside, Inputs};
pub use kind::LineKind;
pub use lead::{Bearing, Lead, LeadError, Passing, Run, Travel, Turn, TurnAt, block_load, travel};
pub use length_rule::{RuleInput, length_by_rule};
pub use load::{Effect, LineLoad, LoadError, Mast, Setup, hand_finding, line_load};
pub use point::Point;
pub use sails::{Headsail, MOST_REEFS, Mainsail, Sails, Spinnaker, SpinnakerKind};
pub use stability::{HEELING_ARM_DRAUGHT, Righting, righting};
pub use state::{Conditions, FLATTEST, SailForce, SailSet, State, point_of_sailing};
pub use statics::*;
pub use sweep::{Grid, Question, Sweep};
pub use tenths::MainInput;
