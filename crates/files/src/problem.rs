//! What is wrong with a file, and the list in which it is collected.

use crate::place::Place;

/// One mistake: what was found, what is allowed, what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// A fixed word for programs, such as `no-unit`.
    pub code: &'static str,
    /// The mistake in one line: lower case, no full stop.
    pub message: String,
    /// The text as it stands in the file, shortened; empty if nothing stands there.
    pub given: String,
    /// What may stand there; empty if there is nothing to say.
    pub allowed: String,
    /// What to do about it; empty if `allowed` says it.
    pub hint: String,
    /// Where, if it has a place.
    pub place: Option<Place>,
    /// Other places that belong to the mistake, such as the first of two equal names.
    pub related: Vec<Related>,
}

/// Another place that belongs to a mistake, and how.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Related {
    /// What is there.
    pub text: String,
    /// Where it is.
    pub place: Place,
}

impl Problem {
    /// A problem with its message only; the rest is added by chaining.
    ///
    /// ```
    /// use files::{Place, Problem};
    /// let problem = Problem::new("no-such-rope", "no rope is called \"Grey 10\"")
    ///     .given("Grey 10")
    ///     .allowed("a name in the rope list")
    ///     .hint("add it to ropes.csv")
    ///     .at(Place { start: 7, end: 16 });
    /// assert_eq!(problem.code, "no-such-rope");
    /// ```
    #[must_use]
    pub fn new(code: &'static str, message: impl Into<String>) -> Self {
        Problem {
            code,
            message: message.into(),
            given: String::new(),
            allowed: String::new(),
            hint: String::new(),
            place: None,
            related: Vec::new(),
        }
    }

    /// The text found, shortened and with control characters escaped.
    #[must_use]
    pub fn given(mut self, text: &str) -> Self {
        self.given = shortened(text);
        self
    }

    /// What may stand there.
    #[must_use]
    pub fn allowed(mut self, text: impl Into<String>) -> Self {
        self.allowed = text.into();
        self
    }

    /// What to do.
    #[must_use]
    pub fn hint(mut self, text: impl Into<String>) -> Self {
        self.hint = text.into();
        self
    }

    /// Where it is.
    #[must_use]
    pub fn at(mut self, place: Place) -> Self {
        self.place = Some(place);
        self
    }

    /// Another place that belongs to it.
    #[must_use]
    pub fn and(mut self, text: impl Into<String>, place: Place) -> Self {
        self.related.push(Related { text: text.into(), place });
        self
    }

    /// The mistake, what may stand there and what to do, where there is no text
    /// to underline.
    ///
    /// ```
    /// let problem = files::Problem::new("no-such-rope", "no rope is called that").hint("add it to ropes.csv");
    /// assert_eq!(problem.in_one_line(), "no rope is called that; add it to ropes.csv");
    /// ```
    #[must_use]
    pub fn in_one_line(&self) -> String {
        let allowed = if self.allowed.is_empty() { String::new() } else { format!("; allowed: {}", self.allowed) };
        let hint = if self.hint.is_empty() { String::new() } else { format!("; {}", self.hint) };
        format!("{}{allowed}{hint}", self.message)
    }
}

/// What came of reading a file.
///
/// `record` holds what could be read even when there are problems, so that
/// later checks can add theirs in the same pass; anything that is to be made
/// from the record goes through [`complete`](Self::complete).
#[derive(Debug, Clone, PartialEq)]
pub struct Read<T> {
    /// What could be read: parts with a problem are left out of it. Empty
    /// when a required part is missing or the text could not be read at all.
    pub record: Option<T>,
    /// Every problem found, in the order of the file.
    pub problems: Vec<Problem>,
}

impl<T> Read<T> {
    /// The record, if nothing at all is wrong with the file.
    ///
    /// # Errors
    /// Every problem found.
    pub fn complete(self) -> Result<T, Vec<Problem>> {
        match self.record {
            Some(record) if self.problems.is_empty() => Ok(record),
            _ => Err(self.problems),
        }
    }
}

/// With so many problems reading stops: the file is another than was meant.
pub(crate) const MOST_KEPT: usize = 1000;

/// Collects problems while a file is read.
#[derive(Debug, Default)]
pub(crate) struct Log {
    problems: Vec<Problem>,
    /// Problems found after reading was to stop.
    left_out: usize,
    /// Keys and indices from the root to what is being read.
    pub(crate) path: Vec<String>,
    /// Keys whose absence is reported elsewhere.
    pub(crate) excused: Vec<&'static str>,
}

impl Log {
    pub(crate) fn push(&mut self, problem: Problem) {
        if self.problems.len() < MOST_KEPT {
            self.problems.push(problem);
        } else {
            self.left_out += 1;
        }
    }

    /// Adds to the problem pushed last, unless that was left out.
    pub(crate) fn amend_last(&mut self, add: impl FnOnce(Problem) -> Problem) {
        if self.left_out == 0
            && let Some(last) = self.problems.pop()
        {
            self.problems.push(add(last));
        }
    }

    /// How many problems there are by now.
    pub(crate) fn count(&self) -> usize {
        self.problems.len() + self.left_out
    }

    /// Whether reading is to stop.
    pub(crate) fn is_full(&self) -> bool {
        self.problems.len() >= MOST_KEPT
    }

    /// The table being read, as a sentence names it: `[sails.main]`,
    /// `[[line]] 3: ends.working`.
    pub(crate) fn table(&self) -> String {
        let Some(first) = self.path.first() else {
            return "the file".to_owned();
        };
        if first.starts_with("[[") || first.starts_with("row ") {
            let rest = self.path[1..].join(".");
            return if rest.is_empty() { first.clone() } else { format!("{first}: {rest}") };
        }
        format!("[{}]", self.path.join("."))
    }

    /// The problems in the order of the file, and whether there may be more.
    pub(crate) fn into_problems(mut self) -> Vec<Problem> {
        self.problems.sort_by_key(|problem| problem.place.map_or(0, |place| place.start));
        if self.is_full() {
            let message = format!("reading stopped at {MOST_KEPT} problems: there may be more");
            let hint = "check that this is the file you meant; mend what is shown and check it again";
            self.problems.push(Problem::new("more-problems", message).hint(hint));
        }
        self.problems
    }
}

/// The known name nearest to `given`, if one is near enough to be meant.
pub(crate) fn nearest<'a>(given: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    const LONGEST: usize = 48;
    if given.len() > LONGEST {
        return None;
    }
    let plain = |text: &str| text.to_lowercase().replace(['-', ' '], "_");
    let wanted = plain(given);
    let scored = known.into_iter().map(|name| {
        let other = plain(name);
        let distance = strsim::damerau_levenshtein(&wanted, &other);
        // A name that contains the other whole is meant more often than its distance says.
        let inside = wanted.len() >= 3 && (other.contains(&wanted) || wanted.contains(&other) && other.len() >= 3);
        (if inside { distance.min(2) } else { distance }, name)
    });
    let (distance, name) = scored.min_by_key(|(distance, _)| *distance)?;
    let most = (wanted.chars().count().max(name.chars().count()) / 3).max(1);
    (distance <= most).then_some(name)
}

/// Words of a sentence: `mm, cm or m`.
pub(crate) fn listed(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}

/// Text for a message: control characters escaped, at most a few words.
pub(crate) fn shortened(text: &str) -> String {
    const LONGEST: usize = 40;
    let mut short = String::new();
    let mut length = 0;
    for c in text.chars() {
        let escaped = c.is_control() || is_direction_mark(c);
        length += if escaped { c.escape_default().count() } else { 1 };
        if length > LONGEST {
            short.push('…');
            break;
        }
        if escaped {
            short.extend(c.escape_default());
        } else {
            short.push(c);
        }
    }
    short
}

/// Characters that change the direction of the text around them, and would
/// make a message read otherwise than the file.
pub(crate) fn is_direction_mark(c: char) -> bool {
    matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}
