//! A line made up: which rope, which ends, cover on or off, how long to cut,
//! and where it would break.
//!
//! [`make_up`] judges every rope offered for a line, keeps the best that
//! stands, lays out its ends, and sums finished length and ends into a cut
//! length rounded up once. Where the ends lie on the lead over the whole
//! travel is checked too. A break or proof test outranks all of it.

mod cover;
mod judge;
mod line;
mod on_lead;
mod request;
mod weakest;

pub use cover::{Cover, Stripped, water_held};
pub use judge::{Verdict, judge};
pub use line::{MadeUp, MakeUpError, TRIMMING, make_up};
pub use on_lead::{Zone, zones_on_lead};
pub use request::{CoverWish, Duty, EndWish, Fit, LineRequest};
pub use weakest::{WeakPoint, weak_points};
