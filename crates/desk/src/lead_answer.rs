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
    /// Round turns that hold the load on a drum by a gentle tail; null elsewhere.
    pub drum_turns: Option<u32>,
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
