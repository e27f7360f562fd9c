//! Cut plans: made, reserved, confirmed, taken back.
//!
//! A plan says of each reel how long it was and what it leaves of it. To
//! reserve or confirm it, every one of its reels is taken in hand in one
//! transaction, in the order of their labels, and must still be as the plan
//! saw it and in nobody else's hands; else nothing changes and the answer
//! names the reel. So two benches never cut the same rope, on either
//! database.
//!
//! Confirming cuts: reels become what is left of them, and each cut's piece
//! gets its record, in that same transaction. Taking back undoes it, as long
//! as no reel has been cut again and no piece has been made up.

use crate::Store;
use crate::cell::Cell;
use crate::error::Error;
use crate::pieces::{Piece, PieceFacts, PieceState};
use crate::record::{record, words};
use crate::reels::{Reel, ReelKind, ReelState};
use crate::stamp::Stamp;
use crate::work::Work;
use std::collections::BTreeMap;

words! {
    /// How far a plan is.
    PlanState {
        /// Proposed.
        "made" => Made,
        /// Its reels are kept for it.
        "reserved" => Reserved,
        /// It was cut.
        "confirmed" => Confirmed,
        /// It was cut, and that was undone.
        "taken_back" => TakenBack,
        /// It was never cut and never will be.
        "dropped" => Dropped,
    }

}

words! {
    /// What becomes of what a plan leaves on a reel.
    LeftAs {
        /// It stays in the rack.
        "remnant" => Remnant,
        /// It is too short to keep.
        "spoiled" => Spoiled,
    }
}

record! {
    /// A cut plan.
    Plan "plan" in "plans" by [id] {
        /// Its name in links.
        id: String,
        /// How far it is.
        state: PlanState,
        /// The fingerprint of the rack it was made from.
        rack: String,
        /// The whole answer, JSON.
        answer: String,
        /// Anything else.
        note: String,
        /// How often it has changed; 1 at first.
        revision: i64,
        /// When it was made.
        made_at: String,
        /// Who made it.
        made_by: String,
        /// When it changed last.
        at: String,
        /// Who changed it last.
        who: String,
    }
}

record! {
    /// What a plan does to one reel.
    PlanReel "reel of a plan" in "plan_reels" by [plan, reel] {
        /// The plan.
        plan: String,
        /// The reel.
        reel: String,
        /// How much was on it when the plan was made, whole millimetres.
        seen_mm: i64,
        /// How much the plan leaves, whole millimetres.
        left_mm: i64,
        /// What becomes of that.
        left_as: LeftAs,
        /// The reel's flaws when the plan was made.
        seen_flaws: String,
        /// The flaws that are left on it, counted from its new free end.
        left_flaws: String,
        /// Whether the reel had been cut before the plan was made.
        seen_kind: ReelKind,
    }
}

record! {
    /// An off-cut from between flaws or pieces that is worth keeping: it
    /// becomes a reel of its own.
    PlanRemnant "remnant of a plan" in "plan_remnants" by [plan, id] {
        /// The plan.
        plan: String,
        /// The reel it comes from.
        reel: String,
        /// The label that it gets.
        id: String,
        /// Its length, whole millimetres.
        length_mm: i64,
    }
}

record! {
    /// One cut of a plan.
    Cut "cut" in "cuts" by [plan, reel, position] {
        /// The plan.
        plan: String,
        /// The reel.
        reel: String,
        /// Which cut from the reel's free end, from 1.
        position: i64,
        /// What is cut off, whole millimetres.
        length_mm: i64,
        /// What the cut itself costs, whole millimetres.
        loss_mm: i64,
        /// The code that its piece gets.
        piece: String,
        /// The order it is for.
        order_id: Option<String>,
        /// The line it becomes.
        line: String,
    }
}

/// A plan to be kept. The `plan` field of its reels and cuts is not looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewPlan {
    /// Its name in links.
    pub id: String,
    /// The fingerprint of the rack it was made from.
    pub rack: String,
    /// The whole answer, JSON.
    pub answer: String,
    /// Anything else.
    pub note: String,
    /// What it does to each reel.
    pub reels: Vec<PlanReel>,
    /// Its cuts.
    pub cuts: Vec<Cut>,
    /// Off-cuts that become reels of their own.
    pub remnants: Vec<PlanRemnant>,
}

/// A plan with its reels and cuts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WholePlan {
    /// The plan.
    pub plan: Plan,
    /// Its reels, by label.
    pub reels: Vec<PlanReel>,
    /// Its cuts, by reel and position.
    pub cuts: Vec<Cut>,
    /// Off-cuts that become reels of their own.
    pub remnants: Vec<PlanRemnant>,
}

impl Store {
    /// Keeps a plan; nothing on the rack changes.
    ///
    /// # Errors
    /// [`Error::Taken`]; [`Error::Value`] when cuts and rest are more than is
    /// on a reel; [`Error::Refused`] for a reel that is not known.
    pub async fn make_plan(&self, new: &NewPlan, stamp: &Stamp) -> Result<Plan, Error> {
        check_sums(new)?;
        let plan = Plan {
            id: new.id.clone(),
            state: PlanState::Made,
            rack: new.rack.clone(),
            answer: new.answer.clone(),
            note: new.note.clone(),
            revision: 1,
            made_at: stamp.at().to_owned(),
            made_by: stamp.who().to_owned(),
            at: stamp.at().to_owned(),
            who: stamp.who().to_owned(),
        };
        let mut work = self.writing().await?;
        work.insert(stamp, &plan).await?;
        for reel in &new.reels {
            work.put(&PlanReel { plan: new.id.clone(), ..reel.clone() }).await?;
        }
        for cut in &new.cuts {
            work.put(&Cut { plan: new.id.clone(), ..cut.clone() }).await?;
        }
        for remnant in &new.remnants {
            work.put(&PlanRemnant { plan: new.id.clone(), ..remnant.clone() }).await?;
        }
        work.commit().await?;
        Ok(plan)
    }

    /// Keeps a made plan's reels for it, all or none.
    ///
    /// # Errors
    /// [`Error::ReelHeld`], [`Error::NotFrom`], [`Error::Missing`].
    pub async fn reserve_plan(&self, id: &str, stamp: &Stamp) -> Result<Plan, Error> {
        let mut work = self.writing().await?;
        let before = hold_plan(&mut work, id, &[PlanState::Made], "reserved").await?;
        for part in plan_reels(&mut work, id).await? {
            let reel = hold_reel(&mut work, &part).await?;
            let after = Reel { state: ReelState::Reserved, plan: Some(id.to_owned()), ..reel.clone() }.changed(stamp);
            work.replace(stamp, &reel, &after).await?;
        }
        finish(work, &before, PlanState::Reserved, stamp).await
    }

    /// Gives a reserved plan's reels back; the plan is a made one again.
    ///
    /// # Errors
    /// [`Error::NotFrom`], [`Error::Missing`].
    pub async fn release_plan(&self, id: &str, stamp: &Stamp) -> Result<Plan, Error> {
        let mut work = self.writing().await?;
        let before = hold_plan(&mut work, id, &[PlanState::Reserved], "released").await?;
        for part in plan_reels(&mut work, id).await? {
            let reel = hold_reel(&mut work, &part).await?;
            let after = Reel { state: ReelState::Free, plan: None, ..reel.clone() }.changed(stamp);
            work.replace(stamp, &reel, &after).await?;
        }
        finish(work, &before, PlanState::Made, stamp).await
    }

    /// Puts a plan that was not cut aside for good.
    ///
    /// # Errors
    /// [`Error::NotFrom`], [`Error::Missing`].
    pub async fn drop_plan(&self, id: &str, stamp: &Stamp) -> Result<Plan, Error> {
        let mut work = self.writing().await?;
        let before = hold_plan(&mut work, id, &[PlanState::Made], "dropped").await?;
        finish(work, &before, PlanState::Dropped, stamp).await
    }

    /// Cuts a plan: its reels become what is left of them and its pieces get
    /// their records. `pieces` has the facts of each cut's piece, by code.
    ///
    /// # Errors
    /// [`Error::ReelHeld`] when a reel is not as the plan saw it, or is
    /// somebody else's; [`Error::NotFrom`]; [`Error::Taken`] for a piece's
    /// code; [`Error::Value`] when pieces and cuts do not match.
    pub async fn confirm_plan(&self, id: &str, pieces: &[PieceFacts], stamp: &Stamp) -> Result<Plan, Error> {
        let mut work = self.writing().await?;
        let before = hold_plan(&mut work, id, &[PlanState::Made, PlanState::Reserved], "confirmed").await?;
        let cuts: Vec<Cut> = work.list(BY_PLAN_CUT, &[Cell::text(id)]).await?;
        check_pieces(&cuts, pieces)?;
        let remnants = plan_remnants(&mut work, id).await?;
        for part in plan_reels(&mut work, id).await? {
            let reel = hold_reel(&mut work, &part).await?;
            work.replace(stamp, &reel, &cut_off(&reel, &part).changed(stamp)).await?;
            for remnant in remnants.iter().filter(|remnant| remnant.reel == reel.id) {
                work.insert(stamp, &off_cut(&reel, remnant, stamp)).await?;
            }
            for cut in cuts.iter().filter(|cut| cut.reel == reel.id) {
                let facts = pieces.iter().find(|facts| facts.code == cut.piece);
                if let Some(facts) = facts {
                    work.insert(stamp, &piece_of(cut, &reel, facts, stamp)).await?;
                }
            }
        }
        finish(work, &before, PlanState::Confirmed, stamp).await
    }

    /// Undoes a confirmed plan.
    ///
    /// # Errors
    /// [`Error::ReelHeld`] when a reel has been cut or corrected since;
    /// [`Error::NotFrom`] when a piece has been made up.
    pub async fn take_back_plan(&self, id: &str, stamp: &Stamp) -> Result<Plan, Error> {
        let mut work = self.writing().await?;
        let before = hold_plan(&mut work, id, &[PlanState::Confirmed], "taken back").await?;
        for part in plan_reels(&mut work, id).await? {
            let reel: Reel = work.hold(&[Cell::text(&part.reel)]).await?;
            let left = cut_off(&Reel { length_mm: part.seen_mm, ..reel.clone() }, &part);
            if (left.length_mm, left.state) != (reel.length_mm, reel.state) {
                return Err(held(&part, "it has been cut or corrected since"));
            }
            let flaws = part.seen_flaws.clone();
            let (length_mm, kind) = (part.seen_mm, part.seen_kind);
            let after = Reel { length_mm, state: ReelState::Free, plan: None, flaws, kind, ..reel.clone() };
            work.replace(stamp, &reel, &after.changed(stamp)).await?;
        }
        for remnant in plan_remnants(&mut work, id).await? {
            let reel: Reel = work.hold(&[Cell::text(&remnant.id)]).await?;
            if (reel.length_mm, reel.state) != (remnant.length_mm, ReelState::Free) {
                let why = "it has been cut or corrected since".to_owned();
                return Err(Error::ReelHeld { reel: reel.id, plan: id.to_owned(), why });
            }
            let after = Reel { length_mm: 0, state: ReelState::UsedUp, ..reel.clone() }.changed(stamp);
            work.replace(stamp, &reel, &after).await?;
        }
        let pieces: Vec<Piece> = work.list("WHERE plan = $1 ORDER BY code", &[Cell::text(id)]).await?;
        for piece in pieces {
            let piece: Piece = work.hold(&[Cell::text(&piece.code)]).await?;
            if piece.state != PieceState::Cut {
                let state = piece.state.word();
                return Err(Error::NotFrom { kind: "piece", id: piece.code, state, wanted: "taken back" });
            }
            let after = Piece { state: PieceState::TakenBack, ..piece.clone() }.changed(stamp);
            work.replace(stamp, &piece, &after).await?;
        }
        finish(work, &before, PlanState::TakenBack, stamp).await
    }

    /// A plan with its reels and cuts.
    ///
    /// # Errors
    /// [`Error::Missing`].
    pub async fn plan(&self, id: &str) -> Result<WholePlan, Error> {
        let mut work = self.reading().await?;
        let plan = work.find(&[Cell::text(id)]).await?;
        let plan = plan.ok_or_else(|| Error::Missing { kind: "plan", id: id.to_owned() })?;
        let reels = plan_reels(&mut work, id).await?;
        let cuts = work.list(BY_PLAN_CUT, &[Cell::text(id)]).await?;
        let remnants = plan_remnants(&mut work, id).await?;
        Ok(WholePlan { plan, reels, cuts, remnants })
    }

    /// All plans, the latest made first, at most `most`.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn plans(&self, most: u32) -> Result<Vec<Plan>, Error> {
        let cells = [Cell::whole(i64::from(most))];
        self.reading().await?.list("ORDER BY made_at DESC, id DESC LIMIT $1", &cells).await
    }
}

const BY_PLAN_CUT: &str = "WHERE plan = $1 ORDER BY reel, position";

async fn plan_reels(work: &mut Work, id: &str) -> Result<Vec<PlanReel>, Error> {
    work.list("WHERE plan = $1 ORDER BY reel", &[Cell::text(id)]).await
}

async fn plan_remnants(work: &mut Work, id: &str) -> Result<Vec<PlanRemnant>, Error> {
    work.list("WHERE plan = $1 ORDER BY id", &[Cell::text(id)]).await
}

async fn hold_plan(work: &mut Work, id: &str, from: &[PlanState], wanted: &'static str) -> Result<Plan, Error> {
    let plan: Plan = work.hold(&[Cell::text(id)]).await?;
    if from.contains(&plan.state) {
        return Ok(plan);
    }
    Err(Error::NotFrom { kind: "plan", id: id.to_owned(), state: plan.state.word(), wanted })
}

/// A plan's reel, in hand: as the plan saw it, and free or the plan's own.
async fn hold_reel(work: &mut Work, part: &PlanReel) -> Result<Reel, Error> {
    let reel: Reel = work.hold(&[Cell::text(&part.reel)]).await?;
    match (reel.state, reel.plan.as_deref()) {
        (ReelState::Free, _) => {}
        (ReelState::Reserved, Some(plan)) if plan == part.plan => {}
        (ReelState::Reserved, plan) => {
            return Err(held(part, &format!("plan {:?} has it reserved", plan.unwrap_or_default())));
        }
        (ReelState::UsedUp, _) => return Err(held(part, "it is used up")),
        (ReelState::Gone, _) => return Err(held(part, "it is gone from the rack")),
    }
    if reel.length_mm != part.seen_mm {
        return Err(held(part, &format!("there are {} mm on it, the plan saw {} mm", reel.length_mm, part.seen_mm)));
    }
    if reel.flaws != part.seen_flaws {
        return Err(held(part, "its flaws were marked anew since"));
    }
    Ok(reel)
}

fn held(part: &PlanReel, why: &str) -> Error {
    Error::ReelHeld { reel: part.reel.clone(), plan: part.plan.clone(), why: why.to_owned() }
}

async fn finish(mut work: Work, before: &Plan, state: PlanState, stamp: &Stamp) -> Result<Plan, Error> {
    let after = Plan {
        state,
        revision: before.revision + 1,
        at: stamp.at().to_owned(),
        who: stamp.who().to_owned(),
        ..before.clone()
    };
    work.replace(stamp, before, &after).await?;
    work.commit().await?;
    Ok(after)
}

/// The reel after the plan's cuts.
fn cut_off(reel: &Reel, part: &PlanReel) -> Reel {
    let length_mm = if part.left_as == LeftAs::Remnant { part.left_mm } else { 0 };
    let state = if length_mm == 0 { ReelState::UsedUp } else { ReelState::Free };
    Reel { length_mm, state, plan: None, flaws: part.left_flaws.clone(), kind: ReelKind::Remnant, ..reel.clone() }
}

/// An off-cut as a reel.
fn off_cut(reel: &Reel, remnant: &PlanRemnant, stamp: &Stamp) -> Reel {
    Reel {
        id: remnant.id.clone(),
        length_mm: remnant.length_mm,
        state: ReelState::Free,
        plan: None,
        flaws: "[]".to_owned(),
        kind: ReelKind::Remnant,
        note: format!("off-cut of reel {}", reel.id),
        revision: 1,
        at: stamp.at().to_owned(),
        who: stamp.who().to_owned(),
        ..reel.clone()
    }
}

fn piece_of(cut: &Cut, reel: &Reel, facts: &PieceFacts, stamp: &Stamp) -> Piece {
    Piece {
        code: cut.piece.clone(),
        order_id: cut.order_id.clone(),
        boat: facts.boat.clone(),
        line: cut.line.clone(),
        rope: reel.rope.clone(),
        colour: reel.colour.clone(),
        batch: reel.batch.clone(),
        reel: Some(reel.id.clone()),
        plan: Some(cut.plan.clone()),
        cut_mm: cut.length_mm,
        purpose: facts.purpose.clone(),
        state: PieceState::Cut,
        card: facts.card.clone(),
        made_on: None,
        in_service_on: None,
        next_due: None,
        retired_on: None,
        note: facts.note.clone(),
        revision: 1,
        at: stamp.at().to_owned(),
        who: stamp.who().to_owned(),
    }
}

/// Cuts and rest of each reel are no more than was on it, and no cut is from
/// a reel that the plan does not have. The loss of a reel's last cut may fall
/// beyond its end, so losses are not counted.
fn check_sums(new: &NewPlan) -> Result<(), Error> {
    let mut used: BTreeMap<&str, i64> = new.reels.iter().map(|reel| (reel.reel.as_str(), reel.left_mm)).collect();
    for cut in &new.cuts {
        let Some(sum) = used.get_mut(cut.reel.as_str()) else {
            let allowed = "a reel that the plan lists".to_owned();
            return Err(Error::Value { field: "reel of a cut", given: cut.reel.clone(), allowed });
        };
        *sum = sum.saturating_add(cut.length_mm);
    }
    for remnant in &new.remnants {
        if let Some(sum) = used.get_mut(remnant.reel.as_str()) {
            *sum = sum.saturating_add(remnant.length_mm);
        }
    }
    for reel in &new.reels {
        let sum = used.get(reel.reel.as_str()).copied().unwrap_or_default();
        if sum > reel.seen_mm {
            let given = format!("{sum} mm from reel {}", reel.reel);
            return Err(Error::Value { field: "sum of cuts and rest", given, allowed: format!("{} mm", reel.seen_mm) });
        }
    }
    Ok(())
}

fn check_pieces(cuts: &[Cut], pieces: &[PieceFacts]) -> Result<(), Error> {
    let mut codes: Vec<&str> = cuts.iter().map(|cut| cut.piece.as_str()).collect();
    let mut given: Vec<&str> = pieces.iter().map(|facts| facts.code.as_str()).collect();
    codes.sort_unstable();
    given.sort_unstable();
    if codes == given {
        return Ok(());
    }
    Err(Error::Value {
        field: "pieces",
        given: given.join(", "),
        allowed: format!("the plan's own: {}", codes.join(", ")),
    })
}
