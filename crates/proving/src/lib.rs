//! Proof and break tests: how hard a piece may be pulled, how many are
//! sampled, and when a result is accepted.
//!
//! No published proof load for spliced yacht lines was found: the loft sets
//! it, and the limits here grade it.

mod acceptance;
mod certificate;
mod curve;
mod keeping;
mod learning;
mod proof_load;
mod statistics;
mod strength;
mod tests_log;

pub use acceptance::{BreakAt, Verdict, accept_spliced, accept_unspliced, sample_size};
pub use certificate::{Purpose, certificate_refused};
pub use curve::{Curve, CurveSummary, Sample, SampleError, admit_samples, summary, thinned};
pub use keeping::*;
pub use learning::*;
pub use proof_load::{
    CAUTIONS, ProofAt, ProofError, ProofLoad, ProofPlan, ProofWish, SNAP_BACK, proof_load, proof_plan,
};
pub use statistics::*;
pub use strength::{Efficiency, LEAST_BREAKS, SpliceStrength, Statistics, Taken, strength_of};
pub use tests_log::{Outcome, Test, TestError, Wear, admit, check_test};
