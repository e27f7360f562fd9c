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
    Own,
    ProofTests,
    ProofPlan,
    ProofCurve,
    Learned,
    Certificate,
    Price,
    #[cfg(feature = "records")]
    Due,
    #[cfg(feature = "records")]
    Piece,
    #[cfg(feature = "records")]
    Entered,
    Problem,
}

impl Document {
    /// Every document with its word.
    pub const ALL: &'static [(Document, &'static str)] = &[
        (Document::Order, "order"),
        (Document::Lines, "lines"),
        (Document::Rope, "rope"),
        (Document::Cover, "cover"),
        (Document::Splice, "splice"),
        (Document::Cut, "cut"),
        (Document::Confirm, "confirm"),
        (Document::Sheets, "sheets"),
        (Document::Check, "check"),
        (Document::Own, "own"),
        (Document::ProofTests, "proof-tests"),
        (Document::ProofPlan, "proof-plan"),
        (Document::ProofCurve, "proof-curve"),
        (Document::Learned, "learned"),
        (Document::Certificate, "certificate"),
        (Document::Price, "price"),
        #[cfg(feature = "records")]
        (Document::Due, "due"),
        #[cfg(feature = "records")]
        (Document::Piece, "piece"),
        #[cfg(feature = "records")]
        (Document::Entered, "entered"),
        (Document::Problem, "problem"),
    ];

    /// From its word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Document> {
        Document::ALL.iter().find(|(_, known)| *known == word).map(|(document, _)| *document)
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
        Document::Own => schemars::schema_for!(crate::OwnAnswer).to_value(),
        Document::ProofTests => schemars::schema_for!(crate::ProofAnswer).to_value(),
        Document::ProofPlan => schemars::schema_for!(Vec<crate::PlanAnswer>).to_value(),
        Document::ProofCurve => schemars::schema_for!(crate::CurveAnswer).to_value(),
        Document::Learned => schemars::schema_for!(crate::LearnedAnswer).to_value(),
        Document::Certificate => schemars::schema_for!(crate::CertificateAnswer).to_value(),
        Document::Price => schemars::schema_for!(crate::QuoteAnswer).to_value(),
        #[cfg(feature = "records")]
        Document::Due => schemars::schema_for!(crate::DueAnswer).to_value(),
        #[cfg(feature = "records")]
        Document::Piece => schemars::schema_for!(crate::PieceAnswer).to_value(),
        #[cfg(feature = "records")]
        Document::Entered => schemars::schema_for!(crate::EnterTestsAnswer).to_value(),
        Document::Problem => schemars::schema_for!(Problem).to_value(),
    }
}
