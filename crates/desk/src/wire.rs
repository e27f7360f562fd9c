//! Values as JSON carries them: `{"value": 720, "unit": "mm"}`.
//!
//! The text that a person reads is beside each amount but is not serialised:
//! page, card and terminal print the same one.

use schemars::JsonSchema;
use serde::Serialize;
use units::{System, Value};

/// A number with its unit, and the text that shows it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Amount {
    /// The number.
    pub value: f64,
    /// Its unit; empty for a plain number.
    pub unit: &'static str,
    /// The same as text.
    #[serde(skip)]
    pub text: String,
}

impl Amount {
    pub(crate) fn of(value: impl Into<Value>, system: System) -> Amount {
        let value = value.into();
        let (number, unit) = value.number(system);
        Amount { value: tidy(number), unit, text: value.show(system) }
    }
}

/// Twelve significant digits: what the last bits of arithmetic say is noise.
fn tidy(number: f64) -> f64 {
    format!("{number:.11e}").parse().unwrap_or(number)
}

/// A range of three: 5th percentile, middle, 95th.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Margin<T> {
    /// 5th percentile of what is believed of the rope.
    pub low: T,
    /// Its middle.
    pub usual: T,
    /// 95th percentile.
    pub high: T,
}

impl<T> Margin<T> {
    pub(crate) fn of<S>(span: splice::Span<S>, each: impl Fn(S) -> T) -> Margin<T> {
        Margin { low: each(span.low), usual: each(span.usual), high: each(span.high) }
    }
}

/// One step of the working.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct StepAnswer {
    /// What was worked out.
    pub what: &'static str,
    /// How.
    pub formula: &'static str,
    /// Names and values that went in.
    pub inputs: Vec<(&'static str, String)>,
    /// What came out.
    pub result: String,
    /// On whose word, and where.
    pub source: String,
    /// How far that is trusted.
    pub trust: &'static str,
}

impl StepAnswer {
    pub(crate) fn of(step: &sources::Step, system: System) -> StepAnswer {
        StepAnswer {
            what: step.what,
            formula: step.formula,
            inputs: step.inputs.iter().map(|(name, value)| (*name, value.show(system))).collect(),
            result: step.result.show(system),
            source: step.citation.to_string(),
            trust: step.citation.source.kind.words(),
        }
    }
}

/// A graded sentence.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct FindingAnswer {
    /// `note`, `caution` or `stop`.
    pub grade: &'static str,
    /// A fixed name for programs.
    pub code: &'static str,
    /// What is to be said.
    pub text: String,
    /// The shortest change that clears it.
    pub remedy: Option<String>,
    /// On whose word.
    pub source: String,
}

impl FindingAnswer {
    pub(crate) fn of(finding: &sources::Finding, system: System) -> FindingAnswer {
        FindingAnswer {
            grade: finding.grade.word(),
            code: finding.code,
            text: finding.text.show(system),
            remedy: finding.remedy.as_ref().map(|remedy| remedy.show(system)),
            source: finding.citation.to_string(),
        }
    }

    /// Does it forbid the piece?
    #[must_use]
    pub fn is_stop(&self) -> bool {
        self.grade == sources::Grade::Stop.word()
    }
}

pub(crate) fn findings(findings: &[sources::Finding], system: System) -> Vec<FindingAnswer> {
    findings.iter().map(|finding| FindingAnswer::of(finding, system)).collect()
}

pub(crate) fn steps(steps: &[sources::Step], system: System) -> Vec<StepAnswer> {
    steps.iter().map(|step| StepAnswer::of(step, system)).collect()
}

/// One place where a piece could break.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WeakPointAnswer {
    /// Where.
    pub place: String,
    /// Its strength; null is not assessed.
    pub strength: Option<Amount>,
    /// Share of the rope's listed strength, low end.
    pub share: Option<f64>,
    /// Why.
    pub reason: String,
    /// On whose word.
    pub source: String,
}

/// One strand taken out of a tail.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TaperStepAnswer {
    /// Distance from the bitter end.
    pub at: Amount,
    /// Whole picks from the bitter end.
    pub pick: u32,
    /// `left` or `right`.
    pub hand: &'static str,
    /// Strands left between here and the bitter end.
    pub strands_left: u32,
}
