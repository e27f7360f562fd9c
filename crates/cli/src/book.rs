//! The rigger's book inside the program: a chapter by its name, and the
//! chapter that an error belongs to.

use crate::arguments::Cli;
use clap::CommandFactory;
use desk::Problem;
use std::fmt::Write;

/// Chapters by their names, in the order of the book.
const CHAPTERS: [(&str, &str); 15] = [
    ("first-day", include_str!("../../../docs/first-day.md")),
    ("loads", include_str!("../../../docs/loads.md")),
    ("rope", include_str!("../../../docs/rope.md")),
    ("ends", include_str!("../../../docs/ends.md")),
    ("lengths", include_str!("../../../docs/lengths.md")),
    ("cutting", include_str!("../../../docs/cutting.md")),
    ("bench", include_str!("../../../docs/bench.md")),
    ("proving", include_str!("../../../docs/proving.md")),
    ("keeping", include_str!("../../../docs/keeping.md")),
    ("physics", include_str!("../../../docs/physics.md")),
    ("files", include_str!("../../../docs/files.md")),
    ("loft", include_str!("../../../docs/loft.md")),
    ("records", include_str!("../../../docs/records.md")),
    ("cautions", include_str!("../../../docs/cautions.md")),
    ("glossary", include_str!("../../../docs/glossary.md")),
];

/// The one chapter that is made from the register and not written.
const SOURCES: &str = "sources";

/// A chapter, the help of a command, or the list of both.
///
/// # Errors
/// When neither a chapter nor a command has that name.
pub fn help(topic: Option<&str>) -> Result<String, Problem> {
    let Some(topic) = topic else { return Ok(overview()) };
    let wanted = topic.trim().to_lowercase().replace(' ', "-");
    if let Some((_, text)) = CHAPTERS.iter().find(|(name, _)| *name == wanted) {
        return Ok((*text).to_owned());
    }
    if wanted == SOURCES {
        return Ok(desk::sources_chapter());
    }
    let mut command = Cli::command();
    match command.find_subcommand_mut(&wanted) {
        Some(found) => Ok(found.render_long_help().to_string()),
        None => Err(Problem::no_such_topic(topic, &names())),
    }
}

fn names() -> Vec<&'static str> {
    CHAPTERS.iter().map(|(name, _)| *name).chain([SOURCES]).collect()
}

fn overview() -> String {
    let mut text = Cli::command().render_help().to_string();
    text.push_str("\nChapters of the rigger's book, each by `becket help NAME`:\n");
    for (name, chapter) in CHAPTERS {
        let title = chapter.lines().next().unwrap_or_default().trim_start_matches("# ");
        let _ = writeln!(text, "  {name:<10}  {title}");
    }
    let _ = writeln!(text, "  {SOURCES:<10}  Sources");
    text
}

/// The chapter that helps with an error, by the error's code; nothing for an
/// error of the machine, such as a full disk.
pub fn topic_of(code: &str) -> Option<&'static str> {
    Some(match code {
        "cannot-be-made" | "cannot-be-drawn" | "cannot-draw" => "ends",
        "no-load" | "no-lines" | "no-such-line" | "lead" | "power" | "slack" | "slack-sheet" => "loads",
        "no-length" => "lengths",
        "impossible-rope" | "no-such-rope" | "no-rope" | "no-figure" | "wire" => "rope",
        "cannot-plan" | "plan-faulty" | "piece-twice" | "no-orders" | "too-many-pieces" | "rack-changed" => "cutting",
        "not-a-journal" | "not-a-plan" | "nothing-confirmed" | "nothing-cut" => "cutting",
        "offer-colour" | "offer-price" => "cutting",
        "no-price" | "not-a-price" | "not-a-day" | "not-for-this-piece" | "missing-part" => "keeping",
        "no-proof" | "proof-failed" | "not-written-down" | "no-proof-plan" | "no-readings" => "proving",
        "no-statistics" | "no-test" | "no-tests" | "no-such-reading" => "proving",
        "cannot-set" | "no-labels" | "no-such-piece" => "bench",
        "mistakes" | "cannot-be-read" | "unknown-word" | "out-of-range" | "below-zero" | "contradiction" => "files",
        "empty-file" | "no-day" | "no-rows" | "row-too-long" | "too-large" => "files",
        "no-such-topic" => "first-day",
        _ => return None,
    })
}
