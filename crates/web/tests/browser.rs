//! The pages in a real browser: the main job, drafts, accessibility, width,
//! keyboard, and reading without scripts. Pictures are left in `pages/` of the
//! target folder. Chromium, its driver and axe-core are brought by `./check`.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test that cannot go on fails")]

#[path = "browser/driver.rs"]
mod driver;
#[path = "browser/job.rs"]
mod job;
#[path = "browser/loft.rs"]
mod loft;
#[path = "browser/seed.rs"]
mod seed;
#[path = "browser/sight.rs"]
mod sight;
