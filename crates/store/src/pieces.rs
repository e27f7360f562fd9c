//! Pieces: a length of rope with a code of its own, from the cut to the bin.
//!
//! A code is given once and never again. A piece goes forward only: cut,
//! made, in service, retired. From retired there is one way on, to be broken
//! for test; a broken piece stays broken.

use crate::Store;
use crate::cell::Cell;
use crate::error::Error;
use crate::record::{record, words};
use crate::stamp::Stamp;
use crate::work::Work;

words! {
    /// How far a piece is.
    PieceState {
        /// Cut from its reel.
        "cut" => Cut,
        /// Made up.
        "made" => Made,
        /// On the boat.
        "in_service" => InService,
        /// Out of service for good.
        "retired" => Retired,
        /// Broken for test.
        "broken" => Broken,
        /// Its cut was taken back; its code is used up.
        "taken_back" => TakenBack,
    }
}

record! {
    /// A piece.
    Piece "piece" in "pieces" by [code] {
        /// Its code: on card and label.
        code: String,
        /// The order it was cut for.
        order_id: Option<String>,
        /// The boat.
        boat: String,
        /// The line that it is.
        line: String,
        /// Its rope.
        rope: String,
        /// Its colour.
        colour: String,
        /// Its batch.
        batch: String,
        /// The reel it was cut from.
        reel: Option<String>,
        /// The plan it was cut by.
        plan: Option<String>,
        /// What was cut off, whole millimetres.
        cut_mm: i64,
        /// What it is used for.
        purpose: String,
        /// How far it is.
        state: PieceState,
        /// Its bench card, JSON: steps, marks and figures as they were planned.
        card: String,
        /// The day it was made up.
        made_on: Option<String>,
        /// The day it went into service.
        in_service_on: Option<String>,
        /// The day it must be looked at next.
        next_due: Option<String>,
        /// The day it was retired.
        retired_on: Option<String>,
        /// Anything else.
        note: String,
        /// How often it has changed; 1 at first.
        revision: i64,
        /// When it changed last.
        at: String,
        /// Who changed it last.
        who: String,
    }
}

/// What is said of a piece when it is cut; the rest is its cut's and its reel's.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceFacts {
    /// Its code.
    pub code: String,
    /// The boat.
    pub boat: String,
    /// What it is used for.
    pub purpose: String,
    /// Its bench card, JSON.
    pub card: String,
    /// Anything else.
    pub note: String,
}

/// A step in a piece's life.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Move<'a> {
    /// Where to.
    pub to: PieceState,
    /// On which day.
    pub on: &'a str,
    /// When it must be looked at next; for a piece that goes into service.
    pub next_due: Option<&'a str>,
}

impl PieceState {
    /// Whether a piece may go from here to there.
    #[must_use]
    pub const fn may_become(self, to: PieceState) -> bool {
        use PieceState::{Broken, Cut, InService, Made, Retired, TakenBack};
        matches!(
            (self, to),
            (Cut, Made | TakenBack | Broken)
                | (Made | InService, Retired | Broken)
                | (Made, InService)
                | (Retired, Broken)
        )
    }
}

impl Store {
    /// A piece that came from no plan: cut by hand, or made elsewhere.
    ///
    /// # Errors
    /// [`Error::Taken`] when the code was ever given.
    pub async fn add_piece(&self, piece: &Piece, stamp: &Stamp) -> Result<Piece, Error> {
        for (field, day) in [
            ("made on", &piece.made_on),
            ("in service on", &piece.in_service_on),
            ("next due", &piece.next_due),
            ("retired on", &piece.retired_on),
        ] {
            day.as_deref().map_or(Ok(()), |day| crate::stamp::check_day(field, day))?;
        }
        let piece = Piece { revision: 0, ..piece.clone() }.changed(stamp);
        let mut work = self.writing().await?;
        work.insert(stamp, &piece).await?;
        work.commit().await?;
        Ok(piece)
    }

    /// Moves a piece on in its life.
    ///
    /// # Errors
    /// [`Error::NotFrom`] when that is no way forward: a retired piece goes
    /// into service never again.
    pub async fn move_piece(&self, code: &str, step: Move<'_>, stamp: &Stamp) -> Result<Piece, Error> {
        let mut work = self.writing().await?;
        let moved = move_on(&mut work, code, step, stamp).await?;
        work.commit().await?;
        Ok(moved)
    }

    /// Says of which batch a piece is, when the reel did not or said wrong.
    ///
    /// # Errors
    /// [`Error::Missing`].
    pub async fn set_batch(&self, code: &str, batch: &str, stamp: &Stamp) -> Result<Piece, Error> {
        let mut work = self.writing().await?;
        let before: Piece = work.hold(&[Cell::text(code)]).await?;
        let after = Piece { batch: batch.to_owned(), ..before.clone() }.changed(stamp);
        work.replace(stamp, &before, &after).await?;
        work.commit().await?;
        Ok(after)
    }

    /// Keeps another card for a piece: the order was changed after the cut.
    ///
    /// # Errors
    /// [`Error::Missing`].
    pub async fn set_card(&self, code: &str, card: &str, stamp: &Stamp) -> Result<Piece, Error> {
        let mut work = self.writing().await?;
        let before: Piece = work.hold(&[Cell::text(code)]).await?;
        let after = Piece { card: card.to_owned(), ..before.clone() }.changed(stamp);
        work.replace(stamp, &before, &after).await?;
        work.commit().await?;
        Ok(after)
    }

    /// One piece.
    ///
    /// # Errors
    /// [`Error::Missing`].
    pub async fn piece(&self, code: &str) -> Result<Piece, Error> {
        let found = self.reading().await?.find(&[Cell::text(code)]).await?;
        found.ok_or_else(|| Error::Missing { kind: "piece", id: code.to_owned() })
    }

    /// The pieces of an order, by line and code.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn pieces_of(&self, order: &str) -> Result<Vec<Piece>, Error> {
        self.reading().await?.list("WHERE order_id = $1 ORDER BY line, code", &[Cell::text(order)]).await
    }

    /// The pieces in a state, by code: those after `after`, at most `most`.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn pieces(&self, state: PieceState, after: &str, most: u32) -> Result<Vec<Piece>, Error> {
        let cells = [Cell::text(state.word()), Cell::text(after), Cell::whole(i64::from(most))];
        self.reading().await?.list("WHERE state = $1 AND code > $2 ORDER BY code LIMIT $3", &cells).await
    }

    /// Pieces in service that must be looked at by the day `by`, the most
    /// overdue first, at most `most`.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn due(&self, by: &str, most: u32) -> Result<Vec<Piece>, Error> {
        crate::stamp::check_day("by", by)?;
        let cells = [Cell::text(by), Cell::whole(i64::from(most))];
        let rest = "WHERE state = 'in_service' AND next_due <= $1 ORDER BY next_due, code LIMIT $2";
        self.reading().await?.list(rest, &cells).await
    }
}

/// [`Store::move_piece`] within a larger piece of work.
pub(crate) async fn move_on(work: &mut Work, code: &str, step: Move<'_>, stamp: &Stamp) -> Result<Piece, Error> {
    crate::stamp::check_day("on", step.on)?;
    step.next_due.map_or(Ok(()), |day| crate::stamp::check_day("next due", day))?;
    let before: Piece = work.hold(&[Cell::text(code)]).await?;
    if !before.state.may_become(step.to) {
        let (state, wanted) = (before.state.word(), step.to.word());
        return Err(Error::NotFrom { kind: "piece", id: code.to_owned(), state, wanted });
    }
    let on = Some(step.on.to_owned());
    let mut after = Piece { state: step.to, ..before.clone() };
    match step.to {
        PieceState::Made => after.made_on = on,
        PieceState::InService => {
            after.in_service_on = on;
            after.next_due = step.next_due.map(str::to_owned);
        }
        PieceState::Retired | PieceState::Broken => {
            after.retired_on = before.retired_on.clone().or(on);
            after.next_due = None;
        }
        PieceState::Cut | PieceState::TakenBack => {}
    }
    let after = after.changed(stamp);
    work.replace(stamp, &before, &after).await?;
    Ok(after)
}

impl Piece {
    /// The next revision of it.
    pub(crate) fn changed(self, stamp: &Stamp) -> Piece {
        Piece { revision: self.revision + 1, at: stamp.at().to_owned(), who: stamp.who().to_owned(), ..self }
    }
}
