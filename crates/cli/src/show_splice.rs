//! One end as text for a person at a terminal of 80 columns.

use crate::show::{fact, finding_list, working_text};
use crate::tables::{rows, wrapped};
use desk::{Amount, Margin, SpliceAnswer, Variant};
use std::fmt::Write;

/// One end.
pub fn splice(answer: &SpliceAnswer, working: bool) -> String {
    let mut text = wrapped(&format!("{} in {}", answer.end_name, answer.rope), "  ");
    text.push('\n');
    text.push_str(&rows(&["", ""], facts(answer)));
    if let Some(basis) = &answer.strength_basis {
        text.push_str(&wrapped(&format!("strength: {basis}"), ""));
    }
    text.push_str(&finding_list(&answer.findings));
    text.push_str(&marks(answer));
    text.push_str(&taper(answer));
    text.push_str("\nsteps\n");
    for (index, step) in answer.steps.iter().enumerate() {
        text.push_str(&wrapped(&format!("{:>2}. {step}", index + 1), "    "));
    }
    text.push_str(&stitching(answer));
    let _ = write!(text, "\n{}", wrapped(&format!("tools: {}", answer.tools.join(", ")), "  "));
    text.push_str(&weak_points(answer));
    text.push_str(&chance(answer));
    text.push_str(&instead(answer));
    text.push_str("\ncautions\n");
    for caution in &answer.cautions {
        text.push_str(&wrapped(&format!("- {caution}"), "  "));
    }
    if working {
        text.push_str(&working_text(&answer.working));
    }
    text
}

fn facts(answer: &SpliceAnswer) -> Vec<Vec<String>> {
    let mut facts = Vec::new();
    if let Some(bury) = &answer.bury {
        let diameters = answer.bury_diameters.map_or_else(String::new, |d| format!(" ({d} d)"));
        facts.push(fact("bury", format!("{}{diameters}", bury.text)));
    }
    if let Some(margin) = &answer.grip_margin {
        facts.push(fact("grip margin", format!("{}; at 1 it lets go", three(margin))));
    }
    for at in &answer.grip_at_loads {
        let what = format!("  {}", at.what);
        facts.push(fact(&what, format!("{} at {}", three(&at.grip_margin), at.load.text)));
    }
    if let Some(critical) = &answer.critical_bury {
        facts.push(fact("critical bury", amounts(critical)));
    }
    if let Some(share) = &answer.strength_share {
        let percent = |share: f64| format!("{:.0} %", share * 100.0);
        let words = format!("{} low, {} usual, {} high", percent(share.low), percent(share.usual), percent(share.high));
        facts.push(fact("strength", format!("{words}, of the rope's")));
    }
    if let Some(creep) = &answer.tail_creep {
        facts.push(fact("tail creeps in", format!("{} at the working load", creep.text)));
    }
    if let Some(eye) = &answer.eye {
        let on = eye.on.as_ref().map_or_else(String::new, |on| format!(" on a {on}"));
        let angle = eye.angle.as_ref().map_or_else(String::new, |angle| format!(", opens {}", angle.text));
        facts.push(fact("eye, inside flat", format!("{}{on}{angle}", eye.inside.text)));
    }
    facts.push(fact("shrinkage", answer.shrinkage.text.clone()));
    facts.push(fact("rope used", answer.rope_used.text.clone()));
    facts.push(fact("time", answer.time.text.clone()));
    facts
}

fn three(margin: &Margin<f64>) -> String {
    format!("{:.2} low, {:.2} usual, {:.2} high", margin.low, margin.usual, margin.high)
}

fn amounts(margin: &Margin<Amount>) -> String {
    format!("{} low, {} usual, {} high", margin.low.text, margin.usual.text, margin.high.text)
}

fn marks(answer: &SpliceAnswer) -> String {
    if answer.marks.is_empty() {
        return String::new();
    }
    let title = format!("marks, from the bitter end of free rope at {}", answer.reference_tension.text);
    let table = answer
        .marks
        .iter()
        .map(|mark| {
            vec![
                mark.number.to_string(),
                mark.from_bitter_end.text.clone(),
                mark.part.to_owned(),
                mark.name.to_owned(),
                mark.shape.to_owned(),
            ]
        })
        .collect();
    format!("\n{title}\n{}", rows(&[">no.", ">at", "on", "what", "shape"], table))
}

fn taper(answer: &SpliceAnswer) -> String {
    if answer.taper.is_empty() {
        return String::new();
    }
    let table = answer
        .taper
        .iter()
        .map(|step| {
            vec![step.at.text.clone(), step.pick.to_string(), step.hand.to_owned(), step.strands_left.to_string()]
        })
        .collect();
    let table = rows(&[">at", ">pick", "hand", ">strands left"], table);
    format!("\ntaper, strand by strand from the throat\n{table}")
}

fn stitching(answer: &SpliceAnswer) -> String {
    let mut text = String::new();
    if !answer.stitching.is_empty() {
        text.push_str("\nsewing and whipping\n");
    }
    for stitching in &answer.stitching {
        let hold = stitching
            .must_hold
            .as_ref()
            .map_or_else(String::new, |load| format!("; must hold {} when slack", load.text));
        let twine = format!("{} of {} twine", stitching.length.text, stitching.twine.text);
        text.push_str(&wrapped(
            &format!("{}, {twine}: {}{hold}; {}", stitching.name, stitching.pattern, stitching.reason),
            "  ",
        ));
    }
    text
}

/// Each place with its figures, and why in full beneath.
fn weak_points(answer: &SpliceAnswer) -> String {
    if answer.weak_points.is_empty() {
        return String::new();
    }
    let mut text = "\nweak points, the lowest first; those not assessed last\n".to_owned();
    for point in &answer.weak_points {
        let figures = match (&point.strength, point.share) {
            (Some(strength), Some(share)) => format!("{}, {:.0} % of the rope's", strength.text, share * 100.0),
            _ => "not assessed".to_owned(),
        };
        text.push_str(&wrapped(&format!("- {}: {figures}; {}", point.place, point.reason), "  "));
    }
    text
}

fn chance(answer: &SpliceAnswer) -> String {
    let Some(chance) = &answer.chance else { return String::new() };
    let table = chance
        .percentiles
        .iter()
        .map(|at| {
            vec![
                format!("{:.0} %", at.percent),
                format!("{:.2}", at.grip_margin),
                format!("{:.1} %", at.strength_share * 100.0),
            ]
        })
        .collect();
    let title = format!(
        "simulated: {} draws, seed {}; it holds in {:.2} % of them",
        chance.draws,
        chance.seed,
        chance.holds * 100.0
    );
    format!("\n{title}\n{}", rows(&[">share of draws under", ">grip margin", ">strength"], table))
}

fn instead(answer: &SpliceAnswer) -> String {
    let mut text = String::new();
    if !answer.instead.is_empty() {
        text.push_str("\nother ways\n");
    }
    for other in &answer.instead {
        text.push_str(&wrapped(&format!("- {} ({}): {}", other.end_name, other.end, other.when), "  "));
    }
    text
}

/// Variants of an end side by side.
pub fn compare(variants: &[Variant]) -> String {
    let table = variants
        .iter()
        .map(|variant| {
            let answer = &variant.answer;
            vec![
                variant.name.clone(),
                answer.bury.as_ref().map_or_else(String::new, |bury| bury.text.clone()),
                answer.grip_margin.as_ref().map_or_else(String::new, |margin| {
                    format!("{:.2} / {:.2} / {:.2}", margin.low, margin.usual, margin.high)
                }),
                answer.strength_share.as_ref().map_or_else(String::new, |share| format!("{:.0} %", share.low * 100.0)),
                answer.rope_used.text.clone(),
                answer.findings.first().map_or("pass", |finding| finding.grade).to_owned(),
            ]
        })
        .collect();
    let table = rows(&["variant", ">bury", ">grip margin", ">strength", ">rope used", "verdict"], table);
    let words = "grip margin: low / usual / high; strength: the low end, of the rope's";
    let basis = variants.iter().find_map(|variant| variant.answer.strength_basis.as_ref());
    format!("{table}{words}\n{}", basis.map_or_else(String::new, |basis| wrapped(&format!("strength: {basis}"), "")))
}
