//! Every route called in memory, happy and refused.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test that cannot go on fails")]

#[path = "web/ask.rs"]
mod ask;
#[path = "web/faults.rs"]
mod faults;
#[path = "web/interface.rs"]
mod interface;
#[path = "web/kept.rs"]
mod kept;
#[path = "web/loft.rs"]
mod loft;
#[path = "web/money.rs"]
mod money;
#[path = "web/pages.rs"]
mod pages;
#[path = "web/postgres.rs"]
mod postgres;
#[path = "web/refused.rs"]
mod refused;
#[path = "web/served.rs"]
mod served;
#[path = "web/sharing.rs"]
mod sharing;
