//! Which pieces may have a certificate of what was made and tested, and who
//! gives one for those that may not.

use sources::{Finding, Grade, OURS};
use units::Sentence;

/// What a piece is for, as far as a certificate is concerned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Purpose {
    /// Running rigging, mooring, work on deck.
    Running,
    /// A person's life hangs on it: harness, tether, climbing, rescue.
    LifeSupport,
    /// It lifts a person: bosun's chair, man-riding.
    LiftsPeople,
    /// It holds the mast up.
    StandingRigging,
}

impl Purpose {
    /// Every purpose.
    pub const ALL: [Purpose; 4] =
        [Purpose::Running, Purpose::LifeSupport, Purpose::LiftsPeople, Purpose::StandingRigging];

    /// The word of orders and records.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Purpose::Running => "running",
            Purpose::LifeSupport => "life-support",
            Purpose::LiftsPeople => "lifts-people",
            Purpose::StandingRigging => "standing-rigging",
        }
    }

    /// From its word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Purpose> {
        Purpose::ALL.into_iter().find(|purpose| purpose.word().eq_ignore_ascii_case(word.trim()))
    }
}

/// Why a piece for this purpose has no certificate from a rope loft, and who
/// may give one; `None` where it may have ours.
///
/// ```
/// use proving::{Purpose, certificate_refused};
/// assert!(certificate_refused(Purpose::Running).is_none());
/// let refused = certificate_refused(Purpose::LiftsPeople).unwrap();
/// assert_eq!(refused.grade, sources::Grade::Stop);
/// ```
#[must_use]
pub fn certificate_refused(purpose: Purpose) -> Option<Finding> {
    let (code, text, who) = match purpose {
        Purpose::Running => return None,
        Purpose::LifeSupport => (
            "life-support",
            "a piece that a life hangs on gets no certificate here: a proof load says nothing of falls",
            "ask the maker of approved life-support equipment, or the test body that your law names for it",
        ),
        Purpose::LiftsPeople => (
            "lifts-people",
            "a piece that lifts a person gets no certificate here: a proof load does not make it fit for that",
            "ask the competent person or authority that your law names for lifting people",
        ),
        Purpose::StandingRigging => (
            "standing-rigging",
            "standing rigging gets no certificate here: creep and life under standing load are not proved by a pull",
            "ask the rig's designer, and a surveyor or classification society",
        ),
    };
    Some(Finding::new(Grade::Stop, code, Sentence::new(text), OURS.at("who may certify")).remedy(Sentence::new(who)))
}
