//! The inspection form of a rope by its construction: what is looked at, the
//! published limit, and what a reading means.
//!
//! The limits are of slings, mooring and general rope; none was found that
//! speaks of a yacht's running rigging, so the form says whose limit each is.
//! A criterion that nobody could see leaves the form incomplete, and is not
//! taken for good. From half of a limit on a piece is to be watched, which is
//! a choice of ours.

use cordage::{Construction, Fibre};
use sources::{
    CI_2001, Citation, DGUV_109_006, Finding, GL_0027, Grade, ISO_9554, NAVEDTRA_14160, OFFSHORE_2012, OURS,
};
use thiserror::Error;
use units::{Sentence, Value};

/// One thing to look at.
#[derive(Debug, Clone, PartialEq)]
pub struct Criterion {
    /// A short fixed name for forms and records.
    pub code: &'static str,
    /// What to look for, where, and how it is told.
    pub look: &'static str,
    /// What is allowed.
    pub limit: Limit,
    /// Whose limit it is.
    pub citation: Citation,
}

/// What is allowed of a criterion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limit {
    /// Up to this share; more means withdrawal.
    UpTo(f64),
    /// Less than this share; as much means withdrawal.
    Below(f64),
    /// None of it.
    Absent,
}

/// What was seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reading {
    /// A share, as counted or measured.
    Share(f64),
    /// It is there.
    Present,
    /// It is not there.
    Absent,
    /// It could not be seen.
    NotSeen,
}

/// What an inspection comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Condition {
    /// Every criterion seen and well inside its limit.
    Good,
    /// Every criterion seen, one from half of its limit on.
    Watch,
    /// Something could not be seen.
    Incomplete,
    /// A limit is passed: out of service.
    Withdraw,
}

impl Condition {
    /// Every condition.
    pub const ALL: [Condition; 4] = [Condition::Good, Condition::Watch, Condition::Incomplete, Condition::Withdraw];

    /// The word of records.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Condition::Good => "good",
            Condition::Watch => "watch",
            Condition::Incomplete => "incomplete",
            Condition::Withdraw => "withdraw",
        }
    }

    /// From its word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Condition> {
        Condition::ALL.into_iter().find(|condition| condition.word().eq_ignore_ascii_case(word.trim()))
    }
}

/// A form judged.
#[derive(Debug, Clone, PartialEq)]
pub struct Inspected {
    /// What it comes to.
    pub condition: Condition,
    /// What is to be said, the worst first.
    pub findings: Vec<Finding>,
}

/// Why a reading cannot be judged.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ReadingError {
    /// No such criterion on this form.
    #[error("{code:?} is not on the form of this rope: it has {allowed}")]
    Unknown {
        /// As given.
        code: String,
        /// What the form has.
        allowed: String,
    },
    /// A share where a yes or no is asked, or the other way round.
    #[error("{code}: {wanted}")]
    Kind {
        /// The criterion.
        code: &'static str,
        /// What is asked.
        wanted: &'static str,
    },
    /// A share outside nothing to all.
    #[error("{code}: a share of {given}: it must lie between 0 and 1")]
    Share {
        /// The criterion.
        code: &'static str,
        /// As given.
        given: f64,
    },
    /// One criterion twice.
    #[error("{code} is answered twice")]
    Twice {
        /// The criterion.
        code: &'static str,
    },
}

/// From this share of a limit on a piece is watched.
const WATCH_FROM: f64 = 0.5;

/// What is looked at in a rope of this construction and fibre.
///
/// # Source
/// DGUV Regel 109-006 (laid rope and what holds for all), a trade summary of
/// CI 2001 (wear by construction), ISO 9554 (hockles), 0027/ND (covers),
/// NAVEDTRA 14160 (overload), an industry guideline for HMPE (stretch).
///
/// # Example
/// ```
/// use cordage::{Construction, Fibre};
/// let form = proving::form(Construction::TwelveStrand, Fibre::Hmpe);
/// assert!(form.iter().any(|criterion| criterion.code == "wear"));
/// assert!(form.iter().all(|criterion| criterion.code != "hockle"), "a braid cannot hockle");
/// ```
#[must_use]
pub fn form(construction: Construction, fibre: Fibre) -> Vec<Criterion> {
    let mut form = match construction {
        Construction::ThreeStrand => vec![
            Criterion {
                code: "yarn-breaks",
                look: "broken yarns in the worst cross-section, as a share of all its yarns",
                limit: Limit::UpTo(0.10),
                citation: DGUV_109_006.at("yarn breaks"),
            },
            Criterion {
                code: "wear",
                look: "yarn worn through on the crowns of the strands, as a share of the rope's yarns",
                limit: Limit::Below(0.10),
                citation: CI_2001.at("3-strand wear"),
            },
            Criterion {
                code: "hockle",
                look: "a strand turned back on itself that does not lay in again",
                limit: Limit::Absent,
                citation: ISO_9554.at("C.2.6"),
            },
        ],
        Construction::EightPlait | Construction::TwelveStrand => vec![Criterion {
            code: "wear",
            look: "yarn worn or cut in the worst pick length, as a share of the rope's yarns",
            limit: Limit::Below(0.25),
            citation: CI_2001.at("single braid wear"),
        }],
        Construction::DoubleBraid(_) | Construction::ParallelCore | Construction::Kernmantle => vec![
            Criterion {
                code: "cover-wear",
                look: "cover yarns worn through in the worst place, as a share of the cover",
                limit: Limit::Below(0.50),
                citation: CI_2001.at("double braid cover wear"),
            },
            Criterion {
                code: "core-bare",
                look: "core showing through a cover that was not taken off on purpose",
                limit: Limit::Absent,
                citation: GL_0027.at("7.9.3, damaged jacket"),
            },
        ],
    };
    form.extend(for_all());
    if fibre == Fibre::Hmpe {
        form.push(Criterion {
            code: "stretched",
            look: "length grown since made, at the same tension, as a share of the length made",
            limit: Limit::Below(0.10),
            citation: OFFSHORE_2012.at("10 % permanent stretch"),
        });
    }
    form
}

fn for_all() -> [Criterion; 6] {
    let absent = |code, look, citation| Criterion { code, look, limit: Limit::Absent, citation };
    [
        absent("strand-broken", "a strand broken or cut through", DGUV_109_006.at("strand broken")),
        absent(
            "splice-loose",
            "the splice: tail creeping out, stitching broken, tucks slack, throat opened",
            DGUV_109_006.at("splice loosening"),
        ),
        absent("heat", "melted, glazed or charred places, hard lumps in the hand", DGUV_109_006.at("heat deformation")),
        absent(
            "chemical",
            "stains, stickiness or powder from acid, solvent, paint or fuel",
            DGUV_109_006.at("chemical damage"),
        ),
        absent(
            "overload",
            "pulled above three quarters of its strength, or shock-loaded, since the last look",
            NAVEDTRA_14160.at("75 %"),
        ),
        absent("knot", "a knot drawn tight that cannot be taken out", ISO_9554.at("C.2.5")),
    ]
}

/// What readings of a form come to. A criterion without a reading counts as
/// not seen.
///
/// # Errors
/// When a reading is of no criterion of the form, of another kind, a share
/// outside 0 to 1, or given twice.
pub fn judge(form: &[Criterion], readings: &[(String, Reading)]) -> Result<Inspected, ReadingError> {
    for (at, (code, reading)) in readings.iter().enumerate() {
        let criterion =
            form.iter().find(|criterion| criterion.code == code.as_str()).ok_or_else(|| ReadingError::Unknown {
                code: code.clone(),
                allowed: form.iter().map(|criterion| criterion.code).collect::<Vec<_>>().join(", "),
            })?;
        check(criterion, *reading)?;
        if readings[..at].iter().any(|(earlier, _)| earlier == code) {
            return Err(ReadingError::Twice { code: criterion.code });
        }
    }
    let mut condition = Condition::Good;
    let mut findings = Vec::new();
    for criterion in form {
        let reading =
            readings.iter().find(|(code, _)| code == criterion.code).map_or(Reading::NotSeen, |(_, reading)| *reading);
        let (verdict, finding) = judge_one(criterion, reading);
        condition = condition.max(verdict);
        findings.extend(finding);
    }
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.grade));
    Ok(Inspected { condition, findings })
}

fn check(criterion: &Criterion, reading: Reading) -> Result<(), ReadingError> {
    let code = criterion.code;
    match (criterion.limit, reading) {
        (_, Reading::NotSeen) | (Limit::Absent, Reading::Present | Reading::Absent) => Ok(()),
        (Limit::UpTo(_) | Limit::Below(_), Reading::Share(share)) if (0.0..=1.0).contains(&share) => Ok(()),
        (Limit::UpTo(_) | Limit::Below(_), Reading::Share(given)) => Err(ReadingError::Share { code, given }),
        (Limit::Absent, Reading::Share(_)) => {
            Err(ReadingError::Kind { code, wanted: "say whether it is there: yes or no" })
        }
        (Limit::UpTo(_) | Limit::Below(_), Reading::Present | Reading::Absent) => {
            Err(ReadingError::Kind { code, wanted: "give the share, such as 5 %; 0 % where there is none" })
        }
    }
}

fn judge_one(criterion: &Criterion, reading: Reading) -> (Condition, Option<Finding>) {
    let share = match reading {
        Reading::Share(share) => share,
        Reading::NotSeen => {
            let text = Sentence::new("{}: not seen").with(criterion.look);
            let finding = Finding::new(Grade::Caution, "not-seen", text, criterion.citation)
                .remedy(Sentence::new("open the rope or take it off to see it; until then the date stays"));
            return (Condition::Incomplete, Some(finding));
        }
        Reading::Present => 1.0,
        Reading::Absent => 0.0,
    };
    let (limit, passed) = match criterion.limit {
        Limit::UpTo(limit) => (limit, share > limit),
        Limit::Below(limit) => (limit, share >= limit),
        Limit::Absent => (0.0, share > 0.0),
    };
    if passed {
        let text = match criterion.limit {
            Limit::Absent => Sentence::new("{}").with(criterion.look),
            _ => Sentence::new("{}: {}, the limit is {}")
                .with(criterion.look)
                .with(Value::Share(share))
                .with(Value::Share(limit)),
        };
        let finding = Finding::new(Grade::Stop, "withdraw", text, criterion.citation)
            .remedy(Sentence::new("out of service: cut the place out and splice anew, or retire it"));
        return (Condition::Withdraw, Some(finding));
    }
    if limit > 0.0 && share >= WATCH_FROM * limit {
        let text = Sentence::new("{}: {}, more than half of the limit of {}")
            .with(criterion.look)
            .with(Value::Share(share))
            .with(Value::Share(limit));
        let finding = Finding::new(Grade::Caution, "watch", text, OURS.at("watched from half of a limit on"))
            .remedy(Sentence::new("look again in half the usual time; turn it end for end"));
        return (Condition::Watch, Some(finding));
    }
    (Condition::Good, None)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn readings(form: &[Criterion], change: &[(&str, Reading)]) -> Vec<(String, Reading)> {
        form.iter()
            .map(|criterion| {
                let changed = change.iter().find(|(code, _)| *code == criterion.code).map(|(_, reading)| *reading);
                let good = match criterion.limit {
                    Limit::Absent => Reading::Absent,
                    _ => Reading::Share(0.0),
                };
                (criterion.code.to_owned(), changed.unwrap_or(good))
            })
            .collect()
    }

    #[test]
    fn limits_turn_where_their_source_says() {
        let check = |construction, code: &str, reading, expected| {
            let form = form(construction, Fibre::Polyester);
            let got = judge(&form, &readings(&form, &[(code, reading)])).unwrap().condition;
            assert_eq!(got, expected, "{code} {reading:?}");
        };
        use Construction as C;
        check(C::ThreeStrand, "yarn-breaks", Reading::Share(0.04), Condition::Good);
        check(C::ThreeStrand, "yarn-breaks", Reading::Share(0.05), Condition::Watch);
        check(C::ThreeStrand, "yarn-breaks", Reading::Share(0.10), Condition::Watch);
        check(C::ThreeStrand, "yarn-breaks", Reading::Share(0.101), Condition::Withdraw);
        check(C::ThreeStrand, "hockle", Reading::Present, Condition::Withdraw);
        check(C::TwelveStrand, "wear", Reading::Share(0.24), Condition::Watch);
        check(C::TwelveStrand, "wear", Reading::Share(0.25), Condition::Withdraw);
        check(C::Kernmantle, "cover-wear", Reading::Share(0.50), Condition::Withdraw);
        check(C::Kernmantle, "cover-wear", Reading::NotSeen, Condition::Incomplete);
        check(C::EightPlait, "splice-loose", Reading::Present, Condition::Withdraw);
    }

    #[test]
    fn a_form_left_blank_is_not_good() {
        let form = form(Construction::TwelveStrand, Fibre::Hmpe);
        let blank = judge(&form, &[]).unwrap();
        assert_eq!((blank.condition, blank.findings.len()), (Condition::Incomplete, form.len()));
        let bad = judge(&form, &[("heat".to_owned(), Reading::Present)]).unwrap();
        assert_eq!(bad.condition, Condition::Withdraw, "one limit passed is enough");
        assert_eq!(bad.findings[0].grade, Grade::Stop, "the worst comes first");
    }

    #[test]
    fn wrong_readings_are_refused() {
        let form = form(Construction::TwelveStrand, Fibre::Hmpe);
        let one = |code: &str, reading| judge(&form, &[(code.to_owned(), reading)]);
        assert!(matches!(one("hockle", Reading::Absent), Err(ReadingError::Unknown { .. })));
        assert!(matches!(one("wear", Reading::Present), Err(ReadingError::Kind { .. })));
        assert!(matches!(one("heat", Reading::Share(0.1)), Err(ReadingError::Kind { .. })));
        assert!(matches!(one("wear", Reading::Share(25.0)), Err(ReadingError::Share { .. })));
        let twice = [("heat".to_owned(), Reading::Absent), ("heat".to_owned(), Reading::Present)];
        assert!(matches!(judge(&form, &twice), Err(ReadingError::Twice { .. })));
    }
}
