//! The loft's records as front ends ask for them: orders, half-entered
//! fields, rack, plans, pieces at the bench, tests, service, people.
//!
//! [`Records`] opens the store once and is cheap to clone. What it gives and
//! takes are plain rows ([`rows`]), each serialisable; what goes wrong is a
//! [`Problem`] in the same words everywhere. Changes carry a [`Stamp`]: who,
//! and when; [`stamp`] reads the clock. Calls wait; a front end that cannot,
//! such as the command line, uses [`wait`].
//!
//! What only reads or writes rows is called on [`Records::store`] itself, and
//! its errors become problems with `?`; here is what takes more: the rack as
//! a file and back, a cut plan confirmed, copies and exports.

mod clock;
mod copies;
pub mod plans;
mod rack;

pub use clock::{stamp, wait};
pub use copies::{CopyAnswer, ExportAnswer};
pub use store::{Stamp, Store};

use crate::problem::{Fault, Problem};
use store::Place;

/// The plain rows of the store.
pub mod rows {
    pub use store::{
        Action, AsMade, Aside, BrokeAt, Change, Count, Cut, Draft, Event, Exported, Inspection, LARGEST_PHOTO, LeftAs,
        LifeEvent, LoadCurve, Mark, Measured, Minutes, Move, NewEvent, NewInspection, NewPhoto, NewPlan, Order,
        OrderState, OrderText, OrderVersion, Photo, PhotoFacts, PhotoKind, Piece, PieceFacts, PieceState, Plan,
        PlanReel, PlanRemnant, PlanState, Price, PriceKind, Quote, QuoteState, Reading, Reel, ReelFacts, ReelKind,
        ReelState, Refusal, Role, Saved, Session, Setting, Struck, Test, TestKind, TestResult, TestsWanted, Tick,
        Typed, User, UserFacts, UserState, Verdict, WholePlan, Worn, defused,
    };
}

/// The loft's records, open.
#[derive(Debug, Clone)]
pub struct Records {
    store: Store,
}

impl Records {
    /// Opens a store: a file, made where there is none, or a `postgres://`
    /// address.
    ///
    /// # Errors
    /// When it cannot be reached, is something else, or is newer than this
    /// program.
    ///
    /// ```
    /// # let folder = tempfile::tempdir().unwrap();
    /// # let place = folder.path().join("loft.becket").display().to_string();
    /// use desk::records::{Records, rows::OrderText, stamp, wait};
    /// wait(async {
    ///     let records = Records::open(&place).await?;
    ///     let new = OrderText { id: "sloop", name: "Sloop", text: "becket = 1\n" };
    ///     let order = records.store().add_order(new, &stamp("Ada")?).await?;
    ///     assert_eq!(order.revision, 1);
    ///     records.close().await;
    ///     Ok::<(), desk::Problem>(())
    /// })??;
    /// # Ok::<(), desk::Problem>(())
    /// ```
    pub async fn open(place: &str) -> Result<Records, Problem> {
        Ok(Records { store: Store::open(&Place::parse(place)).await? })
    }

    /// Opens a store that is there already: a mistyped name makes none.
    ///
    /// # Errors
    /// As [`Records::open`], and when there is no such file.
    pub async fn open_existing(place: &str) -> Result<Records, Problem> {
        match Place::parse(place) {
            Place::File(path) if !path.exists() => {
                let why = "there is no such file".to_owned();
                Err(store::Error::Unreachable { place: place.to_owned(), why }.into())
            }
            _ => Records::open(place).await,
        }
    }

    /// The rows.
    #[must_use]
    pub const fn store(&self) -> &Store {
        &self.store
    }

    /// Closes it; a file then stands alone.
    pub async fn close(&self) {
        self.store.close().await;
    }
}

/// The store's refusals in desk's envelope.
impl From<store::Error> for Problem {
    fn from(error: store::Error) -> Problem {
        use store::Error;
        let (fault, code) = match &error {
            Error::Unreachable { .. } => (Fault::Disk, "store-unreachable"),
            Error::NotAStore { .. } => (Fault::File, "not-a-store"),
            Error::Newer { .. } => (Fault::File, "newer-store"),
            Error::Occupied { .. } => (Fault::Refused, "occupied"),
            Error::Unencrypted { .. } => (Fault::Request, "not-encrypted"),
            Error::ReadOnly { .. } => (Fault::Disk, "read-only"),
            Error::Full { .. } => (Fault::Disk, "disk-full"),
            Error::Busy { .. } => (Fault::Disk, "store-busy"),
            Error::Missing { .. } => (Fault::Request, "missing"),
            Error::Taken { .. } => (Fault::Refused, "taken"),
            Error::Changed { .. } => (Fault::Refused, "changed"),
            Error::ReelHeld { .. } => (Fault::Refused, "reel-held"),
            Error::NotFrom { .. } => (Fault::Refused, "not-from-here"),
            Error::Value { .. } => (Fault::Request, "not-allowed"),
            Error::Unreadable { .. } => (Fault::File, "unreadable"),
            Error::Differs { .. } => (Fault::Refused, "copy-differs"),
            Error::File { .. } => (Fault::Disk, "cannot-write"),
            Error::Refused { .. } => (Fault::Refused, "store-refused"),
        };
        Problem::new(fault, code, error.to_string()).hint(error.hint())
    }
}
