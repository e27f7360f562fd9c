//! The line list as a spreadsheet (xlsx): numbers as numbers, text always as
//! text, and a second sheet that says what each column is.
//!
//! A spreadsheet is read by turning its first sheet into the rows of a CSV, so
//! that both forms have one reader, one set of messages and the same row
//! numbers. A formula counts by the value it had when the file was saved.

use crate::bytes::LARGEST_TABLE;
use crate::line_list::{LineList, LineRow, ListCell, csv_cell, line_list_description, read_line_list};
use crate::problem::Problem;
use crate::shape::Need;
use calamine::{Data, Reader, Xlsx};
use rust_xlsxwriter::{Format, Workbook, XlsxError};
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

/// Reads the first sheet of a spreadsheet as a line list.
///
/// # Errors
/// When it is no spreadsheet, has no sheet, or its headings are wrong.
pub fn read_line_list_xlsx(bytes: &[u8]) -> Result<LineList, Vec<Problem>> {
    read_line_list(&as_csv(bytes).map_err(|problem| vec![*problem])?)
}

fn as_csv(bytes: &[u8]) -> Result<Vec<u8>, Box<Problem>> {
    let refuse =
        |message: String| Box::new(Problem::new("not-a-spreadsheet", message).hint("save it as xlsx, or as CSV"));
    if bytes.len() > LARGEST_TABLE {
        return Err(refuse(format!("the spreadsheet has {} bytes, more than {LARGEST_TABLE}", bytes.len())));
    }
    let mut workbook: Xlsx<_> = calamine::open_workbook_from_rs(Cursor::new(bytes))
        .map_err(|why: calamine::XlsxError| refuse(format!("this is no spreadsheet that can be read: {why}")))?;
    let name = workbook.sheet_names().first().cloned().ok_or_else(|| refuse("it has no sheet".to_owned()))?;
    let range = workbook.worksheet_range(&name).map_err(|why| refuse(format!("sheet {name:?}: {why}")))?;
    let (first_row, first_column) = range.start().unwrap_or((0, 0));
    let mut text = "\n".repeat(first_row as usize);
    for row in range.rows() {
        let mut cells = vec![String::new(); first_column as usize];
        cells.extend(row.iter().map(cell));
        text.push_str(&cells.join(","));
        text.push('\n');
    }
    Ok(text.into_bytes())
}

/// A cell as CSV. A line break, which a row of text cannot have, becomes the
/// sign for one, which the reader refuses by name.
fn cell(data: &Data) -> String {
    let text = |text: &str| {
        let text = text.replace("\r\n", "\u{85}").replace(['\n', '\r'], "\u{85}");
        csv_cell(&ListCell::Text(text))
    };
    match data {
        Data::Empty => String::new(),
        Data::String(own) | Data::DateTimeIso(own) | Data::DurationIso(own) => text(own),
        Data::Float(number) => number.to_string(),
        Data::Int(number) => number.to_string(),
        Data::Bool(flag) => flag.to_string(),
        Data::DateTime(day) => day_text(day),
        Data::Error(error) => text(&format!("{error:?}")),
    }
}

/// A day that the spreadsheet keeps as a number, as a list writes it.
fn day_text(day: &calamine::ExcelDateTime) -> String {
    let (year, month, day_of_month, ..) = day.to_ymd_hms_milli();
    format!("{year:04}-{month:02}-{day_of_month:02}")
}
