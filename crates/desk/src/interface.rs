//! The schemas of what the programme interface gives: every answer of desk
//! that a front end sends as JSON, by the word it is known under there.

use crate::schema::{Document, schema};
use crate::{BenchAnswer, BoatAnswer, PieceAnswer, PieceListed, ProofAnswer, TakenInAnswer};
use serde_json::Value;

/// Words and schemas.
///
/// ```
/// let words: Vec<&str> = desk::interface_schemas().into_iter().map(|(word, _)| word).collect();
/// assert!(words.contains(&"lines") && words.contains(&"due"));
/// ```
#[must_use]
pub fn interface_schemas() -> Vec<(&'static str, Value)> {
    let documents = Document::ALL.iter().copied().filter(|(document, _)| *document != Document::Order);
    let mut all: Vec<(&'static str, Value)> = documents.map(|(document, word)| (word, schema(document))).collect();
    all.extend([
        ("boat", schemars::schema_for!(BoatAnswer).to_value()),
        ("pieces", schemars::schema_for!(Vec<PieceListed>).to_value()),
        ("bench", schemars::schema_for!(BenchAnswer).to_value()),
        ("record", schemars::schema_for!(PieceAnswer).to_value()),
        ("taken-in", schemars::schema_for!(TakenInAnswer).to_value()),
        ("tests", schemars::schema_for!(ProofAnswer).to_value()),
    ]);
    all
}
