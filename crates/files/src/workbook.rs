//! The line list as a spreadsheet (xlsx): numbers as numbers, text always as
//! text, and a second sheet that says what each column is.
//!
//! A spreadsheet is read by turning a sheet into the rows of a CSV, so that both
//! forms have one reader, one set of messages and the same row numbers. A formula
//! counts by the value it had when the file was saved.

use crate::bytes::LARGEST_TABLE;
use crate::line_list::{LineList, LineRow, ListCell, csv_cell, line_list_description, read_rows};
use crate::problem::Problem;
use crate::shape::Need;
use calamine::{DataRef, Reader, Xlsx};
use rust_xlsxwriter::{Format, Workbook, XlsxError};
use std::collections::BTreeMap;
use std::io::Cursor;

/// A line list as the bytes of a spreadsheet.
///
/// # Errors
/// When the list is longer than a sheet, or a text longer than a cell.
pub fn line_list_xlsx(rows: &[LineRow]) -> Result<Vec<u8>, Box<Problem>> {
    write(rows)
        .map_err(|why| Box::new(Problem::new("cannot-write", format!("the spreadsheet cannot be written: {why}"))))
}

fn write(rows: &[LineRow]) -> Result<Vec<u8>, XlsxError> {
    let mut workbook = Workbook::new();
    // The same list gives the same bytes: no clock in the file.
    let day = rust_xlsxwriter::ExcelDateTime::from_ymd(2000, 1, 1)?;
    workbook.set_properties(&rust_xlsxwriter::DocProperties::new().set_creation_datetime(&day));
    let bold = Format::new().set_bold();
    let sheet = workbook.add_worksheet().set_name("lines")?;
    for (column, heading) in (0u16..).zip(LineRow::headings()) {
        sheet.write_string_with_format(0, column, *heading, &bold)?;
        sheet.set_column_width(column, (heading.len() as f64 + 3.0).max(10.0))?;
    }
    for (line, row) in (1u32..).zip(rows) {
        for (column, cell) in (0u16..).zip(row.cells()) {
            match cell {
                ListCell::Empty => {}
                ListCell::Number(number) => {
                    sheet.write_number(line, column, number)?;
                }
                // A string cell is never a formula, whatever it begins with.
                ListCell::Text(text) => {
                    sheet.write_string(line, column, text)?;
                }
            }
        }
    }
    sheet.set_freeze_panes(1, 1)?;
    let columns = workbook.add_worksheet().set_name("columns")?;
    for (column, heading) in (0u16..).zip(["column", "needed", "what it is", "allowed"]) {
        columns.write_string_with_format(0, column, heading, &bold)?;
    }
    for (line, field) in (1u32..).zip(line_list_description().fields) {
        let need = match field.need {
            Need::Required => "yes".to_owned(),
            Need::Optional => "no".to_owned(),
            Need::Assumed(value) => format!("else {value}"),
        };
        for (column, text) in (0u16..).zip([field.key.to_owned(), need, field.about.to_owned(), field.shape.allowed()])
        {
            columns.write_string(line, column, text)?;
        }
    }
    workbook.save_to_buffer()
}

/// Reads a spreadsheet as a line list: the first sheet that has the headings
/// `line` and `kind`, else the first one.
///
/// A formula counts by the value saved with it; without one its row is refused,
/// as is a row with a cell in error. Cells are taken one by one and no more rows
/// than 20,000, so that a sheet cannot grow without bound in reading.
///
/// # Errors
/// When it is no spreadsheet, has no sheet or too many rows, or its headings are
/// wrong.
pub fn read_line_list_xlsx(bytes: &[u8]) -> Result<LineList, Vec<Problem>> {
    let sheet = as_csv(bytes).map_err(|problem| vec![*problem])?;
    read_rows(&sheet.csv, &sheet.wrong).map_err(|mut problems| {
        for problem in &mut problems {
            problem.message = format!("sheet {:?}: {}", sheet.name, problem.message);
        }
        problems
    })
}

/// Rows of a line list at most.
pub const MOST_ROWS: u32 = 20_000;
/// Columns of a sheet that are looked at.
const MOST_COLUMNS: u32 = 256;
/// Bytes that a spreadsheet may unfold to.
const MOST_UNFOLDED: u64 = 128 * 1024 * 1024;

/// A sheet as the rows of a CSV, and rows with cells that have no value.
struct Sheet {
    name: String,
    csv: Vec<u8>,
    wrong: BTreeMap<usize, Vec<String>>,
}

fn refuse(message: String, hint: &str) -> Box<Problem> {
    Box::new(Problem::new("not-a-spreadsheet", message).hint(hint))
}

fn as_csv(bytes: &[u8]) -> Result<Sheet, Box<Problem>> {
    const AGAIN: &str = "save it as xlsx, or as CSV";
    if bytes.len() > LARGEST_TABLE {
        return Err(refuse(
            format!("the spreadsheet has {} bytes, more than {LARGEST_TABLE}", bytes.len()),
            "split it",
        ));
    }
    let unfolded = unfolded(bytes);
    if unfolded > MOST_UNFOLDED {
        return Err(refuse(format!("it unfolds to {unfolded} bytes, more than {MOST_UNFOLDED}"), "split it"));
    }
    let mut workbook: Xlsx<_> = calamine::open_workbook_from_rs(Cursor::new(bytes))
        .map_err(|why: calamine::XlsxError| refuse(format!("this is no spreadsheet that can be read: {why}"), AGAIN))?;
    let names = workbook.sheet_names();
    let mut first = None;
    for name in &names {
        let sheet = sheet(&mut workbook, name)?;
        let head = String::from_utf8_lossy(&sheet.csv).lines().find(|line| !line.trim().is_empty()).map(str::to_owned);
        let has = |heading: &str| head.as_ref().is_some_and(|head| head.split(',').any(|own| own.trim() == heading));
        if has("line") && has("kind") {
            return Ok(sheet);
        }
        first.get_or_insert(sheet);
    }
    first.ok_or_else(|| refuse("it has no sheet".to_owned(), AGAIN))
}

/// Bytes that the parts of a zip say they unfold to, from its directory.
fn unfolded(bytes: &[u8]) -> u64 {
    const ENTRY: [u8; 4] = [0x50, 0x4b, 0x01, 0x02];
    let entries = bytes.windows(28).filter(|window| window.starts_with(&ENTRY));
    entries.map(|entry| u64::from(u32::from_le_bytes([entry[24], entry[25], entry[26], entry[27]]))).sum()
}

fn sheet(workbook: &mut Xlsx<Cursor<&[u8]>>, name: &str) -> Result<Sheet, Box<Problem>> {
    let cannot = |why: calamine::XlsxError| refuse(format!("sheet {name:?}: {why}"), "save it again");
    let mut cells = workbook.worksheet_cells_reader(name).map_err(cannot)?;
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut wrong: BTreeMap<usize, Vec<String>> = BTreeMap::new();
    while let Some(found) = cells.next_cell_with_formula().map_err(cannot)? {
        let (row, column) = found.pos;
        let empty = match &found.value {
            DataRef::Empty => true,
            DataRef::String(own) => own.is_empty(),
            DataRef::SharedString(own) => own.is_empty(),
            _ => false,
        };
        if empty && found.formula.is_none() {
            continue;
        }
        if row > MOST_ROWS || column >= MOST_COLUMNS {
            let message = format!("sheet {name:?} has something in row {}, column {}", row + 1, column + 1);
            return Err(refuse(
                message,
                &format!("at most {MOST_ROWS} rows and {MOST_COLUMNS} columns: split the list"),
            ));
        }
        let (row, column) = (row as usize, column as usize);
        if rows.len() <= row {
            rows.resize(row + 1, Vec::new());
        }
        if rows[row].len() <= column {
            rows[row].resize(column + 1, String::new());
        }
        let mut told = |why: &str| wrong.entry(row + 1).or_default().push(format!("column {}: {why}", column + 1));
        rows[row][column] = match (&found.value, found.formula) {
            (_, Some(formula)) if empty => {
                told("a formula without its value; calculate, save again, or type the number");
                csv_cell(&ListCell::Text(format!("={formula}")))
            }
            (DataRef::Error(error), _) => {
                told("the formula gives an error; mend it, or type the value");
                csv_cell(&ListCell::Text(format!("{error:?}")))
            }
            (value, _) => cell(value),
        };
    }
    let width = rows.iter().map(Vec::len).max().unwrap_or(0);
    let mut csv = String::new();
    for mut row in rows {
        row.resize(width, String::new());
        csv.push_str(&row.join(","));
        csv.push('\n');
    }
    Ok(Sheet { name: name.to_owned(), csv: csv.into_bytes(), wrong })
}

/// A cell as CSV. A line break, which a row of text cannot have, becomes the
/// sign for one, which the reader refuses by name.
fn cell(data: &DataRef<'_>) -> String {
    let text = |text: &str| {
        let text = text.replace("\r\n", "\u{85}").replace(['\n', '\r'], "\u{85}");
        csv_cell(&ListCell::Text(text))
    };
    match data {
        DataRef::Empty => String::new(),
        DataRef::String(own) | DataRef::DateTimeIso(own) | DataRef::DurationIso(own) => text(own),
        DataRef::SharedString(own) => text(own),
        DataRef::Float(number) => number.to_string(),
        DataRef::Int(number) => number.to_string(),
        DataRef::Bool(flag) => flag.to_string(),
        DataRef::DateTime(day) => day_text(day),
        DataRef::Error(error) => text(&format!("{error:?}")),
    }
}

/// A day that the spreadsheet keeps as a number, as a list writes it.
fn day_text(day: &calamine::ExcelDateTime) -> String {
    let (year, month, day_of_month, ..) = day.to_ymd_hms_milli();
    format!("{year:04}-{month:02}-{day_of_month:02}")
}
