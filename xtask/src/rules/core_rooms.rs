//! Core rooms compute and do nothing else: no files, clock, printing,
//! settings from outside, and no type that knows how it is written down.

use crate::metadata::Package;
use crate::rules::arrows::Room;
use crate::scan::{code_only, line_of, words};
use crate::{Fault, File};

const RULE: &str = "core";

/// Words that no core room says, and what it does instead.
const FORBIDDEN: &[(&str, &str)] = &[
    ("fs", "files are read by `files` and `desk`, and come in as values"),
    ("net", "a core room reaches no network"),
    ("process", "a core room starts no program"),
    ("SystemTime", "the day comes in as an argument"),
    ("Instant", "time is measured by the caller"),
    ("println", "answers are values; cli prints them"),
    ("eprintln", "answers are values; cli prints them"),
    ("dbg", "answers are values; cli prints them"),
    ("stdin", "input comes in as arguments"),
    ("stdout", "answers are values; cli prints them"),
    ("Serialize", "desk turns answers into plain records"),
    ("Deserialize", "files reads plain records and desk converts them"),
    ("serde", "desk turns answers into plain records"),
    ("tracing", "a core room logs nothing"),
];

/// Ordinary words that are forbidden only as a path: `fs::read`, `std::fs`,
/// `use std::{fs, …}`.
const PATHS_ONLY: &[&str] = &["fs", "net", "process"];

/// What the core rooms say that they may not.
pub fn check(rooms: &[Room], packages: &[Package], files: &[File]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for package in packages.iter().filter(|package| rooms.iter().any(|room| room.core && room.name == package.room)) {
        let source = format!("{}/src/", package.folder);
        for file in files.iter().filter(|file| file.is_rust() && file.path.starts_with(&source)) {
            faults.extend(check_file(file));
        }
    }
    faults
}

fn check_file(file: &File) -> Vec<Fault> {
    let code = code_only(&file.text);
    let mut faults = Vec::new();
    for (at, word) in words(&code) {
        let Some((_, instead)) = FORBIDDEN.iter().find(|(forbidden, _)| *forbidden == word) else { continue };
        let (before, after) = (code[..at].trim_end(), code[at + word.len()..].trim_start());
        let statement = before.rsplit([';', '}']).next().unwrap_or_default();
        let in_path = before.ends_with("::") || after.starts_with("::") || statement.contains("use std::");
        if in_path || !PATHS_ONLY.contains(&word) {
            let text = format!("a core room does not say {word}: {instead}");
            faults.push(Fault::error(RULE, &file.path, line_of(&code, at), text));
        }
    }
    faults
}
