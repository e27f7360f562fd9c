//! Why the store did not do what it was asked.
//!
//! Each refusal holds what was given and what stands in the way; what to do
//! about it is in [`Error::hint`].

use crate::place::Place;

/// A refusal of the store.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The file or server cannot be reached.
    #[error("{place} cannot be reached: {why}")]
    Unreachable {
        /// Which store.
        place: String,
        /// What the system says.
        why: String,
    },
    /// The file or database is something else.
    #[error("{place} is not a Becket store: {why}")]
    NotAStore {
        /// Which file or database.
        place: String,
        /// What was found.
        why: String,
    },
    /// Written by a newer program.
    #[error(
        "{place} was written by a newer Becket: its layout is number {found}, and this program knows up to {known}"
    )]
    Newer {
        /// Which store.
        place: String,
        /// The layout's number in the store.
        found: i64,
        /// The newest number this program knows.
        known: i64,
    },
    /// Something is already there.
    #[error("{place} already holds a store, and it is not written over")]
    Occupied {
        /// Where.
        place: String,
    },
    /// The store can be read and not written.
    #[error("the store can be read and not written: {why}")]
    ReadOnly {
        /// What the system says.
        why: String,
    },
    /// A server beyond this machine, and nobody said that plain text is meant.
    #[error("the connection to {host} would not be encrypted, and {host} is beyond this machine")]
    Unencrypted {
        /// The server's host.
        host: String,
    },
    /// No room to write.
    #[error("there is no room left to write: {why}")]
    Full {
        /// What the system says.
        why: String,
    },
    /// Somebody else held the store for too long.
    #[error("the store was held by somebody else for too long: {why}")]
    Busy {
        /// What the system says.
        why: String,
    },
    /// Nothing of this name.
    #[error("there is no {kind} {id:?}")]
    Missing {
        /// What was looked for.
        kind: &'static str,
        /// Its name.
        id: String,
    },
    /// The name is taken.
    #[error("{kind} {id:?} is there already")]
    Taken {
        /// What it is.
        kind: &'static str,
        /// Its name.
        id: String,
    },
    /// Somebody else changed it in between.
    #[error("{kind} {id:?} was changed by {by} at {at}: you worked from revision {yours}, it is now revision {theirs}")]
    Changed {
        /// What it is.
        kind: &'static str,
        /// Its name.
        id: String,
        /// The revision that the change was made from.
        yours: i64,
        /// The revision in the store.
        theirs: i64,
        /// Who changed it last.
        by: String,
        /// When.
        at: String,
    },
    /// A reel is not there for this plan.
    #[error("reel {reel:?} cannot be cut by plan {plan:?}: {why}")]
    ReelHeld {
        /// The reel.
        reel: String,
        /// The plan that wanted it.
        plan: String,
        /// In whose hands it is, or how it has changed.
        why: String,
    },
    /// What was asked is not allowed from here.
    #[error("{kind} {id:?} is {state}, and cannot be {wanted}")]
    NotFrom {
        /// What it is.
        kind: &'static str,
        /// Its name.
        id: String,
        /// The state it is in.
        state: &'static str,
        /// The state that was asked for.
        wanted: &'static str,
    },
    /// A value that is not allowed.
    #[error("{field} is {given:?}: allowed is {allowed}")]
    Value {
        /// Which value.
        field: &'static str,
        /// What was given.
        given: String,
        /// What is allowed.
        allowed: String,
    },
    /// A row that this program cannot read.
    #[error("the store holds {held} in {column}, which this program does not know")]
    Unreadable {
        /// Which column.
        column: String,
        /// What it holds.
        held: String,
    },
    /// A copy is not what was copied.
    #[error("the copy differs from the original in table {table}: {original} against {copy}")]
    Differs {
        /// Which table.
        table: &'static str,
        /// Count and checksum of the original.
        original: String,
        /// Count and checksum of the copy.
        copy: String,
    },
    /// A file beside the store could not be written or read.
    #[error("{path}: {why}")]
    File {
        /// Which file.
        path: String,
        /// What the system says.
        why: String,
    },
    /// The database refused a statement.
    #[error("the database refused: {why}")]
    Refused {
        /// In its words.
        why: String,
    },
}

impl Error {
    /// What to do about it.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        match self {
            Error::Unreachable { .. } => {
                "check that the file's folder or the server is there, then try again: nothing was changed"
            }
            Error::NotAStore { .. } => "give another file: a new one is made where there is none",
            Error::Newer { .. } => "use the newer Becket, or open a backup of before the change",
            Error::Occupied { .. } => "give a place where there is nothing yet",
            Error::ReadOnly { .. } => "give the user who runs Becket the right to write the file and its folder",
            Error::Unencrypted { .. } => {
                "tunnel it (ssh -L 5432:localhost:5432 SERVER) and give localhost; on a network of the loft's own that \
                 nobody else reads, add ?sslmode=disable to the address"
            }
            Error::Full { .. } => {
                "make room on the disk; what was acknowledged is kept, this last entry was not written"
            }
            Error::Busy { .. } => "try again; if it stays so, look for another program that holds the file",
            Error::Missing { .. } => "look it up in the list; capitals count",
            Error::Taken { .. } => "choose another name or number, or change the one that is there",
            Error::Changed { .. } => {
                "look at both versions, take over what is wanted, and save again from the newer one"
            }
            Error::ReelHeld { .. } => "make the plan again from the rack as it is now",
            Error::NotFrom { .. } => "look at its record for what happened to it and when",
            Error::Value { .. } => "give an allowed value; nothing was changed",
            Error::Unreadable { .. } => "use a newer Becket, or put the value right in the database",
            Error::Differs { .. } => "the copy is not to be trusted and was removed; make it again",
            Error::File { .. } => "check space and permissions, or give another place",
            Error::Refused { .. } => "nothing was changed; the message names the rule",
        }
    }

    /// An error of the file system at the store's place.
    pub(crate) fn of_io(place: &Place, error: &std::io::Error) -> Error {
        use std::io::ErrorKind;
        let why = error.to_string();
        match error.kind() {
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded => Error::Full { why },
            ErrorKind::ReadOnlyFilesystem | ErrorKind::PermissionDenied => {
                Error::ReadOnly { why: format!("{place}: {why}") }
            }
            _ => Error::Unreachable { place: place.to_string(), why },
        }
    }

    /// An error of the driver, in our words.
    pub(crate) fn of_driver(place: &Place, error: sqlx::Error) -> Error {
        use sqlx::Error as Driver;
        let why = error.to_string();
        match &error {
            Driver::Database(refusal) if refusal.is_unique_violation() => Error::Taken { kind: "row", id: why },
            Driver::Database(refusal) => of_code(place, refusal.code().as_deref().unwrap_or_default(), why),
            Driver::Io(_) | Driver::PoolTimedOut | Driver::PoolClosed | Driver::WorkerCrashed | Driver::Tls(_) => {
                Error::Unreachable { place: place.to_string(), why }
            }
            _ => Error::Refused { why },
        }
    }
}

/// By SQLite's result code, whose lowest byte is the kind, or PostgreSQL's
/// five characters.
fn of_code(place: &Place, code: &str, why: String) -> Error {
    let is_file = matches!(place, Place::File(_));
    let place = place.to_string();
    if is_file {
        let number: u32 = code.parse().unwrap_or_default();
        return match number & 0xff {
            5 | 6 => Error::Busy { why },
            8 => Error::ReadOnly { why },
            13 => Error::Full { why },
            10 | 14 => Error::Unreachable { place, why },
            11 | 26 => Error::NotAStore { place, why },
            _ => Error::Refused { why },
        };
    }
    match code {
        "25006" => Error::ReadOnly { why },
        "40001" | "40P01" | "55P03" => Error::Busy { why },
        "57P01" | "57P02" | "57P03" | "3D000" | "28P01" | "28000" => Error::Unreachable { place, why },
        code if code.starts_with("53") => Error::Full { why },
        code if code.starts_with("08") => Error::Unreachable { place, why },
        _ => Error::Refused { why },
    }
}
