//! A load curve as a data logger saves it: time, load and extension in
//! columns, each with its unit in the header, plain numbers below.
//!
//! `time [s],load [kN],extension [mm]`, the unit in square or round brackets,
//! in any order, extension left out where it was not measured. A row that is
//! no reading is told with its place and the others are kept. Whether the
//! readings can be (time that rises, loads above zero) is the business of
//! `proving`.

use crate::bytes::text;
use crate::cells::{Cell, cells};
use crate::place::{Place, Placed};
use crate::problem::{Log, Problem, Read, listed};
use crate::record::quoted;
use units::{Duration, Force, Length};

/// Largest curve file that is read, in bytes: some million readings.
pub const LARGEST_CURVE: usize = 64 << 20;

/// One reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CurveRow {
    /// Time since the start.
    pub time: Duration,
    /// Load, negative ones included.
    pub load: Force,
    /// Extension, where there is such a column.
    pub extension: Option<Length>,
}

/// A column: which cell, and what its numbers are multiplied by.
#[derive(Clone, Copy)]
struct Column {
    at: usize,
    factor: f64,
}

struct Columns {
    time: Column,
    load: Column,
    extension: Option<Column>,
    count: usize,
}

/// Reads a load curve.
///
/// ```
/// let read = files::read_curve(b"time [s],load [kN]\n0,0.1\n0.5,-0.2\n1,gap\n1.5,0.4\n");
/// assert_eq!(read.record.map(|rows| rows.len()), Some(3));
/// assert_eq!(read.problems[0].message, "row 4: \"gap\" is not a number");
/// let bare = files::read_curve(b"time,load\n0,1\n");
/// assert_eq!(bare.problems[0].message, "the column time has no unit");
/// ```
#[must_use]
pub fn read_curve(bytes: &[u8]) -> Read<Vec<Placed<CurveRow>>> {
    let mut log = Log::default();
    let rows = match text(bytes, LARGEST_CURVE) {
        Ok(file) => read_rows(file.text, file.offset, &mut log),
        Err(problem) => {
            log.push(*problem);
            None
        }
    };
    Read { record: rows, problems: log.into_problems() }
}

fn read_rows(text: &str, offset: usize, log: &mut Log) -> Option<Vec<Placed<CurveRow>>> {
    let mut at = offset;
    let mut columns = None;
    let mut rows = Vec::new();
    for (index, line) in text.split('\n').enumerate() {
        let start = at;
        at += line.len() + 1;
        let line = line.strip_suffix('\r').unwrap_or(line);
        if log.is_full() {
            break;
        }
        let empty = line.chars().all(|c| matches!(c, ',' | ' ' | '\t'));
        let place = Place { start, end: start + line.len() };
        match (&columns, empty) {
            // An empty row amid readings is a gap in the record.
            (Some(_), true) if start + line.len() < offset + text.trim_end().len() => {
                log.push(
                    Problem::new("gap", format!("row {}: no reading", index + 1))
                        .hint("leave the row out if nothing was read; look why if something was")
                        .at(place),
                );
            }
            (_, true) => {}
            (None, false) => columns = Some(header(line, start, log)?),
            (Some(columns), false) => {
                if let Some(value) = row(columns, line, (start, index + 1), log) {
                    rows.push(Placed { value, place });
                }
            }
        }
    }
    Some(rows)
}

fn header(line: &str, start: usize, log: &mut Log) -> Option<Columns> {
    let place = Place { start, end: start + line.len() };
    if line.contains(';') && !line.contains(',') {
        log.push(
            Problem::new("separator", "the columns are separated by ';'")
                .allowed("commas between the columns, and points in the numbers")
                .hint("save the curve again with commas as separators")
                .at(place),
        );
        return None;
    }
    let cells = cells(line, start, log)?;
    let before = log.count();
    let seconds = |unit: &str| factor(unit, Duration::UNITS);
    let newtons = |unit: &str| factor(unit, Force::UNITS);
    let metres = |unit: &str| factor(unit, Length::UNITS);
    let time = column("time", &cells, &seconds, &unit_names(Duration::UNITS), log);
    let load = column("load", &cells, &newtons, &unit_names(Force::UNITS), log);
    let extension = column("extension", &cells, &metres, &unit_names(Length::UNITS), log);
    for (name, found) in [("time", time.is_some()), ("load", load.is_some())] {
        if !found && log.count() == before {
            log.push(
                Problem::new("missing-key", format!("the column {name} is missing"))
                    .allowed("time [s],load [kN],extension [mm]")
                    .at(place),
            );
        }
    }
    (log.count() == before).then_some(())?;
    Some(Columns { time: time?, load: load?, extension, count: cells.len() })
}

fn unit_names(units: &[units::Unit]) -> String {
    listed(&units.iter().filter_map(|unit| unit.names.first().copied()).collect::<Vec<_>>())
}

fn factor(unit: &str, units: &[units::Unit]) -> Option<f64> {
    units.iter().find(|known| known.names.contains(&unit)).map(|known| known.factor)
}

/// The column of this name, with the unit that its header gives.
fn column(
    name: &str,
    cells: &[Cell],
    factor: &dyn Fn(&str) -> Option<f64>,
    units: &str,
    log: &mut Log,
) -> Option<Column> {
    let named = |cell: &Cell| {
        let first = cell.text.split(['[', '(']).next().unwrap_or_default().trim().to_lowercase();
        first == name
    };
    let at = cells.iter().position(named)?;
    let cell = &cells[at];
    if let Some(second) = cells[at + 1..].iter().find(|cell| named(cell)) {
        log.push(
            Problem::new("duplicate-key", format!("two columns are called {name}"))
                .allowed("each column once")
                .at(second.place)
                .and("the first is here", cell.place),
        );
    }
    let unit = cell.text.split_once(['[', '(']).map(|(_, rest)| rest.trim_end_matches([']', ')', ' ']).trim());
    let Some(unit) = unit.filter(|unit| !unit.is_empty()) else {
        log.push(
            Problem::new("no-unit", format!("the column {name} has no unit"))
                .given(&cell.text)
                .allowed(format!("{name} with its unit in brackets: {units}"))
                .hint("write the unit in the header, such as load [kN]")
                .at(cell.place),
        );
        return None;
    };
    let Some(factor) = factor(unit) else {
        log.push(
            Problem::new("unknown-unit", format!("{unit:?} is no unit of {name}"))
                .given(&cell.text)
                .allowed(units.to_owned())
                .at(cell.place),
        );
        return None;
    };
    Some(Column { at, factor })
}

fn row(columns: &Columns, line: &str, (start, number): (usize, usize), log: &mut Log) -> Option<CurveRow> {
    let cells = cells(line, start, log)?;
    if cells.len() != columns.count {
        let message = format!("row {number} has {} cells, the header {}", cells.len(), columns.count);
        log.push(
            Problem::new("cell-count", message)
                .allowed("as many cells as there are columns")
                .hint("numbers with a decimal point, not a comma")
                .at(Place { start, end: start + line.len() }),
        );
        return None;
    }
    let mut value = |column: Column| {
        let cell = &cells[column.at];
        let read = cell.text.parse::<f64>().ok().map(|value| value * column.factor);
        // The bounds of other input: what is beyond is a slip.
        let good = read.filter(|value| value.is_finite() && value.abs() <= 1e12);
        if good.is_none() {
            let what = if cell.text.is_empty() { "a gap".to_owned() } else { quoted(&cell.text) };
            log.push(
                Problem::new("not-a-number", format!("row {number}: {what} is not a number"))
                    .given(&cell.text)
                    .allowed("a plain number; its unit stands in the header")
                    .at(cell.place),
            );
        }
        good
    };
    let (time, load) = (value(columns.time), value(columns.load));
    let extension = match columns.extension {
        Some(column) => Some(Length::of_si(value(column)?)),
        None => None,
    };
    Some(CurveRow { time: Duration::of_si(time?), load: Force::of_si(load?), extension })
}
