//! Every route called in memory, happy and refused.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

#[path = "web/ask.rs"]
mod ask;
#[path = "web/interface.rs"]
mod interface;
#[path = "web/pages.rs"]
mod pages;
#[path = "web/sharing.rs"]
mod sharing;
