//! A piece in service: what happens to it, what inspections find, and when it
//! is due next. Entries are only added; where the piece itself changes (its
//! state, its next day), that is in the same transaction.

use crate::Store;
use crate::cell::Cell;
use crate::error::Error;
use crate::pieces::{Move, Piece, PieceState, move_on};
use crate::record::{record, words};
use crate::stamp::{Stamp, check_day};
use crate::work::Work;

words! {
    /// What happened to a piece.
    Event {
        /// It went into service.
        "put_in_service" => PutInService,
        /// It was used so many hours.
        "hours" => Hours,
        /// It was turned end for end.
        "turned" => Turned,
        /// It was cut shorter.
        "shortened" => Shortened,
        /// An end was made anew.
        "re_spliced" => ReSpliced,
        /// It was washed.
        "washed" => Washed,
        /// It was retired.
        "retired" => Retired,
        /// It was broken for test.
        "broken" => Broken,
        /// Something else.
        "noted" => Noted,
    }
}

words! {
    /// What an inspection says.
    Verdict {
        /// It may stay in service.
        "keep" => Keep,
        /// It may stay, and is looked at sooner.
        "watch" => Watch,
        /// It must come out of service until it is shortened or spliced anew,
        /// or be retired.
        "withdraw" => Withdraw,
        /// It comes out of service for good.
        "retire" => Retire,
    }
}

record! {
    /// Something that happened to a piece.
    LifeEvent "event" in "life" by [seq] {
        /// Its number.
        seq: i64,
        /// The piece.
        piece: String,
        /// What happened.
        event: Event,
        /// The day.
        day: String,
        /// How much, in millionths of `unit`: seconds of use, metres cut off.
        amount_millionths: Option<i64>,
        /// The unit of the amount; empty without one.
        unit: String,
        /// Why.
        reason: String,
        /// Anything that a program wrote with it, JSON.
        detail: String,
        /// When it was entered.
        at: String,
        /// Who entered it.
        who: String,
    }
}

record! {
    /// One inspection.
    Inspection "inspection" in "inspections" by [seq] {
        /// Its number.
        seq: i64,
        /// The piece.
        piece: String,
        /// The day.
        day: String,
        /// The form that was gone through.
        form: String,
        /// What was found at each point of the form, JSON.
        findings: String,
        /// What it comes to.
        verdict: Verdict,
        /// Hours or seasons by then, as they were given.
        used: String,
        /// When it was due before.
        due_before: Option<String>,
        /// When it is due after.
        due_after: Option<String>,
        /// Why the day was moved later, or the piece retired.
        reason: String,
        /// Anything else.
        note: String,
        /// When it was entered.
        at: String,
        /// Who entered it.
        who: String,
    }
}

/// Something that happened, as it is entered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewEvent {
    /// The piece.
    pub piece: String,
    /// What happened.
    pub event: Event,
    /// The day.
    pub day: String,
    /// How much, in millionths of `unit`.
    pub amount_millionths: Option<i64>,
    /// The unit; empty without an amount.
    pub unit: String,
    /// Why; needed to retire.
    pub reason: String,
    /// Anything that a program writes with it, JSON.
    pub detail: String,
    /// When the piece is due next, where this event says so.
    pub next_due: Option<String>,
}

/// An inspection as it is entered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewInspection {
    /// The piece.
    pub piece: String,
    /// The day.
    pub day: String,
    /// The form that was gone through.
    pub form: String,
    /// What was found, JSON.
    pub findings: String,
    /// What it comes to; `Retire` retires the piece.
    pub verdict: Verdict,
    /// Hours or seasons by then.
    pub used: String,
    /// When the piece is due next; none leaves the day as it is.
    pub next_due: Option<String>,
    /// Why, when the day moves later or the piece is retired.
    pub reason: String,
    /// Anything else.
    pub note: String,
}

impl Store {
    /// Enters what happened to a piece, and changes the piece with it: put in
    /// service, retired, and broken move it on; `next_due` sets its day.
    ///
    /// # Errors
    /// [`Error::Missing`]; [`Error::NotFrom`] for a way back; [`Error::Value`]
    /// for a later day, or a retirement, without a reason.
    pub async fn add_event(&self, new: &NewEvent, stamp: &Stamp) -> Result<LifeEvent, Error> {
        check_day("day", &new.day)?;
        let mut work = self.writing().await?;
        let piece: Piece = work.hold(&[Cell::text(&new.piece)]).await?;
        let due = due_after(&piece, new.next_due.as_deref(), &new.reason)?;
        let to = match new.event {
            Event::PutInService => Some(PieceState::InService),
            Event::Retired => Some(PieceState::Retired),
            Event::Broken => Some(PieceState::Broken),
            _ => None,
        };
        if to == Some(PieceState::Retired) {
            check_reason(&new.reason)?;
        }
        change_piece(&mut work, piece, to, &new.day, due, stamp).await?;
        let event = append_event(&mut work, new, stamp).await?;
        work.commit().await?;
        Ok(event)
    }

    /// Enters an inspection, and changes the piece with it: its next day, and
    /// its retirement.
    ///
    /// # Errors
    /// [`Error::Missing`]; [`Error::NotFrom`] unless the piece is made or in
    /// service; [`Error::Value`] for a later day, or a retirement, without a
    /// reason.
    pub async fn inspect(&self, new: &NewInspection, stamp: &Stamp) -> Result<Inspection, Error> {
        check_day("day", &new.day)?;
        let mut work = self.writing().await?;
        let piece: Piece = work.hold(&[Cell::text(&new.piece)]).await?;
        if !matches!(piece.state, PieceState::Made | PieceState::InService) {
            let state = piece.state.word();
            return Err(Error::NotFrom { kind: "piece", id: new.piece.clone(), state, wanted: "inspected" });
        }
        let due_before = piece.next_due.clone();
        let retires = new.verdict == Verdict::Retire;
        if retires {
            check_reason(&new.reason)?;
        }
        let due = if retires { None } else { due_after(&piece, new.next_due.as_deref(), &new.reason)? };
        let to = retires.then_some(PieceState::Retired);
        change_piece(&mut work, piece, to, &new.day, due.clone(), stamp).await?;
        let mut row = Inspection {
            seq: 0,
            piece: new.piece.clone(),
            day: new.day.clone(),
            form: new.form.clone(),
            findings: new.findings.clone(),
            verdict: new.verdict,
            used: new.used.clone(),
            due_before,
            due_after: due,
            reason: new.reason.clone(),
            note: new.note.clone(),
            at: stamp.at().to_owned(),
            who: stamp.who().to_owned(),
        };
        row.seq = work.append(&row).await?;
        if retires {
            append_event(&mut work, &retirement(new), stamp).await?;
        }
        work.commit().await?;
        Ok(row)
    }

    /// What happened to a piece, in the order it was entered.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn life(&self, piece: &str) -> Result<Vec<LifeEvent>, Error> {
        self.reading().await?.list("WHERE piece = $1 ORDER BY seq", &[Cell::text(piece)]).await
    }

    /// The inspections of a piece that were not struck out, in the order they
    /// were entered.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn inspections(&self, piece: &str) -> Result<Vec<Inspection>, Error> {
        let rest = "WHERE piece = $1 AND NOT EXISTS \
             (SELECT 1 FROM struck WHERE what = 'inspection' AND id = CAST(inspections.seq AS TEXT)) ORDER BY seq";
        self.reading().await?.list(rest, &[Cell::text(piece)]).await
    }
}

/// The piece's next day: what is asked, or the day it has. Later needs a reason.
fn due_after(piece: &Piece, asked: Option<&str>, reason: &str) -> Result<Option<String>, Error> {
    let Some(asked) = asked else { return Ok(piece.next_due.clone()) };
    check_day("next due", asked)?;
    let later = piece.next_due.as_deref().is_some_and(|before| asked > before);
    if later && reason.trim().is_empty() {
        let before = piece.next_due.as_deref().unwrap_or_default();
        let allowed = format!("{before} or sooner, or a reason for later");
        return Err(Error::Value { field: "next due", given: asked.to_owned(), allowed });
    }
    Ok(Some(asked.to_owned()))
}

fn check_reason(reason: &str) -> Result<(), Error> {
    if reason.trim().is_empty() {
        let allowed = "why it is retired, in words".to_owned();
        return Err(Error::Value { field: "reason", given: reason.to_owned(), allowed });
    }
    Ok(())
}

async fn change_piece(
    work: &mut Work,
    piece: Piece,
    to: Option<PieceState>,
    day: &str,
    due: Option<String>,
    stamp: &Stamp,
) -> Result<(), Error> {
    if let Some(to) = to {
        let step = Move { to, on: day, next_due: due.as_deref() };
        move_on(work, &piece.code, step, stamp).await?;
    } else if due != piece.next_due {
        let after = Piece { next_due: due, ..piece.clone() }.changed(stamp);
        work.replace(stamp, &piece, &after).await?;
    }
    Ok(())
}

async fn append_event(work: &mut Work, new: &NewEvent, stamp: &Stamp) -> Result<LifeEvent, Error> {
    let mut event = LifeEvent {
        seq: 0,
        piece: new.piece.clone(),
        event: new.event,
        day: new.day.clone(),
        amount_millionths: new.amount_millionths,
        unit: new.unit.clone(),
        reason: new.reason.clone(),
        detail: new.detail.clone(),
        at: stamp.at().to_owned(),
        who: stamp.who().to_owned(),
    };
    event.seq = work.append(&event).await?;
    Ok(event)
}

fn retirement(new: &NewInspection) -> NewEvent {
    NewEvent {
        piece: new.piece.clone(),
        event: Event::Retired,
        day: new.day.clone(),
        amount_millionths: None,
        unit: String::new(),
        reason: new.reason.clone(),
        detail: "{}".to_owned(),
        next_due: None,
    }
}
