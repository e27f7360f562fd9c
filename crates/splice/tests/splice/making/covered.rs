//! Double braids: the core's tail, the cover's tail, or each in the other.

use super::hollow::tail_and_eye;
use super::*;

fn core(outside: u32, core: f64) -> Rope {
    Rope { core_diameter: Some(Length::of_mm(core)), ..rope(&format!("{outside} mm double braid HMPE")) }
}

pub(super) fn eyes(kind: EndKind) -> Vec<Case> {
    let mut cases = Vec::new();
    for (outside, inside) in [(10, 7.5), (14, 10.5)] {
        let rope = core(outside, inside);
        let thick = if kind == EndKind::CoveredEye { f64::from(outside) } else { inside };
        let runs = if kind == EndKind::BareCoreEye { vec![None, Some(Length::of_mm(2500.0))] } else { vec![None] };
        for stripped_run in runs {
            let request = EndRequest { on: pin(12.0), stripped_run, ..EndRequest::new(kind, &rope) };
            cases.push(Case::new(&request, move |end, marks| make_eye(end, marks, thick, f64::from(outside))));
        }
    }
    cases
}

fn make_eye(end: &Layout, marks: &[Mark], thick: f64, outside: f64) -> Vec<String> {
    let bench = Bench::of(end);
    let (mut piece, bearing, mut gone) = tail_and_eye(end, marks, &bench, thick);
    if piece.has("cover begins") {
        let taken = gone - piece.at("throat, standing side");
        let (run, over) = cover_end(&mut piece, &bench, end);
        let run = run - piece.at("throat, standing side") - taken;
        // The loaded eye opens on its pin: from where it bears to the throat.
        let before = end.eye.as_ref().unwrap().bearing_to_throat.to_mm();
        piece.measure("stripped run", before + run, printed(end, "stripped run"));
        gone += over;
    } else {
        covered_eye(&mut piece, end, outside);
    }
    piece.measure("finished", bearing + ASKED + end.rope_used.to_mm() - gone, ASKED);
    piece.wrong
}

/// The cover's end inside the core: where the cover begins on the finished
/// rope, counted from the bitter end, and what the core shortens over it.
fn cover_end(piece: &mut Piece, bench: &Bench, end: &Layout) -> (f64, f64) {
    let begins = piece.at("cover begins");
    let length = begins - piece.at("cover cut here");
    piece.measure("one fid of cover", length, 21.0 * bench.d);
    piece.measure("cover's taper", begins - piece.at("cover's taper begins"), length / 3.0);
    // Five pairs evenly over two thirds, then the slant.
    let spacing = length * 2.0 / 15.0;
    let slant = spacing.min(3.0 * bench.d);
    let cover = |from_end: f64| {
        let strands = 2.0 + 2.0 * (from_end / spacing).floor().min(5.0);
        if from_end < slant { strands * from_end / slant } else { strands }
    };
    let over = bench.free_over(length, cover);
    piece.measure("cover stops", piece.at("cover's end stops here"), begins - over);
    piece.measure(
        "puller for the cover",
        piece.at("cover's end stops here") - piece.at("puller for the cover goes in"),
        end.puller_lead.unwrap().to_mm(),
    );
    (begins - (over - length), over - length)
}

fn covered_eye(piece: &mut Piece, end: &Layout, outside: f64) {
    let throat = piece.at("throat, tail side");
    piece.measure("cover parted", piece.at("cover parted, throat, tail side"), throat);
    piece.measure(
        "core comes out",
        piece.at("core comes out, throat, standing side"),
        piece.at("throat, standing side"),
    );
    piece.measure("one fid of cover", throat - piece.at("cover cut here"), 21.0 * outside);
    piece.measure("cover's taper", throat - piece.at("cover's taper begins"), 7.0 * outside);
    let clear = piece.at("cover tied back") - piece.at("puller goes in");
    piece.measure("cover tied back", clear, 20.0 * outside);
    assert!(end.gripping_diameter.to_mm() < outside);
}

pub(super) fn core_to_cover() -> Vec<Case> {
    [(10, 7.5, 2000.0), (14, 10.5, 3500.0)]
        .map(|(outside, inside, run)| {
            let rope = core(outside, inside);
            let stripped_run = Some(Length::of_mm(run));
            let request = EndRequest { stripped_run, ..EndRequest::new(EndKind::CoreToCoverJoin, &rope) };
            Case::new(&request, move |end, marks| {
                let mut piece = Piece::of(marks);
                let start = piece.at("bitter end");
                let (begins, taken) = cover_end(&mut piece, &Bench::of(end), end);
                piece.measure("stripped run", begins - start, run);
                piece.measure("finished", ASKED + end.rope_used.to_mm() - taken - start, ASKED);
                piece.wrong
            })
        })
        .into()
}

/// One fid of cover tail inside a core of the same area: the free core that
/// goes over it, after the marks that eye and join have alike.
fn fid_tail(piece: &mut Piece, end: &Layout, d: f64, fid: f64, names: [&str; 2]) -> f64 {
    let braid = Bench::of(end);
    assert!((braid.d - d / 2.0f64.sqrt()).abs() < 1e-9, "core and cover have half the area each");
    piece.measure("cover's taper", piece.at("cover's taper begins"), fid / 3.0);
    // Three pairs evenly over the last third, then the slant.
    let spacing = fid / 9.0;
    let slant = spacing.min(3.0 * braid.d);
    let strands = |from_end: f64| {
        let strands = 6.0 + 2.0 * (from_end / spacing).floor().min(3.0);
        if from_end < slant { strands * from_end / slant } else { strands }
    };
    let over = braid.free_over(fid, strands);
    piece.measure("cover's tail ends", piece.at(names[1]) - piece.at(names[0]), over);
    piece.measure("puller", piece.at("puller goes in") - piece.at(names[0]), fid * 11.0 / 8.0);
    over
}

/// The knot joins core and cover: from it each runs to the throat, and the
/// taut one, the core, settles how long the piece is.
fn make_fid_eye(end: &Layout, marks: &[Mark], d: f64, fid: f64) -> Vec<String> {
    let mut piece = Piece::of(marks);
    let out = "throat, standing side: core comes out";
    let bearing = piece.eye(["throat, tail side", "crown", out], d, end);
    let tail = piece.at("throat, tail side") - piece.at("bitter end");
    piece.measure("one fid of cover", tail, fid);
    piece.measure("core leaves", piece.at("core leaves the cover"), piece.at(out));
    piece.measure("one short fid", piece.at("cover's tail goes in") - piece.at(out), fid * 3.0 / 8.0);
    let over = fid_tail(&mut piece, end, d, fid, ["cover's tail goes in", "cover's tail ends here"]);
    piece.measure("slip knot", piece.at("slip knot") - piece.at(out), 5.0 * fid);
    // The core's tail goes once round the eye, from the crossing to the throat.
    let round = piece.at("cover's tail goes in") - piece.at("core's tail ends here");
    piece.measure("core's tail round the eye", round, piece.at(out) - piece.at("throat, tail side"));
    let cut = ASKED + end.rope_used.to_mm();
    let to_knot = piece.at("slip knot") - piece.at("cover's tail goes in") - (over - fid);
    piece.measure("finished", bearing + to_knot + cut - piece.at("slip knot"), ASKED);
    // The cover must reach: it has more rope from knot to throat than the core.
    assert!(piece.at("slip knot") - piece.at(out) > to_knot);
    piece.wrong
}

pub(super) fn fid_eyes() -> Vec<Case> {
    let mut cases = Vec::new();
    for (mm, diameters) in [(8.0, 21.0), (12.0, 21.0), (12.0, 22.0)] {
        let rope = rope(&format!("{mm} mm double braid polyester"));
        let rules = LoftRules { fid_diameters: diameters, ..LoftRules::COMMON };
        for on in [pin(1.5 * mm), None] {
            let request = EndRequest { on, rules, ..EndRequest::new(EndKind::CoreAndCoverEye, &rope) };
            cases.push(Case::new(&request, move |end, marks| make_fid_eye(end, marks, mm, diameters * mm)));
        }
    }
    cases
}

/// One rope of a join, up to the crossing: free core gone there.
fn fid_crossing(end: &Layout, marks: &[Mark], d: f64) -> (Piece, f64) {
    let mut piece = Piece::of(marks);
    let fid = 21.0 * d;
    let short = fid * 3.0 / 8.0;
    piece.measure("one fid of cover", piece.at("crossing") - piece.at("bitter end"), fid);
    piece.measure("core comes out", piece.at("core comes out") - piece.at("crossing"), short);
    let goes_in = piece.at("crossing, other cover goes in");
    piece.measure("core to the crossing", goes_in - piece.at("core comes out"), short);
    // The core's tail fills the other's empty cover, from the crossing to
    // where the other's core comes out.
    let empty = piece.at("core comes out") - piece.at("crossing");
    piece.measure("core's tail", goes_in - piece.at("core's tail ends here"), empty);
    let over = fid_tail(&mut piece, end, d, fid, ["crossing, other cover goes in", "other cover's tail ends here"]);
    (piece, goes_in + over - fid)
}

pub(super) fn fid_joins() -> Vec<Case> {
    [8.0, 12.0]
        .map(|mm| {
            let rope = rope(&format!("{mm} mm double braid polyester"));
            Case::new(&EndRequest::new(EndKind::CoreAndCoverEndToEnd, &rope), move |end, marks| {
                let (mut piece, gone) = fid_crossing(end, marks, mm);
                piece.measure("slip knot", piece.at("slip knot") - piece.at("core comes out"), 6.0 * 21.0 * mm);
                piece.measure("finished", ASKED + end.rope_used.to_mm() - gone, ASKED);
                piece.wrong
            })
        })
        .into()
}

pub(super) fn fid_rings() -> Vec<Case> {
    [(8.0, 600.0), (12.0, 900.0), (8.0, 2500.0)]
        .map(|(mm, inside)| {
            let rope = rope(&format!("{mm} mm double braid polyester"));
            let request =
                EndRequest { eye: Some(Length::of_mm(inside)), ..EndRequest::new(EndKind::CoreAndCoverLoop, &rope) };
            Case::new(&request, move |end, marks| {
                let (mut piece, gone) = fid_crossing(end, marks, mm);
                let cut = end.rope_used.to_mm();
                let knot = piece.at("slip knot");
                // A knot of each end's own, or one in the middle for both.
                let own = piece.at("core comes out") + 6.0 * 21.0 * mm;
                piece.measure("slip knot", knot, own.min(cut / 2.0));
                assert!(knot > piece.at("puller goes in") && knot <= cut / 2.0 + 5.5);
                piece.measure("loop, inside, flat", (cut - 2.0 * gone - PI * mm) / 2.0, inside);
                piece.wrong
            })
        })
        .into()
}
