//! Every table, parents before children: what copy, checksum and export walk.
//!
//! Sessions are not among them: who is signed in on one place is not signed
//! in on another.

use crate::cell::Kind;
use crate::record::{ColumnOf, Record, Table};
use crate::{
    bench, drafts, history, learning, life, money, orders, people, pieces, plans, proof_tests, reels, settings,
};

/// Every table that is copied.
pub const TABLES: &[Table] = &[
    settings::Setting::TABLE,
    orders::Order::TABLE,
    orders::OrderVersion::TABLE,
    orders::Aside::TABLE,
    drafts::Draft::TABLE,
    plans::Plan::TABLE,
    reels::Reel::TABLE,
    plans::PlanReel::TABLE,
    plans::PlanRemnant::TABLE,
    pieces::Piece::TABLE,
    plans::Cut::TABLE,
    bench::Tick::TABLE,
    bench::AsMade::TABLE,
    bench::Photo::TABLE,
    proof_tests::Test::TABLE,
    proof_tests::LoadCurve::TABLE,
    life::Inspection::TABLE,
    life::LifeEvent::TABLE,
    learning::Minutes::TABLE,
    learning::Reading::TABLE,
    proof_tests::Struck::TABLE,
    money::Price::TABLE,
    money::Quote::TABLE,
    people::User::TABLE,
    people::Refusal::TABLE,
    history::Change::TABLE,
];

impl Table {
    /// The column that the database numbers by itself.
    pub(crate) fn is_numbered(&self) -> bool {
        self.key == ["seq"]
    }

    /// How many rows are read at once: few of those with pictures in them.
    pub(crate) fn page(&self) -> i64 {
        let heavy = (self.columns)().iter().any(|column| column.kind == Kind::Bytes || column.name == "text");
        if heavy { 16 } else { 1000 }
    }

    /// Where a column stands.
    pub(crate) fn position(&self, name: &str) -> Option<usize> {
        (self.columns)().iter().position(|column: &ColumnOf| column.name == name)
    }
}
