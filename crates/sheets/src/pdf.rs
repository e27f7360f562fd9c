//! From a template and its facts to the bytes of a PDF.
//!
//! PDF/A-2b, tagged, without any time stamp: the only date in the file is the
//! day it was given. Viewers are asked not to scale when they print; the PDF
//! writer offers no setting for that, so it is added to the catalogue
//! afterwards. The catalogue is the last object of the file, so only the place
//! of the cross-reference table moves; a file built otherwise is refused.

use std::sync::LazyLock;

use typst::diag::SourceDiagnostic;
use typst::foundations::{Datetime, Dict, Smart};
use typst::model::Document;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use crate::world::SheetWorld;
use crate::{Day, SheetError};

static STANDARDS: LazyLock<Option<PdfStandards>> = LazyLock::new(|| PdfStandards::new(&[PdfStandard::A_2b]).ok());

/// Sheets whose layouts are kept for those that follow.
const SHEETS_REMEMBERED: usize = 4;

/// Refuses a day that does not exist.
pub(crate) fn check_day(day: Day) -> Result<(), SheetError> {
    let Day { year, month, day } = day;
    match Datetime::from_ymd(year, month, day) {
        Some(_) => Ok(()),
        None => Err(SheetError::NoSuchDay { year, month, day }),
    }
}

/// The template set with its facts: pages with everything at its place.
pub(crate) fn document(template: &str, facts: &Dict) -> Result<PagedDocument, SheetError> {
    let world = SheetWorld::new(template, facts)?;
    let set = typst::compile::<PagedDocument>(&world);
    // What the last sheets laid out helps their copies and what all sheets
    // share; older layouts would only fill memory.
    typst::comemo::evict(SHEETS_REMEMBERED);
    set.output.map_err(|errors| SheetError::Template(said(&errors)))
}

/// Documents as one, page after page.
pub(crate) fn joined(documents: Vec<PagedDocument>) -> Result<PagedDocument, SheetError> {
    let info = documents.first().ok_or(SheetError::Empty)?.info().clone();
    let pages = documents.into_iter().flat_map(|document| document.pages().to_vec()).collect();
    Ok(PagedDocument::new(pages, info))
}

/// The document as PDF.
pub(crate) fn write(document: &PagedDocument) -> Result<Vec<u8>, SheetError> {
    let standards = STANDARDS.clone().ok_or_else(|| SheetError::Pdf("PDF/A-2b is not offered".to_owned()))?;
    let options = PdfOptions { creator: Smart::Custom(Some("Becket".to_owned())), standards, ..PdfOptions::default() };
    let bytes = typst_pdf::pdf(document, &options).map_err(|errors| SheetError::Pdf(said(&errors)))?;
    unscaled(&bytes).ok_or_else(|| SheetError::Pdf("its catalogue is not where it was expected".to_owned()))
}

/// The same file with `/PrintScaling /None` among the viewer's preferences.
fn unscaled(file: &[u8]) -> Option<Vec<u8>> {
    const PREFERENCES: &[u8] = b"/ViewerPreferences<<";
    const ADDED: &[u8] = b"/PrintScaling/None";
    let table_word = last(file, b"startxref\n")?;
    let digits = table_word + b"startxref\n".len();
    let after = digits + file.get(digits..)?.iter().position(|byte| !byte.is_ascii_digit())?;
    let table: usize = std::str::from_utf8(file.get(digits..after)?).ok()?.parse().ok()?;
    let catalogue = last(file.get(..table)?, b" 0 obj")?;
    let place = catalogue + last(file.get(catalogue..table)?, PREFERENCES)? + PREFERENCES.len();
    let mut out = Vec::with_capacity(file.len() + 32);
    out.extend_from_slice(file.get(..place)?);
    out.extend_from_slice(ADDED);
    out.extend_from_slice(file.get(place..digits)?);
    out.extend_from_slice((table + ADDED.len()).to_string().as_bytes());
    out.extend_from_slice(file.get(after..)?);
    Some(out)
}

fn last(bytes: &[u8], word: &[u8]) -> Option<usize> {
    bytes.windows(word.len()).rposition(|window| window == word)
}

fn said(errors: &[SourceDiagnostic]) -> String {
    let messages: Vec<String> = errors.iter().map(|error| error.message.to_string()).collect();
    messages.join("; ")
}
