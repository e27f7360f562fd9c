//! The clock and the waiting: what a front end needs around the store's calls.

use crate::problem::{Fault, Problem};
use std::time::{SystemTime, UNIX_EPOCH};
use store::Stamp;

/// Somebody, now: the time in UTC to the millisecond.
///
/// # Errors
/// When nobody is named, or the clock stands before 1970.
pub fn stamp(who: &str) -> Result<Stamp, Problem> {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).map_err(|_| {
        Problem::new(Fault::Request, "clock", "the clock of this machine stands before 1970").hint("set it")
    })?;
    let days = i64::try_from(since.as_secs() / 86_400).unwrap_or(i64::MAX);
    let (year, month, day) = civil(days);
    let second = since.as_secs() % 86_400;
    let (hour, minute, second) = (second / 3600, second / 60 % 60, second % 60);
    let text = format!("{year:04}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}.{:03}Z", since.subsec_millis());
    Ok(Stamp::new(who, &text)?)
}

/// Year, month and day of a day counted from 1970-01-01, by the Gregorian
/// calendar's cycle of 400 years (146 097 days) with years begun in March.
const fn civil(days: i64) -> (i64, i64, i64) {
    let shifted = days + 719_468;
    let (cycle, of_cycle) = (shifted.div_euclid(146_097), shifted.rem_euclid(146_097));
    let year = (of_cycle - of_cycle / 1_460 + of_cycle / 36_524 - of_cycle / 146_096) / 365;
    let of_year = of_cycle - (365 * year + year / 4 - year / 100);
    let month = (5 * of_year + 2) / 153;
    let day = of_year - (153 * month + 2) / 5 + 1;
    let (month, later) = if month < 10 { (month + 3, 0) } else { (month - 9, 1) };
    (year + cycle * 400 + later, month, day)
}

/// Does what waits, and waits for it: for front ends that have no runtime.
///
/// # Errors
/// When the system gives none.
pub fn wait<T>(work: impl Future<Output = T>) -> Result<T, Problem> {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build();
    let runtime = runtime.map_err(|why| Problem::new(Fault::Disk, "no-runtime", format!("no runtime: {why}")))?;
    Ok(runtime.block_on(work))
}

#[cfg(test)]
mod tests {
    use super::civil;

    #[test]
    fn days_have_their_dates() {
        for (days, date) in [
            (0, (1970, 1, 1)),
            (-1, (1969, 12, 31)),
            (11_016, (2000, 2, 29)),
            (11_017, (2000, 3, 1)),
            (20_782, (2026, 11, 25)),
            (47_540, (2100, 2, 28)),
            (47_541, (2100, 3, 1)),
        ] {
            assert_eq!(civil(days), date, "{days}");
        }
    }

    /// Every day of 800 years is the next one of the day before.
    #[test]
    fn no_day_is_left_out() {
        let mut last = civil(-146_098);
        for days in -146_097..146_097 {
            let (year, month, day) = civil(days);
            let leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
            let length = |month| match month {
                2 if leap => 29,
                2 => 28,
                4 | 6 | 9 | 11 => 30,
                _ => 31,
            };
            let (before_year, before_month, before_day) = last;
            let follows = if day > 1 {
                (year, month, day) == (before_year, before_month, before_day + 1) && day <= length(month)
            } else if month > 1 {
                (before_year, before_month) == (year, month - 1) && before_day == length(month - 1)
            } else {
                last == (year - 1, 12, 31)
            };
            assert!(follows, "{last:?} then {:?}", (year, month, day));
            last = (year, month, day);
        }
    }
}
