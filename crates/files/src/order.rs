//! The order file, version 1: TOML, every quantity as text with its unit.
//!
//! `becket = 1` comes first; then `[order]`, `[boat]`, `[sails.*]`, `[use]`,
//! `[loft]` and one `[[line]]` for each line. The reader finds every mistake
//! in one pass: each statement that cannot be read as TOML, each key and
//! value that the format does not have, and what contradicts itself within
//! one line. What needs a rope list or a load is not its business.

use crate::boat::{BoatRecord, LoftRecord, OrderRecord, SailsRecord, UseRecord};
use crate::bytes::{LARGEST_ORDER, text};
use crate::line::{CoverWish, LineRecord};
use crate::node::Node;
use crate::place::{Place, Placed};
use crate::problem::{Log, Problem, Read};
use crate::record::{FromFile, quoted, record};
use crate::shape::{Description, Shape};
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
            if let Some(order) = &record {
                check_names(order, &mut log);
                order.line.iter().for_each(|line| check_line(line, &mut log));
            }
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

fn check_names(order: &OrderFile, log: &mut Log) {
    let mut seen = std::collections::HashMap::new();
    for line in &order.line {
        let name = &line.value.name;
        let first = *seen.entry(name.value.to_lowercase()).or_insert(name.place);
        if first != name.place {
            log.push(
                Problem::new("duplicate-name", format!("two lines are called {}", quoted(&name.value)))
                    .given(&name.value)
                    .allowed("each name once, capitals or not")
                    .hint("call them apart, or use count for lines that are alike")
                    .at(name.place)
                    .and("the first is here", first),
            );
        }
    }
}

/// What contradicts itself within one line.
fn check_line(line: &Placed<LineRecord>, log: &mut Log) {
    let line = &line.value;
    if let (Some(rope), Some(first)) = (&line.rope, line.candidates.first()) {
        log.push(
            contradiction("rope settles what candidates leave open", "one of the two", rope.place)
                .and("the candidates begin here", first.place),
        );
    }
    match (&line.cover, &line.strip) {
        (Some(cover), Some(strip)) if cover.value == CoverWish::Keep => {
            log.push(
                contradiction("the cover cannot be kept and stripped", "cover = \"strip\" or no strip", strip.place)
                    .and("kept here", cover.place),
            );
        }
        (Some(cover), None) if cover.value == CoverWish::Strip => {
            let problem = contradiction("cover = \"strip\" does not say where", "", cover.place);
            log.push(problem.hint("add strip = { from = \"400 mm\", to = \"9 m\" }, or write \"choose\""));
        }
        _ => {}
    }
    if let Some(strip) = &line.strip
        && strip.value.to.value <= strip.value.from.value
    {
        log.push(contradiction("strip ends before it begins", "from smaller than to", strip.place));
    }
    if let Some(load) = &line.load
        && load.value.peak.value < load.value.steady.value
    {
        log.push(contradiction("the peak load is below the steady one", "peak at least steady", load.value.peak.place));
    }
    if let (Some(length), Some(copied)) = (&line.length, &line.copied_from) {
        log.push(
            contradiction("the length is given twice", "length, or copied_from", length.place)
                .and("and here", copied.value.length.place),
        );
    }
    if line.same_reel.value && line.count.value == 1 {
        let problem =
            contradiction("one piece is always from one reel", "same_reel with count 2 or more", line.same_reel.place);
        log.push(problem.hint("leave same_reel out, or set count"));
    }
}

fn contradiction(message: &str, allowed: &str, place: Place) -> Problem {
    Problem::new("contradiction", message).allowed(allowed).at(place)
}
