//! Many boats in one table, one a row: a start from length, with whatever
//! else is known.

use crate::amounts::{knots, m, m2};
use crate::boat::{Hull, RigKind, SpinnakerKind};
use crate::cells;
use crate::place::Placed;
use crate::problem::Read;
use crate::record::record;
use crate::shape::Description;
use units::{Area, Length, Mass, Moment, Speed};

record! {
    /// One boat of many. What is left out is assumed from her length and rig.
    FleetRecord {
        /// Name or sail number
        required name: String;
        /// Number of hulls
        required hull: Hull;
        /// The rig
        required rig: RigKind;
        /// Length over all
        required loa: Length where m(1.5)..=m(60.0);
        /// Length of the waterline
        optional lwl: Length where m(1.0)..=m(60.0);
        /// Greatest beam
        optional beam: Length where m(0.4)..=m(30.0);
        /// Draught, keel down
        optional draught: Length where m(0.05)..=m(10.0);
        /// Displacement in sailing trim
        optional displacement: Mass where Mass::of_kg(20.0)..=Mass::of_t(500.0);
        /// Freeboard at the mast
        optional freeboard: Length where m(0.05)..=m(6.0);
        /// Righting moment that the rig is asked to bear
        optional righting_moment: Moment where Moment::of_n_m(50.0)..=Moment::of_kn_m(50_000.0);
        /// Height of the foretriangle
        optional i as "I": Length where m(0.5)..=m(80.0);
        /// Base of the foretriangle
        optional j as "J": Length where m(0.2)..=m(30.0);
        /// Luff of the mainsail
        optional p as "P": Length where m(0.5)..=m(80.0);
        /// Foot of the mainsail
        optional e as "E": Length where m(0.2)..=m(30.0);
        /// Height of the spinnaker halyard above deck
        optional isp as "ISP": Length where m(0.5)..=m(80.0);
        /// Boom above the deck
        optional bas as "BAS": Length where m(0.0)..=m(8.0);
        /// Area of the mainsail
        optional main_area: Area where m2(1.0)..=m2(1500.0);
        /// Area of the jib
        optional jib_area: Area where m2(0.5)..=m2(1500.0);
        /// Build of the spinnaker; none is set where this is left out
        optional spinnaker: SpinnakerKind;
        /// Area of the spinnaker
        optional spinnaker_area: Area where m2(1.0)..=m2(3000.0);
        /// True wind in which full sail is still carried on the wind
        optional wind_upwind: Speed where knots(4.0)..=knots(60.0);
        /// True wind in which full sail is still carried off the wind
        optional wind_downwind: Speed where knots(4.0)..=knots(70.0);
    }
}

/// Reads some rows of a table of boats, the line of column names first.
#[must_use]
pub fn read_fleet(bytes: &[u8]) -> Read<Vec<Placed<FleetRecord>>> {
    cells::read(bytes, |_: &[Placed<FleetRecord>], _| {})
}

/// The columns of a table of boats.
#[must_use]
pub fn fleet_description() -> Description {
    cells::description::<FleetRecord>()
}
