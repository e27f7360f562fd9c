//! What every line must carry, where it runs and how long it is.
//!
//! The way: [`Boat`] and [`Sails`] with [`Conditions`] give sailing
//! [states](state::State) with a pressure on each sail, capped by the boat's
//! stability; [`line_load`] turns them into the pull on a line by its own
//! statics and keeps the worst state; [`Lead`] gives length, wrap, friction
//! and block loads. Inputs that nobody published (luff tension, leech sag)
//! are visible, have a range, and the answer carries what the range does.
//!
//! Not covered: standing rigging, gybes and broaches beyond the stated peak
//! factor, waves.

mod balance;
mod boat;
mod catenary;
pub mod coefficients;
mod dead_weights;
mod kind;
mod lead;
mod length_rule;
mod load;
mod offwind;
mod point;
mod sails;
mod stability;
pub mod state;
mod statics;
pub mod tackle;
mod white_sails;
pub mod wind;

pub use balance::{BalanceError, three_corners};
pub use boat::{Boat, Hull, RigType};
pub use catenary::{Catenary, HangError, Hanging, Lift, hang, hang_over_deck, lifting_wind};
pub use kind::LineKind;
pub use lead::{Bearing, Lead, LeadError, Run, Turn, TurnAt, block_load, run};
pub use length_rule::{RuleInput, length_by_rule};
pub use load::{LineLoad, LoadError, Setup, hand_finding, line_load};
pub use point::Point;
pub use sails::{Headsail, Mainsail, Sails, Spinnaker, SpinnakerKind};
pub use stability::{HEELING_ARM_DRAUGHT, righting_moment};
pub use state::{Conditions, sailing_states};
pub use statics::*;
