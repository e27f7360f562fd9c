//! A line made up: which rope, which ends, cover on or off, how long to cut,
//! and where it would break.
//!
//! [`make_up`] judges every rope offered for a line, keeps the best that
//! stands, lays out its ends, and sums finished length and ends into a cut
//! length rounded up once. Where the ends lie on the lead over the whole
//! travel is checked too. [`choose`] gives every rope with every check; cover
//! on or off rests on [`travel`], [`weights()`], [`clew_load`], [`hoist()`] and
//! the loft's own rules, which [`weigh`] applies. A break or proof test outranks
//! all of it.

mod budget;
mod checks;
mod choose;
mod cover;
mod drag;
mod hoist;
mod judge;
mod light_air;
mod line;
mod more;
mod on_lead;
mod request;
mod rove;
mod rules;
mod travel;
mod weakest;
mod weights;

pub use budget::{Budget, stretch_budget};
pub use checks::{Check, Outcome};
pub use choose::{Candidate, Choice, Moved, Offer, Unmade, choose, dominates};
pub use cover::{Cover, Stripped, Water, water_held, water_range};
pub use drag::{BARE_FRICTION, FairleadFriction, ROPE_DRAG, bare_diameter, over_fairleads, weight_in_water, wind_drag};
pub use hoist::{HUMAN_POWER_W, Hoist, HoistProfile, hoist, soaked};
pub use judge::{Verdict, judge};
pub use light_air::{ClewLoad, SlackSheet, clew_load};
pub use line::{MadeUp, MakeUpError, TRIMMING, make_up};
pub use more::{ADDED_FROM, Added, Addition, Need, additions, chosen, filled_core};
pub use on_lead::{Zone, zones_on_lead};
pub use request::{CoverWish, Duty, EndWish, Fit, LineRequest, StandingWish};
pub use rove::{By, Reeving, end_thickness, reeving};
pub use rules::{Fact, Facts, Rule, Spoken, Weighed, weigh};
pub use travel::{Met, Strippable, Touch, chafes_at_end, strippable, travel};
pub use weakest::{WeakPoint, weak_points};
pub use weights::{PerMetre, Ranged, Weights, per_metre, weights};
