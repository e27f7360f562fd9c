//! Whole tables: every row of a published table is asked of the program, or
//! stands with a case, a test or the reason why it is not asked.
//!
//! A file in `rows/` is one table, taken from a transcription of the page apart
//! from the copy in the program: a template of a case with the columns in braces,
//! and the rows. A row of cells is asked; a row with a `case`, a `test` or a `why`
//! says what stands for it. They are run like cases, and counted apart from them.

use crate::Trouble;
use crate::case::Case;
use crate::run::run;
use std::fmt::Write as _;
use std::path::Path;

/// A published table.
#[derive(Debug, Clone)]
pub struct Rows {
    /// The file's name.
    pub name: String,
    /// What it is a table of.
    pub table: String,
    /// What is left out of every row.
    pub note: Option<String>,
    /// Its rows.
    pub rows: Vec<Row>,
}

/// One row of a table.
#[derive(Debug, Clone)]
pub struct Row {
    /// Its first cell, or what names it.
    pub key: String,
    /// What stands for it.
    pub stands: Stands,
}

/// What stands for a row.
#[derive(Debug, Clone)]
pub enum Stands {
    /// It is asked itself.
    Asked(Box<Case>),
    /// A case of this name.
    Case(String),
    /// A test of this name.
    Test(String),
    /// Nothing, and why.
    Reason(String),
}

/// Every table below a folder, in the order of their names.
///
/// # Errors
/// When a file cannot be read, or a row is wrong; names the file.
pub fn load(folder: &Path) -> Result<Vec<Rows>, String> {
    let mut paths = std::fs::read_dir(folder)
        .map_err(|fault| format!("{}: {fault}", folder.display()))?
        .map(|entry| entry.map(|entry| entry.path()).map_err(|fault| format!("{}: {fault}", folder.display())))
        .collect::<Result<Vec<_>, _>>()?;
    paths.sort();
    let read = |path: &std::path::PathBuf| {
        let name = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        let text = std::fs::read_to_string(path).map_err(|fault| format!("{name}: {fault}"))?;
        table(&name, &text).map_err(|fault| format!("{name}: {fault}"))
    };
    paths.iter().map(read).collect()
}

fn table(name: &str, text: &str) -> Result<Rows, Trouble> {
    let file: toml::Table = text.parse().map_err(|fault| Trouble::malformed(format!("{fault}")))?;
    let word = |key: &str| file.get(key).and_then(toml::Value::as_str);
    let list = |key: &str| file.get(key).and_then(toml::Value::as_array);
    let columns: Vec<&str> = list("columns").into_iter().flatten().filter_map(toml::Value::as_str).collect();
    let rows = list("rows").ok_or_else(|| Trouble::malformed("rows are missing"))?;
    let row = |value: &toml::Value| match value {
        toml::Value::Array(cells) => asked(name, word("template"), &columns, cells),
        toml::Value::Table(other) => stands(other),
        other => Err(Trouble::malformed(format!("{other} is no row"))),
    };
    Ok(Rows {
        name: name.to_owned(),
        table: word("table").ok_or_else(|| Trouble::malformed("table is missing"))?.to_owned(),
        note: word("note").map(str::to_owned),
        rows: rows.iter().map(row).collect::<Result<_, _>>()?,
    })
}

fn asked(name: &str, template: Option<&str>, columns: &[&str], cells: &[toml::Value]) -> Result<Row, Trouble> {
    let mut text = template.ok_or_else(|| Trouble::malformed("a row is asked, and there is no template"))?.to_owned();
    if cells.len() != columns.len() {
        return Err(Trouble::malformed(format!("{} cells for {} columns", cells.len(), columns.len())));
    }
    for (column, cell) in columns.iter().zip(cells) {
        let cell = cell.as_str().ok_or_else(|| Trouble::malformed(format!("{cell} is no text")))?;
        text = text.replace(&format!("{{{column}}}"), cell);
    }
    let key = cells.first().and_then(toml::Value::as_str).unwrap_or_default().to_owned();
    let source = text.lines().find_map(|line| line.strip_prefix("source = ")).unwrap_or_default().trim_matches('"');
    let case = Case::read(&format!("{source}/{name}, {key}"), &text)?;
    Ok(Row { key, stands: Stands::Asked(Box::new(case)) })
}

fn stands(row: &toml::Table) -> Result<Row, Trouble> {
    let word =
        |key: &str| row.get(key).and_then(toml::Value::as_str).filter(|text| !text.is_empty()).map(str::to_owned);
    let key = word("row").ok_or_else(|| Trouble::malformed("a row without its name"))?;
    let stands = match (word("case"), word("test"), word("why")) {
        (Some(case), None, None) => Stands::Case(case),
        (None, Some(test), None) => Stands::Test(test),
        (None, None, Some(why)) => Stands::Reason(why),
        _ => return Err(Trouble::malformed(format!("{key}: one of case, test and why"))),
    };
    Ok(Row { key, stands })
}

/// The tables as a section of the report.
///
/// # Errors
/// When a row cannot be run; names it.
pub fn section(tables: &[Rows]) -> Result<String, String> {
    let all: usize = tables.iter().map(|table| table.rows.len()).sum();
    let mut text = format!(
        "\n## Every row of the published tables\n\n{all} rows of {} tables. A row is asked of the program, each with a \
         mistake made too, or a case or a test stands for it, or it is left out for the reason told. The rows are in \
         `rows/`, taken from transcriptions of the pages apart from the copies in the program.\n\n| table | rows | asked | largest error | case or test | left out | why, and what is not \
         asked of the others |\n|---|---|---|---|---|---|---|\n",
        tables.len()
    );
    for table in tables {
        let (mut asked, mut largest, mut named, mut reasons) = (0, 0.0_f64, 0, Vec::<&str>::new());
        let mut left = 0;
        for row in &table.rows {
            match &row.stands {
                Stands::Asked(case) => {
                    asked += 1;
                    largest = largest.max(run(case).map_err(|fault| format!("{}: {fault}", case.name))?.error);
                }
                Stands::Case(_) | Stands::Test(_) => named += 1,
                Stands::Reason(why) => {
                    left += 1;
                    if !reasons.contains(&why.as_str()) {
                        reasons.push(why);
                    }
                }
            }
        }
        reasons.extend(table.note.as_deref());
        let largest = if asked == 0 { "-".to_owned() } else { format!("{largest:.2}") };
        let _ = writeln!(
            text,
            "| {}: {} | {} | {asked} | {largest} | {named} | {left} | {} |",
            table.name,
            table.table,
            table.rows.len(),
            reasons.join("; ")
        );
    }
    Ok(text)
}
