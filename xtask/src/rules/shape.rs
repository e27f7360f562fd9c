//! The shape of files: what they open with, how long they are, what they are
//! called.

use crate::scan::{code_only, functions, line_of};
use crate::{Fault, File};

/// A file longer than this is listed.
pub const LONG_FILE: usize = 500;
/// A file longer than this is a fault.
pub const TOO_LONG_FILE: usize = 800;
/// The map stays readable in one sitting.
pub const LONGEST_MAP: usize = 200;
/// A function longer than this is listed.
pub const LONG_FUNCTION: usize = 60;

/// Names that say nothing about what is inside.
const EMPTY_NAMES: &[&str] =
    &["util", "utils", "helper", "helpers", "manager", "managers", "service", "services", "common", "misc", "stuff"];

/// Written by people, so held to a length; data and snapshots are not.
const WRITTEN: &[&str] = &[".rs", ".sh", ".bash", ".typ", ".css", ".js", ".html", ".py"];

/// Rust files that do not say first what they answer.
pub fn check_opening(files: &[File]) -> Vec<Fault> {
    files
        .iter()
        .filter(|file| file.is_rust() && !file.text.starts_with("//!"))
        .map(|file| Fault::error("opening", &file.path, 1, "begins without `//!`: say what the file answers"))
        .collect()
}

/// Files and functions that have grown.
pub fn check_length(files: &[File]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for file in files {
        let lines = file.text.lines().count();
        if WRITTEN.iter().any(|ending| file.path.ends_with(ending)) {
            let text = format!("{lines} lines: split it, {TOO_LONG_FILE} at most and {LONG_FILE} better");
            match lines {
                lines if lines > TOO_LONG_FILE => faults.push(Fault::error("length", &file.path, 0, text)),
                lines if lines > LONG_FILE => faults.push(Fault::warning("length", &file.path, 0, text)),
                _ => {}
            }
        }
        if file.path == super::arrows::MAP && lines > LONGEST_MAP {
            faults.push(Fault::error("length", &file.path, 0, format!("{lines} lines: {LONGEST_MAP} at most")));
        }
        if file.is_rust() {
            faults.extend(long_functions(file));
        }
    }
    faults
}

fn long_functions(file: &File) -> Vec<Fault> {
    let code = code_only(&file.text);
    functions(&code)
        .iter()
        .filter(|function| code[function.at..].starts_with("fn"))
        .filter_map(|function| {
            let lines = function.body.lines().count();
            let text = format!("{} has {lines} lines: split it, {LONG_FUNCTION} at most", function.name);
            (lines > LONG_FUNCTION).then(|| Fault::warning("length", &file.path, line_of(&code, function.at), text))
        })
        .collect()
}

/// Files and folders whose last word is an empty one: `string_utils.rs`, but
/// not `service_record.rs`.
pub fn check_names(paths: &[String]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for path in paths {
        for part in path.split('/') {
            let stem = part.trim_start_matches('.').split('.').next().unwrap_or_default().to_ascii_lowercase();
            let word = stem.rsplit(['_', '-']).next().unwrap_or_default();
            if EMPTY_NAMES.contains(&word) {
                let text = format!("{word:?} says nothing: name it after the trade or the task");
                faults.push(Fault::error("names", path, 0, text));
            }
        }
    }
    faults
}
