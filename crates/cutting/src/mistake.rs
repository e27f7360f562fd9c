//! What is wrong with a job before anything is planned.
//!
//! All mistakes are found in one pass; each names the piece or reel, what was
//! given and what is allowed. Rope that merely runs short is no mistake: the
//! plan then says which pieces stay uncut.

use std::collections::{HashMap, HashSet};

use thiserror::Error;
use units::Millimetres;

use crate::model::{Job, LONGEST, MOST_FLAWS, MOST_PIECES, MOST_REELS, Origin, Piece, Reel};

/// A job refused, with every mistake found.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("{}", self.mistakes.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))]
pub struct Refused {
    /// At least one.
    pub mistakes: Vec<Mistake>,
}

/// One mistake in a job.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[expect(missing_docs, reason = "each variant's message says what its fields are")]
pub enum Mistake {
    #[error("{given} pieces in one job, at most {MOST_PIECES} allowed")]
    TooManyPieces { given: usize },
    #[error("{given} reels in one job, at most {MOST_REELS} allowed")]
    TooManyReels { given: u64 },
    #[error("piece \"{id}\" is listed twice")]
    PieceTwice { id: String },
    #[error("reel \"{id}\" is listed twice")]
    ReelTwice { id: String },
    #[error("piece \"{id}\" is {given} long, a piece must be longer than 0 mm")]
    PieceNotPositive { id: String, given: Millimetres },
    #[error("piece \"{id}\" has an end allowance of {given}, it may not be negative")]
    AllowanceNegative { id: String, given: Millimetres },
    #[error("reel \"{id}\" is {given} long, a reel must be longer than 0 mm")]
    ReelNotPositive { id: String, given: Millimetres },
    #[error("reel \"{id}\" has a supply of 0, leave it out or give at least 1")]
    NoSupply { id: String },
    #[error("reel \"{id}\" has a price of {given}, it may not be negative nor above {HIGHEST_PRICE} minor units")]
    PriceOutOfRange { id: String, given: i64 },
    #[error(
        "reel \"{id}\" has a price of {given} a metre, it may not be negative nor above {HIGHEST_PRICE_OF_A_METRE} minor units"
    )]
    PriceOfAMetre { id: String, given: i64 },
    #[error("{what} is {given}, at most {LONGEST} allowed")]
    TooLong { what: String, given: Millimetres },
    #[error("{what} is {given}, it may not be negative")]
    RuleNegative { what: &'static str, given: Millimetres },
    #[error(
        "reel \"{id}\" has a flaw from {from} to {to}, it must lie within the reel's {length} and end after it begins"
    )]
    FlawOutside { id: String, from: Millimetres, to: Millimetres, length: Millimetres },
    #[error("reel \"{id}\" is offered by a supplier and has flaws, an offer must be sound")]
    OfferWithFlaws { id: String },
    #[error("reel \"{id}\" has {given} flaws, at most {MOST_FLAWS} allowed")]
    TooManyFlaws { id: String, given: usize },
    #[error("piece \"{id}\" needs {needs}, the longest sound stretch of \"{rope}\" is {longest}")]
    PieceLongerThanEveryReel { id: String, rope: String, needs: Millimetres, longest: Millimetres },
    #[error("set \"{set}\" needs {needs} from one reel, the longest sound stretch of \"{rope}\" is {longest}")]
    SetLongerThanEveryReel { set: String, rope: String, needs: Millimetres, longest: Millimetres },
    #[error("set \"{set}\" names pieces of \"{one}\" and of \"{other}\", a set is of one rope")]
    SetOfTwoRopes { set: String, one: String, other: String },
}

/// Highest price of one reel. Minor units.
pub const HIGHEST_PRICE: i64 = 1_000_000_000;
/// Highest price of a metre, so that every sum stays exact. Minor units.
pub const HIGHEST_PRICE_OF_A_METRE: i64 = 100_000;

/// Every mistake in a job, in the order of the rules, pieces and reels.
#[must_use]
pub fn mistakes(job: &Job) -> Vec<Mistake> {
    let mut found = Vec::new();
    let reels = job.reels.iter().map(|reel| u64::from(reel.count)).sum::<u64>();
    if job.pieces.len() > MOST_PIECES {
        found.push(Mistake::TooManyPieces { given: job.pieces.len() });
    }
    if reels > MOST_REELS {
        found.push(Mistake::TooManyReels { given: reels });
    }
    if !found.is_empty() {
        return found;
    }
    in_rules(job, &mut found);
    in_pieces(&job.pieces, &mut found);
    in_reels(&job.reels, &mut found);
    in_sets(&job.pieces, &mut found);
    if found.is_empty() {
        in_fit(job, &mut found);
    }
    found
}

fn in_rules(job: &Job, found: &mut Vec<Mistake>) {
    let rules = &job.rules;
    let value = rules.value_of_a_remnant();
    for (what, given) in [
        ("the loss per cut", rules.loss_per_cut),
        ("the trim of a reel's end", rules.trim),
        ("the smallest remnant", rules.smallest_remnant),
        ("the value of a remnant", value),
    ] {
        if given < Millimetres::ZERO {
            found.push(Mistake::RuleNegative { what, given });
        } else if given > LONGEST {
            found.push(Mistake::TooLong { what: what.to_owned(), given });
        }
    }
}

fn in_pieces(pieces: &[Piece], found: &mut Vec<Mistake>) {
    let mut names = HashSet::new();
    for piece in pieces {
        let id = piece.id.clone();
        if !names.insert(&piece.id) {
            found.push(Mistake::PieceTwice { id: id.clone() });
        }
        if piece.length <= Millimetres::ZERO {
            found.push(Mistake::PieceNotPositive { id: id.clone(), given: piece.length });
        } else if piece.allowance < Millimetres::ZERO {
            found.push(Mistake::AllowanceNegative { id, given: piece.allowance });
        } else if piece.length > LONGEST || piece.allowance > LONGEST || piece.cut_length() > LONGEST {
            let given = piece.length.max(piece.allowance);
            found.push(Mistake::TooLong { what: format!("piece \"{id}\""), given });
        }
    }
}

fn in_reels(reels: &[Reel], found: &mut Vec<Mistake>) {
    let mut names = HashSet::new();
    for reel in reels {
        let id = reel.id.clone();
        if !names.insert(&reel.id) {
            found.push(Mistake::ReelTwice { id: id.clone() });
        }
        if reel.length <= Millimetres::ZERO {
            found.push(Mistake::ReelNotPositive { id: id.clone(), given: reel.length });
        } else if reel.length > LONGEST {
            found.push(Mistake::TooLong { what: format!("reel \"{id}\""), given: reel.length });
        }
        if reel.count == 0 {
            found.push(Mistake::NoSupply { id: id.clone() });
        }
        if let Origin::Supplier { price } = reel.origin
            && !(0..=HIGHEST_PRICE).contains(&price)
        {
            found.push(Mistake::PriceOutOfRange { id: id.clone(), given: price });
        }
        if let Some(given) = reel.price_per_metre.filter(|price| !(0..=HIGHEST_PRICE_OF_A_METRE).contains(price)) {
            found.push(Mistake::PriceOfAMetre { id: id.clone(), given });
        }
        if matches!(reel.origin, Origin::Supplier { .. }) && !reel.flaws.is_empty() {
            found.push(Mistake::OfferWithFlaws { id: id.clone() });
        }
        if reel.flaws.len() > MOST_FLAWS {
            found.push(Mistake::TooManyFlaws { id: id.clone(), given: reel.flaws.len() });
        }
        for flaw in &reel.flaws {
            if flaw.from < Millimetres::ZERO || flaw.to <= flaw.from || flaw.to > reel.length {
                let (from, to, length) = (flaw.from, flaw.to, reel.length);
                found.push(Mistake::FlawOutside { id: id.clone(), from, to, length });
            }
        }
    }
}

/// Sets of one reel or batch must be of one rope.
fn in_sets(pieces: &[Piece], found: &mut Vec<Mistake>) {
    for set_of in [|piece: &Piece| piece.same_reel.clone(), |piece: &Piece| piece.same_batch.clone()] {
        let mut ropes: HashMap<String, &str> = HashMap::new();
        let mut said = HashSet::new();
        for piece in pieces {
            let Some(set) = set_of(piece) else { continue };
            let one = *ropes.entry(set.clone()).or_insert(&piece.rope);
            if one != piece.rope && said.insert(set.clone()) {
                found.push(Mistake::SetOfTwoRopes { set, one: one.to_owned(), other: piece.rope.clone() });
            }
        }
    }
}

/// Pieces and sets that no reel of their rope could give, where there is one.
fn in_fit(job: &Job, found: &mut Vec<Mistake>) {
    let mut longest: HashMap<&str, Millimetres> = HashMap::new();
    for reel in &job.reels {
        let of_this = crate::stretches::sound_stretches(reel, job.rules.trim);
        let best = of_this.iter().map(|&(from, to)| Millimetres::new(to - from)).max().unwrap_or(Millimetres::ZERO);
        let so_far = longest.entry(&reel.rope).or_insert(best);
        *so_far = best.max(*so_far);
    }
    let mut sets: HashMap<&str, (&Piece, Millimetres)> = HashMap::new();
    let mut order = Vec::new();
    for piece in &job.pieces {
        let Some(&longest) = longest.get(piece.rope.as_str()) else { continue };
        if piece.cut_length() > longest {
            let (id, rope) = (piece.id.clone(), piece.rope.clone());
            found.push(Mistake::PieceLongerThanEveryReel { id, rope, needs: piece.cut_length(), longest });
        }
        if let Some(set) = &piece.same_reel {
            let needs = sets.entry(set).or_insert_with(|| {
                order.push(set.as_str());
                (piece, Millimetres::ZERO - job.rules.loss_per_cut)
            });
            needs.1 = needs.1 + piece.cut_length() + job.rules.loss_per_cut;
        }
    }
    if !found.is_empty() {
        return;
    }
    for set in order {
        let (piece, needs) = sets[set];
        let Some(&longest) = longest.get(piece.rope.as_str()) else { continue };
        if needs > longest {
            let (set, rope) = (set.to_owned(), piece.rope.clone());
            found.push(Mistake::SetLongerThanEveryReel { set, rope, needs, longest });
        }
    }
}
