//! Cuts the text of an order file into statements: headers and assignments.
//!
//! Each statement is then read on its own, so that one that cannot be read
//! does not hide the mistakes in the next. The cut follows the format's own
//! tokens (strings, comments, brackets). Where a bracket or a string is left
//! open, the statement ends before the next line that can only be a header or
//! a new assignment. Nesting is bounded here, before anything recurses.

use std::ops::Range;

/// Deeper nesting than this is refused: the format itself needs five.
pub(crate) const DEEPEST: usize = 16;

/// A piece of the text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Statement {
    pub range: Range<usize>,
    /// Where nesting became too deep, if it did.
    pub too_deep: Option<usize>,
}

/// All statements in order, blank lines and lines of comment left out.
pub(crate) fn statements(text: &str) -> impl Iterator<Item = Statement> {
    let mut at = 0;
    let mut left_open = 0;
    std::iter::from_fn(move || {
        at = skip_blank(text, at);
        if at >= text.len() {
            return None;
        }
        let mut scan = Scan::new(text, at, left_open);
        let statement = scan.statement();
        left_open = scan.left_open;
        at = statement.range.end;
        Some(statement)
    })
}

/// Past spaces, line ends and lines that hold a comment only.
fn skip_blank(text: &str, mut at: usize) -> usize {
    loop {
        let rest = &text[at..];
        let trimmed = rest.trim_start_matches([' ', '\t', '\r', '\n']);
        at += rest.len() - trimmed.len();
        if !trimmed.starts_with('#') {
            return at;
        }
        at = line_end(text, at);
    }
}

/// Where the line that `at` is on ends, before its line feed.
fn line_end(text: &str, at: usize) -> usize {
    text.as_bytes()[at..].iter().position(|byte| *byte == b'\n').map_or(text.len(), |length| at + length)
}

struct Scan<'t> {
    text: &'t str,
    start: usize,
    at: usize,
    open: Vec<u8>,
    /// Dots since the last sign that ends a key.
    dots: usize,
    too_deep: Option<usize>,
    /// The last byte that is neither space nor comment.
    last: u8,
    /// Texts of several lines found open so far. Each costs a search to the
    /// file's end, so there is a bound to them.
    left_open: usize,
}

/// After so many, a text of several lines is taken for open without a search.
const MOST_LEFT_OPEN: usize = 16;

impl<'t> Scan<'t> {
    fn new(text: &'t str, start: usize, left_open: usize) -> Self {
        Scan { text, start, at: start, open: Vec::new(), dots: 0, too_deep: None, last: 0, left_open }
    }

    fn statement(&mut self) -> Statement {
        let bytes = self.text.as_bytes();
        let header = bytes[self.start] == b'[';
        while let Some(byte) = bytes.get(self.at).copied() {
            match byte {
                b'\n' if header || self.open.is_empty() || self.begins_anew(self.at + 1) => break,
                b'#' => {
                    self.at = line_end(self.text, self.at);
                    continue;
                }
                b'"' | b'\'' => {
                    self.string(byte);
                    self.last = byte;
                    continue;
                }
                b'[' | b'{' => {
                    self.open.push(byte);
                    self.dots = 0;
                    if self.open.len() > DEEPEST {
                        self.too_deep.get_or_insert(self.at);
                        self.at = line_end(self.text, self.at);
                        break;
                    }
                }
                b']' | b'}' => {
                    self.open.pop();
                }
                b'.' => {
                    self.dots += 1;
                    if self.dots > DEEPEST {
                        self.too_deep.get_or_insert(self.at);
                        self.at = line_end(self.text, self.at);
                        break;
                    }
                }
                b'=' | b',' => self.dots = 0,
                _ => {}
            }
            if !matches!(byte, b' ' | b'\t' | b'\r' | b'\n') {
                self.last = byte;
            }
            self.at += 1;
        }
        let end = self.start + self.text[self.start..self.at].trim_end_matches(['\r', '\n', ' ', '\t']).len();
        Statement { range: self.start..end.max(self.start + 1).min(self.text.len()), too_deep: self.too_deep }
    }

    /// Past a string, or as far as the format lets an unclosed one reach.
    fn string(&mut self, quote: u8) {
        let bytes = self.text.as_bytes();
        let triple = [quote; 3];
        if bytes[self.at..].starts_with(&triple) {
            let body = self.at + 3;
            let end = if self.left_open < MOST_LEFT_OPEN { end_of_triple(bytes, body, quote) } else { None };
            match end {
                Some(end) => self.at = end,
                // Left open: the rest of the file is not part of it.
                None => {
                    self.left_open += 1;
                    self.at = line_end(self.text, self.at);
                }
            }
            return;
        }
        let mut at = self.at + 1;
        while let Some(byte) = bytes.get(at).copied() {
            match byte {
                b'\n' => break,
                b'\\' if quote == b'"' && bytes.get(at + 1).is_some_and(|next| *next != b'\n') => at += 2,
                _ if byte == quote => {
                    at += 1;
                    break;
                }
                _ => at += 1,
            }
        }
        self.at = at.min(bytes.len());
    }

    /// Whether the line at `at`, inside an open bracket, can only be a new statement.
    fn begins_anew(&self, at: usize) -> bool {
        let line = &self.text[at..line_end(self.text, at)];
        let line = line.trim();
        if is_header(line) {
            return true;
        }
        // In a table without a comma before it, or in a list, an assignment cannot stand.
        let separated = matches!(self.last, b',' | b'{');
        let in_table = self.open.last() == Some(&b'{');
        is_assignment(line) && !(in_table && separated)
    }
}

fn end_of_triple(bytes: &[u8], mut at: usize, quote: u8) -> Option<usize> {
    while at < bytes.len() {
        if bytes[at] == b'\\' && quote == b'"' {
            at += 2;
        } else if bytes[at..].starts_with(&[quote; 3]) {
            // Up to two more quotes belong to the text before the closing three.
            let run = bytes[at..].iter().take(5).take_while(|byte| **byte == quote).count();
            return Some(at + run);
        } else {
            at += 1;
        }
    }
    None
}

/// `[word]` or `[[word.word]]`, which inside a list could not be a value.
fn is_header(line: &str) -> bool {
    let line = line.split('#').next().unwrap_or(line).trim_end();
    let Some(inner) = line.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) else {
        return false;
    };
    let inner = inner.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')).unwrap_or(inner).trim();
    let word = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '.' | ' ');
    inner.starts_with(|c: char| c.is_ascii_alphabetic())
        && inner.chars().all(word)
        && !matches!(inner, "true" | "false" | "inf" | "nan")
}

/// `word =`
fn is_assignment(line: &str) -> bool {
    let word = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '.');
    let key = line.find(|c: char| !word(c)).unwrap_or(line.len());
    key > 0 && line[key..].trim_start().starts_with('=')
}
