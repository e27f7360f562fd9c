//! Friction of strand on strand from a pull-out test: the grip of a bury
//! turned round.
//!
//! An unstitched bury lets go where `mu sum(c k dx) = ln(1/(1-rho))`, with
//! `rho` the tail's share of the load ([`splice::margin`] is one there). So a
//! tail that drew out tells the friction, and one that held until the rope
//! broke tells that it was at least so much.

use crate::tests_log::Outcome;
use splice::{Braid, EVEN_LEGS, Slice, grip_needed, grip_sum};
use thiserror::Error;
use units::Force;

/// A pull-out test of an unstitched bury.
#[derive(Debug, Clone, PartialEq)]
pub struct PullOut {
    /// The braid, as measured or assumed.
    pub braid: Braid,
    /// The tail, from its end to the throat.
    pub tail: Vec<Slice>,
    /// Load on the standing part when it let go, or the highest held.
    pub load: Force,
    /// Load on the tail's leg at that moment; `None` for half of it.
    pub tail_load: Option<Force>,
    /// How it ended.
    pub outcome: Outcome,
}

/// Why a test tells no friction.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum PullOutError {
    /// A tail that the braid does not grip.
    #[error("the braid bears on itself and not on the tail: the test tells no friction")]
    NoGrip,
    /// A tail's leg that carries nothing, or everything.
    #[error("the tail's leg carries {tail} of {load}: it must be above zero and below the whole")]
    TailLoad {
        /// On the tail's leg.
        tail: Force,
        /// On the standing part.
        load: Force,
    },
    /// A load that pulls nothing.
    #[error("a load of {load}: it must be above zero")]
    Load {
        /// As given.
        load: Force,
    },
}

/// The friction a test tells, and whether it is only "at least so much".
///
/// # Errors
/// When a load cannot be, or the braid does not grip the tail.
///
/// # Example
/// ```
/// use proving::{Outcome, PullOut, friction_of};
/// use splice::{Braid, BraidShape, Tail, margin};
/// use units::{Angle, Force};
/// let braid = Braid::new(BraidShape::new(Angle::of_degrees(15.0), 1.6)).unwrap();
/// let tail = Tail::blunt(20.0).slices();
/// let test = PullOut { braid, tail: tail.clone(), load: Force::of_kn(6.0), tail_load: None, outcome: Outcome::DrewOut };
/// let (friction, at_least) = friction_of(&test)?;
/// assert!(!at_least);
/// // With that friction the margin of the same bury is just one.
/// assert!((margin(&braid, friction, &tail, 0.5) - 1.0).abs() < 1e-12);
/// # Ok::<(), proving::PullOutError>(())
/// ```
pub fn friction_of(test: &PullOut) -> Result<(f64, bool), PullOutError> {
    let load = test.load;
    if load <= Force::ZERO {
        return Err(PullOutError::Load { load });
    }
    let share = match test.tail_load {
        None => EVEN_LEGS,
        Some(tail) if tail > Force::ZERO && tail < load => tail / load,
        Some(tail) => return Err(PullOutError::TailLoad { tail, load }),
    };
    let sum = grip_sum(&test.braid, &test.tail);
    if sum <= 0.0 {
        return Err(PullOutError::NoGrip);
    }
    Ok((grip_needed(share) / sum, test.outcome != Outcome::DrewOut))
}
