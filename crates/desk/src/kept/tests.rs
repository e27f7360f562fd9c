//! Tests and figures of the store, through the tasks of the log.

use super::{rope, ropes};
use crate::learned::{LearnedAnswer, Measure, figures};
use crate::problem::{Mistake, Problem};
use crate::proof::{
    CertificateAnswer, CertificateRequest, ProofAnswer, ProofRequest, TestFacts, answer, certificate, test_answer,
};
use crate::records::Records;
use crate::records::rows::{BrokeAt, Test as Row, TestResult, TestsWanted, Worn};
use crate::text::Text;
use cordage::Rope;
use proving::{Learns, Outcome, Test, Wear};
use serde_json::Value as Json;
use splice::EndKind;
use units::{Force, Length, System};

/// What is asked of the store.
#[derive(Debug, Clone, Default)]
pub struct StoredRequest {
    /// The rope list, for listed strengths and defaults.
    pub ropes: Option<Text>,
    /// Tests of this rope only.
    pub rope: Option<String>,
    /// Tests of this kind of end only.
    pub end: Option<String>,
    /// Units to print.
    pub units: System,
}

/// The store's log of tests by rope and kind of splice.
///
/// # Errors
/// When the store or the rope list cannot be read, or nothing is as asked.
pub async fn stored_proof(records: &Records, request: &StoredRequest) -> Result<ProofAnswer, Problem> {
    let list = ropes(request.ropes.as_ref())?;
    let rows = records.store().tests(TestsWanted::default()).await?;
    let (facts, refused) = facts_of(&rows, &list);
    let asked = ProofRequest {
        rope: request.rope.clone(),
        end: request.end.clone(),
        units: request.units,
        ..ProofRequest::default()
    };
    answer(facts, refused, &list, &asked)
}

/// What the loft has learnt, from the store.
///
/// # Errors
/// When the store or the rope list cannot be read.
pub async fn stored_learned(records: &Records, request: &StoredRequest) -> Result<LearnedAnswer, Problem> {
    let list = ropes(request.ropes.as_ref())?;
    let rows = records.store().tests(TestsWanted::default()).await?;
    let (facts, refused) = facts_of(&rows, &list);
    let measures = measures_of(records).await?;
    let figures = figures(&facts, &measures, &list, request.units)?;
    Ok(LearnedAnswer { figures, refused })
}

/// Tests and measured figures out of a store, to be used in place of defaults.
#[derive(Debug, Clone)]
pub struct KeptFigures {
    place: String,
    rows: Vec<Row>,
    measures: Vec<Measure>,
}

impl KeptFigures {
    /// Those of a store.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn of(records: &Records) -> Result<KeptFigures, Problem> {
        let store = records.store();
        let (rows, measures) = (store.tests(TestsWanted::default()).await?, measures_of(records).await?);
        Ok(KeptFigures { place: store.place().to_string(), rows, measures })
    }

    /// The store's tests, and those that are none.
    pub(crate) fn tests(&self, ropes: &[Rope]) -> (Vec<TestFacts>, Vec<Mistake>) {
        facts_of(&self.rows, ropes)
    }

    pub(crate) fn measures(&self) -> &[Measure] {
        &self.measures
    }

    pub(crate) fn place(&self) -> &str {
        &self.place
    }
}

/// Minutes and readings of the store.
pub(crate) async fn measures_of(records: &Records) -> Result<Vec<Measure>, Problem> {
    let store = records.store();
    let named = |rope: &str| Some(rope.to_owned()).filter(|rope| !rope.is_empty());
    let mut measures: Vec<Measure> = store
        .minutes()
        .await?
        .iter()
        .filter_map(|row| {
            let end = EndKind::from_word(&row.end_kind)?;
            Some(Measure { what: Learns::Minutes, end, rope: named(&row.rope), value: row.seconds as f64 / 60.0 })
        })
        .collect();
    for what in [Learns::Shrinkage, Learns::BeddingIn, Learns::Friction] {
        measures.extend(store.readings(what.word()).await?.iter().filter_map(|row| {
            let detail: Json = serde_json::from_str(&row.detail).unwrap_or_default();
            let end = detail["end"].as_str().and_then(EndKind::from_word)?;
            Some(Measure { what, end, rope: named(&row.rope), value: row.millionths as f64 / 1e6 })
        }));
    }
    Ok(measures)
}

/// Rows of the store as tests, and those that are none.
pub(crate) fn facts_of(rows: &[Row], ropes: &[Rope]) -> (Vec<TestFacts>, Vec<Mistake>) {
    let mut refused = Vec::new();
    let mut kept = Vec::new();
    for row in rows {
        match facts(row, ropes) {
            Ok(facts) => kept.push(facts),
            Err(message) => refused.push(mistake(&row.number, message, "give the rope list with this rope's strength")),
        }
    }
    let (_, not) = proving::admit(kept.iter().map(|facts| facts.test.clone()).collect());
    for (index, why) in not.iter().rev() {
        refused.push(mistake(&kept[*index].test.number, why.to_string(), why.hint()));
        kept.remove(*index);
    }
    (kept, refused)
}

fn mistake(number: &str, message: String, hint: &str) -> Mistake {
    Mistake {
        code: "no-test",
        message: format!("test {number}: {message}"),
        given: String::new(),
        allowed: String::new(),
        hint: hint.to_owned(),
        place: None,
    }
}

fn facts(row: &Row, ropes: &[Rope]) -> Result<TestFacts, String> {
    let detail: Json = serde_json::from_str(&row.detail).unwrap_or_default();
    let end = EndKind::from_word(&row.end_kind).ok_or_else(|| format!("{:?} is no kind of end", row.end_kind))?;
    let listed = match detail["listed_n"].as_f64() {
        Some(newtons) => Force::n(newtons).map_err(|why| why.to_string())?,
        None => {
            rope(&row.rope, ropes).ok_or_else(|| format!("the strength of {:?} is not known", row.rope))?.strength.force
        }
    };
    let drew_out = detail["drew_out"].as_bool().unwrap_or(false);
    let outcome = match (row.result, row.broke_at) {
        (TestResult::Held | TestResult::Stopped, _) => Outcome::Held,
        (TestResult::Broke, _) if drew_out => Outcome::DrewOut,
        (TestResult::Broke, Some(BrokeAt::Splice | BrokeAt::Throat | BrokeAt::Eye)) => Outcome::BrokeAtSplice,
        (TestResult::Broke, Some(BrokeAt::Clear)) => Outcome::BrokeElsewhere,
        (TestResult::Broke, Some(BrokeAt::Grip | BrokeAt::Elsewhere) | None) => Outcome::FittingFailed,
    };
    let used = (row.worn == Worn::Used)
        .then(|| Wear { months: detail["used_months"].as_f64().unwrap_or(0.0), hours: detail["used_hours"].as_f64() });
    Ok(TestFacts {
        test: Test {
            number: row.number.clone(),
            load: Force::of_n(row.load_mn as f64 / 1e3),
            outcome,
            listed,
            used,
            left_out: detail["left_out"].as_str().map(str::to_owned),
        },
        piece: row.piece.clone(),
        date: Some(row.day.clone()),
        rope: row.rope.clone(),
        end,
        bury: detail["bury_mm"].as_f64().and_then(|mm| Length::mm(mm).ok()),
        tail_load: detail["tail_load_n"].as_f64().and_then(|n| Force::n(n).ok()),
    })
}

/// What a certificate of a stored piece is asked with.
#[derive(Debug, Clone, Default)]
pub struct CertifyRequest {
    /// The piece.
    pub code: String,
    /// The day it is given.
    pub on: String,
    /// The rope list.
    pub ropes: Option<Text>,
    /// Units to print.
    pub units: System,
}

/// A certificate of a stored piece.
///
/// # Errors
/// As for [`certificate`]; when the piece or its tests cannot be read.
pub async fn certify(records: &Records, request: &CertifyRequest) -> Result<CertificateAnswer, Problem> {
    let store = records.store();
    let piece = store.piece(&request.code).await?;
    let rows = store.tests(TestsWanted { piece: Some(&request.code), ..TestsWanted::default() }).await?;
    let (facts, _) = facts_of(&rows, &ropes(request.ropes.as_ref())?);
    let last = rows.last();
    let method = last.map(|row| {
        let cycles = row.cycles.map_or_else(String::new, |cycles| format!(", {cycles} cycles before"));
        let hold = row.hold_ms.map_or_else(String::new, |ms| format!(", held {} s", ms as f64 / 1e3));
        format!("{}{cycles}{hold}", row.rate)
    });
    certificate(&CertificateRequest {
        code: piece.code.clone(),
        boat: piece.boat.clone(),
        line: piece.line.clone(),
        // A purpose that names people or the mast is refused; any other is
        // running rigging, whatever the order calls it.
        purpose: purpose(&piece.purpose).to_owned(),
        rope: piece.rope.clone(),
        made_on: piece.made_on.clone(),
        tests: facts.iter().map(|facts| test_answer(facts, request.units)).collect(),
        strength: last
            .and_then(|row| row.estimate_mn)
            .map(|mn| crate::wire::Amount::of(Force::of_n(mn as f64 / 1e3), request.units)),
        method,
        load_cell: last.map(|row| row.machine.clone()),
        tested_by: last.map(|row| row.who.clone()),
        given_on: request.on.clone(),
        units: request.units,
    })
}

/// The purpose of a certificate from a piece's own word for what it is for.
pub(crate) fn purpose(word: &str) -> &'static str {
    match word.trim().to_ascii_lowercase().as_str() {
        "life-support" | "climbing" => "life-support",
        "holds-person" | "lifts-people" | "lifting-people" => "lifts-people",
        "standing-rigging" => "standing-rigging",
        _ => "running",
    }
}
