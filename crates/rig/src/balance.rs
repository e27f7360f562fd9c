//! Three lines that hold a sail: their pulls from their directions.

use crate::point::{cross, dot, unit};
use thiserror::Error;
use units::Force;

/// Why three lines cannot hold a sail.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum BalanceError {
    /// The three directions lie in one plane, or one is missing.
    #[error("the three lines lie in one plane: they cannot balance a pull out of it")]
    OnePlane,
    /// A line would have to push.
    #[error("line {line} would have to push with {push}: rope only pulls; check the directions")]
    Pushes {
        /// Which line, from 1.
        line: usize,
        /// How hard.
        push: Force,
    },
}

/// Pulls in three lines with directions `lines` (away from the sail) that
/// balance a force `sail` of the given direction and size.
///
/// Solves `sum T_i u_i = -F` by Cramer's rule.
///
/// # Errors
/// When the lines lie in one plane, or one would have to push.
///
/// # Example
/// ```
/// use units::Force;
/// let pulls = rig::three_corners(Force::of_n(100.0), [1.0, 1.0, 1.0],
///     [[-1.0, 0.0, 0.0], [0.0, -1.0, 0.0], [0.0, 0.0, -1.0]])?;
/// assert!((pulls[0].to_n() - 57.735).abs() < 1e-3);
/// # Ok::<(), rig::BalanceError>(())
/// ```
pub fn three_corners(size: Force, sail: [f64; 3], lines: [[f64; 3]; 3]) -> Result<[Force; 3], BalanceError> {
    const FLAT: f64 = 1e-6;
    let sail = unit(sail).ok_or(BalanceError::OnePlane)?;
    let directions = lines.map(unit);
    let [Some(a), Some(b), Some(c)] = directions else { return Err(BalanceError::OnePlane) };
    let volume = dot(a, cross(b, c));
    if volume.abs() < FLAT {
        return Err(BalanceError::OnePlane);
    }
    let wanted = sail.map(|part| -part * size.to_n());
    let pulls = [dot(wanted, cross(b, c)), dot(a, cross(wanted, c)), dot(a, cross(b, wanted))];
    let pulls = pulls.map(|share| Force::of_n(share / volume));
    match pulls.iter().position(|pull| *pull < Force::ZERO) {
        Some(index) => Err(BalanceError::Pushes { line: index + 1, push: -pulls[index] }),
        None => Ok(pulls),
    }
}
