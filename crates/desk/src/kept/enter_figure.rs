//! Minutes at the bench and measured figures entered: what the loft learns
//! from.

use super::day;
use crate::problem::{Fault, Problem};
use crate::records::rows::{Minutes, Reading};
use crate::records::{Records, Stamp};
use crate::splice_read::end_kind;
use proving::Learns;
use serde_json::json;

/// A figure as it is typed.
#[derive(Debug, Clone, Default)]
pub struct FigureEntry {
    /// `minutes`, `shrinkage`, `bedding-in` or `friction`.
    pub what: String,
    /// The kind of end it was measured on.
    pub end: String,
    /// The rope; needed for all but minutes.
    pub rope: Option<String>,
    /// The piece, where it has a record.
    pub piece: Option<String>,
    /// Minutes; made over planned; or a share.
    pub value: String,
    /// The day.
    pub on: String,
}

/// The figures that can be entered, each with what its number is.
pub const FIGURES: [(&str, &str); 4] = [
    ("minutes", "minutes that an end took"),
    ("shrinkage", "shrinkage over a bury, made over planned: 1.05"),
    ("bedding-in", "length gained when the splice was set, as a share: 0.004"),
    ("friction", "friction of strand on strand, as found elsewhere: 0.07"),
];

/// Enters a figure.
///
/// # Errors
/// When it cannot be read, is zero or less, lacks its rope, or the piece is
/// not there.
pub async fn enter_figure(records: &Records, entry: &FigureEntry, stamp: &Stamp) -> Result<(), Problem> {
    day("day", &entry.on)?;
    let end = end_kind(&entry.end)?;
    let what = [Learns::Minutes, Learns::Shrinkage, Learns::BeddingIn, Learns::Friction]
        .into_iter()
        .find(|what| what.word() == entry.what.trim())
        .ok_or_else(|| {
            let all = FIGURES.map(|(word, _)| word).join(", ");
            Problem::new(Fault::Request, "unknown-word", format!("{:?} is no figure", entry.what))
                .hint(format!("one of: {all}"))
        })?;
    let value = entry.value.trim().parse::<f64>().ok().filter(|value| (1e-6..=1e6).contains(value));
    let value = value.ok_or_else(|| {
        Problem::new(Fault::Request, "cannot-be-read", format!("{}: {:?} is no figure", what.word(), entry.value))
            .hint("a plain number above zero, without a unit")
    })?;
    let rope = entry.rope.clone().unwrap_or_default();
    if what == Learns::Minutes {
        let row = Minutes {
            seq: 0,
            piece: entry.piece.clone(),
            end_kind: end.word().to_owned(),
            rope,
            rigger: stamp.who().to_owned(),
            seconds: ((value * 60.0).round() as i64).max(1),
            day: entry.on.clone(),
            note: String::new(),
            at: String::new(),
            who: String::new(),
        };
        records.store().add_minutes(&row, stamp).await?;
        return Ok(());
    }
    if rope.trim().is_empty() {
        return Err(Problem::new(Fault::Request, "missing-part", format!("{}: no rope was given", what.word()))
            .hint("it is of one rope: give its name in the rope list"));
    }
    let row = Reading {
        seq: 0,
        what: what.word().to_owned(),
        rope,
        piece: entry.piece.clone(),
        given: entry.value.clone(),
        millionths: (value * 1e6).round() as i64,
        unit: "1".to_owned(),
        detail: json!({ "end": end.word() }).to_string(),
        day: entry.on.clone(),
        at: String::new(),
        who: String::new(),
    };
    records.store().add_reading(&row, stamp).await?;
    Ok(())
}
