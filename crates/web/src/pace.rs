//! How often something may be done in a minute, by whom: changes of a shared
//! loft, and refusals that are written down.
//!
//! Counted by the machine's own count since it started, so that a clock that
//! is set back stops nobody.

use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

/// Changes of one user in a minute: drafts are kept as somebody types, so not few.
pub(crate) const CHANGES: u32 = 600;
/// Refusals from one address that are written down one by one in a minute:
/// whoever is refused must not be able to fill the disk.
pub(crate) const REFUSALS: u32 = 60;
/// Names counted at once; more are one.
const NAMES: usize = 10_000;
const MINUTE: Duration = Duration::from_secs(60);

/// Counts of this minute, name by name.
#[derive(Debug)]
pub(crate) struct Pace {
    most: u32,
    counts: Mutex<HashMap<String, Count>>,
}

#[derive(Debug)]
struct Count {
    since: Instant,
    done: u32,
}

/// What is to be said of one more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Turn {
    /// It is within the limit.
    Within,
    /// It is the first one over it.
    FirstOver,
    /// It is over it, as others before it.
    Over,
}

impl Pace {
    pub(crate) fn new(most: u32) -> Pace {
        Pace { most, counts: Mutex::default() }
    }

    /// Counts one more of this name, now.
    pub(crate) fn count(&self, name: &str) -> Turn {
        self.count_at(name, Instant::now())
    }

    fn count_at(&self, name: &str, now: Instant) -> Turn {
        let mut counts = self.counts.lock().unwrap_or_else(PoisonError::into_inner);
        counts.retain(|_, count| now.duration_since(count.since) < MINUTE);
        let name = if counts.len() < NAMES || counts.contains_key(name) { name } else { "" };
        let count = counts.entry(name.to_owned()).or_insert(Count { since: now, done: 0 });
        count.done = count.done.saturating_add(1);
        match count.done {
            done if done <= self.most => Turn::Within,
            done if done == self.most + 1 => Turn::FirstOver,
            _ => Turn::Over,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_minute_has_its_number_and_the_next_begins_anew() {
        let pace = Pace::new(3);
        let begun = Instant::now();
        let at = |second| pace.count_at("Ada", begun + Duration::from_secs(second));
        assert_eq!([at(0), at(1), at(2)], [Turn::Within; 3]);
        assert_eq!([at(3), at(4)], [Turn::FirstOver, Turn::Over]);
        assert_eq!(pace.count_at("Ben", begun + Duration::from_secs(4)), Turn::Within);
        assert_eq!(at(60), Turn::Within);
    }
}
