//! A paper of words and tables on its way to a file: which file, which paper,
//! which day.

use crate::cards::Paper;
use crate::problem::{Fault, Problem};
use crate::save::save;
use crate::wire::FindingAnswer;
use sheets::{Document, FindingLine, Grade, Lies, Overrule};
use std::path::PathBuf;

/// Where a paper goes.
#[derive(Debug, Clone)]
pub struct PaperTo {
    /// The file.
    pub path: PathBuf,
    /// The paper.
    pub paper: Paper,
    /// The day it bears: year-month-day.
    pub day: String,
}

impl PaperTo {
    /// Does the name end in `.svg`?
    #[must_use]
    pub fn is_svg(&self) -> bool {
        self.path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("svg"))
    }

    pub(crate) fn width_mm(&self, lies: Lies) -> f64 {
        sheets::picture_width(self.paper.sheet(), lies)
    }

    /// A document with nothing in it yet.
    pub(crate) fn document(&self, kind: &str, title: &str) -> Result<Document, Problem> {
        let mut parts = self.day.splitn(3, '-').map(|part| part.parse::<u16>().ok());
        let mut next = || parts.next().flatten();
        let day = (|| {
            let (year, month, day) = (next()?, u8::try_from(next()?).ok()?, u8::try_from(next()?).ok()?);
            files::Date::new(year, month, day)
        })();
        let day = day.ok_or_else(|| {
            Problem::new(Fault::Request, "not-a-day", format!("{:?} is not a day of the calendar", self.day))
                .hint("year-month-day: 2026-11-25")
        })?;
        Ok(Document {
            kind: kind.to_owned(),
            title: title.to_owned(),
            subtitle: String::new(),
            headlines: Vec::new(),
            findings: Vec::new(),
            blocks: Vec::new(),
            code: None,
            lies: Lies::Upright,
            day: crate::cards::day(day),
        })
    }

    pub(crate) fn write(&self, document: &Document) -> Result<(), Problem> {
        let bytes = sheets::document(document, self.paper.sheet())
            .map_err(|why| Problem::refused("cannot-set", why.to_string()))?;
        self.save(&bytes)
    }

    pub(crate) fn save(&self, bytes: &[u8]) -> Result<(), Problem> {
        save(&self.path, bytes)
    }
}

impl FindingAnswer {
    /// As a paper prints it.
    pub(crate) fn line(&self) -> FindingLine {
        FindingLine {
            grade: match self.grade {
                "stop" => Grade::Stop,
                "caution" => Grade::Caution,
                _ => Grade::Note,
            },
            text: self.text.clone(),
            remedy: self.remedy.clone(),
            weak_point: None,
            overrule: Overrule::Never,
        }
    }
}
