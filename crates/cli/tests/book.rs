//! The book against the program: its commands run, its pictures and its list
//! of sources are the program's own, its chapters are those of `becket help`,
//! and errors lead to chapters that exist.
//!
//! `UPDATE_BOOK=1` writes pictures and sources anew.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn project() -> PathBuf {
    let here = std::env::var_os("CARGO_MANIFEST_DIR").unwrap();
    Path::new(&here).join("../..").canonicalize().unwrap()
}

fn becket(folder: &Path, arguments: &[String]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_becket")).args(arguments).current_dir(folder).output().unwrap()
}

fn chapters() -> Vec<(String, String)> {
    let docs = project().join("docs");
    let summary = fs::read_to_string(docs.join("SUMMARY.md")).unwrap();
    let files = summary.split("](").skip(1).filter_map(|rest| rest.split(')').next()).map(str::to_owned);
    files.map(|file| (file.clone(), fs::read_to_string(docs.join(&file)).unwrap())).collect()
}

/// A command's words; quotation marks keep spaces.
fn words(command: &str) -> Vec<String> {
    let mut words = Vec::new();
    for (index, part) in command.split('"').enumerate() {
        if index % 2 == 1 {
            words.push(part.to_owned());
        } else {
            words.extend(part.split_whitespace().map(str::to_owned));
        }
    }
    words
}

fn differs(path: &Path, wanted: &str) -> bool {
    if std::env::var_os("UPDATE_BOOK").is_some() {
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, wanted).unwrap();
    }
    fs::read_to_string(path).unwrap_or_default() != wanted
}

#[test]
fn the_books_commands_run() {
    let folder = tempfile::tempdir().unwrap();
    let examples = folder.path().join("examples");
    for boat in ["sloop", "dinghy"] {
        fs::create_dir_all(examples.join(boat)).unwrap();
        for file in ["order.toml", "ropes.csv", "rack.csv"] {
            fs::copy(project().join("examples").join(boat).join(file), examples.join(boat).join(file)).unwrap();
        }
    }
    let loft = project().join("examples/loft");
    fs::create_dir_all(examples.join("loft")).unwrap();
    for entry in fs::read_dir(loft).unwrap().map(Result::unwrap) {
        fs::copy(entry.path(), examples.join("loft").join(entry.file_name())).unwrap();
    }
    let mut run = 0;
    for (name, text) in chapters() {
        let console = text.split("```console\n").skip(1).filter_map(|block| block.split("```").next());
        for command in console.flat_map(str::lines).filter_map(|line| line.strip_prefix("$ becket ")) {
            let output = becket(folder.path(), &words(command));
            let code = output.status.code();
            let said = String::from_utf8_lossy(&output.stderr).into_owned();
            assert!(code == Some(0) || code == Some(1), "{name}: becket {command} ends with {code:?}: {said}");
            assert!(!output.stdout.is_empty() || said.contains("written"), "{name}: becket {command} says nothing");
            run += 1;
        }
    }
    assert!(run >= 10, "the book has {run} commands");
    assert!(folder.path().join("cards/cards.pdf").is_file() && folder.path().join("papers/labels.pdf").is_file());
}

#[test]
fn the_books_pictures_are_the_programs() {
    let request = desk::SpliceRequest {
        rope: "10 mm 12-strand HMPE".to_owned(),
        end: "long-bury-eye".to_owned(),
        eye_on: Some("12 mm pin".to_owned()),
        ..desk::SpliceRequest::default()
    };
    let folder = project().join("docs/pictures");
    let stale = ["laid-out", "made-up"]
        .into_iter()
        .map(|name| (format!("long-bury-{name}.svg"), desk::splice_svg(&request, name, 150.0).unwrap()))
        .filter(|(name, svg)| differs(&folder.join(name), &format!("{svg}\n")))
        .map(|(name, _)| name)
        .collect::<Vec<_>>();
    assert!(stale.is_empty(), "{stale:?} differ from what is drawn now: UPDATE_BOOK=1");
}

#[test]
fn the_list_of_sources_is_the_register() {
    let path = project().join("docs/sources.md");
    assert!(!differs(&path, &desk::sources_chapter()), "docs/sources.md differs from the register: UPDATE_BOOK=1");
}

#[test]
fn every_chapter_is_printed_by_help_and_every_name_leads_to_one() {
    let folder = project();
    for (file, text) in chapters() {
        let topic = file.trim_end_matches(".md").to_owned();
        let output = becket(&folder, &["help".to_owned(), topic.clone()]);
        assert_eq!(String::from_utf8(output.stdout).unwrap(), text, "{topic}");
    }
    let overview = String::from_utf8(becket(&folder, &["help".to_owned()]).stdout).unwrap();
    for (file, _) in chapters() {
        assert!(overview.contains(file.trim_end_matches(".md")), "{file} is not in the overview");
    }
    let command = becket(&folder, &["help".to_owned(), "splice".to_owned()]);
    assert!(String::from_utf8(command.stdout).unwrap().contains("--eye-on"));
    assert_eq!(becket(&folder, &["help".to_owned(), "frobnicate".to_owned()]).status.code(), Some(2));
}

/// Codes that the desk's problems carry, read from its source text.
fn codes() -> Vec<String> {
    let folder = project().join("crates/desk/src");
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let text = fs::read_to_string(entry.unwrap().path()).unwrap_or_default();
        let new = text.split("Problem::new(Fault::").skip(1).filter_map(|rest| rest.split_once(", \""));
        let refused = text.split("Problem::refused(\"").skip(1).map(|rest| ("", rest));
        let code = |rest: &str| rest.split('"').next().unwrap_or_default().to_owned();
        found.extend(new.filter(|(fault, _)| fault.len() < 10).map(|(_, rest)| code(rest)));
        found.extend(refused.map(|(_, rest)| code(rest)));
    }
    found.sort();
    found.dedup();
    found
}

#[test]
fn errors_lead_to_a_chapter_or_are_the_machines() {
    let book = fs::read_to_string(project().join("crates/cli/src/book.rs")).unwrap();
    let machine = ["cannot-read", "cannot-write", "cannot-lock"];
    let codes = codes();
    assert!(codes.len() >= 10, "{codes:?}");
    for code in codes.iter().filter(|code| !machine.contains(&code.as_str())) {
        assert!(book.contains(&format!("\"{code}\"")), "{code} leads to no chapter: crates/cli/src/book.rs");
    }
    let output = becket(&project(), &words("splice --rope \"10 mm 12-strand HMPE\" --end granny"));
    assert!(String::from_utf8(output.stderr).unwrap().contains("more: becket help files"));
}
