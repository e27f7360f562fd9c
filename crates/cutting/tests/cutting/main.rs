//! The cut plan through its public door: rules, refusals, classic cases.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod brute;
mod jobs;
mod metamorphic;
mod random;
mod refusals;
mod rules;
