//! What the rigger's book takes from the program: its list of sources, and
//! pictures of an end.
//!
//! Both are made here so that the book cannot say anything else than the
//! program. Not covered: the book's own words, which lie in `docs/`.

use crate::SpliceRequest;
use crate::picture::picture;
use crate::problem::Problem;
use crate::splice_task::laid_out;
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
            let year = if source.year.is_empty() { String::new() } else { format!(", {}", source.year) };
            let _ = writeln!(text, "- {} ({}{year})", source.title, source.body);
        }
    }
    text
}

fn capital(words: &str) -> String {
    let mut characters = words.chars();
    characters.next().map(|first| first.to_uppercase().chain(characters).collect()).unwrap_or_default()
}

/// An end as pictures: SVG, in millimetres.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EndPictures {
    /// Straight on the bench, with its marks.
    pub laid_out: String,
    /// Made up, throat and end of the bury enlarged.
    pub made_up: String,
    /// The taper strand by strand; none of an end without one.
    pub taper: Option<String>,
}

/// Pictures of an end, `width_mm` wide.
///
/// # Errors
/// When the end cannot be made, or a width under 50 mm.
pub fn end_pictures(request: &SpliceRequest, width_mm: f64) -> Result<EndPictures, Problem> {
    let (rope, end) = laid_out(request)?;
    let end = picture(&rope, &end, request.units);
    let refused = |why: drawing::DrawingError| Problem::refused("cannot-draw", why.to_string());
    Ok(EndPictures {
        laid_out: drawing::laid_out(&end, width_mm).map_err(refused)?.svg(),
        made_up: drawing::finished(&end, width_mm).map_err(refused)?.svg(),
        taper: drawing::taper(&end, width_mm).map_err(refused)?.map(|taper| taper.svg()),
    })
}
