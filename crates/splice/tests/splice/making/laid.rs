//! Laid and plaited rope: strands long enough for their tucks.

use super::*;

/// Full tucks by fibre, and two thinned ones after them.
fn tucks(name: &str) -> (f64, f64) {
    (
        if name.contains("polyamide") {
            5.0
        } else if name.contains("manila") {
            3.0
        } else {
            4.0
        },
        2.0,
    )
}

pub(super) fn eyes(kind: EndKind) -> Vec<Case> {
    let names: &[&str] = if kind == EndKind::TuckedEye {
        &["12 mm 3-strand polyester", "14 mm 3-strand polyamide", "16 mm 3-strand manila"]
    } else {
        &["14 mm 8-plait polyamide", "20 mm 8-plait polyester"]
    };
    let mut cases = Vec::new();
    for name in names {
        let rope = rope(name);
        let d = rope.diameter.to_mm();
        let (full, thinned) = tucks(name);
        for (on, duty, strands) in [
            (pin(20.0), Duty::Running, 3.0 * d * (full + thinned)),
            // A sling's tails stand proud by six diameters, and no tuck is thinned.
            (None, Duty::Sling, 3.0 * d * full + 6.0 * d),
        ] {
            let request = EndRequest { on, duty, ..EndRequest::new(kind, &rope) };
            cases.push(Case::new(&request, move |end, marks| {
                let mut piece = Piece::of(marks);
                piece.measure("strands", piece.at("throat, tail side") - piece.at("bitter end"), strands);
                let bearing = piece.eye(["throat, tail side", "crown", "throat, standing side"], d, end);
                let cut = ASKED + end.rope_used.to_mm();
                piece.measure("finished", bearing + cut - piece.at("throat, standing side"), ASKED);
                piece.wrong
            }));
        }
    }
    cases
}

pub(super) fn short_splices() -> Vec<Case> {
    ["10 mm 3-strand polyester", "16 mm 3-strand polyamide"]
        .map(|name| {
            let rope = rope(name);
            let d = rope.diameter.to_mm();
            let (full, thinned) = tucks(name);
            Case::new(&EndRequest::new(EndKind::ShortSplice, &rope), move |end, marks| {
                let mut piece = Piece::of(marks);
                // Four circumferences for three tucks.
                let strands = full * 4.0 * PI * d / 3.0 + thinned * 3.0 * d;
                piece.measure("strands", piece.at("crossing") - piece.at("bitter end"), strands);
                piece.measure("finished", ASKED + end.rope_used.to_mm() - piece.at("crossing"), ASKED);
                piece.wrong
            })
        })
        .into()
}

pub(super) fn back_splices() -> Vec<Case> {
    ["10 mm 3-strand polyester", "16 mm 3-strand manila"]
        .map(|name| {
            let rope = rope(name);
            let d = rope.diameter.to_mm();
            Case::new(&EndRequest::new(EndKind::BackSplice, &rope), move |end, marks| {
                let mut piece = Piece::of(marks);
                // Three tucks and two thinned, and two diameters for the crown.
                piece.measure("strands", piece.at("crown") - piece.at("bitter end"), 17.0 * d);
                piece.measure("finished", ASKED + end.rope_used.to_mm() - piece.at("crown"), ASKED);
                piece.wrong
            })
        })
        .into()
}

pub(super) fn chains() -> Vec<Case> {
    [("12 mm 3-strand polyamide", 12.0), ("14 mm 8-plait polyamide", 16.0)]
        .map(|(name, bar)| {
            let rope = rope(name);
            let d = rope.diameter.to_mm();
            let (full, thinned) = tucks(name);
            let on = Some(Bearing { what: Fitting::Ring, diameter: Length::of_mm(bar) });
            let request = EndRequest { on, ..EndRequest::new(EndKind::ToChain, &rope) };
            Case::new(&request, move |end, marks| {
                let mut piece = Piece::of(marks);
                let strands = piece.at("first tuck, tail side") - piece.at("bitter end");
                piece.measure("strands", strands, 3.0 * d * (full + thinned));
                // The strands' middle runs half round the bar; the bearing
                // point is its far side.
                let turn = PI * (bar / 2.0 + d / 2.0);
                let standing = piece.at("unlay to here");
                piece.measure("round the link", standing - piece.at("first tuck, tail side"), turn);
                piece.measure("half way", standing - piece.at("round the link"), turn / 2.0);
                piece.measure("finished", bar / 2.0 + ASKED + end.rope_used.to_mm() - standing, ASKED);
                piece.wrong
            })
        })
        .into()
}
