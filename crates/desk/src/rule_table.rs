//! The loft's rules: the table inside the program, or the loft's own.

use crate::input::open;
use crate::problem::Problem;
use crate::text::Text;
use files::RuleRecord;
use makeup::{Fact, Rule};
use schemars::JsonSchema;
use serde::Serialize;
use splice::EndKind;

/// The rules as they come with the program: to be printed, copied and changed.
pub const LOFT_RULES: &str = include_str!("../tables/loft-rules.csv");

/// The choices that are not kinds of end.
pub(crate) const COVER_CHOICES: [&str; 5] = ["strip", "keep", "filled-core", "second-cover", "chafe-sleeve"];

/// A rule that spoke.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SpokenAnswer {
    /// The rule's name.
    pub rule: String,
    /// `for` or `against`.
    pub speaks: &'static str,
    /// How much it weighs.
    pub weight: f64,
    /// Why.
    pub reason: String,
}

/// A choice with the rules that spoke about it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WeighedAnswer {
    /// `strip`, `keep`, or a kind of end.
    pub choice: String,
    /// Weights for it less weights against.
    pub score: f64,
    /// The rules that spoke, the heaviest first.
    pub spoken: Vec<SpokenAnswer>,
}

impl WeighedAnswer {
    pub(crate) fn of(weighed: &makeup::Weighed) -> WeighedAnswer {
        let spoken = weighed.spoken.iter().map(|spoken| SpokenAnswer {
            rule: spoken.rule.clone(),
            speaks: if spoken.is_for { "for" } else { "against" },
            weight: spoken.weight,
            reason: spoken.reason.clone(),
        });
        WeighedAnswer { choice: weighed.choice.clone(), score: weighed.score, spoken: spoken.collect() }
    }
}

/// A fact that a rule may look at.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FactAnswer {
    /// Its word.
    pub fact: &'static str,
    /// What it is.
    pub about: &'static str,
}

/// The facts that a rule may look at.
#[must_use]
pub fn rule_facts() -> Vec<FactAnswer> {
    Fact::ALL.iter().map(|(_, fact, about)| FactAnswer { fact, about: about.trim() }).collect()
}

/// Is it a table of rules, every row of it? Gives how many.
///
/// # Errors
/// Every mistake, with its place.
pub fn check_rules(table: &Text) -> Result<usize, Problem> {
    loft_rules(Some(table)).map(|rules| rules.len())
}

/// The rules of a table, or those of the program.
pub(crate) fn loft_rules(own: Option<&Text>) -> Result<Vec<Rule>, Problem> {
    let built_in = Text::held("the rules of the program", LOFT_RULES);
    let input = open(own.unwrap_or(&built_in), files::LARGEST_TABLE)?;
    let files::Read { record, mut problems } = files::read_rules(&input.bytes);
    let mut rules = Vec::new();
    for record in record.iter().flatten() {
        match rule(&record.value) {
            Ok(rule) => rules.push(rule),
            Err(problem) => problems.push(*problem),
        }
    }
    problems.sort_by_key(|problem| problem.place.map_or(0, |place| place.start));
    if problems.is_empty() { Ok(rules) } else { Err(input.problem(&problems)) }
}

fn rule(record: &RuleRecord) -> Result<Rule, Box<files::Problem>> {
    let when = Fact::from_word(record.when.value.trim()).ok_or_else(|| {
        let words: Vec<&str> = Fact::ALL.iter().map(|(_, word, _)| *word).collect();
        let message = format!("{:?} is no fact of a line", record.when.value);
        Box::new(
            files::Problem::new("unknown-fact", message)
                .given(&record.when.value)
                .allowed(words.join(", "))
                .hint("becket rules --facts says what each is")
                .at(record.when.place),
        )
    })?;
    let choices = |list: &[files::Placed<String>]| -> Result<Vec<String>, Box<files::Problem>> {
        list.iter().map(choice).collect()
    };
    Ok(Rule {
        name: record.rule.value.clone(),
        when,
        at_least: record.at_least.value,
        speaks_for: choices(&record.speaks_for)?,
        speaks_against: choices(&record.against)?,
        weight: record.weight.value,
        reason: record.reason.value.0.clone(),
    })
}

fn choice(word: &files::Placed<String>) -> Result<String, Box<files::Problem>> {
    let own = word.value.trim().to_lowercase();
    if COVER_CHOICES.contains(&own.as_str()) || EndKind::from_word(&own).is_some() {
        return Ok(own);
    }
    Err(Box::new(
        files::Problem::new("unknown-choice", format!("{:?} is no choice", word.value))
            .given(&word.value)
            .allowed("strip, keep, filled-core, second-cover, chafe-sleeve, or a kind of end such as covered-eye")
            .at(word.place),
    ))
}
