//! Values as a database holds them: text, whole numbers and bytes, each of
//! which may be missing.
//!
//! Two databases agree on three kinds of value, so there are three. Exact
//! values (lengths in micrometres, loads in millinewtons, seconds) are whole
//! numbers; money is decimal text; times are RFC 3339 text; there is no
//! floating point and no boolean to be converted differently on the way. An
//! empty cell knows its kind, because PostgreSQL asks.

use crate::error::Error;

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Text, without the character NUL.
    Text,
    /// A whole number of 64 bits.
    Whole,
    /// Bytes.
    Bytes,
}

/// One value on its way to or from a database.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cell {
    /// Text.
    Text(Option<String>),
    /// A whole number.
    Whole(Option<i64>),
    /// Bytes.
    Bytes(Option<Vec<u8>>),
}

impl Cell {
    /// Text that is there.
    pub fn text(text: impl Into<String>) -> Cell {
        Cell::Text(Some(text.into()))
    }

    /// A number that is there.
    #[must_use]
    pub const fn whole(number: i64) -> Cell {
        Cell::Whole(Some(number))
    }
}

/// A type that fits a column.
pub trait Column: Sized {
    /// What the column holds.
    const KIND: Kind;

    /// The value for the database.
    fn cell(&self) -> Cell;

    /// The value from the database; `None` when it is no such value.
    fn of_cell(cell: Cell) -> Option<Self>;
}

impl Column for String {
    const KIND: Kind = Kind::Text;

    fn cell(&self) -> Cell {
        Cell::Text(Some(self.clone()))
    }

    fn of_cell(cell: Cell) -> Option<String> {
        match cell {
            Cell::Text(text) => text,
            _ => None,
        }
    }
}

impl Column for i64 {
    const KIND: Kind = Kind::Whole;

    fn cell(&self) -> Cell {
        Cell::Whole(Some(*self))
    }

    fn of_cell(cell: Cell) -> Option<i64> {
        match cell {
            Cell::Whole(number) => number,
            _ => None,
        }
    }
}

impl Column for Vec<u8> {
    const KIND: Kind = Kind::Bytes;

    fn cell(&self) -> Cell {
        Cell::Bytes(Some(self.clone()))
    }

    fn of_cell(cell: Cell) -> Option<Vec<u8>> {
        match cell {
            Cell::Bytes(bytes) => bytes,
            _ => None,
        }
    }
}

impl<T: Column> Column for Option<T> {
    const KIND: Kind = T::KIND;

    fn cell(&self) -> Cell {
        match (self, T::KIND) {
            (Some(value), _) => value.cell(),
            (None, Kind::Text) => Cell::Text(None),
            (None, Kind::Whole) => Cell::Whole(None),
            (None, Kind::Bytes) => Cell::Bytes(None),
        }
    }

    fn of_cell(cell: Cell) -> Option<Option<T>> {
        match cell {
            Cell::Text(None) | Cell::Whole(None) | Cell::Bytes(None) => Some(None),
            filled => T::of_cell(filled).map(Some),
        }
    }
}

/// Several columns side by side.
pub trait Columns: Sized + Send {
    /// What the columns hold, in order.
    fn kinds() -> Vec<Kind>;

    /// A value from one row's cells.
    ///
    /// # Errors
    /// When a cell holds what the program does not know.
    fn of_cells(cells: Vec<Cell>) -> Result<Self, Error>;
}

/// Takes the next cell of a row as the value of the column `name`.
pub(crate) fn take<T: Column>(cells: &mut std::vec::IntoIter<Cell>, name: &str) -> Result<T, Error> {
    let cell = cells.next();
    let shown = format!("{cell:?}");
    cell.and_then(T::of_cell).ok_or_else(|| Error::Unreadable { column: name.to_owned(), held: shown })
}

impl<A: Column + Send> Columns for (A,) {
    fn kinds() -> Vec<Kind> {
        vec![A::KIND]
    }

    fn of_cells(cells: Vec<Cell>) -> Result<Self, Error> {
        let mut cells = cells.into_iter();
        Ok((take(&mut cells, "1")?,))
    }
}

impl<A: Column + Send, B: Column + Send> Columns for (A, B) {
    fn kinds() -> Vec<Kind> {
        vec![A::KIND, B::KIND]
    }

    fn of_cells(cells: Vec<Cell>) -> Result<Self, Error> {
        let mut cells = cells.into_iter();
        Ok((take(&mut cells, "1")?, take(&mut cells, "2")?))
    }
}
