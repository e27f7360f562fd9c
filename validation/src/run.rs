//! Runs a case: as it stands, and with its mistake made.

use crate::asks::{self, Answers};
use crate::case::Case;
use crate::given::Given;
use crate::{Trouble, mutation::Mutation};
use std::path::Path;

/// How far off a case is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outcome {
    /// Largest error over its tolerance; at most one is a hit.
    pub error: f64,
}

impl Outcome {
    /// Within its tolerance?
    #[must_use]
    pub fn hits(self) -> bool {
        self.error <= 1.0
    }
}

/// Every case below a folder, in the order of their names.
///
/// # Errors
/// When a folder or file cannot be read, or a case is wrong; names the file.
pub fn load(folder: &Path) -> Result<Vec<Case>, String> {
    let entries = |at: &Path| {
        let mut paths = std::fs::read_dir(at)
            .map_err(|fault| format!("{}: {fault}", at.display()))?
            .map(|entry| entry.map(|entry| entry.path()))
            .collect::<Result<Vec<_>, _>>()
            .map_err(|fault| format!("{}: {fault}", at.display()))?;
        paths.sort();
        Ok::<_, String>(paths)
    };
    let stem = |path: &Path| path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let mut cases = Vec::new();
    for source in entries(folder)? {
        for file in entries(&source)? {
            let name = format!("{}/{}", stem(&source), stem(&file));
            let text = std::fs::read_to_string(&file).map_err(|fault| format!("{name}: {fault}"))?;
            cases.push(Case::read(&name, &text).map_err(|fault| format!("{name}: {fault}"))?);
        }
    }
    Ok(cases)
}

/// A case as it stands.
///
/// # Errors
/// When it is wrong, or the room refuses it.
pub fn run(case: &Case) -> Result<Outcome, Trouble> {
    let answers = answer(case, &case.given)?;
    judge(case, &answers)
}

/// A case with its mistake made. A room that refuses it has found it out.
///
/// # Errors
/// When the mistake cannot be made.
pub fn run_mutated(case: &Case, mutation: &Mutation) -> Result<Outcome, Trouble> {
    let outcome = match mutation.of_given(&case.given)? {
        Some(given) => answer(case, &given).and_then(|answers| judge(case, &answers)),
        None => {
            let answers = answer(case, &case.given)?;
            judge(case, &mutation.of_answers(&answers, &case.expect)?)
        }
    };
    match outcome {
        Err(Trouble::Refused(_)) => Ok(Outcome { error: f64::INFINITY }),
        other => other,
    }
}

fn answer(case: &Case, given: &Given) -> Result<Answers, Trouble> {
    let (room, answers) = asks::answer(&case.asks, given)?;
    if room != case.room {
        return Err(Trouble::malformed(format!("{} is answered by {room}, not {}", case.asks, case.room)));
    }
    let unread = given.unread();
    if !unread.is_empty() {
        return Err(Trouble::malformed(format!("{} does not read {}", case.asks, unread.join(", "))));
    }
    Ok(answers)
}

fn judge(case: &Case, answers: &Answers) -> Result<Outcome, Trouble> {
    let mut error: f64 = 0.0;
    for (name, want) in &case.expect {
        let got = answers.iter().find(|(answer, _)| answer == name).map(|(_, answer)| answer);
        let got = got.ok_or_else(|| Trouble::malformed(format!("{} does not answer {name:?}", case.asks)))?;
        error = error.max(want.error(got, &case.tolerance)?);
    }
    Ok(Outcome { error })
}
