//! Hollow braids: tails inside their own rope, or inside another.

use super::*;

fn hmpe(mm: u32) -> Rope {
    rope(&format!("{mm} mm 12-strand HMPE"))
}

/// An eye of a buried tail, cut to the finished length and what it uses.
pub(super) fn make_eye(end: &Layout, marks: &[Mark], bench: &Bench, thick: f64) -> Vec<String> {
    let (mut piece, bearing, gone) = tail_and_eye(end, marks, bench, thick);
    piece.measure("finished", bearing + ASKED + end.rope_used.to_mm() - gone, ASKED);
    piece.wrong
}

/// The piece, its bearing point from the throat, and the free rope that the
/// eye and its bury take from the bitter end, less the bury as made.
pub(super) fn tail_and_eye(end: &Layout, marks: &[Mark], bench: &Bench, thick: f64) -> (Piece, f64, f64) {
    let mut piece = Piece::of(marks);
    piece.taper(bench, end);
    let bury = piece.at("throat, tail side") - piece.at("bitter end");
    piece.measure("bury", bury, end.bury.unwrap().to_mm());
    let bearing = piece.eye(["throat, tail side", "crown", "throat, standing side"], thick, end);
    let standing = piece.at("throat, standing side");
    let over = bench.free_over(bury, piece.tail());
    let tail_end = piece.at("tail ends here");
    piece.measure("tail's end", tail_end, standing + over);
    piece.measure("puller", piece.at("puller goes in") - tail_end, end.puller_lead.unwrap().to_mm());
    (piece, bearing, standing + over - bury)
}

pub(super) fn eyes(kind: EndKind) -> Vec<Case> {
    let mut cases = Vec::new();
    for mm in [6, 10, 16] {
        let rope = hmpe(mm);
        for (on, taper) in [
            (pin(1.2 * f64::from(mm)), TaperWish::Common),
            (None, TaperWish::None),
            (pin(3.0 * f64::from(mm)), TaperWish::Chosen),
            (None, TaperWish::HalfAtOnce),
        ] {
            let request = EndRequest { on, taper, ..EndRequest::new(kind, &rope) };
            cases.push(Case::new(&request, move |end, marks| make_eye(end, marks, &Bench::of(end), f64::from(mm))));
        }
    }
    let rope = hmpe(10);
    let measured = BenchMeasures {
        pitch: Some(Length::of_mm(88.0)),
        over_bury: Some(Length::of_mm(14.6)),
        ..BenchMeasures::default()
    };
    let request = EndRequest { measured, ..EndRequest::new(kind, &rope) };
    cases.push(Case::new(&request, |end, marks| make_eye(end, marks, &Bench::measured(end, 14.6), 10.0)));
    cases
}

pub(super) fn strops() -> Vec<Case> {
    let strop = |mm: u32, long: f64| {
        let rope = hmpe(mm);
        let finished = Some(Length::of_mm(long));
        let request = EndRequest { on: pin(1.5 * f64::from(mm)), finished, ..EndRequest::new(EndKind::Strop, &rope) };
        Case::new(&request, move |end, marks| {
            let (mut piece, bearing, gone) = tail_and_eye(end, marks, &Bench::of(end), f64::from(mm));
            let between = end.rope_used.to_mm() - 2.0 * gone;
            piece.measure("bearing point to bearing point", 2.0 * bearing + between, long);
            piece.wrong
        })
    };
    vec![strop(10, 4000.0), strop(6, 1500.0)]
}

/// Tails past each other: what is wrong so far, and rope gone to the crossing.
fn crossing(end: &Layout, marks: &[Mark]) -> (Piece, f64) {
    let bench = Bench::of(end);
    let mut piece = Piece::of(marks);
    piece.taper(&bench, end);
    let bury = piece.at("crossing") - piece.at("bitter end");
    piece.measure("bury", bury, end.bury.unwrap().to_mm());
    let over = bench.free_over(bury, piece.tail());
    let tail_end = piece.at("other tail ends here");
    piece.measure("other tail's end", tail_end, piece.at("crossing") + over);
    piece.measure("puller", piece.at("puller goes in") - tail_end, end.puller_lead.unwrap().to_mm());
    let gone = piece.at("crossing") + over - bury;
    (piece, gone)
}

pub(super) fn joins() -> Vec<Case> {
    [6, 10]
        .map(|mm| {
            Case::new(&EndRequest::new(EndKind::EndToEnd, &hmpe(mm)), |end, marks| {
                let (mut piece, gone) = crossing(end, marks);
                piece.measure("finished", ASKED + end.rope_used.to_mm() - gone, ASKED);
                piece.wrong
            })
        })
        .into()
}

pub(super) fn rings() -> Vec<Case> {
    [(6, 520.0), (10, 900.0)]
        .map(|(mm, inside)| {
            let rope = hmpe(mm);
            let request =
                EndRequest { eye: Some(Length::of_mm(inside)), ..EndRequest::new(EndKind::EndlessLoop, &rope) };
            Case::new(&request, move |end, marks| {
                let (mut piece, gone) = crossing(end, marks);
                let middle = end.rope_used.to_mm() - 2.0 * gone;
                piece.measure("loop, inside, flat", (middle - PI * f64::from(mm)) / 2.0, inside);
                piece.wrong
            })
        })
        .into()
}

/// An adjustable loop at its largest.
fn make_adjustable(end: &Layout, marks: &[Mark]) -> Vec<String> {
    let bench = Bench::of(end);
    let mut piece = Piece::of(marks);
    let names = ["throat, tail side, when largest", "crown", "throat, standing side"];
    let bearing = piece.eye(names, bench.d, end);
    let outside = piece.at("comes out when largest") - piece.at("bitter end");
    piece.measure("tail outside", outside, 10.0 * bench.d);
    piece.measure("stopper", piece.at("stopper"), outside / 2.0);
    let bury = piece.at(names[0]) - piece.at("comes out when largest");
    piece.measure("bury", bury, end.bury.unwrap().to_mm());
    let travel = piece.at("comes out when smallest") - piece.at("comes out when largest");
    let eye = end.eye.unwrap().inside.to_mm();
    piece.measure("travel", travel, eye);
    let over = bench.free_over(bury, |_| 12.0);
    piece.measure("comes out", piece.at("tail comes out, puller goes in"), piece.at(names[2]) + over);
    let cut = ASKED + end.rope_used.to_mm();
    piece.measure("finished", bearing + cut - piece.at(names[2]) - (over - bury), ASKED);
    piece.wrong
}

pub(super) fn adjustable() -> Vec<Case> {
    [(6, 200.0), (10, 300.0)]
        .map(|(mm, eye)| {
            let rope = hmpe(mm);
            let request = EndRequest {
                eye: Some(Length::of_mm(eye)),
                on: pin(12.0),
                ..EndRequest::new(EndKind::AdjustableLoop, &rope)
            };
            Case::new(&request, make_adjustable)
        })
        .into()
}

/// A soft shackle, closed and pulled flat.
fn make_shackle(end: &Layout, marks: &[Mark], inside: f64) -> Vec<String> {
    let bench = Bench::of(end);
    let mut piece = Piece::of(marks);
    let d = bench.d;
    let tail = piece.at("knot ends, thin from here") - piece.at("bitter end");
    piece.measure("tail", tail, 20.0 * d);
    piece.measure("knot", piece.at("knot begins") - piece.at("knot ends, thin from here"), 16.0 * d);
    // Six strands of the tail inside its own leg, on the slant at the end.
    let over = bench.free_over(tail, |from_end| 6.0 * (from_end / (3.0 * d)).min(1.0));
    piece.measure("tail's end", piece.at("tail ends here") - piece.at("knot begins"), over);
    piece.measure("half of the small eye", piece.at("middle") - piece.at("neck of the eye"), 5.0 * d);
    piece.measure("middle", piece.at("middle"), end.rope_used.to_mm() / 2.0);
    let leg = piece.at("middle") - piece.at("knot begins") - (over - tail);
    // The eye's rope lies half its thickness under the knot, and its far side
    // a whole one beyond the middle of the neck.
    let ring = leg - d / 2.0 - d;
    piece.measure("inside, flat", (ring - PI * d) / 2.0, inside);
    piece.wrong
}

pub(super) fn shackles() -> Vec<Case> {
    [(6, 90.0), (10, 200.0)]
        .map(|(mm, inside)| {
            let rope = hmpe(mm);
            let request =
                EndRequest { eye: Some(Length::of_mm(inside)), ..EndRequest::new(EndKind::SoftShackle, &rope) };
            Case::new(&request, move |end, marks| make_shackle(end, marks, inside))
        })
        .into()
}

/// Two ropes, each with the other's tail inside.
fn make_unlike(end: &Layout, marks: &[Mark]) -> Vec<String> {
    let here = Bench::of(end);
    let there = here.alike(printed(end, "other rope's diameter"));
    let (mut this, mut that) = (Piece::of(marks), Piece::other(marks));
    let area = (there.d / here.d).powi(2);
    let (own_tail, other_tail) = (this.tail(), that.tail());
    this.taper(&here, end);
    for mark in that.marks.clone().iter().filter(|mark| mark.shape == Shape::Arrowhead) {
        let at = mark.from_bitter_end.count() as f64;
        that.measure(mark.name, at, (at / there.pick()).round() * there.pick());
    }
    // Both are cut on the same slant.
    that.measure("slant", that.at("slanted cut begins"), end.slanted_cut.unwrap().to_mm());
    let lead = end.puller_lead.unwrap().to_mm();
    let finish = |piece: &mut Piece, bench: &Bench, inside: &dyn Fn(f64) -> f64, used: f64| {
        let bury = piece.at("crossing") - piece.at("bitter end");
        piece.measure("bury", bury, end.bury.unwrap().to_mm());
        let over = bench.free_over(bury, inside);
        piece.measure("other tail's end", piece.at("other tail ends here"), piece.at("crossing") + over);
        piece.measure("puller", piece.at("puller goes in") - piece.at("other tail ends here"), lead);
        piece.measure("finished", ASKED + used - piece.at("crossing") - (over - bury), ASKED);
    };
    finish(&mut this, &here, &|from_end| area * other_tail(from_end), end.rope_used.to_mm());
    finish(&mut that, &there, &|from_end| own_tail(from_end) / area, printed(end, "rope used of the other"));
    this.wrong.extend(that.wrong);
    this.wrong
}

pub(super) fn unlike() -> Vec<Case> {
    let core = Rope { core_diameter: Some(Length::of_mm(8.0)), ..rope("10 mm double braid HMPE") };
    [
        (hmpe(10), "12 mm double braid polyester"),
        (hmpe(10), "8 mm double braid polyester"),
        (hmpe(12), "10 mm double braid polyester"),
        (core, "8 mm double braid polyester"),
    ]
    .map(|(own, other)| {
        let other = rope(other);
        let request = EndRequest { other: Some(&other), ..EndRequest::new(EndKind::UnlikeRopes, &own) };
        Case::new(&request, make_unlike)
    })
    .into()
}

/// A reeving loop: a tail of half the strands, or an empty cover's.
fn make_reeving(end: &Layout, marks: &[Mark], d: f64, covered: bool) -> Vec<String> {
    let mut piece = Piece::of(marks);
    let tail = piece.at("throat, tail side") - piece.at("bitter end");
    piece.measure("tail", tail, 12.0 * d);
    let rope = piece.at("throat, standing side") - piece.at("throat, tail side");
    piece.measure("crown", piece.at("crown") - piece.at("throat, tail side"), rope / 2.0);
    // The loop's rope has half the area.
    let inside = (rope - PI * d * 0.5f64.sqrt() / 2.0) / 2.0;
    piece.measure("loop, inside, flat", inside, printed(end, "loop, inside, flat"));
    let over = if covered { tail } else { Bench::of(end).free_over(tail, |_| 6.0) };
    piece.measure("tail's end", piece.at("tail ends here"), piece.at("throat, standing side") + over);
    if covered {
        piece.measure("core cut off", piece.at("core cut here"), piece.at("tail ends here"));
    }
    let cut = ASKED + end.rope_used.to_mm();
    piece.measure("finished", inside + cut - piece.at("throat, standing side") - (over - tail), ASKED);
    piece.wrong
}

pub(super) fn reeving() -> Vec<Case> {
    [("10 mm 12-strand HMPE", false), ("10 mm double braid polyester", true), ("16 mm double braid HMPE", true)]
        .map(|(name, covered)| {
            let rope = rope(name);
            let d = rope.diameter.to_mm();
            Case::new(&EndRequest::new(EndKind::ReevingLoop, &rope), move |end, marks| {
                make_reeving(end, marks, d, covered)
            })
        })
        .into()
}
