//! The file's words to the core's types, one exhaustive match each.

use crate::problem::Problem;
use files::Placed;
use rig::{Bearing, Lead, LineKind, Point, TurnAt, tackle::SheaveBearing};
use splice::{EndKind, Fitting};
use units::Length;

pub(crate) fn boat(record: &files::BoatRecord) -> rig::Boat {
    let value = |placed: &Option<Placed<Length>>| placed.as_ref().map(|placed| placed.value);
    rig::Boat {
        hull: hull(record.hull.value),
        rig: rig_type(record.rig.value),
        loa: record.loa.value,
        lwl: value(&record.lwl),
        beam: value(&record.beam),
        draught: value(&record.draught),
        displacement: record.displacement.as_ref().map(|placed| placed.value),
        freeboard: value(&record.freeboard),
        righting_moment: record.righting_moment.as_ref().map(|placed| placed.value),
        inclining: record.inclining.as_ref().map(|placed| rig::Inclining {
            weight: placed.value.weight.value,
            moved: placed.value.moved.value,
            heel: placed.value.heel.value,
        }),
        i: value(&record.i),
        j: value(&record.j),
        p: value(&record.p),
        e: value(&record.e),
        isp: value(&record.isp),
        bas: value(&record.bas),
        p_mizzen: value(&record.p_mizzen),
        e_mizzen: value(&record.e_mizzen),
        i_staysail: value(&record.i_staysail),
        j_staysail: value(&record.j_staysail),
        gaff: value(&record.gaff),
        gaff_angle: record.gaff_angle.as_ref().map(|placed| placed.value),
    }
}

pub(crate) fn hull(hull: files::Hull) -> rig::Hull {
    match hull {
        files::Hull::Monohull => rig::Hull::Monohull,
        files::Hull::Multihull => rig::Hull::Multihull,
    }
}

pub(crate) fn rig_type(rig: files::RigKind) -> rig::RigType {
    match rig {
        files::RigKind::MastheadSloop => rig::RigType::MastheadSloop,
        files::RigKind::FractionalSloop => rig::RigType::FractionalSloop,
        files::RigKind::Cutter => rig::RigType::Cutter,
        files::RigKind::Ketch => rig::RigType::Ketch,
        files::RigKind::Yawl => rig::RigType::Yawl,
        files::RigKind::Gaff => rig::RigType::Gaff,
        files::RigKind::Cat => rig::RigType::Cat,
        files::RigKind::Unstayed => rig::RigType::Unstayed,
    }
}

pub(crate) fn sails(record: Option<&files::SailsRecord>) -> rig::Sails {
    let Some(record) = record else { return rig::Sails::default() };
    rig::Sails {
        main: record.main.as_ref().map(|main| mainsail(&main.value)),
        mizzen: record.mizzen.as_ref().map(|mizzen| mainsail(&mizzen.value)),
        jib: record.jib.as_ref().map(|jib| headsail(&jib.value)),
        staysail: record.staysail.as_ref().map(|staysail| headsail(&staysail.value)),
        spinnaker: record.spinnaker.as_ref().map(|spinnaker| rig::Spinnaker {
            kind: match spinnaker.value.kind.value {
                files::SpinnakerKind::Symmetric => rig::SpinnakerKind::Symmetric,
                files::SpinnakerKind::Asymmetric => rig::SpinnakerKind::Asymmetric,
            },
            area: spinnaker.value.area.as_ref().map(|placed| placed.value),
            mass: spinnaker.value.mass.as_ref().map(|placed| placed.value),
        }),
    }
}

fn mainsail(main: &files::MainRecord) -> rig::Mainsail {
    let mut reef_heights = [None; rig::MOST_REEFS];
    for (height, given) in reef_heights.iter_mut().zip(&main.reef_heights) {
        *height = Some(given.value);
    }
    rig::Mainsail {
        area: main.area.as_ref().map(|placed| placed.value),
        roach: main.roach.as_ref().map(|placed| placed.value),
        mass: main.mass.as_ref().map(|placed| placed.value),
        luff_tension: main.luff_tension.as_ref().map(|placed| placed.value),
        leech_sag: main.leech_sag.as_ref().map(|placed| placed.value.fraction),
        reefs: main.reefs.as_ref().map(|placed| placed.value),
        reef_heights,
    }
}

fn headsail(jib: &files::JibRecord) -> rig::Headsail {
    rig::Headsail {
        area: jib.area.as_ref().map(|placed| placed.value),
        overlap: jib.overlap.as_ref().map(|placed| placed.value),
        mass: jib.mass.as_ref().map(|placed| placed.value),
        luff_tension: jib.luff_tension.as_ref().map(|placed| placed.value),
        camber: jib.camber.as_ref().map(|placed| placed.value.fraction),
    }
}

/// What the order gives for an input, and where.
pub(crate) fn assumed(record: &files::AssumedRecord, input: rig::Input) -> Option<(f64, files::Place)> {
    use rig::Input as I;
    let share = |placed: &Option<Placed<files::Share>>| placed.as_ref().map(|p| (p.value.fraction, p.place));
    let angle = |placed: &Option<Placed<units::Angle>>| placed.as_ref().map(|p| (p.value.to_degrees(), p.place));
    let number = |placed: &Option<Placed<f64>>| placed.as_ref().map(|p| (p.value, p.place));
    match input {
        I::MainLeechSag => share(&record.main_leech_sag),
        I::JibLeechSag => share(&record.jib_leech_sag),
        I::LuffOfLeech => number(&record.luff_of_leech),
        I::MainCamber => share(&record.main_camber),
        I::JibCamber => share(&record.jib_camber),
        I::FootShare => share(&record.foot_share),
        I::ForestaySag => share(&record.forestay_sag),
        I::TravellerAngle => angle(&record.traveller_angle),
        I::VangAlong => share(&record.vang_along),
        I::VangDown => share(&record.vang_down),
        I::FurlShare => share(&record.furl_share),
        I::RollOverDrum => number(&record.roll_over_drum),
        I::FurlFriction => share(&record.furl_friction),
        I::HalyardLean => angle(&record.halyard_lean),
        I::TackLean => angle(&record.tack_lean),
        I::SheetFall => angle(&record.sheet_fall),
        I::PolePull => angle(&record.pole_pull),
        I::GuyAngle => angle(&record.guy_angle),
        I::ForeguyRise => angle(&record.foreguy_rise),
        I::RunnerBase => share(&record.runner_base),
        I::CheckstayShare => share(&record.checkstay_share),
        I::CarDeflection => angle(&record.car_deflection),
        I::PeakBridle => share(&record.peak_bridle),
        I::PeakAngle => angle(&record.peak_angle),
        I::BoatSpeed => number(&record.boat_speed),
        I::BoomMass => number(&record.boom_mass),
        I::PoleMass => number(&record.pole_mass),
        I::ClothMass => number(&record.cloth_mass),
    }
}

pub(crate) fn mast(name: files::MastName) -> rig::Mast {
    match name {
        files::MastName::Main => rig::Mast::Main,
        files::MastName::Mizzen => rig::Mast::Mizzen,
    }
}

pub(crate) fn conditions(record: &files::UseRecord) -> rig::Conditions {
    rig::Conditions {
        wind_upwind: record.wind_upwind.as_ref().map(|placed| placed.value),
        wind_downwind: record.wind_downwind.as_ref().map(|placed| placed.value),
        hand_pull: record.hand_pull.as_ref().map(|placed| placed.value),
    }
}

pub(crate) fn used_for(kind: files::UseKind) -> cordage::Use {
    match kind {
        files::UseKind::CoastalCruising => cordage::Use::CoastalCruising,
        files::UseKind::ClubRacing => cordage::Use::ClubRacing,
        files::UseKind::Offshore => cordage::Use::Offshore,
        files::UseKind::Charter => cordage::Use::Charter,
    }
}

pub(crate) fn duty(duty: files::Duty) -> makeup::Duty {
    match duty {
        files::Duty::Running => makeup::Duty::Running,
        files::Duty::HoldsPerson => makeup::Duty::HoldsPerson,
        files::Duty::StandingRigging => makeup::Duty::StandingRigging,
    }
}

/// The same word in both rooms; a test holds the two lists together.
pub(crate) fn line_kind(kind: files::LineKind) -> Result<LineKind, Problem> {
    LineKind::from_word(kind.word()).ok_or_else(|| unknown_word("kind of line", kind.word()))
}

/// The same word in both rooms; a test holds the two lists together.
pub(crate) fn end_kind(kind: files::EndKind) -> Result<EndKind, Problem> {
    EndKind::from_word(kind.word()).ok_or_else(|| unknown_word("kind of end", kind.word()))
}

fn unknown_word(what: &str, word: &str) -> Problem {
    Problem::refused("unknown-word", format!("{word:?} is no {what} that can be worked out"))
}

pub(crate) fn fitting(on: files::EyeOn) -> Option<splice::Bearing> {
    let what = match on.what {
        files::EyeHardware::Pin => Fitting::Pin,
        files::EyeHardware::Thimble => Fitting::Thimble,
        files::EyeHardware::Ring => Fitting::Ring,
        files::EyeHardware::Shackle => Fitting::Shackle,
        files::EyeHardware::None => return None,
    };
    on.size.map(|diameter| splice::Bearing { what, diameter })
}

pub(crate) fn bury(wish: files::BuryWish) -> splice::BuryWish {
    match wish {
        files::BuryWish::Length(length) => splice::BuryWish::Length(length),
        files::BuryWish::Diameters(diameters) => splice::BuryWish::Diameters(diameters),
    }
}

fn point(point: files::Point) -> Point {
    Point { aft: point.x, starboard: point.y, up: point.z }
}

/// The lead of a line, where the order gives one.
pub(crate) fn lead(record: &files::LineRecord) -> Option<Lead> {
    let working = &record.working.as_ref()?.value;
    if record.lead.is_empty() {
        return None;
    }
    let turns = record.lead.iter().map(|turn| {
        let turn = &turn.value;
        TurnAt {
            name: turn.name.value.clone(),
            at: point(turn.at.value),
            diameter: turn.diameter.as_ref().map_or(Length::ZERO, |placed| placed.value),
            bearing: match turn.on.value {
                files::LeadOn::Sheave => Bearing::Sheave(bearing(turn.bearing.as_ref())),
                files::LeadOn::Fairlead => Bearing::Fairlead,
                files::LeadOn::Clutch | files::LeadOn::Cam => Bearing::Clutch,
                files::LeadOn::Winch => Bearing::Winch,
                files::LeadOn::Padeye => Bearing::Fast,
            },
        }
    });
    Some(Lead {
        hauled: point(working.hauled.value),
        eased: point(working.eased.value),
        parts: record.purchase.value,
        turns: turns.collect(),
    })
}

/// Ball bearings where the order does not say.
pub(crate) fn bearing(given: Option<&Placed<files::Bearing>>) -> SheaveBearing {
    match given.map(|placed| placed.value) {
        Some(files::Bearing::Roller) => SheaveBearing::Roller,
        Some(files::Bearing::Plain) => SheaveBearing::Plain,
        Some(files::Bearing::Ball) | None => SheaveBearing::Ball,
    }
}

/// What a line is for, as far as a certificate is concerned.
pub(crate) fn purpose(duty: files::Duty) -> proving::Purpose {
    match duty {
        files::Duty::Running => proving::Purpose::Running,
        files::Duty::HoldsPerson => proving::Purpose::LiftsPeople,
        files::Duty::StandingRigging => proving::Purpose::StandingRigging,
    }
}
