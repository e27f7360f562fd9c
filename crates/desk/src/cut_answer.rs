//! The cut plan as the answer that front ends print and write as JSON.

use crate::cut_rack::{RackChange, change_of};
use crate::cut_solve::Solved;
use crate::cut_table::Table;
use crate::taken::{ReelTaken, reel_taken};
use crate::wire::Amount;
use cutting::{Aim, Becomes, CutReel, Piece, Plan, Uncut, step_of};
use pricing::{Money, Rounding, Used, rope_cost};
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;
use units::{Millimetres, Value};

/// A cut plan.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CutAnswer {
    /// The pieces wanted.
    pub pieces: Vec<PieceAnswer>,
    /// Reel by reel, in the order to cut.
    pub cuts: Vec<ReelAnswer>,
    /// Pieces that cannot be cut, and why.
    pub uncut: Vec<UncutAnswer>,
    /// Rope spoiled: scrap, and what is lost at cuts and ends.
    pub waste: Amount,
    /// No plan that keeps as many remnants wastes less than this, but for cuts
    /// saved at a reel's end. Where no leftover can be kept it bounds every plan.
    pub bound: Amount,
    /// Is the plan proven to be the best?
    pub proven: bool,
    /// Goal by goal, in order of weight.
    pub goals: Vec<GoalAnswer>,
    /// How far the rope spoiled, remnants counted in, may be from the best.
    pub gap: Amount,
    /// Pieces that the rack alone cannot give. With offers they are cut from
    /// what is bought, but for those that are uncut.
    pub not_from_rack: Vec<UncutAnswer>,
    /// What to buy, for the least money.
    pub buy: Vec<BuyAnswer>,
    /// What that costs.
    pub money: Option<String>,
    /// Pieces that wait for their first day; no rope is kept back for them.
    pub later: Vec<LaterAnswer>,
    /// What confirming the plan does to the rack.
    pub rack: RackChange,
    /// Scrap alone.
    pub scrap: Amount,
    /// Lost at cuts.
    pub cut_loss: Amount,
    /// Cut off reels' free ends.
    pub end_loss: Amount,
    /// Remnants that go back on the rack.
    pub remnants: u64,
    /// Their length.
    pub remnant_length: Amount,
    /// Was the search stopped by its limit?
    pub interrupted: bool,
    /// Cost of the rope taken, where the rack has prices.
    pub cost: Option<String>,
    /// What is to be said about it.
    pub notes: Vec<String>,
    /// The plan in a sentence.
    pub verdict: String,
    /// The same exactly, in whole millimetres, for whoever cuts by it; not part
    /// of the JSON.
    #[serde(skip)]
    pub taken: Vec<ReelTaken>,
    /// Time the search took, s; not part of the JSON, so that it repeats.
    #[serde(skip)]
    pub seconds: f64,
}

/// A piece.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PieceAnswer {
    /// Its code.
    pub piece: String,
    /// What it is for.
    pub name: String,
    /// Its rope, with its colour.
    pub rope: String,
    /// Its cut length.
    pub length: Amount,
}

/// A reel with its cuts.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ReelAnswer {
    /// Its label.
    pub reel: String,
    /// Which of several alike, from 1.
    pub copy: u32,
    /// Its rope, with its colour.
    pub rope: String,
    /// Its batch.
    pub batch: Option<String>,
    /// Length on it before.
    pub length: Amount,
    /// Is it to be bought first?
    pub bought: bool,
    /// Pieces in the order to cut.
    pub pieces: Vec<CutPieceAnswer>,
    /// What is left of it.
    pub leftovers: Vec<LeftoverAnswer>,
}

/// One cut.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CutPieceAnswer {
    /// The piece's code.
    pub piece: String,
    /// What it is for.
    pub name: String,
    /// Running length where it begins.
    pub from: Amount,
    /// Running length where it is cut off.
    pub to: Amount,
}

/// What is left of a reel.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LeftoverAnswer {
    /// Running length where it begins.
    pub from: Amount,
    /// Running length where it ends.
    pub to: Amount,
    /// Its length.
    pub length: Amount,
    /// `remnant`, `scrap` or `untouched`.
    pub becomes: String,
}

/// A piece that cannot be cut.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct UncutAnswer {
    /// The piece's code.
    pub piece: String,
    /// Its rope.
    pub rope: String,
    /// Its length: what to buy at least.
    pub length: Amount,
    /// Why.
    pub why: String,
}

/// One goal of the plan.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct GoalAnswer {
    /// What it is.
    pub goal: String,
    /// What the plan reaches.
    pub value: i64,
    /// The best that any plan could reach.
    pub bound: i64,
    /// Are the two proven to meet?
    pub proven: bool,
}

/// A length to be bought.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct BuyAnswer {
    /// The rope.
    pub rope: String,
    /// Its colour.
    pub colour: Option<String>,
    /// Length of one reel.
    pub length: Amount,
    /// How many.
    pub count: u32,
    /// Price of one.
    pub each: String,
    /// Price of all.
    pub total: String,
}

/// A piece that is not cut yet.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LaterAnswer {
    /// The piece's code.
    pub piece: String,
    /// Its rope.
    pub rope: String,
    /// Its length.
    pub length: Amount,
    /// Its first day.
    pub not_before: String,
}

/// A checked plan as an answer.
pub(crate) fn answer(table: &Table, solved: &Solved) -> CutAnswer {
    let (plan, seconds) = (&solved.plan, solved.seconds);
    let system = table.system;
    let bench = |length: Millimetres| Amount::of(length, system);
    let name = |piece: &str| table.names.get(piece).cloned().unwrap_or_default();
    let lengths: BTreeMap<&str, &Piece> = table.job.pieces.iter().map(|piece| (piece.id.as_str(), piece)).collect();
    let totals = plan.totals;
    let gap = plan.gap();
    let uncut = |uncut: &Uncut| {
        let piece = lengths.get(uncut.piece.as_str());
        UncutAnswer {
            piece: uncut.piece.clone(),
            rope: piece.map_or_else(String::new, |piece| piece.rope.clone()),
            length: bench(piece.map_or(Millimetres::ZERO, |piece| piece.cut_length())),
            why: uncut.why.to_string(),
        }
    };
    CutAnswer {
        pieces: table
            .job
            .pieces
            .iter()
            .map(|piece| PieceAnswer {
                piece: piece.id.clone(),
                name: name(&piece.id),
                rope: piece.rope.clone(),
                length: Amount::of(Value::Cut(piece.cut_length()), system),
            })
            .collect(),
        cuts: plan.reels.iter().filter(|reel| !reel.cuts.is_empty()).map(|reel| reel_answer(table, reel)).collect(),
        uncut: plan.uncut.iter().map(uncut).collect(),
        gap: bench(gap),
        not_from_rack: solved.not_from_rack.iter().map(uncut).collect(),
        buy: buy(table, plan),
        money: money(table, plan),
        later: table.later.iter().map(|(piece, first)| later(table, piece, first)).collect(),
        rack: change_of(&table.rack, &step_of(&table.job, plan), |reel| table.row(reel)),
        waste: bench(totals.waste),
        bound: bench((totals.waste - gap).max(Millimetres::ZERO)),
        proven: plan.proven_least_waste(),
        goals: plan
            .goals
            .iter()
            .map(|goal| GoalAnswer {
                goal: goal.aim.to_string(),
                value: goal.value,
                bound: goal.bound,
                proven: goal.proven,
            })
            .collect(),
        scrap: bench(totals.scrap),
        cut_loss: bench(totals.cut_loss),
        end_loss: bench(totals.trim),
        remnants: totals.remnants,
        remnant_length: bench(totals.remnant_length),
        interrupted: plan.interrupted,
        cost: cost(table, plan),
        notes: table.notes.clone(),
        verdict: verdict(table, solved),
        taken: taken(table, plan),
        seconds,
    }
}

fn reel_answer(table: &Table, reel: &CutReel) -> ReelAnswer {
    let bench = |length: Millimetres| Amount::of(length, table.system);
    let row = table.row(&reel.reel);
    ReelAnswer {
        reel: reel.reel.clone(),
        copy: reel.copy,
        rope: reel.rope.clone(),
        batch: row.and_then(|row| row.batch.clone()),
        length: bench(Millimetres::new(row.map_or(0, |row| row.length_mm))),
        bought: table.offers.contains_key(&reel.reel),
        pieces: reel
            .cuts
            .iter()
            .map(|cut| CutPieceAnswer {
                piece: cut.piece.clone(),
                name: table.names.get(&cut.piece).cloned().unwrap_or_default(),
                from: bench(cut.from),
                to: bench(cut.to),
            })
            .collect(),
        leftovers: reel
            .leftovers
            .iter()
            .map(|left| LeftoverAnswer {
                from: bench(left.from),
                to: bench(left.to),
                length: bench(left.to - left.from),
                becomes: left.becomes.to_string(),
            })
            .collect(),
    }
}

fn taken(table: &Table, plan: &Plan) -> Vec<ReelTaken> {
    let exact = |cut: &CutReel| {
        let known = table.job.reels.iter().find(|reel| reel.id == cut.reel)?;
        Some(reel_taken(cut, known.length.count(), &known.flaws))
    };
    plan.reels.iter().filter_map(exact).collect()
}

/// The plan in a sentence: what it spoils, and how sure that is the least.
fn verdict(table: &Table, solved: &Solved) -> String {
    let plan = &solved.plan;
    let show = |length: Millimetres| Value::from(length).show(table.system);
    let waste = show(plan.totals.waste);
    let pieces = |count: usize| if count == 1 { "1 piece".to_owned() } else { format!("{count} pieces") };
    if !plan.uncut.is_empty() {
        let bought = if plan.totals.money > 0 { " even with the offers" } else { "" };
        let proven = if proven_to(plan, |aim| matches!(aim, Aim::Uncut(_))) { "" } else { " by this plan" };
        let count = pieces(plan.uncut.len());
        return format!("Not enough rope{bought}: {count} cannot be cut{proven}. The rest spoils {waste}.");
    }
    // What is least is scrap and trim with each kept remnant charged, not the
    // rope spoiled alone: fewer remnants would be bought with more scrap.
    let charged = match plan.totals.remnants {
        0 => String::new(),
        _ => format!(", with each remnant kept counted as {}", show(table.job.rules.value_of_a_remnant())),
    };
    let spoiled = match (plan.proven_least_waste(), plan.goal(Aim::Loss)) {
        (true, _) => format!("Best possible: {waste} spoiled; no plan loses less{charged}."),
        (false, Some(goal)) if goal.bound <= 0 && goal.value > 0 && solved.plan.interrupted => {
            format!("{waste} spoiled; stopped before it was known how near that is to the best possible{charged}.")
        }
        (false, Some(goal)) => {
            let gap = show(Millimetres::new(goal.value - goal.bound));
            format!("{waste} spoiled; within {gap} of the best possible{charged}, which was not reached in the time.")
        }
        (false, None) => format!("{waste} spoiled."),
    };
    match money(table, plan) {
        Some(money) => {
            let least = if proven_to(plan, |aim| aim <= Aim::Money) {
                "no purchase that serves them all costs less"
            } else {
                "less may do"
            };
            let short = pieces(solved.not_from_rack.len());
            format!("Not enough rope in the rack for {short}: buy for {money}; {least}. {spoiled}")
        }
        None => spoiled,
    }
}

fn proven_to(plan: &Plan, of: impl Fn(Aim) -> bool) -> bool {
    plan.goals.iter().filter(|goal| of(goal.aim)).all(|goal| goal.proven)
}

/// What to buy, offer by offer.
fn buy(table: &Table, plan: &Plan) -> Vec<BuyAnswer> {
    let bought = table.offers.iter().map(|(name, offer)| {
        let count = plan.reels.iter().filter(|reel| reel.reel == *name).count();
        (offer, count as u32)
    });
    bought
        .filter(|(_, count)| *count > 0)
        .map(|(offer, count)| BuyAnswer {
            rope: offer.row.rope.clone(),
            colour: offer.row.colour.clone(),
            length: Amount::of(Millimetres::new(offer.row.length_mm), table.system),
            count,
            each: offer.price.to_string(),
            total: times(offer.price, i64::from(count)),
        })
        .collect()
}

/// The money for what is bought, if anything is.
fn money(table: &Table, plan: &Plan) -> Option<String> {
    let bought = |reel: &CutReel| table.offers.get(&reel.reel).map(|offer| offer.price);
    let mut prices = plan.reels.iter().filter_map(bought);
    let first = prices.next()?;
    prices.try_fold(first, |sum, price| sum.plus(price).ok()).map(|sum| sum.to_string())
}

fn times(price: Money, count: i64) -> String {
    price.times(count.into()).map_or_else(|why| why.to_string(), |total| total.to_string())
}

fn later(table: &Table, piece: &Piece, first: &str) -> LaterAnswer {
    LaterAnswer {
        piece: piece.id.clone(),
        rope: piece.rope.clone(),
        length: Amount::of(Value::Cut(piece.cut_length()), table.system),
        not_before: first.to_owned(),
    }
}

/// Rope taken at the rack's prices; `None` unless every reel cut has one.
fn cost(table: &Table, plan: &Plan) -> Option<String> {
    let used: Option<Vec<Used>> = plan
        .reels
        .iter()
        .filter(|reel| !reel.cuts.is_empty())
        .map(|reel| {
            let row = table.row(&reel.reel)?;
            let per_metre = Money::read(row.price_per_metre.as_deref()?).ok()?;
            let pieces: Millimetres = reel.cuts.iter().map(|cut| cut.to - cut.from).sum();
            let spoiled = spoiled_on(table, reel);
            Some(Used { rope: reel.rope.clone(), pieces, spoiled, per_metre })
        })
        .collect();
    let cost = rope_cost(&used?, Rounding::HalfUp).ok()?;
    cost.total.map(|total| total.to_string())
}

/// Rope that a reel's cuts spoil: what is lost at them and at its end, and scrap.
fn spoiled_on(table: &Table, reel: &CutReel) -> Millimetres {
    let scrap = reel.leftovers.iter().filter(|left| left.becomes == Becomes::Scrap).map(|left| left.to - left.from);
    // Behind each piece is the next piece, a leftover, a flaw or the end.
    let begins = |at: Millimetres| {
        let cuts = reel.cuts.iter().map(|cut| cut.from);
        let lefts = reel.leftovers.iter().map(|left| left.from);
        cuts.chain(lefts).filter(|from| *from >= at).min()
    };
    let loss = table.job.rules.loss_per_cut;
    let row = table.row(&reel.reel);
    let ends = |at: Millimetres| {
        let flaws = row.into_iter().flat_map(|row| &row.flaws_mm).map(|&(from, _)| Millimetres::new(from));
        let end = Millimetres::new(row.map_or(0, |row| row.length_mm));
        flaws.filter(|from| *from >= at).min().unwrap_or(end).min(begins(at).unwrap_or(end))
    };
    let lost: Millimetres = reel.cuts.iter().map(|cut| (ends(cut.to) - cut.to).min(loss)).sum();
    let first = reel.cuts.first().is_some_and(|cut| cut.from == table.job.rules.trim);
    let trim = if first { table.job.rules.trim } else { Millimetres::ZERO };
    lost + trim + scrap.sum::<Millimetres>()
}
