//! Each rule shown a bad snippet and a good one beside it; the scanner shown
//! what it must not read as code; the set-up script shown machines that lack
//! things.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod rules;
mod scanning;
mod set_up;
