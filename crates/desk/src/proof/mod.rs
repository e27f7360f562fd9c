//! Proof and break tests: what the log says, how a piece is proved, what a
//! curve comes to, and what may be certified.
//!
//! Every answer carries the cautions of a test bench, whatever was asked.

mod certificate;
mod curve;
mod drawn;
mod log;
mod paper;
mod plan;
mod plots;

pub use certificate::{CertificateAnswer, CertificateRequest, certificate};
pub(crate) use curve::curve_of_file;
pub use curve::{CurveAnswer, CurveRequest, curve};
pub use drawn::{curve_drawn, tests_drawn};
pub use log::{ProofAnswer, ProofRequest, SpliceProof, StatisticsAnswer, TestAnswer, proof};
pub(crate) use log::{TestFacts, default_of, tests_of_file};
#[cfg(feature = "records")]
pub(crate) use log::{answer, test_answer};
pub use paper::{certificate_paper, curve_paper, tests_paper};
pub use plan::{PlanAnswer, PlanRequest, proof_plans};

/// What is said at every proof and break test.
pub(crate) fn cautions() -> Vec<&'static str> {
    proving::CAUTIONS.to_vec()
}

/// A force of the records as a person reads it.
///
/// ```
/// assert_eq!(desk::show_force(44_000.0, desk::System::Metric), "44 kN");
/// ```
#[must_use]
pub fn show_force(newtons: f64, system: units::System) -> String {
    units::Value::from(units::Force::of_n(newtons)).show(system)
}
