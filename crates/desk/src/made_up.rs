//! How an end looks once it is made: what lies where from throat, crossing or
//! end, kind by kind, and what the whole piece is.

use drawing::{Eye, Form, Stretch, What};
use splice::{EndKind, Layout, Part};
use units::{Length, System, Value};

/// What the end is drawn as, where it is not one end of a rope.
pub(crate) fn form(end: &Layout) -> Option<Form> {
    let inside = end.finished.map_or(0.0, Length::to_mm);
    match end.kind {
        EndKind::EndToEnd | EndKind::CoreAndCoverEndToEnd | EndKind::UnlikeRopes | EndKind::ShortSplice => {
            Some(Form::Join)
        }
        EndKind::EndlessLoop | EndKind::CoreAndCoverLoop => Some(Form::Ring(inside)),
        EndKind::Strop => Some(Form::TwoEyes),
        EndKind::SoftShackle => Some(Form::Shackle(inside)),
        EndKind::ToChain => {
            let turn = gap(end, "first tuck, tail side", "unlay to here");
            // Half a turn of the rope's middle: pi (D + d) / 2.
            let bar = turn * 2.0 / std::f64::consts::PI - end.gripping_diameter.to_mm();
            Some(Form::Chain(bar.max(1.0)))
        }
        _ => None,
    }
}

/// The eye as it is drawn.
pub(crate) fn eye(end: &Layout) -> Option<Eye> {
    if end.kind == EndKind::ReevingLoop {
        let inside = length_of(end, "loop, inside, flat");
        return Some(Eye { length_mm: inside.max(1.0), pin_mm: 0.0 });
    }
    end.eye.as_ref().map(|eye| Eye {
        length_mm: eye.bearing_to_throat.to_mm(),
        pin_mm: eye.on.map_or(0.0, |on| on.diameter.to_mm()),
    })
}

/// What lies along the made-up end, in finished millimetres.
pub(crate) fn made_up(end: &Layout, system: System) -> Vec<Stretch> {
    let mut stretches = inside(end, system);
    stretches.extend(sewn(end));
    stretches
}

fn inside(end: &Layout, system: System) -> Vec<Stretch> {
    let d = end.gripping_diameter.to_mm();
    let label = |what: &str, mm: f64| format!("{what} {}", Value::from(Length::of_mm(mm).nearest_mm()).show(system));
    match end.kind {
        EndKind::TuckedEye
        | EndKind::EightPlaitTuckedEye
        | EndKind::ShortSplice
        | EndKind::BackSplice
        | EndKind::ToChain => vec![Stretch::new(What::Tucks, 0.0, 12.0 * d).labelled("tucks")],
        EndKind::CoreToCoverJoin => {
            let (run, tail) = (length_of(end, "stripped run"), end.bury.map_or(0.0, Length::to_mm));
            vec![
                Stretch::new(What::BareCore, 0.0, run).labelled(label("bare core", run)),
                Stretch::new(What::CoverInside, run - tail, run).labelled(label("cover's end inside", tail)),
                Stretch::new(What::Cover, run, run + 8.0 * d),
            ]
        }
        _ => buried(end, &label),
    }
}

/// A buried tail, its taper, and the stripped run of a bare core.
fn buried(end: &Layout, label: &dyn Fn(&str, f64) -> String) -> Vec<Stretch> {
    let Some(bury) = end.bury.map(Length::to_mm) else { return Vec::new() };
    let mut stretches = Vec::new();
    if end.kind == EndKind::BareCoreEye {
        let run = bare_from_throat(end);
        stretches.push(Stretch::new(What::BareCore, 0.0, run).labelled(label("bare core", run)));
        let tail = length_of(end, "cover's end inside the core");
        stretches.push(Stretch::new(What::CoverInside, run - tail, run).labelled(label("cover's end inside", tail)));
    }
    let full = (bury - taper_begins(end)).max(0.0);
    stretches.push(Stretch::new(What::TailInside, 0.0, full).labelled(if full < bury {
        String::new()
    } else {
        label("bury", bury)
    }));
    if full < bury {
        stretches.push(Stretch::new(What::TaperInside, full, bury));
        stretches.push(Stretch::new(What::Length, 0.0, bury).labelled(label("bury", bury)));
    }
    stretches
}

/// Drawings begin at the throat, the stripped run at the bearing point.
fn bare_from_throat(end: &Layout) -> f64 {
    length_of(end, "stripped run") - end.eye.as_ref().map_or(0.0, |eye| eye.bearing_to_throat.to_mm())
}

/// Sewing and whipping, where it is.
fn sewn(end: &Layout) -> Vec<Stretch> {
    let d = end.gripping_diameter.to_mm();
    let mark = |name: &str| end.marks.iter().find(|mark| mark.name == name).map(|mark| mark.from_bitter_end.count());
    if let (Some(from), Some(to)) = (mark("whipping ends"), mark("whipping begins")) {
        return vec![Stretch::new(What::Whipping, from as f64, to as f64)];
    }
    let place = |stitching: &splice::Stitching| match stitching.name {
        "cover whipping" => {
            let run = bare_from_throat(end);
            Stretch::new(What::Whipping, run, run + 1.5 * d)
        }
        "stopper" => {
            let bury = end.bury.map_or(0.0, Length::to_mm);
            Stretch::new(What::Whipping, bury + 3.0 * d, bury + 4.5 * d)
        }
        name if name.contains("whipping") => Stretch::new(What::Whipping, 0.0, 1.5 * d),
        _ => Stretch::new(What::Stitching, 1.5 * d, 7.0 * d),
    };
    end.stitching.iter().map(place).collect()
}

/// Where the taper of the tail begins, from its end.
pub(crate) fn taper_begins(end: &Layout) -> f64 {
    let by_steps = end.taper.iter().map(|step| step.at.count() as f64).fold(0.0, f64::max);
    if by_steps > 0.0 {
        return by_steps;
    }
    // By fids the cover's tail is what is tapered and buried.
    let fids = matches!(end.kind, EndKind::CoreAndCoverEye | EndKind::CoreAndCoverEndToEnd | EndKind::CoreAndCoverLoop);
    let cover = end.mark(Part::Cover, "cover's taper begins").filter(|_| fids);
    cover.map_or(0.0, |mark| mark.from_bitter_end.count() as f64)
}

fn gap(end: &Layout, from: &str, to: &str) -> f64 {
    let mark =
        |name: &str| end.marks.iter().find(|mark| mark.name == name).map_or(0, |mark| mark.from_bitter_end.count());
    (mark(to) - mark(from)) as f64
}

/// A length that the working prints, in mm; nothing where it prints none.
fn length_of(end: &Layout, what: &str) -> f64 {
    match end.working.iter().find(|step| step.what == what).map(|step| &step.result) {
        Some(Value::Length(length)) => length.to_mm(),
        _ => 0.0,
    }
}
