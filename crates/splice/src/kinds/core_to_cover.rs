//! Where a cover ends and the bare core goes on: the cover's end inside it.
//!
//! As in a bare-core eye, but without the eye: the end stays bare for a run,
//! and the cover's tapered end is pulled inside the core towards it. The core
//! shortens over it, and that is all the join adds to the cut length.

use super::bare_core::{CoverEnd, cover_tail, mark_cover};
use super::bench;
use super::buried::{Bury, bury};
use super::long_bury::finish;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::stitching::{twine_for, whipping};
use crate::{EndRequest, Mark, SpliceError};
use sources::{COMMON_PRACTICE, EXACT, GIVEN, Step};
use units::{Length, Sentence};

/// The layout of a core-to-cover join.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let bury = bury(request)?;
    let missing =
        SpliceError::Missing { kind: request.kind, what: "the stripped run, from the end to where the cover begins" };
    let run = request.stripped_run.ok_or(missing)?;
    let (tail, shrinkage) = cover_tail(request, &bury);
    let shrinkage = shrinkage * request.shrinkage_times();
    let cover = CoverEnd { tail, shrinkage, run, before: Length::ZERO };
    let least = tail + bury.lead * 2.0;
    if run < least {
        return Err(SpliceError::StrippedRunTooShort { given: run, least: least.up_to_mm().to_length() });
    }
    let mut sheet = MarkSheet::default();
    sheet.mark(Part::Core, "bitter end", Length::ZERO, Shape::PlainBand);
    mark_cover(&mut sheet, &bury, &cover, run + shrinkage);
    let marks = sheet.numbered();
    let d = request.rope.diameter;
    let reason = Sentence::new("keeps the cover's first strands down where they go into the core");
    let stitching = vec![whipping("cover whipping", d, d, twine_for(d), reason)];
    let mut layout = Layout::of(request, bench::minutes(35.0));
    layout.steps = steps(request, &cover, &marks);
    layout.steps.extend(finish(&stitching));
    layout.working = working(request, &bury, &cover);
    Ok(Layout {
        gripping_diameter: bury.diameter,
        bury: Some(tail),
        marks,
        puller_lead: Some(bury.lead),
        shrinkage,
        rope_used: shrinkage,
        stitching,
        tools: bench::BURY_TOOLS.to_vec(),
        ..layout
    })
}

fn working(request: &EndRequest, bury: &Bury, cover: &CoverEnd) -> Vec<Step> {
    let mut steps = bury.braid_steps(request);
    steps.extend([
        Step::new("stripped run", "", cover.run, GIVEN.at("stripped run asked for")),
        Step::new(
            "cover's end inside the core",
            "one fid of the core",
            cover.tail,
            COMMON_PRACTICE.at("a fid is 21 diameters"),
        )
        .input("core d", bury.diameter),
        Step::new("rope used", "shrinkage over the cover's end", cover.shrinkage, EXACT.at("sum")),
    ]);
    steps
}

fn steps(request: &EndRequest, cover: &CoverEnd, marks: &[Mark]) -> Vec<Sentence> {
    let core = |name| number(marks, Part::Core, name);
    let on_cover = |name| number(marks, Part::Cover, name);
    let mut steps = vec![
        bench::set_out(request),
        Sentence::new("cut the cover round at mark {}, without touching the core, and draw it off the end; {} of cover is left beyond mark {}")
            .with(on_cover("cover cut here"))
            .with(cover.tail)
            .with(on_cover("cover begins")),
        Sentence::new("stretch the bare core straight again and set out the core's marks, from the same bitter end"),
        Sentence::new("comb out the cover's end from mark {} on, taking out strands in opposite pairs to a point, and tape it to the puller")
            .with(on_cover("cover's taper begins")),
        Sentence::new("open the core at mark {}, bring the puller down inside it to mark {}, and draw the cover's end in: it stops under mark {}")
            .with(core("puller for the cover goes in"))
            .with(on_cover("cover begins"))
            .with(core("cover's end stops here")),
        Sentence::new("milk core and cover smooth and hold them with one basting stitch"),
    ];
    steps.extend(bench::set_and_measure(
        request,
        "back at {}, from the end to where the cover begins must measure {}, within {}",
        cover.run,
    ));
    steps
}
