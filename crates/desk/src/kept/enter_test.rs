//! A test entered from a form, a log of tests taken in, a load curve kept.
//!
//! What is typed goes through the readers of the log file's own values, so
//! that a bare number is refused in the same words. A piece that has been in
//! service is used rope, whatever was typed: its months and hours are its own
//! record's. A row of a log that is no test, or whose number is taken, is
//! told with its place, and the others are kept.

use super::life::{Kept, kept};
use super::{day, ropes};
use crate::problem::{Fault, Mistake, Problem};
use crate::proof::{CurveAnswer, CurveRequest, TestFacts, curve, tests_of_file};
use crate::records::rows::{BrokeAt, Test as Row, TestKind, TestResult, Worn};
use crate::records::{Records, Stamp};
use crate::splice_read::{end_kind, quantity};
use crate::text::Text;
use proving::{Outcome, Test, Wear, check_test};
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::json;
use units::{Force, Length, System};

/// A test as it is typed; every part as text.
#[derive(Debug, Clone, Default)]
pub struct TestEntry {
    /// Its number in the loft's log.
    pub number: String,
    /// The piece; none for a sample.
    pub piece: Option<String>,
    /// What a sample is called.
    pub sample: Option<String>,
    /// The rope; a piece's own where not given.
    pub rope: Option<String>,
    /// The kind of end that was tested.
    pub end: String,
    /// The day.
    pub on: String,
    /// The highest load: `44 kN`.
    pub load: String,
    /// The load that was wanted.
    pub wanted: Option<String>,
    /// `held`, `splice`, `drew-out`, `rope` or `fitting`.
    pub broke: String,
    /// How long it was held: `2 min`.
    pub hold: Option<String>,
    /// How often it was pulled before.
    pub cycles: Option<String>,
    /// On which machine, how fast, over which pins.
    pub method: Option<String>,
    /// The load cell and the day of its calibration.
    pub load_cell: Option<String>,
    /// Who spliced it.
    pub splicer: Option<String>,
    /// Listed strength, for a rope that is in no list.
    pub strength: Option<String>,
    /// Strength of the piece as it was estimated beforehand.
    pub estimate: Option<String>,
    /// Months in service, of a used sample.
    pub used_months: Option<String>,
    /// Bury of an unstitched pull-out test.
    pub bury: Option<String>,
    /// Load on the tail's leg when it let go.
    pub tail_load: Option<String>,
    /// Why it is left out of the statistics.
    pub left_out: Option<String>,
    /// Anything else.
    pub note: Option<String>,
    /// The rope list.
    pub ropes: Option<Text>,
}

/// A log of tests taken in.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct TakenInAnswer {
    /// Numbers of the tests that were kept.
    pub kept: Vec<String>,
    /// Rows that were not, each with its place.
    pub refused: Vec<Mistake>,
}

/// Enters a test; gives its number.
///
/// # Errors
/// When a part cannot be read or is missing, the number is taken, the piece
/// is not there, or it may not be tested any more.
pub async fn enter_test(records: &Records, entry: &TestEntry, stamp: &Stamp) -> Result<String, Problem> {
    let piece = match &entry.piece {
        Some(code) => Some(kept(records, code).await?),
        None => None,
    };
    let row = row_of(entry, piece.as_ref())?;
    Ok(records.store().add_test(&row, stamp).await?.number)
}

fn row_of(entry: &TestEntry, piece: Option<&Kept>) -> Result<Row, Problem> {
    let on = day("day", &entry.on)?;
    let rope_name = entry.rope.clone().or_else(|| piece.map(|kept| kept.piece.rope.clone()));
    let rope_name = rope_name.ok_or_else(|| missing("rope", "give its name in the rope list"))?;
    let listed = match force("strength", &entry.strength)? {
        Some(strength) => strength,
        None => {
            super::rope(&rope_name, &ropes(entry.ropes.as_ref())?)
                .ok_or_else(|| {
                    Problem::new(Fault::Request, "no-such-rope", format!("{rope_name:?} is not in the rope list"))
                        .hint("give its listed strength, or put it in the rope list")
                })?
                .strength
                .force
        }
    };
    let load = force("load", &text(&entry.load))?.ok_or_else(|| missing("load", "the highest it saw: 44 kN"))?;
    let outcome = Outcome::from_word(&entry.broke).ok_or_else(|| {
        let all = Outcome::ALL.map(Outcome::word).join(", ");
        Problem::new(Fault::Request, "unknown-word", format!("how it ended: {:?} is not known", entry.broke))
            .hint(format!("one of: {all}"))
    })?;
    let used = match piece.filter(|kept| kept.piece.in_service_on.is_some()) {
        Some(kept) => Some(Wear { months: kept.life.months_in_service(on), hours: Some(kept.life.hours) }),
        None => count("months in service", &entry.used_months)?.map(|months| Wear { months, hours: None }),
    };
    let facts = TestFacts {
        test: Test {
            number: entry.number.trim().to_owned(),
            load,
            outcome,
            listed,
            used,
            left_out: entry.left_out.clone(),
        },
        piece: piece.map(|kept| kept.piece.code.clone()),
        date: Some(entry.on.clone()),
        rope: rope_name,
        end: end_kind(&entry.end)?,
        bury: quantity::<Length>("bury", entry.bury.as_deref())?,
        tail_load: force("load on the tail", &entry.tail_load)?,
    };
    check_test(&facts.test).map_err(|why| Problem::new(Fault::Request, "no-test", why.to_string()).hint(why.hint()))?;
    let newtons = |field, text| Ok::<_, Problem>(force(field, text)?.map(millinewtons));
    let hold = entry.hold.as_deref().map(|text| crate::splice_task::time("hold", text)).transpose()?;
    Ok(Row {
        sample: entry.sample.clone().unwrap_or_default(),
        splicer: entry.splicer.clone().unwrap_or_default(),
        wanted_mn: newtons("load wanted", &entry.wanted)?,
        estimate_mn: newtons("estimated strength", &entry.estimate)?,
        hold_ms: hold.map(|seconds| (seconds * 1e3).round() as i64),
        cycles: count("pulled before", &entry.cycles)?.map(|times| times.round() as i64),
        rate: entry.method.clone().unwrap_or_default(),
        machine: entry.load_cell.clone().unwrap_or_default(),
        note: entry.note.clone().unwrap_or_default(),
        ..row(&facts)
    })
}

/// A test's row from its facts; what only a form gives is empty.
fn row(facts: &TestFacts) -> Row {
    let test = &facts.test;
    let broke_at = match test.outcome {
        Outcome::Held => None,
        Outcome::BrokeAtSplice | Outcome::DrewOut => Some(BrokeAt::Splice),
        Outcome::BrokeElsewhere => Some(BrokeAt::Clear),
        Outcome::FittingFailed => Some(BrokeAt::Grip),
    };
    let detail = json!({
        "listed_n": test.listed.to_n(),
        "drew_out": test.outcome == Outcome::DrewOut,
        "used_months": test.used.map(|used| used.months),
        "used_hours": test.used.and_then(|used| used.hours),
        "left_out": test.left_out,
        "bury_mm": facts.bury.map(|bury| bury.to_mm()),
        "tail_load_n": facts.tail_load.map(|load| load.to_n()),
    });
    Row {
        number: test.number.clone(),
        kind: if test.outcome == Outcome::Held { TestKind::Proof } else { TestKind::Break },
        piece: facts.piece.clone(),
        sample: String::new(),
        rope: facts.rope.clone(),
        end_kind: facts.end.word().to_owned(),
        splicer: String::new(),
        worn: if test.used.is_some() { Worn::Used } else { Worn::New },
        day: facts.date.clone().unwrap_or_default(),
        wanted_mn: None,
        load_mn: millinewtons(test.load),
        estimate_mn: None,
        hold_ms: None,
        cycles: None,
        extension_um: None,
        rate: String::new(),
        result: if test.outcome == Outcome::Held { TestResult::Held } else { TestResult::Broke },
        broke_at,
        machine: String::new(),
        detail: detail.to_string(),
        note: String::new(),
        at: String::new(),
        who: String::new(),
    }
}

/// Takes a log of tests in (CSV): each row that is a test is kept.
///
/// # Errors
/// When the log or the rope list cannot be read at all.
pub async fn take_in_tests(
    records: &Records,
    log: &Text,
    list: Option<&Text>,
    stamp: &Stamp,
) -> Result<TakenInAnswer, Problem> {
    let (facts, mut refused) = tests_of_file(log, &ropes(list)?)?;
    let mut taken = Vec::new();
    for facts in &facts {
        let mut new = row(facts);
        // The log's pieces may be older than the records.
        let known = match &new.piece {
            Some(code) => records.store().piece(code).await.is_ok(),
            None => false,
        };
        if !known {
            new.sample = new.piece.take().unwrap_or_else(|| format!("sample of test {}", new.number));
        }
        if new.day.is_empty() {
            stamp.day().clone_into(&mut new.day);
            new.note = "the log gives no day; this is the day it was taken in".to_owned();
        }
        match records.store().add_test(&new, stamp).await.map_err(Problem::from) {
            Ok(test) => taken.push(test.number),
            Err(why) if why.fault == Fault::Disk => return Err(why),
            Err(why) => refused.push(Mistake {
                code: "no-test",
                message: format!("test {}: {}", new.number, why.message),
                given: String::new(),
                allowed: String::new(),
                hint: why.hints.first().cloned().unwrap_or_default(),
                place: None,
            }),
        }
    }
    Ok(TakenInAnswer { kept: taken, refused })
}

/// Keeps the curve of a test, as its file was, and says what it comes to.
///
/// # Errors
/// When the curve has no reading, the test is not there or has a curve.
pub async fn keep_curve(
    records: &Records,
    test: &str,
    file: &Text,
    units: System,
    stamp: &Stamp,
) -> Result<CurveAnswer, Problem> {
    let answer = curve(&CurveRequest { curve: file.clone(), units })?;
    let bytes = crate::input::open(file, files::LARGEST_CURVE)?.bytes;
    let text = String::from_utf8_lossy(&bytes);
    let readings = i64::try_from(answer.readings).unwrap_or(i64::MAX);
    records.store().add_load_curve(test, &text, readings, stamp).await?;
    Ok(answer)
}

/// The curve of a test, worked out anew from the file that was kept.
///
/// # Errors
/// When the store cannot be read.
pub async fn kept_curve(records: &Records, test: &str, units: System) -> Result<Option<CurveAnswer>, Problem> {
    let Some(row) = records.store().load_curve(test).await? else { return Ok(None) };
    curve(&CurveRequest { curve: Text::held(format!("curve of test {test}"), &row.text), units }).map(Some)
}

fn millinewtons(force: Force) -> i64 {
    (force.to_n() * 1e3).round() as i64
}

fn text(text: &str) -> Option<String> {
    Some(text.to_owned()).filter(|text| !text.trim().is_empty())
}

fn missing(what: &str, hint: &str) -> Problem {
    Problem::new(Fault::Request, "missing-part", format!("{what}: nothing was given")).hint(hint)
}

fn force(field: &str, text: &Option<String>) -> Result<Option<Force>, Problem> {
    let force = quantity::<Force>(field, text.as_deref())?;
    match force {
        Some(below) if below < Force::ZERO => {
            let given = text.as_deref().unwrap_or_default();
            Err(Problem::new(Fault::Request, "below-zero", format!("{field}: {given:?} is below zero"))
                .hint("loads are pulls, from zero up"))
        }
        force => Ok(force),
    }
}

/// A number from zero up.
fn count(field: &str, text: &Option<String>) -> Result<Option<f64>, Problem> {
    let Some(given) = text else { return Ok(None) };
    let number = given.trim().parse::<f64>().ok().filter(|number| (0.0..=1e6).contains(number));
    number.map(Some).ok_or_else(|| {
        Problem::new(Fault::Request, "cannot-be-read", format!("{field}: {given:?} is no number"))
            .hint("a number from 0 to 1000000")
    })
}
