//! One case: a TOML file with what is asked of which room, what is given,
//! what is expected, on whose word, and which mistake must make it fail.

use crate::Trouble;
use crate::expected::{Expected, Tolerance};
use crate::given::{Given, Value};
use crate::mutation::Mutation;
use sources::{Kind, Source};
use std::collections::BTreeMap;

/// A case as its file has it.
#[derive(Debug, Clone)]
pub struct Case {
    /// Folder and file name without the ending.
    pub name: String,
    /// Whose number it is.
    pub source: &'static Source,
    /// Place in the source. What stands before the first comma is the table.
    pub locator: String,
    /// The entry of the dispatcher.
    pub asks: String,
    /// The room that answers.
    pub room: String,
    /// Does the answer compute something, or look a row up?
    pub computes: bool,
    /// The inputs.
    pub given: Given,
    /// The answers expected.
    pub expect: Vec<(String, Expected)>,
    /// How far off a printed value may be.
    pub tolerance: Tolerance,
    /// Why that far, where it is more than half the last digit.
    pub tolerance_reason: String,
    /// How the numbers were obtained.
    pub obtained: String,
    /// How sure the source's reading is.
    pub confidence: String,
    /// Why we disagree: the case must miss.
    pub differs: Option<String>,
    /// Why it is a fit and no validation.
    pub fitted: Option<String>,
    /// The mistake that must make it fail.
    pub mutation: Mutation,
}

const KEYS: [&str; 15] = [
    "source",
    "locator",
    "asks",
    "room",
    "computes",
    "given",
    "expect",
    "tolerance",
    "tolerance_reason",
    "obtained",
    "confidence",
    "differs",
    "fitted",
    "mutation",
    "note",
];

impl Case {
    /// A case from the text of its file.
    ///
    /// # Errors
    /// When a key is missing, unknown or wrong, the source is not registered
    /// or is not the folder's, or a tolerance has no reason.
    pub fn read(name: &str, text: &str) -> Result<Case, Trouble> {
        let table: toml::Table = text.parse().map_err(|fault| Trouble::malformed(format!("{fault}")))?;
        if let Some(key) = table.keys().find(|key| !KEYS.contains(&key.as_str())) {
            return Err(Trouble::malformed(format!("unknown key {key:?}: one of {}", KEYS.join(", "))));
        }
        let word = |key: &str| table.get(key).and_then(toml::Value::as_str).map(str::to_owned);
        let must = |key: &str| {
            word(key).filter(|text| !text.is_empty()).ok_or_else(|| Trouble::malformed(format!("{key} is missing")))
        };
        let id = must("source")?;
        let source = sources::registry().iter().find(|source| source.id == id);
        let source = source.ok_or_else(|| Trouble::malformed(format!("source {id:?} is not in the registry")))?;
        if name.split_once('/').map(|(folder, _)| folder) != Some(id.as_str()) {
            return Err(Trouble::malformed(format!("a case of {id} belongs in the folder {id}")));
        }
        let (tolerance, tolerance_reason) = match (word("tolerance"), word("tolerance_reason")) {
            (None, None) => (Tolerance::LastDigit, String::new()),
            (Some(tolerance), Some(reason)) if !reason.is_empty() => (Tolerance::read(&tolerance)?, reason),
            _ => return Err(Trouble::malformed("tolerance and tolerance_reason go together".to_owned())),
        };
        let expect = values(&table, "expect")?
            .iter()
            .map(|(name, value)| Ok((name.clone(), Expected::read(value)?)))
            .collect::<Result<Vec<_>, Trouble>>()?;
        if expect.is_empty() {
            return Err(Trouble::malformed("nothing is expected".to_owned()));
        }
        let computes = table.get("computes").and_then(toml::Value::as_bool);
        let confidence = must("confidence")?;
        if !["high", "medium", "low"].contains(&confidence.as_str()) {
            return Err(Trouble::malformed(format!("confidence {confidence:?} is not high, medium or low")));
        }
        Ok(Case {
            name: name.to_owned(),
            source,
            locator: must("locator")?,
            asks: must("asks")?,
            room: must("room")?,
            computes: computes.ok_or_else(|| Trouble::malformed("computes is missing".to_owned()))?,
            given: Given::new(values(&table, "given")?),
            expect,
            tolerance,
            tolerance_reason,
            obtained: must("obtained")?,
            confidence,
            differs: word("differs"),
            fitted: word("fitted"),
            mutation: Mutation::read(&must("mutation")?)?,
        })
    }

    /// The table it is from: the source and what stands before the first
    /// comma of the locator.
    #[must_use]
    pub fn table(&self) -> (&'static str, &str) {
        (self.source.id, self.locator.split(',').next().unwrap_or_default())
    }

    /// Is its number somebody else's, read and no fit of ours? Ours, the
    /// trade's habit, memory and mathematics do not count.
    #[must_use]
    pub fn is_outside(&self) -> bool {
        self.fitted.is_none() && is_outside(self.source.kind)
    }
}

/// Does a kind of source count as outside?
#[must_use]
pub const fn is_outside(kind: Kind) -> bool {
    matches!(kind, Kind::Secondary | Kind::Measured | Kind::Handbook | Kind::Paper | Kind::Standard)
}

fn values(table: &toml::Table, key: &str) -> Result<BTreeMap<String, Value>, Trouble> {
    let inner = table.get(key).and_then(toml::Value::as_table);
    inner
        .ok_or_else(|| Trouble::malformed(format!("[{key}] is missing")))?
        .iter()
        .map(|(name, value)| {
            let value =
                Value::from_toml(value).map_err(|fault| Trouble::malformed(format!("{key}.{name}: {fault}")))?;
            Ok((name.clone(), value))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: &str = r#"
source = "exact"
locator = "geometry"
asks = "block-load"
room = "rig"
computes = true
obtained = "recomputed"
confidence = "high"
mutation = "factor-of-two of before"
[given]
before = "1 kN"
[expect]
load = "1.41 kN"
"#;

    #[test]
    fn a_whole_case_is_read() {
        let case = Case::read("exact/a", GOOD).unwrap();
        assert_eq!((case.table(), case.is_outside()), (("exact", "geometry"), false));
    }

    #[test]
    fn a_case_that_lacks_something_is_refused() {
        let refused = |from: &str, to: &str| Case::read("exact/a", &GOOD.replace(from, to)).is_err();
        assert!(refused("source = \"exact\"", ""));
        assert!(refused("\"exact\"", "\"hearsay\""));
        assert!(refused("\"exact\"", "\"ci-1303\""), "the folder is another source's");
        assert!(refused("computes = true", "tolerance = \"1 %\"\ncomputes = true"), "no reason");
        assert!(refused("obtained", "obtian"));
        assert!(refused("\"high\"", "\"sure\""));
        assert!(refused("load = \"1.41 kN\"", ""));
        assert!(refused("load = \"1.41 kN\"", "load = 1.41"), "a float loses its digits");
    }
}
