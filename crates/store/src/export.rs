//! Everything in open formats, for any other program: each table as CSV and
//! as JSON, photos as the files they are, and a description of it all.
//!
//! The folder that [`Store::export_to`] makes:
//!
//! | file | what it is |
//! |---|---|
//! | `TABLE.csv` | UTF-8, a comma between cells, the first row names the columns; an empty cell is a value that is not there. A text that a spreadsheet would take for a formula (it begins with `=`, `+`, `-`, `@`, a tab or a line's end, and is no plain number) has an apostrophe before it |
//! | `TABLE.json` | the same as a list of objects, every text exactly as it was entered; `null` is a value that is not there |
//! | `photos/…` | each photo under its checksum, named in the table photos |
//! | `tables.json` | of each table: what a row is, what each column says, its key, how many rows there are |
//!
//! Values that are exact keep their unit in the column's name: `_mm` whole
//! millimetres, `_um` micrometres, `_mn` millinewtons, `_ms` milliseconds;
//! `millionths` are of the unit in the column `unit`. Times are RFC 3339 in
//! UTC. Passwords and sessions are left out. What programs wrote (cards,
//! answers, findings) is JSON within a text.
//!
//! The store is read in one transaction, as it was at one moment, and the
//! folder takes its name when it is whole.

use crate::cell::Cell;
use crate::copy::next_page;
use crate::error::Error;
use crate::record::{ColumnOf, Table};
use crate::store::{Store, folder_of, sync_folder};
use crate::tables::TABLES;
use crate::work::Work;
use serde_json::{Map, Value, json};
use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::Path;

/// Columns that leave the store in no export, or in another form.
const KEPT_BACK: &[(&str, &str)] = &[("users", "secret"), ("photos", "bytes")];

/// What a table became.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, schemars::JsonSchema)]
pub struct Exported {
    /// The table.
    pub table: &'static str,
    /// How many rows.
    pub rows: u64,
}

impl Store {
    /// Writes everything to a new folder; see the module's description of it.
    ///
    /// # Errors
    /// [`Error::Occupied`] when the folder is there; [`Error::File`] when it
    /// cannot be written; when the store cannot be read.
    pub async fn export_to(&self, folder: &Path) -> Result<Vec<Exported>, Error> {
        if folder.exists() {
            return Err(Error::Occupied { place: folder.display().to_string() });
        }
        let beside = folder_of(folder);
        let draft = tempfile::Builder::new().prefix(".becket-export-").tempdir_in(beside).map_err(at(beside))?;
        std::fs::create_dir(draft.path().join("photos")).map_err(at(draft.path()))?;
        let mut work = self.reading().await?;
        let mut exported = Vec::new();
        for table in TABLES {
            let rows = export_table(&mut work, table, draft.path()).await?;
            exported.push(Exported { table: table.name, rows });
        }
        let described: Vec<Value> =
            TABLES.iter().zip(&exported).map(|(table, done)| described(table, done.rows)).collect();
        let mut file = Out::new(&draft.path().join("tables.json"))?;
        file.json(&Value::Array(described))?;
        file.finish()?;
        open_to_all(draft.path()).map_err(at(draft.path()))?;
        std::fs::rename(draft.path(), folder).map_err(at(folder))?;
        sync_folder(beside).map_err(at(beside))?;
        Ok(exported)
    }
}

async fn export_table(work: &mut Work, table: &Table, folder: &Path) -> Result<u64, Error> {
    let columns = (table.columns)();
    let shown: Vec<usize> = (0..columns.len()).filter(|index| is_shown(table, &columns[*index])).collect();
    let mut csv = Out::new(&folder.join(format!("{}.csv", table.name)))?;
    let mut json = Out::new(&folder.join(format!("{}.json", table.name)))?;
    csv.row(shown.iter().map(|index| columns[*index].name.to_owned()))?;
    json.text("[")?;
    let mut rows = 0;
    let mut last: Option<Vec<Cell>> = None;
    loop {
        let page = next_page(work, table, last.as_deref()).await?;
        for row in &page {
            csv.row(shown.iter().map(|index| csv_cell(&row[*index])))?;
            json.text(if rows == 0 { "\n" } else { ",\n" })?;
            let object: Map<String, Value> =
                shown.iter().map(|index| (columns[*index].name.to_owned(), json_cell(&row[*index]))).collect();
            json.json(&Value::Object(object))?;
            if table.name == "photos" {
                export_photo(table, row, folder)?;
            }
            rows += 1;
        }
        match page.last() {
            Some(row) => {
                last = Some(table.key.iter().filter_map(|name| row.get(table.position(name)?).cloned()).collect());
            }
            None => break,
        }
    }
    json.text("\n]\n")?;
    json.finish()?;
    csv.finish()?;
    Ok(rows)
}

fn is_shown(table: &Table, column: &ColumnOf) -> bool {
    !KEPT_BACK.contains(&(table.name, column.name))
}

/// A photo's file is named by its checksum: an id is a text of the outside.
fn export_photo(table: &Table, row: &[Cell], folder: &Path) -> Result<(), Error> {
    let cell = |name| table.position(name).and_then(|index| row.get(index));
    if let (Some(Cell::Text(Some(sum))), Some(Cell::Bytes(Some(bytes))), Some(Cell::Text(Some(kind)))) =
        (cell("sha256"), cell("bytes"), cell("kind"))
    {
        let ending = kind.rsplit('/').next().unwrap_or("jpeg");
        let path = folder.join("photos").join(format!("{sum}.{ending}"));
        std::fs::write(&path, bytes).map_err(at(&path))?;
    }
    Ok(())
}

fn described(table: &Table, rows: u64) -> Value {
    let columns: Vec<Value> = (table.columns)()
        .iter()
        .filter(|column| is_shown(table, column))
        .map(|column| json!({ "name": column.name, "says": column.meaning.trim(), "kind": format!("{:?}", column.kind).to_lowercase() }))
        .collect();
    json!({ "table": table.name, "row": table.meaning.trim(), "key": table.key, "rows": rows, "columns": columns })
}

fn json_cell(cell: &Cell) -> Value {
    match cell {
        Cell::Text(text) => json!(text),
        Cell::Whole(number) => json!(number),
        Cell::Bytes(bytes) => json!(bytes.as_ref().map(Vec::len)),
    }
}

fn csv_cell(cell: &Cell) -> String {
    match cell {
        Cell::Text(text) => text.as_deref().map(defused).unwrap_or_default(),
        Cell::Whole(number) => number.map(|number| number.to_string()).unwrap_or_default(),
        Cell::Bytes(bytes) => bytes.as_ref().map(|bytes| bytes.len().to_string()).unwrap_or_default(),
    }
}

/// A text for a spreadsheet's cell: an apostrophe goes before one that would
/// be taken for a formula.
///
/// ```
/// assert_eq!(store::defused("=1+1"), "'=1+1");
/// assert_eq!(store::defused("-12.50"), "-12.50");
/// ```
#[must_use]
pub fn defused(text: &str) -> String {
    const BEGINNINGS: &[char] = &['=', '+', '-', '@', '\t', '\r', '\n', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'];
    let digits = text.strip_prefix(['-', '+']).unwrap_or(text);
    let plain = !digits.is_empty()
        && digits.bytes().all(|c| c.is_ascii_digit() || c == b'.')
        && digits.matches('.').count() < 2
        && digits.starts_with(|c: char| c.is_ascii_digit());
    // Some programs skip spaces before they look.
    let seen = text.trim_start_matches([' ', '\u{a0}', '\u{feff}']);
    if seen.starts_with(BEGINNINGS) && !plain { format!("'{text}") } else { text.to_owned() }
}

/// A file being written, with its name for messages.
struct Out {
    path: String,
    file: BufWriter<File>,
}

impl Out {
    fn new(path: &Path) -> Result<Out, Error> {
        let file = File::create(path).map_err(at(path))?;
        Ok(Out { path: path.display().to_string(), file: BufWriter::new(file) })
    }

    fn said(&self, error: &std::io::Error) -> Error {
        Error::File { path: self.path.clone(), why: error.to_string() }
    }

    fn text(&mut self, text: &str) -> Result<(), Error> {
        self.file.write_all(text.as_bytes()).map_err(|error| self.said(&error))
    }

    fn json(&mut self, value: &Value) -> Result<(), Error> {
        self.text(&value.to_string())
    }

    fn row(&mut self, cells: impl Iterator<Item = String>) -> Result<(), Error> {
        let mut line = Vec::new();
        let cells: Vec<String> = cells.collect();
        csv::Writer::from_writer(&mut line).write_record(&cells).map_err(|error| self.said(&error.into()))?;
        self.file.write_all(&line).map_err(|error| self.said(&error))
    }

    fn finish(mut self) -> Result<(), Error> {
        let done = self.file.flush().and_then(|()| self.file.get_ref().sync_all());
        done.map_err(|error| self.said(&error))
    }
}

fn at(path: &Path) -> impl Fn(std::io::Error) -> Error {
    let path = path.display().to_string();
    move |error| Error::File { path: path.clone(), why: error.to_string() }
}

/// A temporary folder is its owner's alone; an export is not.
#[cfg(unix)]
fn open_to_all(folder: &Path) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    std::fs::set_permissions(folder, std::fs::Permissions::from_mode(0o755))
}

#[cfg(not(unix))]
fn open_to_all(_: &Path) -> std::io::Result<()> {
    Ok(())
}
