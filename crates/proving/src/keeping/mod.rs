//! What happens to a piece after the bench: inspected, turned, shortened,
//! re-spliced, retired, and when it must be looked at.

mod condition;
mod due;
mod life;
mod residual;

pub use condition::{Condition, Criterion, Inspected, Limit, Reading, ReadingError, form, judge};
pub use due::{Due, DueRow, due_list};
pub use life::{Event, Interval, Life, LifeError, State};
pub use residual::{Residual, UsedTests, residual};

/// A day of the calendar.
pub type Day = jiff::civil::Date;

/// A day from `2026-11-25`; `None` for anything else.
///
/// ```
/// assert!(proving::day_from("2028-02-29").is_some());
/// assert!(proving::day_from("2027-02-29").is_none() && proving::day_from("20270228").is_none());
/// ```
#[must_use]
pub fn day_from(text: &str) -> Option<Day> {
    let shaped = text.len() == 10
        && text.bytes().enumerate().all(|(at, byte)| match at {
            4 | 7 => byte == b'-',
            _ => byte.is_ascii_digit(),
        });
    shaped.then(|| text.parse().ok()).flatten()
}

/// So many days later; `None` beyond the calendar.
#[must_use]
pub fn days_after(day: Day, days: i32) -> Option<Day> {
    use jiff::ToSpan;
    day.checked_add(days.days()).ok()
}
