//! Cases against outside references: what is asked of which room, what a
//! published number says, and how far off the answer is.
//!
//! A case is a TOML file in `cases/<source>/`; a new one needs no Rust unless
//! it asks something new. Each names a mistake (a sign, a factor of two, a
//! unit) that must make it fail. [`report::report`] sums them up. Numbers from
//! memory, of common practice, of mathematics alone and those that our own
//! model was fitted on are run too, and are not counted as outside.

use std::path::PathBuf;
use thiserror::Error;

pub mod amount;
pub mod asks;
pub mod by_hand;
pub mod case;
pub mod expected;
pub mod given;
mod hand_state;
pub mod mutation;
pub mod report;
pub mod rows;
pub mod run;

/// Why a case has no outcome.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Trouble {
    /// The case itself is wrong.
    #[error("wrong case: {0}")]
    Malformed(String),
    /// The room refused the inputs.
    #[error("refused: {0}")]
    Refused(String),
}

impl Trouble {
    pub(crate) fn malformed(text: impl Into<String>) -> Trouble {
        Trouble::Malformed(text.into())
    }

    /// A room's own refusal.
    pub(crate) fn refused(fault: impl std::fmt::Display) -> Trouble {
        Trouble::Refused(fault.to_string())
    }
}

/// The folder of this package, asked for when run.
#[must_use]
pub fn folder() -> PathBuf {
    std::env::var_os("CARGO_MANIFEST_DIR").map_or_else(|| PathBuf::from("validation"), PathBuf::from)
}
