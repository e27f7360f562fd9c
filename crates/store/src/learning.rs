//! What the loft learns from: minutes at the bench by kind of end, and
//! readings such as a friction from a pull-out test. Entries are only added;
//! a wrong one is struck out.

use crate::Store;
use crate::bench::check_piece;
use crate::cell::Cell;
use crate::error::Error;
use crate::record::record;
use crate::stamp::{Stamp, check_day};

record! {
    /// How long an end took.
    Minutes "entry of minutes" in "minutes" by [seq] {
        /// Its number.
        seq: i64,
        /// The piece, where it has a record.
        piece: Option<String>,
        /// The kind of end, as the order file writes it.
        end_kind: String,
        /// The rope, a name in the rope list.
        rope: String,
        /// Who made it.
        rigger: String,
        /// How long, seconds, 1 or more.
        seconds: i64,
        /// The day.
        day: String,
        /// Anything else.
        note: String,
        /// When it was entered.
        at: String,
        /// Who entered it.
        who: String,
    }
}

record! {
    /// One measured figure that is no piece's dimension.
    Reading "reading" in "readings" by [seq] {
        /// Its number.
        seq: i64,
        /// What was measured: friction, shrinkage, bedding-in, linear density …
        what: String,
        /// On which rope, a name in the rope list.
        rope: String,
        /// On which piece, where it has a record.
        piece: Option<String>,
        /// As it was typed.
        given: String,
        /// Its value in millionths of `unit`.
        millionths: i64,
        /// m, N, kg, s, K or 1.
        unit: String,
        /// How it was measured, JSON.
        detail: String,
        /// The day.
        day: String,
        /// When it was entered.
        at: String,
        /// Who entered it.
        who: String,
    }
}

impl Store {
    /// Enters how long an end took; number, time and person are the store's
    /// and the stamp's.
    ///
    /// # Errors
    /// [`Error::Value`] for less than a second; [`Error::Missing`] for an
    /// unknown piece.
    pub async fn add_minutes(&self, new: &Minutes, stamp: &Stamp) -> Result<Minutes, Error> {
        check_day("day", &new.day)?;
        if new.seconds < 1 {
            let allowed = "1 s or more".to_owned();
            return Err(Error::Value { field: "time", given: format!("{} s", new.seconds), allowed });
        }
        let mut row = Minutes { at: stamp.at().to_owned(), who: stamp.who().to_owned(), ..new.clone() };
        let mut work = self.writing().await?;
        if let Some(piece) = &new.piece {
            check_piece(&mut work, piece).await?;
        }
        row.seq = work.append(&row).await?;
        work.commit().await?;
        Ok(row)
    }

    /// Every entry of minutes that was not struck out, in order.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn minutes(&self) -> Result<Vec<Minutes>, Error> {
        let rest = "WHERE NOT EXISTS \
             (SELECT 1 FROM struck WHERE what = 'minutes' AND id = CAST(minutes.seq AS TEXT)) ORDER BY seq";
        self.reading().await?.list(rest, &[]).await
    }

    /// Enters a reading; number, time and person are the store's and the
    /// stamp's.
    ///
    /// # Errors
    /// [`Error::Missing`] for an unknown piece.
    pub async fn add_reading(&self, new: &Reading, stamp: &Stamp) -> Result<Reading, Error> {
        check_day("day", &new.day)?;
        let mut row = Reading { at: stamp.at().to_owned(), who: stamp.who().to_owned(), ..new.clone() };
        let mut work = self.writing().await?;
        if let Some(piece) = &new.piece {
            check_piece(&mut work, piece).await?;
        }
        row.seq = work.append(&row).await?;
        work.commit().await?;
        Ok(row)
    }

    /// The readings of one kind that were not struck out, in order.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn readings(&self, what: &str) -> Result<Vec<Reading>, Error> {
        let rest = "WHERE what = $1 AND NOT EXISTS \
             (SELECT 1 FROM struck WHERE what = 'reading' AND id = CAST(readings.seq AS TEXT)) ORDER BY seq";
        self.reading().await?.list(rest, &[Cell::text(what)]).await
    }
}
