//! Which end, which line, cover on or off: the loft's rules weighed.
//!
//! A rule says: when a fact of the line reaches so much, these choices are
//! spoken for and those against, with a weight and a reason. The table is the
//! loft's and comes in as an argument; here it is only weighed. An advice
//! always tells which rules spoke.

use std::collections::BTreeMap;

/// One rule of the loft.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    /// Its short name.
    pub name: String,
    /// The fact it looks at.
    pub when: Fact,
    /// It speaks from this much on.
    pub at_least: f64,
    /// Choices it speaks for.
    pub speaks_for: Vec<String>,
    /// Choices it speaks against.
    pub speaks_against: Vec<String>,
    /// How much it weighs.
    pub weight: f64,
    /// Why.
    pub reason: String,
}

macro_rules! facts {
    ($( $(#[doc = $about:literal])+ $name:ident = $word:literal; )+) => {
        /// A fact of a line that rules may look at. Yes is 1, no is 0.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Fact {
            $( $(#[doc = $about])+ $name, )+
        }

        impl Fact {
            /// Every fact with its word and what it is.
            pub const ALL: &'static [(Fact, &'static str, &'static str)] =
                &[$( (Fact::$name, $word, concat!($($about),+)) ),+];

            /// The word of a rule table.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Fact::$name => $word),+ }
            }

            /// From its word.
            #[must_use]
            pub fn from_word(word: &str) -> Option<Fact> {
                Fact::ALL.iter().find(|(_, known, _)| *known == word).map(|(fact, ..)| *fact)
            }
        }
    };
}

facts! {
    /// always 1: a rule that speaks for every line
    Always = "always";
    /// 1 where the eye goes on a shackle, ring, pin or thimble
    OnHardware = "on-hardware";
    /// 1 where the working end chafes on pole, crane, sprit, mast or shrouds
    ChafesAtEnd = "chafes-at-end";
    /// newtons that a bare run takes off the clew, wet
    ClewLoadSaved = "clew-load-saved";
    /// grams that a bare run takes off the line above deck, wet
    MassAloftSaved = "mass-aloft-saved";
    /// 1 where it runs out or in in a hurry
    RunsInAHurry = "runs-in-a-hurry";
    /// fairleads on its lead
    Fairleads = "fairleads";
    /// metres of the line that may be bare
    Strippable = "strippable";
    /// 1 where jaws hold it
    Clutch = "clutch";
    /// 1 where it is wound on a drum
    Drum = "drum";
    /// 1 where a hand holds it under load
    Hand = "hand";
    /// millimetres that jaws or a drum hold from, over the rope's diameter
    JawsWantMore = "jaws-want-more";
    /// 1 where a hand holds it and it is thin for that
    ThinForHand = "thin-for-hand";
    /// 1 where it stands for days and in the sun
    Stands = "stands";
    /// 1 for racing
    Racing = "racing";
    /// 1 for cruising, chartering and offshore
    NotRacing = "not-racing";
    /// 1 where core and cover carry together
    BothCarry = "both-carry";
    /// 1 where the core carries alone
    CoreCarries = "core-carries";
    /// 1 where it stays made up for the rope's life
    Permanent = "permanent";
    /// 1 where the crew takes it off, turns it or makes it fast again
    UndoneByCrew = "undone-by-crew";
}

/// The facts of one line.
pub type Facts = BTreeMap<Fact, f64>;

/// A rule that spoke about a choice.
#[derive(Debug, Clone, PartialEq)]
pub struct Spoken {
    /// The rule's name.
    pub rule: String,
    /// Its weight.
    pub weight: f64,
    /// Its reason.
    pub reason: String,
    /// Does it speak for the choice?
    pub is_for: bool,
}

/// A choice with what was said of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// The choice.
    pub choice: String,
    /// Weights for less weights against.
    pub score: f64,
    /// The rules that spoke, the heaviest first.
    pub spoken: Vec<Spoken>,
}

/// Weighs choices by the rules, the best first; equal ones keep their order.
///
/// # Example
/// ```
/// use makeup::{Fact, Facts, Rule, weigh};
/// let rule = Rule {
///     name: "chafe".to_owned(), when: Fact::ChafesAtEnd, at_least: 1.0,
///     speaks_for: vec!["keep".to_owned()], speaks_against: vec!["strip".to_owned()],
///     weight: 3.0, reason: "bare core chafes through".to_owned(),
/// };
/// let facts = Facts::from([(Fact::ChafesAtEnd, 1.0)]);
/// let weighed = weigh(&[rule], &facts, &["strip", "keep"]);
/// assert_eq!((weighed[0].choice.as_str(), weighed[0].score), ("keep", 3.0));
/// ```
#[must_use]
pub fn weigh(rules: &[Rule], facts: &Facts, choices: &[&str]) -> Vec<Weighed> {
    let mut weighed: Vec<Weighed> = choices.iter().map(|choice| one(rules, facts, choice)).collect();
    weighed.sort_by(|a, b| b.score.total_cmp(&a.score));
    weighed
}

fn one(rules: &[Rule], facts: &Facts, choice: &str) -> Weighed {
    let speaks = |rule: &&Rule| facts.get(&rule.when).is_some_and(|value| *value >= rule.at_least);
    let mut spoken: Vec<Spoken> = Vec::new();
    for rule in rules.iter().filter(speaks) {
        for (named, is_for) in [(&rule.speaks_for, true), (&rule.speaks_against, false)] {
            if named.iter().any(|own| own == choice) {
                let (rule, weight, reason) = (rule.name.clone(), rule.weight, rule.reason.clone());
                spoken.push(Spoken { rule, weight, reason, is_for });
            }
        }
    }
    spoken.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    let score = spoken.iter().map(|spoken| if spoken.is_for { spoken.weight } else { -spoken.weight }).sum();
    Weighed { choice: choice.to_owned(), score, spoken }
}
