//! Sources: each one in the registry is the source of something, and each
//! one that a validation case names is in the registry.

use crate::scan::{code_only, has_word, line_of, words};
use crate::{Fault, File};

const RULE: &str = "sources";
/// The file with the registry.
pub const REGISTRY: &str = "crates/sources/src/registry.rs";
/// The folder of the validation cases.
pub const CASES: &str = "validation/cases/";

/// One entry of the registry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// The name in code: `CI_1301`.
    pub name: String,
    /// The name in files: `ci-1301`.
    pub id: String,
    /// Its line.
    pub line: usize,
}

/// The entries `NAME = "id", Kind, …` of the registry's text.
pub fn entries(registry: &str) -> Vec<Entry> {
    let code = code_only(registry);
    let mut found = Vec::new();
    for (at, name) in words(&code) {
        let after = &registry[at + name.len()..];
        let is_name = name.len() > 1 && name.chars().all(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || c == '_');
        let id = after.trim_start().strip_prefix('=').and_then(|rest| rest.trim_start().strip_prefix('"'));
        if let (true, Some((id, _))) = (is_name, id.and_then(|rest| rest.split_once('"'))) {
            found.push(Entry { name: name.to_owned(), id: id.to_owned(), line: line_of(registry, at) });
        }
    }
    found
}

/// Entries that no room's code names and no validation case checks against.
/// Tests and comments do not count.
pub fn check_used(entries: &[Entry], files: &[File]) -> Vec<Fault> {
    if entries.is_empty() {
        return vec![Fault::error(RULE, REGISTRY, 0, "no entry `NAME = \"id\", …` was found")];
    }
    let rooms: Vec<String> = files
        .iter()
        .filter(|file| file.is_rust() && file.path.starts_with("crates/") && file.path.contains("/src/"))
        .filter(|file| !file.path.starts_with("crates/sources/"))
        .map(|file| code_only(&file.text))
        .collect();
    let checked: Vec<&str> = files
        .iter()
        .filter(|file| file.path.starts_with(CASES) && file.path.ends_with(".toml"))
        .flat_map(|file| file.text.lines().filter_map(source))
        .collect();
    entries
        .iter()
        .filter(|entry| !checked.contains(&entry.id.as_str()))
        .filter(|entry| !rooms.iter().any(|code| has_word(code, &entry.name)))
        .map(|entry| {
            let text = format!("{} is the source of nothing: use it or take it out", entry.name);
            Fault::error(RULE, REGISTRY, entry.line, text)
        })
        .collect()
}

/// Validation cases without a source, or with one that nobody registered.
pub fn check_cases(entries: &[Entry], files: &[File]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for file in files.iter().filter(|file| file.path.starts_with(CASES) && file.path.ends_with(".toml")) {
        let named: Vec<(usize, &str)> =
            file.text.lines().enumerate().filter_map(|(index, line)| Some((index + 1, source(line)?))).collect();
        if named.is_empty() {
            faults.push(Fault::error(RULE, &file.path, 0, "a case without `source = \"id\"`"));
        }
        for (line, id) in named.iter().filter(|(_, id)| !entries.iter().any(|entry| entry.id == *id)) {
            faults.push(Fault::error(RULE, &file.path, *line, format!("the source {id:?} is not in the registry")));
        }
    }
    faults
}

/// The id of a line `source = "id"`.
fn source(line: &str) -> Option<&str> {
    let value = line.trim().strip_prefix("source")?.trim_start().strip_prefix('=')?;
    value.trim_start().strip_prefix('"')?.split_once('"').map(|(id, _)| id)
}
