//! Ends that are only kept from fraying: whipped or heat-sealed.
//!
//! They carry nothing. A common whipping suits braid for a time, a
//! sailmaker's whipping is locked along the lay of strands, a stitched one is
//! sewn through and suits braid for good.

use super::bench;
use crate::layout::{Layout, Part, Shape};
use crate::marks::MarkSheet;
use crate::stitching::{twine_for, whipping};
use crate::{EndKind, EndRequest, Layout as End, SpliceError, Stitching};
use cordage::{Construction, Fibre};
use sources::{COMMON_PRACTICE, Finding, Grade, Step};
use units::{Length, Sentence};

/// Length of a whipping in rope diameters.
const LONG: f64 = 1.5;
/// Rope left beyond the whipping, in diameters.
const BEYOND: f64 = 0.5;
/// Rope melted back when an end is sealed, in diameters.
const MELTED: f64 = 0.5;

/// The layout of a whipped or sealed end.
pub(crate) fn lay_out(request: &EndRequest) -> Result<End, SpliceError> {
    if request.kind == EndKind::SealedEnd { Ok(sealed(request)) } else { Ok(whipped(request)) }
}

/// The whipping that suits a construction.
fn suited(request: &EndRequest) -> EndKind {
    match (request.kind, request.rope.construction) {
        (EndKind::WhippedEnd, Construction::ThreeStrand | Construction::EightPlait) => EndKind::SailmakersWhipping,
        (EndKind::WhippedEnd, _) => EndKind::StitchedWhipping,
        (kind, _) => kind,
    }
}

fn whipped(request: &EndRequest) -> Layout {
    let diameter = request.rope.diameter;
    let long = diameter * LONG;
    let beyond = diameter * BEYOND;
    let kind = suited(request);
    let stitching = vec![pattern(kind, diameter, long)];
    let mut sheet = MarkSheet::default();
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Rope, "whipping ends", beyond, Shape::PlainBand);
    sheet.mark(Part::Rope, "whipping begins", beyond + long, Shape::PlainBand);
    let steps = vec![
        Sentence::new("tape the end, cut it square through the tape"),
        Sentence::new("put on a {} of {} from {} to {} off the end, hauled as tight as the twine stands")
            .with(kind.name())
            .with(long)
            .with(beyond)
            .with(beyond + long),
        Sentence::new("take off the tape; seal the yarns' ends lightly where the fibre melts"),
    ];
    let working = vec![
        Step::new("whipping", "1.5 d", long, COMMON_PRACTICE.at("length of a whipping")).input("d", diameter),
        Step::new(
            "rope used",
            "nothing: length is measured to the cut end",
            Length::ZERO,
            COMMON_PRACTICE.at("a whipped end adds nothing"),
        ),
    ];
    plain(
        request,
        sheet,
        stitching,
        Sheet { steps, working, rope_used: Length::ZERO, minutes: 10.0, findings: Vec::new() },
    )
}

fn sealed(request: &EndRequest) -> Layout {
    let diameter = request.rope.diameter;
    let melted = diameter * MELTED;
    let mut sheet = MarkSheet::default();
    sheet.mark(Part::Rope, "bitter end", Length::ZERO, Shape::PlainBand);
    sheet.mark(Part::Rope, "melt back to here", melted, Shape::PlainBand);
    let mut findings = Vec::new();
    if chars(request.rope.fibre) || request.rope.cover_fibre.is_some_and(chars) {
        let text =
            Sentence::new("{} chars and does not melt: it cannot be sealed by heat").with(request.rope.fibre.name());
        findings.push(
            Finding::new(Grade::Stop, "does-not-melt", text, sources::FIBRE_MEMORY.at("fibre table"))
                .remedy(Sentence::new("make a stitched whipping")),
        );
    }
    let steps = vec![
        Sentence::new("tape the end and cut it through the tape with a hot knife, in moving air"),
        Sentence::new("melt back {} and press it round, no thicker than the rope; it is hot for a minute").with(melted),
    ];
    let working =
        vec![Step::new("rope used", "0.5 d", melted, COMMON_PRACTICE.at("rope melted back")).input("d", diameter)];
    plain(request, sheet, Vec::new(), Sheet { steps, working, rope_used: melted, minutes: 3.0, findings })
}

fn chars(fibre: Fibre) -> bool {
    matches!(fibre, Fibre::Aramid | Fibre::Lcp | Fibre::Pbo | Fibre::Manila)
}

fn pattern(kind: EndKind, diameter: Length, long: Length) -> Stitching {
    let reason = Sentence::new("keeps the end from fraying; it carries nothing");
    let twine = twine_for(diameter);
    let base = whipping(kind.name(), diameter, long, twine, reason);
    match kind {
        EndKind::SailmakersWhipping => Stitching {
            pattern: Sentence::new("turns over {}, then twine frapped over them along each groove between strands, and locked in the middle of the rope").with(long),
            length: (base.length.to_length() + diameter * 12.0).up_to_mm(),
            ..base
        },
        EndKind::StitchedWhipping => Stitching {
            pattern: Sentence::new("sewn through twice, turns over {}, then three or four frapping turns along the rope, each sewn through at both ends").with(long),
            length: (base.length.to_length() + diameter * 20.0).up_to_mm(),
            ..base
        },
        _ => base,
    }
}

struct Sheet {
    steps: Vec<Sentence>,
    working: Vec<Step>,
    rope_used: Length,
    minutes: f64,
    findings: Vec<Finding>,
}

fn plain(request: &EndRequest, marks: MarkSheet, stitching: Vec<Stitching>, sheet: Sheet) -> Layout {
    Layout {
        kind: request.kind,
        gripping_diameter: request.rope.diameter,
        eye: None,
        bury: None,
        taper: Vec::new(),
        slanted_cut: None,
        marks: marks.numbered(),
        puller_lead: None,
        shrinkage: Length::ZERO,
        rope_used: sheet.rope_used,
        finished: None,
        stitching,
        steps: sheet.steps,
        tools: bench::WHIP_TOOLS.to_vec(),
        time: bench::minutes(sheet.minutes),
        cautions: bench::cautions(),
        grip: None,
        weak_points: Vec::new(),
        strength_share: None,
        findings: sheet.findings,
        working: sheet.working,
    }
}
