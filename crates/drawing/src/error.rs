//! Why a picture was refused.

use thiserror::Error;

/// What cannot be drawn.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum DrawingError {
    /// A size that must be more than zero is not.
    #[error("{what} is {given}, but must be a number of millimetres more than zero")]
    NotPositive {
        /// Which size.
        what: &'static str,
        /// What was given, in mm.
        given: f64,
    },
    /// A distance is negative or not a number.
    #[error("{what} is {given}, but must be a number of millimetres from zero upwards")]
    Negative {
        /// Which distance.
        what: &'static str,
        /// What was given, in mm.
        given: f64,
    },
    /// A stretch ends before it begins.
    #[error("a stretch runs from {from_mm} mm to {to_mm} mm, but must not end before it begins")]
    Backwards {
        /// Where it begins, in mm.
        from_mm: f64,
        /// Where it ends, in mm.
        to_mm: f64,
    },
    /// A taper step leaves more strands than there were, or steps are out of order.
    #[error(
        "the taper step at {at_mm} mm leaves {strands_left} strands of {strands_before}, \
         but steps run from the throat to the bitter end and only take strands out"
    )]
    TaperGrows {
        /// Where, in mm from the bitter end.
        at_mm: f64,
        /// Strands left after it.
        strands_left: u32,
        /// Strands before it.
        strands_before: u32,
    },
    /// The picture is too narrow to be read.
    #[error("a picture {given_mm} mm wide was asked for, but the least that can be read is {least_mm} mm")]
    TooNarrow {
        /// Width asked for, in mm.
        given_mm: f64,
        /// Least width, in mm.
        least_mm: f64,
    },
    /// The pieces on a reel come to more than the reel holds.
    #[error("the pieces on {reel} come to {pieces_mm} mm with their loss, but it holds {reel_mm} mm")]
    ReelTooShort {
        /// The reel's name.
        reel: String,
        /// Pieces and loss, in mm.
        pieces_mm: f64,
        /// The reel's length, in mm.
        reel_mm: f64,
    },
    /// A plot without a single value.
    #[error("there is nothing to plot: give at least one curve, band, limit or point")]
    NothingToPlot,
    /// A value of a plot is not a number.
    #[error("{what} is {given}, but must be a number")]
    NotFinite {
        /// Which value.
        what: &'static str,
        /// What was given.
        given: f64,
    },
    /// An axis or a band that runs backwards.
    #[error("{what} runs from {from} to {to}, but must rise")]
    NotRising {
        /// What runs backwards.
        what: &'static str,
        /// Where it begins.
        from: f64,
        /// Where it ends.
        to: f64,
    },
    /// A point outside the axes that were asked for.
    #[error("the point at {x}, {y} lies outside the axes asked for: widen them, or leave it out")]
    OutsideAxes {
        /// Its value of x.
        x: f64,
        /// Its value of y.
        y: f64,
    },
    /// A plot too low for its frame and words.
    #[error("a plot {given_mm} mm high was asked for, but its frame and words need {least_mm} mm")]
    TooLow {
        /// Height asked for, in mm.
        given_mm: f64,
        /// Least height, in mm.
        least_mm: f64,
    },
}
