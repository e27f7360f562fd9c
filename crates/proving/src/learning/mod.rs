//! What the loft measures of its own work, and how that takes the place of a
//! default: friction, shrinkage, bedding-in, minutes.

mod blend;
mod friction;

pub use blend::{Default, Learned, Learns, blend};
pub use friction::{PullOut, PullOutError, friction_of};
