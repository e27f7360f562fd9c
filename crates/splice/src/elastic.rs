//! The splice in service: elastic tail and braid with Coulomb friction.
//!
//! Distances run from the throat, in diameters; loads are shares of the rope's
//! tension. With `To + Ti = 1`, strains `eo = e To (cos a0/cos a)^3` and
//! `ei = e Ti / f` (`e` the straight rope's strain at that tension), and a
//! slip `s` of the tail towards the throat,
//! `ds/dx = eo - ei`, `dTi/dx = -mu c k To g(s)`, `Ti(0) = rho`, `Ti(B) = 0`.
//! `g = s / sqrt(s^2 + s0^2)` is smooth, odd and saturates at one; the bedding
//! slip `s0` is ours, no source. Solved by finite volumes, slip in the cells
//! and load on the faces, with Newton's method and a tridiagonal solve. Where
//! the friction is not enough there is no equilibrium, and the answer is that
//! it does not hold. Not covered: creep of the fibre, bending, heat.

use crate::braid::Braid;
use crate::grip::grip_needed;
use crate::tail::Slice;
use thiserror::Error;

/// Slip at which friction is all but mobilised, in diameters. Ours, no source:
/// a few tenths of a millimetre for each millimetre of diameter.
pub const BEDDING_SLIP: f64 = 0.2;

/// Cells of a usual solve.
pub const CELLS: usize = 400;

/// What is to be solved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Service {
    /// Friction of strand on strand.
    pub friction: f64,
    /// Share of the tension in the tail's leg.
    pub rho: f64,
    /// Strain of the straight rope at the tension.
    pub strain: f64,
    /// Bedding slip in diameters.
    pub bedding: f64,
}

/// Why there is no answer.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum NoEquilibrium {
    /// The tail lets go: all friction there is does not carry its load.
    #[error(
        "the tail does not hold: all the friction carries a share {carried:.3} of the tension, and the tail has {needed:.3}"
    )]
    DoesNotHold {
        /// Share of the tension that full friction carries.
        carried: f64,
        /// Share that the tail's leg brings.
        needed: f64,
    },
    /// A bug: the equilibrium exists and was not found.
    #[error("no convergence after {iterations} iterations, residual {residual:e}")]
    NotConverged {
        /// Newton iterations made.
        iterations: usize,
        /// Largest imbalance left, share of the tension.
        residual: f64,
    },
}

/// The bury cut into cells, from the throat to the tail's end. Built once for
/// a geometry and solved for many loads and frictions.
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    /// Width of each cell.
    width: Vec<f64>,
    /// Grip of each cell for a friction of one: `c k h`.
    grip: Vec<f64>,
    /// Share of the compliance between two cells' middles that is the braid's,
    /// and one over their sum, for a strain of one.
    outer: Vec<f64>,
    stiffness: Vec<f64>,
    /// Compliance of braid and tail of the half cells at throat and tail's end.
    throat: (f64, f64),
    end: (f64, f64),
}

/// Room for a solve, used again and again.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Work {
    /// Slip at the first cell, and of each cell beyond it: kept apart because
    /// loads follow from differences, which stiff members make very small.
    base: f64,
    slip: Vec<f64>,
    kept: Vec<f64>,
    /// Tail load on the faces.
    face: Vec<f64>,
    /// Share of the braid's load that each cell holds, and how it changes with
    /// slip.
    held: Vec<f64>,
    change: Vec<f64>,
    lost: Vec<f64>,
    upper: Vec<f64>,
    right: Vec<f64>,
}

/// The state in service.
#[derive(Debug, Clone, PartialEq)]
pub struct State {
    /// Middle of each cell from the throat, diameters.
    pub at: Vec<f64>,
    /// Slip of the tail towards the throat, diameters.
    pub slip: Vec<f64>,
    /// Tail load on the faces, throat first: one more than the cells.
    pub tail_load: Vec<f64>,
    /// Slip of the tail's very end: how far it creeps in.
    pub end_slip: f64,
    /// Slip at the throat.
    pub throat_slip: f64,
    /// Newton iterations it took.
    pub iterations: usize,
}

impl Grid {
    /// A grid of about `cells` cells over a tail's slices (tail's end first),
    /// finer towards both ends of every even stretch.
    #[must_use]
    pub fn new(braid: &Braid, slices: &[Slice], cells: usize) -> Grid {
        let total = slices.iter().map(|slice| slice.length).sum::<f64>();
        // A part shared out evenly and a part by length.
        let spare = cells.saturating_sub(4 * slices.len()) as f64;
        let mut grid = Grid {
            width: Vec::new(),
            grip: Vec::new(),
            outer: Vec::new(),
            stiffness: Vec::new(),
            throat: (0.0, 0.0),
            end: (0.0, 0.0),
        };
        let mut half = Vec::new();
        for slice in slices.iter().rev() {
            let count = 4 + (spare * slice.length / total).round() as usize;
            let edge = |i: usize| 0.5 - 0.5 * (std::f64::consts::PI * i as f64 / count as f64).cos();
            let (grip, cube) =
                (braid.contact(slice.share) * braid.grip(slice.share), braid.shortened(slice.share).powi(-3));
            for cell in 0..count {
                let width = slice.length * (edge(cell + 1) - edge(cell));
                grid.width.push(width);
                grid.grip.push(grip * width);
                half.push((width / 2.0 * cube, width / 2.0 / slice.share));
            }
        }
        for pair in half.windows(2) {
            let (outer, inner) = (pair[0].0 + pair[1].0, pair[0].1 + pair[1].1);
            grid.outer.push(outer / (outer + inner));
            grid.stiffness.push(1.0 / (outer + inner));
        }
        let ends = |i: usize| half.get(i).copied().unwrap_or((0.0, 0.0));
        grid.throat = ends(0);
        grid.end = ends(half.len().saturating_sub(1));
        grid
    }

    /// Number of cells.
    #[must_use]
    pub fn cells(&self) -> usize {
        self.width.len()
    }

    /// Share of the tension that full friction would carry on this grid.
    fn carried(&self, friction: f64) -> f64 {
        // The braid's load grows by (1 + m/2)/(1 - m/2) over a cell that holds
        // a share m of it; a product costs less than a sum of logarithms.
        let growth = self.grip.iter().fold(1.0, |growth: f64, grip| {
            let half = (friction * grip / 2.0).min(0.999_999);
            (growth * (1.0 - half) / (1.0 + half)).max(f64::MIN_POSITIVE)
        });
        1.0 - growth
    }
}

/// The state in service, as vectors of its own.
///
/// # Errors
/// [`NoEquilibrium::DoesNotHold`] where friction does not carry the tail.
pub fn solve(grid: &Grid, service: Service) -> Result<State, NoEquilibrium> {
    let mut work = Work::default();
    let iterations = solve_into(grid, service, &mut work)?;
    let slip = work.slip.iter().map(|slip| work.base + slip).collect::<Vec<_>>();
    let mut at = Vec::with_capacity(grid.cells());
    let mut from = 0.0;
    for width in &grid.width {
        at.push(from + width / 2.0);
        from += width;
    }
    let last = grid.cells() - 1;
    // Half a cell on to the very ends. The tail has nothing at its end, and a
    // quarter of the last face's load on the way there.
    let strain = service.strain;
    let end_load = work.face[last] / 4.0;
    let end_slip = slip[last] + strain * ((1.0 - end_load) * grid.end.0 - end_load * grid.end.1);
    let rho = service.rho;
    let throat_slip = slip[0] - strain * ((1.0 - rho) * grid.throat.0 - rho * grid.throat.1);
    Ok(State { at, slip, tail_load: work.face, end_slip, throat_slip, iterations })
}

/// The same into room that is kept: slip in `work`, nothing allocated after
/// the first time. Returns the number of iterations.
///
/// # Errors
/// [`NoEquilibrium::DoesNotHold`] where friction does not carry the tail.
pub fn solve_into(grid: &Grid, service: Service, work: &mut Work) -> Result<usize, NoEquilibrium> {
    let carried = grid.carried(service.friction);
    if carried <= service.rho * (1.0 + 1e-12) {
        return Err(NoEquilibrium::DoesNotHold { carried, needed: service.rho });
    }
    let cells = grid.cells();
    // Start from stiff members: an even slip that mobilises what is needed.
    let share = (grip_needed(service.rho) / grip_needed(carried)).min(0.999_999);
    work.slip.clear();
    work.slip.resize(cells, 0.0);
    work.base = service.bedding * share / (1.0 - share * share).sqrt();
    for room in [&mut work.held, &mut work.change, &mut work.lost, &mut work.upper, &mut work.right] {
        room.resize(cells, 0.0);
    }
    work.face.resize(cells + 1, 0.0);
    let mut before = imbalance(grid, service, work);
    for iteration in 1..=MOST_ITERATIONS {
        newton_step(grid, service, work);
        work.kept.clone_from(&work.slip);
        let (base, first) = (work.base, work.right[0]);
        let mut damping = 1.0;
        let after = loop {
            for ((slip, kept), step) in work.slip.iter_mut().zip(&work.kept).zip(&work.right) {
                *slip = kept - damping * (step - first);
            }
            work.base = base - damping * first;
            let after = imbalance(grid, service, work);
            if after < before * (1.0 - 1e-4 * damping) || damping < 1e-4 {
                break after;
            }
            // Very stiff members leave the imbalance of rounding, which no
            // step betters: what is left is far below anything printed.
            if before < 1e-7 && damping < 0.1 {
                return Ok(iteration);
            }
            damping /= 2.0;
        };
        before = after;
        if before < 1e-10 {
            return Ok(iteration);
        }
    }
    Err(NoEquilibrium::NotConverged { iterations: MOST_ITERATIONS, residual: before })
}

/// Newton's method takes three to six; more is a bug.
const MOST_ITERATIONS: usize = 200;

/// Tail load on every face from the slips, what each cell holds, and the root
/// of the sum of squares of the cells' imbalances.
fn imbalance(grid: &Grid, service: Service, work: &mut Work) -> f64 {
    let cells = grid.cells();
    let per_strain = 1.0 / service.strain;
    let (slip, face) = (&work.slip[..cells], &mut work.face[..=cells]);
    face[0] = service.rho;
    face[cells] = 0.0;
    let between = face[1..cells].iter_mut().zip(slip.windows(2));
    for ((face, pair), (outer, stiffness)) in between.zip(grid.outer.iter().zip(&grid.stiffness)) {
        *face = outer - (pair[1] - pair[0]) * stiffness * per_strain;
    }
    let (base, bedding) = (work.base, service.bedding * service.bedding);
    for (((held, change), slip), grip) in work.held.iter_mut().zip(&mut work.change).zip(slip).zip(&grid.grip) {
        let slip = base + slip;
        let square = slip * slip + bedding;
        let root = 1.0 / square.sqrt();
        let most = service.friction * grip * root;
        *held = most * slip;
        *change = most * bedding * root * root;
    }
    let mut sum = 0.0;
    for ((lost, held), pair) in work.lost.iter_mut().zip(&work.held).zip(face.windows(2)) {
        *lost = pair[0] - pair[1] - held * (1.0 - (pair[0] + pair[1]) / 2.0);
        sum += *lost * *lost;
    }
    sum.sqrt()
}

/// Newton's step for the slips into `work.right`: the tridiagonal system of
/// the cells' imbalances, solved in one sweep down and one up.
fn newton_step(grid: &Grid, service: Service, work: &mut Work) {
    let cells = grid.cells();
    let per_strain = 1.0 / service.strain;
    let (held, change, lost) = (&work.held[..cells], &work.change[..cells], &work.lost[..cells]);
    let (face, upper, right) = (&work.face[..=cells], &mut work.upper[..cells], &mut work.right[..cells]);
    let stiffness = &grid.stiffness[..cells - 1];
    let (mut stiff_left, mut above_before, mut right_before) = (0.0, 0.0, 0.0);
    for i in 0..cells {
        let stiff_right = if i + 1 < cells { stiffness[i] * per_strain } else { 0.0 };
        let braid = 1.0 - (face[i] + face[i + 1]) / 2.0;
        let below = (1.0 + held[i] / 2.0) * stiff_left;
        let above = (1.0 - held[i] / 2.0) * stiff_right;
        let middle = -below - above - change[i] * braid;
        let pivot = 1.0 / (middle - below * above_before);
        above_before = above * pivot;
        right_before = (lost[i] - below * right_before) * pivot;
        upper[i] = above_before;
        right[i] = right_before;
        stiff_left = stiff_right;
    }
    let mut next = 0.0;
    for (right, upper) in right.iter_mut().zip(upper.iter()).rev() {
        *right -= upper * next;
        next = *right;
    }
}
