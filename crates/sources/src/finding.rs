//! Bad news that still allows an answer.

use crate::Citation;
use units::{Sentence, System};

/// How bad a finding is; the order is that of weight.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grade {
    /// Worth knowing.
    Note,
    /// Look before going on.
    Caution,
    /// Not to be made like this.
    Stop,
}

impl Grade {
    /// The word printed.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Grade::Note => "note",
            Grade::Caution => "caution",
            Grade::Stop => "stop",
        }
    }
}

/// One graded sentence about an answer, and what to do about it.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// How bad.
    pub grade: Grade,
    /// A short fixed name for programs and tests: `short-bury`.
    pub code: &'static str,
    /// What is wrong, with its numbers.
    pub text: Sentence,
    /// The shortest change that clears it, where one is known.
    pub remedy: Option<Sentence>,
    /// On whose word.
    pub citation: Citation,
}

impl Finding {
    /// A finding without a remedy yet.
    #[must_use]
    pub fn new(grade: Grade, code: &'static str, text: Sentence, citation: Citation) -> Self {
        Finding { grade, code, text, remedy: None, citation }
    }

    /// With the change that clears it.
    #[must_use]
    pub fn remedy(mut self, remedy: Sentence) -> Self {
        self.remedy = Some(remedy);
        self
    }

    /// The finding as text: grade, sentence, remedy.
    #[must_use]
    pub fn show(&self, system: System) -> String {
        let text = self.text.show(system);
        match &self.remedy {
            Some(remedy) => format!("{}: {text}; {}", self.grade.word(), remedy.show(system)),
            None => format!("{}: {text}", self.grade.word()),
        }
    }
}

/// The worst grade among findings.
#[must_use]
pub fn worst(findings: &[Finding]) -> Option<Grade> {
    findings.iter().map(|finding| finding.grade).max()
}

/// An answer and what is to be said about it.
#[derive(Debug, Clone, PartialEq)]
pub struct Checked<T> {
    /// The answer.
    pub value: T,
    /// What is to be said about it.
    pub findings: Vec<Finding>,
}
