//! The loft's own figures, where a task takes them in place of the defaults.
//!
//! They come from the log of tests and the list of measured figures, as files
//! or out of the store, and are settled by the same rules that `becket proof`
//! prints: strengths by break tests, from five breaks on; friction, shrinkage,
//! bedding-in and minutes weighed together with the default. Nothing is taken
//! unless it was asked for, and every number that it moves carries a note.
//! Rows that are no tests are told beside the answer, and the rest is used.

use crate::job::same;
use crate::learned::{Measure, groups, measures_of_file, settled};
use crate::problem::{Mistake, Problem};
use crate::proof::{TestFacts, default_of, tests_of_file};
use crate::text::Text;
use cordage::Rope;
use proving::Learns;
use schemars::JsonSchema;
use serde::Serialize;
use splice::{EndKind, Own, OwnFigure, OwnFigures, OwnOf, OwnStrength};
use std::collections::BTreeMap;
use units::Sentence;

/// Where the loft's own figures come from; nowhere, unless something is given.
#[derive(Debug, Clone, Default)]
pub struct OwnSource {
    /// The log of tests (CSV).
    pub tests: Option<Text>,
    /// Measured figures (CSV).
    pub measures: Option<Text>,
    /// Tests and figures of a store.
    #[cfg(feature = "records")]
    pub kept: Option<crate::kept::KeptFigures>,
}

/// What was read of the loft's own.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct OwnAnswer {
    /// Files, or the store.
    pub from: Vec<String>,
    /// Tests that were used.
    pub tests: usize,
    /// Measured figures that were used.
    pub measures: usize,
    /// Rows that were refused, each with its place.
    pub refused: Vec<Mistake>,
}

/// Figures for the core, and what is said of them.
#[derive(Debug, Clone, Default)]
pub(crate) struct OwnRead {
    pub(crate) figures: OwnFigures,
    pub(crate) answer: Option<OwnAnswer>,
}

impl OwnSource {
    /// Is nothing given?
    #[must_use]
    pub fn is_empty(&self) -> bool {
        #[cfg(feature = "records")]
        if self.kept.is_some() {
            return false;
        }
        self.tests.is_none() && self.measures.is_none()
    }

    /// Reads it, against a rope list.
    pub(crate) fn read(&self, ropes: &[Rope]) -> Result<OwnRead, Problem> {
        if self.is_empty() {
            return Ok(OwnRead::default());
        }
        let mut answer = OwnAnswer { from: Vec::new(), tests: 0, measures: 0, refused: Vec::new() };
        let (mut tests, mut measures) = (Vec::new(), Vec::new());
        if let Some(text) = &self.tests {
            let (found, refused) = tests_of_file(text, ropes)?;
            tests.extend(found);
            answer.refused.extend(refused);
            answer.from.push(text.to_string());
        }
        if let Some(text) = &self.measures {
            let (found, refused) = measures_of_file(text)?;
            measures.extend(found);
            answer.refused.extend(refused);
            answer.from.push(text.to_string());
        }
        #[cfg(feature = "records")]
        if let Some(kept) = &self.kept {
            let (found, refused) = kept.tests(ropes);
            tests.extend(found);
            answer.refused.extend(refused);
            measures.extend_from_slice(kept.measures());
            answer.from.push(kept.place().to_owned());
        }
        (answer.tests, answer.measures) = (tests.len(), measures.len());
        let figures = own_figures(&tests, &measures, ropes)?;
        Ok(OwnRead { figures, answer: Some(answer) })
    }
}

fn own_figures(tests: &[TestFacts], measures: &[Measure], ropes: &[Rope]) -> Result<OwnFigures, Problem> {
    let mut entries = strengths(tests, ropes);
    for group in groups(tests, measures, ropes) {
        let found = settled(&group, ropes)?;
        let Some(mean) = found.own else { continue };
        let figure = Some(OwnFigure { mean, weight: found.weight, count: found.count });
        let own = match group.what {
            Learns::Friction => Own { friction: figure, ..Own::default() },
            Learns::Shrinkage => Own { shrinkage: figure, ..Own::default() },
            Learns::BeddingIn => Own { bedding_in: figure, ..Own::default() },
            Learns::Minutes => Own { minutes: figure, ..Own::default() },
        };
        // Friction is the rope's, whatever end it was measured in.
        let kind = Some(group.end).filter(|_| group.what != Learns::Friction);
        entries.push(OwnOf { rope: group.rope, kind, own });
    }
    Ok(OwnFigures::new(entries))
}

fn strengths(tests: &[TestFacts], ropes: &[Rope]) -> Vec<OwnOf> {
    let mut by: BTreeMap<(String, EndKind), Vec<&TestFacts>> = BTreeMap::new();
    for facts in tests {
        by.entry((same(&facts.rope), facts.end)).or_default().push(facts);
    }
    by.into_iter()
        .filter_map(|((_, end), facts)| {
            let rope = facts.first()?.rope.clone();
            let plain: Vec<proving::Test> = facts.iter().map(|facts| facts.test.clone()).collect();
            let strength = match proving::strength_of(&plain, default_of(&rope, end, ropes)) {
                Ok(found) => OwnStrength {
                    share: found.efficiency.own.filter(|_| found.efficiency.replaced),
                    breaks: found.breaks,
                    rule: found.efficiency.rule,
                },
                Err(why) => OwnStrength {
                    share: None,
                    breaks: plain.iter().filter(|test| test.outcome.is_of_splice()).count(),
                    rule: Sentence::new("the loft's tests give no statistics ({}): the default stays")
                        .with(why.to_string().as_str()),
                },
            };
            let own = Own { strength: Some(strength), ..Own::default() };
            Some(OwnOf { rope: Some(rope), kind: Some(end), own })
        })
        .collect()
}

impl OwnAnswer {
    /// In one sentence, for a person.
    #[must_use]
    pub fn words(&self) -> String {
        let refused = match self.refused.len() {
            0 => String::new(),
            count => format!(", {count} rows refused: becket proof tests says which"),
        };
        format!("own figures: {}: {} tests, {} measured{refused}", self.from.join(", "), self.tests, self.measures)
    }
}
