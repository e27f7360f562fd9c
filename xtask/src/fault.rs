//! What a rule found: where, which rule, and what to do.

use std::fmt;

/// Whether a fault stops the change.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// Listed, and the run goes on.
    Warning,
    /// The run fails.
    Error,
}

/// One place where a rule does not hold.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fault {
    /// Whether it stops the change.
    pub weight: Weight,
    /// The file, from the root.
    pub path: String,
    /// The line, from 1; 0 for the whole file.
    pub line: usize,
    /// The rule's name.
    pub rule: &'static str,
    /// What is wrong and what would be right.
    pub text: String,
}

impl Fault {
    /// A fault that stops the change.
    pub fn error(rule: &'static str, path: &str, line: usize, text: impl Into<String>) -> Self {
        Fault { weight: Weight::Error, path: path.to_owned(), line, rule, text: text.into() }
    }

    /// A fault that is only listed.
    pub fn warning(rule: &'static str, path: &str, line: usize, text: impl Into<String>) -> Self {
        Fault { weight: Weight::Warning, ..Fault::error(rule, path, line, text) }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let word = match self.weight {
            Weight::Warning => "warning",
            Weight::Error => "error",
        };
        match self.line {
            0 => write!(f, "{}: {word} [{}] {}", self.path, self.rule, self.text),
            line => write!(f, "{}:{line}: {word} [{}] {}", self.path, self.rule, self.text),
        }
    }
}
