//! The life of a piece, from the bench to the bin: which events may follow
//! which, and what each does to the date of the next inspection.
//!
//! No event moves that date later except an inspection or a change of plan
//! that says why. A retired piece comes back into no use: it may be broken
//! for test, and that is all. Events come in the order of their days.

use super::Condition;
use jiff::ToSpan;
use jiff::civil::Date;
use thiserror::Error;

/// Where a piece is in its life.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// Made, not yet in use.
    Made,
    /// On board and in use.
    InService,
    /// Taken out of use by an inspection: rework and inspect, or retire.
    Withdrawn,
    /// Out of use for good.
    Retired,
    /// Broken for test.
    Broken,
}

impl State {
    /// The words printed.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            State::Made => "made",
            State::InService => "in service",
            State::Withdrawn => "withdrawn",
            State::Retired => "retired",
            State::Broken => "broken for test",
        }
    }
}

/// How often a piece is looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Months between looks; a season is twelve.
    pub months: u16,
    /// Hours under load between looks, where they are counted.
    pub hours: Option<f64>,
}

impl Interval {
    /// A look a season: no published interval for running rigging was found,
    /// so the loft sets its own.
    pub const SEASON: Interval = Interval { months: 12, hours: None };
}

/// What happens to a piece.
#[derive(Debug, Clone, PartialEq)]
pub enum Event {
    /// Handed over and in use.
    PutInService,
    /// Hours under load since the last entry.
    Used {
        /// How many.
        hours: f64,
    },
    /// Looked at by the form of its rope.
    Inspected {
        /// What it came to.
        condition: Condition,
        /// The next look; `None` for the usual interval, half of it if watched.
        next: Option<Date>,
        /// Why the date may move later.
        reason: Option<String>,
    },
    /// The next look set to another date.
    Replanned {
        /// To when.
        next: Date,
        /// Why.
        reason: Option<String>,
    },
    /// Turned end for end.
    Turned,
    /// Cut back, with what it was cut back for.
    Shortened,
    /// An end spliced anew.
    Respliced,
    /// Pulled to a proof load and sound.
    Proved,
    /// Sold or handed to another boat.
    Issued,
    /// Out of use for good.
    Retired {
        /// Why.
        reason: String,
    },
    /// Broken on the test bench.
    BrokenForTest,
}

impl Event {
    /// The word of records.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            Event::PutInService => "in-service",
            Event::Used { .. } => "used",
            Event::Inspected { .. } => "inspected",
            Event::Replanned { .. } => "replanned",
            Event::Turned => "turned",
            Event::Shortened => "shortened",
            Event::Respliced => "re-spliced",
            Event::Proved => "proved",
            Event::Issued => "issued",
            Event::Retired { .. } => "retired",
            Event::BrokenForTest => "broken-for-test",
        }
    }
}

/// What is known of a piece after its events so far.
#[derive(Debug, Clone, PartialEq)]
pub struct Life {
    /// Where it is.
    pub state: State,
    /// When it was made.
    pub made: Date,
    /// The day of the last event.
    pub latest: Date,
    /// First day in service.
    pub since: Option<Date>,
    /// Hours under load in all.
    pub hours: f64,
    /// How often it is looked at.
    pub interval: Interval,
    /// When it must be looked at next.
    pub due: Option<Date>,
    /// At how many hours, where they are counted.
    pub due_hours: Option<f64>,
    /// Times turned end for end.
    pub turned: u32,
    /// Times shortened or re-spliced.
    pub reworked: u32,
    /// Reworked since it was withdrawn.
    mended: bool,
}

/// Why an event cannot be.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum LifeError {
    /// Not after what it has been through.
    #[error("a piece that is {state} cannot be entered as {event}")]
    NotNow {
        /// Where the piece is.
        state: &'static str,
        /// The event.
        event: &'static str,
    },
    /// Before the last entry.
    #[error("{event} on {on}: the last entry is of {latest}")]
    Before {
        /// The event.
        event: &'static str,
        /// Its day.
        on: Date,
        /// The day of the last.
        latest: Date,
    },
    /// The next look moved later, and nobody says why.
    #[error("the next look would move from {from} to {to}, and no reason is given")]
    LaterWithoutReason {
        /// The date in force.
        from: Date,
        /// The date wanted.
        to: Date,
    },
    /// A next look before the day itself.
    #[error("the next look on {next} lies before {on}")]
    NextBefore {
        /// The date wanted.
        next: Date,
        /// The event's day.
        on: Date,
    },
    /// Out of use for no reason.
    #[error("retired without a reason")]
    NoReason,
    /// Hours that cannot be.
    #[error("{hours} hours of use: a number from 0 to 100000 is wanted")]
    Hours {
        /// As given.
        hours: f64,
    },
    /// A date beyond the calendar.
    #[error("the next look would lie beyond the calendar")]
    Calendar,
}

impl LifeError {
    /// What to do instead.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        match self {
            LifeError::NotNow { .. } => {
                "a retired piece may only be broken for test; a withdrawn one is reworked and inspected, or retired"
            }
            LifeError::Before { .. } => "enter events in the order of their days",
            LifeError::LaterWithoutReason { .. } => "say why: what was looked at, and by whom",
            LifeError::NextBefore { .. } | LifeError::Calendar => "give a day after the inspection",
            LifeError::NoReason => "say what ended its use: wear, age, overload, bought new",
            LifeError::Hours { .. } => "give the hours under load since the last entry",
        }
    }
}

impl Life {
    /// A piece fresh from the bench.
    #[must_use]
    pub const fn new(made: Date, interval: Interval) -> Life {
        Life {
            state: State::Made,
            made,
            latest: made,
            since: None,
            hours: 0.0,
            interval,
            due: None,
            due_hours: None,
            turned: 0,
            reworked: 0,
            mended: false,
        }
    }

    /// The piece after one more event.
    ///
    /// # Errors
    /// When the event cannot follow, lies before the last one, or moves the
    /// next look later without a reason.
    ///
    /// # Example
    /// ```
    /// use jiff::civil::date;
    /// use proving::{Event, Interval, Life, LifeError, State};
    /// let piece = Life::new(date(2026, 3, 1), Interval::SEASON).after(date(2026, 4, 1), &Event::PutInService)?;
    /// assert_eq!(piece.due, Some(date(2027, 4, 1)));
    /// let gone = piece.after(date(2026, 9, 1), &Event::Retired { reason: "chafed through".to_owned() })?;
    /// assert!(matches!(gone.after(date(2026, 9, 2), &Event::PutInService), Err(LifeError::NotNow { .. })));
    /// assert_eq!(gone.after(date(2026, 9, 2), &Event::BrokenForTest)?.state, State::Broken);
    /// # Ok::<(), LifeError>(())
    /// ```
    pub fn after(&self, on: Date, event: &Event) -> Result<Life, LifeError> {
        if on < self.latest {
            return Err(LifeError::Before { event: event.word(), on, latest: self.latest });
        }
        let mut next = Life { latest: on, ..self.clone() };
        match (self.state, event) {
            (State::Made, Event::PutInService) => next.start(on)?,
            (State::Withdrawn, Event::PutInService) if self.mended => next.state = State::InService,
            (State::InService, Event::Used { hours }) => next.hours += checked_hours(*hours)?,
            (
                State::Made | State::InService | State::Withdrawn,
                Event::Inspected { condition, next: wanted, reason },
            ) => {
                next.inspected(on, *condition, (*wanted, reason.as_deref()))?;
            }
            (State::Made | State::InService | State::Withdrawn, Event::Replanned { next: wanted, reason }) => {
                next.set_due(on, *wanted, reason.as_deref())?;
            }
            (State::Made | State::InService | State::Withdrawn, Event::Turned) => next.turned += 1,
            (State::Made | State::InService | State::Withdrawn, Event::Shortened | Event::Respliced) => {
                next.reworked += 1;
            }
            (State::Made | State::InService | State::Withdrawn, Event::Proved) => {}
            (State::Made | State::InService, Event::Issued) => {}
            (State::Made | State::InService | State::Withdrawn, Event::Retired { reason }) => {
                if reason.trim().is_empty() {
                    return Err(LifeError::NoReason);
                }
                (next.state, next.due, next.due_hours) = (State::Retired, None, None);
            }
            (State::Made | State::Retired, Event::BrokenForTest) => {
                (next.state, next.due, next.due_hours) = (State::Broken, None, None);
            }
            (state, event) => return Err(LifeError::NotNow { state: state.words(), event: event.word() }),
        }
        Ok(next)
    }

    fn start(&mut self, on: Date) -> Result<(), LifeError> {
        (self.state, self.since) = (State::InService, Some(on));
        let usual = later_by(on, self.interval.months)?;
        // A date that was planned before it went on board stays if it is earlier.
        self.due = Some(self.due.map_or(usual, |due| due.min(usual)));
        self.due_hours = self.interval.hours;
        Ok(())
    }

    fn inspected(
        &mut self,
        on: Date,
        condition: Condition,
        wish: (Option<Date>, Option<&str>),
    ) -> Result<(), LifeError> {
        let (wanted, reason) = wish;
        match condition {
            Condition::Withdraw => {
                (self.state, self.mended) = (State::Withdrawn, false);
                return Ok(());
            }
            // What was not seen moves no date later, whatever the reason.
            Condition::Incomplete => {
                if let Some(next) = wanted {
                    let kept = self.due.map_or(next, |due| due.min(next));
                    self.set_due(on, kept, None)?;
                }
                return Ok(());
            }
            Condition::Good | Condition::Watch => {}
        }
        let months =
            if condition == Condition::Watch { self.interval.months.div_ceil(2) } else { self.interval.months };
        let usual = later_by(on, months)?;
        self.set_due(on, wanted.unwrap_or(usual), reason)?;
        self.mended = true;
        self.due_hours = self.interval.hours.map(|hours| {
            let share = if condition == Condition::Watch { 0.5 } else { 1.0 };
            self.hours + share * hours
        });
        Ok(())
    }

    fn set_due(&mut self, on: Date, next: Date, reason: Option<&str>) -> Result<(), LifeError> {
        if next < on {
            return Err(LifeError::NextBefore { next, on });
        }
        let said = reason.is_some_and(|reason| !reason.trim().is_empty());
        match self.due {
            Some(from) if next > from && !said => Err(LifeError::LaterWithoutReason { from, to: next }),
            _ => {
                self.due = Some(next);
                Ok(())
            }
        }
    }

    /// Months in service up to a day; nothing before it went on board.
    #[must_use]
    pub fn months_in_service(&self, on: Date) -> f64 {
        const DAYS_A_MONTH: f64 = 365.25 / 12.0;
        let end = if matches!(self.state, State::Retired | State::Broken) { self.latest.min(on) } else { on };
        self.since.map_or(0.0, |since| f64::from((end - since).get_days()) / DAYS_A_MONTH).max(0.0)
    }
}

fn checked_hours(hours: f64) -> Result<f64, LifeError> {
    if (0.0..=100_000.0).contains(&hours) { Ok(hours) } else { Err(LifeError::Hours { hours }) }
}

fn later_by(on: Date, months: u16) -> Result<Date, LifeError> {
    on.checked_add(i32::from(months).months()).map_err(|_| LifeError::Calendar)
}
