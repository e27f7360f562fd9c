//! What can be asked: each entry turns inputs into one call, or a few, of a
//! room's public functions, and its answers into numbers.

mod bench;
mod covers;
mod cuts;
mod ends;
mod grip;
mod rigging;
mod rope;
mod statistics;
mod tackles;
mod wind;

use crate::Trouble;
use crate::amount::Amount;
use crate::expected::Answer;
use crate::given::Given;

/// Answers by name.
pub type Answers = Vec<(&'static str, Answer)>;

/// One entry: its name, the room it asks, and the call.
type Entry = (&'static str, &'static str, fn(&Given) -> Result<Answers, Trouble>);

const ENTRIES: [&[Entry]; 10] = [
    wind::ENTRIES,
    tackles::ENTRIES,
    rigging::ENTRIES,
    rope::ENTRIES,
    covers::ENTRIES,
    ends::ENTRIES,
    grip::ENTRIES,
    cuts::ENTRIES,
    bench::ENTRIES,
    statistics::ENTRIES,
];

/// The answers of an entry, and its room.
///
/// # Errors
/// When there is no such entry, an input is missing or wrong, or the room
/// refuses.
pub fn answer(asks: &str, given: &Given) -> Result<(&'static str, Answers), Trouble> {
    let entry = ENTRIES.iter().flat_map(|entries| entries.iter()).find(|(name, ..)| *name == asks);
    let (_, room, call) = entry.ok_or_else(|| Trouble::malformed(format!("nothing answers {asks:?}")))?;
    call(given).map(|answers| (*room, answers))
}

fn number(value: impl Into<Amount>) -> Answer {
    Answer::Amount(value.into())
}

fn word(text: impl Into<String>) -> Answer {
    Answer::Word(text.into())
}

/// A number made outside the quantities, refused when it is not finite.
fn finite(value: f64) -> Result<f64, Trouble> {
    if value.is_finite() { Ok(value) } else { Err(Trouble::Refused("not a finite number".to_owned())) }
}

/// A length above zero, or a refusal: rooms leave this to their callers.
fn above_zero(length: units::Length, what: &str) -> Result<units::Length, Trouble> {
    if length > units::Length::ZERO { Ok(length) } else { Err(Trouble::Refused(format!("{what} is {length}"))) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_entries_have_one_name() {
        let mut names: Vec<&str> = ENTRIES.iter().flat_map(|entries| entries.iter()).map(|entry| entry.0).collect();
        let count = names.len();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), count);
        assert!(answer("nothing", &Given::default()).is_err());
    }
}
