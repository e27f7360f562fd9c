//! The order file, version 1: TOML, every quantity as text with its unit.
//!
//! `becket = 1` comes first; then `[order]`, `[boat]`, `[sails.*]`, `[use]`,
//! `[loft]` and one `[[line]]` for each line. The reader finds every mistake
//! in one pass: each statement that cannot be read as TOML, each key and
//! value that the format does not have, and what contradicts itself within
//! one line. What needs a rope list or a load is not its business.

use crate::boat::{AssumedRecord, BoatRecord, LoftRecord, OrderRecord, SailsRecord, UseRecord};
use crate::bytes::{LARGEST_ORDER, text};
use crate::line::LineRecord;
use crate::node::{Content, Node};
use crate::place::Place;
use crate::problem::{Log, Read};
use crate::record::{FromFile, record, unique};
use crate::shape::{Description, Shape};
use crate::value::text_of;
use serde_json::{Value as Json, json};

/// The version of the order file that this reader reads.
pub const ORDER_VERSION: u32 = 1;

record! {
    /// An order: the boat, what she is used for, and her lines.
    OrderFile {
        /// Version of the format: 1
        required becket: u32 where ORDER_VERSION..=ORDER_VERSION;
        /// Who ordered, and when
        required order: OrderRecord;
        /// The boat
        required boat: BoatRecord;
        /// The sails
        optional sails: SailsRecord;
        /// Inputs that nobody published, where you know better
        optional assumed: AssumedRecord;
        /// What she is used for
        required usage as "use": UseRecord;
        /// What the loft sets for all its work
        optional loft: LoftRecord;
        /// The lines, one [[line]] each
        many line: LineRecord;
    }
}

/// Reads an order file: the bytes as they are on disk.
///
/// ```
/// let read = files::read_order(b"becket = 1\n[boat]\nname = \"Tern\"\nloa = \"10\"\n");
/// let codes: Vec<_> = read.problems.iter().map(|problem| problem.code).collect();
/// assert!(codes.contains(&"no-unit"));
/// assert_eq!(codes.iter().filter(|code| **code == "missing-key").count(), 4);
/// ```
#[must_use]
pub fn read_order(bytes: &[u8]) -> Read<OrderFile> {
    let mut log = Log::default();
    let record = match text(bytes, LARGEST_ORDER) {
        Ok(text) => {
            let table = crate::toml_tree::read(&text, &mut log);
            let root = Node::new(Place { start: text.offset, end: text.offset }, table);
            let record = OrderFile::read(&root, None, &mut log);
            check_names(&root, &mut log);
            record
        }
        Err(problem) => {
            log.push(*problem);
            None
        }
    };
    Read { record, problems: log.into_problems() }
}

/// What an order file may hold, key by key: what the reader goes by.
#[must_use]
pub fn order_description() -> Description {
    match OrderFile::shape(None) {
        Shape::Table(description) => description,
        // A record's shape is a table by its declaration.
        _ => Description { about: "", fields: Vec::new() },
    }
}

/// The order file as JSON schema (draft 2020-12), for editors that complete
/// and check while writing.
#[must_use]
pub fn order_schema() -> Json {
    let mut schema = order_description().schema();
    schema["$schema"] = json!("https://json-schema.org/draft/2020-12/schema");
    schema["title"] = json!("Becket order file, version 1");
    schema
}

/// Names that stand twice, whatever else is wrong with the lines.
fn check_names(root: &Node, log: &mut Log) {
    let part = |node: &Node, key: &str| match &node.content {
        Content::Table(table) => {
            table.entries.iter().find(|entry| entry.key == key).and_then(|entry| entry.value.clone())
        }
        _ => None,
    };
    let Some(Node { content: Content::List(lines), .. }) = part(root, "line") else {
        return;
    };
    let names = lines.iter().filter_map(|line| part(line, "name"));
    let names: Vec<_> = names.filter_map(|name| Some((text_of(&name)?.to_owned(), name.place))).collect();
    unique(names.iter().map(|(name, place)| (name.as_str(), *place)), "lines", log);
}
