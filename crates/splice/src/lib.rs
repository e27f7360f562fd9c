//! Ends: layout, marks, taper, grip, shrinkage, weak points.
//!
//! [`layout`] answers how an end is laid out on the bench, to the millimetre,
//! and whether it will hold: marks numbered from the bitter end, the taper
//! strand by strand, what the bury takes up, the grip margin with its range,
//! the weak points, and the working of each number.
//!
//! The physics is our own derivation from statics, where a published value
//! exists it is cited, and a proof or break test outranks all of it.

mod at_load;
mod braid;
mod chance;
mod choices;
pub mod chooser;
pub mod elastic;
mod error;
mod eye;
mod grip;
mod kind;
mod kinds;
mod layout;
mod marks;
mod own;
mod prior;
mod request;
mod stitching;
mod tail;
mod taper;
mod turn;
mod weak;

pub use at_load::{GripLaw, LoadGrip, NEARLY_SLACK, ONSET, REFERENCE_SHARE, needed_at};
pub use braid::{Braid, BraidError, FULL_RADIUS, STRANDS, Shape as BraidShape, full_radius_from};
pub use chance::{Chance, ChanceRequest, ChanceWish, Percentile, chance};
pub use choices::{Alternative, alternatives};
pub use error::SpliceError;
pub use eye::{Eye, WIDEST, half_angle, least_eye};
pub use grip::{
    EVEN_LEGS, Hold, LoadLaw, bury_for_margin, contact_at, critical_bury_even, grip_needed, hold, leg_share, margin,
    margin_with_exponent,
};
pub use kind::EndKind;
pub use kinds::{full_tucks, sling_tail, unlay_length};
pub use layout::{Grip, Hand, Layout, Mark, Part, Shape, Stitching, TaperStep, layout, simulated};
pub use own::{Own, OwnFigure, OwnFigures, OwnOf, OwnStrength};
pub use prior::{
    Belief, Draw, Measured, Observed, Prior, Range, Span, belief, braid_at, prior as prior_of, usual_belief,
    weight as weight_of,
};
pub use request::{
    Bearing, BenchMeasures, BuryWish, Duty, EndRequest, Fitting, LoftRules, Slack, ThroatLock, TuckFinish,
};
pub use stitching::{SHAKE, slack_load, twine_for};
pub use tail::{Slice, Tail, bury_for, grip_sum, grip_sum_full_contact, shrinkage as shrinkage_of};
pub use taper::{TaperError, TaperWish, common as common_taper, even as even_taper, tail_for};
pub use turn::{FITTED_ON, Prediction, SquareEnd, TurnPenalty, prediction, square_end, step_share, turn_penalty};
pub use weak::WeakPoint;
