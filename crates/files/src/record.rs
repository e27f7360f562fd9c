//! Tables to records: one declaration gives the struct, its reader and its
//! description.

use crate::node::{Content, Entry, Node, Table};
use crate::place::{Place, Placed};
use crate::problem::{Log, Problem, nearest};
use crate::shape::Shape;
use std::collections::HashMap;

/// A value that can be read from a file.
pub(crate) trait FromFile: Sized {
    /// What bounds it.
    type Limits;
    /// What may stand there.
    fn shape(limits: Option<&Self::Limits>) -> Shape;
    /// Reads it, or tells the log why not.
    fn read(node: &Node, limits: Option<&Self::Limits>, log: &mut Log) -> Option<Self>;
}

/// Declares a record: struct, reader, description.
///
/// A function named behind `checked by` looks for what contradicts itself, in
/// a record of which every value was read.
/// `required`, `optional` and `assumed` say whether the key must be there,
/// and `many` is a list that may be left out. `as` gives a key that is not
/// the field's name, `where` the range allowed, `=>` what is assumed.
macro_rules! record {
    ($(
        $(#[doc = $about:literal])+
        $name:ident $(checked by $check:path)? {
            $(
                $(#[doc = $field_about:literal])+
                $need:ident $field:ident $(as $key:literal)? : $kind:ty $(where $limits:expr)? $(=> $assumed:expr)?;
            )+
        }
    )+) => {$(
        $(#[doc = $about])+
        #[derive(Debug, Clone, PartialEq)]
        pub struct $name {
            $( $(#[doc = $field_about])+ pub $field: crate::record::record!(@type $need $kind), )+
        }

        impl $name {
            pub(crate) const KEYS: &'static [&'static str] =
                &[$( crate::record::record!(@key $field $($key)?) ),+];
        }

        impl crate::record::FromFile for $name {
            type Limits = ();

            fn shape(_: Option<&()>) -> crate::shape::Shape {
                crate::shape::Shape::Table(crate::shape::Description {
                    about: crate::record::trimmed(concat!($($about),+)),
                    fields: vec![$( crate::shape::Field {
                        key: crate::record::record!(@key $field $($key)?),
                        need: crate::record::record!(@need $need $($assumed)?),
                        about: crate::record::trimmed(concat!($($field_about),+)),
                        shape: crate::record::record!(@shape $need $kind, crate::record::record!(@limits $($limits)?)),
                    } ),+],
                })
            }

            fn read(node: &crate::node::Node, _: Option<&()>, log: &mut crate::problem::Log) -> Option<Self> {
                let before = log.count();
                let table = crate::record::Reader::open(node, Self::KEYS, log)?;
                $( let $field = crate::record::record!(
                    @read $need table, log, crate::record::record!(@key $field $($key)?), $kind,
                    crate::record::record!(@limits $($limits)?) $(, $assumed)?
                ); )+
                let record = $name { $( $field: crate::record::record!(@take $need $field) ),+ };
                // A value left out for its own problem would look like a contradiction.
                let sound = log.count() == before;
                $( if sound { $check(&record, log); } )?
                let _ = sound;
                Some(record)
            }
        }
    )+};
    (@type required $kind:ty) => { crate::place::Placed<$kind> };
    (@type assumed $kind:ty) => { crate::place::Placed<$kind> };
    (@type optional $kind:ty) => { Option<crate::place::Placed<$kind>> };
    (@type many $kind:ty) => { Vec<crate::place::Placed<$kind>> };
    (@key $field:ident $key:literal) => { $key };
    (@key $field:ident) => { stringify!($field) };
    (@limits $limits:expr) => { Some(&$limits) };
    (@limits) => { None };
    (@need required) => { crate::shape::Need::Required };
    (@need optional) => { crate::shape::Need::Optional };
    (@need many) => { crate::shape::Need::Optional };
    (@need assumed $assumed:expr) => { crate::shape::Need::Assumed($assumed.to_string()) };
    (@shape many $kind:ty, $limits:expr) => { <Vec<crate::place::Placed<$kind>> as crate::record::FromFile>::shape($limits) };
    (@shape $need:ident $kind:ty, $limits:expr) => { <$kind as crate::record::FromFile>::shape($limits) };
    (@read required $table:ident, $log:ident, $key:expr, $kind:ty, $limits:expr) => {
        $table.required::<$kind>($key, $limits, $log)
    };
    (@read optional $table:ident, $log:ident, $key:expr, $kind:ty, $limits:expr) => {
        $table.optional::<$kind>($key, $limits, $log)
    };
    (@read many $table:ident, $log:ident, $key:expr, $kind:ty, $limits:expr) => {
        $table.optional::<Vec<crate::place::Placed<$kind>>>($key, $limits, $log).map_or_else(Vec::new, |list| list.value)
    };
    (@read assumed $table:ident, $log:ident, $key:expr, $kind:ty, $limits:expr, $assumed:expr) => {
        $table.optional::<$kind>($key, $limits, $log)
            .unwrap_or(crate::place::Placed { value: $assumed, place: $table.place() })
    };
    (@take required $field:ident) => { $field? };
    (@take $need:ident $field:ident) => { $field };
}

pub(crate) use record;

/// The text of a doc comment without the space behind its strokes.
pub(crate) fn trimmed(text: &'static str) -> &'static str {
    text.trim()
}

/// Takes the values of one table.
pub(crate) struct Reader<'n> {
    place: Place,
    table: &'n Table,
    /// Keys that an unknown key was probably meant to be: not missing as well.
    meant: Vec<&'static str>,
}

impl<'n> Reader<'n> {
    /// The table in `node`, its unknown keys reported.
    pub(crate) fn open(node: &'n Node, keys: &'static [&'static str], log: &mut Log) -> Option<Self> {
        let table = match &node.content {
            Content::Table(table) => table,
            Content::Broken => return None,
            _ => {
                wrong_type(node, "a table of its own", log);
                return None;
            }
        };
        let mut meant = Vec::new();
        for entry in table.entries.iter().filter(|entry| !keys.contains(&entry.key.as_str())) {
            if log.is_full() {
                break;
            }
            let near = nearest(&entry.key, keys.iter().copied());
            meant.extend(near);
            log.push(unknown_key(entry, near, keys, &log.table()));
        }
        Some(Reader { place: node.place, table, meant })
    }

    pub(crate) fn place(&self) -> Place {
        self.place
    }

    pub(crate) fn required<T: FromFile>(
        &self,
        key: &'static str,
        limits: Option<&T::Limits>,
        log: &mut Log,
    ) -> Option<Placed<T>> {
        let entry = self.table.entries.iter().find(|entry| entry.key == key);
        if let Some(Entry { value: Some(_), .. }) = entry {
            return self.optional(key, limits, log);
        }
        if !self.meant.contains(&key) && !log.excused.contains(&key) {
            let shape = T::shape(limits);
            let place = entry.map_or(self.place, |entry| entry.key_place);
            let hint = match &shape {
                Shape::Table(_) if log.path.is_empty() => format!("add a table [{key}]"),
                _ if entry.is_some() => "fill in the cell".to_owned(),
                _ => format!("add {key}, such as {key} = {}", shape.example()),
            };
            log.push(
                Problem::new("missing-key", format!("{key} is missing in {}", log.table()))
                    .allowed(shape.allowed())
                    .hint(hint)
                    .at(place),
            );
        }
        None
    }

    pub(crate) fn optional<T: FromFile>(
        &self,
        key: &'static str,
        limits: Option<&T::Limits>,
        log: &mut Log,
    ) -> Option<Placed<T>> {
        let node = self.table.entries.iter().find(|entry| entry.key == key)?.value.as_ref()?;
        log.path.push(key.to_owned());
        let value = T::read(node, limits, log);
        log.path.pop();
        Some(Placed { value: value?, place: node.place })
    }
}

fn unknown_key(entry: &Entry, near: Option<&str>, keys: &[&str], table: &str) -> Problem {
    let problem = Problem::new("unknown-key", format!("{} is not known in {table}", quoted(&entry.key)))
        .given(&entry.key)
        .allowed(keys.join(", "))
        .at(entry.key_place);
    match near {
        Some(near) => problem.hint(format!("did you mean {near}?")),
        None => problem.hint("leave it out, or put it into notes"),
    }
}

/// The text in quotes, shortened.
pub(crate) fn quoted(text: &str) -> String {
    format!("\"{}\"", crate::problem::shortened(text))
}

/// Says that a value is of the wrong type.
pub(crate) fn wrong_type(node: &Node, allowed: &str, log: &mut Log) {
    let key = log.path.last().cloned().unwrap_or_default();
    log.push(
        Problem::new("wrong-type", format!("{key} cannot be {}", node.kind()))
            .given(&node.given())
            .allowed(allowed)
            .at(node.place),
    );
}

/// Lists: each value is read, and those that cannot be are reported and left out.
impl<T: FromFile> FromFile for Vec<Placed<T>> {
    type Limits = T::Limits;

    fn shape(limits: Option<&T::Limits>) -> Shape {
        Shape::List(Box::new(T::shape(limits)))
    }

    fn read(node: &Node, limits: Option<&T::Limits>, log: &mut Log) -> Option<Self> {
        let parts;
        let items = match &node.content {
            Content::List(items) => items,
            Content::Cell(text) => {
                parts = cell_parts(text, node.place);
                &parts
            }
            Content::Broken => return None,
            Content::Table(_) if matches!(T::shape(limits), Shape::Table(_)) => {
                let key = log.path.last().cloned().unwrap_or_default();
                log.push(
                    Problem::new("wrong-type", format!("{key} is a list of tables"))
                        .allowed(format!("[[{key}]] once for each, or a list of tables in square brackets"))
                        .hint(format!("write [[{key}]] with two brackets"))
                        .at(node.place),
                );
                return None;
            }
            _ => {
                wrong_type(node, &Self::shape(limits).allowed(), log);
                return None;
            }
        };
        let name = log.path.pop().unwrap_or_default();
        let top = log.path.is_empty();
        let mut values = Vec::new();
        for (index, item) in items.iter().enumerate() {
            if log.is_full() {
                break;
            }
            log.path.push(if top { format!("[[{name}]] {}", index + 1) } else { format!("{name} {}", index + 1) });
            if let Some(value) = T::read(item, limits, log) {
                values.push(Placed { value, place: item.place });
            }
            log.path.pop();
        }
        log.path.push(name);
        Some(values)
    }
}

/// A cell that holds several values with semicolons between them.
fn cell_parts(text: &str, place: Place) -> Vec<Node> {
    // Inside a quoted cell a doubled quote moves what follows; then the whole cell is the place.
    let exact = place.end - place.start == text.len();
    let mut at = place.start;
    let mut parts = Vec::new();
    for part in text.split(';') {
        let lead = part.len() - part.trim_start().len();
        let start = at + lead;
        let trimmed = part.trim();
        at += part.len() + 1;
        if !trimmed.is_empty() {
            let place = if exact { Place { start, end: start + trimmed.len() } } else { place };
            parts.push(Node::new(place, Content::Cell(trimmed.to_owned())));
        }
    }
    parts
}

/// Reports names that stand twice, whatever their capitals and spaces.
pub(crate) fn unique<'a>(names: impl Iterator<Item = (&'a str, Place)>, what: &str, log: &mut Log) {
    let mut seen = HashMap::new();
    // An empty name is reported as such.
    for (name, place) in names.filter(|(name, _)| !name.is_empty()) {
        let plain = name.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
        let first = *seen.entry(plain).or_insert(place);
        if first != place {
            log.push(
                Problem::new("duplicate-name", format!("two {what} are called {}", quoted(name)))
                    .given(name)
                    .allowed("each name once, capitals or not")
                    .hint("call them apart, or use count for what is alike")
                    .at(place)
                    .and("the first is here", first),
            );
        }
    }
}
