//! Why an end cannot be laid out, and what to do instead.

use crate::{BraidError, EndKind, TaperError};
use thiserror::Error;
use units::{Angle, Force, Length};

/// An end that cannot be laid out as asked.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SpliceError {
    /// The rope is not built for this end.
    #[error("a {kind} cannot be made in {rope}, which is {construction}", kind = kind.name())]
    WrongConstruction {
        /// The end.
        kind: EndKind,
        /// The rope.
        rope: String,
        /// How it is built.
        construction: &'static str,
        /// An end it can take.
        instead: Option<EndKind>,
    },
    /// The core was never measured.
    #[error("{rope} carries its load on the core, and the stripped core's diameter is not known")]
    CoreDiameterMissing {
        /// The rope.
        rope: String,
    },
    /// The eye's legs would part too wide on its fitting.
    #[error("an eye of {eye} inside, flat, opens to {angle} on a {diameter} {fitting}: at most 60 degrees is allowed")]
    EyeTooSmall {
        /// Inside length, flat.
        eye: Length,
        /// The fitting.
        fitting: &'static str,
        /// Its diameter.
        diameter: Length,
        /// Included angle there, or 180 degrees where it does not go over.
        angle: Angle,
        /// The smallest eye allowed, inside, flat.
        least: Length,
    },
    /// A length that must be above zero and is not.
    #[error("{what} is {given}: it must be above zero")]
    NotAboveZero {
        /// Which.
        what: &'static str,
        /// The figure.
        given: Length,
    },
    /// A load that must be above zero and is not.
    #[error("{what} is {given}: it must be above zero")]
    LoadNotAboveZero {
        /// Which.
        what: &'static str,
        /// The figure.
        given: Force,
    },
    /// A number outside what is allowed.
    #[error("{what} is {given}: it must lie between {low} and {high}")]
    OutOfRange {
        /// Which.
        what: &'static str,
        /// The figure.
        given: f64,
        /// The lowest allowed.
        low: f64,
        /// The highest allowed.
        high: f64,
    },
    /// The marks do not fit on the rope there is.
    #[error("the marks reach {needs} from the bitter end, and there is {has} of rope")]
    LongerThanRope {
        /// The last mark.
        needs: Length,
        /// Rope there is.
        has: Length,
    },
    /// The cover would begin over the bury.
    #[error("a stripped run of {given} ends over the buried ends: the bury and the cover's own bury need {least}")]
    StrippedRunTooShort {
        /// Throat to cover.
        given: Length,
        /// The shortest allowed.
        least: Length,
    },
    /// A join without its other rope, or a piece without its length.
    #[error("a {kind} needs {what}", kind = kind.name())]
    Missing {
        /// The end.
        kind: EndKind,
        /// What was not given.
        what: &'static str,
    },
    /// A piece too short for what is in it.
    #[error("a finished length of {given} is too short for a {kind}: at least {least} is needed", kind = kind.name())]
    TooShort {
        /// The piece.
        kind: EndKind,
        /// Its finished length.
        given: Length,
        /// The least.
        least: Length,
    },
    /// An end that no single bury holds.
    #[error("the chance that a {kind} holds cannot be simulated: no grip of one bury holds it", kind = kind.name())]
    NothingToSimulate {
        /// The end.
        kind: EndKind,
    },
    /// No bury reaches the wanted margin.
    #[error("no bury up to 400 diameters has a grip margin of {wanted} at the low end of friction")]
    NoBuryHolds {
        /// Margin wanted.
        wanted: f64,
    },
    /// The braid cannot be, or cannot take a tail.
    #[error(transparent)]
    Braid(#[from] BraidError),
    /// The taper cannot be made.
    #[error(transparent)]
    Taper(#[from] TaperError),
}

impl SpliceError {
    /// What to do instead.
    #[must_use]
    pub fn hints(&self) -> Vec<String> {
        let hint = match self {
            SpliceError::WrongConstruction { instead: Some(kind), construction, .. } => {
                format!("in {construction} rope make a {} ({})", kind.name(), kind.word())
            }
            SpliceError::WrongConstruction { construction, .. } => {
                format!(
                    "{construction} rope takes no splice: use a whipped or sewn end, a clamp its maker allows, or another rope"
                )
            }
            SpliceError::CoreDiameterMissing { .. } => {
                "strip a metre, pull it to reference tension, measure the core and put core_diameter in the rope list"
                    .to_owned()
            }
            SpliceError::EyeTooSmall { least, .. } => format!("make the eye at least {least} inside, laid flat"),
            SpliceError::NotAboveZero { .. }
            | SpliceError::LoadNotAboveZero { .. }
            | SpliceError::OutOfRange { .. } => "give a figure in that range".to_owned(),
            SpliceError::LongerThanRope { needs, .. } => {
                format!("cut the piece longer than {needs}, or choose a shorter bury and look at its grip margin")
            }
            SpliceError::StrippedRunTooShort { least, .. } => {
                format!("strip at least {least} from the throat, or make a covered eye")
            }
            SpliceError::Missing { what, .. } => format!("give {what}"),
            SpliceError::TooShort { least, .. } => format!("make the piece {least} or longer, or shorten its buries"),
            SpliceError::NothingToSimulate { .. } => {
                "simulate an eye, a join of like ropes or a loop with a buried tail; for the others break tests stand"
                    .to_owned()
            }
            SpliceError::NoBuryHolds { .. } => {
                "measure pitch and diameter of the rope to narrow the range, or choose another end".to_owned()
            }
            SpliceError::Braid(BraidError::Jammed) => {
                "this rope cannot be buried in itself: use a sewn or knotted end and its strength".to_owned()
            }
            SpliceError::Braid(_) => "measure the pitch and diameter again at reference tension".to_owned(),
            SpliceError::Taper(_) => "try the common taper or a longer bury".to_owned(),
        };
        vec![hint]
    }
}
