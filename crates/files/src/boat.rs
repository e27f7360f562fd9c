//! Boat, sails, use and loft as an order file states them.

use crate::amounts::{kg, m, mm, n};
use crate::line::StandingRecord;
use crate::record::record;
use crate::value::{Notes, Share};
use crate::word::words;
use units::{Angle, Area, Force, Length, Mass, Moment, Speed};

words! {
    /// Number of hulls.
    Hull, "hull" {
        "monohull" => Monohull, "one hull";
        "multihull" => Multihull, "two hulls or three";
    }

    /// The rig.
    RigKind, "rig" {
        "masthead-sloop" => MastheadSloop, "one mast, forestay to the masthead";
        "fractional-sloop" => FractionalSloop, "one mast, forestay below the masthead";
        "cutter" => Cutter, "one mast, two headsails";
        "ketch" => Ketch, "mizzen before the rudder";
        "yawl" => Yawl, "mizzen abaft the rudder";
        "gaff" => Gaff, "mainsail set on a gaff";
        "cat" => Cat, "mainsail alone, mast in the bow";
        "unstayed" => Unstayed, "mast without stays";
    }

    /// What the boat is used for; the design factor follows from it.
    UseKind, "use" {
        "coastal-cruising" => CoastalCruising, "day and week cruises";
        "club-racing" => ClubRacing, "racing round buoys and along the coast";
        "offshore" => Offshore, "passages and races out of reach of harbour";
        "charter" => Charter, "sailed hard by people who do not know her";
    }

    /// Rules that running rigging must meet besides.
    RiggingRules, "rules" {
        "inland-traditional" => InlandTraditional, "the European rules for traditional passenger sailing vessels on inland waters";
    }

    /// Build of a spinnaker.
    SpinnakerKind, "spinnaker" {
        "symmetric" => Symmetric, "set on a pole, both clews alike";
        "asymmetric" => Asymmetric, "tacked to the bow or a bowsprit";
    }

    /// Units that answers are printed in; entered may be either.
    PrintUnits, "system of units" {
        "metric" => Metric, "millimetres, metres, kilonewtons, grams";
        "us" => Us, "feet and inches, pounds-force, pounds";
    }
}

record! {
    /// Who ordered, and when.
    OrderRecord {
        /// The loft's number of the order
        required number: String;
        /// Who ordered
        optional customer: String;
        /// Day of the order
        required date: crate::value::Date;
        /// Day by which it is wanted
        optional due: crate::value::Date;
        /// Units that answers are printed in, metric if left out
        optional units: PrintUnits;
        /// Remarks
        optional notes: Notes;
    }

    /// The boat. Dimensions that are left out are estimated where they are needed, and the answer says so.
    BoatRecord {
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
        optional displacement: Mass where kg(20.0)..=Mass::of_t(500.0);
        /// Freeboard at the mast
        optional freeboard: Length where m(0.05)..=m(6.0);
        /// Righting moment that the rig is asked to bear: at 30 degrees of heel, of more than one hull when the windward hull flies
        optional righting_moment: Moment where Moment::of_n_m(50.0)..=Moment::of_kn_m(50_000.0);
        /// An inclining, where the righting moment is not known
        optional inclining: IncliningRecord;
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
        /// Luff of the mizzen
        optional p_mizzen as "P_mizzen": Length where m(0.5)..=m(60.0);
        /// Foot of the mizzen
        optional e_mizzen as "E_mizzen": Length where m(0.2)..=m(30.0);
        /// Height of the inner foretriangle
        optional i_staysail as "I_staysail": Length where m(0.5)..=m(80.0);
        /// Base of the inner foretriangle
        optional j_staysail as "J_staysail": Length where m(0.2)..=m(30.0);
        /// Length of the gaff
        optional gaff: Length where m(0.2)..=m(30.0);
        /// The gaff off upright
        optional gaff_angle: Angle where Angle::of_degrees(0.0)..=Angle::of_degrees(80.0);
    }

    /// An inclining: a weight moved across the deck.
    IncliningRecord {
        /// The weight
        required weight: Mass where kg(1.0)..=kg(5000.0);
        /// How far it was moved across
        required moved: Length where m(0.1)..=m(20.0);
        /// How far she heeled
        required heel: Angle where Angle::of_degrees(0.5)..=Angle::of_degrees(10.0);
    }

    /// The mainsail.
    MainRecord {
        /// Area
        optional area: Area where Area::of_m2(1.0)..=Area::of_m2(1500.0);
        /// Area over that of the triangle of luff and foot
        optional roach: f64 where 0.8..=1.6;
        /// Mass of the sail with battens
        optional mass: Mass where kg(0.5)..=kg(1500.0);
        /// Luff tension wanted
        optional luff_tension: Force where n(10.0)..=n(200_000.0);
        /// Sag of the leech over its length
        optional leech_sag: Share where 0.005..=0.3;
        /// Number of reefs
        optional reefs: u32 where 0..=6;
        /// Height of each reef above the tack
        many reef_heights: Length where m(0.1)..=m(60.0);
    }

    /// The jib.
    JibRecord {
        /// Area
        optional area: Area where Area::of_m2(0.5)..=Area::of_m2(1500.0);
        /// Luff perpendicular over J
        optional overlap: f64 where 0.3..=2.2;
        /// Mass of the sail
        optional mass: Mass where kg(0.3)..=kg(1500.0);
        /// Luff tension wanted
        optional luff_tension: Force where n(10.0)..=n(200_000.0);
        /// Depth over chord
        optional camber: Share where 0.01..=0.3;
    }

    /// The spinnaker.
    SpinnakerRecord {
        /// Build
        required kind: SpinnakerKind;
        /// Area
        optional area: Area where Area::of_m2(1.0)..=Area::of_m2(3000.0);
        /// Mass of the sail
        optional mass: Mass where kg(0.2)..=kg(500.0);
        /// Depth over chord
        optional camber: Share where 0.01..=0.5;
    }

    /// The sails.
    SailsRecord {
        /// The mainsail
        optional main: MainRecord;
        /// The jib or genoa
        optional jib: JibRecord;
        /// The spinnaker
        optional spinnaker: SpinnakerRecord;
        /// The sail on the inner forestay
        optional staysail: JibRecord;
        /// The mizzen
        optional mizzen: MainRecord;
        /// Lift and drag: "orc-2023", "hazen-1980", or a table (CSV) beside the order with columns sail, apparent, lift, drag
        optional coefficients: String;
    }

    /// Inputs that nobody published. Each has a usual value and a range; what is given here replaces them.
    AssumedRecord {
        /// Sag of the mainsail's leech over its length
        optional main_leech_sag: Share where 0.03..=0.3;
        /// Sag of the headsail's leech over its length
        optional jib_leech_sag: Share where 0.03..=0.3;
        /// Luff tension over leech tension, set by the crew
        optional luff_of_leech: f64 where 0.2..=2.0;
        /// Depth of the mainsail over its chord, 8 to 14 % upwind
        optional main_camber: Share where 0.04..=0.28;
        /// Depth of the headsail over its chord, 8 to 14 % upwind
        optional jib_camber: Share where 0.04..=0.28;
        /// Share of the sail's chordwise pull that its foot takes
        optional foot_share: Share where 0.05..=0.8;
        /// Sag of the forestay over its length, 1 %
        optional forestay_sag: Share where 0.0025..=0.04;
        /// Mainsheet off upright when the car is pulled
        optional traveller_angle: Angle where Angle::of_degrees(5.0)..=Angle::of_degrees(70.0);
        /// Vang on the boom over E, from the gooseneck
        optional vang_along: Share where 0.125..=0.8;
        /// Vang on the mast below the gooseneck over the boom's height
        optional vang_down: Share where 0.3..=1.9;
        /// Sheet kept on while furling over the sheet's full load
        optional furl_share: Share where 0.025..=0.6;
        /// Mean radius of the furled roll over the drum's
        optional roll_over_drum: f64 where 0.25..=2.0;
        /// Friction of a furler over what the sail makes
        optional furl_friction: Share where 0.025..=1.0;
        /// Spinnaker halyard off the mast
        optional halyard_lean: Angle where Angle::of_degrees(10.0)..=Angle::of_degrees(89.0);
        /// Pull of the spinnaker's tack off upright
        optional tack_lean: Angle where Angle::of_degrees(7.5)..=Angle::of_degrees(89.0);
        /// Fall of the spinnaker sheet from clew to quarter
        optional sheet_fall: Angle where Angle::of_degrees(5.0)..=Angle::of_degrees(80.0);
        /// Pull of the tack off the pole
        optional pole_pull: Angle where Angle::of_degrees(15.0)..=Angle::of_degrees(89.0);
        /// Guy off the pole, pole well forward
        optional guy_angle: Angle where Angle::of_degrees(10.0)..=Angle::of_degrees(80.0);
        /// Rise of the tack's pull that the foreguy holds down
        optional foreguy_rise: Angle where Angle::of_degrees(12.5)..=Angle::of_degrees(89.0);
        /// Runner's foot abaft the mast over LOA
        optional runner_base: Share where 0.125..=0.8;
        /// Checkstay's share of the runner's pull
        optional checkstay_share: Share where 0.1..=1.0;
        /// Turn of the sheet at the headsail car
        optional car_deflection: Angle where Angle::of_degrees(20.0)..=Angle::of_degrees(89.0);
        /// Peak halyard's place along the gaff from the jaws
        optional peak_bridle: Share where 0.275..=1.8;
        /// Peak halyard off the gaff
        optional peak_angle: Angle where Angle::of_degrees(17.5)..=Angle::of_degrees(89.0);
        /// Boat speed over the usual share of hull speed
        optional boat_speed: f64 where 0.425..=2.3;
        /// Boom, kg per metre of E
        optional boom_mass: f64 where 1.25..=12.0;
        /// Spinnaker pole, kg per metre of J
        optional pole_mass: f64 where 0.6..=6.0;
        /// Mainsail with battens, kg per square metre
        optional cloth_mass: f64 where 0.15..=1.2;
    }

    /// How the boat is used and who sails her.
    UseRecord {
        /// What for
        required kind: UseKind;
        /// True wind in which full sail is still carried on the wind
        optional wind_upwind: Speed where Speed::of_knots(4.0)..=Speed::of_knots(60.0);
        /// True wind in which full sail is still carried off the wind
        optional wind_downwind: Speed where Speed::of_knots(4.0)..=Speed::of_knots(70.0);
        /// People on board who haul
        optional crew: u32 where 1..=60;
        /// Pull of one person on a line by hand
        optional hand_pull: Force where n(20.0)..=n(1500.0);
        /// Pull of one person on a winch handle
        optional winch_pull: Force where n(20.0)..=n(1500.0);
        /// How lines stand under load, for creep
        optional standing: StandingRecord;
        /// Rules that her running rigging must also meet
        optional rules: RiggingRules;
    }

    /// What the loft sets for all its work.
    LoftRecord {
        /// Bury of a long-bury eye in rope diameters
        optional bury_diameters: f64 where 10.0..=200.0;
        /// Breaking strength over peak load
        optional design_factor: f64 where 1.0..=20.0;
        /// Rope lost with each cut
        optional loss_per_cut: Length where mm(0.0)..=mm(500.0);
        /// Shortest remnant that is kept
        optional smallest_remnant: Length where m(0.0)..=m(100.0);
        /// Rope cut off a reel's free end before its first piece
        optional loss_per_end: Length where mm(0.0)..=m(5.0);
        /// Most remnants of one rope that are to lie in the rack
        optional most_remnants: u32 where 0..=100_000;
        /// Allowed difference of a finished length
        optional cut_tolerance: Length where mm(0.0)..=mm(500.0);
        /// Pull under which lengths are measured
        optional reference_tension: Force where n(0.0)..=n(50_000.0);
    }
}
