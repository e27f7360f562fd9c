//! What a certificate says of a piece: what was made, what was tested and by
//! which method. Pieces that people hang on, and standing rigging, are
//! refused one.

use super::{TestAnswer, cautions};
use crate::problem::Problem;
use crate::wire::Amount;
use proving::{Purpose, certificate_refused};
use schemars::JsonSchema;
use serde::Serialize;
use units::System;

/// What a certificate is made from.
#[derive(Debug, Clone)]
pub struct CertificateRequest {
    /// The piece's code.
    pub code: String,
    /// The boat.
    pub boat: String,
    /// The line.
    pub line: String,
    /// What it is for: `running`, `life-support`, `lifts-people`,
    /// `standing-rigging`.
    pub purpose: String,
    /// The rope.
    pub rope: String,
    /// The day it was made.
    pub made_on: Option<String>,
    /// Its tests, as the log has them.
    pub tests: Vec<TestAnswer>,
    /// Estimated strength of the piece; null where it is not known.
    pub strength: Option<Amount>,
    /// The method of the test: machine, rate, pins, cycles.
    pub method: Option<String>,
    /// The load cell and the day it was calibrated.
    pub load_cell: Option<String>,
    /// Who tested it.
    pub tested_by: Option<String>,
    /// The day it is given.
    pub given_on: String,
    /// Units to print.
    pub units: System,
}

/// A certificate of what was made and tested.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CertificateAnswer {
    /// The piece's code.
    pub code: String,
    /// The boat.
    pub boat: String,
    /// The line.
    pub line: String,
    /// The rope.
    pub rope: String,
    /// The day it was made.
    pub made_on: Option<String>,
    /// The proof test that it rests on.
    pub proof: TestAnswer,
    /// Its other tests.
    pub other_tests: Vec<TestAnswer>,
    /// Estimated strength; null where it is not known.
    pub strength: Option<Amount>,
    /// The method of the test.
    pub method: String,
    /// The load cell and its calibration.
    pub load_cell: String,
    /// Who tested it.
    pub tested_by: String,
    /// The day it is given.
    pub given_on: String,
    /// What it says, and what it does not.
    pub statements: Vec<&'static str>,
    /// What is said at every test.
    pub cautions: Vec<&'static str>,
}

/// What a certificate of ours says and does not say.
const STATEMENTS: [&str; 4] = [
    "This piece was made and pulled as stated here. The proof load is what it held on that day, and no working load.",
    "It is not for life support, climbing, lifting people, or standing rigging.",
    "It says nothing of the piece after wear, weather, overload, or a splice made anew.",
    "Local rules, the maker's instructions and qualified people come first.",
];

/// A certificate of a piece from its record.
///
/// # Errors
/// When the piece is of a kind that gets none, no proof test was held, the
/// last one failed, or method, load cell or tester are not written down.
pub fn certificate(request: &CertificateRequest) -> Result<CertificateAnswer, Problem> {
    let purpose = Purpose::from_word(&request.purpose).ok_or_else(|| {
        let all = Purpose::ALL.map(Purpose::word).join(", ");
        Problem::refused("unknown-word", format!("purpose: {:?} is not known", request.purpose))
            .hint(format!("one of: {all}"))
    })?;
    if let Some(why) = certificate_refused(purpose) {
        let problem = Problem::refused(why.code, why.text.show(request.units));
        return Err(why.remedy.iter().fold(problem, |problem, who| problem.hint(who.show(request.units))));
    }
    // The last test decides: a piece that broke after its proof has none.
    let last = request.tests.last().ok_or_else(|| {
        Problem::refused("no-proof", format!("{} has no test in the log", request.code))
            .hint("prove it, and enter the test")
    })?;
    if last.broke != "held" {
        return Err(Problem::refused(
            "proof-failed",
            format!("{}: test {} of {}: {}", request.code, last.number, last.load.text, last.ended),
        )
        .hint("a certificate needs a proof load that was held, and nothing broken after it"));
    }
    let said = |what: &'static str, text: &Option<String>, hint: &'static str| {
        text.clone()
            .filter(|text| !text.trim().is_empty())
            .ok_or_else(|| Problem::refused("not-written-down", format!("{what} is not written down")).hint(hint))
    };
    Ok(CertificateAnswer {
        code: request.code.clone(),
        boat: request.boat.clone(),
        line: request.line.clone(),
        rope: request.rope.clone(),
        made_on: request.made_on.clone(),
        proof: last.clone(),
        other_tests: request.tests[..request.tests.len() - 1].to_vec(),
        strength: request.strength.clone(),
        method: said(
            "the method of the test",
            &request.method,
            "say on which machine, how fast, over which pins, how often",
        )?,
        load_cell: said("the load cell", &request.load_cell, "say which it is, and the day of its calibration")?,
        tested_by: said("who tested it", &request.tested_by, "give the name of who pulled it")?,
        given_on: request.given_on.clone(),
        statements: STATEMENTS.to_vec(),
        cautions: cautions(),
    })
}
