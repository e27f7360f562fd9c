//! Sampling and acceptance by the fibre rope test method.

use units::Force;

/// Where a rope broke.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BreakAt {
    /// Between the gauge marks: the rope itself.
    BetweenMarks,
    /// Outside them: at a splice or grip.
    OutsideMarks,
}

/// Whether a specified unspliced strength is met.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Met.
    Accepted,
    /// Not met.
    Refused,
}

/// Specimens to test of a lot of `coils` coils: 0.4 √N, rounded, at least one.
///
/// # Source
/// ISO 2307:2010, sampling (N counts coils of 220 m).
///
/// # Example
/// ```
/// assert_eq!((proving::sample_size(25), proving::sample_size(100), proving::sample_size(1)), (2, 4, 1));
/// ```
#[must_use]
pub fn sample_size(coils: u32) -> u32 {
    ((0.4 * f64::from(coils).sqrt()).round() as u32).max(1)
}

/// Is an unspliced strength met by a break? Between the marks in full;
/// outside them from 90 % on, and never scaled up.
///
/// # Source
/// ISO 2307:2010, acceptance.
///
/// # Example
/// ```
/// use proving::{BreakAt, Verdict, accept_unspliced};
/// use units::Force;
/// let specified = Force::of_kn(62.3);
/// assert_eq!(accept_unspliced(specified, Force::of_kn(57.0), BreakAt::OutsideMarks), Verdict::Accepted);
/// assert_eq!(accept_unspliced(specified, Force::of_kn(55.0), BreakAt::OutsideMarks), Verdict::Refused);
/// ```
#[must_use]
pub fn accept_unspliced(specified: Force, broke: Force, at: BreakAt) -> Verdict {
    let wanted = match at {
        BreakAt::BetweenMarks => specified,
        BreakAt::OutsideMarks => specified * 0.90,
    };
    if broke >= wanted { Verdict::Accepted } else { Verdict::Refused }
}

/// Is a strength that is specified for the spliced rope met by a break? In
/// full, wherever it broke: the splice is part of what was specified.
///
/// # Source
/// ISO 2307:2010, acceptance.
#[must_use]
pub fn accept_spliced(specified: Force, broke: Force) -> Verdict {
    if broke >= specified { Verdict::Accepted } else { Verdict::Refused }
}
