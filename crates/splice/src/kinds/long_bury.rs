//! The long-bury eye of a hollow braid, and two that are made like it.
//!
//! The tail is tapered, pulled back inside its own standing part from the
//! throat, and held there by the braid that closes on it. Marks are set out
//! on free rope; the standing part shortens over the bury, so the mark where
//! the tail ends lies further out by the shrinkage. In the **locked eye** the
//! two legs pass through each other at the throat first, which keeps the tail
//! in when slack and adds no strength. The **luggage-tag loop** is a long-bury
//! eye long enough to be hitched round a fitting by passing the rope through
//! it.

use super::bench;
use super::buried::{Bury, bury, eye_rope_used};
use crate::eye::eye;
use crate::layout::{Layout, Mark, Part};
use crate::marks::{MarkSheet, number};
use crate::stitching::throat;
use crate::weak::WeakPoint;
use crate::{EndKind, EndRequest, Slack, SpliceError, ThroatLock};
use sources::{BREAKS_HMPE_6, COMMON_PRACTICE, Finding, Grade, OSU_2001, OURS, PS_SPLICE, Step};
use units::{Length, Sentence};

/// The layout of a long-bury eye, a locked eye or a luggage-tag loop.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let bury = bury(request)?;
    let mut working = Vec::new();
    let sized = sized(request, &mut working)?;
    let eye_answer = eye(&sized, request.rope.diameter)?;
    let eye = eye_answer.eye;
    let mut sheet = MarkSheet::default();
    bury.mark_eye(&mut sheet, Part::Rope, &eye);
    let marks = sheet.numbered();
    let thick = bury.diameter * std::f64::consts::SQRT_2;
    let locks = match (request.kind, request.lock) {
        // Legs through each other hold the tail when slack, as stitches do.
        (EndKind::LockedEye, ThroatLock::None) => EndRequest { slack: Slack::Never, ..request.clone() },
        _ => request.clone(),
    };
    let (stitching, stitch_findings) = throat(&locks, bury.diameter, thick, eye.rope);
    let (rope_used, used_step) = eye_rope_used(&bury, &eye);
    let weakness = bury.weakness(request, Some(&eye))?;
    let mut layout = bury.layout(request, if request.kind == EndKind::LockedEye { 45.0 } else { 35.0 });
    layout.steps = steps(request, &bury, &marks);
    layout.steps.extend(finish(&stitching));
    layout.findings.extend(eye_answer.findings);
    layout.findings.extend(stitch_findings);
    layout.working.extend(working);
    layout.working.extend(eye_answer.working);
    layout.working.push(used_step);
    layout.weak_points = weakness.points;
    add_own(request, &mut layout);
    Ok(Layout { eye: Some(eye), marks, rope_used, stitching, strength_share: Some(weakness.share), ..layout })
}

/// The request with the eye that a luggage-tag loop needs: round its fitting,
/// and room for the rope to pass.
fn sized<'a>(request: &EndRequest<'a>, working: &mut Vec<Step>) -> Result<EndRequest<'a>, SpliceError> {
    if request.kind != EndKind::LuggageTagLoop {
        return Ok(request.clone());
    }
    let mut sized = EndRequest { on: None, ..request.clone() };
    let Some(on) = request.on else { return Ok(sized) };
    if on.diameter <= Length::ZERO {
        return Err(SpliceError::NotAboveZero { what: "the fitting's diameter", given: on.diameter });
    }
    let diameter = request.rope.diameter;
    let least = (on.diameter + diameter) * std::f64::consts::FRAC_PI_2 + diameter * 6.0;
    if let Some(given) = request.eye.filter(|eye| *eye < least) {
        return Err(SpliceError::TooShort { kind: request.kind, given, least: least.up_to_mm().to_length() });
    }
    if request.eye.is_none() {
        sized.eye = Some(least);
    }
    working.push(
        Step::new(
            "least loop, inside, flat",
            "pi (D + d) / 2 + 6 d",
            least,
            OURS.at("half round the fitting, and room to pass"),
        )
        .input("D", on.diameter)
        .input("d", diameter),
    );
    Ok(sized)
}

/// What only a locked eye or a luggage-tag loop says.
fn add_own(request: &EndRequest, layout: &mut Layout) {
    let point =
        |place, reason, citation| WeakPoint { place, from_throat: Some(Length::ZERO), share: None, reason, citation };
    match request.kind {
        EndKind::LockedEye => {
            layout.weak_points.push(point(
                "lock",
                Sentence::new("alone, without a bury, such a lock held 40 to 60 %; with a full bury its extra bend cost nothing in three tests"),
                BREAKS_HMPE_6.at("two recipes above average, one locked"),
            ));
            layout.findings.push(Finding::new(
                Grade::Note,
                "lock-adds-no-strength",
                Sentence::new("the lock keeps the tail in when slack; the bury carries the load, and must be as long as without it"),
                PS_SPLICE.at("lock stitch or lock steadies a slack splice"),
            ));
        }
        EndKind::LuggageTagLoop => {
            layout.weak_points.push(point(
                "hitch",
                Sentence::new("hitched through itself 12-strand HMPE kept 57 % in one series: take the hitch for the weak point until yours is tested"),
                OSU_2001.at("cow hitch, as quoted"),
            ));
            layout.findings.push(
                Finding::new(
                    Grade::Caution,
                    "hitched",
                    Sentence::new("the finished length is to the loop's end pulled flat; the hitch takes up about the loop, and weakens the rope"),
                    COMMON_PRACTICE.at("luggage-tag hitch"),
                )
                .remedy(Sentence::new("splice the eye on the fitting where it never comes off")),
            );
        }
        _ => {}
    }
}

fn steps(request: &EndRequest, bury: &Bury, marks: &[Mark]) -> Vec<Sentence> {
    let n = |name| number(marks, Part::Rope, name);
    let mut steps = vec![bench::set_out(request)];
    steps.extend(taper_steps(bury, n("taper begins")));
    steps.extend(bench::reeve_closed(request, bench::REEVE_TAIL));
    if request.kind == EndKind::LockedEye {
        steps.push(
            Sentence::new("pass the tail through the standing part at mark {}, then the whole standing part through the tail at mark {}, and draw both together: two legs, each through the other. Where the far end is not free, turn the braid inside out through itself instead")
                .with(n("throat, standing side"))
                .with(n("throat, tail side")),
        );
    }
    steps.push(
        Sentence::new("open the braid at mark {}, work the puller up inside the standing part and out at mark {}")
            .with(n("puller goes in"))
            .with(n("throat, standing side")),
    );
    steps.push(
        Sentence::new("hook the tail's end and draw it down inside until marks {} and {} meet at the throat; take the end out at mark {} and let it go back in")
            .with(n("throat, tail side"))
            .with(n("throat, standing side"))
            .with(n("puller goes in")),
    );
    steps.push(
        Sentence::new("milk the braid hard from the throat downwards until it lies smooth on the tail and the tail's end is felt under mark {}")
            .with(n("tail ends here")),
    );
    steps.push(Sentence::new("hold the throat with one basting stitch"));
    steps.extend(bench::set_and_measure(
        request,
        "back at {}, the buried tail must measure {} from throat to end, within {}; milk again if it does not",
        bury.length,
    ));
    steps
}

/// The steps that taper a tail.
pub(crate) fn taper_steps(bury: &Bury, first_mark: u32) -> Vec<Sentence> {
    if bury.tail.steps.is_empty() {
        return vec![Sentence::new("tape the tail's end tight: it stays at its full thickness")];
    }
    let left = bury.tail.steps.first().map_or(crate::STRANDS, |(_, left)| *left);
    vec![
        Sentence::new("from mark {} towards the bitter end, at each arrowhead pull out one strand of each hand and cut both off where they leave the braid: {} strands are left")
            .with(first_mark)
            .with(left),
        Sentence::new("cut what is left on the slant over the last {}, milk the tail smooth and tape its end to the puller")
            .with(bury.diameter * bury.tail.cut),
    ]
}

/// Stitching comes last.
pub(crate) fn finish(stitching: &[crate::Stitching]) -> Vec<Sentence> {
    let mut steps = stitching
        .iter()
        .map(|stitch| {
            Sentence::new("finish with the {}: {} of {} twine").with(stitch.name).with(stitch.length).with(stitch.twine)
        })
        .collect::<Vec<_>>();
    steps.push(Sentence::new("write what was measured, the setting load and the batch in the boxes, and sign"));
    steps
}
