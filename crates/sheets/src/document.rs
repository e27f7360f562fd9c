//! Papers that are words and tables: calculation sheet, line plan, quote,
//! delivery sheet, certificate, due list.
//!
//! One plain form for all of them: a head, numbers, findings and blocks in
//! order. What each of them says is its maker's business; that they look
//! alike is settled here. Not covered: cards, labels and cut plans, which have
//! forms of their own.

use drawing::Drawing;
use typst::foundations::{Dict, IntoValue, Value, dict};

use crate::facts::{AsMadeBox, Day, FindingLine, Headline, Paper};
use crate::pictures::Pictures;
use crate::text::{boxed, drawn, foot, wrapping};
use crate::{SheetError, values};

/// A paper of words, tables and pictures.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// What kind of paper it is, such as `calculation sheet`.
    pub kind: String,
    /// Its title, such as `main halyard`.
    pub title: String,
    /// Order, boat, customer and so on.
    pub subtitle: String,
    /// Numbers set large under the title.
    pub headlines: Vec<Headline>,
    /// Findings.
    pub findings: Vec<FindingLine>,
    /// What it says, in order.
    pub blocks: Vec<Block>,
    /// Text of a code that leads back to the record, if it has one; at most
    /// 1,000 bytes.
    pub code: Option<String>,
    /// Which way the paper lies.
    pub lies: Lies,
    /// The day of the paper.
    pub day: Day,
}

/// Which way a paper lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lies {
    /// Upright.
    Upright,
    /// On its long side.
    Along,
}

/// A part of a document.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A heading.
    Heading(String),
    /// A paragraph.
    Text(String),
    /// A table.
    Table(Table),
    /// A picture with its words over it.
    Picture(String, Drawing),
    /// Findings of what stands before them.
    Findings(Vec<FindingLine>),
    /// Boxes to write in.
    Boxes(Vec<AsMadeBox>),
}

/// A table.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows, each with a cell for each column.
    pub rows: Vec<Vec<String>>,
}

/// A column.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Its head.
    pub name: String,
    /// What is in it.
    pub holds: Holds,
    /// Its share of the room that is left; zero for as wide as it needs.
    pub share: u8,
}

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holds {
    /// Words, from the left.
    Words,
    /// Numbers with their units, to the right.
    Numbers,
    /// The number that counts: to the right and bold.
    Result,
}

impl Column {
    /// A column of words that takes a share of the room.
    pub fn words(name: impl Into<String>, share: u8) -> Column {
        Column { name: name.into(), holds: Holds::Words, share }
    }

    /// A column of numbers, as wide as it needs.
    pub fn numbers(name: impl Into<String>) -> Column {
        Column { name: name.into(), holds: Holds::Numbers, share: 0 }
    }

    /// A column of results, as wide as it needs.
    pub fn result(name: impl Into<String>) -> Column {
        Column { name: name.into(), holds: Holds::Result, share: 0 }
    }
}

/// Room for a picture across the paper, in mm.
pub fn picture_width(paper: Paper, lies: Lies) -> f64 {
    let (width, height) = paper.size_mm();
    let across = match lies {
        Lies::Upright => width,
        Lies::Along if paper == Paper::Roll => width,
        Lies::Along => height,
    };
    across - 2.0 * crate::layout::margin(paper)
}

/// The facts of a document as its template reads them.
pub(crate) fn facts(document: &Document, paper: Paper, pictures: &mut Pictures) -> Result<Dict, SheetError> {
    let code = match &document.code {
        Some(text) => values::code_space(text, pictures)?,
        None => Value::None,
    };
    Ok(dict! {
        "paper" => values::paper(paper),
        "bar" => values::check_bar(paper, pictures),
        "along" => document.lies == Lies::Along && paper != Paper::Roll,
        "kind" => boxed(&document.kind, 40),
        "title" => boxed(&document.title, 80),
        "subtitle" => boxed(&document.subtitle, 160),
        "foot" => foot(&format!("{} · {}", document.kind, document.title)),
        "headlines" => values::array(&document.headlines, values::headline),
        "findings" => values::array(&document.findings, values::finding),
        "code" => code,
        "blocks" => values::array(&document.blocks, |block| self::block(block, pictures)),
        "day" => values::day(document.day),
    })
}

fn block(block: &Block, pictures: &mut Pictures) -> Value {
    match block {
        Block::Heading(words) => dict! { "is" => "heading", "words" => boxed(words, 120) }.into_value(),
        Block::Text(words) => dict! { "is" => "text", "words" => wrapping(words) }.into_value(),
        Block::Table(table) => dict! {
            "is" => "table",
            "columns" => values::array(&table.columns, |column| dict! {
                "name" => boxed(&column.name, 40),
                "share" => i64::from(column.share),
                "right" => column.holds != Holds::Words,
                "bold" => column.holds == Holds::Result,
            }.into_value()),
            "rows" => values::array(&table.rows, |row| {
                values::array(row, |cell| wrapping(cell).into_value())
            }),
        }
        .into_value(),
        Block::Picture(words, picture) => {
            let words = drawn(words, 100);
            dict! { "is" => "picture", "words" => words, "picture" => values::space(pictures, picture.clone()) }
                .into_value()
        }
        Block::Findings(findings) => {
            dict! { "is" => "findings", "findings" => values::array(findings, values::finding) }.into_value()
        }
        Block::Boxes(boxes) => dict! {
            "is" => "boxes",
            "boxes" => values::array(boxes, |one| dict! {
                "name" => boxed(&one.name, 40), "wanted" => boxed(&one.wanted, 60),
            }.into_value()),
        }
        .into_value(),
    }
}

/// Refuses a table whose rows do not have a cell for each column.
pub(crate) fn check(document: &Document) -> Result<(), SheetError> {
    for table in document.blocks.iter().filter_map(|block| match block {
        Block::Table(table) => Some(table),
        _ => None,
    }) {
        if let Some(row) = table.rows.iter().find(|row| row.len() != table.columns.len()) {
            return Err(SheetError::Uneven { cells: row.len(), columns: table.columns.len() });
        }
    }
    Ok(())
}
