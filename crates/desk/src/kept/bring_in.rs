//! A piece that comes from no cut plan: cut by hand, or made elsewhere.

use super::{day, rope, ropes};
use crate::problem::{Fault, Problem};
use crate::records::rows::{Piece, PieceState};
use crate::records::{Records, Stamp};
use crate::text::Text;

/// A piece as it is brought in.
#[derive(Debug, Clone, Default)]
pub struct BringIn {
    /// Its code, of the loft's own choosing.
    pub code: String,
    /// The boat.
    pub boat: String,
    /// The line that it is.
    pub line: String,
    /// Its rope, a name in the rope list or a generic one.
    pub rope: String,
    /// Its length, finished.
    pub length: String,
    /// What it is for; empty for running rigging.
    pub purpose: Option<String>,
    /// The day it was made; none where nobody knows.
    pub made_on: Option<String>,
    /// The day it went into service; none for a piece that has not.
    pub in_service_on: Option<String>,
    /// When it is to be looked at.
    pub next_due: Option<String>,
    /// The rope list.
    pub ropes: Option<Text>,
}

/// Brings a piece in.
///
/// # Errors
/// When code, boat, line or rope is missing, the rope is not known, a day is
/// none, or the code was ever given.
pub async fn bring_in(records: &Records, piece: &BringIn, stamp: &Stamp) -> Result<String, Problem> {
    for (field, text) in [("code", &piece.code), ("boat", &piece.boat), ("line", &piece.line), ("rope", &piece.rope)] {
        if text.trim().is_empty() {
            return Err(Problem::new(Fault::Request, "missing-part", format!("{field}: nothing was given"))
                .hint("a piece has a code, a boat, a line and a rope"));
        }
    }
    if rope(piece.rope.trim(), &ropes(piece.ropes.as_ref())?).is_none() {
        let message = format!("rope: {:?} is not in the rope list", piece.rope.trim());
        return Err(Problem::new(Fault::Request, "no-such-rope", message)
            .hint("its form of inspection is that of its rope: put it in the rope list, or name a generic one such as 10 mm 12-strand HMPE"));
    }
    let length = crate::splice_task::length("length", &piece.length)?.up_to_mm().count();
    if length < 1 {
        return Err(Problem::new(Fault::Request, "out-of-range", "length: a piece is longer than nothing")
            .hint("measure it from eye to eye: 12.4 m"));
    }
    for (field, text) in
        [("made on", &piece.made_on), ("in service on", &piece.in_service_on), ("next look", &piece.next_due)]
    {
        text.as_deref().map(|text| day(field, text)).transpose()?;
    }
    let served = piece.in_service_on.is_some();
    let due = match (&piece.next_due, &piece.in_service_on) {
        (Some(due), _) => Some(due.clone()),
        // Nobody has looked at it here: today is when it is due.
        (None, Some(_)) => Some(stamp.day().to_owned()),
        (None, None) => None,
    };
    let row = Piece {
        code: piece.code.trim().to_owned(),
        order_id: None,
        boat: piece.boat.trim().to_owned(),
        line: piece.line.trim().to_owned(),
        rope: piece.rope.trim().to_owned(),
        colour: String::new(),
        batch: String::new(),
        reel: None,
        plan: None,
        cut_mm: length,
        purpose: piece.purpose.clone().unwrap_or_default(),
        state: if served { PieceState::InService } else { PieceState::Made },
        card: "{}".to_owned(),
        made_on: piece.made_on.clone().or_else(|| piece.in_service_on.clone()),
        in_service_on: piece.in_service_on.clone(),
        next_due: due,
        retired_on: None,
        note: "brought in: made elsewhere, or before these records".to_owned(),
        revision: 0,
        at: String::new(),
        who: String::new(),
    };
    Ok(records.store().add_piece(&row, stamp).await?.code)
}
