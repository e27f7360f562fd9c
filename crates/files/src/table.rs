//! Tables of sail coefficients that a loft gives.

use crate::cells;
use crate::place::Placed;
use crate::problem::Read;
use crate::record::record;
use crate::shape::Description;
use crate::word::words;
use units::Angle;

words! {
    /// Whose lift and drag a row gives.
    CoefficientSail, "sail" {
        "main" => Main, "mainsail or mizzen";
        "jib" => Jib, "jib, genoa or staysail";
        "symmetric" => Symmetric, "symmetric spinnaker";
        "asymmetric" => Asymmetric, "asymmetric spinnaker";
    }
}

record! {
    /// One row of a coefficient table: a sail at an apparent wind angle.
    CoefficientRecord {
        /// Whose
        required sail: CoefficientSail;
        /// Apparent wind angle, rising from row to row of a sail, up to 180 deg
        required apparent: Angle where Angle::of_degrees(0.0)..=Angle::of_degrees(180.0);
        /// Lift coefficient for the cloth area
        required lift: f64 where -0.5..=3.0;
        /// Drag coefficient for the cloth area, without what the lift induces
        required drag: f64 where 0.0..=2.0;
    }
}

/// Reads a coefficient table.
#[must_use]
pub fn read_coefficients(bytes: &[u8]) -> Read<Vec<Placed<CoefficientRecord>>> {
    cells::read(bytes, |_: &[Placed<CoefficientRecord>], _| {})
}

/// The columns of a coefficient table.
#[must_use]
pub fn coefficients_description() -> Description {
    cells::description::<CoefficientRecord>()
}
