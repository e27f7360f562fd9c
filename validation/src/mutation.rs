//! Deliberate mistakes. Each case names one that must make it fail: a case
//! that passes with a wrong sign, a factor of two or a wrong unit checks
//! nothing.

use crate::Trouble;
use crate::amount;
use crate::expected::{Answer, Expected};
use crate::given::{Given, Value};

/// What is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mistake {
    /// The sign turned round.
    Sign,
    /// Twice as much.
    FactorOfTwo,
    /// Read in a unit that it could be taken for.
    Unit,
}

/// A mistake and the input or answer it is made in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mutation {
    /// What is done.
    pub mistake: Mistake,
    /// To which input or answer.
    pub on: String,
}

impl Mistake {
    /// The word of case files.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Mistake::Sign => "sign",
            Mistake::FactorOfTwo => "factor-of-two",
            Mistake::Unit => "unit",
        }
    }
}

impl Mutation {
    /// From the case file: `factor-of-two of load`.
    ///
    /// # Errors
    /// When the mistake is not known or nothing is named.
    pub fn read(text: &str) -> Result<Mutation, Trouble> {
        let wrong =
            || Trouble::malformed(format!("mutation {text:?}: write `sign of x`, `factor-of-two of x`, `unit of x`"));
        let (word, on) = text.split_once(" of ").ok_or_else(wrong)?;
        let mistake = [Mistake::Sign, Mistake::FactorOfTwo, Mistake::Unit].into_iter().find(|m| m.word() == word);
        Ok(Mutation { mistake: mistake.ok_or_else(wrong)?, on: on.trim().to_owned() })
    }

    /// The inputs with the mistake made; `None` when it is made in an answer.
    ///
    /// # Errors
    /// When the input has no number to be mistaken.
    pub fn of_given(&self, given: &Given) -> Result<Option<Given>, Trouble> {
        let Some(value) = given.values().get(&self.on) else { return Ok(None) };
        let changed = match value {
            Value::Count(count) => match self.mistake {
                Mistake::Sign => Value::Count(-count),
                Mistake::FactorOfTwo => Value::Count(2 * count),
                Mistake::Unit => return Err(self.cannot("a count has no unit")),
            },
            Value::Text(text) => Value::Text(self.of_text(text)?),
            Value::List(_) => return Err(self.cannot("a list is not changed")),
        };
        Ok(Some(given.with(&self.on, changed)))
    }

    fn of_text(&self, text: &str) -> Result<String, Trouble> {
        let (number, unit) = amount::split(text).ok_or_else(|| self.cannot("it is no number"))?;
        Ok(match self.mistake {
            Mistake::Sign => format!("-{text}"),
            Mistake::Unit => amount::unit_mistaken(text).ok_or_else(|| self.cannot("nothing is taken for its unit"))?,
            Mistake::FactorOfTwo => {
                // Words may follow the unit, as in a rope's description.
                let plain = number.replace(',', "");
                match plain.parse::<f64>() {
                    Ok(value) => format!("{} {unit}", 2.0 * value),
                    Err(_) => {
                        format!("{} {unit}", doubled_fraction(&plain).ok_or_else(|| self.cannot("it is no number"))?)
                    }
                }
            }
        })
    }

    /// The answers with the mistake made in the one named.
    ///
    /// # Errors
    /// When nothing of that name is expected, or it cannot be mistaken.
    pub fn of_answers(
        &self,
        answers: &[(&'static str, Answer)],
        expect: &[(String, Expected)],
    ) -> Result<Vec<(&'static str, Answer)>, Trouble> {
        let want = expect.iter().find(|(name, _)| *name == self.on).map(|(_, want)| want);
        let want = want.ok_or_else(|| self.cannot("it is neither given nor expected"))?;
        let mut answers = answers.to_vec();
        for (_, answer) in answers.iter_mut().filter(|(name, _)| *name == self.on) {
            *answer = match (&answer, self.mistake) {
                (Answer::Amount(amount), Mistake::Sign) => Answer::Amount(amount::Amount { si: -amount.si, ..*amount }),
                (Answer::Amount(amount), Mistake::FactorOfTwo) => {
                    Answer::Amount(amount::Amount { si: 2.0 * amount.si, ..*amount })
                }
                (Answer::Amount(amount), Mistake::Unit) => {
                    let factor = want.printed().and_then(amount::unit_factor);
                    let factor = factor.ok_or_else(|| self.cannot("nothing is taken for its unit"))?;
                    Answer::Amount(amount::Amount { si: factor * amount.si, ..*amount })
                }
                (Answer::Count(count), Mistake::Sign) => Answer::Count(-count),
                (Answer::Count(count), Mistake::FactorOfTwo) => Answer::Count(2 * count),
                _ => return Err(self.cannot("a word is not changed")),
            };
        }
        Ok(answers)
    }

    fn cannot(&self, why: &str) -> Trouble {
        Trouble::malformed(format!("{} of {} cannot be made: {why}", self.mistake.word(), self.on))
    }
}

/// `1-1/2` doubled is `6/2`.
fn doubled_fraction(text: &str) -> Option<String> {
    let normal = text.replace('-', " ");
    let mut parts = normal.split_whitespace().rev();
    let (above, below) = parts.next()?.split_once('/')?;
    let (above, below): (u32, u32) = (above.parse().ok()?, below.parse().ok()?);
    let whole: u32 = parts.next().map_or(Some(0), |whole| whole.parse().ok())?;
    Some(format!("{}/{below}", 2 * (whole * below + above)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn mistakes_are_made_where_they_are_named() {
        for (mutation, text, wrong) in [
            ("sign of x", "3 kN", "-3 kN"),
            ("factor-of-two of x", "1-1/2 in", "6/2 in"),
            ("factor-of-two of x", "1,000 lbf", "2000 lbf"),
            ("unit of x", "10 mm", "10 in"),
            ("factor-of-two of x", "10 mm 12-strand HMPE", "20 mm 12-strand HMPE"),
        ] {
            assert_eq!(Mutation::read(mutation).unwrap().of_text(text).unwrap(), wrong);
        }
        assert!(Mutation::read("bias of x").is_err());
        assert!(Mutation::read("unit of x").unwrap().of_text("nylon").is_err());
    }
}
