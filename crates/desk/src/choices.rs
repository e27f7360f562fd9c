//! The words that a front end offers to choose from.

use schemars::JsonSchema;
use serde::Serialize;

/// A word with what it is called.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Choice {
    /// The word of files and requests.
    pub word: &'static str,
    /// The name printed.
    pub name: &'static str,
}

/// What an end may be chosen from.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Choices {
    /// Kinds of end.
    pub ends: Vec<Choice>,
    /// How rope is built.
    pub constructions: Vec<Choice>,
    /// What it is made of.
    pub fibres: Vec<Choice>,
    /// How a tail is tapered.
    pub tapers: Vec<Choice>,
    /// What holds a throat when slack.
    pub locks: Vec<Choice>,
}

/// Every word that an end may be described with.
///
/// ```
/// assert!(desk::choices().ends.iter().any(|end| end.word == "long-bury-eye"));
/// ```
#[must_use]
pub fn choices() -> Choices {
    let plain = |words: &[(&'static str, &'static str)]| {
        words.iter().map(|(word, name)| Choice { word, name }).collect::<Vec<_>>()
    };
    let constructions = files::ConstructionWord::WORDS.iter().filter_map(|word| {
        cordage::Construction::from_word(word).map(|construction| Choice { word, name: construction.name() })
    });
    let fibres = files::FibreWord::WORDS
        .iter()
        .filter_map(|word| cordage::Fibre::from_word(word).map(|fibre| Choice { word, name: fibre.name() }));
    Choices {
        ends: splice::EndKind::ALL.iter().map(|kind| Choice { word: kind.word(), name: kind.name() }).collect(),
        constructions: constructions.collect(),
        fibres: fibres.collect(),
        tapers: plain(&[
            ("common", "even, last third"),
            ("chosen", "chosen for strength"),
            ("half-at-once", "half at once"),
            ("none", "none"),
        ]),
        locks: plain(&[
            ("stitch-and-whip", "stitched and whipped"),
            ("stitch", "stitched"),
            ("whip", "whipped"),
            ("full-length", "stitched full length"),
            ("none", "none"),
        ]),
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn every_word_offered_is_understood() {
        let offered = super::choices();
        for end in &offered.ends {
            assert!(splice::EndKind::from_word(end.word).is_some(), "{}", end.word);
        }
        for taper in &offered.tapers {
            assert!(splice::TaperWish::from_word(taper.word).is_some(), "{}", taper.word);
        }
        for lock in &offered.locks {
            assert!(splice::ThroatLock::from_word(lock.word).is_some(), "{}", lock.word);
        }
        assert_eq!(offered.fibres.len(), files::FibreWord::WORDS.len());
        assert_eq!(offered.constructions.len(), files::ConstructionWord::WORDS.len());
    }
}
