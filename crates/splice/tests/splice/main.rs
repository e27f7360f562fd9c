//! Ends laid out: sizes, marks, findings, refusals; identities and properties.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod chance;
mod chooser;
mod elastic;
mod ends;
mod loads;
mod making;
mod mechanics;
mod own;
