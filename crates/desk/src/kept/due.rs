//! The due list, and the same as a calendar that other programs read.

use super::day;
use crate::problem::Problem;
use crate::records::Records;
use crate::records::rows::Piece;
use schemars::JsonSchema;
use serde::Serialize;

/// What is asked.
#[derive(Debug, Clone)]
pub struct DueRequest {
    /// The day of today.
    pub today: String,
    /// The last day of the list; a month from today where not given.
    pub by: Option<String>,
    /// Rows at most.
    pub most: u32,
}

/// What must be looked at.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DueAnswer {
    /// The day of today.
    pub today: String,
    /// The last day of the list.
    pub by: String,
    /// The pieces, the most overdue first.
    pub pieces: Vec<DueEntry>,
    /// Is the list longer than was asked for?
    pub more: bool,
}

/// One piece that must be looked at.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DueEntry {
    /// Its code.
    pub code: String,
    /// The boat.
    pub boat: String,
    /// The line.
    pub line: String,
    /// The rope.
    pub rope: String,
    /// When.
    pub due: String,
    /// Days from today; below zero is overdue.
    pub days: i32,
    /// `overdue` or `coming`.
    pub why: &'static str,
}

/// The pieces in service that must be looked at by a day.
///
/// # Errors
/// When a day is none, or the store cannot be read.
pub async fn due(records: &Records, request: &DueRequest) -> Result<DueAnswer, Problem> {
    let today = day("today", &request.today)?;
    let by = match &request.by {
        Some(by) => day("by", by)?,
        None => proving::days_after(today, 30).unwrap_or(today),
    };
    // One more than asked tells whether there are more.
    let mut found = records.store().due(&by.to_string(), request.most.saturating_add(1)).await?;
    let more = found.len() > request.most as usize;
    found.truncate(request.most as usize);
    let pieces = found.iter().filter_map(|piece| entry(piece, today)).collect();
    Ok(DueAnswer { today: today.to_string(), by: by.to_string(), pieces, more })
}

fn entry(piece: &Piece, today: proving::Day) -> Option<DueEntry> {
    let due = proving::day_from(piece.next_due.as_deref()?)?;
    let days = (due - today).get_days();
    Some(DueEntry {
        code: piece.code.clone(),
        boat: piece.boat.clone(),
        line: piece.line.clone(),
        rope: piece.rope.clone(),
        due: due.to_string(),
        days,
        why: if days < 0 { "overdue" } else { "coming" },
    })
}

/// The due list as iCalendar. `made_at` is the time of making, UTC, RFC 3339.
///
/// # Errors
/// As for [`due`].
pub async fn due_calendar(records: &Records, request: &DueRequest, made_at: &str) -> Result<String, Problem> {
    let found = due(records, request).await?;
    Ok(calendar_of(&found.pieces, made_at))
}

pub(crate) fn calendar_of(pieces: &[DueEntry], made_at: &str) -> String {
    let entries: Vec<files::CalendarEntry> = pieces
        .iter()
        .filter_map(|piece| {
            let mut parts = piece.due.split('-').map(|part| part.parse::<u16>().ok());
            let (year, month, day) = (parts.next()??, parts.next()??, parts.next()??);
            Some(files::CalendarEntry {
                id: format!("{}.look@becket", piece.code),
                day: files::Date::new(year, u8::try_from(month).ok()?, u8::try_from(day).ok()?)?,
                summary: format!("look at {}, {} ({})", piece.line, piece.boat, piece.code),
                description: format!("rope: {}\nGo through the form of this rope; enter what was found.", piece.rope),
                revision: 0,
            })
        })
        .collect();
    files::calendar(&files::Calendar { name: "pieces to look at", made_at, entries: &entries })
}
