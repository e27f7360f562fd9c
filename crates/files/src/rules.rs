//! The loft's rules: which end and whether a cover, on which line, and why.
//!
//! A table like the others: one rule a row, choices of one rule with semicolons
//! between. What a fact means is not known here.

use crate::cells;
use crate::place::Placed;
use crate::problem::Read;
use crate::record::{record, unique};
use crate::shape::Description;
use crate::value::Notes;

record! {
    /// One rule of the loft.
    RuleRecord {
        /// Its short name
        required rule: String;
        /// The fact that it looks at: one of those that becket rules --facts lists
        required when: String;
        /// It speaks from this much on; 1 for yes
        assumed at_least: f64 where -1_000_000.0..=1_000_000.0 => 1.0;
        /// Choices it speaks for: strip, keep, or kinds of end, with semicolons between
        many speaks_for as "for": String;
        /// Choices it speaks against
        many against: String;
        /// How much it weighs
        assumed weight: f64 where 0.1..=100.0 => 1.0;
        /// Why
        required reason: Notes;
    }
}

/// Reads a table of rules.
///
/// ```
/// let read = files::read_rules(b"rule,when,for,reason\nchafe,chafes-at-end,keep;covered-eye,it wears\n");
/// let rules = read.complete().unwrap();
/// assert_eq!(rules[0].value.speaks_for.len(), 2);
/// assert_eq!(rules[0].value.weight.value, 1.0);
/// ```
#[must_use]
pub fn read_rules(bytes: &[u8]) -> Read<Vec<Placed<RuleRecord>>> {
    cells::read(bytes, |rules: &[Placed<RuleRecord>], log| {
        unique(rules.iter().map(|rule| (rule.value.rule.value.as_str(), rule.value.rule.place)), "rules", log);
    })
}

/// The columns of a table of rules.
#[must_use]
pub fn rules_description() -> Description {
    cells::description::<RuleRecord>()
}
