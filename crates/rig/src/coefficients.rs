//! Lift and drag of sails: one pinned edition, never mixed with another.
//!
//! ORC VPP Documentation 2023, tables 5.1 (mainsail, low), 5.4 (jib, low), 5.6
//! (symmetric spinnaker) and 5.7 (asymmetric on the centreline), as read in
//! independent transcriptions. Best-trim steady maxima at full power, for the
//! cloth area and the apparent wind in the plane normal to the mast; straight
//! lines between rows. An over-trimmed or flogging sail can exceed them.

use sources::{Citation, ORC_VPP_2023};
use thiserror::Error;
use units::Angle;

/// Which sail's table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SailTable {
    /// Mainsail, low set.
    Main,
    /// Jib or genoa, low set.
    Jib,
    /// Symmetric spinnaker.
    Symmetric,
    /// Asymmetric spinnaker on the centreline.
    Asymmetric,
}

/// Lift and drag coefficients at an angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coefficients {
    /// Lift, across the apparent wind.
    pub lift: f64,
    /// Drag, along it.
    pub drag: f64,
}

/// An angle that the table does not reach.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[error("an apparent wind of {given} is outside {lowest} to 180°, the rows of the table")]
pub struct OutsideRows {
    /// The angle asked for.
    pub given: Angle,
    /// The lowest row.
    pub lowest: Angle,
}

type Rows = &'static [(f64, f64, f64)];

const MAIN: Rows = &[
    (0.0, 0.0, 0.0431),
    (7.0, 0.862_07, 0.025_86),
    (9.0, 1.051_72, 0.023_28),
    (12.0, 1.163_79, 0.023_28),
    (28.0, 1.346_98, 0.032_59),
    (60.0, 1.353_45, 0.113_02),
    (90.0, 1.267_24, 0.3825),
    (120.0, 0.931_03, 0.968_88),
    (150.0, 0.387_93, 1.315_78),
    (180.0, -0.112_07, 1.344_83),
];

const JIB: Rows = &[
    (7.0, 0.0, 0.05),
    (15.0, 1.0, 0.032),
    (20.0, 1.375, 0.031),
    (27.0, 1.45, 0.037),
    (50.0, 1.45, 0.25),
    (60.0, 1.25, 0.35),
    (100.0, 0.4, 0.73),
    (150.0, 0.0, 0.95),
    (180.0, -0.1, 0.9),
];

const SYMMETRIC: Rows = &[
    (28.0, -0.024, 0.182),
    (41.0, 0.66, 0.267),
    (50.0, 0.861, 0.337),
    (60.0, 0.992, 0.417),
    (67.0, 1.026, 0.465),
    (75.0, 1.026, 0.506),
    (100.0, 0.92, 0.588),
    (115.0, 0.805, 0.615),
    (130.0, 0.635, 0.636),
    (150.0, 0.36, 0.65),
    (170.0, 0.11, 0.65),
    (180.0, 0.0, 0.64),
];

const ASYMMETRIC: Rows = &[
    (28.0, 0.017_38, 0.154_05),
    (41.0, 0.698_25, 0.239_25),
    (50.0, 0.899_33, 0.308_77),
    (60.0, 1.04, 0.388_52),
    (67.0, 1.072, 0.436_24),
    (75.0, 1.075, 0.477_13),
    (100.0, 0.985, 0.5453),
    (115.0, 0.805, 0.565_74),
    (130.0, 0.372, 0.475),
    (150.0, 0.1, 0.352),
    (170.0, 0.02, 0.29),
    (180.0, 0.0, 0.262),
];

impl SailTable {
    const fn rows(self) -> Rows {
        match self {
            SailTable::Main => MAIN,
            SailTable::Jib => JIB,
            SailTable::Symmetric => SYMMETRIC,
            SailTable::Asymmetric => ASYMMETRIC,
        }
    }

    /// Where the table stands.
    #[must_use]
    pub const fn citation(self) -> Citation {
        match self {
            SailTable::Main => ORC_VPP_2023.at("table 5.1, low set"),
            SailTable::Jib => ORC_VPP_2023.at("table 5.4, low set"),
            SailTable::Symmetric => ORC_VPP_2023.at("table 5.6"),
            SailTable::Asymmetric => ORC_VPP_2023.at("table 5.7"),
        }
    }
}

/// Lift and drag of a sail at an apparent wind angle.
///
/// # Errors
/// When the angle lies outside the table's rows.
///
/// # Example
/// ```
/// use rig::coefficients::{SailTable, at};
/// use units::Angle;
/// let jib = at(SailTable::Jib, Angle::of_degrees(27.0))?;
/// assert_eq!((jib.lift, jib.drag), (1.45, 0.037));
/// # Ok::<(), rig::coefficients::OutsideRows>(())
/// ```
pub fn at(table: SailTable, apparent: Angle) -> Result<Coefficients, OutsideRows> {
    let degrees = apparent.abs().to_degrees();
    let rows = table.rows();
    for pair in rows.windows(2) {
        if let [(low, lift_low, drag_low), (high, lift_high, drag_high)] = *pair
            && (low..=high).contains(&degrees)
        {
            let share = (degrees - low) / (high - low);
            let between = |a: f64, b: f64| a + share * (b - a);
            return Ok(Coefficients { lift: between(lift_low, lift_high), drag: between(drag_low, drag_high) });
        }
    }
    let lowest = Angle::of_degrees(rows.first().map_or(0.0, |row| row.0));
    Err(OutsideRows { given: apparent, lowest })
}

impl Coefficients {
    /// The whole force, without its direction.
    #[must_use]
    pub fn size(self) -> f64 {
        self.lift.hypot(self.drag)
    }

    /// The part that heels: across the boat.
    #[must_use]
    pub fn side(self, apparent: Angle) -> f64 {
        self.lift * apparent.cos() + self.drag * apparent.sin()
    }

    /// The part that drives: ahead.
    #[must_use]
    pub fn drive(self, apparent: Angle) -> f64 {
        self.lift * apparent.sin() - self.drag * apparent.cos()
    }
}
