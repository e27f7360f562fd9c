//! One piece by its code: where it is in its life, its form, what is left of
//! its strength, its tests.

use super::life::{Kept, kept};
use super::tests::facts_of;
use super::{day, rope, ropes};
use crate::problem::Problem;
use crate::proof::{TestAnswer, cautions, test_answer};
use crate::records::Records;
use crate::records::rows::{PieceState, TestsWanted};
use crate::text::Text;
use crate::wire::{FindingAnswer, Margin, StepAnswer, findings, steps};
use proving::{Condition, Limit, Reading, State, UsedTests};
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::Value as Json;
use units::{System, Value};

/// What is asked.
#[derive(Debug, Clone, Default)]
pub struct PieceRequest {
    /// The code on its label.
    pub code: String,
    /// The day of today.
    pub today: String,
    /// The rope list.
    pub ropes: Option<Text>,
    /// Units to print.
    pub units: System,
}

/// A piece.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PieceAnswer {
    /// Its code.
    pub code: String,
    /// The boat.
    pub boat: String,
    /// The line.
    pub line: String,
    /// The order it was made for.
    pub order: Option<String>,
    /// The rope.
    pub rope: String,
    /// Its colour.
    pub colour: String,
    /// Its batch.
    pub batch: String,
    /// What it is for.
    pub purpose: String,
    /// Where it is in its life.
    pub state: &'static str,
    /// When it was made.
    pub made_on: Option<String>,
    /// First day in service.
    pub in_service_on: Option<String>,
    /// Months in service.
    pub months: f64,
    /// Hours under load, as entered.
    pub hours: f64,
    /// Times turned end for end.
    pub turned: u32,
    /// Times shortened or re-spliced.
    pub reworked: u32,
    /// When it must be looked at next.
    pub due: Option<String>,
    /// Days until then; below zero is overdue.
    pub due_in_days: Option<i32>,
    /// What its last inspection comes to, judged by the form of today.
    pub look: Vec<FindingAnswer>,
    /// What it may be entered as next.
    pub may_be: Vec<&'static str>,
    /// What is looked at; empty where the rope is not known.
    pub form: Vec<CriterionAnswer>,
    /// What is left of its strength.
    pub residual: Option<ResidualAnswer>,
    /// What happened, in order.
    pub history: Vec<EntryAnswer>,
    /// Its tests.
    pub tests: Vec<TestAnswer>,
    /// Why it gets no certificate, and who gives one; null where it may.
    pub no_certificate: Option<FindingAnswer>,
    /// What is said at every test.
    pub cautions: Vec<&'static str>,
}

/// One thing to look at.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CriterionAnswer {
    /// Its name in records.
    pub code: &'static str,
    /// What to look for.
    pub look: &'static str,
    /// `share` or `yes-or-no`.
    pub kind: &'static str,
    /// What is allowed, in words.
    pub limit: String,
    /// Whose limit that is.
    pub source: String,
}

/// What is left of a piece's strength.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ResidualAnswer {
    /// Share of the listed strength; null where nothing is known.
    pub share: Option<Margin<f64>>,
    /// What it rests on.
    pub basis: String,
    /// What is to be said.
    pub findings: Vec<FindingAnswer>,
    /// How it came about.
    pub working: Vec<StepAnswer>,
}

/// Something that happened.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct EntryAnswer {
    /// The day.
    pub day: String,
    /// What.
    pub what: String,
    /// Why, or what was found.
    pub note: String,
    /// Who entered it.
    pub by: String,
}

/// A piece by its code.
///
/// # Errors
/// When there is none, or the store cannot be read.
pub async fn piece(records: &Records, request: &PieceRequest) -> Result<PieceAnswer, Problem> {
    let known = kept(records, request.code.trim()).await?;
    let today = day("today", &request.today)?;
    let list = ropes(request.ropes.as_ref())?;
    let made_of = rope(&known.piece.rope, &list);
    let rows = records.store().tests(TestsWanted { rope: Some(&known.piece.rope), ..TestsWanted::default() }).await?;
    let (facts, _) = facts_of(&rows, &list);
    let all: Vec<proving::Test> = facts.iter().map(|facts| facts.test.clone()).collect();
    let months = known.life.months_in_service(today);
    let left = proving::residual(months, &last_readings(&known), UsedTests { tests: &all, new: None })
        .map_err(|why| Problem::refused("no-statistics", why.to_string()))?;
    let purpose =
        proving::Purpose::from_word(super::tests::purpose(&known.piece.purpose)).unwrap_or(proving::Purpose::Running);
    let due = known.life.due;
    Ok(PieceAnswer {
        code: known.piece.code.clone(),
        boat: known.piece.boat.clone(),
        line: known.piece.line.clone(),
        order: known.piece.order_id.clone(),
        rope: known.piece.rope.clone(),
        colour: known.piece.colour.clone(),
        batch: known.piece.batch.clone(),
        purpose: known.piece.purpose.clone(),
        state: state_words(&known),
        made_on: known.piece.made_on.clone(),
        in_service_on: known.piece.in_service_on.clone(),
        months: (months * 10.0).round() / 10.0,
        hours: known.life.hours,
        turned: known.life.turned,
        reworked: known.life.reworked,
        due: due.map(|due| due.to_string()),
        due_in_days: due.map(|due| (due - today).get_days()),
        look: made_of.as_ref().map(|rope| judged(rope, &known, request.units)).unwrap_or_default(),
        may_be: may_be(&known),
        form: made_of.map(|rope| form(&rope, request.units)).unwrap_or_default(),
        residual: Some(ResidualAnswer {
            share: left.share.map(|share| Margin::of(share, |share| (share * 1e3).round() / 1e3)),
            basis: left.basis.show(request.units),
            findings: findings(&left.findings, request.units),
            working: steps(&left.working, request.units),
        }),
        history: history(&known),
        tests: facts
            .iter()
            .filter(|facts| facts.piece.as_deref() == Some(known.piece.code.as_str()))
            .map(|facts| test_answer(facts, request.units))
            .collect(),
        no_certificate: proving::certificate_refused(purpose).map(|finding| FindingAnswer::of(&finding, request.units)),
        cautions: cautions(),
    })
}

/// Where it is, in words; before it is made up it has no life of its own.
fn state_words(known: &Kept) -> &'static str {
    match known.piece.state {
        PieceState::Cut => "cut, not made up yet",
        PieceState::TakenBack => "taken back: its cut was undone",
        _ => known.life.state.words(),
    }
}

/// The findings of the last inspection; none where nothing was read.
fn judged(rope: &cordage::Rope, known: &Kept, system: System) -> Vec<FindingAnswer> {
    if known.inspections.is_empty() {
        return Vec::new();
    }
    let read = proving::judge(&proving::form(rope.construction, rope.fibre), &last_readings(known));
    read.map(|judged| findings(&judged.findings, system)).unwrap_or_default()
}

fn may_be(known: &Kept) -> Vec<&'static str> {
    if matches!(known.piece.state, PieceState::Cut | PieceState::TakenBack) {
        return Vec::new();
    }
    match known.life.state {
        State::Made => vec!["in-service", "inspected", "proved", "retired", "broken-for-test"],
        State::InService => {
            vec!["inspected", "used", "turned", "shortened", "re-spliced", "proved", "replanned", "issued", "retired"]
        }
        State::Withdrawn => vec!["shortened", "re-spliced", "inspected", "in-service", "retired"],
        State::Retired => vec!["broken-for-test"],
        State::Broken => Vec::new(),
    }
}

fn form(rope: &cordage::Rope, system: System) -> Vec<CriterionAnswer> {
    proving::form(rope.construction, rope.fibre)
        .into_iter()
        .map(|criterion| {
            let share = |share: f64| Value::Share(share).show(system);
            let (kind, limit) = match criterion.limit {
                Limit::UpTo(limit) => ("share", format!("up to {}", share(limit))),
                Limit::Below(limit) => ("share", format!("below {}", share(limit))),
                Limit::Absent => ("yes-or-no", "none of it".to_owned()),
            };
            CriterionAnswer {
                code: criterion.code,
                look: criterion.look,
                kind,
                limit,
                source: criterion.citation.to_string(),
            }
        })
        .collect()
}

/// The readings of the last inspection.
fn last_readings(known: &Kept) -> Vec<(String, Reading)> {
    let Some(last) = known.inspections.last() else { return Vec::new() };
    let found: Json = serde_json::from_str(&last.findings).unwrap_or_default();
    let pairs = found["readings"].as_array().cloned().unwrap_or_default();
    pairs
        .iter()
        .filter_map(|pair| {
            let (code, text) = (pair[0].as_str()?, pair[1].as_str()?);
            let reading = match text.trim().strip_suffix('%') {
                Some(percent) => Reading::Share(percent.trim().parse::<f64>().ok()? / 100.0),
                None if matches!(text.trim(), "yes" | "there" | "present") => Reading::Present,
                None if matches!(text.trim(), "no" | "none" | "absent") => Reading::Absent,
                None => return None,
            };
            Some((code.to_owned(), reading))
        })
        .collect()
}

fn history(known: &Kept) -> Vec<EntryAnswer> {
    let mut entries: Vec<(String, EntryAnswer)> = Vec::new();
    for row in &known.events {
        let hours = row.amount_millionths.filter(|_| row.unit == "s").map(|amount| amount as f64 / 3.6e9);
        let note = match hours {
            Some(hours) => format!("{hours:.1} h"),
            None => row.reason.clone(),
        };
        let detail: Json = serde_json::from_str(&row.detail).unwrap_or_default();
        let what = detail["event"].as_str().map_or_else(|| row.event.word().replace('_', " "), str::to_owned);
        entries.push((row.at.clone(), EntryAnswer { day: row.day.clone(), what, note, by: row.who.clone() }));
    }
    for row in &known.inspections {
        let found: Json = serde_json::from_str(&row.findings).unwrap_or_default();
        let condition =
            found["condition"].as_str().and_then(Condition::from_word).map_or(row.verdict.word(), Condition::word);
        let due = row.due_after.as_deref().unwrap_or("no date");
        let note = format!(
            "{condition}; next look {due}{}",
            if row.reason.is_empty() { String::new() } else { format!("; {}", row.reason) }
        );
        entries.push((
            row.at.clone(),
            EntryAnswer { day: row.day.clone(), what: "inspected".to_owned(), note, by: row.who.clone() },
        ));
    }
    entries.sort_by(|a, b| (&a.1.day, &a.0).cmp(&(&b.1.day, &b.0)));
    entries.into_iter().map(|(_, entry)| entry).collect()
}
