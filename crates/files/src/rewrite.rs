//! A rack file changed row by row: what is not spoken of stays to the byte.
//!
//! Bytes and edits go in, the new file comes out. Rows keep their place, new
//! ones come last; a column that an edit needs and the file does not have is
//! added on the right. Line ends and the byte order mark stay as they are.

use crate::bytes::{LARGEST_TABLE, mark_length, text};
use crate::cells::cells;
use crate::problem::{Log, Problem};

/// A change of one row. Cells are column and text; an empty text clears a cell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RackEdit {
    /// The reel's row goes.
    Drop {
        /// The reel's name.
        reel: String,
    },
    /// Cells of the reel's row are set.
    Set {
        /// The reel's name.
        reel: String,
        /// What is set.
        cells: Vec<(&'static str, String)>,
    },
    /// A row is added at the end.
    Add {
        /// What stands in it.
        cells: Vec<(&'static str, String)>,
    },
}

/// The file with the edits made.
///
/// # Errors
/// A file that cannot be read as a table, and a row that is not there.
///
/// # Example
/// ```
/// use files::{RackEdit, rewrite_rack};
/// let rack = b"reel,rope,length\nR1,Grey 10,40 m\nR2,Grey 10,12 m\n";
/// let cut = RackEdit::Set { reel: "R1".into(), cells: vec![("length", "28.5 m".into()), ("remnant", "true".into())] };
/// let used_up = RackEdit::Drop { reel: "R2".into() };
/// let after = rewrite_rack(rack, &[cut, used_up]).map_err(|problem| problem.message)?;
/// assert_eq!(after, b"reel,rope,length,remnant\nR1,Grey 10,28.5 m,true\n");
/// # Ok::<(), String>(())
/// ```
pub fn rewrite_rack(bytes: &[u8], edits: &[RackEdit]) -> Result<Vec<u8>, Box<Problem>> {
    let file = text(bytes, LARGEST_TABLE)?.text;
    let end = if file.contains("\r\n") { "\r\n" } else { "\n" };
    let mut rows = Vec::new();
    let mut columns: Vec<String> = Vec::new();
    for line in file.split('\n').map(|line| line.strip_suffix('\r').unwrap_or(line)) {
        let empty = line.chars().all(|c| matches!(c, ',' | ' ' | '\t'));
        let parts: Vec<String> = if empty { Vec::new() } else { parts_of(line)? };
        if columns.is_empty() && !empty {
            columns = parts;
            continue;
        }
        rows.push(Row { line: line.to_owned(), parts, fresh: false });
    }
    while rows.last().is_some_and(|row| row.line.is_empty()) {
        rows.pop();
    }
    let before = columns.len();
    for edit in edits {
        change(&mut columns, &mut rows, edit)?;
    }
    let mut out = bytes[..mark_length(bytes)].to_vec();
    let header: Vec<String> = columns.iter().map(|name| quoted_if_needed(name)).collect();
    out.extend(header.join(",").bytes().chain(end.bytes()));
    for row in rows {
        let grown = columns.len() > before && !row.parts.is_empty();
        let line = if row.fresh {
            let parts: Vec<String> = row.parts.iter().map(|part| quoted_if_needed(part)).collect();
            parts.join(",") + &",".repeat(columns.len() - row.parts.len())
        } else if grown {
            row.line + &",".repeat(columns.len() - before)
        } else {
            row.line
        };
        out.extend(line.bytes().chain(end.bytes()));
    }
    Ok(out)
}

/// A row: as it stood, and its cells.
struct Row {
    line: String,
    parts: Vec<String>,
    /// Whether the cells are to be written instead of the line.
    fresh: bool,
}

fn change(columns: &mut Vec<String>, rows: &mut Vec<Row>, edit: &RackEdit) -> Result<(), Box<Problem>> {
    match edit {
        RackEdit::Drop { reel } => {
            let at = row_of(columns, rows, reel)?;
            rows.remove(at);
        }
        RackEdit::Set { reel, cells } => {
            let at = row_of(columns, rows, reel)?;
            set(columns, &mut rows[at], cells);
        }
        RackEdit::Add { cells } => {
            let mut row = Row { line: String::new(), parts: Vec::new(), fresh: true };
            set(columns, &mut row, cells);
            rows.push(row);
        }
    }
    Ok(())
}

fn set(columns: &mut Vec<String>, row: &mut Row, cells: &[(&'static str, String)]) {
    for (name, text) in cells {
        let at = columns.iter().position(|column| column == name).or_else(|| {
            let needed = !text.is_empty();
            needed.then(|| {
                columns.push((*name).to_owned());
                columns.len() - 1
            })
        });
        let Some(at) = at else { continue };
        if row.parts.len() <= at {
            row.parts.resize(at + 1, String::new());
        }
        row.parts[at].clone_from(text);
        row.fresh = true;
    }
}

fn row_of(columns: &[String], rows: &[Row], reel: &str) -> Result<usize, Box<Problem>> {
    let column = columns.iter().position(|column| column == "reel");
    let at =
        column.and_then(|column| rows.iter().position(|row| row.parts.get(column).is_some_and(|name| name == reel)));
    at.ok_or_else(|| Box::new(Problem::new("no-such-reel", format!("there is no row for reel {reel:?}"))))
}

fn parts_of(line: &str) -> Result<Vec<String>, Box<Problem>> {
    let mut log = Log::default();
    match cells(line, 0, &mut log) {
        Some(cells) => Ok(cells.into_iter().map(|cell| cell.text.trim().to_owned()).collect()),
        None => {
            Err(Box::new(log.into_problems().pop().unwrap_or_else(|| Problem::new("quote", "a quote is not closed"))))
        }
    }
}

/// A cell as it must be written to be read back the same.
fn quoted_if_needed(text: &str) -> String {
    if text.contains([',', '"']) || text != text.trim() {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_edited_stays_to_the_byte() {
        let rack =
            "\u{feff}reel,rope,length,flaws\r\n\"A, old\", Möwe ,\"40 m\",\r\n,,,\r\nB,\"3/8\"\" line\",9 ft 6 in,\r\n";
        assert_eq!(rewrite_rack(rack.as_bytes(), &[]).unwrap(), rack.as_bytes());
        let edits = [
            RackEdit::Set { reel: "B".into(), cells: vec![("length", "2 m".into()), ("batch", String::new())] },
            RackEdit::Add { cells: vec![("reel", "C".into()), ("rope", "x, \"y\"".into()), ("count", "2".into())] },
        ];
        let after = String::from_utf8(rewrite_rack(rack.as_bytes(), &edits).unwrap()).unwrap();
        let expected = "\u{feff}reel,rope,length,flaws,count\r\n\"A, old\", Möwe ,\"40 m\",,\r\n,,,\r\n\
                        B,\"3/8\"\" line\",2 m,,\r\nC,\"x, \"\"y\"\"\",,,2\r\n";
        assert_eq!(after, expected);
    }

    #[test]
    fn a_row_that_is_not_there_is_said_by_name() {
        let problem = rewrite_rack(b"reel,rope,length\nA,x,1 m\n", &[RackEdit::Drop { reel: "Z".into() }]).unwrap_err();
        assert_eq!(problem.message, "there is no row for reel \"Z\"");
    }
}
