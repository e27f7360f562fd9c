//! `becket rope`: the recommendation first, then the candidates, then why.

use crate::own::OwnAsk;
use crate::tables::{fit, rows, wrapped};
use clap::Args;
use desk::{CandidateAnswer, Problem, RopeChoiceAnswer, RopeRequest, System, Text};
use std::fmt::Write;
use std::path::PathBuf;

/// Which rope.
#[derive(Debug, Args)]
pub struct RopeAsk {
    /// The order file (TOML).
    order: PathBuf,
    /// The line's name, capitals or not.
    line: String,
    /// The loft's rope list (CSV); ropes.csv beside the order if there is one.
    #[arg(long)]
    ropes: Option<PathBuf>,
    /// The rack (CSV); rack.csv beside the order if there is one.
    #[arg(long)]
    rack: Option<PathBuf>,
    #[command(flatten)]
    own: OwnAsk,
    /// Every check of every candidate, not of the first alone.
    #[arg(long)]
    pub checks: bool,
    /// Write the plot of strength against mass to this file (SVG).
    #[arg(long)]
    pub plot: Option<PathBuf>,
}

impl RopeAsk {
    /// For desk.
    pub fn request(&self, units: Option<System>) -> Result<RopeRequest, Problem> {
        Ok(RopeRequest {
            order: Text::from(self.order.clone()),
            line: self.line.clone(),
            ropes: self.ropes.clone().map(Text::from),
            rack: self.rack.clone().map(Text::from),
            own: self.own.source()?,
            units,
        })
    }
}

/// The choice as text.
pub fn text(answer: &RopeChoiceAnswer, all_checks: bool) -> String {
    let mut text = format!("{} ({}), {}\n\n", answer.line, answer.kind, answer.boat);
    text.push_str(&wrapped(&answer.advice, ""));
    if let Some(against) = &answer.ordered_against_advice {
        text.push_str(&wrapped(against, ""));
    }
    let _ = writeln!(
        text,
        "load {} steady, {} peak: {} wanted at the weakest point\n",
        answer.steady.text, answer.peak.text, answer.wanted.text
    );
    text.push_str(&table(answer));
    text.push_str("* of those that stand best, none is as good in strength, stretch, mass and price\n");
    text.push_str(&footnotes(answer));
    text.push_str(&scatter(answer));
    text.push_str(&reasons(answer, all_checks));
    text.push_str(&stock(answer));
    text.push_str(&changes(answer));
    text
}

fn table(answer: &RopeChoiceAnswer) -> String {
    let row = |(index, one): (usize, &CandidateAnswer)| {
        vec![
            format!("{}{}", letter(index), if one.undominated { " *" } else { "" }),
            fit(&one.rope, 22),
            word(one).to_owned(),
            format!("{:.2}", one.strength_ratio),
            one.stretch.map_or_else(|| "?".to_owned(), |share| format!("{:.2} %", share * 100.0)),
            one.mass.text.clone(),
            one.price.clone().unwrap_or_else(|| "?".to_owned()),
            one.holding.as_ref().map_or("", |holding| held(holding.status)).to_owned(),
        ]
    };
    let table = answer.candidates.iter().enumerate().map(row).collect();
    rows(&[" ", "rope", "verdict", ">of wanted", ">stretch", ">mass", ">price", "rack"], table)
}

/// What a missing figure leaves open is no mark against a rope.
fn word(one: &CandidateAnswer) -> &str {
    if one.verdict == "not assessed" { "pass ?" } else { one.verdict }
}

fn held(status: &str) -> &str {
    match status {
        "on-hand" => "on hand",
        "other-colour" => "colour",
        "to-order" => "order",
        other => other,
    }
}

fn letter(index: usize) -> String {
    char::from_u32('a' as u32 + index as u32).filter(char::is_ascii_lowercase).map_or_else(String::new, String::from)
}

fn footnotes(answer: &RopeChoiceAnswer) -> String {
    let mut text = String::new();
    if answer.candidates.iter().any(|one| one.verdict == "not assessed") {
        text.push_str("? a check could not be made: a figure is missing\n");
    }
    if answer.candidates.iter().any(|one| one.holding.as_ref().is_some_and(|held| held.status == "other-colour")) {
        text.push_str("colour: on the rack, but in another colour than the order's\n");
    }
    text
}

/// Strength over wanted against mass, in characters.
fn scatter(answer: &RopeChoiceAnswer) -> String {
    const WIDE: usize = 62;
    const HIGH: usize = 9;
    let shown: Vec<(usize, &CandidateAnswer)> =
        answer.candidates.iter().enumerate().filter(|(index, _)| *index < 26).collect();
    if shown.len() < 2 {
        return String::new();
    }
    let most = |of: fn(&CandidateAnswer) -> f64| shown.iter().map(|(_, one)| of(one)).fold(0.0, f64::max);
    let (heaviest, strongest) = (most(|one| one.mass.value), most(|one| one.strength_ratio).max(1.2));
    let mut grid = vec![vec![' '; WIDE]; HIGH];
    let line = |ratio: f64| HIGH - 1 - ((ratio / strongest) * (HIGH - 1) as f64).round() as usize;
    for cell in &mut grid[line(1.0)] {
        *cell = '-';
    }
    for (index, one) in shown.iter().rev() {
        let column = ((one.mass.value / heaviest) * (WIDE - 2) as f64).round() as usize;
        grid[line(one.strength_ratio)][column] = letter(*index).chars().next().unwrap_or('?');
    }
    let mut text = "\nstrength over wanted, against mass\n".to_owned();
    for (row, cells) in grid.iter().enumerate() {
        let mark = if row == 0 {
            format!("{strongest:>5.1}")
        } else if row == line(1.0) {
            "  1.0".to_owned()
        } else {
            " ".repeat(5)
        };
        let _ = writeln!(text, "{mark} |{}", cells.iter().collect::<String>().trim_end());
    }
    let heaviest = format!("{heaviest:.0} {}", answer.candidates.first().map_or("", |one| one.mass.unit));
    let _ = writeln!(text, "    0 +{}{heaviest}", "-".repeat(WIDE - heaviest.len()));
    text
}

fn reasons(answer: &RopeChoiceAnswer, all_checks: bool) -> String {
    let mut text = String::new();
    for (index, one) in answer.candidates.iter().enumerate() {
        let full = index == 0 || all_checks;
        if index == 0 || full {
            let _ = writeln!(text, "\n{}: every check", one.rope);
        } else if index == 1 {
            text.push_str("\nthe others\n");
        }
        if full {
            for check in &one.checks {
                let remedy = check.remedy.as_ref().map_or_else(String::new, |remedy| format!("; {remedy}"));
                let verdict = if check.verdict == "pass" { String::new() } else { format!("{}: ", check.verdict) };
                text.push_str(&wrapped(
                    &format!("  {:<9} {verdict}{}{remedy}", check.what, check.text),
                    "            ",
                ));
            }
            if let Some(second) = &one.second_weakest {
                let strength = second.strength.as_ref().map_or_else(String::new, |strength| strength.text.clone());
                text.push_str(&wrapped(
                    &format!(
                        "  second    the second worst weak point is {}, {strength}: {}",
                        second.place, second.reason
                    ),
                    "            ",
                ));
            }
        } else {
            text.push_str(&wrapped(&format!("  {}: {}: {}", one.rope, word(one), one.why), "    "));
        }
    }
    for one in &answer.unmade {
        text.push_str(&wrapped(&format!("  {}: fail: {}", one.rope, one.why), "    "));
    }
    if !answer.left_out.is_empty() {
        text.push_str(&wrapped(&format!("  not for lines of this kind: {}", answer.left_out.join(", ")), "    "));
    }
    text
}

fn stock(answer: &RopeChoiceAnswer) -> String {
    let mut text = String::new();
    let held = answer.candidates.first().and_then(|one| Some((&one.rope, one.holding.as_ref()?)));
    if let Some((rope, holding)) = held {
        text.push_str("\nrack\n");
        text.push_str(&wrapped(&format!("  {rope}: {}", holding.text), "    "));
    }
    if !answer.same_colour_beside.is_empty() {
        text.push_str(&wrapped(
            &format!(
                "  caution: the same colour lies beside it where a hand takes it: {}; another colour or tracer",
                answer.same_colour_beside.join(", ")
            ),
            "    ",
        ));
    }
    text
}

fn changes(answer: &RopeChoiceAnswer) -> String {
    let mut text = "\nwhat would change the choice\n".to_owned();
    let staying: Vec<&str> = answer.moves.iter().filter(|moved| !moved.moves).map(|moved| moved.change).collect();
    for moved in answer.moves.iter().filter(|moved| moved.moves) {
        let to = moved.to.as_deref().map_or_else(|| "no rope stands".to_owned(), |to| format!("{to} is taken"));
        text.push_str(&wrapped(&format!("  {}: {to}", moved.change), "    "));
    }
    if !staying.is_empty() {
        let taken = answer.take.as_deref().unwrap_or("no rope");
        text.push_str(&wrapped(&format!("  {taken} stays the choice with {}", staying.join(", ")), "    "));
    }
    text
}
