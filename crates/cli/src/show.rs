//! Answers as text for a person at a terminal of 80 columns: the answer
//! first, the working where it is asked for.

use crate::tables::{fit, rows, wrapped};
use desk::{CardsAnswer, FindingAnswer, LineAnswer, LinesAnswer, StepAnswer, WeakPointAnswer};
use std::fmt::Write;

/// The line table of an order.
pub fn lines(answer: &LinesAnswer) -> String {
    let mut text = format!("{}, order {}\n\n", answer.boat, answer.order);
    let table = answer
        .lines
        .iter()
        .map(|line| {
            let name = if line.count > 1 { format!("{} x {}", line.count, line.name) } else { line.name.clone() };
            vec![
                fit(&name, 22),
                line.load.steady.text.clone(),
                line.load.peak.text.clone(),
                fit(&line.rope.name, 22),
                line.cut_length.text.clone(),
                line.grade.unwrap_or("pass").to_owned(),
            ]
        })
        .collect();
    text.push_str(&rows(&["line", ">steady", ">peak", "rope", ">cut", "verdict"], table));
    let pieces: u32 = answer.lines.iter().map(|line| line.count).sum();
    let _ = writeln!(text, "\n{} lines, {pieces} pieces", answer.lines.len());
    for line in &answer.lines {
        for finding in line.findings.iter().filter(|finding| finding.grade != "note") {
            text.push_str(&wrapped(&finding_text(&format!("{}: ", line.name), finding), ""));
        }
    }
    text
}

/// One line in full.
pub fn line(line: &LineAnswer, working: bool) -> String {
    let mut text = format!("{} ({})\n\n", line.name, line.kind);
    let mut facts = vec![
        fact("load, steady", load_text(line)),
        fact("load, peak", line.load.peak.text.clone()),
        fact("rope", format!("{}, {} {}", line.rope.name, line.rope.construction, line.rope.fibre)),
        fact("strength", format!("{} ({})", line.rope.strength.text, line.rope.strength_basis)),
        fact("finished length", line.finished_length.text.clone()),
        fact("cut length", line.cut_length.text.clone()),
        fact("mass, dry", line.mass.text.clone()),
        fact("pieces", line.count.to_string()),
    ];
    for end in &line.ends {
        let bury = end.bury.as_ref().map_or_else(String::new, |bury| format!(", bury {}", bury.text));
        let on = end.on.as_ref().map_or_else(String::new, |on| format!(" on {on}"));
        facts.push(fact(end.place, format!("{}{on}{bury}", end.kind)));
    }
    if let Some(cover) = &line.cover {
        facts.push(fact("cover", cover.clone()));
    }
    text.push_str(&rows(&["", ""], facts));
    text.push_str(&finding_list(&line.findings));
    text.push_str(&weak_point_table(&line.weak_points));
    if line.ropes_judged.len() > 1 {
        text.push_str("\nropes judged\n");
        let table = line
            .ropes_judged
            .iter()
            .map(|judged| {
                vec![
                    fit(&judged.rope, 34),
                    judged.verdict.to_owned(),
                    format!("{:.2}", judged.strength_ratio),
                    judged.stretch.map_or_else(|| "not known".to_owned(), |share| format!("{:.2} %", share * 100.0)),
                ]
            })
            .collect();
        text.push_str(&rows(&["rope", "verdict", ">strength / wanted", ">stretch"], table));
    }
    if working {
        text.push_str(&working_text(&line.working));
    }
    text
}

fn load_text(line: &LineAnswer) -> String {
    let mut text = line.load.steady.text.clone();
    if let Some(state) = line.load.governing {
        let _ = write!(text, ", {state}");
    }
    if let Some(second) = &line.load.second {
        let _ = write!(text, "; second {} in {}", second.steady.text, second.state);
    }
    if let Some([low, high]) = line.load.range.as_ref().filter(|[low, high]| low.text != high.text) {
        let _ = write!(text, "; {} to {} over the inputs' range", low.text, high.text);
    }
    text
}

/// What was written.
pub fn cards(answer: &CardsAnswer) -> String {
    let mut text = String::new();
    for card in answer.cards.iter().filter(|card| card.refused) {
        text.push_str(&wrapped(&format!("refused: {} {}, its card says why", card.piece, card.line), "  "));
    }
    for card in &answer.cards {
        if let Some(by) = &card.overridden_by {
            text.push_str(&wrapped(&format!("overruled by {by}: {} {}", card.piece, card.line), "  "));
        }
    }
    let _ = writeln!(text, "{} cards of order {}", answer.cards.len(), answer.order);
    for file in answer.files.iter().filter(|file| !answer.cards.iter().any(|card| card.file == **file)) {
        let _ = writeln!(text, "written: {file}");
    }
    text
}

pub(crate) fn fact(name: &str, value: String) -> Vec<String> {
    vec![name.to_owned(), value]
}

pub fn finding_text(before: &str, finding: &FindingAnswer) -> String {
    let remedy = finding.remedy.as_ref().map_or_else(String::new, |remedy| format!("; {remedy}"));
    format!("{}: {before}{}{remedy}", finding.grade, finding.text)
}

pub(crate) fn finding_list(findings: &[FindingAnswer]) -> String {
    let mut text = String::new();
    if !findings.is_empty() {
        text.push('\n');
    }
    for finding in findings {
        text.push_str(&wrapped(&finding_text("", finding), "  "));
    }
    text
}

fn weak_point_table(points: &[WeakPointAnswer]) -> String {
    if points.is_empty() {
        return String::new();
    }
    let table = points
        .iter()
        .map(|point| {
            vec![
                fit(&point.place, 30),
                point.strength.as_ref().map_or_else(|| "not assessed".to_owned(), |strength| strength.text.clone()),
                point.share.map_or_else(String::new, |share| format!("{:.0} %", share * 100.0)),
                fit(&point.reason, 26),
            ]
        })
        .collect();
    format!("\nweak points, the lowest first\n{}", rows(&["where", ">strength", ">share", "why"], table))
}

/// How every number came about, a step a line.
pub(crate) fn working_text(working: &[StepAnswer]) -> String {
    let mut text = "\nworking\n".to_owned();
    for step in working {
        let formula = if step.formula.is_empty() { String::new() } else { format!(" = {}", step.formula) };
        let inputs: Vec<String> = step.inputs.iter().map(|(name, value)| format!("{name} {value}")).collect();
        let inputs = if inputs.is_empty() { String::new() } else { format!("{}; ", inputs.join(", ")) };
        text.push_str(&wrapped(
            &format!("{}{formula} = {}  [{inputs}{}]", step.what, step.result, step.source),
            "    ",
        ));
    }
    text
}
