//! An end's layout as the drawings need it, in millimetres.

use drawing::{Eye, Look, Mark, MarkShape, RopeEnd, Stretch, Taper, TaperStep, What};
use splice::{Layout, Part, STRANDS, Shape};
use units::{System, Value};

/// What of an end is drawn and marked.
pub(crate) fn picture(rope: &cordage::Rope, end: &Layout, system: System) -> RopeEnd {
    RopeEnd {
        rope_diameter_mm: rope.diameter.to_mm(),
        look: look(rope),
        stretches: laid_out(end, system),
        made_up: made_up(end),
        eye: end.eye.as_ref().map(|eye| Eye {
            length_mm: eye.bearing_to_throat.to_mm(),
            pin_mm: eye.on.map_or(0.0, |on| on.diameter.to_mm()),
        }),
        marks: marks(end, system),
        taper: taper(end, system),
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

fn marks(end: &Layout, system: System) -> Vec<Mark> {
    end.marks
        .iter()
        .map(|mark| Mark {
            number: mark.number,
            // Core and cover are numbered apart; the name says which.
            name: match mark.part {
                Part::Rope => mark.name.to_owned(),
                part => format!("{}: {}", part.word(), mark.name),
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

fn taper(end: &Layout, system: System) -> Option<Taper> {
    (!end.taper.is_empty()).then(|| Taper {
        strands: STRANDS,
        steps: end
            .taper
            .iter()
            .map(|step| TaperStep {
                from_bitter_end_mm: step.at.count() as f64,
                at_text: Value::from(step.at).show(system),
                strands_left: step.strands_left,
            })
            .collect(),
        slanted_cut_mm: end.slanted_cut.map_or(0.0, |cut| cut.to_mm()),
    })
}

/// Where the taper begins, from the bitter end.
fn taper_begins(end: &Layout) -> f64 {
    end.taper.iter().map(|step| step.at.count() as f64).fold(0.0, f64::max)
}

/// The last mark on any part, from the bitter end.
fn last_mark(end: &Layout) -> f64 {
    end.marks.iter().map(|mark| mark.from_bitter_end.count() as f64).fold(0.0, f64::max)
}

fn laid_out(end: &Layout, system: System) -> Vec<Stretch> {
    let throat = |side: &str| {
        let name = format!("throat, {side} side");
        end.marks.iter().find(|mark| mark.name == name).map(|mark| mark.from_bitter_end.count() as f64)
    };
    let mut stretches = Vec::new();
    if let (Some(bury), Some(tail)) = (end.bury, throat("tail").or(throat("standing"))) {
        let tapered = taper_begins(end).min(tail);
        if tapered > 0.0 {
            stretches.push(Stretch::new(What::TaperInside, 0.0, tapered));
        }
        let label = format!("bury {}", Value::from(bury.nearest_mm()).show(system));
        stretches.push(Stretch::new(What::TailInside, tapered, tail).labelled(label));
    } else if let Some(tail) = throat("tail") {
        stretches.push(Stretch::new(What::Tucks, 0.0, tail));
    } else if end.eye.is_none() {
        stretches.push(Stretch::new(What::Whipping, 0.0, last_mark(end)));
    }
    if let (Some(tail), Some(standing)) = (throat("tail"), throat("standing")) {
        stretches.push(Stretch::new(What::Eye, tail, standing.max(tail)));
    }
    stretches
}

fn made_up(end: &Layout) -> Vec<Stretch> {
    let d = end.gripping_diameter.to_mm();
    let mut stretches = Vec::new();
    if let Some(bury) = end.bury {
        let (bury, tapered) = (bury.to_mm(), taper_begins(end));
        let full = (bury - tapered).max(0.0);
        stretches.push(Stretch::new(What::TailInside, 0.0, full));
        if tapered > 0.0 {
            stretches.push(Stretch::new(What::TaperInside, full, bury));
        }
    } else if end.eye.is_some() {
        stretches.push(Stretch::new(What::Tucks, 0.0, 12.0 * d));
    }
    for stitching in &end.stitching {
        let what = if stitching.name.contains("whipping") { What::Whipping } else { What::Stitching };
        let (from, to) = if what == What::Whipping { (0.0, 1.5 * d) } else { (1.5 * d, 7.0 * d) };
        stretches.push(Stretch::new(what, from, to));
    }
    stretches
}
