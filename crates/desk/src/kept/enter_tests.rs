//! A log of tests entered into the store, and what that moves.
//!
//! One row or many: a pull-out test is a row with a bury. Rows that are no
//! tests are told with their places, and the others are entered; a number
//! that the store has already is refused, because a test is entered once.

use super::ropes;
use super::tests::{facts_of, measures_of};
use crate::learned::{FigureAnswer, figures};
use crate::problem::{Mistake, Problem};
use crate::proof::{TestFacts, tests_of_file};
use crate::records::rows::{BrokeAt, Test as Row, TestKind, TestResult, TestsWanted, Worn};
use crate::records::{Records, Stamp};
use crate::text::Text;
use proving::{Outcome, Test};
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::json;
use units::System;

/// What is entered.
#[derive(Debug, Clone)]
pub struct EnterTestsRequest {
    /// The log (CSV).
    pub tests: Text,
    /// The rope list.
    pub ropes: Option<Text>,
    /// How they were pulled: machine and load cell, with its calibration.
    pub machine: String,
    /// Rate, pins and cycles.
    pub method: String,
    /// Units to print.
    pub units: System,
}

/// What was entered.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct EnterTestsAnswer {
    /// Numbers of the tests that were entered.
    pub entered: Vec<String>,
    /// Rows that were refused, and numbers that are there already.
    pub refused: Vec<Mistake>,
    /// Figures that these tests move.
    pub moved: Vec<MovedFigure>,
}

/// A figure before and after.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MovedFigure {
    /// `friction` and so on.
    pub what: &'static str,
    /// The rope.
    pub rope: String,
    /// Measurements now.
    pub count: usize,
    /// What was used before.
    pub before: f64,
    /// What is used now.
    pub after: f64,
    /// The rule, in words.
    pub rule: String,
    /// What it changes against the default, in words.
    pub changes: String,
}

/// Enters a log of tests.
///
/// # Errors
/// When the log or the store cannot be read, or the store refuses for another
/// reason than a number that is taken.
pub async fn enter_tests(
    records: &Records,
    request: &EnterTestsRequest,
    stamp: &Stamp,
) -> Result<EnterTestsAnswer, Problem> {
    let list = ropes(request.ropes.as_ref())?;
    let (tests, mut refused) = tests_of_file(&request.tests, &list)?;
    let before = now(records, &list, request.units).await?;
    let mut entered = Vec::new();
    for facts in &tests {
        match records.store().add_test(&row(facts, request, stamp), stamp).await.map_err(Problem::from) {
            Ok(test) => entered.push(test.number),
            Err(why) if matches!(why.code.as_str(), "taken" | "missing" | "not-allowed" | "not-from-here") => {
                refused.push(Mistake {
                    code: "no-test",
                    message: format!("test {}: {}", facts.test.number, why.message),
                    given: String::new(),
                    allowed: String::new(),
                    hint: match why.message.contains("has been in service") {
                        true => "give used_months in its row: it says nothing of new splices".to_owned(),
                        false => why.hints.join("; "),
                    },
                    place: None,
                });
            }
            Err(why) => return Err(why),
        }
    }
    let after = now(records, &list, request.units).await?;
    Ok(EnterTestsAnswer { entered, refused, moved: moved(&before, &after) })
}

async fn now(records: &Records, list: &[cordage::Rope], units: System) -> Result<Vec<FigureAnswer>, Problem> {
    let rows = records.store().tests(TestsWanted::default()).await?;
    let (facts, _) = facts_of(&rows, list);
    figures(&facts, &measures_of(records).await?, list, units)
}

fn moved(before: &[FigureAnswer], after: &[FigureAnswer]) -> Vec<MovedFigure> {
    let same = |a: &FigureAnswer, b: &FigureAnswer| (a.what, &a.rope, &a.end) == (b.what, &b.rope, &b.end);
    after
        .iter()
        .filter_map(|now| {
            let was = before.iter().find(|was| same(was, now));
            let used = was.map_or(now.default, |was| was.used);
            (was.is_none_or(|was| was.count != now.count)).then(|| MovedFigure {
                what: now.what,
                rope: now.rope.clone(),
                count: now.count,
                before: used,
                after: now.used,
                rule: now.rule.clone(),
                changes: now.changes.clone(),
            })
        })
        .collect()
}

/// A test as the store keeps it.
fn row(facts: &TestFacts, request: &EnterTestsRequest, stamp: &Stamp) -> Row {
    let test: &Test = &facts.test;
    let newtons = |force: units::Force| (force.to_n() * 1e3).round() as i64;
    let (result, broke_at) = match test.outcome {
        Outcome::Held => (TestResult::Held, None),
        Outcome::BrokeAtSplice | Outcome::DrewOut => (TestResult::Broke, Some(BrokeAt::Splice)),
        Outcome::BrokeElsewhere => (TestResult::Broke, Some(BrokeAt::Clear)),
        Outcome::FittingFailed => (TestResult::Broke, Some(BrokeAt::Grip)),
    };
    let detail = json!({
        "listed_n": test.listed.to_n(),
        "drew_out": test.outcome == Outcome::DrewOut,
        "bury_mm": facts.bury.map(|bury| bury.to_mm()),
        "tail_load_n": facts.tail_load.map(|load| load.to_n()),
        "used_months": test.used.map(|used| used.months),
        "used_hours": test.used.and_then(|used| used.hours),
        "left_out": test.left_out,
    });
    Row {
        number: test.number.clone(),
        kind: if test.outcome == Outcome::Held { TestKind::Proof } else { TestKind::Break },
        piece: facts.piece.clone(),
        // What was tested needs a name: a sample has that of its test.
        sample: if facts.piece.is_none() { test.number.clone() } else { String::new() },
        rope: facts.rope.clone(),
        end_kind: facts.end.word().to_owned(),
        splicer: String::new(),
        worn: if test.used.is_some() { Worn::Used } else { Worn::New },
        day: facts.date.clone().unwrap_or_else(|| stamp.day().to_owned()),
        wanted_mn: None,
        load_mn: newtons(test.load),
        estimate_mn: None,
        hold_ms: None,
        cycles: None,
        extension_um: None,
        rate: request.method.clone(),
        result,
        broke_at,
        machine: request.machine.clone(),
        detail: detail.to_string(),
        note: String::new(),
        at: String::new(),
        who: String::new(),
    }
}
