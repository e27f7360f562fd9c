//! The JSON schemas that the program publishes.

use crate::{
    CardsAnswer, CheckAnswer, ConfirmAnswer, CoverAnswer, CutAnswer, LinesAnswer, Problem, RopeChoiceAnswer,
    SpliceAnswer,
};
use serde_json::Value;

/// What has a schema.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[expect(missing_docs, reason = "each variant is the document of its name")]
pub enum Document {
    Order,
    Lines,
    Rope,
    Cover,
    Splice,
    Cut,
    Confirm,
    Sheets,
    Check,
    Problem,
}

impl Document {
    /// Every document with its word.
    pub const ALL: [(Document, &'static str); 10] = [
        (Document::Order, "order"),
        (Document::Lines, "lines"),
        (Document::Rope, "rope"),
        (Document::Cover, "cover"),
        (Document::Splice, "splice"),
        (Document::Cut, "cut"),
        (Document::Confirm, "confirm"),
        (Document::Sheets, "sheets"),
        (Document::Check, "check"),
        (Document::Problem, "problem"),
    ];

    /// From its word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Document> {
        Document::ALL.into_iter().find(|(_, known)| *known == word).map(|(document, _)| document)
    }
}

/// The JSON schema of the order file, or of an answer.
#[must_use]
pub fn schema(of: Document) -> Value {
    match of {
        Document::Order => files::order_schema(),
        Document::Lines => schemars::schema_for!(LinesAnswer).to_value(),
        Document::Rope => schemars::schema_for!(RopeChoiceAnswer).to_value(),
        Document::Cover => schemars::schema_for!(CoverAnswer).to_value(),
        Document::Splice => schemars::schema_for!(SpliceAnswer).to_value(),
        Document::Cut => schemars::schema_for!(CutAnswer).to_value(),
        Document::Confirm => schemars::schema_for!(ConfirmAnswer).to_value(),
        Document::Sheets => schemars::schema_for!(CardsAnswer).to_value(),
        Document::Check => schemars::schema_for!(CheckAnswer).to_value(),
        Document::Problem => schemars::schema_for!(Problem).to_value(),
    }
}
