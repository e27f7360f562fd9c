//! A piece's life from its rows: events and inspections in their order.

use super::day;
use crate::problem::Problem;
use crate::records::Records;
use crate::records::rows::{Event as Row, Inspection, LifeEvent, Piece, PieceState, Verdict};
use proving::{Condition, Event, Interval, Life, State};
use serde_json::Value as Json;

/// A piece with its rows and its life.
pub(crate) struct Kept {
    pub piece: Piece,
    pub life: Life,
    pub events: Vec<LifeEvent>,
    pub inspections: Vec<Inspection>,
}

/// How often pieces are looked at: the loft's setting, or once a season.
pub(crate) async fn interval(records: &Records) -> Result<Interval, Problem> {
    let Some(setting) = records.store().setting("inspection").await? else { return Ok(Interval::SEASON) };
    let json: Json = serde_json::from_str(&setting.value).unwrap_or_default();
    let months = json["months"].as_u64().and_then(|months| u16::try_from(months).ok()).filter(|months| *months > 0);
    Ok(Interval { months: months.unwrap_or(Interval::SEASON.months), hours: json["hours"].as_f64() })
}

/// Reads a piece and goes through its life.
pub(crate) async fn kept(records: &Records, code: &str) -> Result<Kept, Problem> {
    let store = records.store();
    let piece = store.piece(code).await?;
    let (events, inspections) = (store.life(code).await?, store.inspections(code).await?);
    let life = life_of(&piece, &events, &inspections, interval(records).await?)?;
    Ok(Kept { piece, life, events, inspections })
}

pub(crate) fn life_of(
    piece: &Piece,
    events: &[LifeEvent],
    inspections: &[Inspection],
    interval: Interval,
) -> Result<Life, Problem> {
    let made = piece
        .made_on
        .as_deref()
        .or(piece.in_service_on.as_deref())
        .unwrap_or_else(|| piece.at.get(..10).unwrap_or_default());
    let mut life = Life::new(day("made on", made)?, interval);
    let mut steps: Vec<(String, String, Event)> = Vec::new();
    if let Some(on) = piece.in_service_on.as_ref().filter(|_| !events.iter().any(|row| row.event == Row::PutInService))
    {
        steps.push((on.clone(), String::new(), Event::PutInService));
    }
    steps.extend(events.iter().filter_map(|row| Some((row.day.clone(), row.at.clone(), event_of(row)?))));
    steps.extend(inspections.iter().map(|row| (row.day.clone(), row.at.clone(), inspection_of(row))));
    steps.sort_by(|a, b| (&a.0, &a.1).cmp(&(&b.0, &b.1)));
    for (on, _, event) in &steps {
        // A row that cannot follow was entered by other means: the store's
        // own state, taken below, is what counts.
        if let Ok(next) = life.after(day("day", on)?, event) {
            life = next;
        }
    }
    life.due = piece.next_due.as_deref().map(|due| day("next due", due)).transpose()?;
    life.state = match piece.state {
        PieceState::Retired | PieceState::TakenBack => State::Retired,
        PieceState::Broken => State::Broken,
        PieceState::InService if life.state != State::Withdrawn => State::InService,
        PieceState::InService | PieceState::Cut | PieceState::Made => life.state,
    };
    Ok(life)
}

/// An event's row as an event; `None` for what changes nothing.
fn event_of(row: &LifeEvent) -> Option<Event> {
    let detail: Json = serde_json::from_str(&row.detail).unwrap_or_default();
    Some(match row.event {
        Row::PutInService => Event::PutInService,
        Row::Hours => Event::Used { hours: row.amount_millionths.unwrap_or_default() as f64 / 1e6 / 3600.0 },
        Row::Turned => Event::Turned,
        Row::Shortened => Event::Shortened,
        Row::ReSpliced => Event::Respliced,
        Row::Retired => Event::Retired { reason: row.reason.clone() },
        Row::Broken => Event::BrokenForTest,
        Row::Noted if detail["event"] == "issued" => Event::Issued,
        // Back on board after it was withdrawn and mended: the store never took it out.
        Row::Noted if detail["event"] == "in-service" => Event::PutInService,
        Row::Washed | Row::Noted => return None,
    })
}

fn inspection_of(row: &Inspection) -> Event {
    let found: Json = serde_json::from_str(&row.findings).unwrap_or_default();
    let condition = found["condition"].as_str().and_then(Condition::from_word).unwrap_or(match row.verdict {
        Verdict::Keep => Condition::Good,
        Verdict::Watch => Condition::Watch,
        Verdict::Withdraw | Verdict::Retire => Condition::Withdraw,
    });
    Event::Inspected {
        condition,
        next: row.due_after.as_deref().and_then(proving::day_from),
        // It stands in the store: whoever let it in had the reason.
        reason: Some(if row.reason.is_empty() { "entered".to_owned() } else { row.reason.clone() }),
    }
}
