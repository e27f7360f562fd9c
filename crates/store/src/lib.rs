//! Orders, rack, pieces and records kept for years, in one SQLite file or in
//! PostgreSQL.
//!
//! [`Store::open`] takes a [`Place`] (a file, made if it is missing, or a
//! `postgres://` address) and brings the layout up. Every change takes a
//! [`Stamp`] (who, and when: there is no clock here), is one transaction, and
//! is on the disk when the call returns. Rows are plain structs; ids are text
//! that the caller makes; exact values are whole numbers.
//!
//! | rows | what there is |
//! |---|---|
//! | [`Setting`] | `setting`, `settings`, `set` |
//! | [`Order`] | `add_order`, `save_order` (answers [`Saved`]: saved, or theirs and yours side by side), `set_order_state`, `order`, `orders`, `order_versions`, `order_asides` |
//! | [`Draft`] | `keep_drafts`, `drafts`, `drafts_of_all`, `drop_drafts` |
//! | [`Reel`] | `add_reels`, `correct_reel`, `take_reel_away`, `reel`, `rack`, `reels`, [`rack_fingerprint`] |
//! | [`Plan`] | `make_plan`, `reserve_plan`, `release_plan`, `confirm_plan`, `take_back_plan`, `drop_plan`, `plan`, `plans` |
//! | [`Piece`] | `add_piece`, `move_piece`, `set_batch`, `set_card`, `piece`, `pieces`, `pieces_of`, `due` |
//! | [`Tick`], [`AsMade`], [`Photo`] | `tick`, `ticks`, `measure`, `as_made`, `add_photo`, `photos`, `photo` |
//! | [`Test`], [`LoadCurve`] | `add_test`, `test`, `tests`, `add_load_curve`, `load_curve`, `strike_out`, `struck` |
//! | [`LifeEvent`], [`Inspection`] | `add_event`, `life`, `inspect`, `inspections` |
//! | [`Minutes`], [`Reading`] | `add_minutes`, `minutes`, `add_reading`, `readings` |
//! | [`Price`], [`Quote`] | `set_price`, `prices`, `add_quote`, `move_quote`, `quote`, `quotes` |
//! | [`User`], [`Session`], [`Refusal`] | `set_user`, `user`, `users`, `begin_session`, `session`, `touch_session`, `end_session`, `note_refusal`, `refusals` |
//! | all | `copy_to` (backup, move), [`restore`], `export_to`, `counts`, `check_whole` |
//! | [`Change`] | `history_of`, `history` |
//!
//! What must stay true, and who sees to it: history, versions, ticks and
//! measurements are never changed or removed (triggers of the database); a
//! reel is in one plan's hands at a time (rows held in order of their labels,
//! one transaction); a change made from an old revision never writes over a
//! newer one (revisions, compared in the same transaction).
//!
//! Not covered: what the rows mean. Orders, cards and answers are text here;
//! `desk` reads them.

mod bench;
mod cell;
mod checksum;
mod copy;
mod drafts;
mod error;
mod export;
mod history;
mod layout;
mod learning;
mod life;
mod money;
mod orders;
mod people;
mod pieces;
mod place;
mod plans;
mod proof_tests;
mod record;
mod reels;
mod settings;
mod stamp;
mod store;
mod tables;
mod work;

pub use bench::{AsMade, LARGEST_PHOTO, MOST_PHOTOS, Mark, Measured, NewPhoto, Photo, PhotoFacts, PhotoKind, Tick};
pub use cell::{Cell, Column, Columns, Kind};
pub use copy::{Count, restore};
pub use drafts::{Draft, Typed};
pub use error::Error;
pub use export::{Exported, defused};
pub use history::{Action, Change};
pub use learning::{Minutes, Reading};
pub use life::{Event, Inspection, LifeEvent, NewEvent, NewInspection, Verdict};
pub use money::{Price, PriceKind, Quote, QuoteState};
pub use orders::{Aside, Order, OrderState, OrderText, OrderVersion, Saved};
pub use people::{Refusal, Role, Session, User, UserFacts, UserState};
pub use pieces::{Move, Piece, PieceFacts, PieceState};
pub use place::Place;
pub use plans::{Cut, LeftAs, NewPlan, Plan, PlanReel, PlanRemnant, PlanState, WholePlan};
pub use proof_tests::{BrokeAt, LARGEST_CURVE, LoadCurve, Struck, Test, TestKind, TestResult, TestsWanted, Worn};
pub use record::{ColumnOf, Record, Table};
pub use reels::{Reel, ReelFacts, ReelKind, ReelState, rack_fingerprint};
pub use settings::Setting;
pub use stamp::{Stamp, check_day};
pub use store::Store;
pub use tables::TABLES;
