//! Lift and drag of sails: sets pinned by their edition, never mixed.
//!
//! Built in: ORC VPP Documentation 2023, tables 5.1 (mainsail, low), 5.4 (jib,
//! low), 5.6 (symmetric spinnaker) and 5.7 (asymmetric on the centreline), and
//! Hazen 1980 as tabulated in Larsson & Eliasson, both read in independent
//! transcriptions, and only what is used. A loft that holds another edition
//! gives the whole of it as a table: a set is taken whole or not at all.
//! Best-trim steady maxima at full power, for the cloth area and the apparent
//! wind in the plane normal to the mast; straight lines between rows; drag
//! without the part that lift induces. An over-trimmed or flogging sail can
//! exceed them.

use sources::{Citation, GIVEN, HAZEN_1980, ORC_VPP_2023};
use std::borrow::Cow;
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

/// Apparent wind angle in degrees, lift, drag.
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

const HAZEN_MAIN: Rows =
    &[(27.0, 1.5, 0.02), (50.0, 1.5, 0.15), (80.0, 0.95, 0.8), (100.0, 0.85, 1.0), (180.0, 0.0, 0.9)];

const HAZEN_JIB: Rows =
    &[(27.0, 1.5, 0.02), (50.0, 0.5, 0.25), (80.0, 0.3, 0.15), (100.0, 0.0, 0.0), (180.0, 0.0, 0.0)];

const HAZEN_SPINNAKER: Rows =
    &[(27.0, 0.0, 0.0), (50.0, 1.5, 0.25), (80.0, 1.0, 0.9), (100.0, 0.85, 1.2), (180.0, 0.0, 0.66)];

impl SailTable {
    /// Every table of a set.
    pub const ALL: [SailTable; 4] = [SailTable::Main, SailTable::Jib, SailTable::Symmetric, SailTable::Asymmetric];

    /// The word in a table file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            SailTable::Main => "main",
            SailTable::Jib => "jib",
            SailTable::Symmetric => "symmetric",
            SailTable::Asymmetric => "asymmetric",
        }
    }

    const fn index(self) -> usize {
        match self {
            SailTable::Main => 0,
            SailTable::Jib => 1,
            SailTable::Symmetric => 2,
            SailTable::Asymmetric => 3,
        }
    }
}

/// One row of a set that somebody gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GivenRow {
    /// Which sail.
    pub sail: SailTable,
    /// Apparent wind angle.
    pub apparent: Angle,
    /// Lift coefficient.
    pub lift: f64,
    /// Drag coefficient, without what the lift induces.
    pub drag: f64,
}

/// Why rows are no set.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SetError {
    /// A sail with fewer than two rows.
    #[error("the {sail} has {given} rows: two or more are wanted, up to 180°")]
    Few {
        /// The sail.
        sail: &'static str,
        /// Rows given.
        given: usize,
    },
    /// Angles that do not rise, or end before 180 degrees.
    #[error("the {sail}'s rows must rise from row to row and end at 180°: {given} does not")]
    Order {
        /// The sail.
        sail: &'static str,
        /// The angle at fault.
        given: Angle,
    },
    /// A coefficient that no sail has.
    #[error("the {sail} at {apparent} has a {what} of {given}: {allowed}")]
    Coefficient {
        /// The sail.
        sail: &'static str,
        /// The row.
        apparent: Angle,
        /// Lift or drag.
        what: &'static str,
        /// What was given.
        given: f64,
        /// What is allowed.
        allowed: &'static str,
    },
}

/// The coefficients of every sail, of one edition.
#[derive(Debug, Clone, PartialEq)]
pub struct CoefficientSet {
    /// Whose, and which edition.
    pub edition: String,
    rows: [Cow<'static, [(f64, f64, f64)]>; 4],
    citations: [Citation; 4],
}

impl CoefficientSet {
    /// ORC VPP Documentation 2023.
    #[must_use]
    pub fn orc_2023() -> CoefficientSet {
        CoefficientSet {
            edition: "ORC VPP Documentation 2023".to_owned(),
            rows: [MAIN, JIB, SYMMETRIC, ASYMMETRIC].map(Cow::Borrowed),
            citations: [
                ORC_VPP_2023.at("table 5.1, low set"),
                ORC_VPP_2023.at("table 5.4, low set"),
                ORC_VPP_2023.at("table 5.6"),
                ORC_VPP_2023.at("table 5.7"),
            ],
        }
    }

    /// Hazen 1980. It begins at 27 degrees of apparent wind and has one
    /// spinnaker.
    #[must_use]
    pub fn hazen_1980() -> CoefficientSet {
        CoefficientSet {
            edition: "Hazen 1980".to_owned(),
            rows: [HAZEN_MAIN, HAZEN_JIB, HAZEN_SPINNAKER, HAZEN_SPINNAKER].map(Cow::Borrowed),
            citations: [HAZEN_1980.at("table of coefficients"); 4],
        }
    }

    /// A whole set from rows that the user gives.
    ///
    /// # Errors
    /// When a sail has too few rows, its angles do not rise to 180 degrees, or
    /// a coefficient lies outside what sails have.
    pub fn of_rows(edition: &str, given: &[GivenRow]) -> Result<CoefficientSet, SetError> {
        let mut rows: [Vec<(f64, f64, f64)>; 4] = Default::default();
        for row in given {
            let (sail, apparent) = (row.sail.word(), row.apparent);
            let wrong = |what, given, allowed| SetError::Coefficient { sail, apparent, what, given, allowed };
            if !(-0.5..=3.0).contains(&row.lift) {
                return Err(wrong("lift", row.lift, "-0.5 to 3"));
            }
            if !(0.0..=2.0).contains(&row.drag) {
                return Err(wrong("drag", row.drag, "0 to 2"));
            }
            let own = &mut rows[row.sail.index()];
            let degrees = apparent.to_degrees();
            if own.last().map_or(degrees < 0.0, |last| degrees <= last.0) {
                return Err(SetError::Order { sail, given: apparent });
            }
            own.push((degrees, row.lift, row.drag));
        }
        for table in SailTable::ALL {
            let own = &rows[table.index()];
            let last = own.last().filter(|_| own.len() >= 2);
            let last = last.ok_or(SetError::Few { sail: table.word(), given: own.len() })?;
            if (last.0 - 180.0).abs() > 1e-9 {
                return Err(SetError::Order { sail: table.word(), given: Angle::of_degrees(last.0) });
            }
        }
        Ok(CoefficientSet {
            edition: edition.to_owned(),
            rows: rows.map(Cow::Owned),
            citations: [GIVEN.at("coefficient table"); 4],
        })
    }

    /// Where a sail's table stands.
    #[must_use]
    pub fn citation(&self, table: SailTable) -> Citation {
        self.citations[table.index()]
    }

    /// Lift and drag of a sail at an apparent wind angle.
    ///
    /// # Errors
    /// When the angle lies outside the table's rows.
    pub fn at(&self, table: SailTable, apparent: Angle) -> Result<Coefficients, OutsideRows> {
        let degrees = apparent.abs().to_degrees();
        let rows = &self.rows[table.index()];
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
}

/// Lift and drag of a sail at an apparent wind angle, of ORC 2023.
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
    CoefficientSet::orc_2023().at(table, apparent)
}

impl Coefficients {
    /// The whole force, without its direction.
    #[must_use]
    pub fn size(self) -> f64 {
        self.lift.hypot(self.drag)
    }

    /// The same with its lift flattened to a share.
    #[must_use]
    pub fn flattened(self, flat: f64) -> Coefficients {
        Coefficients { lift: self.lift * flat, drag: self.drag }
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
