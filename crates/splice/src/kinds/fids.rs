//! What the splices of a double braid by fid lengths share.
//!
//! Lengths are in fids of so many rope diameters, and short fids of three
//! eighths of one. The cover's tail of one fid lies inside a core of the same
//! area, which shortens over it. The core is drawn taut and carries the
//! finished length; the cover lies on a core made thicker, and takes up there
//! what it is longer.

use super::buried::assumed_braid;
use crate::layout::{Part, Shape};
use crate::marks::MarkSheet;
use crate::tail::shrinkage;
use crate::taper::even;
use crate::{EndRequest, SpliceError};
use sources::{BITTING_1982, COMMON_PRACTICE, Citation, Finding, GIVEN, Grade, OURS, Step};
use units::{Length, Sentence};

/// Thickness of core and of cover where each carries half: each has half the
/// area of the rope.
const HALF_AREA: f64 = std::f64::consts::FRAC_1_SQRT_2;
/// Pairs taken out of the cover's tail over its last third.
const PAIRS: u32 = 3;
/// The two readings of seven circumferences, in diameters.
const BY_THREE: f64 = 21.0;
const BY_PI: f64 = 7.0 * std::f64::consts::PI;

/// Lengths by fids, and what the core shortens over the cover's tail.
pub(crate) struct Fids {
    pub fid: Length,
    pub short: Length,
    /// The core's diameter.
    pub core: Length,
    pub shrinkage: Length,
    pub working: Vec<Step>,
    pub findings: Vec<Finding>,
}

/// The fids of a request.
pub(crate) fn fids(request: &EndRequest, from: Citation) -> Result<Fids, SpliceError> {
    let rules = request.rules;
    let fid = request.rope.diameter * rules.fid_diameters;
    let short = fid * rules.short_fid_share;
    let core = request.rope.diameter * HALF_AREA;
    let (braid, assumed) = assumed_braid(request, core)?;
    let shrinkage = core * shrinkage(&braid, &even(fid / core, PAIRS, 1.0 / 3.0).slices()) * request.shrinkage_times();
    // The tail's end must lie before the puller's hole, a fid and a short fid
    // from where it goes in.
    if shrinkage >= short {
        return Err(SpliceError::OutOfRange {
            what: "the short fid as a share of a fid",
            given: rules.short_fid_share,
            low: shrinkage / fid,
            high: 0.9,
        });
    }
    let mut working = sizes(request, fid, short);
    working.extend(assumed);
    working.push(
        Step::new(
            "shrinkage",
            "integral over the cover's tail inside the core",
            shrinkage,
            OURS.at("strands keep their length; core and cover of equal area"),
        )
        .input("core", core),
    );
    let findings = vec![reading(request), no_grip_model(from)];
    Ok(Fids { fid, short, core, shrinkage, working, findings })
}

/// Marks that join and eye have alike: the cover's tail, and where in a core
/// it goes, from a mark `at` on that core.
pub(crate) fn mark_tail(sheet: &mut MarkSheet, fids: &Fids, at: Length, names: [&'static str; 2]) {
    let [goes_in, ends] = names;
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Cover, "cover's taper begins", fids.fid / 3.0, Shape::Arrowhead);
    sheet.mark(Part::Core, goes_in, at, Shape::PlainBand);
    sheet.mark(Part::Core, ends, at + fids.fid + fids.shrinkage, Shape::BrokenBand);
    sheet.mark(Part::Core, "puller goes in", at + fids.fid + fids.short, Shape::Cross);
}

fn sizes(request: &EndRequest, fid: Length, short: Length) -> Vec<Step> {
    let rules = request.rules;
    let cited = if rules.fid_diameters == BY_THREE {
        COMMON_PRACTICE.at("7 circumferences, each taken as 3 diameters")
    } else {
        GIVEN.at("loft's rule")
    };
    vec![
        Step::new("fid", "n d", fid, cited).input("n", rules.fid_diameters).input("d", request.rope.diameter),
        Step::new(
            "short fid",
            "share of a fid",
            short,
            COMMON_PRACTICE.at("three eighths; the ratio was read nowhere"),
        )
        .input("share", rules.short_fid_share),
    ]
}

/// Which seven circumferences are meant: the two readings are a diameter apart.
fn reading(request: &EndRequest) -> Finding {
    let given = request.rules.fid_diameters;
    let text = if given == BY_THREE {
        Sentence::new("a fid is 21 diameters here, {}: seven circumferences of three diameters each; reckoned with pi it is 22.0, or {}")
            .with(request.rope.diameter * given)
            .with(request.rope.diameter * BY_PI)
    } else {
        Sentence::new("a fid is {} diameters here, {}, as the loft has it; seven circumferences are 21 diameters at three each, and 22.0 with pi")
            .with((given * 10.0).round() / 10.0)
            .with(request.rope.diameter * given)
    };
    Finding::new(Grade::Note, "fid-reading", text, COMMON_PRACTICE.at("7 circumferences, each taken as 3 diameters"))
}

fn no_grip_model(from: Citation) -> Finding {
    let text = "core and cover lock each other in this splice: no grip margin is computed for it, tests stand for it";
    Finding::new(Grade::Note, "no-grip-model", Sentence::new(text), from)
}

/// The cover is longer than the core it comes to lie on.
pub(crate) fn take_up(longer: Length) -> Finding {
    let text = Sentence::new(
        "the length is that of the core, drawn taut; the cover has {} more on each side, and takes it up where the core is thick: milk it hard, measure the first one, and cut the next by it",
    )
    .with(longer);
    Finding::new(Grade::Note, "cover-take-up", text, OURS.at("core and cover between knot and crossing"))
}

/// The word of the test that speaks for an eye.
pub(crate) const EYE_TESTS: Citation = BITTING_1982.at("abstract");
