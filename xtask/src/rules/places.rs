//! Places: nothing points outside the project that is not there for every
//! reader, and links between documents lead somewhere.
//!
//! Looked for in every text file but the lock file, which cargo writes.

use crate::scan::line_of;
use crate::{Fault, File};

const RULE: &str = "places";

/// Hosts of package registries: the tools know them, our files do not.
/// Written in halves, so that this file keeps its own rule.
const REGISTRIES: &[&str] = &[
    concat!("crates", ".io"),
    concat!("pypi", ".org"),
    concat!("npmjs", ".org"),
    concat!("npmjs", ".com"),
    concat!("deb.debian", ".org"),
    concat!("archive.ubuntu", ".com"),
    concat!("proxy.golang", ".org"),
];

/// Folders that only one machine has.
const FOLDERS: &[&str] =
    &[concat!("/", "work"), concat!("/", "tmp"), concat!("/", "root"), concat!("/", "home"), concat!("/", "Users")];

/// Outside the project, though beside it on the author's machine.
const BESIDE: &str = concat!("../", "shared");

/// Mentions of places that other readers do not have.
pub fn check_mentions(files: &[File]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for file in files.iter().filter(|file| file.name() != "Cargo.lock") {
        let mut fault = |at: usize, text: String| {
            faults.push(Fault::error(RULE, &file.path, line_of(&file.text, at), text));
        };
        for host in REGISTRIES {
            for (at, _) in file.text.match_indices(host) {
                fault(at, format!("names the registry {host}: say what is fetched and let the tool find it"));
            }
        }
        for (at, _) in file.text.match_indices(BESIDE) {
            fault(at, format!("mentions {BESIDE}: the project must not need what lies outside it"));
        }
        for folder in FOLDERS {
            for (at, _) in file.text.match_indices(folder).filter(|(at, _)| is_absolute(&file.text, *at, folder)) {
                fault(at, format!("an absolute path, {folder}: use a path from the project or ask the system"));
            }
        }
    }
    faults
}

/// A path begins here (`$HOME` or a dot before it would make it another's
/// end), and the folder's name ends where ours does.
fn is_absolute(text: &str, at: usize, folder: &str) -> bool {
    let goes_on = |c: char| c.is_alphanumeric() || matches!(c, '_' | '-' | '.' | '}' | ')' | '>' | '*' | '/' | ':');
    let before = text[..at].chars().next_back();
    let after = text[at + folder.len()..].chars().next();
    !before.is_some_and(goes_on) && !after.is_some_and(|c| c.is_alphanumeric() || matches!(c, '_' | '-'))
}

/// Links of Markdown files to files of the project that do not exist.
pub fn check_links(files: &[File], paths: &[String]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for file in files.iter().filter(|file| file.path.ends_with(".md")) {
        let prose = prose_only(&file.text);
        for (at, target) in links(&prose) {
            let target = target.split(['#', ' ']).next().unwrap_or_default();
            if target.is_empty() || target.contains("://") || target.starts_with("mailto:") {
                continue;
            }
            let path = resolved(&file.path, target);
            let folder = format!("{path}/");
            if !paths.iter().any(|known| *known == path || known.starts_with(&folder)) {
                let text = format!("a link to {target}, which is no file of the project");
                faults.push(Fault::error("links", &file.path, line_of(&prose, at), text));
            }
        }
    }
    faults
}

/// Markdown with fenced blocks and code spans as spaces.
fn prose_only(text: &str) -> String {
    let mut fenced = false;
    let mut spanned = false;
    let mut prose = String::new();
    for line in text.split_inclusive('\n') {
        let is_fence = line.trim_start().starts_with("```");
        fenced ^= is_fence;
        for c in line.chars() {
            spanned ^= c == '`' && !is_fence && !fenced;
            let hidden = (fenced || is_fence || spanned) && c != '\n';
            prose.extend(std::iter::repeat_n(if hidden { ' ' } else { c }, if hidden { c.len_utf8() } else { 1 }));
        }
    }
    prose
}

/// The targets of `[words](target)` and `src="target"`.
fn links(prose: &str) -> Vec<(usize, &str)> {
    let marked = |open: &'static str, close: char| {
        prose.match_indices(open).filter_map(move |(at, _)| {
            let start = at + open.len();
            prose[start..].split_once(close).map(|(target, _)| (start, target))
        })
    };
    marked("](", ')').chain(marked("src=\"", '"')).collect()
}

/// A link's target as a path from the root.
fn resolved(from: &str, target: &str) -> String {
    let mut parts: Vec<&str> = match target.strip_prefix('/') {
        Some(_) => Vec::new(),
        None => from.split('/').collect(),
    };
    parts.pop();
    for part in target.split('/') {
        match part {
            "" | "." => {}
            ".." => {
                parts.pop();
            }
            _ => parts.push(part),
        }
    }
    parts.join("/")
}
