//! The proof load of a piece, graded against what is known to do harm.

use sources::{COMMON_PRACTICE, Citation, Finding, GIVEN, Grade, ISO_2307, NAVEDTRA_14160, Step};
use thiserror::Error;
use units::{Duration, Force, Length, Sentence, Value};

/// Bedding cycles of the test method go to this share of the strength.
const CAUTION_ABOVE: f64 = 0.50;
/// Above this share a rope is damaged for good.
const STOP_ABOVE: f64 = 0.75;

/// What everybody near a rope under test is told.
pub const SNAP_BACK: &str =
    "Nobody stands in line with a loaded rope or within its recoil: a part that breaks comes back.";

/// What is said at every proof and break test, on every output, in this order.
pub const CAUTIONS: [&str; 7] = [
    "Local rules come first, and the rules of whoever owns the machine.",
    SNAP_BACK,
    "Close the recoil zone off: behind each end, and to the sides as far as the rope is long.",
    "Put a shield or a heavy net over the rope and both ends before the pull; read the load from outside the zone.",
    "Anchors, pins, shackles and the load cell are rated for more than the highest load, and were looked at today.",
    "Gloves and eye protection for everybody in the room; nobody handles a loaded rope.",
    "Pull slowly, stop at any crack or slip, and go near only when the load is off.",
];

/// How a piece is proved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ProofWish {
    /// The load, as the loft sets it.
    pub load: ProofAt,
    /// How long it is held.
    pub hold: Duration,
    /// How often it is pulled.
    pub cycles: u32,
}

/// The load of a proof, as a loft settles it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ProofAt {
    /// A force.
    Load(Force),
    /// A share of the piece's estimated strength.
    Share(f64),
    /// So many times its working load.
    OverWorking {
        /// How many times.
        times: f64,
        /// The working load.
        working: Force,
    },
}

/// A plan for the proof of one piece.
#[derive(Debug, Clone, PartialEq)]
pub struct ProofPlan {
    /// The load with its grade.
    pub proof: ProofLoad,
    /// How long it is held.
    pub hold: Duration,
    /// How often it is pulled.
    pub cycles: u32,
    /// Tension at which it is measured before and after.
    pub reference: Force,
}

/// Why a plan cannot be made.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum ProofError {
    /// A load of nothing.
    #[error("a proof load of {given}: it must be above zero")]
    Load {
        /// As worked out.
        given: Force,
    },
    /// A strength of nothing.
    #[error("an estimated strength of {given}: it must be above zero")]
    Strength {
        /// As given.
        given: Force,
    },
    /// No pull at all, or more than a bench does.
    #[error("{given} cycles: from 1 to 1000")]
    Cycles {
        /// As given.
        given: u32,
    },
    /// A hold below nothing, or over a day.
    #[error("a hold of {given}: from 0 s to 24 h")]
    Hold {
        /// As given.
        given: Duration,
    },
}

/// The plan of a proof: load graded, hold, cycles, and the tension at which
/// the piece is measured before and after.
///
/// # Errors
/// When load, strength, hold or cycles cannot be.
///
/// # Source
/// No published proof load for spliced yacht lines was found: the loft sets
/// it. Grades as for [`proof_load`].
pub fn proof_plan(wish: ProofWish, strength: Force, diameter: Length) -> Result<ProofPlan, ProofError> {
    if strength <= Force::ZERO {
        return Err(ProofError::Strength { given: strength });
    }
    let load = match wish.load {
        ProofAt::Load(load) => load,
        ProofAt::Share(share) => strength * share,
        ProofAt::OverWorking { times, working } => working * times,
    };
    if load <= Force::ZERO {
        return Err(ProofError::Load { given: load });
    }
    if !(1..=1000).contains(&wish.cycles) {
        return Err(ProofError::Cycles { given: wish.cycles });
    }
    if wish.hold < Duration::ZERO || wish.hold.to_hours() > 24.0 {
        return Err(ProofError::Hold { given: wish.hold });
    }
    Ok(ProofPlan {
        proof: proof_load(load, strength),
        hold: wish.hold,
        cycles: wish.cycles,
        reference: cordage::reference_tension(diameter),
    })
}

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
