//! A piece is made here from free rope and the printed marks alone.
//!
//! The bench below shares no code with the layout: it knows the rope (diameter,
//! strand angle and how far a tail opens it, as the card prints them), lays the
//! marks on it, pulls tails inside, lets every braid shorten turn by turn as
//! its strands keep their length, and measures what came out with a rule good
//! to a millimetre. Every kind of end is made, in ropes of more than one size,
//! and every mark of each moved by 5 mm must be noticed.

mod covered;
mod hollow;
mod laid;
mod plain;

use cordage::{Rope, generic};
use splice::*;
use std::f64::consts::PI;
use units::{Length, Millimetres, Value};

const RULE: f64 = 1.01;

/// Finished length that is asked for in every piece, mm.
const ASKED: f64 = 4000.0;

/// The rope on the bench, in mm.
#[derive(Clone, Copy)]
struct Bench {
    radius: f64,
    opened: f64,
    turn: f64,
    d: f64,
}

/// The marks on one part of it, and what is wrong with the piece so far.
struct Piece {
    marks: Vec<Mark>,
    wrong: Vec<String>,
}

/// Makes a piece of a layout and marks; gives what is wrong with it.
type Make = dyn Fn(&Layout, &[Mark]) -> Vec<String>;

/// A piece that is made again and again, with marks as printed or not.
struct Case {
    end: Layout,
    make: Box<Make>,
}

impl Case {
    fn new(request: &EndRequest, make: impl Fn(&Layout, &[Mark]) -> Vec<String> + 'static) -> Case {
        let end = layout(request).unwrap_or_else(|why| unreachable!("{}: {why}", request.kind.name()));
        Case { end, make: Box::new(make) }
    }

    /// Right as printed; wrong with any one mark moved by 5 mm either way.
    fn proves(&self) {
        let Case { end, make } = self;
        assert_eq!(make(end, &end.marks), Vec::<String>::new(), "{}", end.kind.name());
        for moved in 0..end.marks.len() {
            for by in [-5, 5] {
                let mut marks = end.marks.clone();
                marks[moved].from_bitter_end = marks[moved].from_bitter_end + Millimetres::new(by);
                assert!(!make(end, &marks).is_empty(), "{}: {} moved by {by} mm", end.kind.name(), marks[moved].name);
            }
        }
        // Rope cut too long or too short is noticed as well.
        for by in [-5.0, 5.0] {
            let mut end = end.clone();
            end.rope_used = end.rope_used + Length::of_mm(by);
            assert!(!make(&end, &end.marks).is_empty(), "{}: cut {by} mm off", end.kind.name());
        }
    }
}

/// What the card printed as the result of a step of its working.
fn printed(end: &Layout, what: &str) -> f64 {
    let step = end.working.iter().find(|step| step.what == what);
    match step.unwrap_or_else(|| unreachable!("{} prints no {what}", end.kind.name())).result {
        Value::Angle(angle) => angle.to_degrees().to_radians(),
        Value::Number(number) => number,
        Value::Length(length) => length.to_mm(),
        ref other => unreachable!("{other:?}"),
    }
}

impl Bench {
    /// As the card says it was assumed to be.
    fn of(end: &Layout) -> Bench {
        let d = end.gripping_diameter.to_mm();
        Bench::opened(end, d * (3.0f64 / 8.0).sqrt())
    }

    /// The same where the rope over a trial bury was measured.
    fn measured(end: &Layout, over_bury: f64) -> Bench {
        let (d, outer) = (end.gripping_diameter.to_mm(), over_bury / 2.0);
        Bench::opened(end, ((outer * outer + (outer * outer - d * d / 4.0)) / 2.0).sqrt())
    }

    fn opened(end: &Layout, opened: f64) -> Bench {
        let radius = opened / printed(end, "inflation");
        let turn = 2.0 * PI * radius / printed(end, "strands' angle, free").sin();
        Bench { radius, opened, turn, d: end.gripping_diameter.to_mm() }
    }

    /// A rope braided alike, of another thickness.
    fn alike(self, d: f64) -> Bench {
        let by = d / self.d;
        Bench { radius: self.radius * by, opened: self.opened * by, turn: self.turn * by, d }
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

impl Piece {
    /// All marks but those of another rope.
    fn of(marks: &[Mark]) -> Piece {
        let own = |mark: &&Mark| mark.part != Part::OtherRope;
        Piece { marks: marks.iter().filter(own).copied().collect(), wrong: Vec::new() }
    }

    /// The marks of the other rope of a join.
    fn other(marks: &[Mark]) -> Piece {
        let other = |mark: &&Mark| mark.part == Part::OtherRope;
        Piece { marks: marks.iter().filter(other).copied().collect(), wrong: Vec::new() }
    }

    fn mark(&self, name: &str) -> Option<f64> {
        self.marks.iter().find(|mark| mark.name == name).map(|mark| mark.from_bitter_end.count() as f64)
    }

    fn at(&self, name: &str) -> f64 {
        self.mark(name).unwrap_or_else(|| unreachable!("no {name}"))
    }

    fn has(&self, name: &str) -> bool {
        self.mark(name).is_some()
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
        for mark in self.marks.clone().iter().filter(|mark| mark.shape == Shape::Arrowhead && mark.part != Part::Cover)
        {
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

fn rope(description: &str) -> Rope {
    generic(description).unwrap()
}

/// Every kind that there is: one that nobody makes does not compile.
fn cases(kind: EndKind) -> Vec<Case> {
    match kind {
        EndKind::LongBuryEye | EndKind::LockedEye | EndKind::LuggageTagLoop => hollow::eyes(kind),
        EndKind::Strop => hollow::strops(),
        EndKind::EndToEnd => hollow::joins(),
        EndKind::EndlessLoop => hollow::rings(),
        EndKind::AdjustableLoop => hollow::adjustable(),
        EndKind::SoftShackle => hollow::shackles(),
        EndKind::UnlikeRopes => hollow::unlike(),
        EndKind::ReevingLoop => hollow::reeving(),
        EndKind::CoveredEye | EndKind::BareCoreEye => covered::eyes(kind),
        EndKind::CoreToCoverJoin => covered::core_to_cover(),
        EndKind::CoreAndCoverEye => covered::fid_eyes(),
        EndKind::CoreAndCoverEndToEnd => covered::fid_joins(),
        EndKind::CoreAndCoverLoop => covered::fid_rings(),
        EndKind::TuckedEye | EndKind::EightPlaitTuckedEye => laid::eyes(kind),
        EndKind::ShortSplice => laid::short_splices(),
        EndKind::BackSplice => laid::back_splices(),
        EndKind::ToChain => laid::chains(),
        EndKind::CommonWhipping | EndKind::SailmakersWhipping | EndKind::StitchedWhipping | EndKind::WhippedEnd => {
            plain::whippings(kind)
        }
        EndKind::SealedEnd => plain::sealed(),
    }
}

#[test]
fn every_kind_made_from_its_marks_measures_what_was_asked() {
    for kind in EndKind::ALL {
        let cases = cases(*kind);
        assert!(!cases.is_empty());
        for case in cases {
            assert_eq!(case.end.kind, *kind);
            case.proves();
        }
    }
}
