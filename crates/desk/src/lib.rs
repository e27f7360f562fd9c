//! The application: one function a task, plain data in and out.
//!
//! Front ends call these functions and nothing else. A task takes paths or
//! texts and settings, reads what it needs, asks the rooms of the core, and
//! returns an answer that serialises to the published JSON; a task that
//! cannot be done returns a [`Problem`] that says what was given, what is
//! allowed and what to do. Knows neither HTTP nor the terminal.

mod cards;
mod check;
mod convert;
mod cover_answer;
mod cover_facts;
mod cover_plot;
mod cover_task;
mod cut;
mod cut_answer;
mod cut_ask;
mod cut_confirm;
mod cut_pieces;
mod cut_rack;
mod cut_rows;
mod cut_sheet;
mod cut_solve;
mod cut_table;
mod holding;
mod input;
mod job;
mod lines;
mod list_task;
mod made_up;
mod one_line;
mod picture;
mod problem;
#[cfg(feature = "records")]
pub mod records;
mod rope_task;
mod rule_table;
mod save;
mod schema;
mod splice_answer;
mod splice_out;

mod splice_read;
mod splice_task;
mod taken;
mod text;
mod wire;

pub use cards::{CardsAnswer, CardsRequest, Paper, cards};
pub use check::{CheckAnswer, FileKind, check};
pub use cover_answer::{CoverAnswer, RangeAnswer};
pub use cover_task::{CoverRequest, cover};
pub use cut::{
    BuyAnswer, CutAnswer, CutProgress, CutRequest, LaterAnswer, PieceSource, ReelAnswer, UncutAnswer, Watch, cut,
    cut_to, cut_watched,
};
pub use cut_ask::day;
pub use cut_confirm::{ConfirmAnswer, confirm, confirm_change, take_back};
pub use cut_rack::{RackChange, RackRow, confirm_rows, rack_fingerprint, take_back_rows};
pub use holding::{HeldReel, Holding};
pub use lines::{EndAnswer, LineAnswer, LinesAnswer, LinesRequest, lines};
pub use list_task::{ColumnAnswer, ExportAnswer, ImportAnswer, export, import, line_list_columns};
pub use problem::{Fault, Problem, Where};
pub use rope_task::{CandidateAnswer, MovedAnswer, RopeChoiceAnswer, RopeRequest, rope};
pub use rule_table::{FactAnswer, LOFT_RULES, SpokenAnswer, WeighedAnswer, rule_facts};
pub use save::save;
pub use schema::{Document, schema};
pub use splice_answer::{ChanceAnswer, LoadGripAnswer, SpliceAnswer};
pub use splice_out::{splice_svg, splice_to};
pub use splice_task::{SpliceRequest, Variant, compare, length, splice, time};
pub use taken::ReelTaken;
pub use text::Text;
pub use wire::{Amount, FindingAnswer, Margin, StepAnswer, TaperStepAnswer, WeakPointAnswer};

/// Which units an answer is printed in.
pub use units::System;
