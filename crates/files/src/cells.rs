//! Spreadsheets saved as CSV: lines to rows, rows to the tree that records
//! are read from.
//!
//! One line is one row, the first names the columns, commas separate, and a
//! cell that holds a comma stands in double quotes with inner quotes doubled
//! (RFC 4180, without line breaks in cells). A quote inside a cell that does
//! not begin with one is an inch mark. A cell is text whatever it begins with:
//! nothing here is a formula.

use crate::bytes::{LARGEST_TABLE, text};
use crate::node::{Content, Entry, Node, Table};
use crate::place::{Place, Placed};
use crate::problem::{Log, Problem, Read, nearest};
use crate::record::{FromFile, quoted};
use crate::shape::{Description, Need, Shape};
use std::collections::HashMap;

/// A cell: its text without quotes, and where it stands with them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Cell {
    pub text: String,
    pub place: Place,
}

/// Reads every row of a spreadsheet as a record.
pub(crate) fn read<T: FromFile>(bytes: &[u8], check: impl Fn(&[Placed<T>], &mut Log)) -> Read<Vec<Placed<T>>> {
    let mut log = Log::default();
    let rows = match text(bytes, LARGEST_TABLE) {
        Ok(file) => {
            let rows = read_rows::<T>(file.text, file.offset, &mut log);
            if let Some(rows) = &rows {
                check(rows, &mut log);
            }
            rows
        }
        Err(problem) => {
            log.push(*problem);
            None
        }
    };
    Read { record: rows, problems: log.into_problems() }
}

/// The columns of a record.
pub(crate) fn description<T: FromFile>() -> Description {
    match T::shape(None) {
        Shape::Table(description) => description,
        _ => Description { about: "", fields: Vec::new() },
    }
}

fn read_rows<T: FromFile>(text: &str, offset: usize, log: &mut Log) -> Option<Vec<Placed<T>>> {
    let mut lines = numbered_lines(text, offset);
    let Some((_, header, start)) = lines.next() else {
        log.push(
            Problem::new("empty-file", "the file holds commas only").hint("check that this is the file you meant"),
        );
        return None;
    };
    let columns = Columns::of(header, start, &description::<T>(), log)?;
    // A missing column is reported once, at the header, not in each row.
    log.excused = columns.missing.clone();
    let mut rows = Vec::new();
    for (number, line, start) in lines {
        if log.is_full() {
            break;
        }
        let Some(cells) = cells(line, start, log) else { continue };
        let place = Place { start, end: start + line.len() };
        if cells.len() != columns.keys.len() {
            let message = format!("row {number} has {} cells, the header {}", cells.len(), columns.keys.len());
            log.push(
                Problem::new("cell-count", message)
                    .allowed("as many cells as there are columns; empty ones keep their comma")
                    .hint("a text with a comma in it stands in double quotes")
                    .at(place),
            );
            continue;
        }
        log.path.push(format!("row {number}"));
        if let Some(value) = T::read(&columns.row(cells, place), None, log) {
            rows.push(Placed { value, place });
        }
        log.path.pop();
    }
    Some(rows)
}

/// Lines with something in them: number, text without the line end, first byte.
fn numbered_lines(text: &str, offset: usize) -> impl Iterator<Item = (usize, &str, usize)> {
    let mut at = offset;
    text.split('\n').enumerate().filter_map(move |(index, line)| {
        let start = at;
        at += line.len() + 1;
        let line = line.strip_suffix('\r').unwrap_or(line);
        // A row of commas alone is what a spreadsheet makes of an empty row.
        let empty = line.chars().all(|c| matches!(c, ',' | ' ' | '\t'));
        (!empty).then_some((index + 1, line, start))
    })
}

/// What each column is: a known key, or one whose problem is reported.
struct Columns {
    keys: Vec<Option<String>>,
    /// Required keys that no column has.
    missing: Vec<&'static str>,
}

impl Columns {
    fn of(header: &str, start: usize, description: &Description, log: &mut Log) -> Option<Self> {
        let known: Vec<_> = description.fields.iter().map(|field| field.key).collect();
        let place = Place { start, end: start + header.len() };
        if let Some(separator) = [';', '\t', '|'].into_iter().find(|sign| header.contains(*sign))
            && !header.contains(',')
        {
            log.push(
                Problem::new("separator", format!("the columns are separated by {separator:?}"))
                    .allowed("commas between the columns")
                    .hint("save the spreadsheet again with commas as separators")
                    .at(place),
            );
            return None;
        }
        let cells = cells(header, start, log)?;
        let mut first: HashMap<String, Place> = HashMap::new();
        let mut meant = Vec::new();
        let mut keys = Vec::new();
        for cell in cells {
            if let Some(before) = first.get(&cell.text) {
                log.push(
                    Problem::new("duplicate-key", format!("two columns are called {}", quoted(&cell.text)))
                        .allowed("each column once")
                        .hint("leave one of them out")
                        .at(cell.place)
                        .and("the first is here", *before),
                );
                keys.push(None);
                continue;
            }
            first.insert(cell.text.clone(), cell.place);
            if known.contains(&cell.text.as_str()) {
                keys.push(Some(cell.text));
                continue;
            }
            let near = nearest(&cell.text, known.iter().copied());
            meant.extend(near);
            log.push(unknown_column(&cell, near, &known));
            keys.push(None);
        }
        let missing: Vec<_> = description
            .fields
            .iter()
            .filter(|field| field.need == Need::Required && !first.contains_key(field.key))
            .map(|field| field.key)
            .collect();
        for key in missing.iter().filter(|key| !meant.contains(key)) {
            log.push(
                Problem::new("missing-key", format!("the column {key} is missing"))
                    .allowed(format!("the columns {}", known.join(", ")))
                    .hint(format!("add a column {key}"))
                    .at(place),
            );
        }
        Some(Columns { keys, missing })
    }

    /// One row as a table: the cells of known columns.
    fn row(&self, cells: Vec<Cell>, place: Place) -> Node {
        let entries: Vec<_> = self
            .keys
            .iter()
            .zip(cells)
            .filter_map(|(key, cell)| {
                let value = (!cell.text.trim().is_empty()).then(|| Node::new(cell.place, Content::Cell(cell.text)));
                key.as_ref().map(|key| Entry { key: key.clone(), key_place: cell.place, value })
            })
            .collect();
        Node::new(place, Content::Table(Table { entries }))
    }
}

fn unknown_column(cell: &Cell, near: Option<&str>, known: &[&str]) -> Problem {
    let name = if cell.text.is_empty() {
        "a column has no name".to_owned()
    } else {
        format!("there is no column {}", quoted(&cell.text))
    };
    let hint = near.map_or("leave the column out".to_owned(), |near| format!("did you mean {near}?"));
    Problem::new("unknown-key", name)
        .given(&cell.text)
        .allowed(format!("the columns {}", known.join(", ")))
        .hint(hint)
        .at(cell.place)
}

/// The cells of a line; None, and a problem, when its quotes do not pair.
pub(crate) fn cells(line: &str, start: usize, log: &mut Log) -> Option<Vec<Cell>> {
    let mut cells = Vec::new();
    let mut at = 0;
    loop {
        let rest = &line[at..];
        let lead = rest.len() - rest.trim_start_matches([' ', '\t']).len();
        let (text, length) = if rest[lead..].starts_with('"') {
            quoted_cell(&rest[lead..], start + at + lead, log).map(|(text, length)| (text, lead + length))?
        } else {
            let length = rest.find(',').unwrap_or(rest.len());
            (rest[..length].trim().to_owned(), length)
        };
        let raw = &rest[..length];
        let first = start + at + (raw.len() - raw.trim_start().len()).min(raw.len());
        let place = Place { start: first, end: first + raw.trim().len() };
        cells.push(Cell { text, place });
        at += length;
        if at >= line.len() {
            return Some(cells);
        }
        // The comma.
        at += 1;
    }
}

/// A cell that begins with a quote: its text, and its length up to the comma.
fn quoted_cell(rest: &str, start: usize, log: &mut Log) -> Option<(String, usize)> {
    let mut text = String::new();
    let mut at = 1;
    loop {
        let Some(length) = rest[at..].find('"') else {
            log.push(
                Problem::new("quote", "the quote is not closed on its line")
                    .allowed("cells without line breaks; a quote inside a quoted cell is doubled")
                    .hint("add the closing quote, or take the opening one out")
                    .at(Place { start, end: start + rest.len() }),
            );
            return None;
        };
        text.push_str(&rest[at..at + length]);
        at += length + 1;
        if rest[at..].starts_with('"') {
            text.push('"');
            at += 1;
            continue;
        }
        let behind = rest[at..].find(',').unwrap_or(rest.len() - at);
        if !rest[at..at + behind].trim().is_empty() {
            log.push(
                Problem::new("quote", "text follows the closing quote")
                    .allowed("a comma behind the closing quote; a quote inside a quoted cell is doubled")
                    .at(Place { start: start + at, end: start + at + behind }),
            );
            return None;
        }
        return Some((text, at + behind));
    }
}
