//! Rows declared once: the struct, its columns, and how it is read and
//! written come from one declaration, and so does the list of tables that
//! export, copy and checksum walk.

use crate::cell::{Cell, Columns, Kind};
use serde::Serialize;

/// A column of a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ColumnOf {
    /// Its name, in the struct and in the database.
    pub name: &'static str,
    /// What it holds.
    pub kind: Kind,
    /// What it says, in a sentence: the export's description.
    pub meaning: &'static str,
}

/// A table as the program knows it.
#[derive(Debug, Clone, Copy)]
pub struct Table {
    /// Its name.
    pub name: &'static str,
    /// What one row of it is called.
    pub what: &'static str,
    /// What its rows are.
    pub meaning: &'static str,
    /// The columns that name a row, in order.
    pub key: &'static [&'static str],
    /// All columns, in order.
    pub columns: fn() -> Vec<ColumnOf>,
}

/// A row of a table.
pub trait Record: Columns + Serialize + Clone + Sync {
    /// Its table.
    const TABLE: Table;

    /// Its values, in the table's order.
    fn cells(&self) -> Vec<Cell>;
}

/// The values of a row's key.
pub(crate) fn key_cells<R: Record>(row: &R) -> Vec<Cell> {
    let columns = (R::TABLE.columns)();
    let cells = row.cells();
    R::TABLE
        .key
        .iter()
        .filter_map(|key| Some(cells.get(columns.iter().position(|c| c.name == *key)?)?.clone()))
        .collect()
}

/// A row's key as text, its parts joined by a slash.
pub(crate) fn key_text<R: Record>(row: &R) -> String {
    joined(&key_cells(row))
}

/// Cells as text, joined by a slash.
pub(crate) fn joined(cells: &[Cell]) -> String {
    let parts = cells.iter().map(|cell| match cell {
        Cell::Text(text) => text.clone().unwrap_or_default(),
        Cell::Whole(number) => number.map(|number| number.to_string()).unwrap_or_default(),
        Cell::Bytes(bytes) => format!("{} bytes", bytes.as_ref().map_or(0, Vec::len)),
    });
    parts.collect::<Vec<String>>().join("/")
}

/// Declares a row: `record! { /// what it is  Reel "reel" in "reels" by [id] { /// what the column says  id: String, … } }`.
macro_rules! record {
    (
        $(#[doc = $meaning:literal])+
        $name:ident $what:literal in $table:literal by [$($key:ident),+] {
            $( $(#[doc = $says:literal])+ $(#[serde($($how:tt)*)])? $field:ident: $type:ty, )+
        }
    ) => {
        $(#[doc = $meaning])+
        #[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
        pub struct $name {
            $( $(#[doc = $says])+ $(#[serde($($how)*)])? pub $field: $type, )+
        }

        impl $crate::cell::Columns for $name {
            fn kinds() -> Vec<$crate::cell::Kind> {
                vec![$( <$type as $crate::cell::Column>::KIND ),+]
            }

            fn of_cells(cells: Vec<$crate::cell::Cell>) -> Result<Self, $crate::Error> {
                let mut cells = cells.into_iter();
                Ok($name { $( $field: $crate::cell::take(&mut cells, concat!($table, ".", stringify!($field)))? ),+ })
            }
        }

        impl $crate::record::Record for $name {
            const TABLE: $crate::record::Table = $crate::record::Table {
                name: $table,
                what: $what,
                meaning: concat!($($meaning),+),
                key: &[$( stringify!($key) ),+],
                columns: || vec![$( $crate::record::ColumnOf {
                    name: stringify!($field),
                    kind: <$type as $crate::cell::Column>::KIND,
                    meaning: concat!($($says),+),
                } ),+],
            };

            fn cells(&self) -> Vec<$crate::cell::Cell> {
                vec![$( $crate::cell::Column::cell(&self.$field) ),+]
            }
        }
    };
}

/// Declares a fixed list of words that a column holds.
macro_rules! words {
    (
        $(#[doc = $meaning:literal])+
        $name:ident {
            $( $(#[doc = $says:literal])+ $word:literal => $variant:ident, )+
        }
    ) => {
        $(#[doc = $meaning])+
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
        pub enum $name {
            $( $(#[doc = $says])+ #[serde(rename = $word)] $variant, )+
        }

        impl $name {
            /// Every word of the list.
            pub const ALL: &'static [$name] = &[$( $name::$variant ),+];

            /// The word as it is stored.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $( $name::$variant => $word ),+ }
            }

            /// From the stored word.
            #[must_use]
            pub fn of_word(word: &str) -> Option<$name> {
                Self::ALL.iter().copied().find(|one| one.word() == word)
            }
        }

        impl $crate::cell::Column for $name {
            const KIND: $crate::cell::Kind = $crate::cell::Kind::Text;

            fn cell(&self) -> $crate::cell::Cell {
                $crate::cell::Cell::text(self.word())
            }

            fn of_cell(cell: $crate::cell::Cell) -> Option<$name> {
                match cell {
                    $crate::cell::Cell::Text(Some(word)) => $name::of_word(&word),
                    _ => None,
                }
            }
        }
    };
}

pub(crate) use {record, words};
