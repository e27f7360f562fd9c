//! Bytes to text: what is not text, or not in UTF-8, is refused with the
//! place of its first wrong byte.

use crate::place::Place;
use crate::problem::Problem;

/// Largest order file that is read, in bytes: some hundred thousand lines.
pub const LARGEST_ORDER: usize = 8 << 20;
/// Largest spreadsheet that is read, in bytes.
pub const LARGEST_TABLE: usize = 8 << 20;

/// A file's text without its byte order mark, and the mark's length.
pub(crate) struct Text<'a> {
    pub text: &'a str,
    pub offset: usize,
}

const BOM: &[u8] = b"\xEF\xBB\xBF";

/// The length of the byte order mark at the beginning, in bytes.
pub(crate) fn mark_length(bytes: &[u8]) -> usize {
    if bytes.starts_with(BOM) { BOM.len() } else { 0 }
}

/// The text of a file.
pub(crate) fn text(bytes: &[u8], largest: usize) -> Result<Text<'_>, Box<Problem>> {
    let refuse = |problem: Problem| Err(Box::new(problem));
    if bytes.len() > largest {
        let message = format!("the file has {} bytes", units::group_thousands(bytes.len() as f64, 0));
        return refuse(
            Problem::new("file-too-large", message)
                .allowed(format!("at most {} bytes", units::group_thousands(largest as f64, 0)))
                .hint("check that this is the file you meant, or split it"),
        );
    }
    if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
        return refuse(
            Problem::new("not-utf-8", "the file is saved as UTF-16")
                .allowed("text in UTF-8")
                .hint("save it again as UTF-8")
                .at(Place { start: 0, end: 2 }),
        );
    }
    if let Some(start) = bytes.iter().position(|byte| *byte == 0) {
        return refuse(
            Problem::new("binary", "the file holds a zero byte: it is not a text file")
                .allowed("text in UTF-8")
                .hint("check that this is the file you meant")
                .at(Place { start, end: start + 1 }),
        );
    }
    let offset = mark_length(bytes);
    let text = match std::str::from_utf8(&bytes[offset..]) {
        Ok(text) => text,
        Err(error) => return refuse(not_utf8(bytes, offset + error.valid_up_to())),
    };
    if text.trim().is_empty() {
        return refuse(Problem::new("empty-file", "the file is empty").hint("check that this is the file you meant"));
    }
    Ok(Text { text, offset })
}

fn not_utf8(bytes: &[u8], start: usize) -> Problem {
    let byte = bytes.get(start).copied().unwrap_or_default();
    // The letter that an older encoding of Western Europe has for the byte, as a help to find it.
    let letter = match byte {
        0xA0..=0xFF => format!(", perhaps {:?} in an older encoding", char::from(byte)),
        _ => String::new(),
    };
    Problem::new("not-utf-8", format!("byte 0x{byte:02X} is not UTF-8{letter}"))
        .allowed("text in UTF-8")
        .hint("save the file again as UTF-8")
        .at(Place { start, end: start + 1 })
}
