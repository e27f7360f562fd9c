//! Where a value stands in its file.

use std::ops::Range;

/// A stretch of a file, in bytes from its beginning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Place {
    /// First byte.
    pub start: usize,
    /// The byte behind the last one.
    pub end: usize,
}

impl Place {
    /// From a byte range moved by `offset`.
    pub(crate) fn of(range: Range<usize>, offset: usize) -> Self {
        Place { start: range.start + offset, end: range.end.max(range.start) + offset }
    }
}

/// A value and its place, so that whoever finds fault with the value later
/// can still point at it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placed<T> {
    /// What was read.
    pub value: T,
    /// Where it stands. A value that the format assumes when the key is left
    /// out has the place of the table that lacks it.
    pub place: Place,
}
