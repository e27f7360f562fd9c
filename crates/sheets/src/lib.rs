//! Bench cards, cut plans and line tables as PDF.
//!
//! Plain facts go in ([`BenchCard`], [`CutPlanSheet`], [`LineTable`]), the
//! bytes of a PDF come out: [`bench_cards`] sets many cards as one document,
//! [`cut_plan`] and [`line_table`] one sheet. Pages are set by the typst
//! library from a template inside the program, with fonts inside the program;
//! nothing is read from disk or network and no clock is asked, so the same
//! facts give the same bytes. Files are PDF/A-2b, tagged, and ask the printer
//! not to scale them. Text is data: it reaches the template as values, never
//! as markup. Not covered: working out what a sheet says.

mod code;
mod document;
mod error;
mod facts;
mod labels;
mod layout;
mod pdf;
mod pictures;
mod text;
mod values;
mod world;

pub use document::{Block, Column, Document, Holds, Lies, Table, picture_width};
pub use error::SheetError;
pub use facts::*;
pub use labels::{LEAST_LABEL_MM, Label, LabelStock};
use pictures::Pictures;
use rayon::prelude::*;
use typst::foundations::{Dict, dict};
use typst_layout::PagedDocument;
use values::Set;

/// Cards as one document, each beginning on a page of its own.
///
/// # Errors
/// No card at all, a drawing that is refused, a code that is empty or too
/// long, a day that does not exist.
pub fn bench_cards(cards: &[BenchCard], paper: Paper) -> Result<Vec<u8>, SheetError> {
    pdf::write(&bench_card_pages(cards, paper)?)
}

/// One card.
///
/// # Errors
/// As [`bench_cards`].
pub fn bench_card(card: &BenchCard, paper: Paper) -> Result<Vec<u8>, SheetError> {
    bench_cards(std::slice::from_ref(card), paper)
}

/// Cards in one file and each in a file of its own, laid out once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CardSet {
    /// All cards, as [`bench_cards`] prints them.
    pub all: Vec<u8>,
    /// Each card, in the order in which they were given.
    pub each: Vec<Vec<u8>>,
}

/// Cards as one document and as a document each. Laying pages out is most of
/// the work and is done once, so this costs far less than both by themselves.
///
/// # Errors
/// As [`bench_cards`].
pub fn bench_card_set(cards: &[BenchCard], paper: Paper) -> Result<CardSet, SheetError> {
    let set = |(index, card)| {
        let pages = pages_of_card(card, paper, index)?;
        let file = pdf::write(&pages)?;
        Ok((pages, file))
    };
    let made: Vec<(PagedDocument, Vec<u8>)> =
        cards.par_iter().enumerate().map(set).collect::<Result<_, SheetError>>()?;
    let (pages, each): (Vec<_>, Vec<_>) = made.into_iter().unzip();
    Ok(CardSet { all: pdf::write(&pdf::joined(pages)?)?, each })
}

/// A cut plan.
///
/// # Errors
/// Pieces that come to more than their reel, a day that does not exist.
pub fn cut_plan(plan: &CutPlanSheet, paper: Paper) -> Result<Vec<u8>, SheetError> {
    pdf::check_day(plan.day)?;
    pdf::write(&cut_plan_pages(plan, paper)?)
}

/// A line table.
///
/// # Errors
/// A day that does not exist.
///
/// ```
/// use sheets::{Day, LineRow, LineTable, Paper, line_table};
///
/// let table = LineTable {
///     title: "order 2041".into(),
///     subtitle: "Kittiwake".into(),
///     rows: vec![LineRow {
///         line: "main halyard".into(),
///         load: "4.2 kN steady, 6.3 kN peak".into(),
///         rope: "10 mm 12-strand HMPE".into(),
///         ends: "long-bury eye, whipped".into(),
///         finished_length: "31 200 mm".into(),
///         cut_length: "32 480 mm".into(),
///         finding: None,
///     }],
///     notes: vec![],
///     day: Day { year: 2026, month: 11, day: 25 },
/// };
/// let file = line_table(&table, Paper::A4)?;
/// assert!(file.starts_with(b"%PDF-1.7"));
/// # Ok::<(), sheets::SheetError>(())
/// ```
pub fn line_table(table: &LineTable, paper: Paper) -> Result<Vec<u8>, SheetError> {
    pdf::check_day(table.day)?;
    pdf::write(&line_table_pages(table, paper)?)
}

/// A paper of words, tables and pictures.
///
/// # Errors
/// A row of a table without a cell for each column, a code that is empty or
/// too long, a day that does not exist.
pub fn document(document: &Document, paper: Paper) -> Result<Vec<u8>, SheetError> {
    pdf::write(&document_pages(document, paper)?)
}

/// Labels.
///
/// # Errors
/// No label at all, a label too small to be read, a sheet that does not hold
/// its labels, a code that is empty or too long, a day that does not exist.
pub fn labels(labels: &[Label], stock: LabelStock) -> Result<Vec<u8>, SheetError> {
    pdf::write(&label_pages(labels, stock)?)
}

/// The pages of a document before they are written.
fn document_pages(document: &Document, paper: Paper) -> Result<PagedDocument, SheetError> {
    pdf::check_day(document.day)?;
    document::check(document)?;
    let mut pictures = Pictures::default();
    let facts = document::facts(document, paper, &mut pictures)?;
    Ok(pictures.set_into(pdf::document("document.typ", &facts)?, 0))
}

/// The pages of labels before they are written.
fn label_pages(labels: &[Label], stock: LabelStock) -> Result<PagedDocument, SheetError> {
    labels::check(stock)?;
    for label in labels {
        pdf::check_day(label.day)?;
    }
    let mut pictures = Pictures::default();
    let facts = labels::facts(labels, stock, &mut pictures)?;
    Ok(pictures.set_into(pdf::document("labels.typ", &facts)?, 0))
}

/// The pages of the cards before they are written.
fn bench_card_pages(cards: &[BenchCard], paper: Paper) -> Result<PagedDocument, SheetError> {
    let set = |(index, card)| pages_of_card(card, paper, index);
    pdf::joined(cards.par_iter().enumerate().map(set).collect::<Result<_, SheetError>>()?)
}

/// The pages of the card at `index` among those of its document: set with room
/// between the lines where that keeps it on one page, close where it does not.
fn pages_of_card(card: &BenchCard, paper: Paper, index: usize) -> Result<PagedDocument, SheetError> {
    pdf::check_day(card.day)?;
    let set = |set: Set| {
        let mut pictures = Pictures::default();
        let facts: Dict = dict! {
            "paper" => values::paper(paper),
            "bar" => values::check_bar(paper, &mut pictures),
            "day" => values::day(card.day),
            "card" => values::card(card, (paper, set), &mut pictures)?,
        };
        Ok::<_, SheetError>((pdf::document("cards.typ", &facts)?, pictures))
    };
    let (document, pictures) = if paper == Paper::Roll || !crowded(card) {
        let airy = set(Set::Airy)?;
        if paper == Paper::Roll || upright(&airy.0) <= 1 { airy } else { set(Set::Tight)? }
    } else {
        set(Set::Tight)?
    };
    Ok(pictures.set_into(document, index))
}

/// Whether a card has so much to say that it need not be tried with room.
fn crowded(card: &BenchCard) -> bool {
    let marks: usize = card.ends.iter().map(|end| end.layout.marks.len()).sum();
    let letters: usize = card.ends.iter().flat_map(|end| &end.steps).map(String::len).sum();
    marks >= 9 && letters >= 900
}

/// Pages of a card beside those of its strips.
fn upright(document: &PagedDocument) -> usize {
    document.pages().iter().filter(|page| page.frame.width() < page.frame.height()).count()
}

/// The pages of a cut plan before they are written.
fn cut_plan_pages(plan: &CutPlanSheet, paper: Paper) -> Result<PagedDocument, SheetError> {
    let mut pictures = Pictures::default();
    let facts = values::plan(plan, paper, &mut pictures)?;
    Ok(pictures.set_into(pdf::document("plan.typ", &facts)?, 0))
}

/// The pages of a line table before they are written.
fn line_table_pages(table: &LineTable, paper: Paper) -> Result<PagedDocument, SheetError> {
    let mut pictures = Pictures::default();
    let facts = values::lines(table, paper, &mut pictures);
    Ok(pictures.set_into(pdf::document("lines.typ", &facts)?, 0))
}

// The facts that tests share name this crate the way its users do.
#[cfg(test)]
extern crate self as sheets;
#[cfg(test)]
mod tests;
