//! The file's words to the core's types, one exhaustive match each.

use crate::problem::Problem;
use files::Placed;
use rig::{Bearing, Lead, LineKind, Point, TurnAt, tackle::SheaveBearing};
use splice::{EndKind, Fitting};
use units::Length;

pub(crate) fn boat(record: &files::BoatRecord) -> rig::Boat {
    let value = |placed: &Option<Placed<Length>>| placed.as_ref().map(|placed| placed.value);
    rig::Boat {
        hull: match record.hull.value {
            files::Hull::Monohull => rig::Hull::Monohull,
            files::Hull::Multihull => rig::Hull::Multihull,
        },
        rig: match record.rig.value {
            files::RigKind::MastheadSloop => rig::RigType::MastheadSloop,
            files::RigKind::FractionalSloop => rig::RigType::FractionalSloop,
            files::RigKind::Cutter => rig::RigType::Cutter,
            files::RigKind::Ketch => rig::RigType::Ketch,
            files::RigKind::Yawl => rig::RigType::Yawl,
            files::RigKind::Gaff => rig::RigType::Gaff,
            files::RigKind::Cat => rig::RigType::Cat,
            files::RigKind::Unstayed => rig::RigType::Unstayed,
        },
        loa: record.loa.value,
        lwl: value(&record.lwl),
        beam: value(&record.beam),
        draught: value(&record.draught),
        displacement: record.displacement.as_ref().map(|placed| placed.value),
        freeboard: value(&record.freeboard),
        righting_moment: record.righting_moment.as_ref().map(|placed| placed.value),
        i: value(&record.i),
        j: value(&record.j),
        p: value(&record.p),
        e: value(&record.e),
        isp: value(&record.isp),
        bas: value(&record.bas),
    }
}

pub(crate) fn sails(record: Option<&files::SailsRecord>) -> rig::Sails {
    let Some(record) = record else { return rig::Sails::default() };
    rig::Sails {
        main: record.main.as_ref().map(|main| rig::Mainsail {
            area: main.value.area.as_ref().map(|placed| placed.value),
            roach: main.value.roach.as_ref().map(|placed| placed.value),
            mass: main.value.mass.as_ref().map(|placed| placed.value),
            luff_tension: main.value.luff_tension.as_ref().map(|placed| placed.value),
            leech_sag: main.value.leech_sag.as_ref().map(|placed| placed.value.fraction),
        }),
        jib: record.jib.as_ref().map(|jib| rig::Headsail {
            area: jib.value.area.as_ref().map(|placed| placed.value),
            overlap: jib.value.overlap.as_ref().map(|placed| placed.value),
            mass: jib.value.mass.as_ref().map(|placed| placed.value),
            luff_tension: jib.value.luff_tension.as_ref().map(|placed| placed.value),
            camber: jib.value.camber.as_ref().map(|placed| placed.value.fraction),
        }),
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
