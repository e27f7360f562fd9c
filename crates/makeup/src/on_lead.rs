//! Where ends and stripped runs lie on the lead over the whole travel.
//!
//! The working end is taken from eased to hauled in small steps. A zone of the
//! rope meets a turn at a step when it overlaps the rope that is then on it. No
//! bury should stand on a loaded sheave, none go into jaws or on a drum, and no
//! stripped run into jaws, on a drum or into the hand. Of a purchase, the turns
//! between its blocks are looked at too, one part of rope apart.

use rig::{Bearing, LineKind, Run, Travel};
use sources::{COMMON_PRACTICE, Citation, Finding, Grade};
use units::{Length, Sentence};

/// A stretch of the line that must keep away from some turns.
#[derive(Debug, Clone, PartialEq)]
pub struct Zone {
    /// What it is: `the bury`, `the stripped run`.
    pub name: &'static str,
    /// From the working end's bearing point.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// Is it only bare core, which may run over a sheave?
    pub bare: bool,
}

const PRACTICE: Citation =
    COMMON_PRACTICE.at("no bury on a loaded sheave, none in jaws or on a drum; no bare core in jaws or hand");

/// Bends of less are no bends.
const STRAIGHT_DEGREES: f64 = 10.0;

/// What zones do on a lead of a kind of line, over its whole travel.
#[must_use]
pub fn zones_on_lead(zones: &[Zone], kind: LineKind, travel: &Travel) -> Vec<Finding> {
    let mut findings = Vec::new();
    for zone in zones {
        let count = places(&travel.hauled, travel.parts).len();
        findings.extend((0..count).filter_map(|index| zone_at(zone, kind, travel, index)));
    }
    findings
}

/// A place on the path and the rope that is on it at one step of the travel.
struct Place {
    name: String,
    bearing: Bearing,
    bends: bool,
    begins: Length,
    ends: Length,
}

/// Turns between the blocks of a purchase, then those of the lead.
fn places(run: &Run, parts: u32) -> Vec<Place> {
    let mut places = Vec::new();
    if let Some(first) = run.turns.first() {
        let half_turn = first.diameter * std::f64::consts::FRAC_PI_2;
        places.extend((1..parts).map(|part| {
            let begins = first.begins * (f64::from(part) / f64::from(parts));
            Place {
                name: format!("block {part} of its purchase"),
                bearing: first.bearing,
                bends: true,
                begins,
                ends: begins + half_turn,
            }
        }));
    }
    places.extend(run.turns.iter().map(|turn| Place {
        name: turn.name.clone(),
        bearing: turn.bearing,
        bends: turn.wrap.to_degrees() > STRAIGHT_DEGREES,
        begins: turn.begins,
        ends: turn.begins + turn.diameter * (0.5 * turn.wrap.to_radians()),
    }));
    places
}

fn zone_at(zone: &Zone, kind: LineKind, travel: &Travel, index: usize) -> Option<Finding> {
    let mut met: Option<(Length, Length)> = None;
    let (mut lowest, mut highest) = (None::<Length>, None::<Length>);
    let mut last: Option<Place> = None;
    for passing in &travel.passing {
        let place = places(&passing.run, travel.parts).into_iter().nth(index)?;
        lowest = Some(lowest.map_or(place.begins, |low| low.min(place.begins)));
        highest = Some(highest.map_or(place.ends, |high| high.max(place.ends)));
        let grips = matches!(place.bearing, Bearing::Clutch | Bearing::Winch | Bearing::Fast);
        if zone.to > place.begins && zone.from < place.ends.max(place.begins) && (grips || place.bends) {
            let (low, high) = met.unwrap_or((passing.short, passing.short));
            met = Some((low.min(passing.short), high.max(passing.short)));
        }
        last = Some(place);
    }
    let (place, lowest, highest) = (last?, lowest?, highest?);
    if matches!(place.bearing, Bearing::Clutch | Bearing::Winch | Bearing::Fast) {
        // Between two steps a short zone may slip through jaws: the whole span counts.
        let passes = zone.to > lowest && zone.from < highest;
        return passes.then(|| in_jaws(zone, &place, lowest));
    }
    if zone.bare {
        return None;
    }
    Some(on_sheave(zone, kind, &place, met?, travel))
}

/// `met` is how far short of hauled in the working end is, from least to most.
fn on_sheave(zone: &Zone, kind: LineKind, place: &Place, met: (Length, Length), travel: &Travel) -> Finding {
    let (least, most) = met;
    let all = travel.passing.first().map_or(Length::ZERO, |first| first.short);
    let text = if least == Length::ZERO {
        Sentence::new("{} stands on {} when hauled in").with(zone.name).with(place.name.as_str())
    } else if most == all {
        Sentence::new("{} stands on {} when eased right out").with(zone.name).with(place.name.as_str())
    } else {
        Sentence::new("{} runs over {} while its end is {} to {} short of hauled in")
            .with(zone.name)
            .with(place.name.as_str())
            .with(least.nearest_mm())
            .with(most.nearest_mm())
    };
    // On the way up a halyard carries no more than the sail's weight.
    let grade = if least > Length::ZERO && hoists(kind) { Grade::Note } else { Grade::Caution };
    Finding::new(grade, "bury-on-sheave", text, PRACTICE).remedy(
        Sentence::new("the throat {} or more from it there, or a shorter bury that still holds")
            .with(zone.to - zone.from),
    )
}

const fn hoists(kind: LineKind) -> bool {
    matches!(
        kind,
        LineKind::MainHalyard
            | LineKind::JibHalyard
            | LineKind::StaysailHalyard
            | LineKind::SpinnakerHalyard
            | LineKind::PeakHalyard
            | LineKind::ThroatHalyard
            | LineKind::Messenger
    )
}

fn in_jaws(zone: &Zone, place: &Place, lowest: Length) -> Finding {
    let what = match place.bearing {
        Bearing::Winch => "the drum of",
        Bearing::Clutch => "the jaws of",
        _ => "the hand at",
    };
    let text = Sentence::new("{} comes into {} {}").with(zone.name).with(what).with(place.name.as_str());
    let code = if zone.bare { "bare-in-jaws" } else { "bury-in-jaws" };
    let finding = Finding::new(Grade::Stop, code, text, PRACTICE);
    if lowest > zone.from {
        finding.remedy(Sentence::new("end it {} from the working end or sooner").with(lowest))
    } else {
        finding.remedy(Sentence::new("another end, or a longer lead before it"))
    }
}
