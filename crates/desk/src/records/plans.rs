//! A cut plan confirmed: from the plan's answer to reels cut and pieces made.

use super::Records;
use super::rack::{flaws_of, flaws_text};
use crate::cut::CutAnswer;
use crate::problem::Problem;
use crate::taken::ReelTaken;
use std::collections::BTreeMap;
use store::{Cut, LeftAs, NewPlan, PieceFacts, Plan, PlanReel, PlanRemnant, Reel, Stamp, rack_fingerprint};

/// What is known of a piece that a plan cuts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceOf {
    /// The order's id in the store.
    pub order: Option<String>,
    /// The boat.
    pub boat: String,
    /// Its bench card as JSON; `{}` where there is none yet.
    pub card: String,
}

impl Records {
    /// Keeps a plan that was made from [`Records::rack_file`], under an id.
    ///
    /// # Errors
    /// When the id is taken, or a reel is not on the rack.
    pub async fn keep_plan(
        &self,
        id: &str,
        answer: &CutAnswer,
        pieces: &BTreeMap<String, PieceOf>,
        stamp: &Stamp,
    ) -> Result<Plan, Problem> {
        let rack = self.store().rack().await?;
        let names: BTreeMap<&str, &str> = answer
            .cuts
            .iter()
            .flat_map(|reel| &reel.pieces)
            .map(|piece| (piece.piece.as_str(), piece.name.as_str()))
            .collect();
        let mut new = NewPlan {
            id: id.to_owned(),
            rack: rack_fingerprint(&rack),
            answer: serde_json::to_string(answer).map_err(|why| {
                Problem::refused("cannot-write", format!("the plan cannot be written as JSON: {why}"))
            })?,
            note: answer.verdict.clone(),
            reels: Vec::new(),
            cuts: Vec::new(),
            remnants: Vec::new(),
        };
        for taken in answer.taken.iter().filter(|taken| !taken.pieces.is_empty()) {
            let reel = rack.iter().find(|reel| reel.id == taken.reel).ok_or_else(|| {
                Problem::refused("reel-held", format!("reel {:?} is not on the rack", taken.reel))
                    .hint("make the plan again from the rack as it is now")
            })?;
            new.reels.push(part(reel, taken));
            new.remnants.extend(off_cuts(reel, taken));
            for (index, (piece, from, to)) in taken.pieces.iter().enumerate() {
                new.cuts.push(Cut {
                    plan: String::new(),
                    reel: reel.id.clone(),
                    position: i64::try_from(index).unwrap_or(i64::MAX).saturating_add(1),
                    length_mm: to - from,
                    loss_mm: loss(taken, index),
                    piece: piece.clone(),
                    order_id: pieces.get(piece).and_then(|of| of.order.clone()),
                    line: names.get(piece.as_str()).copied().unwrap_or_default().to_owned(),
                });
            }
        }
        Ok(self.store().make_plan(&new, stamp).await?)
    }

    /// Cuts a kept plan, in one transaction: reels become what is left of
    /// them and pieces get their records.
    ///
    /// # Errors
    /// When a reel is not as the plan saw it or is somebody else's.
    pub async fn confirm_plan(
        &self,
        id: &str,
        pieces: &BTreeMap<String, PieceOf>,
        stamp: &Stamp,
    ) -> Result<Plan, Problem> {
        let plan = self.store().plan(id).await?;
        let facts: Vec<PieceFacts> = plan.cuts.iter().map(|cut| facts(cut, pieces.get(&cut.piece))).collect();
        Ok(self.store().confirm_plan(id, &facts, stamp).await?)
    }
}

fn facts(cut: &Cut, of: Option<&PieceOf>) -> PieceFacts {
    PieceFacts {
        code: cut.piece.clone(),
        boat: of.map(|of| of.boat.clone()).unwrap_or_default(),
        purpose: cut.line.clone(),
        card: of.map_or_else(|| "{}".to_owned(), |of| of.card.clone()),
        note: String::new(),
    }
}

/// The reel after the plan: shorter, its flaws counted from the new free end.
fn part(reel: &Reel, taken: &ReelTaken) -> PlanReel {
    let from = taken.rest_from_mm();
    let kept = taken.leftovers.iter().any(|(begins, _, kept)| *kept && *begins >= from);
    let flaws: Vec<(i64, i64)> = flaws_of(&reel.flaws)
        .into_iter()
        .filter(|flaw| kept && flaw.0 >= from)
        .map(|flaw| (flaw.0 - from, flaw.1 - from))
        .collect();
    PlanReel {
        plan: String::new(),
        reel: reel.id.clone(),
        seen_mm: taken.seen_mm,
        left_mm: taken.seen_mm - from,
        left_as: if kept { LeftAs::Remnant } else { LeftAs::Spoiled },
        seen_flaws: reel.flaws.clone(),
        left_flaws: flaws_text(&flaws),
        seen_kind: reel.kind,
    }
}

/// Stretches before the last cut that are worth keeping: they come off the
/// reel, and become reels of their own.
fn off_cuts(reel: &Reel, taken: &ReelTaken) -> Vec<PlanRemnant> {
    let from = taken.rest_from_mm();
    let before = taken.leftovers.iter().filter(|(begins, _, kept)| *kept && *begins < from);
    before
        .enumerate()
        .map(|(index, (begins, ends, _))| PlanRemnant {
            plan: String::new(),
            reel: reel.id.clone(),
            id: format!("{}-{}-{}", reel.id, reel.revision, index + 1),
            length_mm: ends - begins,
        })
        .collect()
}

/// What the cut behind a piece costs: up to whatever comes next.
fn loss(taken: &ReelTaken, index: usize) -> i64 {
    let Some((_, _, to)) = taken.pieces.get(index) else { return 0 };
    let next = taken.pieces.get(index + 1).map(|piece| piece.1);
    let left = taken.leftovers.iter().map(|left| left.0).filter(|from| from >= to).min();
    let flaw = taken.flaws.iter().map(|flaw| flaw.0).filter(|from| from >= to).min();
    [next, left, flaw].into_iter().flatten().min().map_or(0, |next| next - to)
}
