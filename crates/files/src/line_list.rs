//! The line list as people exchange it: one line a row, units in the headings,
//! as CSV or as a spreadsheet.
//!
//! Numbers are plain numbers in the unit of their heading, so that a
//! spreadsheet can add them up. A text that a spreadsheet would take for a
//! formula (it begins with `=`, `+`, `-`, `@`) is written with an apostrophe
//! before it, and the apostrophe is taken off again. A row with a mistake is
//! refused with its number and reason; the others are read. Leads are not in
//! it: geometry goes by the order file.

use crate::cells;
use crate::form::EyeOn;
use crate::line::{CoverWish, Duty, EndKind, LineKind};
use crate::node::{Content, Node};
use crate::place::Placed;
use crate::problem::{Log, Problem, Read};
use crate::record::{FromFile, record, unique};
use crate::shape::Description;
use crate::source::Source;
use crate::value::Date;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

record! {
    /// A line of a line list.
    LineRow checked by check_row {
        /// What it is called, once in the list
        required line: String;
        /// What it does
        required kind: LineKind;
        /// What hangs on it
        assumed duty: Duty => Duty::Running;
        /// How many alike
        assumed count: u32 where 1..=50 => 1;
        /// The rope: a name in the rope list, or a description
        optional rope: String;
        /// Colour
        optional colour: String;
        /// Parts at the moving block
        assumed purchase: u32 where 1..=64 => 1;
        /// Finished length, bearing point to bearing point or bitter end
        required length as "length (mm)": f64 where 50.0..=500_000.0;
        /// Length to cut; told, not read back into an order
        optional cut as "cut length (mm)": f64 where 50.0..=1_000_000.0;
        /// Steady pull
        optional steady as "steady load (N)": f64 where 1.0..=1_000_000.0;
        /// Peak pull
        optional peak as "peak load (N)": f64 where 1.0..=1_000_000.0;
        /// How the end at the sail, spar or load is made
        optional working_end as "working end": EndKind;
        /// What its eye goes on: 12 mm pin
        optional working_on as "working end on": String;
        /// Its eye inside, laid flat
        optional working_eye as "working eye (mm)": f64 where 3.0..=5000.0;
        /// How the end at the hand is made
        optional bitter_end as "bitter end": EndKind;
        /// What its eye goes on
        optional bitter_on as "bitter end on": String;
        /// Its eye inside, laid flat
        optional bitter_eye as "bitter eye (mm)": f64 where 3.0..=5000.0;
        /// What becomes of the cover
        optional cover: CoverWish;
        /// Where the cover comes off, from the working end's bearing point
        optional strip_from as "strip from (mm)": f64 where 0.0..=500_000.0;
        /// Where it goes on again
        optional strip_to as "strip to (mm)": f64 where 0.0..=500_000.0;
        /// Made before all others
        assumed rush: bool => false;
        /// Day by which it is wanted
        optional due: Date;
        /// Whether all pieces come from one reel
        assumed same_reel as "same reel": bool => false;
        /// Remarks
        optional notes: String;
    }
}

/// What came of reading a line list: rows that are sound, and rows to repair.
#[derive(Debug, Clone, PartialEq)]
pub struct LineList {
    /// The rows that are sound.
    pub rows: Vec<LineRow>,
    /// The rows that are not, each with its number and reasons.
    pub refused: Vec<RefusedRow>,
}

/// A row that was not taken over.
#[derive(Debug, Clone, PartialEq)]
pub struct RefusedRow {
    /// Its number in the file; the headings are 1.
    pub row: usize,
    /// The headings of the list, as CSV.
    pub headings: String,
    /// The row as it stands, as CSV.
    pub text: String,
    /// Why, one sentence a mistake.
    pub reasons: Vec<String>,
}

fn check_row(row: &LineRow, log: &mut Log) {
    for on in [&row.working_on, &row.bitter_on].into_iter().flatten() {
        let cell = Node::new(on.place, Content::Cell(on.value.clone()));
        let _ = EyeOn::read(&cell, None, log);
    }
    match (&row.strip_from, &row.strip_to) {
        (Some(from), Some(to)) if to.value <= from.value => {
            log.push(Problem::new("contradiction", "strip ends before it begins").at(to.place));
        }
        (Some(alone), None) | (None, Some(alone)) => {
            log.push(
                Problem::new("contradiction", "strip has one end only: strip from (mm) and strip to (mm)")
                    .at(alone.place),
            );
        }
        _ => {}
    }
    if let (Some(steady), Some(peak)) = (&row.steady, &row.peak)
        && peak.value < steady.value
    {
        log.push(Problem::new("contradiction", "the peak load is below the steady one").at(peak.place));
    }
}

/// Reads a line list saved as CSV.
///
/// # Errors
/// What is wrong with the whole file: no text, no headings, a heading missing
/// or unknown.
///
/// # Example
/// ```
/// let list = files::read_line_list(b"line,kind,length (mm)\nvang,vang,12000\nguy,guys,16500\n").unwrap();
/// assert_eq!(list.rows.len(), 1);
/// assert_eq!((list.refused[0].row, list.refused[0].reasons.len()), (3, 1));
/// ```
pub fn read_line_list(bytes: &[u8]) -> Result<LineList, Vec<Problem>> {
    read_rows(bytes, &BTreeMap::new())
}

/// The same, with rows that are already known to be wrong, and why.
pub(crate) fn read_rows(bytes: &[u8], known: &BTreeMap<usize, Vec<String>>) -> Result<LineList, Vec<Problem>> {
    let Read { record, problems } = cells::read(bytes, |rows: &[Placed<LineRow>], log: &mut Log| {
        unique(rows.iter().map(|row| (row.value.line.value.as_str(), row.value.line.place)), "lines", log);
    });
    let source = Source::new("line list", bytes);
    let line_of = |problem: &Problem| problem.place.map_or(1, |place| source.position(place).line);
    // A mistake in the headings is one in every row.
    if record.is_none() || problems.iter().any(|problem| line_of(problem) <= 1) {
        return Err(problems);
    }
    let wrong: BTreeSet<usize> = problems.iter().map(line_of).chain(known.keys().copied()).collect();
    let text = String::from_utf8_lossy(bytes);
    let lines: Vec<&str> = text.split('\n').collect();
    let line = |row: usize| lines.get(row - 1).map_or("", |line| line.trim_end_matches('\r')).to_owned();
    let headings =
        lines.iter().position(|line| !line.trim().is_empty()).map_or_else(String::new, |index| line(index + 1));
    let refused = wrong.iter().map(|row| RefusedRow {
        row: *row,
        headings: headings.clone(),
        text: line(*row),
        reasons: match known.get(row) {
            // What follows from a cell without a value is no second mistake.
            Some(reasons) => reasons.clone(),
            None => problems.iter().filter(|problem| line_of(problem) == *row).map(Problem::in_one_line).collect(),
        },
    });
    let rows = record.unwrap_or_default().into_iter();
    let rows = rows.filter(|row| !wrong.contains(&source.position(row.place).line)).map(|row| unguarded_row(row.value));
    Ok(LineList { rows: rows.collect(), refused: refused.collect() })
}

/// The columns of a line list.
#[must_use]
pub fn line_list_description() -> Description {
    cells::description::<LineRow>()
}

/// One cell of a line list.
#[derive(Debug, Clone, PartialEq)]
pub enum ListCell {
    /// Nothing.
    Empty,
    /// Text, without any guard.
    Text(String),
    /// A number in the unit of its heading.
    Number(f64),
}

impl LineRow {
    /// The headings, in order.
    #[must_use]
    pub fn headings() -> &'static [&'static str] {
        Self::KEYS
    }

    /// The cells, in the order of the headings.
    #[must_use]
    pub fn cells(&self) -> Vec<ListCell> {
        let text = |value: &str| ListCell::Text(value.to_owned());
        let own = |value: &Option<Placed<String>>| value.as_ref().map_or(ListCell::Empty, |own| text(&own.value));
        let number =
            |value: &Option<Placed<f64>>| value.as_ref().map_or(ListCell::Empty, |own| ListCell::Number(own.value));
        let end =
            |value: &Option<Placed<EndKind>>| value.as_ref().map_or(ListCell::Empty, |own| text(own.value.word()));
        let flag = |value: bool| text(if value { "true" } else { "false" });
        vec![
            text(&self.line.value),
            text(self.kind.value.word()),
            text(self.duty.value.word()),
            ListCell::Number(f64::from(self.count.value)),
            own(&self.rope),
            own(&self.colour),
            ListCell::Number(f64::from(self.purchase.value)),
            ListCell::Number(self.length.value),
            number(&self.cut),
            number(&self.steady),
            number(&self.peak),
            end(&self.working_end),
            own(&self.working_on),
            number(&self.working_eye),
            end(&self.bitter_end),
            own(&self.bitter_on),
            number(&self.bitter_eye),
            self.cover.as_ref().map_or(ListCell::Empty, |cover| text(cover.value.word())),
            number(&self.strip_from),
            number(&self.strip_to),
            flag(self.rush.value),
            self.due.as_ref().map_or(ListCell::Empty, |due| ListCell::Text(due.value.to_string())),
            flag(self.same_reel.value),
            own(&self.notes),
        ]
    }
}

/// A line list as CSV.
///
/// ```
/// let read = files::read_line_list(b"line,kind,length (mm),notes\n'=guy,guy,16500.5,\"a, b\"\n").unwrap();
/// assert_eq!(read.rows[0].line.value, "=guy");
/// let again = files::read_line_list(files::line_list_csv(&read.rows).as_bytes()).unwrap();
/// assert_eq!(again.rows[0].cells(), read.rows[0].cells());
/// ```
#[must_use]
pub fn line_list_csv(rows: &[LineRow]) -> String {
    let mut text = LineRow::headings().join(",");
    text.push('\n');
    for row in rows {
        let cells: Vec<String> = row.cells().iter().map(csv_cell).collect();
        let _ = writeln!(text, "{}", cells.join(","));
    }
    text
}

pub(crate) fn csv_cell(cell: &ListCell) -> String {
    match cell {
        ListCell::Empty => String::new(),
        ListCell::Number(number) => number.to_string(),
        ListCell::Text(text) => {
            let text = guarded(text);
            let plain = !text.contains([',', '"']) && text.trim() == text;
            if plain { text } else { format!("\"{}\"", text.replace('"', "\"\"")) }
        }
    }
}

/// A text that a spreadsheet would take for a formula gets an apostrophe; one
/// that begins with an apostrophe gets another.
fn guarded(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\'']) { format!("'{text}") } else { text.to_owned() }
}

fn unguarded(text: &mut String) {
    if let Some(rest) = text.strip_prefix('\'') {
        *text = rest.to_owned();
    }
}

fn unguarded_row(mut row: LineRow) -> LineRow {
    unguarded(&mut row.line.value);
    for own in [&mut row.rope, &mut row.colour, &mut row.notes].into_iter().flatten() {
        unguarded(&mut own.value);
    }
    row
}

/// The rows as `[[line]]` tables of an order file.
#[must_use]
pub fn line_tables(rows: &[LineRow]) -> String {
    rows.iter().map(line_table).collect::<Vec<_>>().join("\n")
}

fn line_table(row: &LineRow) -> String {
    let mut text = "[[line]]\n".to_owned();
    let quoted = |value: &str| toml::Value::String(value.to_owned()).to_string();
    let mut put = |key: &str, value: String| {
        let _ = writeln!(text, "{key} = {value}");
    };
    put("name", quoted(&row.line.value));
    put("kind", quoted(row.kind.value.word()));
    put("duty", quoted(row.duty.value.word()));
    put("count", row.count.value.to_string());
    for (key, own) in [("rope", &row.rope), ("colour", &row.colour)] {
        if let Some(own) = own {
            put(key, quoted(&own.value));
        }
    }
    put("purchase", row.purchase.value.to_string());
    put("length", quoted(&format!("{} mm", row.length.value)));
    if let Some(steady) = &row.steady {
        let peak = row.peak.as_ref().map_or(String::new(), |peak| format!(", peak = \"{} N\"", peak.value));
        put("load", format!("{{ steady = \"{} N\"{peak} }}", steady.value));
    }
    let end = |kind: &Option<Placed<EndKind>>, on: &Option<Placed<String>>, eye: &Option<Placed<f64>>| {
        let kind = kind.as_ref()?;
        let on = on.as_ref().map_or(String::new(), |on| format!(", on = {}", quoted(&on.value)));
        let eye = eye.as_ref().map_or(String::new(), |eye| format!(", eye = \"{} mm\"", eye.value));
        Some(format!("{{ kind = {}{on}{eye} }}", quoted(kind.value.word())))
    };
    let working = end(&row.working_end, &row.working_on, &row.working_eye).map(|end| format!("working = {end}"));
    let bitter = end(&row.bitter_end, &row.bitter_on, &row.bitter_eye).map(|end| format!("bitter = {end}"));
    let ends: Vec<String> = working.into_iter().chain(bitter).collect();
    if !ends.is_empty() {
        put("ends", format!("{{ {} }}", ends.join(", ")));
    }
    if let Some(cover) = &row.cover {
        put("cover", quoted(cover.value.word()));
    }
    if let (Some(from), Some(to)) = (&row.strip_from, &row.strip_to) {
        put("strip", format!("{{ from = \"{} mm\", to = \"{} mm\" }}", from.value, to.value));
    }
    if row.rush.value {
        put("rush", "true".to_owned());
    }
    if let Some(due) = &row.due {
        put("due", due.value.to_string());
    }
    if row.same_reel.value {
        put("same_reel", "true".to_owned());
    }
    if let Some(notes) = &row.notes {
        put("notes", quoted(&notes.value));
    }
    text
}
