//! The room from outside: loads and acceptance, what tests say of strength,
//! the life of a piece.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod life;
mod loads;
mod strength;
