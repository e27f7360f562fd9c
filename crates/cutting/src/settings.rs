//! How hard to search, and the caller's hold on it.

use std::fmt;

/// How hard to search. The core has no clock: the caller stops it.
#[derive(Clone, Copy)]
pub struct Settings<'a> {
    /// Seed of the shaken restarts.
    pub seed: u64,
    /// Loss in millimetres that need not be fought for: the search ends once
    /// plan and bound are no further apart. The bound stays true.
    pub tolerance: i64,
    /// Asked now and then; `true` ends the search with the best plan so far.
    pub stop: &'a dyn Fn() -> bool,
    /// Told when the plan or the bound of a rope gets better.
    pub progress: &'a dyn Fn(Progress<'_>),
}

/// How far the search of one rope is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress<'a> {
    /// The rope being planned.
    pub rope: &'a str,
    /// What the search is doing.
    pub doing: &'a str,
    /// Cost of the best plan so far above the bound: millimetres of loss, and
    /// far more than any rope where an earlier goal is still open.
    pub gap: i64,
}

impl Default for Settings<'_> {
    /// Seed 1, no tolerance, never stopped.
    fn default() -> Self {
        Settings { seed: 1, tolerance: 0, stop: &|| false, progress: &|_| {} }
    }
}

impl fmt::Debug for Settings<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Settings").field("seed", &self.seed).field("tolerance", &self.tolerance).finish()
    }
}
