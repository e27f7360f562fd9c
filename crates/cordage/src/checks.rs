//! Is a rope right for a place? The checks that need the rope alone.
//!
//! Strength after splices and knots is judged where lines are made up; here
//! stand the design factor, bending round sheaves, creep under standing load
//! and what a thin rope does to a hand.

use crate::{Fibre, Rope};
use sources::{CFR_1926_251, CI_1401, COMMON_PRACTICE, Citation, Finding, GL_0027, Grade, OURS, Sourced};
use units::{Force, Length, Sentence, Value};

/// What the boat is used for: sets how much rope is kept in hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Use {
    /// Day and week-end sailing, owner's hands.
    CoastalCruising,
    /// Racing round the cans, rope looked at often.
    ClubRacing,
    /// Days from help.
    Offshore,
    /// Strangers' hands, hours of use.
    Charter,
}

impl Use {
    /// The name printed.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Use::CoastalCruising => "coastal cruising",
            Use::ClubRacing => "club racing",
            Use::Offshore => "offshore",
            Use::Charter => "charter",
        }
    }
}

/// Breaking strength wanted over the steady working load.
///
/// # Range
/// 5 to 8, the lower half of the published 5 to 12: the loads here are
/// computed, not guessed. The loft may set its own.
///
/// # Source
/// Cordage Institute CI 1401, section 4, for the range; the place in it is ours.
#[must_use]
pub const fn design_factor(of: Use) -> Sourced<f64> {
    const FROM: Citation = CI_1401.at("section 4: 5 to 12; the place in it is ours");
    Sourced::new(
        match of {
            Use::ClubRacing => 5.0,
            Use::CoastalCruising => 6.0,
            Use::Offshore => 7.0,
            Use::Charter => 8.0,
        },
        FROM,
    )
}

/// Breaking strength wanted over the peak load, whatever the use: a line that
/// passes half its strength has been overloaded.
pub const PEAK_FACTOR: Sourced<f64> = Sourced::new(2.0, OURS.at("peak at most half the strength"));

/// What a sheave or pin of a diameter does to a rope that runs or stands on it.
///
/// `None` from eight rope diameters up. Below two the bend is a stop.
#[must_use]
pub fn bend(rope: &Rope, round: Length) -> Option<Finding> {
    const NOTE_BELOW: f64 = 8.0;
    const CAUTION_BELOW: f64 = 5.0;
    const STOP_BELOW: f64 = 2.0;
    let ratio = round / rope.diameter;
    let (grade, code, citation, wanted) = if ratio < STOP_BELOW {
        (Grade::Stop, "sharp-bend", GL_0027.at("7.8: not under 2 d"), CAUTION_BELOW)
    } else if ratio < CAUTION_BELOW {
        (Grade::Caution, "tight-bend", COMMON_PRACTICE.at("sheave of 5 d and more"), CAUTION_BELOW)
    } else if ratio < NOTE_BELOW {
        (Grade::Note, "small-sheave", CFR_1926_251.at("companion figure N-184: 8 d"), NOTE_BELOW)
    } else {
        return None;
    };
    let text = Sentence::new("the tightest bend is {} across, {} times the rope's diameter")
        .with(round)
        .with(Value::Number(ratio));
    let remedy = Sentence::new("a sheave of {} or a thinner rope").with(rope.diameter * wanted);
    Some(Finding::new(grade, code, text, citation).remedy(remedy))
}

/// What a load that stands for days does to the rope: HMPE creeps.
#[must_use]
pub fn creep(rope: &Rope, standing: Force) -> Option<Finding> {
    const HIGHEST: f64 = 0.20;
    let share = standing / rope.strength.force;
    (rope.fibre == Fibre::Hmpe && share > HIGHEST).then(|| {
        let text = Sentence::new("HMPE under {} of its strength for days creeps and does not come back")
            .with(Value::Share(share));
        Finding::new(Grade::Caution, "creep", text, COMMON_PRACTICE.at("HMPE: standing load to a fifth"))
            .remedy(Sentence::new("a rope of {} or a low-creep fibre").with(standing / HIGHEST))
    })
}

/// The thinnest rope a hand can hold under load.
pub const THINNEST_FOR_HANDS: Sourced<f64> = Sourced::new(8.0, COMMON_PRACTICE.at("mm; gloves off"));

/// What a thin rope does to the hand that holds it.
#[must_use]
pub fn grip_by_hand(rope: &Rope) -> Option<Finding> {
    let least = Length::of_mm(THINNEST_FOR_HANDS.get()?);
    (rope.diameter < least).then(|| {
        let text = Sentence::new("at {} it is hard to hold by hand").with(rope.diameter);
        Finding::new(Grade::Note, "thin-for-hands", text, THINNEST_FOR_HANDS.citation)
            .remedy(Sentence::new("{} or more, or a second cover where it is handled").with(least))
    })
}
