//! Lock stitching and whipping: pattern, twine, length, and what it must hold.
//!
//! A buried splice has no grip when slack, so what hangs on the eye then
//! hangs on the twine. The pattern of the lock stitch is a handbook's; sizes
//! of twine are common practice; the shake factor is ours.

use crate::layout::Stitching;
use crate::{EndRequest, Slack, ThroatLock};
use sources::{COMMON_PRACTICE, Finding, Grade, MERRY, OURS, PS_SPLICE};
use units::{Force, Length, Mass, Sentence};

/// A hanging end jerks: its weight is multiplied by this. Ours, no source.
pub const SHAKE: f64 = 10.0;
/// Twine left at each end of a lock stitch, from the handbook's 8 inches.
const STITCH_TAIL: Length = Length::of_inches(8.0);
/// Stitches along each line of a lock stitch.
const STITCHES: f64 = 3.0;

/// Twine for a rope: a fifteenth of its diameter, to the next tenth of a
/// millimetre, and half a millimetre at least. Common practice.
#[must_use]
pub fn twine_for(diameter: Length) -> Length {
    let tenths = (diameter.to_mm() / 15.0 * 10.0 - 1e-9).ceil();
    Length::of_mm(tenths / 10.0).max(Length::of_mm(0.5))
}

/// What the twine must hold when the rope is slack: what hangs on the eye,
/// and the eye's own rope, shaken.
#[must_use]
pub fn slack_load(hardware: Mass, eye_rope: Mass) -> Force {
    (hardware + eye_rope).weight() * SHAKE
}

/// The lock stitch of a throat whose rope is `thick` with its tail inside.
pub(crate) fn lock_stitch(diameter: Length, thick: Length, must_hold: Force) -> Stitching {
    // Four lines of stitches: two along one face, two turned a quarter; each
    // stitch goes once along and once through.
    let lines = 4.0;
    let run = (diameter + thick) * (lines * STITCHES);
    Stitching {
        name: "lock stitch",
        pattern: Sentence::new(
            "three stitches of about {} through both parts down from the throat, three back beside them; reef-knot the ends, turn the rope a quarter and do the same again",
        )
        .with(diameter),
        twine: twine_for(diameter),
        length: (run + STITCH_TAIL * 4.0).up_to_mm(),
        must_hold: Some(must_hold),
        reason: Sentence::new("slack rope does not grip its tail: the twine alone holds {} then").with(must_hold),
        citation: MERRY.at("p. 54"),
    }
}

/// A whipping as long as `long` round rope `thick`.
pub(crate) fn whipping(name: &'static str, thick: Length, long: Length, twine: Length, reason: Sentence) -> Stitching {
    let turns = (long / twine).ceil();
    let length = (thick + twine) * (std::f64::consts::PI * turns) + thick * 10.0;
    Stitching {
        name,
        pattern: Sentence::new("{} turns laid close and hauled tight, over {}, the ends buried under them and sewn")
            .with(turns as i64)
            .with(long),
        twine,
        length: length.up_to_mm(),
        must_hold: None,
        reason,
        citation: COMMON_PRACTICE.at("a whipping as long as the rope is thick"),
    }
}

/// Locks of a throat, and what is to be said of a throat without one.
pub(crate) fn throat(
    request: &EndRequest,
    diameter: Length,
    thick: Length,
    eye_rope: Length,
) -> (Vec<Stitching>, Vec<Finding>) {
    let own = request.rope.linear_density * eye_rope;
    let must_hold = slack_load(request.hardware.unwrap_or(Mass::ZERO), own);
    let stitch = || lock_stitch(diameter, thick, must_hold);
    let whip = || {
        let reason = Sentence::new("keeps the throat from being pulled apart, and the tail in when slack");
        whipping("throat whipping", thick, diameter, twine_for(diameter), reason)
    };
    let mut findings = Vec::new();
    let stitching = match request.lock {
        ThroatLock::StitchAndWhip => vec![stitch(), whip()],
        ThroatLock::Stitch => vec![stitch()],
        ThroatLock::Whip => vec![Stitching { must_hold: Some(must_hold), ..whip() }],
        ThroatLock::FullLength => {
            findings.push(full_length());
            vec![stitch()]
        }
        ThroatLock::None => {
            findings.push(unlocked(request.slack));
            Vec::new()
        }
    };
    if request.hardware.is_none() && request.lock != ThroatLock::None {
        let text = Sentence::new(
            "what hangs on the eye was not given: the twine is reckoned for the eye's own rope, shaken {} fold",
        )
        .with(SHAKE);
        findings.push(Finding::new(Grade::Note, "hardware-unknown", text, OURS.at("shake factor")));
    }
    (stitching, findings)
}

fn full_length() -> Finding {
    let text = Sentence::new(
        "stitched over its whole length the braid cannot close on the tail: about half the strength was found",
    );
    Finding::new(Grade::Caution, "full-length-stitching", text, PS_SPLICE.at("full-length lock stitching"))
        .remedy(Sentence::new("stitch the throat alone"))
}

fn unlocked(slack: Slack) -> Finding {
    match slack {
        Slack::Can => {
            let text = Sentence::new(
                "slack rope does not grip its tail, and nothing else holds this one when it hangs slack or flogs",
            );
            Finding::new(Grade::Stop, "unlocked-throat", text, OURS.at("grip is proportional to tension"))
                .remedy(Sentence::new("lock-stitch or whip the throat"))
        }
        Slack::Never => {
            let text =
                Sentence::new("the tail is held by tension alone: it must never hang slack, not even on the bench");
            Finding::new(Grade::Caution, "unlocked-throat", text, OURS.at("grip is proportional to tension"))
                .remedy(Sentence::new("lock-stitch or whip the throat"))
        }
    }
}
