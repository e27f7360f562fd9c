//! What proves the bound on a rope's loss.

use std::fmt;

/// What proves that no plan loses less than the bound.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Certificate {
    /// There is nothing to cut.
    Nothing,
    /// Even spliced end to end, the reels opened would leave as much.
    EndToEnd,
}

impl fmt::Display for Certificate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Certificate::Nothing => "nothing to cut",
            Certificate::EndToEnd => "the reels spliced end to end",
        })
    }
}
