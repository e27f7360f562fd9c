//! Where a command takes the loft's own figures from.

use clap::Args;
use desk::{OwnAnswer, OwnSource, Problem};
use std::path::PathBuf;

/// The loft's own figures.
#[derive(Debug, Clone, Default, Args)]
pub struct OwnAsk {
    /// The loft's log of tests (CSV): where it carries a figure, that stands
    /// in place of the default, and the answer says so.
    #[arg(long, value_name = "FILE", help_heading = "The loft's own figures")]
    tests: Option<PathBuf>,
    /// Measured figures (CSV): shrinkage, bedding-in, minutes, friction.
    #[arg(long, value_name = "FILE", help_heading = "The loft's own figures")]
    measures: Option<PathBuf>,
    /// Tests and figures of the store: a file, or a postgres:// address.
    #[cfg(feature = "pages")]
    #[arg(long, value_name = "STORE", conflicts_with_all = ["tests", "measures"], help_heading = "The loft's own figures")]
    store: Option<String>,
}

impl OwnAsk {
    /// For desk; reads the store where one is given.
    pub fn source(&self) -> Result<OwnSource, Problem> {
        Ok(OwnSource {
            tests: self.tests.clone().map(Into::into),
            measures: self.measures.clone().map(Into::into),
            #[cfg(feature = "pages")]
            kept: self.store.as_deref().map(kept_in).transpose()?,
        })
    }
}

/// What a store keeps of it.
#[cfg(feature = "pages")]
fn kept_in(store: &str) -> Result<desk::KeptFigures, Problem> {
    desk::records::wait(async {
        let records = desk::records::Records::open_existing(store).await?;
        let kept = desk::KeptFigures::of(&records).await;
        records.close().await;
        kept
    })?
}

/// What was read of it, to standard error.
pub fn say(own: Option<&OwnAnswer>) {
    if let Some(own) = own {
        crate::say(&own.words());
    }
}
