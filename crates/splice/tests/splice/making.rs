//! A piece is made here from free rope and the printed marks alone.
//!
//! The bench below shares no code with the layout: it knows the rope (diameter,
//! strand angle and how far a tail opens it, as the card prints them), lays the
//! marks on it, pulls tails inside, lets every braid shorten turn by turn as
//! its strands keep their length, and measures what came out with a rule good
//! to a millimetre. Every mark moved by 5 mm must be noticed.

use cordage::{Rope, generic};
use splice::*;
use std::f64::consts::PI;
use units::{Length, Millimetres, Value};

const RULE: f64 = 1.01;

/// The rope on the bench, in mm.
struct Bench {
    radius: f64,
    opened: f64,
    turn: f64,
    d: f64,
}

/// The marks on it, and what is wrong with the piece so far.
struct Piece<'a> {
    marks: &'a [Mark],
    wrong: Vec<String>,
}

impl Bench {
    /// As the card says it was assumed to be.
    fn of(end: &Layout, d: f64) -> Bench {
        let printed = |what: &str| match end.working.iter().find(|step| step.what == what).unwrap().result {
            Value::Angle(angle) => angle.to_degrees().to_radians(),
            Value::Number(number) => number,
            ref other => unreachable!("{other:?}"),
        };
        let opened = d * (3.0f64 / 8.0).sqrt();
        let radius = opened / printed("inflation");
        Bench { radius, opened, turn: 2.0 * PI * radius / printed("strands' angle, free").sin(), d }
    }

    /// Rope length of one turn where the tail has so many of its 12 strands.
    fn pitch(&self, strands: f64) -> f64 {
        let radius = (self.radius.powi(2) + strands / 12.0 * (self.opened.powi(2) - self.radius.powi(2))).sqrt();
        (self.turn.powi(2) - (2.0 * PI * radius).powi(2)).sqrt()
    }

    /// Free braid that goes over a tail of a length, slice by slice.
    fn free_over(&self, length: f64, strands_at: impl Fn(f64) -> f64) -> f64 {
        let count = (length * 20.0).ceil();
        let slice = length / count;
        (0..count as u64).map(|i| slice * self.pitch(0.0) / self.pitch(strands_at((i as f64 + 0.5) * slice))).sum()
    }

    fn pick(&self) -> f64 {
        self.pitch(0.0) / 6.0
    }
}

impl Piece<'_> {
    fn at(&self, name: &str) -> f64 {
        self.marks
            .iter()
            .find(|mark| mark.name == name)
            .unwrap_or_else(|| unreachable!("no {name}"))
            .from_bitter_end
            .count() as f64
    }

    fn has(&self, name: &str) -> bool {
        self.marks.iter().any(|mark| mark.name == name)
    }

    /// Measured against asked, with the rule.
    fn measure(&mut self, what: &str, measured: f64, asked: f64) {
        if (measured - asked).abs() > RULE {
            self.wrong.push(format!("{what}: {measured:.2} for {asked:.2}"));
        }
    }

    /// Strands of the tail at a distance from its end, by the marks on it.
    fn tail(&self) -> impl Fn(f64) -> f64 + use<> {
        let out = self.marks.iter().filter(|mark| mark.shape == Shape::Arrowhead && mark.part != Part::Cover);
        let out = out.map(|mark| mark.from_bitter_end.count() as f64).collect::<Vec<_>>();
        let cut = if self.has("slanted cut begins") { self.at("slanted cut begins") } else { 0.0 };
        move |from_end| {
            let strands = 12.0 - 2.0 * out.iter().filter(|at| **at > from_end).count() as f64;
            if from_end < cut { strands * from_end / cut } else { strands }
        }
    }

    /// Taper: strands out on whole picks, and the slant as long as asked.
    fn taper(&mut self, bench: &Bench, end: &Layout) {
        for mark in self.marks.iter().filter(|mark| mark.shape == Shape::Arrowhead && mark.part != Part::Cover) {
            let at = mark.from_bitter_end.count() as f64;
            let pick = bench.pick();
            self.measure(mark.name, at, (at / pick).round() * pick);
        }
        if let Some(cut) = end.slanted_cut {
            self.measure("slant", self.at("slanted cut begins"), cut.to_mm());
        }
    }

    /// An eye on its pin, bearing point to throat, from the rope in it.
    fn eye(&mut self, names: [&str; 3], thick: f64, end: &Layout) -> f64 {
        let [tail, crown, standing] = names.map(|name| self.at(name));
        self.measure("crown is half way", crown - tail, standing - crown);
        let inside = (standing - tail - PI * thick / 2.0) / 2.0;
        let eye = end.eye.unwrap();
        self.measure("eye, inside, flat", inside, eye.inside.to_mm());
        let Some(on) = eye.on else { return inside };
        // The opened eye by trial: the inside line is two straights and an arc.
        let r = on.diameter.to_mm() / 2.0;
        let line = |far: f64| (far * far - r * r).sqrt() + r * (PI - (r / far).acos());
        let (mut near, mut far) = (r * 1.0001, inside + r);
        for _ in 0..100 {
            let middle = (near + far) / 2.0;
            if line(middle) < inside { near = middle } else { far = middle }
        }
        far + r
    }
}

fn pin(mm: f64) -> Option<Bearing> {
    Some(Bearing { what: Fitting::Pin, diameter: Length::of_mm(mm) })
}

fn hmpe() -> Rope {
    generic("10 mm 12-strand HMPE").unwrap()
}

fn covered() -> Rope {
    Rope { core_diameter: Some(Length::of_mm(7.5)), ..generic("10 mm double braid HMPE").unwrap() }
}

/// Finished length that is asked for in every piece, mm.
const ASKED: f64 = 4000.0;

/// A long-bury eye: what is wrong when it is made of these marks.
fn make_eye(end: &Layout, marks: &[Mark], thick: f64) -> Vec<String> {
    let bench = Bench::of(end, end.gripping_diameter.to_mm());
    let mut piece = Piece { marks, wrong: Vec::new() };
    piece.taper(&bench, end);
    let start = piece.at("bitter end");
    let bury = piece.at("throat, tail side") - start;
    piece.measure("bury", bury, end.bury.unwrap().to_mm());
    let bearing = piece.eye(["throat, tail side", "crown", "throat, standing side"], thick, end);
    let standing = piece.at("throat, standing side");
    let over = bench.free_over(bury, piece.tail());
    let tail_end = piece.at("tail ends here");
    piece.measure("tail's end", tail_end, standing + over);
    piece.measure("puller", piece.at("puller goes in") - tail_end, end.puller_lead.unwrap().to_mm());
    // Cut to the finished length and what the end uses, then measured.
    let mut cut = ASKED + end.rope_used.to_mm();
    let mut taken = over - bury;
    if piece.has("cover begins") {
        taken += cover_end(&mut piece, &bench, end, (standing, taken));
    }
    if piece.has("core comes out, throat, standing side") {
        covered_eye(&mut piece, end);
    }
    cut -= standing + taken;
    piece.measure("finished", bearing + cut, ASKED);
    piece.wrong
}

/// The cover's end inside the core: what the core shortens over it.
fn cover_end(piece: &mut Piece, bench: &Bench, end: &Layout, (standing, taken): (f64, f64)) -> f64 {
    let begins = piece.at("cover begins");
    let length = begins - piece.at("cover cut here");
    piece.measure("one fid of cover", length, 21.0 * bench.d);
    piece.measure("cover's taper", begins - piece.at("cover's taper ends"), length / 3.0);
    // Five pairs evenly over two thirds, then the slant.
    let spacing = length * 2.0 / 15.0;
    let slant = spacing.min(3.0 * bench.d);
    let cover = |from_end: f64| {
        let strands = 2.0 + 2.0 * (from_end / spacing).floor().min(5.0);
        if from_end < slant { strands * from_end / slant } else { strands }
    };
    let over = bench.free_over(length, cover);
    piece.measure("cover stops", piece.at("cover's end stops here"), begins - over);
    let lead = end.puller_lead.unwrap().to_mm();
    piece.measure(
        "puller for the cover",
        piece.at("cover's end stops here") - piece.at("puller for the cover goes in"),
        lead,
    );
    let run = begins - standing - taken - (over - length);
    let asked = end.working.iter().find(|step| step.what == "stripped run").unwrap();
    let Value::Length(asked) = asked.result else { unreachable!() };
    piece.measure("stripped run", run, asked.to_mm());
    over - length
}

fn covered_eye(piece: &mut Piece, end: &Layout) {
    let throat = piece.at("throat, tail side");
    piece.measure("cover parted", piece.at("cover parted, throat, tail side"), throat);
    piece.measure(
        "core comes out",
        piece.at("core comes out, throat, standing side"),
        piece.at("throat, standing side"),
    );
    piece.measure("one fid of cover", throat - piece.at("cover cut here"), 210.0);
    piece.measure("cover's taper", throat - piece.at("cover's taper begins"), 70.0);
    let clear = piece.at("cover tied back") - piece.at("puller goes in");
    piece.measure("cover tied back", clear, 200.0);
    assert!(end.gripping_diameter.to_mm() < 10.0);
}

/// Tails past each other: an end-to-end join, or a ring.
fn make_crossing(end: &Layout, marks: &[Mark], loop_inside: Option<f64>) -> Vec<String> {
    let bench = Bench::of(end, end.gripping_diameter.to_mm());
    let mut piece = Piece { marks, wrong: Vec::new() };
    piece.taper(&bench, end);
    let bury = piece.at("crossing") - piece.at("bitter end");
    piece.measure("bury", bury, end.bury.unwrap().to_mm());
    let over = bench.free_over(bury, piece.tail());
    let tail_end = piece.at("other tail ends here");
    piece.measure("other tail's end", tail_end, piece.at("crossing") + over);
    piece.measure("puller", piece.at("puller goes in") - tail_end, end.puller_lead.unwrap().to_mm());
    match loop_inside {
        Some(inside) => {
            let middle = end.rope_used.to_mm() - 2.0 * piece.at("crossing") - 2.0 * (over - bury);
            piece.measure("loop, inside, flat", (middle - PI * bench.d) / 2.0, inside);
        }
        None => {
            let cut = ASKED + end.rope_used.to_mm();
            piece.measure("finished", cut - piece.at("crossing") - (over - bury), ASKED);
        }
    }
    piece.wrong
}

/// An adjustable loop at its largest.
fn make_adjustable(end: &Layout, marks: &[Mark]) -> Vec<String> {
    let bench = Bench::of(end, end.gripping_diameter.to_mm());
    let mut piece = Piece { marks, wrong: Vec::new() };
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

/// A tucked eye: strands as long as the tucks need.
fn make_tucked(end: &Layout, marks: &[Mark], d: f64, tucks: f64) -> Vec<String> {
    let mut piece = Piece { marks, wrong: Vec::new() };
    let strands = piece.at("throat, tail side") - piece.at("bitter end");
    piece.measure("strands for the tucks", strands, tucks * 3.0 * d);
    let bearing = piece.eye(["throat, tail side", "crown", "throat, standing side"], d, end);
    let cut = ASKED + end.rope_used.to_mm();
    piece.measure("finished", bearing + cut - piece.at("throat, standing side"), ASKED);
    piece.wrong
}

/// A core-and-cover eye in rope of diameter `d`, by fids.
fn make_by_fids(end: &Layout, marks: &[Mark], d: f64, braid: &Bench) -> Vec<String> {
    let mut piece = Piece { marks, wrong: Vec::new() };
    let fid = 21.0 * d;
    let out = "throat, standing side: core comes out";
    let bearing = piece.eye(["throat, tail side", "crown", out], d, end);
    let tail = piece.at("throat, tail side") - piece.at("bitter end");
    piece.measure("one fid of cover", tail, fid);
    piece.measure("cover's taper", piece.at("cover's taper begins"), fid / 3.0);
    piece.measure("core leaves", piece.at("core leaves the cover"), piece.at(out));
    piece.measure("one short fid", piece.at("cover's tail goes in") - piece.at(out), fid * 3.0 / 8.0);
    let spacing = tail / 9.0;
    let slant = spacing.min(3.0 * braid.d);
    let strands = |from_end: f64| {
        let strands = 6.0 + 2.0 * (from_end / spacing).floor().min(3.0);
        if from_end < slant { strands * from_end / slant } else { strands }
    };
    let over = braid.free_over(tail, strands);
    piece.measure("cover's tail ends", piece.at("cover's tail ends here") - piece.at("cover's tail goes in"), over);
    piece.measure("puller", piece.at("puller goes in") - piece.at("cover's tail goes in"), fid * 11.0 / 8.0);
    piece.measure("slip knot", piece.at("slip knot") - piece.at(out), 5.0 * fid);
    let cut = ASKED + end.rope_used.to_mm();
    piece.measure("finished", bearing + cut - piece.at(out) - (over - tail), ASKED);
    piece.wrong
}

/// Right as printed; wrong with any one mark moved by 5 mm either way.
fn proves(end: &Layout, make: impl Fn(&[Mark]) -> Vec<String>) {
    assert_eq!(make(&end.marks), Vec::<String>::new(), "{}", end.kind.name());
    for moved in 0..end.marks.len() {
        for by in [-5, 5] {
            let mut marks = end.marks.clone();
            marks[moved].from_bitter_end = marks[moved].from_bitter_end + Millimetres::new(by);
            assert!(!make(&marks).is_empty(), "{}: {} moved by {by} mm", end.kind.name(), marks[moved].name);
        }
    }
}

#[test]
fn eyes_of_hollow_braid() {
    let rope = hmpe();
    for kind in [EndKind::LongBuryEye, EndKind::LockedEye, EndKind::LuggageTagLoop] {
        for (on, taper) in [(pin(12.0), TaperWish::Common), (None, TaperWish::None), (pin(30.0), TaperWish::Chosen)] {
            let end = layout(&EndRequest { on, taper, ..EndRequest::new(kind, &rope) }).unwrap();
            proves(&end, |marks| make_eye(&end, marks, 10.0));
        }
    }
    let strop =
        EndRequest { on: pin(12.0), finished: Some(Length::of_mm(ASKED)), ..EndRequest::new(EndKind::Strop, &rope) };
    let strop = layout(&strop).unwrap();
    let one = layout(&EndRequest { on: pin(12.0), ..EndRequest::new(EndKind::LongBuryEye, &rope) }).unwrap();
    // A strop is two of the eyes, on the rope between them.
    assert_eq!(strop.marks, one.marks);
    assert!((strop.rope_used - one.rope_used * 2.0).to_mm() - ASKED < 1e-9);
    proves(&strop, |marks| make_eye(&one, marks, 10.0));
}

#[test]
fn eyes_of_covered_rope() {
    let rope = covered();
    for (kind, thick) in [(EndKind::CoveredEye, 10.0), (EndKind::BareCoreEye, 7.5)] {
        let end = layout(&EndRequest { on: pin(12.0), ..EndRequest::new(kind, &rope) }).unwrap();
        proves(&end, |marks| make_eye(&end, marks, thick));
    }
    let run = Some(Length::of_mm(2500.0));
    let end = layout(&EndRequest { stripped_run: run, ..EndRequest::new(EndKind::BareCoreEye, &rope) }).unwrap();
    proves(&end, |marks| make_eye(&end, marks, 7.5));
}

#[test]
fn joins_and_rings_of_hollow_braid() {
    let rope = hmpe();
    let join = layout(&EndRequest::new(EndKind::EndToEnd, &rope)).unwrap();
    proves(&join, |marks| make_crossing(&join, marks, None));
    let ring = EndRequest { eye: Some(Length::of_mm(900.0)), ..EndRequest::new(EndKind::EndlessLoop, &rope) };
    let ring = layout(&ring).unwrap();
    proves(&ring, |marks| make_crossing(&ring, marks, Some(900.0)));
}

#[test]
fn adjustable_loops() {
    let rope = hmpe();
    let end = EndRequest {
        eye: Some(Length::of_mm(300.0)),
        on: pin(12.0),
        ..EndRequest::new(EndKind::AdjustableLoop, &rope)
    };
    let end = layout(&end).unwrap();
    proves(&end, |marks| make_adjustable(&end, marks));
}

#[test]
fn tucked_eyes() {
    for (rope, kind, tucks) in [
        ("12 mm 3-strand polyester", EndKind::TuckedEye, 6.0),
        ("14 mm 3-strand polyamide", EndKind::TuckedEye, 7.0),
        ("14 mm 8-plait polyamide", EndKind::EightPlaitTuckedEye, 7.0),
    ] {
        let rope = generic(rope).unwrap();
        let end = layout(&EndRequest { on: pin(20.0), ..EndRequest::new(kind, &rope) }).unwrap();
        proves(&end, |marks| make_tucked(&end, marks, rope.diameter.to_mm(), tucks));
    }
}

#[test]
fn core_and_cover_eyes() {
    let rope = generic("12 mm double braid polyester").unwrap();
    let end = layout(&EndRequest { on: pin(16.0), ..EndRequest::new(EndKind::CoreAndCoverEye, &rope) }).unwrap();
    // The card assumes the polyester braid that is believed usual.
    let belief = usual_belief(cordage::Fibre::Polyester).unwrap();
    let (angle, inflation) = (belief.span(|draw| draw.angle).usual, belief.span(|draw| draw.inflation).usual);
    let d = 12.0 / 2.0f64.sqrt();
    let opened = d * (3.0f64 / 8.0).sqrt();
    let radius = opened / inflation;
    let braid = Bench { radius, opened, turn: 2.0 * PI * radius / angle.to_radians().sin(), d };
    proves(&end, |marks| make_by_fids(&end, marks, 12.0, &braid));
}
