//! The line list that people exchange: an order's lines out as CSV or
//! spreadsheet, a list in as the lines of an order.

use crate::input::open;
use crate::job::{JobLine, OrderAsked, read};
use crate::own::OwnSource;
use crate::problem::{Fault, Problem};
use crate::save::save;
use crate::text::Text;
use files::{LineList, LineRow, Place, Placed};
use schemars::JsonSchema;
use serde::Serialize;
use std::path::{Path, PathBuf};

/// A list written.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ExportAnswer {
    /// The file.
    pub file: String,
    /// How many lines are in it.
    pub lines: usize,
}

/// A list read.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ImportAnswer {
    /// How many lines were taken over.
    pub lines: usize,
    /// The lines as `[[line]]` tables of an order file.
    pub tables: String,
    /// Rows that were refused, each with its number and reasons.
    pub refused: Vec<RefusedRow>,
    /// Where the refused rows are kept for repair; null where there are none.
    pub kept_for_repair: Option<String>,
}

/// A row that was refused.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RefusedRow {
    /// Its number in the file; the headings are 1.
    pub row: usize,
    /// Why.
    pub reasons: Vec<String>,
}

/// A column of the list.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ColumnAnswer {
    /// Its heading, with its unit.
    pub column: &'static str,
    /// `yes`, `no`, or what is assumed when it is left empty.
    pub needed: String,
    /// What it is.
    pub about: &'static str,
    /// What may stand there.
    pub allowed: String,
}

/// The columns of a line list.
#[must_use]
pub fn line_list_columns() -> Vec<ColumnAnswer> {
    let fields = files::line_list_description().fields;
    fields
        .into_iter()
        .map(|field| ColumnAnswer {
            column: field.key,
            needed: match field.need {
                files::Need::Required => "yes".to_owned(),
                files::Need::Optional => "no".to_owned(),
                files::Need::Assumed(value) => format!("else {value}"),
            },
            about: field.about,
            allowed: field.shape.allowed(),
        })
        .collect()
}

/// Writes the lines of an order to a list: a spreadsheet where the name ends
/// in `.xlsx`, else CSV.
///
/// # Errors
/// When the order has mistakes or the file cannot be written.
pub fn export(order: &Text, ropes: Option<&Text>, out: &Path) -> Result<ExportAnswer, Problem> {
    let own = OwnSource::default();
    let job = read(&OrderAsked { order, ropes, own: &own, units: None })?;
    let rows: Vec<LineRow> = job.lines.iter().map(row).collect();
    let bytes = if is_workbook(out) {
        files::line_list_xlsx(&rows).map_err(|why| Problem::refused(why.code, why.message))?
    } else {
        files::line_list_csv(&rows).into_bytes()
    };
    save(out, &bytes)?;
    Ok(ExportAnswer { file: out.display().to_string(), lines: rows.len() })
}

/// Reads a list into the lines of an order. Rows with a mistake are refused and
/// kept in a file of their own beside it, with its headings, for repair.
///
/// # Errors
/// When the list cannot be read at all, or its headings are wrong.
pub fn import(list: &Path) -> Result<ImportAnswer, Problem> {
    let input = open(&Text::from(list.to_owned()), files::LARGEST_TABLE)?;
    let read = if is_workbook(list) {
        files::read_line_list_xlsx(&input.bytes).map_err(|problems| without_places(&input.name, &problems))
    } else {
        files::read_line_list(&input.bytes).map_err(|problems| input.problem(&problems))
    };
    let LineList { rows, refused } = read?;
    let kept_for_repair = if refused.is_empty() { None } else { Some(keep(list, &refused)?) };
    Ok(ImportAnswer {
        lines: rows.len(),
        tables: files::line_tables(&rows),
        refused: refused.into_iter().map(|row| RefusedRow { row: row.row, reasons: row.reasons }).collect(),
        kept_for_repair,
    })
}

fn is_workbook(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("xlsx"))
}

/// A spreadsheet has no lines of text to underline.
fn without_places(name: &str, problems: &[files::Problem]) -> Problem {
    let mut problem = Problem::new(Fault::File, "mistakes", format!("{name} cannot be read as a line list"));
    problem.hints = problems.iter().map(files::Problem::in_one_line).collect();
    problem
}

fn keep(list: &Path, refused: &[files::RefusedRow]) -> Result<String, Problem> {
    let stem = list.file_stem().map_or_else(|| "lines".into(), |stem| stem.to_string_lossy().into_owned());
    let path: PathBuf = list.with_file_name(format!("{stem}-refused.csv"));
    let headings = refused.first().map_or("", |row| row.headings.as_str());
    let mut text = format!("{headings}\n");
    for row in refused {
        text.push_str(&row.text);
        text.push('\n');
    }
    save(&path, text.as_bytes())?;
    Ok(path.display().to_string())
}

/// A line as a row of the list.
fn row(line: &JobLine) -> LineRow {
    let record = &line.record;
    let made = &line.made;
    let own = |value: String| Some(Placed { value, place: Place { start: 0, end: 0 } });
    let given = |value: f64| Some(Placed { value, place: Place { start: 0, end: 0 } });
    // A millimetre and a newton are what the trade reads; the order keeps the rest.
    let tenth = |value: f64| (value * 10.0).round() / 10.0;
    let ends = record.ends.as_ref().map(|ends| &ends.value);
    let working = ends.and_then(|ends| ends.working.as_ref()).map(|end| &end.value);
    let bitter = ends.and_then(|ends| ends.bitter.as_ref()).map(|end| &end.value);
    let on = |end: Option<&files::EndRecord>| {
        let on = end?.on.as_ref()?.value;
        match on.size {
            Some(size) => own(format!("{} mm {}", tenth(size.to_mm()), on.what.word())),
            None => own(on.what.word().to_owned()),
        }
    };
    let eye = |end: Option<&files::EndRecord>| given(tenth(end?.eye.as_ref()?.value.to_mm()));
    LineRow {
        line: record.name.clone(),
        kind: record.kind,
        duty: record.duty,
        count: record.count,
        rope: own(made.rope.name.clone()),
        colour: record.colour.clone(),
        purchase: record.purchase,
        length: Placed { value: tenth(made.finished.to_mm()), place: record.name.place },
        cut: given(made.cut.count() as f64),
        steady: given(tenth(line.load.steady.to_n())),
        peak: given(tenth(line.load.peak.to_n())),
        working_end: working.map(|end| end.kind),
        working_on: on(working),
        working_eye: eye(working),
        bitter_end: bitter.map(|end| end.kind),
        bitter_on: on(bitter),
        bitter_eye: eye(bitter),
        cover: record.cover,
        strip_from: record.strip.as_ref().and_then(|strip| given(tenth(strip.value.from.value.to_mm()))),
        strip_to: record.strip.as_ref().and_then(|strip| given(tenth(strip.value.to.value.to_mm()))),
        rush: record.rush,
        due: record.due,
        same_reel: record.same_reel,
        notes: record
            .notes
            .as_ref()
            .and_then(|notes| own(notes.value.0.split_whitespace().collect::<Vec<_>>().join(" "))),
    }
}
