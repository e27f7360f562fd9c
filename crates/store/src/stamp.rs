//! Who does it, and when: an argument of every change, for the store has no
//! clock.

use crate::error::Error;

/// Who makes a change, and when.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stamp {
    who: String,
    at: String,
}

impl Stamp {
    /// By the person `who` at the time `at`, RFC 3339 in UTC:
    /// `2026-11-25T14:05:00Z`, with or without a fraction of a second.
    ///
    /// Order of events never hangs on this time: rows of the history are
    /// numbered, so a clock that is set back changes no order.
    ///
    /// # Errors
    /// [`Error::Value`] when nobody is named, or `at` is no such time.
    ///
    /// ```
    /// let stamp = store::Stamp::new("Ada", "2026-11-25T14:05:00Z")?;
    /// assert_eq!(stamp.day(), "2026-11-25");
    /// assert!(store::Stamp::new("Ada", "yesterday").is_err());
    /// # Ok::<(), store::Error>(())
    /// ```
    pub fn new(who: &str, at: &str) -> Result<Stamp, Error> {
        if who.trim().is_empty() {
            let allowed = "the name of a person, or the name of the program that acts".to_owned();
            return Err(Error::Value { field: "who", given: who.to_owned(), allowed });
        }
        if !is_time(at) {
            let allowed = "a time in UTC as 2026-11-25T14:05:00Z".to_owned();
            return Err(Error::Value { field: "at", given: at.to_owned(), allowed });
        }
        Ok(Stamp { who: who.to_owned(), at: at.to_owned() })
    }

    /// Who.
    #[must_use]
    pub fn who(&self) -> &str {
        &self.who
    }

    /// When, RFC 3339.
    #[must_use]
    pub fn at(&self) -> &str {
        &self.at
    }

    /// The day of it.
    #[must_use]
    pub fn day(&self) -> &str {
        self.at.get(..10).unwrap_or_default()
    }
}

/// Refuses what is no day such as `2026-11-25`.
///
/// # Errors
/// [`Error::Value`] with the field's name.
pub fn check_day(field: &'static str, day: &str) -> Result<(), Error> {
    if is_day(day) {
        return Ok(());
    }
    Err(Error::Value { field, given: day.to_owned(), allowed: "a day as 2026-11-25".to_owned() })
}

fn is_day(text: &str) -> bool {
    let bytes = text.as_bytes();
    let shaped = bytes.len() == 10 && bytes[4] == b'-' && bytes[7] == b'-';
    let part = |range: std::ops::Range<usize>| text.get(range).and_then(digits);
    let (Some(year), Some(month), Some(day)) = (part(0..4), part(5..7), part(8..10)) else { return false };
    shaped && (1..=12).contains(&month) && (1..=days_in(year, month)).contains(&day)
}

fn is_time(text: &str) -> bool {
    let Some((day, time)) = text.split_once('T') else { return false };
    let Some(clock) = time.strip_suffix('Z') else { return false };
    let (clock, fraction) = clock.split_once('.').unwrap_or((clock, "0"));
    let bytes = clock.as_bytes();
    let part = |range: std::ops::Range<usize>| clock.get(range).and_then(digits);
    let shaped = bytes.len() == 8 && bytes[2] == b':' && bytes[5] == b':';
    let within = |value: Option<u32>, most: u32| value.is_some_and(|value| value <= most);
    is_day(day)
        && shaped
        && within(part(0..2), 23)
        && within(part(3..5), 59)
        && within(part(6..8), 60)
        && (1..=9).contains(&fraction.len())
        && fraction.bytes().all(|c| c.is_ascii_digit())
}

fn digits(text: &str) -> Option<u32> {
    text.bytes().all(|c| c.is_ascii_digit()).then(|| text.parse().ok()).flatten()
}

const fn days_in(year: u32, month: u32) -> u32 {
    match month {
        4 | 6 | 9 | 11 => 30,
        2 if year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400)) => 29,
        2 => 28,
        _ => 31,
    }
}

#[cfg(test)]
mod tests {
    use super::{is_day, is_time};

    #[test]
    fn days_and_times_are_what_the_calendar_has() {
        for day in ["2024-02-29", "2000-02-29", "2026-12-31"] {
            assert!(is_day(day), "{day}");
        }
        for day in [
            "2026-02-29",
            "1900-02-29",
            "2026-13-01",
            "2026-00-10",
            "2026-1-01",
            "2026-01-00",
            "20260101",
            "",
            "2026-01-0é",
        ] {
            assert!(!is_day(day), "{day}");
        }
        for time in ["2026-11-25T00:00:00Z", "2026-11-25T23:59:60Z", "2026-11-25T14:05:00.123456789Z"] {
            assert!(is_time(time), "{time}");
        }
        for time in [
            "2026-11-25",
            "2026-11-25T24:00:00Z",
            "2026-11-25T14:05:00+01:00",
            "2026-11-25T14:05Z",
            "2026-11-25T14:05:00.Z",
        ] {
            assert!(!is_time(time), "{time}");
        }
    }
}
