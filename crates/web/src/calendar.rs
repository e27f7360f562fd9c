//! The day and the time, read from the machine's clock at the edge.
//!
//! Days are those of UTC: what the store writes, and what a test can repeat.
//! Method: days since 1970 to year, month and day by 400-year eras.

use std::time::{SystemTime, UNIX_EPOCH};

/// Seconds since 1970; 0 when the clock stands before that.
pub(crate) fn seconds() -> u64 {
    SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs())
}

/// Today, year-month-day.
pub(crate) fn today() -> String {
    day(seconds())
}

/// The time of an event, to the second.
pub(crate) fn now() -> String {
    let now = seconds();
    let of_day = now % 86_400;
    format!("{}T{:02}:{:02}:{:02}Z", day(now), of_day / 3600, of_day / 60 % 60, of_day % 60)
}

fn day(seconds: u64) -> String {
    let days = seconds / 86_400 + 719_468;
    let era = days / 146_097;
    let of_era = days % 146_097;
    let year_of_era = (of_era - of_era / 1_460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let shifted = (5 * of_year + 2) / 153;
    let day = of_year - (153 * shifted + 2) / 5 + 1;
    let month = if shifted < 10 { shifted + 3 } else { shifted - 9 };
    let year = year_of_era + era * 400 + u64::from(month <= 2);
    format!("{year:04}-{month:02}-{day:02}")
}

#[cfg(test)]
mod tests {
    use super::day;

    #[test]
    fn days_of_the_calendar() {
        let cases = [
            (0, "1970-01-01"),
            (951_782_400, "2000-02-29"),
            (1_795_564_800, "2026-11-25"),
            (4_102_444_799, "2099-12-31"),
        ];
        for (seconds, expected) in cases {
            assert_eq!(day(seconds), expected);
        }
    }
}
