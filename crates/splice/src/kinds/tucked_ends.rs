//! Tucked ends beside the laid eye: short splice, back splice, 8-plait, chain.
//!
//! Tucks by fibre as in the tucked eye. A short splice is tucked both ways from
//! where the ropes are married, and its strands are unlaid longer; a back
//! splice starts with a crown; an 8-plait is tucked in pairs, left under left
//! and right under right; a chain's link takes the place of the eye. What the
//! tucks take up is not modelled.

use super::bench;
use super::tucked::{Tucks, tails, tucks, unmodelled};
use crate::eye::eye;
use crate::layout::{Layout, Part, Shape};
use crate::marks::{MarkSheet, number};
use crate::stitching::{twine_for, whipping};
use crate::weak::basis_finding;
use crate::{EndKind, EndRequest, Fitting, SpliceError};
use cordage::Construction;
use sources::{COMMON_PRACTICE, EXACT, FRY, Finding, Grade, Step};
use units::{Length, Sentence};

/// Strand for a tuck of a short splice, in diameters: four circumferences for
/// three tucks, a circumference taken as pi diameters.
const SHORT_SPLICE_PER_TUCK: f64 = 4.0 * std::f64::consts::PI / 3.0;
/// Strand that a crown takes, in diameters. Common practice.
const CROWN: f64 = 2.0;

/// The layout of a tucked end other than the laid eye.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    let tucks = tucks(request);
    let mut layout = Layout {
        tools: bench::TUCK_TOOLS.to_vec(),
        findings: tucks.findings.clone(),
        working: tucks.working.clone(),
        ..Layout::of(request, bench::minutes(30.0))
    };
    layout.findings.push(unmodelled());
    layout.findings.extend(basis_finding(request.rope));
    match request.kind {
        EndKind::ShortSplice => short_splice(request, &tucks, &mut layout),
        EndKind::BackSplice => back_splice(request, &tucks, &mut layout),
        EndKind::ToChain => to_chain(request, &tucks, &mut layout)?,
        _ => plait_eye(request, &tucks, &mut layout)?,
    }
    Ok(layout)
}

fn short_splice(request: &EndRequest, tucks: &Tucks, layout: &mut Layout) {
    let d = request.rope.diameter;
    let unlay =
        d * (SHORT_SPLICE_PER_TUCK * f64::from(tucks.full)) + d * (3.0 * f64::from(tucks.finishing)) + tucks.tail;
    let mut sheet = MarkSheet::default();
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Rope, "crossing", unlay, Shape::ClosedBand);
    layout.marks = sheet.numbered();
    layout.rope_used = unlay;
    layout.working.push(
        Step::new(
            "strand to unlay, each rope",
            "4 circumferences for 3 tucks, 3 d a finishing tuck, and the tail",
            unlay,
            FRY.at("p. 58"),
        )
        .input("d", d)
        .input("full tucks", tucks.full)
        .input("tail", tucks.tail),
    );
    layout.findings.push(Finding::new(
        Grade::Note,
        "thick-splice",
        Sentence::new("a short splice is about twice as thick as its rope: it passes no sheave made for the rope"),
        COMMON_PRACTICE.at("short splice"),
    ));
    layout.steps = vec![
        bench::set_out(request),
        Sentence::new("seize both ropes at mark {}, unlay both to it, and tape each strand").with(number(
            &layout.marks,
            Part::Rope,
            "crossing",
        )),
        Sentence::new("marry the ropes, each strand between two of the other's, and draw them hard together"),
        Sentence::new(
            "tuck each strand against the lay over one, under one, {} full tucks on one side, then {} on the other",
        )
        .with(tucks.full)
        .with(tucks.full),
        tails(request, tucks),
        Sentence::new("roll it to bed the strands, pull to {} three times, nobody in line with it, and measure at {}")
            .with(bench::setting_load(request))
            .with(bench::tension(request)),
    ];
}

fn back_splice(request: &EndRequest, tucks: &Tucks, layout: &mut Layout) {
    let d = request.rope.diameter;
    let unlay = d * (3.0 * f64::from(3 + tucks.finishing) + CROWN);
    let mut sheet = MarkSheet::default();
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Rope, "crown", unlay, Shape::ClosedBand);
    layout.marks = sheet.numbered();
    layout.rope_used = unlay;
    layout.working.push(
        Step::new(
            "strand to unlay",
            "3 d for each of 3 tucks and the finishing ones, 2 d for the crown",
            unlay,
            COMMON_PRACTICE.at("a back splice carries nothing: 3 tucks"),
        )
        .input("d", d),
    );
    layout.steps = vec![
        bench::set_out(request),
        Sentence::new("seize the rope at mark {}, unlay it to there and tape each strand").with(number(
            &layout.marks,
            Part::Rope,
            "crown",
        )),
        Sentence::new(
            "crown the strands, each down over the next and the last through the first's bight, and draw the crown square",
        ),
        Sentence::new(
            "tuck each strand over one, under one, three times, then {} thinned tucks; cut the ends a little proud",
        )
        .with(tucks.finishing),
        Sentence::new("roll it round; it is thicker than the rope and passes no block made for it"),
    ];
}

/// Bar of a chain's end link: given as the fitting.
fn to_chain(request: &EndRequest, tucks: &Tucks, layout: &mut Layout) -> Result<(), SpliceError> {
    let missing = SpliceError::Missing {
        kind: request.kind,
        what: "what it goes on: the diameter of the chain link's bar, as a ring",
    };
    let link = request.on.filter(|on| on.what == Fitting::Ring).ok_or(missing)?;
    if link.diameter <= Length::ZERO {
        return Err(SpliceError::NotAboveZero { what: "the link's bar", given: link.diameter });
    }
    let d = request.rope.diameter;
    // The strands, together no thicker than the rope, turn half round the bar
    // and come together level with its middle; the bearing point is the bar's
    // far side, half its diameter from there.
    let turn = (link.diameter + d) * std::f64::consts::FRAC_PI_2;
    let used = tucks.unlay + turn - link.diameter / 2.0;
    let mut sheet = MarkSheet::default();
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Rope, "first tuck, tail side", tucks.unlay, Shape::PlainBand);
    sheet.mark(Part::Rope, "round the link", tucks.unlay + turn / 2.0, Shape::PlainBand);
    sheet.mark(Part::Rope, "unlay to here", tucks.unlay + turn, Shape::ClosedBand);
    layout.marks = sheet.numbered();
    layout.rope_used = used;
    layout.working.push(
        Step::new("half turn round the link", "pi (D + d) / 2", turn, EXACT.at("geometry"))
            .input("D", link.diameter)
            .input("d", d),
    );
    layout.working.push(
        Step::new("rope used", "strand unlaid + the turn - D/2", used, EXACT.at("bearing point on the bar's far side"))
            .input("unlaid", tucks.unlay),
    );
    let how = if request.rope.construction == Construction::EightPlait {
        "take two pairs through the link from each side, and tuck them back in pairs, left under left and right under right, {} full tucks"
    } else {
        "take one strand through the link one way and two the other, and tuck all three back against the lay, {} full tucks"
    };
    layout.steps = vec![
        bench::set_out(request),
        Sentence::new("seize the rope at mark {}, unlay it to there and tape each strand").with(number(&layout.marks, Part::Rope, "unlay to here")),
        Sentence::new(how).with(tucks.full),
        tails(request, tucks),
        Sentence::new("pull to {} three times, nobody in line with it; the strands must lie tight in the link and not chafe on its weld").with(bench::setting_load(request)),
        Sentence::new("look at it often: rope in a link wears, and the splice is cut off and made again at the first flattened yarns"),
    ];
    let text = Sentence::new(
        "the bend round a link's bar of {} is sharper than twice the rope: what it costs is in no open table",
    )
    .with(link.diameter);
    if link.diameter < d * 2.0 {
        layout.findings.push(
            Finding::new(Grade::Caution, "tight-crown", text, sources::GL_0027.at("7.8, eye not under 2 d"))
                .remedy(Sentence::new("use a thimble and a shackle where the windlass allows")),
        );
    }
    Ok(())
}

fn plait_eye(request: &EndRequest, tucks: &Tucks, layout: &mut Layout) -> Result<(), SpliceError> {
    let d = request.rope.diameter;
    let answer = eye(request, d)?;
    let eye = answer.eye;
    let mut sheet = MarkSheet::default();
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Rope, "throat, tail side", tucks.unlay, Shape::ClosedBand);
    sheet.mark(Part::Rope, "crown", tucks.unlay + eye.rope / 2.0, Shape::PlainBand);
    sheet.mark(Part::Rope, "throat, standing side", tucks.unlay + eye.rope, Shape::ClosedBand);
    layout.marks = sheet.numbered();
    layout.rope_used = tucks.unlay + eye.rope - eye.bearing_to_throat;
    layout.eye = Some(eye);
    layout.findings.extend(answer.findings);
    layout.working.extend(answer.working);
    layout.working.push(
        Step::new(
            "rope used",
            "strand unlaid + rope in the eye - bearing point to throat",
            layout.rope_used,
            EXACT.at("sum"),
        )
        .input("unlaid", tucks.unlay)
        .input("rope in the eye", eye.rope)
        .input("bearing point to throat", eye.bearing_to_throat),
    );
    layout.stitching = vec![whipping(
        "throat whipping",
        d * 1.4,
        d,
        twine_for(d),
        Sentence::new("keeps the throat's first tuck from opening"),
    )];
    layout.findings.push(Finding::new(
        Grade::Note,
        "plait-tucks",
        Sentence::new(
            "the number of tucks of an 8-plait was read nowhere: that of laid rope of the same fibre is taken",
        ),
        COMMON_PRACTICE.at("8-plait, tucks in pairs"),
    ));
    let n = |name| number(&layout.marks, Part::Rope, name);
    let mut steps = vec![
        bench::set_out(request),
        Sentence::new("seize the rope at mark {}, part it into its four pairs down to there, and tape them")
            .with(n("throat, tail side")),
    ];
    steps.extend(bench::reeve_closed(request, bench::REEVE_EYE));
    steps.extend([
        Sentence::new("lay mark {} on mark {}; tuck each left-handed pair under left-handed pairs and each right-handed pair under right-handed ones, both of a pair together")
            .with(n("throat, tail side"))
            .with(n("throat, standing side")),
        Sentence::new("haul down and go on until every pair has {} full tucks").with(tucks.full),
        tails(request, tucks),
        Sentence::new("pull to {} three times, nobody in line with it, and measure from bearing point to the other end at {}, within {}")
            .with(bench::setting_load(request))
            .with(bench::tension(request))
            .with(request.rules.tolerance),
    ]);
    layout.steps = steps;
    Ok(())
}
