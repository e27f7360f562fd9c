//! One step of an answer's working.

use crate::{Citation, Kind};
use units::{System, Value};

/// What was computed, how, from what, and on whose word.
///
/// ```
/// use sources::{Step, COMMON_PRACTICE};
/// use units::{Length, System};
/// let step = Step::new("bury", "72 d", Length::of_mm(720.0), COMMON_PRACTICE.at("HMPE long bury"))
///     .input("d", Length::of_mm(10.0));
/// assert_eq!(step.show(System::Metric), "bury = 72 d = 720 mm  [d 10 mm; common practice, no source, HMPE long bury]");
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What this is.
    pub what: &'static str,
    /// How it follows from the inputs.
    pub formula: &'static str,
    /// Names and values that went in.
    pub inputs: Vec<(&'static str, Value)>,
    /// What came out.
    pub result: Value,
    /// On whose word.
    pub citation: Citation,
}

impl Step {
    /// A step without inputs yet.
    #[must_use]
    pub fn new(what: &'static str, formula: &'static str, result: impl Into<Value>, citation: Citation) -> Self {
        Step { what, formula, inputs: Vec::new(), result: result.into(), citation }
    }

    /// With one more input.
    #[must_use]
    pub fn input(mut self, name: &'static str, value: impl Into<Value>) -> Self {
        self.inputs.push((name, value.into()));
        self
    }

    /// The step on one line.
    #[must_use]
    pub fn show(&self, system: System) -> String {
        let result = self.result.show(system);
        let equation = if self.formula.is_empty() {
            format!("{} = {result}", self.what)
        } else {
            format!("{} = {} = {result}", self.what, self.formula)
        };
        let inputs =
            self.inputs.iter().map(|(name, value)| format!("{name} {}", value.show(system))).collect::<Vec<_>>();
        let origin = if inputs.is_empty() {
            self.citation.to_string()
        } else {
            format!("{}; {}", inputs.join(", "), self.citation)
        };
        format!("{equation}  [{origin}]")
    }
}

impl Step {
    /// The least trusted kind among `steps`; `None` when there are none.
    #[must_use]
    pub fn trust(steps: &[Step]) -> Option<Kind> {
        steps.iter().map(|step| step.citation.source.kind).min()
    }
}
