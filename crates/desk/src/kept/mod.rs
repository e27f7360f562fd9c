//! Pieces kept in the store: their lives, inspections, due list and calendar;
//! tests and figures of the store through the same tasks as those of files.
//!
//! A test, a figure or a piece is entered here as it was typed.
//!
//! Every entry is checked by `proving` before the store is asked, so that a
//! refusal says what to do: no date moves later without a reason, and a
//! retired piece comes back into no use.

mod bring_in;
mod due;
mod enter;
mod enter_figure;
mod enter_test;
mod enter_tests;
mod inspect;
mod life;
mod paper;
mod piece;
mod price;
mod prices;
mod prove;
mod tests;

pub use bring_in::{BringIn, bring_in};
pub use due::{DueAnswer, DueEntry, DueRequest, due, due_calendar};
pub use enter::{EventRequest, enter_event};
pub use enter_figure::{FIGURES, FigureEntry, enter_figure};
pub use enter_test::{TakenInAnswer, TestEntry, enter_test, keep_curve, kept_curve, take_in_tests};
pub use enter_tests::{EnterTestsAnswer, EnterTestsRequest, MovedFigure, enter_tests};
pub use inspect::{InspectAnswer, InspectRequest, inspect};
pub use paper::due_paper;
pub use piece::{CriterionAnswer, EntryAnswer, PieceAnswer, PieceRequest, ResidualAnswer, piece};
pub use price::quote_kept;
pub use prices::KeptPrices;
pub use prove::{ProveRequest, plan_piece};
pub use tests::{CertifyRequest, KeptFigures, StoredRequest, certify, stored_learned, stored_proof};

use crate::job::{find_rope, read_ropes};
use crate::problem::{Fault, Problem};
use crate::text::Text;
use cordage::Rope;
use proving::{Day, LifeError};

/// A day from text.
fn day(field: &str, text: &str) -> Result<Day, Problem> {
    proving::day_from(text).ok_or_else(|| {
        Problem::new(Fault::Request, "not-a-day", format!("{field}: {text:?} is not a day of the calendar"))
            .hint("year-month-day: 2026-11-25")
    })
}

fn ropes(list: Option<&Text>) -> Result<Vec<Rope>, Problem> {
    Ok(list.map(read_ropes).transpose()?.unwrap_or_default())
}

fn rope(name: &str, ropes: &[Rope]) -> Option<Rope> {
    find_rope(name, files::Place::default(), ropes).ok()
}

fn refused(code: &str, why: &LifeError) -> Problem {
    Problem::refused("not-for-this-piece", format!("{code}: {why}")).hint(why.hint())
}
