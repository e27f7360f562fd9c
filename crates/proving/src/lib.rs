//! Proof and break tests: how hard a piece may be pulled, how many are
//! sampled, and when a result is accepted.
//!
//! No published proof load for spliced yacht lines was found: the loft sets
//! it, and the limits here grade it. Statistics of break tests are not here
//! yet.

mod acceptance;
mod proof_load;

pub use acceptance::{BreakAt, Verdict, accept_unspliced, sample_size};
pub use proof_load::{ProofLoad, SNAP_BACK, proof_load};
