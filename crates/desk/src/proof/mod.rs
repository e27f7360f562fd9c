//! Proof and break tests: what the log says, how a piece is proved, what a
//! curve comes to, and what may be certified.
//!
//! Every answer carries the cautions of a test bench, whatever was asked.

mod certificate;
mod curve;
mod log;
mod plan;

pub use certificate::{CertificateAnswer, CertificateRequest, certificate};
pub(crate) use curve::curve_of_file;
pub use curve::{CurveAnswer, CurveRequest, curve};
pub use log::{ProofAnswer, ProofRequest, SpliceProof, TestAnswer, proof};
pub(crate) use log::{TestFacts, default_of, tests_of_file};
#[cfg(feature = "records")]
pub(crate) use log::{answer, test_answer};
pub use plan::{PlanAnswer, PlanRequest, proof_plans};

/// What is said at every proof and break test.
pub(crate) fn cautions() -> Vec<&'static str> {
    proving::CAUTIONS.to_vec()
}
