//! The due list: which pieces must be looked at by a day.

use super::{Life, State};
use jiff::civil::Date;

/// Why a piece is on the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Due {
    /// Taken out of use, and nobody has decided what becomes of it.
    Withdrawn,
    /// Its hours are used up.
    Hours,
    /// Its date is past.
    Overdue,
    /// Its date lies within the days asked for.
    Coming,
}

impl Due {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Due::Withdrawn => "withdrawn: rework or retire",
            Due::Hours => "hours used up",
            Due::Overdue => "overdue",
            Due::Coming => "coming",
        }
    }
}

/// One row of the list.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DueRow {
    /// Which piece, counted in the order given.
    pub index: usize,
    /// Why.
    pub why: Due,
    /// When; the day it was withdrawn for a withdrawn piece.
    pub date: Date,
}

/// The pieces that must be looked at by `until`, seen from `today`: withdrawn
/// ones first, then by date. A retired or broken piece is never on it.
#[must_use]
pub fn due_list<'a>(lives: impl IntoIterator<Item = &'a Life>, today: Date, until: Date) -> Vec<DueRow> {
    let mut rows: Vec<DueRow> = lives
        .into_iter()
        .enumerate()
        .filter_map(|(index, life)| {
            let (why, date) = why_due(life, today, until)?;
            Some(DueRow { index, why, date })
        })
        .collect();
    rows.sort_by_key(|row| (row.why != Due::Withdrawn, row.date, row.index));
    rows
}

fn why_due(life: &Life, today: Date, until: Date) -> Option<(Due, Date)> {
    match life.state {
        State::Retired | State::Broken => None,
        State::Withdrawn => Some((Due::Withdrawn, life.latest)),
        State::Made | State::InService => {
            let date = life.due?;
            if date < today {
                Some((Due::Overdue, date))
            } else if life.due_hours.is_some_and(|hours| life.hours >= hours) {
                Some((Due::Hours, date.min(today)))
            } else if date <= until {
                Some((Due::Coming, date))
            } else {
                None
            }
        }
    }
}
