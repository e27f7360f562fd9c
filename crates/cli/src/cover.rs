//! `becket cover` and `becket rules`: the verdict first, then its numbers, then
//! what the loft's rules say.

use crate::tables::{fit, rows, wrapped};
use clap::Args;
use desk::{CoverAnswer, CoverRequest, FactAnswer, Problem, RangeAnswer, System, Text, WeighedAnswer};
use std::fmt::Write;
use std::path::PathBuf;

/// Cover on or off.
#[derive(Debug, Args)]
pub struct CoverAsk {
    /// The order file (TOML).
    order: PathBuf,
    /// The line's name, capitals or not.
    line: String,
    /// The loft's rope list (CSV); ropes.csv beside the order if there is one.
    #[arg(long)]
    ropes: Option<PathBuf>,
    /// The loft's rules (CSV): a changed copy of what becket rules prints.
    #[arg(long)]
    rules: Option<PathBuf>,
    /// Clew above its block: 1.5m.
    #[arg(long, allow_hyphen_values = true)]
    clew_height: Option<String>,
    /// Distance across, clew to block: 6m.
    #[arg(long)]
    span: Option<String>,
    /// Length of the slack sheet over the straight distance, less one: 0.05.
    #[arg(long)]
    slack: Option<f64>,
    /// Power of the people who haul, watts: 100.
    #[arg(long)]
    power: Option<f64>,
    /// Write the plot to this file (SVG).
    #[arg(long)]
    pub plot: Option<PathBuf>,
    /// Show how every number came about.
    #[arg(long)]
    pub working: bool,
}

impl CoverAsk {
    /// For desk.
    pub fn request(&self, units: Option<System>) -> Result<CoverRequest, Problem> {
        let length = |name, text: &Option<String>| text.as_deref().map(|text| desk::length(name, text)).transpose();
        Ok(CoverRequest {
            order: Text::from(self.order.clone()),
            line: self.line.clone(),
            ropes: self.ropes.clone().map(Text::from),
            rules: self.rules.clone().map(Text::from),
            clew_height: length("--clew-height", &self.clew_height)?,
            span: length("--span", &self.span)?,
            slack: self.slack,
            power_w: self.power,
            units,
        })
    }
}

/// The loft's rules.
#[derive(Debug, Args)]
pub struct RulesAsk {
    /// List the facts that a rule may look at.
    #[arg(long)]
    pub facts: bool,
}

/// The facts as a table.
pub fn facts(facts: &[FactAnswer]) -> String {
    let table = facts.iter().map(|fact| vec![fact.fact.to_owned(), fact.about.to_owned()]).collect();
    rows(&["fact", "what it is"], table)
}

/// The verdict as text; its working is printed by whoever prints working.
pub fn text(answer: &CoverAnswer) -> String {
    let mut text = format!("{} ({}) of {}, {}\n\n", answer.line, answer.kind, answer.rope, answer.boat);
    text.push_str(&wrapped(&answer.verdict, ""));
    if let Some(ordered) = &answer.ordered {
        text.push_str(&wrapped(ordered, ""));
    }
    for finding in &answer.findings {
        let remedy = finding.remedy.as_ref().map_or_else(String::new, |remedy| format!("; {remedy}"));
        text.push_str(&wrapped(&format!("{}: {}{remedy}", finding.grade, finding.text), "  "));
    }
    text.push_str(&numbers(answer));
    text.push_str(&travel(answer));
    text.push_str("\nwhat a bare run costs\n");
    for cost in &answer.costs {
        text.push_str(&wrapped(&format!("  {:<6} {}: {}", cost.what, cost.how_much, cost.reason), "         "));
    }
    text.push_str(&more(answer));
    text.push_str(&rules(answer));
    text
}

fn numbers(answer: &CoverAnswer) -> String {
    let mut table = Vec::new();
    let mut row = |name: &str, covered: String, bare: String| table.push(vec![name.to_owned(), covered, bare]);
    let range = |range: &Option<RangeAnswer>| range.as_ref().map_or_else(|| "?".to_owned(), RangeAnswer::text);
    if let (Some(covered), Some(bare)) = (&answer.per_metre_covered_dry, &answer.per_metre_bare_dry) {
        row("per metre, dry", covered.text.clone(), bare.text.clone());
        row("per metre, wet", range(&answer.per_metre_covered_wet), range(&answer.per_metre_bare_wet));
    }
    if answer.mass_covered_dry.is_some() {
        row("line, dry", range(&answer.mass_covered_dry), range(&answer.mass_stripped_dry));
        row("line, wet", range(&answer.mass_covered_wet), range(&answer.mass_stripped_wet));
    }
    if let Some(clew) = &answer.clew_load {
        row("clew carries, dry", clew.covered_dry.text.clone(), clew.stripped_dry.text.clone());
        row("clew carries, wet", clew.covered_wet.text(), clew.stripped_wet.text());
    }
    if let Some(lift) = &answer.lift_wind {
        row("lifted from, dry", lift.covered_dry.text.clone(), lift.stripped_dry.text.clone());
        row("lifted from, wet", lift.covered_wet.text(), lift.stripped_wet.text());
    }
    if let Some(hoist) = &answer.hoist {
        row("largest pull, wet", hoist.largest_covered.text.clone(), hoist.largest_stripped.text.clone());
        row(
            &format!("time up at {:.0} W", hoist.power_w),
            hoist.time_covered.text.clone(),
            hoist.time_stripped.text.clone(),
        );
    }
    if let Some(drag) = &answer.drag {
        row(&format!("drag in {}", drag.wind.text), drag.covered.text.clone(), drag.stripped.text.clone());
    }
    if let Some(friction) = &answer.fairleads {
        row(
            "pull over fairleads",
            format!("{:.2}", friction.covered),
            format!("{:.2} to {:.2}", friction.bare[0], friction.bare[1]),
        );
    }
    if table.is_empty() {
        return String::new();
    }
    let mut text = format!("\n{}", rows(&["", ">cover on", ">run bare"], table));
    if let Some(clew) = &answer.clew_load {
        let said = format!(
            "the sheet hangs {} across, clew {} above its block, {:.1} % slack ({})",
            clew.span.text,
            clew.clew_height.text,
            clew.slack * 100.0,
            clew.geometry
        );
        text.push_str(&wrapped(&said, "  "));
    }
    if let Some(wet) = &answer.mass_covered_wet {
        text.push_str(&wrapped(&format!("wet: {}", wet.basis), "  "));
    }
    text
}

fn travel(answer: &CoverAnswer) -> String {
    let mut text = String::new();
    if !answer.met.is_empty() {
        text.push_str("\nwhat it meets over its whole travel, from the working end\n");
        let table = answer
            .met
            .iter()
            .map(|met| {
                let cover = if met.keeps_cover { "cover stays" } else { "" };
                vec![
                    format!(" {}", met.touch),
                    fit(&met.place, 30),
                    met.from.text.clone(),
                    met.to.text.clone(),
                    cover.to_owned(),
                ]
            })
            .collect();
        text.push_str(&rows(&[" meets", "where", ">from", ">to", ""], table));
    }
    match (&answer.strip_from, &answer.strip_to) {
        (Some(from), Some(to)) => text.push_str(&wrapped(
            &format!("may be bare from {} to {}: {}", from.text, to.text, answer.strip_because),
            "  ",
        )),
        _ => text.push_str(&wrapped(&format!("no part may be bare: {}", answer.strip_because), "  ")),
    }
    text
}

fn more(answer: &CoverAnswer) -> String {
    let mut text = String::new();
    if !answer.more.is_empty() {
        text.push_str("\nmore cover\n");
    }
    for more in &answer.more {
        text.push_str(&wrapped(
            &format!(
                "  {} from {} to {}: {}; {} thick there, {} more; ends buried and stitched",
                more.what, more.from.text, more.to.text, more.reason, more.thickness.text, more.mass.text
            ),
            "    ",
        ));
        for finding in &more.findings {
            text.push_str(&wrapped(&format!("    {}: {}", finding.grade, finding.text), "      "));
        }
    }
    text
}

fn rules(answer: &CoverAnswer) -> String {
    let mut text = "\nwhat the loft's rules say of the cover\n".to_owned();
    answer.rules.iter().for_each(|weighed| text.push_str(&said(weighed)));
    text.push_str("\nand of the working end");
    if let Some(end) = &answer.ordered_end {
        let _ = write!(text, " (ordered: {end})");
    }
    text.push('\n');
    answer.ends.iter().for_each(|weighed| text.push_str(&said(weighed)));
    text
}

fn said(weighed: &WeighedAnswer) -> String {
    let mut text = format!("  {} {:+}\n", weighed.choice, weighed.score);
    for spoken in &weighed.spoken {
        text.push_str(&wrapped(
            &format!("    {:<7} {:>3}  {}: {}", spoken.speaks, spoken.weight, spoken.rule, spoken.reason),
            "                 ",
        ));
    }
    text
}
