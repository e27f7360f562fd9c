//! Pieces from reels with proven least waste, in whole millimetres.
//!
//! [`plan`] takes the pieces, the rack and the loft's rules and says which
//! reel each piece is cut from, in which order and at which marks, what is
//! left over, and how far from the best any plan could be. [`check`] walks a
//! plan with none of the solver's code.
//!
//! Goals in order, each with the earlier ones held: pieces served by due rank,
//! money for bought reels, remnants beyond the largest number, rope lost
//! (scrap, trims and the value of each remnant left on the rack), reels
//! touched, the longest remnant, the price of the rope taken. With the
//! smallest remnant longer than every reel and equal reels, the least loss is
//! the fewest reels: classic bin packing.
//!
//! Not covered: dates (ranks come in), money beyond the price of a reel, and
//! the order of cutting among reels of one rank.

#![cfg_attr(test, allow(clippy::unwrap_used, clippy::expect_used, clippy::panic))]

mod answer;
mod assemble;
mod batches;
mod bits;
mod bounds;
mod case;
mod chance;
mod check;
mod columns;
mod dive;
mod enumerate;
mod fill;
mod finish;
mod goals;
mod ladder;
mod mend;
mod mistake;
mod model;
mod modes;
mod plan;
mod pricing;
mod proof;
mod quick;
mod rack;
mod remnants;
mod settings;
mod shelf;
mod simplex;
mod solve;
mod stages;
mod stretches;
mod weigh;

pub use answer::{Aim, Becomes, Cut, CutReel, Goal, Leftover, Plan, RopePlan, Totals, Uncut, Why};
pub use check::{Fault, check};
pub use mistake::{HIGHEST_PRICE, HIGHEST_PRICE_OF_A_METRE, Mistake, Refused, mistakes};
pub use model::{Flaw, Job, LONGEST, MOST_FLAWS, MOST_PIECES, MOST_REELS, Origin, Piece, Reel, Rules};
pub use plan::plan;
pub use proof::{Certificate, Prices};
pub use rack::{RackMoved, RackStep, fingerprint, step_of};
pub use settings::{Progress, Settings};
