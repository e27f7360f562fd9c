//! A source, a place in it, and a number that carries both.

use std::ops::RangeInclusive;
use thiserror::Error;

/// What kind of thing a source is: the order is the order of trust.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// From somebody's memory of a publication that was not read.
    FromMemory,
    /// What the trade does, without a publication.
    CommonPractice,
    /// Worked out by us, or a choice of ours that the answer shows.
    Ours,
    /// Read in another author's quotation or transcription.
    Secondary,
    /// A measurement, with its sample.
    Measured,
    /// A textbook or handbook that was read.
    Handbook,
    /// A paper or report that was read.
    Paper,
    /// A law, rule or standard that was read.
    Standard,
    /// The user's own figure: list, certificate, measurement or wish.
    Given,
    /// A definition, or mathematics.
    Exact,
}

impl Kind {
    /// The kind in words, as it stands behind a number.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Kind::FromMemory => "from memory",
            Kind::CommonPractice => "common practice, no source",
            Kind::Ours => "our own derivation",
            Kind::Secondary => "read at second hand",
            Kind::Measured => "measured",
            Kind::Handbook => "handbook",
            Kind::Paper => "paper",
            Kind::Standard => "standard or rule",
            Kind::Given => "given by you",
            Kind::Exact => "exact",
        }
    }
}

/// A publication or other origin of numbers. Every one is a `static` of the
/// [registry](crate::registry()).
#[derive(Debug, PartialEq, Eq)]
pub struct Source {
    /// Short name for files and tests: `orc-vpp-2023`.
    pub id: &'static str,
    /// Title as printed.
    pub title: &'static str,
    /// Author or body.
    pub body: &'static str,
    /// Year or edition; empty where there is none.
    pub year: &'static str,
    /// What kind of thing it is.
    pub kind: Kind,
}

impl Source {
    /// This source at a place in it: table, clause, page.
    #[must_use]
    pub const fn at(&'static self, locator: &'static str) -> Citation {
        Citation { source: self, locator }
    }
}

/// A place in a source.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Citation {
    /// The source.
    pub source: &'static Source,
    /// Table, clause or page; empty for the whole.
    pub locator: &'static str,
}

impl std::fmt::Display for Citation {
    /// One line: title, year, place, kind.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.source.title)?;
        // Some titles end in their year.
        let year = if self.source.title.ends_with(self.source.year) { "" } else { self.source.year };
        for part in [year, self.locator].into_iter().filter(|part| !part.is_empty()) {
            write!(f, ", {part}")?;
        }
        match self.source.kind {
            // Their titles say it themselves.
            Kind::Exact | Kind::Given | Kind::Ours | Kind::CommonPractice => Ok(()),
            kind => write!(f, " ({})", kind.words()),
        }
    }
}

/// A number that carries its source and the range it holds in.
#[derive(Debug, Clone, PartialEq)]
pub struct Sourced<T> {
    value: T,
    /// Where it is from.
    pub citation: Citation,
    /// The inputs it holds for, where it has limits.
    range: Option<RangeInclusive<f64>>,
}

/// An input outside the range that a sourced number holds in.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("{given} is outside {low} to {high}, the range of {source_title}")]
pub struct OutOfRange {
    /// The input given.
    pub given: f64,
    /// The lowest allowed.
    pub low: f64,
    /// The highest allowed.
    pub high: f64,
    /// Whose range it is.
    pub source_title: &'static str,
}

impl<T: Copy> Sourced<T> {
    /// A number good for any input.
    #[must_use]
    pub const fn new(value: T, citation: Citation) -> Self {
        Sourced { value, citation, range: None }
    }

    /// A number good only while some input stays within a range.
    #[must_use]
    pub const fn within(value: T, citation: Citation, range: RangeInclusive<f64>) -> Self {
        Sourced { value, citation, range: Some(range) }
    }

    /// The number, for an input checked against its range.
    ///
    /// # Errors
    /// When `input` lies outside the range.
    pub fn get_for(&self, input: f64) -> Result<T, OutOfRange> {
        match &self.range {
            Some(range) if !range.contains(&input) => Err(OutOfRange {
                given: input,
                low: *range.start(),
                high: *range.end(),
                source_title: self.citation.source.title,
            }),
            _ => Ok(self.value),
        }
    }

    /// The number, when it has no range to check; `None` when it has.
    #[must_use]
    pub fn get(&self) -> Option<T> {
        self.range.is_none().then_some(self.value)
    }
}
