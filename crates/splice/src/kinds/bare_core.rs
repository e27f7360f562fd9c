//! The bare-core eye: the cover is off from the eye to where it is needed.
//!
//! The core is made into a long-bury eye. Where the cover begins again, its
//! tapered end is pulled inside the core towards the eye, so that nothing
//! stands up and no yarn can fray; the core shortens a little over it. The
//! **stripped run** is measured on the finished piece, from the eye's bearing
//! point to where the cover begins, as every length of a line is.

use super::bench;
use super::buried::{Bury, bury, eye_rope_used};
use super::long_bury::{finish, taper_steps};
use crate::eye::eye;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::stitching::{throat, twine_for, whipping};
use crate::tail::{Tail, shrinkage};
use crate::taper::even;
use crate::{EndRequest, SpliceError};
use sources::{COMMON_PRACTICE, Finding, GIVEN, Grade, OURS, Step};
use units::{Length, Sentence};

/// The cover's buried end, in fids of the core.
const COVER_FIDS: f64 = 1.0;
/// Room between the tail's end and the cover's, in core diameters.
const ROOM_DIAMETERS: f64 = 10.0;

/// Where the cover comes off and goes in.
pub(crate) struct CoverEnd {
    /// Length of cover inside the core.
    pub tail: Length,
    /// What the core shortens over it.
    pub shrinkage: Length,
    /// Throat to cover on the finished piece.
    pub run: Length,
    /// Bearing point to throat; nothing where there is no eye.
    pub before: Length,
}

/// The layout of a bare-core eye.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let bury = bury(request)?;
    let eye_answer = eye(request, bury.diameter)?;
    let eye = eye_answer.eye;
    let cover = cover_end(request, &bury, eye.bearing_to_throat)?;
    let mut sheet = MarkSheet::default();
    let at = bury.mark_eye(&mut sheet, Part::Core, &eye);
    // Free core from the tail's end to the cover: even braid first, then the
    // stretch that shortens over the cover's end.
    mark_cover(&mut sheet, &bury, &cover, at.tail_end + (cover.run - bury.length) + cover.shrinkage);
    let marks = sheet.numbered();
    let thick = bury.diameter * std::f64::consts::SQRT_2;
    let (mut stitching, stitch_findings) = throat(request, bury.diameter, thick, eye.rope);
    let outside = request.rope.diameter;
    let reason = Sentence::new("keeps the cover's first strands down where they go into the core");
    stitching.push(whipping("cover whipping", outside, outside, twine_for(outside), reason));
    let (rope_used, used_step) = used(eye_rope_used(&bury, &eye), &cover);
    let weakness = bury.weakness(request, Some(&eye))?;
    let mut layout = bury.layout(request, 70.0);
    layout.findings.extend(eye_answer.findings);
    layout.findings.extend(stitch_findings);
    layout.findings.push(bare_finding());
    layout.working.extend(eye_answer.working);
    layout.working.extend(cover_steps(request, &bury, &cover));
    layout.working.push(used_step);
    layout.steps = steps(request, &bury, &cover, &marks);
    layout.steps.extend(finish(&stitching));
    Ok(Layout {
        eye: Some(eye),
        marks,
        shrinkage: bury.shrinkage + cover.shrinkage,
        rope_used,
        stitching,
        weak_points: weakness.points,
        strength_share: Some(weakness.share),
        ..layout
    })
}

fn bare_finding() -> Finding {
    let text = "the stripped run has no cover against chafe, sun and jaws: keep it off clutches, drums and hands";
    Finding::new(Grade::Note, "bare-core", Sentence::new(text), COMMON_PRACTICE.at("stripped core"))
}

/// Marks of a cover whose end goes into the core from where it `begins`.
pub(crate) fn mark_cover(sheet: &mut MarkSheet, bury: &Bury, cover: &CoverEnd, begins: Length) {
    let stops = begins - cover.tail - cover.shrinkage;
    sheet.mark(Part::Core, "cover's end stops here", stops, Shape::BrokenBand);
    sheet.mark(Part::Core, "puller for the cover goes in", stops - bury.lead, Shape::Cross);
    sheet.mark(Part::Cover, "cover cut here", begins - cover.tail, Shape::PlainBand);
    sheet.mark(Part::Cover, "cover's taper begins", begins - cover.tail / 3.0, Shape::Arrowhead);
    sheet.mark(Part::Cover, "cover begins", begins, Shape::ClosedBand);
}

fn used(eye: (Length, Step), cover: &CoverEnd) -> (Length, Step) {
    let used = eye.0 + cover.shrinkage;
    let mut step = eye.1.input("shrinkage over the cover's end", cover.shrinkage);
    step.result = used.into();
    (used, step)
}

/// Length of the cover's end inside the core, and what the core shortens over
/// it. A cover is lighter than its core; taken at the core's full thickness
/// and tapered over two thirds, it shortens the core at most so much.
pub(crate) fn cover_tail(request: &EndRequest, bury: &Bury) -> (Length, Length) {
    let tail = bury.diameter * (request.rules.fid_diameters * COVER_FIDS);
    let cover: Tail = even(tail / bury.diameter, 5, 2.0 / 3.0);
    (tail, bury.diameter * shrinkage(&bury.braid, &cover.slices()))
}

/// `before` is the eye's way from its bearing point to the throat.
fn cover_end(request: &EndRequest, bury: &Bury, before: Length) -> Result<CoverEnd, SpliceError> {
    let (tail, shrinkage) = cover_tail(request, bury);
    let room = bury.diameter * ROOM_DIAMETERS + bury.lead;
    let least = before + bury.length + tail + room;
    let run = request.stripped_run.unwrap_or(least);
    if run < least {
        return Err(SpliceError::StrippedRunTooShort { given: run, least: least.up_to_mm().to_length() });
    }
    Ok(CoverEnd { tail, shrinkage, run: run - before, before })
}

fn cover_steps(request: &EndRequest, bury: &Bury, cover: &CoverEnd) -> Vec<Step> {
    let run_from = match request.stripped_run {
        Some(_) => GIVEN.at("stripped run asked for"),
        None => OURS.at("shortest run: eye, bury, cover's end and room between"),
    };
    vec![
        Step::new("cover's end inside the core", "one fid", cover.tail, COMMON_PRACTICE.at("a fid is 21 diameters"))
            .input("core d", bury.diameter)
            .input("fid in d", request.rules.fid_diameters),
        Step::new("stripped run", "from the eye's bearing point", cover.run + cover.before, run_from)
            .input("bearing point to throat", cover.before),
        Step::new(
            "shrinkage over the cover's end",
            "integral over its taper",
            cover.shrinkage,
            OURS.at("strands keep their length"),
        ),
    ]
}

fn steps(request: &EndRequest, bury: &Bury, cover: &CoverEnd, marks: &[crate::Mark]) -> Vec<Sentence> {
    let core = |name| number(marks, Part::Core, name);
    let on_cover = |name| number(marks, Part::Cover, name);
    let mut steps = vec![
        bench::set_out(request),
        Sentence::new("cut the cover round at mark {}, without touching the core, and draw it off the bitter end; {} of cover is left beyond mark {}")
            .with(on_cover("cover cut here"))
            .with(cover.tail)
            .with(on_cover("cover begins")),
        Sentence::new("stretch the bare core straight again and set out the core's marks, from the same bitter end"),
    ];
    steps.extend(taper_steps(bury, core("taper begins")));
    steps.extend(bench::reeve_closed(request, bench::REEVE_TAIL));
    steps.push(
        Sentence::new("open the core at mark {}, bring the puller up inside it to mark {}, draw the tail down until marks {} and {} meet, and milk the core smooth: the tail's end lies under mark {}")
            .with(core("puller goes in"))
            .with(core("throat, standing side"))
            .with(core("throat, tail side"))
            .with(core("throat, standing side"))
            .with(core("tail ends here")),
    );
    steps.push(
        Sentence::new("comb out the cover's end from mark {} on, taking out strands in opposite pairs to a point, and tape it to the puller")
            .with(on_cover("cover's taper begins")),
    );
    steps.push(
        Sentence::new("open the core at mark {}, bring the puller down inside it to mark {}, and draw the cover's end in: it stops under mark {} and the cover lies smooth from mark {} on")
            .with(core("puller for the cover goes in"))
            .with(on_cover("cover begins"))
            .with(core("cover's end stops here"))
            .with(on_cover("cover begins")),
    );
    steps.push(Sentence::new("hold throat and cover with one basting stitch each"));
    steps.extend(bench::set_and_measure(
        request,
        "back at {}, from the eye's bearing point to where the cover begins must measure {}, within {}; milk again if it does not",
        cover.run + cover.before,
    ));
    steps
}
