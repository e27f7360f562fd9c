//! The store's public side, each test on an SQLite file and on a PostgreSQL
//! server that the tests start themselves.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test that cannot go on fails")]

mod both;
mod copies;
mod editing;
mod faults;
mod keeping;
mod many;
mod opening;
mod rack;
mod rows;
