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
    text.push_str(&governing_table(answer));
    text.push_str(&tenths_list(answer));
    text.push_str(&boat_text(answer));
    for line in &answer.lines {
        for finding in line.findings.iter().filter(|finding| finding.grade != "note") {
            text.push_str(&wrapped(&finding_text(&format!("{}: ", line.name), finding), ""));
        }
    }
    text
}

/// The state and the weak point that govern each line, and the second worst
/// of each.
fn governing_table(answer: &LinesAnswer) -> String {
    let state = |state: &desk::StateAnswer| format!("{} {}, {}", state.wind.text, state.angle.text, state.sails);
    let table = answer.lines.iter().map(|line| {
        let governing = line.load.governing.as_ref().map_or_else(|| "not the weather".to_owned(), state);
        let second = line.load.second.as_ref().map_or_else(String::new, |second| {
            format!("{} {} {}", second.steady.text, second.state.wind.text, second.state.angle.text)
        });
        let weak = line.weak_points.first().map_or("", |point| point.place.as_str());
        let weak = weak.strip_prefix("working end: ").unwrap_or(weak);
        vec![fit(&line.name, 17), fit(&governing, 22), fit(&second, 20), fit(weak, 15)]
    });
    let head = format!("\n{} states of wind, angle and sails; {}\n", answer.states, answer.coefficients);
    head + &rows(&["line", "governed by", "second worst", "weak point"], table.collect())
}

/// Lines whose choice a tenth of an input moves.
fn tenths_list(answer: &LinesAnswer) -> String {
    let mut text = String::new();
    for line in &answer.lines {
        for tenth in &line.tenths {
            for (words, other) in [("10 % less", &tenth.less), ("10 % more", &tenth.more)] {
                if other.moves() {
                    let told =
                        format!("{}: {words} {}: {}, {}", line.name, tenth.input, other.steady.text, other.words());
                    text.push_str(&wrapped(&told, "  "));
                }
            }
        }
    }
    let asked = answer.lines.iter().any(|line| !line.tenths.is_empty());
    match (asked, text.is_empty()) {
        (false, _) => text,
        (true, true) => "\na tenth more or less of any input moves no choice\n".to_owned(),
        (true, false) => format!("\na tenth of an input moves the choice of\n{text}"),
    }
}

/// What a tenth more or less of each input does to one line.
fn tenths_table(line: &LineAnswer) -> String {
    if line.tenths.is_empty() {
        return String::new();
    }
    let cell = |other: &desk::OtherwiseAnswer| {
        let words = other.words();
        let moved = if words.is_empty() { words } else { format!(", {words}") };
        format!("{} ({:+.0} %){moved}", other.steady.text, (other.over - 1.0) * 100.0)
    };
    let table = line.tenths.iter().map(|tenth| vec![tenth.input.to_owned(), cell(&tenth.less), cell(&tenth.more)]);
    let moved = line.tenths.iter().any(|tenth| tenth.less.moves() || tenth.more.moves());
    let close = if moved { "" } else { "rope, weak point and verdict stay the same\n" };
    "\na tenth less or more of an input\n".to_owned()
        + &rows(&["input", "10 % less", "10 % more"], table.collect())
        + close
}

/// What was assumed of the boat, and how far her stability is known.
fn boat_text(answer: &LinesAnswer) -> String {
    let [low, used, high] = &answer.righting_moment;
    let mut text = if low.text == high.text {
        format!("\nrighting moment {}, given\n", used.text)
    } else {
        format!("\nrighting moment {}, estimated: {} to {}\n", used.text, low.text, high.text)
    };
    if !answer.assumed.is_empty() {
        let each = answer.assumed.iter().map(|step| format!("{} {} ({})", step.what, step.result, step.formula));
        text.push_str(&wrapped(&format!("assumed of the boat: {}", each.collect::<Vec<_>>().join("; ")), "  "));
    }
    text
}

/// One line in full.
pub fn line(line: &LineAnswer, working: bool) -> String {
    let mut text = format!("{} ({})\n\n", line.name, line.kind);
    let mut facts = vec![fact("load, steady", load_text(line)), fact("load, peak", line.load.peak.text.clone())];
    facts.extend(load_facts(line));
    facts.extend([
        fact("rope", format!("{}, {} {}", line.rope.name, line.rope.construction, line.rope.fibre)),
        fact("strength", format!("{} ({})", line.rope.strength.text, line.rope.strength_basis)),
        fact("finished length", line.finished_length.text.clone()),
        fact("cut length", line.cut_length.text.clone()),
        fact("mass, dry", line.mass.text.clone()),
        fact("pieces", line.count.to_string()),
    ]);
    for end in &line.ends {
        let bury = end.bury.as_ref().map_or_else(String::new, |bury| format!(", bury {}", bury.text));
        let on = end.on.as_ref().map_or_else(String::new, |on| format!(" on {on}"));
        facts.push(fact(end.place, format!("{}{on}{bury}", end.kind)));
    }
    if let Some(cover) = &line.cover {
        facts.push(fact("cover", cover.clone()));
    }
    for more in &line.added {
        let told = format!("{} from {} to {}, {} thick", more.what, more.from.text, more.to.text, more.thickness.text);
        facts.push(fact("added", told));
    }
    if let Some(reeving) = &line.reeving {
        facts.push(fact("reeving", reeving.clone()));
    }
    for mark in &line.marks {
        facts.push(fact("mark", format!("{} at {}", mark.name, mark.at.text)));
    }
    text.push_str(&rows(&["", ""], facts));
    text.push_str(&finding_list(&line.findings));
    text.push_str(&effects_table(line));
    text.push_str(&tenths_table(line));
    if let Some(lead) = &line.lead {
        text.push_str(&lead_text(lead, &line.rope.diameter.text));
    }
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
    if let Some(state) = &line.load.governing {
        let _ = write!(text, ", {}", state.text);
    }
    text
}

/// The second worst, and what the inputs that nobody published do.
fn load_facts(line: &LineAnswer) -> Vec<Vec<String>> {
    let mut facts = Vec::new();
    if let Some(second) = &line.load.second {
        facts.push(fact("second worst", format!("{}, {}", second.steady.text, second.state.text)));
    }
    if let Some([low, high]) = line.load.range.as_ref().filter(|[low, high]| low.text != high.text) {
        facts.push(fact("range", format!("{} to {}, by any one input below", low.text, high.text)));
    }
    if let Some([low, high]) = &line.load.stability {
        facts
            .push(fact("by stability", format!("{} to {}, over the band of her righting moment", low.text, high.text)));
    }
    facts.push(fact("at the fall", format!("{} hauling, {} easing", line.load.hauling.text, line.load.easing.text)));
    facts
}

/// What each unpublished input does, the strongest first.
fn effects_table(line: &LineAnswer) -> String {
    if line.load.effects.is_empty() {
        return String::new();
    }
    let swing = |effect: &desk::EffectAnswer| (effect.steady[0].value - effect.steady[1].value).abs();
    let mut effects: Vec<_> = line.load.effects.iter().collect();
    effects.sort_by(|a, b| swing(b).total_cmp(&swing(a)));
    let table = effects.iter().map(|effect| {
        let [low, used, high] = &effect.values;
        let [at_low, at_high] = &effect.steady;
        vec![
            effect.input.to_owned(),
            used.text.clone(),
            format!("{} to {}", low.text, high.text),
            format!("{} to {}", at_low.text, at_high.text),
        ]
    });
    let head = "\ninputs that nobody published: what each does alone ([assumed] replaces it)\n";
    head.to_owned() + &rows(&["input", ">used", "range", "steady load"], table.collect())
}

/// The lead: turns, pulls and tails.
fn lead_text(lead: &desk::LeadAnswer, rope: &str) -> String {
    let mut text = format!("\nlead, hauled in: {}\n", lead.text());
    let table = lead.turns.iter().map(|turn| {
        let drum = turn.drum_turns.map(|turns| format!("{turns} turns hold it"));
        let fits = turn.fit.as_ref().map(desk::FitAnswer::text);
        let drum = drum.into_iter().chain(fits).collect::<Vec<_>>().join("; ");
        vec![
            fit(&turn.name, 26),
            turn.wrap.text.clone(),
            turn.block_load.text.clone(),
            format!("{:.3}", turn.left),
            drum,
        ]
    });
    text.push_str(&rows(&["at", ">turns", ">block load", ">left", ""], table.collect()));
    if let Some(tightest) = &lead.tightest {
        let _ = writeln!(text, "tightest bend: {}, {:.1} times {rope}", tightest.name, tightest.ratio);
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
