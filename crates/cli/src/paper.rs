//! A paper beside an answer: `--out`, and on what.

use crate::arguments::PaperSize;
use clap::Args;
use desk::{PaperTo, Problem};
use std::path::PathBuf;

/// A paper to write.
#[derive(Debug, Clone, Args)]
pub struct PaperAsk {
    /// Write it as a paper (PDF) to this file.
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// On which paper.
    #[arg(long, value_enum, default_value_t = PaperSize::A4)]
    paper: PaperSize,
}

impl PaperAsk {
    /// For desk, with the day the paper bears; nothing where none is asked for.
    pub fn to(&self, day: &str) -> Option<PaperTo> {
        let path = self.out.clone()?;
        Some(PaperTo { path, paper: self.paper.desk(), day: day.to_owned() })
    }

    /// Writes it where it was asked for, and says so.
    pub fn write(&self, day: &str, write: impl FnOnce(&PaperTo) -> Result<(), Problem>) -> Result<(), Problem> {
        let Some(to) = self.to(day) else { return Ok(()) };
        write(&to)?;
        crate::say(&format!("written: {}", to.path.display()));
        Ok(())
    }
}
