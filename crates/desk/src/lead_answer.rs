//! A line's lead as an answer: every turn with its wrap, bend and block load,
//! the pull at the hand, and the tail left at each end of travel.

use crate::job::JobLine;
use crate::wire::Amount;
use rig::{Bearing, Travel};
use schemars::JsonSchema;
use serde::Serialize;
use units::System;

/// A line's lead.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LeadAnswer {
    /// Path from the working end to the hand, hauled in.
    pub hauled: Amount,
    /// The same, eased right out.
    pub eased: Amount,
    /// Tail beyond the hand, hauled in.
    pub tail_hauled: Amount,
    /// Tail beyond the hand, eased out.
    pub tail_eased: Amount,
    /// Pull at the hand to haul the steady load in.
    pub hand_hauling: Amount,
    /// Pull at the hand while it is eased.
    pub hand_easing: Amount,
    /// Smallest bend over the rope's diameter, and where; null where nothing turns it.
    pub tightest: Option<TightestAnswer>,
    /// Its turns, hauled in, from the working end on.
    pub turns: Vec<TurnAnswer>,
}

/// The tightest bend of a lead.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct TightestAnswer {
    /// Its name.
    pub name: String,
    /// Diameter of the bend over the rope's.
    pub ratio: f64,
}

/// One place on a lead.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct TurnAnswer {
    /// Its name.
    pub name: String,
    /// How far the rope turns there.
    pub wrap: Amount,
    /// Pull on what holds it, while the steady load is hauled.
    pub block_load: Amount,
    /// The same as parts aft, to starboard and up.
    pub block_vector: [Amount; 3],
    /// Share of the tension left behind it.
    pub left: f64,
    /// What rope the place takes and holds; null where the order does not say.
    pub fit: Option<FitAnswer>,
    /// Round turns that hold the load on a drum by a gentle tail; null elsewhere.
    pub drum_turns: Option<u32>,
}

/// Will it fit there?
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FitAnswer {
    /// Thickest that passes; null where not given.
    pub up_to: Option<Amount>,
    /// Thinnest that is held; null where nothing holds it.
    pub from: Option<Amount>,
    /// Width of the groove; null elsewhere.
    pub groove: Option<Amount>,
    /// Thickness of the line there: of rope, or with what is added.
    pub thickness: Amount,
    /// `fits`, `too thick`, `slips`, or `fits, thickened`.
    pub verdict: &'static str,
}

fn fit_answer(line: &JobLine, name: &str, system: System) -> Option<FitAnswer> {
    let fit = crate::job::fits(&line.record).into_iter().find(|fit| fit.name == name)?;
    let rope = line.made.rope.diameter;
    let added = line.made.added.iter().filter(|added| added.place == name).map(|added| added.thickness);
    let thickness = added.reduce(units::Length::max).unwrap_or(rope);
    let verdict = if fit.passes().is_some_and(|room| thickness > room) {
        "too thick"
    } else if fit.thinnest.is_some_and(|least| thickness < least) {
        "slips"
    } else if thickness > rope {
        "fits, thickened"
    } else {
        "fits"
    };
    let amount = |length: Option<units::Length>| length.map(|length| Amount::of(length, system));
    Some(FitAnswer {
        up_to: amount(fit.thickest),
        from: amount(fit.thinnest),
        groove: amount(fit.groove),
        thickness: Amount::of(thickness, system),
        verdict,
    })
}

impl FitAnswer {
    /// In a few words: `fits, 8 mm to 12 mm`.
    #[must_use]
    pub fn text(&self) -> String {
        let range = match (&self.from, self.up_to.as_ref().or(self.groove.as_ref())) {
            (Some(from), Some(to)) => format!("{} to {}", from.text, to.text),
            (None, Some(to)) => format!("to {}", to.text),
            (Some(from), None) => format!("from {}", from.text),
            (None, None) => String::new(),
        };
        format!("{}, {range}", self.verdict)
    }
}

pub(crate) fn lead_answer(line: &JobLine, travel: &Travel, system: System) -> LeadAnswer {
    let finished = line.made.finished;
    let length = |value: units::Length| Amount::of(value, system);
    let rope = line.made.rope.diameter;
    // Pull in the leg that comes to the first turn of the lead.
    let at_first = line.load.steady;
    let turns = travel.hauled.turns.iter().map(|turn| TurnAnswer {
        name: turn.name.clone(),
        wrap: Amount::of(turn.wrap, system),
        block_load: Amount::of(at_first * turn.block_load, system),
        block_vector: turn.block_vector.map(|part| Amount::of(at_first * part, system)),
        left: turn.efficiency,
        fit: fit_answer(line, &turn.name, system),
        drum_turns: (turn.bearing == Bearing::Winch)
            .then(|| rig::tackle::drum_turns(at_first / travel.hauled.hand_over_end, rig::tackle::TAILING)),
    });
    LeadAnswer {
        hauled: length(travel.hauled.length),
        eased: length(travel.eased.length),
        tail_hauled: length(finished - travel.hauled.length),
        tail_eased: length(finished - travel.eased.length),
        hand_hauling: Amount::of(line.load.hauling * travel.hauled.after_purchase, system),
        hand_easing: Amount::of(line.load.easing / travel.hauled.after_purchase, system),
        tightest: travel.tightest().map(|turn| TightestAnswer { name: turn.name.clone(), ratio: turn.diameter / rope }),
        turns: turns.collect(),
    }
}

impl LeadAnswer {
    /// Tails at both ends of travel, and the hand's pull.
    #[must_use]
    pub fn text(&self) -> String {
        format!(
            "path {} hauled in, {} eased; tail {} and {}",
            self.hauled.text, self.eased.text, self.tail_hauled.text, self.tail_eased.text
        )
    }
}
