//! The proof load of a piece, graded against what is known to do harm.

use sources::{COMMON_PRACTICE, Citation, Finding, GIVEN, Grade, ISO_2307, NAVEDTRA_14160, Step};
use units::{Force, Sentence, Value};

/// Bedding cycles of the test method go to this share of the strength.
const CAUTION_ABOVE: f64 = 0.50;
/// Above this share a rope is damaged for good.
const STOP_ABOVE: f64 = 0.75;

/// What everybody near a rope under test is told.
pub const SNAP_BACK: &str =
    "Nobody stands in line with a loaded rope or within its recoil: a part that breaks comes back.";

/// A proof load with its working and grade.
#[derive(Debug, Clone, PartialEq)]
pub struct ProofLoad {
    /// The load to pull to.
    pub load: Force,
    /// How it was settled.
    pub working: Vec<Step>,
    /// What is to be said about it.
    pub findings: Vec<Finding>,
}

/// Grades the loft's proof load against a piece's estimated strength.
///
/// # Source
/// Caution above half: the bedding level of ISO 2307. Stop above three
/// quarters: NAVEDTRA 14160.
///
/// # Example
/// ```
/// use units::Force;
/// let mild = proving::proof_load(Force::of_kn(20.0), Force::of_kn(50.0));
/// assert!(mild.findings.is_empty());
/// let hard = proving::proof_load(Force::of_kn(40.0), Force::of_kn(50.0));
/// assert_eq!(sources::worst(&hard.findings), Some(sources::Grade::Stop));
/// ```
#[must_use]
pub fn proof_load(wanted: Force, strength: Force) -> ProofLoad {
    let share = wanted / strength;
    let graded: Option<(Grade, &'static str, f64, Citation)> = if share > STOP_ABOVE {
        Some((Grade::Stop, "proof-damages", STOP_ABOVE, NAVEDTRA_14160.at("overload above 75 %")))
    } else if share > CAUTION_ABOVE {
        Some((Grade::Caution, "proof-high", CAUTION_ABOVE, ISO_2307.at("bedding to 50 %")))
    } else {
        None
    };
    let findings = graded
        .map(|(grade, code, limit, citation)| {
            let text = Sentence::new("the proof load {} is {} of the estimated strength")
                .with(wanted)
                .with(Value::Share(share));
            Finding::new(grade, code, text, citation)
                .remedy(Sentence::new("prove to {} or less").with(strength * limit))
        })
        .into_iter()
        .collect();
    let working = vec![
        Step::new("proof load", "", wanted, GIVEN.at("loft")),
        Step::new(
            "share of strength",
            "proof load / strength",
            Value::Share(share),
            COMMON_PRACTICE.at("the loft sets the proof load"),
        )
        .input("strength", strength),
    ];
    ProofLoad { load: wanted, working, findings }
}
