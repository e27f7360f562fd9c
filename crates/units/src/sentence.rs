//! A sentence with values in it, printed in either system of units.

use crate::{System, Value};

/// Words with `{}` where values stand, and the values in order.
///
/// ```
/// use units::{Millimetres, Sentence, System};
/// let s = Sentence::new("mark {} from the bitter end").with(Millimetres::new(720));
/// assert_eq!(s.show(System::Metric), "mark 720 mm from the bitter end");
/// assert_eq!(s.show(System::Us), "mark 28 3/8 in from the bitter end");
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Sentence {
    words: &'static str,
    values: Vec<Value>,
}

impl Sentence {
    /// Words alone, or the first part of a chain of [`with`](Self::with).
    #[must_use]
    pub fn new(words: &'static str) -> Self {
        Sentence { words, values: Vec::new() }
    }

    /// The value for the next `{}`.
    #[must_use]
    pub fn with(mut self, value: impl Into<Value>) -> Self {
        self.values.push(value.into());
        self
    }

    /// The words as written, with their places open: what a test may look for.
    #[must_use]
    pub fn words(&self) -> &'static str {
        self.words
    }

    /// The values in order.
    #[must_use]
    pub fn values(&self) -> &[Value] {
        &self.values
    }

    /// As text. A place without a value shows as `{}`, and a test of each
    /// sentence finds it; values are inserted as they are, never read again. A value too many is appended.
    #[must_use]
    pub fn show(&self, system: System) -> String {
        let mut text = String::new();
        let mut values = self.values.iter();
        let mut parts = self.words.split("{}").peekable();
        while let Some(part) = parts.next() {
            text.push_str(part);
            if parts.peek().is_some() {
                match values.next() {
                    Some(value) => text.push_str(&value.show(system)),
                    None => text.push_str("{}"),
                }
            }
        }
        // A value without a place is a slip of ours: shown rather than lost.
        for value in values {
            text.push_str(&format!(" ({})", value.show(system)));
        }
        text
    }
}
