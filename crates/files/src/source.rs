//! A file's bytes under its name: lines and columns of places, and lines to show.

use crate::bytes::mark_length;
use crate::place::Place;
use crate::problem::is_direction_mark;
use std::borrow::Cow;

/// A file to point into: its name as shown, and its bytes as they are on disk.
#[derive(Debug, Clone)]
pub struct Source<'a> {
    name: &'a str,
    bytes: &'a [u8],
    /// Where each line begins.
    starts: Vec<usize>,
}

/// A place as people count it: from 1, columns in characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Position {
    /// Line of the first character.
    pub line: usize,
    /// Column of the first character.
    pub column: usize,
    /// Line of the last character.
    pub end_line: usize,
    /// The column behind the last character.
    pub end_column: usize,
}

/// A line made fit to show: no control characters, not wider than asked, and
/// where in it the place is, in bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Shown {
    pub text: String,
    pub start: usize,
    pub end: usize,
}

impl<'a> Source<'a> {
    /// From the name to show and the bytes read.
    #[must_use]
    pub fn new(name: &'a str, bytes: &'a [u8]) -> Self {
        let feeds = bytes.iter().enumerate().filter(|(_, byte)| **byte == b'\n').map(|(at, _)| at + 1);
        Source { name, bytes, starts: std::iter::once(0).chain(feeds).collect() }
    }

    /// The name to show.
    #[must_use]
    pub fn name(&self) -> &'a str {
        self.name
    }

    /// Line and column of a place. A byte order mark has no column, and a
    /// byte that is not UTF-8 counts as one character.
    ///
    /// ```
    /// use files::{Place, Source};
    /// let source = Source::new("order.toml", "name = \"Möwe\"\nloa = 10".as_bytes());
    /// let position = source.position(Place { start: 21, end: 23 });
    /// assert_eq!((position.line, position.column, position.end_column), (2, 7, 9));
    /// ```
    #[must_use]
    pub fn position(&self, place: Place) -> Position {
        let (line, column) = self.count(place.start);
        let (end_line, end_column) = self.count(place.end.max(place.start));
        Position { line, column, end_line, end_column }
    }

    fn count(&self, at: usize) -> (usize, usize) {
        let at = at.min(self.bytes.len());
        let line = self.starts.partition_point(|start| *start <= at).max(1);
        let before = &self.bytes[self.line_start(line).min(at)..at];
        (line, characters(before) + 1)
    }

    /// Where a line's text begins; lines count from 1.
    fn line_start(&self, line: usize) -> usize {
        let start = self.starts.get(line - 1).copied().unwrap_or(self.bytes.len());
        if line == 1 { mark_length(self.bytes) } else { start }
    }

    /// The line a place begins on, with the part of the place that is on it,
    /// cut to `width` characters around the place.
    pub(crate) fn shown(&self, place: Place, width: usize) -> Shown {
        let (line, column) = self.count(place.start);
        let start = self.line_start(line);
        let end = self.starts.get(line).map_or(self.bytes.len(), |next| next - 1);
        // Far more than fits is enough: a line of a megabyte is never decoded whole.
        let reach = 8 * width;
        let from = boundary(self.bytes, start.max(place.start.min(end).saturating_sub(reach)), start);
        let to = end.min(place.start.saturating_add(reach)).max(from);
        let text = decoded(&self.bytes[from..to]);
        let skipped = characters(&self.bytes[start..from]);
        let first = column - 1 - skipped;
        let place_end = place.end.clamp(place.start, end.max(place.start));
        let length = characters(&self.bytes[place.start.min(to)..place_end.min(to).max(place.start.min(to))]).max(1);
        window(&text, first..first + length, Cut { width, before: from > start, behind: to < end })
    }
}

/// How a line is to be cut.
struct Cut {
    width: usize,
    before: bool,
    behind: bool,
}

/// The number of characters in bytes that may not be UTF-8 throughout.
fn characters(bytes: &[u8]) -> usize {
    match std::str::from_utf8(bytes) {
        Ok(text) => text.chars().count(),
        Err(_) => decoded(bytes).chars().count(),
    }
}

fn decoded(bytes: &[u8]) -> Cow<'_, str> {
    String::from_utf8_lossy(bytes)
}

/// The beginning of the character that `at` is in.
fn boundary(bytes: &[u8], at: usize, least: usize) -> usize {
    (least..=at).rev().take(4).find(|at| bytes.get(*at).is_none_or(|byte| byte & 0xC0 != 0x80)).unwrap_or(at)
}

/// One column for each character: what would move the cursor is replaced.
pub(crate) fn visible(c: char) -> char {
    match c {
        '\t' => ' ',
        '\0'..='\u{1f}' => char::from_u32(0x2400 + u32::from(c)).unwrap_or('\u{fffd}'),
        '\u{7f}' => '\u{2421}',
        _ if c.is_control() || is_direction_mark(c) => '\u{fffd}',
        _ => c,
    }
}

/// Columns that a character takes on a terminal, never fewer than it does.
fn columns(c: char) -> usize {
    if u32::from(c) >= 0x1100 { 2 } else { 1 }
}

/// The part of a line that shows the place, with marks where it is cut.
fn window(text: &str, place: std::ops::Range<usize>, cut: Cut) -> Shown {
    let all: Vec<char> = text.trim_end_matches('\r').chars().map(visible).collect();
    let start = place.start.min(all.len());
    let fits = |from: usize, to: usize| all[from..to].iter().map(|c| columns(*c)).sum::<usize>() <= cut.width;
    // From a little before the place, as far as the width goes; then back to the left while it fits.
    let mut from = start;
    let mut to = start;
    while to < all.len() && fits(from, to + 1) {
        to += 1;
    }
    while from > 0 && fits(from - 1, to) {
        from -= 1;
    }
    // A place near the right edge keeps some of what stands before it.
    let lead = (cut.width / 4).min(start);
    while start - from < lead && to > start + 1 {
        from -= 1;
        while !fits(from, to) {
            to -= 1;
        }
    }
    let mut shown = String::new();
    let mut range = (0, 0);
    if cut.before || from > 0 {
        shown.push('…');
    }
    for (index, c) in all.iter().enumerate().take(to).skip(from) {
        if index == start {
            range.0 = shown.len();
        }
        shown.push(*c);
        if index < place.end {
            range.1 = shown.len();
        }
    }
    if start >= to {
        range = (shown.len(), shown.len());
    }
    if cut.behind || to < all.len() {
        shown.push('…');
    }
    Shown { text: shown, start: range.0, end: range.1.max(range.0) }
}
