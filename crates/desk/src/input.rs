//! Files and held texts read, and their mistakes turned into one problem.

use crate::problem::{Fault, Mistake, Problem, Where};
use crate::text::Text;
use files::Read;
use std::io::Read as _;
use std::path::Path;

/// A file's bytes under the name it was asked for by.
pub(crate) struct Input {
    pub(crate) name: String,
    pub(crate) bytes: Vec<u8>,
}

/// Reads a file or a held text, never more than `largest` and a little.
pub(crate) fn open(text: &Text, largest: usize) -> Result<Input, Problem> {
    match text {
        Text::File(path) => from_disk(path, largest),
        Text::Held { name, bytes } => {
            let kept = bytes.get(..largest.saturating_add(1)).unwrap_or(bytes);
            Ok(Input { name: name.clone(), bytes: kept.to_vec() })
        }
    }
}

fn from_disk(path: &Path, largest: usize) -> Result<Input, Problem> {
    let name = path.display().to_string();
    let fault = |error: std::io::Error| {
        let hint = match error.kind() {
            std::io::ErrorKind::NotFound => "check the name and the folder",
            std::io::ErrorKind::PermissionDenied => "ask for permission to read it",
            _ => "give a file, not a folder or a device",
        };
        Problem::new(Fault::Disk, "cannot-read", format!("{name} cannot be read: {error}")).hint(hint)
    };
    let file = std::fs::File::open(path).map_err(fault)?;
    let mut bytes = Vec::new();
    // One byte more than is allowed: the reader then says that it is too large.
    file.take(largest as u64 + 1).read_to_end(&mut bytes).map_err(fault)?;
    Ok(Input { name, bytes })
}

impl Input {
    /// What was read, if nothing is wrong with it.
    pub(crate) fn complete<T>(&self, read: Read<T>) -> Result<T, Problem> {
        read.complete().map_err(|problems| self.problem(&problems))
    }

    /// What could be read, and every mistake beside it; a problem when
    /// nothing could.
    pub(crate) fn partly<T>(&self, read: Read<T>) -> Result<(T, Vec<Mistake>), Problem> {
        match read.record {
            Some(record) => Ok((record, self.mistakes(&read.problems))),
            None => Err(self.problem(&read.problems)),
        }
    }

    /// A file's mistakes, each with its line and column.
    pub(crate) fn mistakes(&self, problems: &[files::Problem]) -> Vec<Mistake> {
        let source = files::Source::new(&self.name, &self.bytes);
        problems
            .iter()
            .map(|problem| Mistake {
                code: problem.code,
                message: problem.message.clone(),
                given: problem.given.clone(),
                allowed: problem.allowed.clone(),
                hint: problem.hint.clone(),
                place: problem.place.map(|place| {
                    let position = source.position(place);
                    Where { file: self.name.clone(), line: position.line, column: position.column }
                }),
            })
            .collect()
    }

    /// The file's mistakes as one problem, underlined.
    pub(crate) fn problem(&self, problems: &[files::Problem]) -> Problem {
        let source = files::Source::new(&self.name, &self.bytes);
        let count = problems.len();
        let mistakes_word = if count == 1 { "mistake" } else { "mistakes" };
        let mut problem = Problem::new(Fault::File, "mistakes", format!("{count} {mistakes_word} in {}", self.name));
        problem.mistakes = self.mistakes(problems);
        problem.rendered = Some(files::render(&source, problems));
        problem
    }
}
