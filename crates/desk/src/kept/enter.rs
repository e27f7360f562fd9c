//! Other events of a piece's life entered.

use super::life::kept;
use super::{day, refused};
use crate::problem::{Fault, Problem};
use crate::records::rows::{Event as Row, NewEvent};
use crate::records::{Records, Stamp};
use proving::{Event, State};
use serde_json::json;

/// What happened.
#[derive(Debug, Clone, Default)]
pub struct EventRequest {
    /// The piece.
    pub code: String,
    /// The day.
    pub on: String,
    /// `in-service`, `used`, `turned`, `shortened`, `re-spliced`, `issued`,
    /// `replanned`, `retired` or `broken-for-test`.
    pub what: String,
    /// Hours, for `used`.
    pub hours: Option<f64>,
    /// The next look, for `replanned`.
    pub next: Option<String>,
    /// Why.
    pub reason: Option<String>,
}

const WORDS: &str = "in-service, used, turned, shortened, re-spliced, issued, replanned, retired, broken-for-test";

/// Enters what happened to a piece; gives the day it is due next.
///
/// # Errors
/// When the event cannot follow, lacks its hours, date or reason, or the
/// store refuses it.
pub async fn enter_event(records: &Records, request: &EventRequest, stamp: &Stamp) -> Result<Option<String>, Problem> {
    let known = kept(records, &request.code).await?;
    let lacks =
        |what: &str| Problem::new(Fault::Request, "missing-part", format!("{}: {what} is missing", request.what));
    let reason = request.reason.clone().unwrap_or_default();
    let (event, row) = match request.what.trim() {
        // A withdrawn piece is in service in the store all along.
        "in-service" if known.life.state == State::Withdrawn => (Event::PutInService, Row::Noted),
        "in-service" => (Event::PutInService, Row::PutInService),
        "used" => (Event::Used { hours: request.hours.ok_or_else(|| lacks("the number of hours"))? }, Row::Hours),
        "turned" => (Event::Turned, Row::Turned),
        "shortened" => (Event::Shortened, Row::Shortened),
        "re-spliced" => (Event::Respliced, Row::ReSpliced),
        "issued" => (Event::Issued, Row::Noted),
        "replanned" => {
            let next = request.next.as_deref().ok_or_else(|| lacks("the day of the next look"))?;
            (Event::Replanned { next: day("next", next)?, reason: request.reason.clone() }, Row::Noted)
        }
        "retired" => (Event::Retired { reason: reason.clone() }, Row::Retired),
        "broken-for-test" => (Event::BrokenForTest, Row::Broken),
        other => {
            return Err(Problem::new(Fault::Request, "unknown-word", format!("{other:?} is no event of a piece"))
                .hint(format!("one of: {WORDS}")));
        }
    };
    let on = day("on", &request.on)?;
    let after = known.life.after(on, &event).map_err(|why| refused(&request.code, &why))?;
    // Hours that are used up make it due on the day.
    let spent = after.due_hours.is_some_and(|limit| after.hours >= limit);
    let due = if spent { after.due.map(|due| due.min(on)) } else { after.due };
    records
        .store()
        .add_event(
            &NewEvent {
                piece: request.code.clone(),
                event: row,
                day: request.on.clone(),
                amount_millionths: request
                    .hours
                    .filter(|_| row == Row::Hours)
                    .map(|hours| (hours * 3600.0 * 1e6).round() as i64),
                unit: if row == Row::Hours { "s".to_owned() } else { String::new() },
                reason,
                detail: json!({ "event": event.word() }).to_string(),
                next_due: due.map(|due| due.to_string()),
            },
            stamp,
        )
        .await?;
    Ok(due.map(|due| due.to_string()))
}
