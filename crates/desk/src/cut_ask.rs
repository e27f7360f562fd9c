//! What is asked of the cut plan, and the caller's hold on its search.

use crate::own::OwnSource;
use crate::text::Text;
use std::time::Duration;
use units::{Length, System};

/// Where the pieces come from.
#[derive(Debug, Clone)]
pub enum PieceSource {
    /// The pieces of orders.
    Orders {
        /// Order files.
        orders: Vec<Text>,
        /// The rope list; `ropes.csv` beside each order where not given.
        ropes: Option<Text>,
    },
    /// A bare list.
    List(Text),
}

/// What is asked.
#[derive(Debug, Clone)]
pub struct CutRequest {
    /// The pieces.
    pub source: PieceSource,
    /// The loft's own figures, for pieces of orders.
    pub own: OwnSource,
    /// The rack file.
    pub rack: Text,
    /// What a supplier sells, to be bought where the rack runs short.
    pub offers: Option<Text>,
    /// Rope lost at each cut; the order's own or 10 mm where not given.
    pub loss: Option<Length>,
    /// Rope cut off a reel's free end before its first piece; the order's own
    /// or none where not given.
    pub loss_per_end: Option<Length>,
    /// Smallest remnant worth keeping; the order's own or 2 m where not given.
    pub smallest_remnant: Option<Length>,
    /// What one more remnant in the rack is held to cost, as rope spoiled; the
    /// smallest remnant where not given.
    pub remnant_value: Option<Length>,
    /// Most remnants of one rope that are to lie in the rack afterwards; the
    /// order's own or any number where not given.
    pub most_remnants: Option<u32>,
    /// The day of cutting. Needed as soon as a piece has a first or last day.
    pub day: Option<files::Date>,
    /// How long the search may take; 10 s where not given.
    pub limit: Option<Duration>,
    /// Seed of the search.
    pub seed: u64,
    /// Units to print; the first order's own where not given.
    pub units: Option<System>,
}

impl Default for CutRequest {
    fn default() -> Self {
        CutRequest {
            source: PieceSource::List(Text::default()),
            own: OwnSource::default(),
            rack: Text::default(),
            offers: None,
            loss: None,
            loss_per_end: None,
            smallest_remnant: None,
            remnant_value: None,
            most_remnants: None,
            day: None,
            limit: None,
            seed: 1,
            units: None,
        }
    }
}

/// The caller's hold on a search.
#[derive(Clone, Copy)]
pub struct Watch<'a> {
    /// Asked often; `true` ends the search with the best plan so far.
    pub stop: &'a dyn Fn() -> bool,
    /// Told how far the search is whenever that has changed.
    pub told: &'a dyn Fn(CutProgress<'_>),
}

/// How far a search is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CutProgress<'a> {
    /// The rope being planned.
    pub rope: &'a str,
    /// How far the best plan so far may be from the best; `None` while an
    /// earlier goal than rope spoiled is open.
    pub gap: Option<Length>,
    /// Time since the search began.
    pub time: Duration,
}

impl Watch<'_> {
    /// A search that nobody watches.
    pub const NONE: Watch<'static> = Watch { stop: &|| false, told: &|_| {} };
}

/// A day from text, for a front end's own field: `2026-03-31`.
///
/// # Errors
/// When the calendar has no such day.
pub fn day(field: &str, text: &str) -> Result<files::Date, crate::Problem> {
    files::Date::from_text(text).ok_or_else(|| {
        let message = format!("{field}: {text:?} is not a day of the calendar");
        crate::Problem::new(crate::Fault::Request, "not-a-day", message)
            .hint("write year-month-day, such as 2026-03-31")
    })
}
