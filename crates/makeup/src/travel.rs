//! Which part of a line meets what over its whole travel, and so which part may
//! lose its cover.
//!
//! A place along the rope meets a turn when it lies between the least and the
//! most rope that is there over the travel. From the first jaws, drum or hand
//! on, the cover stays: everything beyond is gripped or handled.
//! What chafes at the working end is read from the kind of line. Without a
//! lead nothing is known of jaws and hand, and nothing is guessed.

use crate::request::LineRequest;
use rig::{Bearing, LineKind, Travel, Turn};
use units::{Length, Sentence};

/// What a part of the line meets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Touch {
    /// Runs over a sheave.
    Sheave,
    /// Slides through a fairlead.
    Fairlead,
    /// Works against a spar, a stay or a fitting at its working end.
    Chafe,
    /// Held in jaws.
    Jaws,
    /// Wound on a drum.
    Drum,
    /// Held in the hand.
    Hand,
}

impl Touch {
    /// The word printed.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Touch::Sheave => "sheave",
            Touch::Fairlead => "fairlead",
            Touch::Chafe => "chafe",
            Touch::Jaws => "jaws",
            Touch::Drum => "drum",
            Touch::Hand => "hand",
        }
    }

    /// Must the cover stay there?
    #[must_use]
    pub const fn keeps_cover(self) -> bool {
        matches!(self, Touch::Chafe | Touch::Jaws | Touch::Drum | Touch::Hand)
    }
}

/// A part of the line and what it meets.
#[derive(Debug, Clone, PartialEq)]
pub struct Met {
    /// What.
    pub touch: Touch,
    /// Where on the boat.
    pub place: String,
    /// From the working end's bearing point.
    pub from: Length,
    /// Where it ends; the bitter end where the hand has the rest.
    pub to: Length,
}

/// Length kept clear of jaws and drum: a hand's breadth and the trim's own error.
const CLEAR: Length = Length::of_mm(300.0);

/// Length at the working end that works in a pole end, crane or sprit.
const CHAFED_END: Length = Length::of_mm(600.0);

/// What chafes at the working end of a kind, in words; none for most.
#[must_use]
pub const fn chafes_at_end(kind: LineKind) -> Option<&'static str> {
    Some(match kind {
        LineKind::Guy => "the pole end",
        LineKind::SpinnakerHalyard => "the crane and the forestay",
        LineKind::TackLine => "the sprit's end",
        LineKind::JibSheet | LineKind::StaysailSheet => "mast and shrouds in every tack",
        LineKind::DockLine => "bow roller and fairlead",
        LineKind::AnchorRode => "the bow roller",
        LineKind::ReefLineSlab | LineKind::ReefLineSingle => "the reef cringle",
        _ => return None,
    })
}

/// What every part of a line meets over its travel, in order from the working
/// end.
#[must_use]
pub fn travel(request: &LineRequest<'_>) -> Vec<Met> {
    let mut met = Vec::new();
    if let Some(place) = chafes_at_end(request.kind) {
        let to = match request.kind {
            // These drag their whole outboard part.
            LineKind::JibSheet | LineKind::StaysailSheet => request.travel.and_then(outboard).unwrap_or(CHAFED_END),
            _ => CHAFED_END,
        };
        met.push(Met {
            touch: Touch::Chafe,
            place: place.to_owned(),
            from: Length::ZERO,
            to: to.min(request.finished),
        });
    }
    let Some(travel) = request.travel else { return met };
    for (index, turn) in travel.hauled.turns.iter().enumerate() {
        let over = travel.passing.iter().filter_map(|passing| passing.run.turns.get(index));
        met.push(at_turn(turn, over, request.finished));
    }
    met.sort_by(|a, b| a.from.compare(&b.from));
    met
}

/// Length from the working end to the first turn, at its longest.
fn outboard(travel: &Travel) -> Option<Length> {
    let first = travel.passing.iter().filter_map(|passing| passing.run.turns.first());
    first.map(|turn| turn.begins).reduce(Length::max)
}

fn at_turn<'a>(turn: &Turn, over: impl Iterator<Item = &'a Turn>, finished: Length) -> Met {
    let arc = |turn: &Turn| turn.begins + turn.diameter * (0.5 * turn.wrap.to_radians());
    let (from, most) = over.fold((turn.begins, arc(turn)), |(low, high), at| (low.min(at.begins), high.max(arc(at))));
    let touch = match turn.bearing {
        Bearing::Sheave(_) => Touch::Sheave,
        Bearing::Fairlead => Touch::Fairlead,
        Bearing::Clutch => Touch::Jaws,
        Bearing::Winch => Touch::Drum,
        Bearing::Fast => Touch::Hand,
    };
    let to = if touch.keeps_cover() { finished } else { most.min(finished) };
    Met { touch, place: turn.name.clone(), from, to }
}

/// The part of the line that may lose its cover.
#[derive(Debug, Clone, PartialEq)]
pub enum Strippable {
    /// From and to, from the working end's bearing point, and what ends it.
    Run {
        /// Where the bare part begins.
        from: Length,
        /// Where the cover must be on again.
        to: Length,
        /// What ends it.
        until: Sentence,
    },
    /// None of it, and why.
    None(Sentence),
    /// Not known, and what is missing.
    Unknown(Sentence),
}

/// Which part may be bare: from the working end to short of the first jaws,
/// drum or hand. Chafe at the end does not shorten it; it speaks against it.
#[must_use]
pub fn strippable(request: &LineRequest<'_>, met: &[Met], least: Length) -> Strippable {
    let gripping = met.iter().filter(|met| matches!(met.touch, Touch::Jaws | Touch::Drum | Touch::Hand));
    let Some(first) = gripping.min_by(|a, b| a.from.compare(&b.from)) else {
        return Strippable::Unknown(Sentence::new(
            "her lead was not given: where jaws, drum and hand hold it over its travel is not known; give lead and working, or strip",
        ));
    };
    let allowance = CLEAR + request.finished * stretch_allowance(request);
    let to = first.from - allowance;
    if to < least {
        return Strippable::None(
            Sentence::new("{} comes within {} of the working end: no room for bury, cover's end and {} clear of it")
                .with(first.place.as_str())
                .with(first.from)
                .with(allowance),
        );
    }
    let until = Sentence::new("{} takes it from {} on").with(first.place.as_str()).with(first.from);
    Strippable::Run { from: Length::ZERO, to: to.down_to_mm().to_length(), until }
}

/// What the line may stretch: its budget, or a hundredth.
fn stretch_allowance(request: &LineRequest<'_>) -> f64 {
    request.budget().most.unwrap_or(0.01)
}
