//! Who changed what, when, and how it was before: a list that only grows.
//!
//! Rows that can change write themselves down here with every change, in the
//! same transaction; rows that cannot (ticks, measurements, inspections) are
//! their own history. The database itself refuses to change or remove a line.
//! Lines are numbered, and the number gives the order: a clock set back
//! changes a time and no order.

use crate::Store;
use crate::cell::Cell;
use crate::error::Error;
use crate::record::{Record, key_text, record, words};
use crate::stamp::Stamp;
use crate::work::Work;

words! {
    /// What was done.
    Action {
        /// It was not there before.
        "made" => Made,
        /// It was there, and is different.
        "changed" => Changed,
        /// It is there no longer.
        "removed" => Removed,
    }
}

record! {
    /// One change of one thing.
    Change "change" in "history" by [seq] {
        /// Its number; a later change has a higher one.
        seq: i64,
        /// What kind of thing: order, reel, plan, piece, setting, user …
        what: String,
        /// Which one.
        id: String,
        /// What was done.
        action: Action,
        /// The whole of it before, as JSON.
        before: Option<String>,
        /// The whole of it after, as JSON.
        after: Option<String>,
        /// When, by the clock of the program that did it.
        at: String,
        /// Who.
        who: String,
    }
}

/// Writes a change down.
pub(crate) async fn note<R: Record>(
    work: &mut Work,
    stamp: &Stamp,
    before: Option<&R>,
    after: Option<&R>,
) -> Result<(), Error> {
    let action = match (before, after) {
        (None, _) => Action::Made,
        (Some(_), Some(_)) => Action::Changed,
        (Some(_), None) => Action::Removed,
    };
    let Some(row) = after.or(before) else { return Ok(()) };
    let json = |row: Option<&R>| row.map(serde_json::to_string).transpose().map_err(unwritable);
    let change = Change {
        seq: 0,
        what: R::TABLE.what.to_owned(),
        id: key_text(row),
        action,
        before: json(before)?,
        after: json(after)?,
        at: stamp.at().to_owned(),
        who: stamp.who().to_owned(),
    };
    work.append(&change).await.map(|_| ())
}

fn unwritable(error: serde_json::Error) -> Error {
    Error::Refused { why: format!("a row cannot be written as JSON: {error}") }
}

impl Store {
    /// The changes of one thing, oldest first.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn history_of(&self, what: &str, id: &str) -> Result<Vec<Change>, Error> {
        let mut work = self.reading().await?;
        work.list("WHERE what = $1 AND id = $2 ORDER BY seq", &[Cell::text(what), Cell::text(id)]).await
    }

    /// The latest changes of anything, newest first: those before the number
    /// `before`, at most `most` of them.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn history(&self, before: Option<i64>, most: u32) -> Result<Vec<Change>, Error> {
        let mut work = self.reading().await?;
        let cells = [Cell::whole(before.unwrap_or(i64::MAX)), Cell::whole(i64::from(most))];
        work.list("WHERE seq < $1 ORDER BY seq DESC LIMIT $2", &cells).await
    }
}
