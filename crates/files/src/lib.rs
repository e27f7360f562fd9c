//! Order, rack and rope files to plain records, with the place of every value.
//!
//! Bytes go in, a [`Read`] comes out: the record, and every [`Problem`] of
//! the file in one pass, each with its place. No file is opened here.
//!
//! A record is declared once; its struct, its reader and its description
//! (from which the JSON schema is made) come from the one declaration, so
//! they cannot drift apart.
//!
//! ```
//! let bytes = b"becket = 1\nflags = 3\n";
//! let read = files::read_order(bytes);
//! assert_eq!(read.problems.len(), 4);
//! assert_eq!(read.problems[3].message, "\"flags\" is not known in the file");
//! ```
//!
//! Not covered: what a value means. Loads, ropes and lengths are checked by
//! the rooms that know them.

mod amounts;
mod boat;
mod bytes;
mod calendar;
mod cells;
mod curve;
mod fleet;
mod form;
mod line;
mod line_list;
mod log_book;
mod node;
mod order;
mod place;
mod problem;
mod record;
mod render;
mod rewrite;
mod rules;
mod shape;
mod source;
mod statements;
mod stock;
mod syntax;
mod table;
mod toml_tree;
mod value;
mod word;
mod workbook;

pub use boat::*;
pub use bytes::{LARGEST_ORDER, LARGEST_TABLE};
pub use calendar::{Calendar, CalendarEntry, calendar};
pub use curve::{CurveRow, LARGEST_CURVE, read_curve};
pub use fleet::*;
pub use form::*;
pub use line::*;
pub use line_list::*;
pub use log_book::*;
pub use order::*;
pub use place::{Place, Placed};
pub use problem::{Problem, Read, Related};
pub use render::{MOST_SHOWN, render};
pub use rewrite::{RackEdit, rewrite_rack};
pub use rules::{RuleRecord, read_rules, rules_description};
pub use shape::{Description, Field, Need, Shape};
pub use source::{Position, Source};
pub use stock::*;
pub use table::*;
pub use value::{Date, Notes, Share};
pub use word::Word;
pub use workbook::{line_list_xlsx, read_line_list_xlsx};
