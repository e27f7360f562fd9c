//! What the rigger's book takes from the program: its list of sources.
//!
//! It is made here so that the book cannot say anything else than the program.
//! Not covered: the book's own words, which lie in `docs/`, and its pictures,
//! which are those of [`splice_svg`](crate::splice_svg).

use sources::{Kind, registry};
use std::fmt::Write;

/// Kinds of source from the most trusted to the least.
const KINDS: [Kind; 10] = [
    Kind::Exact,
    Kind::Given,
    Kind::Standard,
    Kind::Paper,
    Kind::Handbook,
    Kind::Measured,
    Kind::Secondary,
    Kind::Ours,
    Kind::CommonPractice,
    Kind::FromMemory,
];

/// The book's chapter on sources, as Markdown: every one, by how far it is
/// trusted.
#[must_use]
pub fn sources_chapter() -> String {
    let mut text = String::from(
        "# Sources\n\nEvery number of the trade in an answer says where it is from. This list is made by the\n\
         program from the same register, from what is trusted most to what is trusted least.\n\
         An answer is trusted as far as the weakest step of its working.\n",
    );
    for kind in KINDS {
        let of_kind: Vec<_> = registry().iter().filter(|source| source.kind == kind).collect();
        if of_kind.is_empty() {
            continue;
        }
        let _ = write!(text, "\n## {}\n\n", capital(kind.words()));
        for source in of_kind {
            let from: Vec<&str> = [source.body, source.year].into_iter().filter(|part| !part.is_empty()).collect();
            let from = if from.is_empty() { String::new() } else { format!(" ({})", from.join(", ")) };
            let _ = writeln!(text, "- {}{from}", source.title);
        }
    }
    text
}

fn capital(words: &str) -> String {
    let mut characters = words.chars();
    characters.next().map(|first| first.to_uppercase().chain(characters).collect()).unwrap_or_default()
}
