//! What is to be cut and from what: pieces, reels and the loft's rules.
//!
//! Everything is a whole number of millimetres. Each rope (article, diameter
//! and colour together) is a problem of its own; [`crate::plan`] splits a job
//! by rope and adds the answers up. Not covered: dates, which the caller turns
//! into due ranks, and currencies, which stay whole minor units here.

use units::Millimetres;

/// Longest length accepted anywhere. Millimetres (100 km).
pub const LONGEST: Millimetres = Millimetres::new(100_000_000);
/// Most pieces in one job.
pub const MOST_PIECES: usize = 100_000;
/// Most reels in one job, counting alike ones.
pub const MOST_REELS: u64 = 1_000_000;
/// Most flaws on one reel.
pub const MOST_FLAWS: usize = 1_000;

/// One cutting task: pieces, the rack and the loft's rules.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Job {
    /// The pieces wanted, each once.
    pub pieces: Vec<Piece>,
    /// The reels on the rack and those a supplier offers.
    pub reels: Vec<Reel>,
    /// The loft's rules.
    pub rules: Rules,
}

/// The loft's rules for cutting.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rules {
    /// Rope lost at each cut. The last cut of a reel loses at most what is left.
    pub loss_per_cut: Millimetres,
    /// Rope cut off the free end of a reel before its first piece, its cut included.
    pub trim: Millimetres,
    /// Shortest leftover that goes back on the rack; shorter is scrap.
    pub smallest_remnant: Millimetres,
    /// What one more remnant on the rack costs, as length of rope spoiled.
    /// `None`: the smallest remnant.
    pub remnant_value: Option<Millimetres>,
    /// Most remnants of one rope that are to be on the rack afterwards; `None`:
    /// any number. Where it cannot be kept, it is exceeded by as few as can be.
    pub most_remnants: Option<u64>,
}

/// One piece of rope to cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// Unique name.
    pub id: String,
    /// Rope key: article, diameter and colour.
    pub rope: String,
    /// Cut length without the piece's own end allowance.
    pub length: Millimetres,
    /// This piece's own end allowance, cut with it.
    pub allowance: Millimetres,
    /// Due rank: lower is served first when rope is short.
    pub rank: u32,
    /// Pieces that share this name are cut next to each other from one sound
    /// stretch of one reel (a port and starboard pair), or not at all.
    pub same_reel: Option<String>,
    /// Pieces that share this name come from reels of one batch.
    pub same_batch: Option<String>,
}

/// One reel, or several alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reel {
    /// Unique name.
    pub id: String,
    /// Rope key, as the pieces name it.
    pub rope: String,
    /// Maker's batch. `None`: unknown, so that two such reels never count as one batch.
    pub batch: Option<String>,
    /// Length on the reel.
    pub length: Millimetres,
    /// How many alike.
    pub count: u32,
    /// Where it is.
    pub origin: Origin,
    /// Price of a metre, in whole minor units; `None`: not known. Of reels
    /// alike in all else the cheaper is cut.
    pub price_per_metre: Option<i64>,
    /// Stretches that may not be used.
    pub flaws: Vec<Flaw>,
}

/// Where a reel is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// A full reel on the rack.
    Rack,
    /// A remnant on the rack: using it up clears the rack by one.
    Remnant,
    /// Offered by a supplier, at this price in whole minor units for the reel.
    Supplier {
        /// Price of one reel, not negative.
        price: i64,
    },
}

/// A stretch that may not be used, measured from the free end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Flaw {
    /// Where it begins.
    pub from: Millimetres,
    /// Where it ends.
    pub to: Millimetres,
}

impl Rules {
    /// No loss, no trim, and leftovers from `smallest_remnant` kept.
    #[must_use]
    pub fn keeping(smallest_remnant: Millimetres) -> Self {
        Rules {
            loss_per_cut: Millimetres::ZERO,
            trim: Millimetres::ZERO,
            smallest_remnant,
            remnant_value: None,
            most_remnants: None,
        }
    }

    /// What one more remnant on the rack costs.
    #[must_use]
    pub fn value_of_a_remnant(&self) -> Millimetres {
        self.remnant_value.unwrap_or(self.smallest_remnant)
    }
}

impl Piece {
    /// A plain piece: no allowance, no set, the first due rank.
    #[must_use]
    pub fn new(id: impl Into<String>, rope: impl Into<String>, length: Millimetres) -> Self {
        Piece {
            id: id.into(),
            rope: rope.into(),
            length,
            allowance: Millimetres::ZERO,
            rank: 0,
            same_reel: None,
            same_batch: None,
        }
    }

    /// Rope that the piece takes off the reel, without the cut's loss.
    #[must_use]
    pub fn cut_length(&self) -> Millimetres {
        self.length + self.allowance
    }
}

impl Reel {
    /// A full, sound reel on the rack.
    #[must_use]
    pub fn new(id: impl Into<String>, rope: impl Into<String>, length: Millimetres) -> Self {
        Reel {
            id: id.into(),
            rope: rope.into(),
            batch: None,
            length,
            count: 1,
            origin: Origin::Rack,
            price_per_metre: None,
            flaws: Vec::new(),
        }
    }
}
