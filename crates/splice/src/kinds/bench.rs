//! Tools, times, cautions and settings that the kinds share.

use crate::EndRequest;
use cordage::reference_tension;
use sources::{COMMON_PRACTICE, EXACT, GIVEN, Sourced, Step};
use units::{Duration, Force, Length, Sentence};

/// Time at the bench: an estimate, replaced by the loft's own.
pub(crate) fn minutes(minutes: f64) -> Sourced<Duration> {
    Sourced::new(Duration::of_minutes(minutes), COMMON_PRACTICE.at("bench time, an estimate"))
}

/// Reference tension of the rope, at which marks are made.
pub(crate) fn tension(request: &EndRequest) -> Force {
    reference_tension(request.rope.diameter)
}

/// The load a splice is set at: the working load, or a fifth of the listed
/// strength where none is given; our choice.
pub(crate) fn setting_load(request: &EndRequest) -> Force {
    request.load.unwrap_or(request.rope.strength.force * 0.2)
}

/// How marks are made: the first step of every end.
pub(crate) fn set_out(request: &EndRequest) -> Sentence {
    Sentence::new("stretch the free rope straight at {} and set out the marks of the table from the bitter end")
        .with(tension(request))
}

/// A closed fitting goes in before the end is closed; nothing to say otherwise.
pub(crate) fn reeve_closed(request: &EndRequest, step: &'static str) -> Option<Sentence> {
    request.on.is_some_and(|on| on.what.is_closed()).then(|| Sentence::new(step))
}

/// The tail goes through a closed fitting.
pub(crate) const REEVE_TAIL: &str = "reeve the tail through the fitting now: it cannot be put in later";
/// The whole eye goes through a closed fitting.
pub(crate) const REEVE_EYE: &str = "reeve the eye through the fitting now: it cannot be put in later";

/// The fitting goes on a ring of rope before its ends are joined.
pub(crate) const REEVE_LOOP: &str = "reeve the fitting on now: it cannot be put on later";

/// Working of the middle line round a loop: what was asked, and its turns.
pub(crate) fn round_the_loop(inside: Length, diameter: Length, around: Length) -> [Step; 2] {
    let turns = EXACT.at("half a turn of the rope's middle at each end");
    [
        Step::new("loop, inside, flat", "", inside, GIVEN.at("the loop asked for")),
        Step::new("middle line round the loop", "2 L + pi d", around, turns).input("L", inside).input("d", diameter),
    ]
}

/// Setting, then measuring: before any stitching is finished.
pub(crate) fn set_and_measure(request: &EndRequest, what: &'static str, length: Length) -> Vec<Sentence> {
    let set = if request.kind.has_eye() {
        "set the splice: eye on its fitting, pull to {} three times and hold the last for a minute, nobody in line with it"
    } else {
        "set the splice: pull to {} three times and hold the last for a minute, nobody in line with it"
    };
    vec![
        Sentence::new(set).with(setting_load(request)),
        Sentence::new(what).with(tension(request)).with(length).with(request.rules.tolerance),
    ]
}

/// Cautions that every spliced end carries.
pub(crate) fn cautions() -> Vec<Sentence> {
    vec![
        Sentence::new("not for life support, climbing, lifting people or signing off standing rigging"),
        Sentence::new("a proof or break test outranks every figure here"),
        Sentence::new("rope under load recoils: stand clear of its line when setting or proving"),
        Sentence::new("cut away from the hand; blades, needles and hot knives injure"),
    ]
}

/// Tools for a tail pulled inside a braid.
pub(crate) const BURY_TOOLS: &[&str] = &[
    "rule or marking strip",
    "marking pen or thread",
    "hollow puller longer than the bury, or a fid and messenger",
    "knife or shears",
    "needle, palm and waxed twine",
    "tape",
    "load cell or spring balance",
    "anchor and tackle for setting",
];

/// Tools for tucking.
pub(crate) const TUCK_TOOLS: &[&str] =
    &["rule", "tape and seizing twine", "fid or marlinespike", "knife", "anchor and tackle for setting"];

/// Tools for whipping.
pub(crate) const WHIP_TOOLS: &[&str] = &["waxed twine", "needle and palm", "knife", "tape"];
