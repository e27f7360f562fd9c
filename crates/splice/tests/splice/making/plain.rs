//! Ends that are only kept from fraying.

use super::*;

pub(super) fn whippings(kind: EndKind) -> Vec<Case> {
    ["8 mm 3-strand polyester", "14 mm 3-strand polyamide", "12 mm 8-plait polyamide"]
        .map(|name| {
            let rope = rope(name);
            let d = rope.diameter.to_mm();
            Case::new(&EndRequest::new(kind, &rope), move |end, marks| {
                let mut piece = Piece::of(marks);
                let start = piece.at("bitter end");
                piece.measure("beyond the whipping", piece.at("whipping ends") - start, d / 2.0);
                piece.measure("whipping", piece.at("whipping begins") - piece.at("whipping ends"), 1.5 * d);
                piece.measure("finished", ASKED + end.rope_used.to_mm() - start, ASKED);
                piece.wrong
            })
        })
        .into()
}

pub(super) fn sealed() -> Vec<Case> {
    ["8 mm 12-strand HMPE", "14 mm 3-strand polyamide"]
        .map(|name| {
            let rope = rope(name);
            let d = rope.diameter.to_mm();
            Case::new(&EndRequest::new(EndKind::SealedEnd, &rope), move |end, marks| {
                let mut piece = Piece::of(marks);
                let melted = piece.at("melt back to here") - piece.at("bitter end");
                piece.measure("melted", melted, d / 2.0);
                piece.measure("finished", ASKED + end.rope_used.to_mm() - piece.at("melt back to here"), ASKED);
                piece.wrong
            })
        })
        .into()
}
