//! Marks collected exactly, then rounded once, ordered and numbered.

use crate::layout::{Mark, Part, Shape};
use units::Length;

/// Marks as they are found, before rounding.
#[derive(Debug, Clone, Default)]
pub(crate) struct MarkSheet {
    marks: Vec<(Part, Length, &'static str, Shape)>,
}

impl MarkSheet {
    /// One more mark.
    pub fn mark(&mut self, part: Part, name: &'static str, at: Length, shape: Shape) {
        self.marks.push((part, at, name, shape));
    }

    /// The marks numbered from the bitter end, each rounded to the nearest
    /// millimetre. Core and cover lie side by side until they are parted, so
    /// both count from the rope's bitter end; another rope has its own.
    pub fn numbered(mut self) -> Vec<Mark> {
        let other = |part: Part| part == Part::OtherRope;
        self.marks.sort_by(|a, b| other(a.0).cmp(&other(b.0)).then(a.1.compare(&b.1)).then(a.0.cmp(&b.0)));
        self.marks
            .into_iter()
            .zip(1..)
            .map(|((part, at, name, shape), number)| Mark {
                number,
                name,
                part,
                from_bitter_end: at.nearest_mm(),
                shape,
            })
            .collect()
    }
}

/// The number of a mark, for sentences; the mark is always there.
pub(crate) fn number(marks: &[Mark], part: Part, name: &str) -> u32 {
    marks.iter().find(|mark| mark.part == part && mark.name == name).map_or(0, |mark| mark.number)
}
