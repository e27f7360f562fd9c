//! Working that is written down only where somebody will read it.
//!
//! A sweep works a line out at thousands of points and shows one of them. The
//! same code serves both: a step is made by a closure that a silent working
//! never calls, so that the number and its step cannot part company.

use sources::Step;

/// Steps in the making.
#[derive(Debug)]
pub(crate) struct Working(Option<Vec<Step>>);

impl Working {
    /// Nobody will read it.
    pub(crate) const fn silent() -> Working {
        Working(None)
    }

    /// Every step is kept.
    pub(crate) const fn kept() -> Working {
        Working(Some(Vec::new()))
    }

    pub(crate) fn note(&mut self, step: impl FnOnce() -> Step) {
        if let Some(steps) = &mut self.0 {
            steps.push(step());
        }
    }

    pub(crate) fn notes(&mut self, steps: impl FnOnce() -> Vec<Step>) {
        if let Some(kept) = &mut self.0 {
            kept.extend(steps());
        }
    }

    pub(crate) fn into_steps(self) -> Vec<Step> {
        self.0.unwrap_or_default()
    }
}
