//! The log of tests: what a single test says, and which records are none.
//!
//! A break at the splice is a result. A break elsewhere, and a proof load that
//! was passed, say only that the splice held at least so much. A test of a
//! retired piece says something of used rope, and nothing of new splices.

use std::collections::HashSet;
use thiserror::Error;
use units::Force;

/// How a test ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// It broke at the splice: throat, bury, tail's end or crown.
    BrokeAtSplice,
    /// The tail drew out: the splice let go at this load.
    DrewOut,
    /// The rope broke clear of the splice.
    BrokeElsewhere,
    /// A fitting, grip or pin gave way first.
    FittingFailed,
    /// The load was held and taken off.
    Held,
}

impl Outcome {
    /// Every outcome, in the order printed.
    pub const ALL: [Outcome; 5] =
        [Outcome::BrokeAtSplice, Outcome::DrewOut, Outcome::BrokeElsewhere, Outcome::FittingFailed, Outcome::Held];

    /// The word of files and commands.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Outcome::BrokeAtSplice => "splice",
            Outcome::DrewOut => "drew-out",
            Outcome::BrokeElsewhere => "rope",
            Outcome::FittingFailed => "fitting",
            Outcome::Held => "held",
        }
    }

    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Outcome::BrokeAtSplice => "broke at the splice",
            Outcome::DrewOut => "the tail drew out",
            Outcome::BrokeElsewhere => "the rope broke clear of the splice",
            Outcome::FittingFailed => "a fitting failed first",
            Outcome::Held => "held",
        }
    }

    /// From its word, in any case.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Outcome> {
        Outcome::ALL.into_iter().find(|outcome| outcome.word().eq_ignore_ascii_case(word.trim()))
    }

    /// Does it show at which load the splice gave way?
    #[must_use]
    pub const fn is_of_splice(self) -> bool {
        matches!(self, Outcome::BrokeAtSplice | Outcome::DrewOut)
    }
}

/// One test.
#[derive(Debug, Clone, PartialEq)]
pub struct Test {
    /// Its number in the loft's log, which no other test has.
    pub number: String,
    /// The highest load it saw.
    pub load: Force,
    /// How it ended.
    pub outcome: Outcome,
    /// Listed strength of its rope.
    pub listed: Force,
    /// What the piece had been through; `None` for a new one.
    pub used: Option<Wear>,
    /// Why it is left out of the statistics; `None` where it counts.
    pub left_out: Option<String>,
}

/// Age and use of a piece that was tested after service.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wear {
    /// Months since it was put in service.
    pub months: f64,
    /// Hours under load, where the loft counts them.
    pub hours: Option<f64>,
}

impl Test {
    /// Its load as a share of the rope's listed strength.
    #[must_use]
    pub fn share(&self) -> f64 {
        self.load / self.listed
    }
}

/// Why a record is no test.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum TestError {
    /// Two tests of one number.
    #[error("test {number:?} is in the log already")]
    NumberTwice {
        /// The number.
        number: String,
    },
    /// No number at all.
    #[error("a test without a number")]
    NoNumber,
    /// A load that pulls nothing.
    #[error("test {number:?}: a load of {load}: it must be above zero")]
    Load {
        /// Its number.
        number: String,
        /// The load.
        load: Force,
    },
    /// A rope without strength.
    #[error("test {number:?}: a listed strength of {listed}: it must be above zero")]
    Listed {
        /// Its number.
        number: String,
        /// The strength.
        listed: Force,
    },
    /// A load that the rope cannot have held: a slip of unit or figure.
    #[error("test {number:?}: {load} is more than twice the listed strength, {listed}: check units and figures")]
    TooMuch {
        /// Its number.
        number: String,
        /// The load.
        load: Force,
        /// The strength.
        listed: Force,
    },
}

impl TestError {
    /// What to do instead.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        match self {
            TestError::NumberTwice { .. } => "give it a number of its own; the first of the two is kept",
            TestError::NoNumber => "number it as in the loft's log",
            TestError::Load { .. } | TestError::Listed { .. } | TestError::TooMuch { .. } => {
                "write the figure of the load cell, or of the rope list, with its unit: 42.5 kN"
            }
        }
    }
}

/// A load of more than this share of the listed strength is a slip.
const IMPOSSIBLE: f64 = 2.0;

/// Is it a test?
///
/// # Errors
/// When it has no number, a load or strength that cannot be, or both do not
/// go together.
pub fn check_test(test: &Test) -> Result<(), TestError> {
    let (number, load, listed) = (test.number.clone(), test.load, test.listed);
    if number.trim().is_empty() {
        return Err(TestError::NoNumber);
    }
    if load <= Force::ZERO {
        return Err(TestError::Load { number, load });
    }
    if listed <= Force::ZERO {
        return Err(TestError::Listed { number, listed });
    }
    if load > listed * IMPOSSIBLE {
        return Err(TestError::TooMuch { number, load, listed });
    }
    Ok(())
}

/// Tests kept, and each record refused with its place in the list. Of two
/// tests with one number the first is kept.
#[must_use]
pub fn admit(tests: Vec<Test>) -> (Vec<Test>, Vec<(usize, TestError)>) {
    let mut numbers = HashSet::new();
    let (mut kept, mut refused) = (Vec::with_capacity(tests.len()), Vec::new());
    for (index, test) in tests.into_iter().enumerate() {
        let verdict = check_test(&test).and_then(|()| {
            if numbers.insert(test.number.trim().to_owned()) {
                Ok(())
            } else {
                Err(TestError::NumberTwice { number: test.number.clone() })
            }
        });
        match verdict {
            Ok(()) => kept.push(test),
            Err(why) => refused.push((index, why)),
        }
    }
    (kept, refused)
}
