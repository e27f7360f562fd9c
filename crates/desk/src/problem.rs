//! Why a task cannot be done: one envelope for terminal, page and JSON.

use schemars::JsonSchema;
use serde::Serialize;

/// What kind of failure; each has its own exit code on the command line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Fault {
    /// The command or request itself.
    Request,
    /// A file's content.
    File,
    /// Reading or writing.
    Disk,
    /// What was asked cannot be made.
    Refused,
}

/// A place in a file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Where {
    /// The file.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

/// A task that cannot be done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Problem {
    /// What kind.
    pub fault: Fault,
    /// A fixed name for programs.
    pub code: String,
    /// What is wrong.
    pub message: String,
    /// What to do instead.
    pub hints: Vec<String>,
    /// Each mistake of a file, where it is one.
    pub mistakes: Vec<Mistake>,
    /// The same for a person, with the text underlined.
    #[serde(skip)]
    pub rendered: Option<String>,
}

/// One mistake in a file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Mistake {
    /// A fixed name for programs.
    pub code: &'static str,
    /// What is wrong.
    pub message: String,
    /// What was given.
    pub given: String,
    /// What is allowed.
    pub allowed: String,
    /// What to do.
    pub hint: String,
    /// Where; null where it has no place.
    pub place: Option<Where>,
}

impl Problem {
    pub(crate) fn new(fault: Fault, code: &str, message: impl Into<String>) -> Problem {
        Problem {
            fault,
            code: code.to_owned(),
            message: message.into(),
            hints: Vec::new(),
            mistakes: Vec::new(),
            rendered: None,
        }
    }

    /// Output that cannot be written.
    #[must_use]
    pub fn disk(message: &str) -> Problem {
        Problem::new(Fault::Disk, "cannot-write", message)
    }

    /// Help that was asked for and does not exist.
    #[must_use]
    pub fn no_such_topic(topic: &str, chapters: &[&str]) -> Problem {
        Problem::new(Fault::Request, "no-such-topic", format!("there is no chapter and no command called {topic:?}"))
            .hint(format!("a command, or one of the chapters: {}", chapters.join(", ")))
    }

    pub(crate) fn refused(code: &str, message: impl Into<String>) -> Problem {
        Problem::new(Fault::Refused, code, message)
    }

    pub(crate) fn hint(mut self, hint: impl Into<String>) -> Problem {
        self.hints.push(hint.into());
        self
    }
}

/// Place, message and what to do, on one line.
impl std::fmt::Display for Mistake {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if let Some(place) = &self.place {
            write!(f, "{}:{}:{}: ", place.file, place.line, place.column)?;
        }
        f.write_str(&self.message)?;
        if self.hint.is_empty() { Ok(()) } else { write!(f, "; {}", self.hint) }
    }
}

impl std::fmt::Display for Problem {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if let Some(rendered) = &self.rendered {
            return f.write_str(rendered);
        }
        write!(f, "{}", self.message)?;
        self.mistakes.iter().try_for_each(|mistake| write!(f, "\n  {mistake}"))?;
        self.hints.iter().try_for_each(|hint| write!(f, "\n  help: {hint}"))
    }
}
