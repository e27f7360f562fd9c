//! An end's layout as the drawings need it, in millimetres.

use crate::made_up::{eye, made_up, taper_begins};
use drawing::{Look, Mark, MarkShape, On, RopeEnd, Stretch, Taper, TaperStep, What};
use splice::{Layout, Part, STRANDS, Shape};
use units::{System, Value};

/// What of an end is drawn and marked.
pub(crate) fn picture(rope: &cordage::Rope, end: &Layout, system: System) -> RopeEnd {
    RopeEnd {
        rope_diameter_mm: rope.diameter.to_mm(),
        look: look(rope),
        stretches: laid_out(end, system),
        made_up: made_up(end, system),
        eye: eye(end),
        marks: marks(end, system),
        taper: taper(end),
    }
}

fn look(rope: &cordage::Rope) -> Look {
    match rope.construction {
        cordage::Construction::ThreeStrand => Look::Laid,
        cordage::Construction::EightPlait => Look::Plait,
        cordage::Construction::TwelveStrand => Look::Braid,
        _ => Look::Covered,
    }
}

/// The marks on the rope itself, core and cover among them; those of another
/// rope are drawn on their own.
fn marks(end: &Layout, system: System) -> Vec<Mark> {
    marks_on(end, system, |part| part != Part::OtherRope)
}

/// The other rope of a join, laid out with its own marks.
pub(crate) fn other_picture(rope: &cordage::Rope, end: &Layout, system: System) -> RopeEnd {
    let bury = Stretch::new(What::TailInside, 0.0, end.bury.map_or(0.0, |bury| bury.to_mm()));
    RopeEnd {
        rope_diameter_mm: rope.diameter.to_mm(),
        look: look(rope),
        stretches: vec![bury],
        made_up: Vec::new(),
        eye: None,
        marks: marks_on(end, system, |part| part == Part::OtherRope),
        taper: None,
    }
}

fn marks_on(end: &Layout, system: System, on: impl Fn(Part) -> bool) -> Vec<Mark> {
    end.marks
        .iter()
        .filter(|mark| on(mark.part))
        .map(|mark| Mark {
            number: mark.number,
            on: match mark.part {
                Part::Core => On::Core,
                Part::Cover => On::Cover,
                Part::Rope | Part::OtherRope => On::Rope,
            },
            name: match mark.part {
                Part::OtherRope => format!("{}: {}", mark.part.word(), mark.name),
                _ => mark.name.to_owned(),
            },
            from_bitter_end_mm: mark.from_bitter_end.count() as f64,
            at_text: Value::from(mark.from_bitter_end).show(system),
            shape: match mark.shape {
                Shape::PlainBand => MarkShape::Line,
                Shape::ClosedBand => MarkShape::ClosedBand,
                Shape::BrokenBand => MarkShape::BrokenBand,
                Shape::Arrowhead => MarkShape::Arrowhead,
                Shape::Cross => MarkShape::Cross,
            },
        })
        .collect()
}

fn taper(end: &Layout) -> Option<Taper> {
    (!end.taper.is_empty()).then(|| Taper {
        strands: STRANDS,
        steps: (0..end.taper.len()).map(|index| taper_step(&end.taper, index)).collect(),
        slanted_cut_mm: end.slanted_cut.map_or(0.0, |cut| cut.to_mm()),
    })
}

/// One strand taken out; the last of those taken out at one place says for
/// all of them which pick, which hands and how many stay.
fn taper_step(steps: &[splice::TaperStep], index: usize) -> TaperStep {
    let step = &steps[index];
    let last_here = steps.get(index + 1).is_none_or(|next| next.at != step.at);
    let here: Vec<&splice::TaperStep> = steps.iter().filter(|other| other.at == step.at).collect();
    let hands = match here[..] {
        [one] => format!("{} hand", one.hand.word()),
        [one, other] if one.hand != other.hand => "one of each hand".to_owned(),
        _ => here.iter().map(|one| one.hand.word()).collect::<Vec<_>>().join(", "),
    };
    let words =
        if last_here { format!("pick {}, {hands} out, {} stay", step.pick, step.strands_left) } else { String::new() };
    TaperStep { from_bitter_end_mm: step.at.count() as f64, words, strands_left: step.strands_left }
}

/// The last mark on any part, from the bitter end.
fn last_mark(end: &Layout) -> f64 {
    end.marks.iter().map(|mark| mark.from_bitter_end.count() as f64).fold(0.0, f64::max)
}

fn laid_out(end: &Layout, system: System) -> Vec<Stretch> {
    let mark = |name: &str| {
        let found = end.marks.iter().find(|mark| mark.part != Part::OtherRope && mark.name.starts_with(name));
        found.map(|mark| mark.from_bitter_end.count() as f64)
    };
    let tail = mark("throat, tail side").or(mark("crossing")).or(mark("knot ends"));
    let mut stretches = Vec::new();
    if let (Some(tail), Some(standing)) = (mark("throat, tail side"), mark("throat, standing side")) {
        stretches.push(Stretch::new(What::Eye, tail, standing.max(tail)));
    }
    if let Some(begins) = mark("cover begins") {
        stretches.push(Stretch::new(What::BareCore, 0.0, begins));
    }
    if let (Some(bury), Some(tail)) = (end.bury, tail) {
        let (tapered, from) = (taper_begins(end).min(tail), (tail - bury.to_mm()).max(0.0));
        if tapered > 0.0 {
            stretches.push(Stretch::new(What::TaperInside, 0.0, tapered));
        }
        stretches.push(Stretch::new(What::TailInside, from.max(tapered), tail));
        let label = format!("bury {}", Value::from(bury.nearest_mm()).show(system));
        stretches.push(Stretch::new(What::Length, from, tail).labelled(label));
    } else if let Some(tail) = tail.or(mark("first tuck")).or(mark("crown").filter(|_| end.eye.is_none())) {
        stretches.push(Stretch::new(What::Tucks, 0.0, tail).labelled("strands unlaid"));
    } else if let (Some(ends), Some(begins)) = (mark("whipping ends"), mark("whipping begins")) {
        stretches.push(Stretch::new(What::Whipping, ends, begins));
    } else if end.eye.is_none() {
        stretches.push(Stretch::new(What::Length, 0.0, last_mark(end)));
    }
    stretches
}
