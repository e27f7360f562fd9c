//! Where ends and stripped runs lie on the lead over the whole travel.
//!
//! A place along the rope passes a turn when it lies between the rope that is
//! at that turn hauled in and the rope that is there eased out. No bury should
//! stand on a loaded sheave, none go into jaws or on a drum, and no stripped
//! run into jaws, on a drum or into the hand.

use rig::{Bearing, Run, Turn};
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

/// What zones do on a lead, eased and hauled.
#[must_use]
pub fn zones_on_lead(zones: &[Zone], eased: &Run, hauled: &Run) -> Vec<Finding> {
    let mut findings = Vec::new();
    for zone in zones {
        for (at_eased, at_hauled) in eased.turns.iter().zip(&hauled.turns) {
            findings.extend(zone_at(zone, at_eased, at_hauled));
        }
    }
    findings
}

fn zone_at(zone: &Zone, eased: &Turn, hauled: &Turn) -> Option<Finding> {
    let arc = |turn: &Turn| turn.begins + turn.diameter * (0.5 * turn.wrap.to_radians());
    let (lowest, highest) = (hauled.begins.min(eased.begins), arc(hauled).max(arc(eased)));
    let standing = zone.to > hauled.begins.min(arc(hauled)) && zone.from < arc(hauled);
    let passes = zone.to > lowest && zone.from < highest;
    let grips = matches!(hauled.bearing, Bearing::Clutch | Bearing::Winch | Bearing::Fast);
    // The last place is where the hand is: rope beyond it has been hauled through.
    if grips && passes {
        return Some(in_jaws(zone, hauled, lowest));
    }
    let bends = matches!(hauled.bearing, Bearing::Sheave(_) | Bearing::Fairlead) && hauled.wrap.to_degrees() > 10.0;
    (bends && standing && !zone.bare).then(|| {
        let text = Sentence::new("{} stands on {} when hauled in").with(zone.name).with(hauled.name.as_str());
        Finding::new(Grade::Caution, "bury-on-sheave", text, PRACTICE).remedy(
            Sentence::new("the throat {} or more from it when hauled in, or a shorter bury that still holds")
                .with(zone.to - zone.from),
        )
    })
}

fn in_jaws(zone: &Zone, turn: &Turn, lowest: Length) -> Finding {
    let what = match turn.bearing {
        Bearing::Winch => "the drum of",
        Bearing::Clutch => "the jaws of",
        _ => "the hand at",
    };
    let text = Sentence::new("{} comes into {} {}").with(zone.name).with(what).with(turn.name.as_str());
    let code = if zone.bare { "bare-in-jaws" } else { "bury-in-jaws" };
    let finding = Finding::new(Grade::Stop, code, text, PRACTICE);
    if lowest > zone.from {
        finding.remedy(Sentence::new("end it {} from the working end or sooner").with(lowest))
    } else {
        finding.remedy(Sentence::new("another end, or a longer lead before it"))
    }
}
