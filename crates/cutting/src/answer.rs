//! The cut plan: reel by reel in the order to cut, with marks, goals and proof.
//!
//! Marks run along the reel from its free end. `loss` of a plan is what the
//! plan minimises once every piece is served: scrap + trims + the value of a
//! remnant for each remnant on the rack afterwards. `waste` is what is thrown
//! away or burnt off: scrap + trims + cut losses.

use std::fmt;

use units::Millimetres;

use crate::proof::Certificate;

/// A whole plan over all ropes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// The reels touched, rope by rope, in the order to cut them.
    pub reels: Vec<CutReel>,
    /// Pieces that cannot be cut, with the reason.
    pub uncut: Vec<Uncut>,
    /// Sums over all ropes.
    pub totals: Totals,
    /// Goals over all ropes, first things first.
    pub goals: Vec<Goal>,
    /// The answer rope by rope.
    pub ropes: Vec<RopePlan>,
    /// Whether the caller's stop cut the search short.
    pub interrupted: bool,
}

/// One rope's part of the plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RopePlan {
    /// Rope key.
    pub rope: String,
    /// Sums over this rope.
    pub totals: Totals,
    /// Goals of this rope, first things first.
    pub goals: Vec<Goal>,
    /// What proves the bound on the loss.
    pub certificate: Certificate,
}

/// One reel touched.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutReel {
    /// The reel's name.
    pub reel: String,
    /// Which of the reels alike, from 1.
    pub copy: u32,
    /// Rope key.
    pub rope: String,
    /// Pieces in the order to cut, with their marks.
    pub cuts: Vec<Cut>,
    /// What is left, stretch by stretch.
    pub leftovers: Vec<Leftover>,
}

/// One piece on a reel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cut {
    /// The piece's name.
    pub piece: String,
    /// Mark at its beginning.
    pub from: Millimetres,
    /// Mark at its end; the cut's loss lies beyond it.
    pub to: Millimetres,
}

/// A stretch left over on a touched reel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Leftover {
    /// Where it begins.
    pub from: Millimetres,
    /// Where it ends.
    pub to: Millimetres,
    /// What becomes of it.
    pub becomes: Becomes,
}

/// What becomes of a leftover.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Becomes {
    /// Long enough to go back on the rack.
    Remnant,
    /// Shorter than the smallest remnant: thrown away.
    Scrap,
    /// A sound stretch beyond a flaw that the plan does not touch.
    Untouched,
}

/// A piece that cannot be cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Uncut {
    /// The piece's name.
    pub piece: String,
    /// Why.
    pub why: Why,
}

/// Why a piece stays uncut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// There is no reel of its rope.
    NoReel,
    /// The reels of its rope do not give enough.
    NotEnough,
}

/// Sums of a plan or of one rope's part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Totals {
    /// Rope in the pieces cut.
    pub cut: Millimetres,
    /// Burnt or cut away between pieces.
    pub cut_loss: Millimetres,
    /// Trimmed off free ends.
    pub trim: Millimetres,
    /// Leftovers shorter than the smallest remnant.
    pub scrap: Millimetres,
    /// Scrap, trims and cut losses.
    pub waste: Millimetres,
    /// Remnants on the rack afterwards, untouched ones included.
    pub remnants: u64,
    /// Their length, of those that the plan leaves on touched reels.
    pub remnant_length: Millimetres,
    /// Reels touched.
    pub reels: u64,
    /// Money for bought reels, whole minor units.
    pub money: i64,
}

/// What a goal counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Aim {
    /// Pieces of this due rank that stay uncut, as few as can be.
    Uncut(u32),
    /// Money for bought reels, as little as can be. Minor units.
    Money,
    /// Remnants of a rope on the rack beyond the largest number, as few as can
    /// be. Only where the rules name that number.
    Excess,
    /// Scrap + trims + value of the remnants left, as little as can be. Millimetres.
    Loss,
    /// Reels touched, as few as can be.
    Reels,
    /// The longest remnant left on a touched reel, as long as can be. Millimetres.
    LongestRemnant,
    /// Price of the rope taken off reels of known price, as little as can be.
    /// Thousandths of a minor unit. Only where reels of a rope differ in price.
    Price,
}

/// One goal, reached as far as the value says. Earlier goals are held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Goal {
    /// What it counts.
    pub aim: Aim,
    /// What the plan reaches.
    pub value: i64,
    /// What no plan that holds the earlier goals can beat.
    pub bound: i64,
    /// Whether `value` equals `bound` and the earlier goals are proven.
    pub proven: bool,
}

impl Totals {
    /// Nothing cut.
    pub const NONE: Totals = Totals {
        cut: Millimetres::ZERO,
        cut_loss: Millimetres::ZERO,
        trim: Millimetres::ZERO,
        scrap: Millimetres::ZERO,
        waste: Millimetres::ZERO,
        remnants: 0,
        remnant_length: Millimetres::ZERO,
        reels: 0,
        money: 0,
    };

    /// The sums of two parts.
    #[must_use]
    pub fn and(&self, other: &Totals) -> Totals {
        Totals {
            cut: self.cut + other.cut,
            cut_loss: self.cut_loss + other.cut_loss,
            trim: self.trim + other.trim,
            scrap: self.scrap + other.scrap,
            waste: self.waste + other.waste,
            remnants: self.remnants + other.remnants,
            remnant_length: self.remnant_length + other.remnant_length,
            reels: self.reels + other.reels,
            money: self.money + other.money,
        }
    }
}

impl Plan {
    /// The goal of this kind, if the plan has one.
    #[must_use]
    pub fn goal(&self, aim: Aim) -> Option<&Goal> {
        self.goals.iter().find(|goal| goal.aim == aim)
    }

    /// Whether no plan can serve more, cost less or lose less. The goals after
    /// the loss do not count here.
    #[must_use]
    pub fn proven_least_waste(&self) -> bool {
        self.goals.iter().filter(|goal| goal.aim <= Aim::Loss).all(|goal| goal.proven)
    }

    /// How far the loss may be from the best. Millimetres.
    #[must_use]
    pub fn gap(&self) -> Millimetres {
        self.goal(Aim::Loss).map_or(Millimetres::ZERO, |goal| Millimetres::new(goal.value - goal.bound))
    }
}

impl fmt::Display for Aim {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Aim::Uncut(rank) => write!(f, "pieces of rank {rank} left uncut"),
            Aim::Money => f.write_str("money for rope to buy"),
            Aim::Excess => f.write_str("remnants beyond the largest number"),
            Aim::Loss => f.write_str("rope lost"),
            Aim::Reels => f.write_str("reels touched"),
            Aim::LongestRemnant => f.write_str("longest remnant left"),
            Aim::Price => f.write_str("price of the rope taken"),
        }
    }
}

impl fmt::Display for Why {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Why::NoReel => "no reel of its rope",
            Why::NotEnough => "not enough rope",
        })
    }
}

impl fmt::Display for Becomes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Becomes::Remnant => "remnant",
            Becomes::Scrap => "scrap",
            Becomes::Untouched => "untouched",
        })
    }
}
