//! Where numbers come from, how an answer was worked out, and what is wrong
//! with it.
//!
//! A [`Source`] names a publication, the trade's common practice, our own
//! derivation or somebody's memory; [`Sourced`] is a number that cannot be
//! had without one. [`Step`]s are the working of an answer and [`Finding`]s
//! its graded bad news; card, terminal and page print the same ones.

mod finding;
mod registry;
mod source;
mod step;

pub use finding::{Checked, Finding, Grade, worst};
pub use registry::*;
pub use source::{Citation, Kind, OutOfRange, Source, Sourced};
pub use step::Step;
