//! The commands of README.md are run, and print what the page says.
//!
//! Console blocks: a line `$ becket …` is run in a folder of its own that has
//! the project's examples, and the lines behind it are what it prints. A line
//! `...` stands for any number of lines. A command that ends with another code
//! than 0 says so behind it: `# exits 1`. `UPDATE_README=1` writes what was
//! printed into the page, where no `...` was left.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// One command of a page and what it is said to print.
#[derive(Debug, PartialEq, Eq)]
struct Told {
    /// The line after `$ `.
    command: String,
    /// The lines behind it.
    prints: Vec<String>,
}

/// The commands of all console blocks, in order.
fn told(page: &str) -> Vec<Told> {
    let mut found: Vec<Told> = Vec::new();
    let mut inside = false;
    for line in page.lines() {
        if line.starts_with("```") {
            inside = line == "```console";
        } else if let (true, Some(command)) = (inside, line.strip_prefix("$ ")) {
            found.push(Told { command: command.to_owned(), prints: Vec::new() });
        } else if let (true, Some(last)) = (inside, found.last_mut()) {
            last.prints.push(line.to_owned());
        }
    }
    found
}

/// A command's words; quotation marks keep spaces. The comment goes.
fn words(command: &str) -> (Vec<String>, i32) {
    let (command, code) = command.split_once(" # exits ").unwrap_or((command, "0"));
    let mut words = vec![String::new()];
    let mut quoted = false;
    for c in command.chars() {
        match c {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            _ => words.last_mut().unwrap().push(c),
        }
    }
    words.retain(|word| !word.is_empty());
    (words, code.trim().parse().unwrap())
}

/// Whether the lines are as told, `...` being any number of lines.
fn agrees(told: &[&str], printed: &[&str]) -> bool {
    match told {
        [] => printed.is_empty(),
        ["...", rest @ ..] => (0..=printed.len()).any(|skipped| agrees(rest, &printed[skipped..])),
        [first, rest @ ..] => printed.first() == Some(first) && agrees(rest, &printed[1..]),
    }
}

/// A folder with the examples, where the commands may write.
fn workshop(root: &Path) -> PathBuf {
    let folder = std::env::temp_dir().join(format!("becket-readme-{}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    let examples = folder.join("examples");
    if !examples.exists() {
        std::os::unix::fs::symlink(root.join("examples"), examples).unwrap();
    }
    folder
}

#[test]
fn the_commands_of_the_readme_print_what_it_says() {
    // Asked when run: a target directory outlives the clone that filled it.
    let own = PathBuf::from(std::env::var_os("CARGO_MANIFEST_DIR").unwrap());
    let root = own.ancestors().nth(2).unwrap();
    let mut page = fs::read_to_string(root.join("README.md")).unwrap();
    let folder = workshop(root);
    let told = told(&page);
    let mut differences = Vec::new();
    for one in &told {
        let (words, code) = words(&one.command);
        assert_eq!(words[0], "becket", "only becket is run: {}", one.command);
        let output =
            Command::new(env!("CARGO_BIN_EXE_becket")).args(&words[1..]).current_dir(&folder).output().unwrap();
        let printed = String::from_utf8(output.stdout).unwrap();
        let lines: Vec<&str> = printed.lines().map(str::trim_end).collect();
        let prints: Vec<&str> = one.prints.iter().map(String::as_str).collect();
        if output.status.code() != Some(code) {
            let said = String::from_utf8_lossy(&output.stderr);
            differences.push(format!("$ {}\nended with {:?}, not {code}\n{said}", one.command, output.status.code()));
        } else if !agrees(&prints, &lines) {
            differences.push(format!("$ {}\nprints now:\n{}", one.command, lines.join("\n")));
            if !prints.contains(&"...") {
                let told = [&[format!("$ {}", one.command)], &one.prints[..]].concat().join("\n") + "\n";
                let now = format!("$ {}\n{}\n", one.command, lines.join("\n"));
                page = page.replacen(&told, &now, 1);
            }
        }
    }
    fs::remove_dir_all(&folder).unwrap();
    if std::env::var_os("UPDATE_README").is_some() {
        fs::write(root.join("README.md"), page).unwrap();
    }
    assert!(told.len() >= 5, "the tour has {} commands", told.len());
    assert!(differences.is_empty(), "README.md says otherwise:\n\n{}", differences.join("\n\n"));
}

#[test]
fn a_page_is_read_and_compared_as_described() {
    let page = "```sh\n$ no\n```\n```console\n$ becket a \"b c\" # exits 1\none\n...\n$ becket d\n```\n$ no\n";
    let found = told(page);
    assert_eq!(found.len(), 2);
    assert_eq!(found[0].prints, ["one", "..."]);
    assert_eq!(words(&found[0].command), (vec!["becket".to_owned(), "a".to_owned(), "b c".to_owned()], 1));
    assert!(agrees(&["one", "..."], &["one", "two", "three"]));
    assert!(agrees(&["...", "three"], &["one", "two", "three"]));
    assert!(!agrees(&["one"], &["one", "two"]));
    assert!(!agrees(&["...", "four"], &["one", "two"]));
    assert!(!agrees(&[], &["one"]));
}
