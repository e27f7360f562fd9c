//! What the rack holds of a rope for a line: on hand, short, or to be ordered,
//! by colour and batch; and whether its colour lies beside the same colour.
//!
//! Reels are counted as they lie there: what other lines of the order take is
//! the cut plan's to say.

use crate::job::same;
use crate::wire::Amount;
use files::{LineRecord, OrderFile, ReelRecord};
use schemars::JsonSchema;
use serde::Serialize;
use units::{Length, Millimetres, System};

/// What the rack holds of a rope for one line.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Holding {
    /// `on-hand`, `other-colour`, `short` or `to-order`.
    pub status: &'static str,
    /// Pieces of the line that can be cut from the rack, in its colour.
    pub pieces_on_hand: u64,
    /// Pieces wanted.
    pub pieces_wanted: u64,
    /// Rope to buy; null where none is.
    pub to_order: Option<Amount>,
    /// The reels of this rope.
    pub reels: Vec<HeldReel>,
    /// All of it in a sentence.
    pub text: String,
}

/// A reel of the rope.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct HeldReel {
    /// Its label.
    pub reel: String,
    /// Its colour.
    pub colour: Option<String>,
    /// Its batch.
    pub batch: Option<String>,
    /// Length on it.
    pub length: Amount,
    /// Pieces of the line that it gives.
    pub pieces: u64,
}

/// What is wanted of the rack.
pub(crate) struct Want<'a> {
    pub(crate) rope: &'a str,
    pub(crate) colour: Option<&'a str>,
    pub(crate) cut: Millimetres,
    pub(crate) count: u64,
    pub(crate) same_reel: bool,
    pub(crate) loss: Millimetres,
}

/// What the rack holds for it.
pub(crate) fn holding(rack: &[ReelRecord], want: &Want<'_>, system: System) -> Holding {
    let own: Vec<&ReelRecord> = rack.iter().filter(|reel| same(&reel.rope.value) == same(want.rope)).collect();
    let in_colour = |reel: &ReelRecord| match want.colour {
        Some(colour) => reel.colour.as_ref().is_some_and(|own| same(&own.value) == same(colour)),
        None => true,
    };
    let gives = |reels: &mut dyn Iterator<Item = &ReelRecord>| {
        let each = reels.map(|reel| (pieces(reel, want), u64::from(reel.count.value)));
        if want.same_reel {
            each.map(|(pieces, _)| pieces).max().unwrap_or(0)
        } else {
            each.map(|(pieces, count)| pieces * count).sum()
        }
    };
    let on_hand = gives(&mut own.iter().copied().filter(|reel| in_colour(reel)));
    let any = gives(&mut own.iter().copied());
    let missing = want.count.saturating_sub(on_hand);
    let wanted_at_once = if want.same_reel && missing > 0 { want.count } else { missing };
    let buy = Millimetres::new((want.cut.count() + want.loss.count()) * wanted_at_once as i64);
    let status = match (on_hand >= want.count, any >= want.count, own.is_empty()) {
        (true, ..) => "on-hand",
        (_, true, _) => "other-colour",
        (.., true) => "to-order",
        _ => "short",
    };
    let reels: Vec<HeldReel> = own
        .iter()
        .map(|reel| HeldReel {
            reel: reel.reel.value.clone(),
            colour: reel.colour.as_ref().map(|colour| colour.value.clone()),
            batch: reel.batch.as_ref().map(|batch| batch.value.clone()),
            length: Amount::of(reel.length.value, system),
            pieces: pieces(reel, want) * u64::from(reel.count.value),
        })
        .collect();
    let to_order = (missing > 0).then(|| Amount::of(buy, system));
    let text = said(status, want, on_hand, &reels, to_order.as_ref());
    Holding { status, pieces_on_hand: on_hand.min(want.count), pieces_wanted: want.count, to_order, reels, text }
}

/// Pieces of one length that a reel gives, cut between its flaws; the last cut
/// of a stretch loses nothing.
fn pieces(reel: &ReelRecord, want: &Want<'_>) -> u64 {
    let mut flaws: Vec<(i64, i64)> = reel
        .flaws
        .iter()
        .map(|flaw| (flaw.value.from.down_to_mm().count(), flaw.value.to.up_to_mm().count()))
        .collect();
    flaws.sort_unstable();
    let end = reel.length.value.down_to_mm().count();
    let mut at = 0;
    let mut pieces = 0;
    for (from, to) in flaws.into_iter().chain([(end, end)]) {
        let stretch = from.min(end) - at;
        let each = want.cut.count() + want.loss.count();
        if stretch > 0 && each > 0 {
            pieces += (stretch + want.loss.count()) / each;
        }
        at = at.max(to.min(end));
    }
    u64::try_from(pieces).unwrap_or(0)
}

fn said(status: &str, want: &Want<'_>, on_hand: u64, reels: &[HeldReel], to_order: Option<&Amount>) -> String {
    let colour = want.colour.map_or(String::new(), |colour| format!(" in {colour}"));
    let buy = to_order.map_or(String::new(), |amount| amount.text.clone());
    let listed = |giving: &dyn Fn(&HeldReel) -> bool| {
        let names = reels.iter().filter(|reel| giving(reel)).map(|reel| {
            let batch = reel.batch.as_ref().map_or(String::new(), |batch| format!(" batch {batch}"));
            let colour = reel.colour.as_ref().map_or(String::new(), |colour| format!(" {colour}"));
            format!("{}{colour}{batch} {}", reel.reel, reel.length.text)
        });
        names.collect::<Vec<_>>().join(", ")
    };
    let own = |reel: &HeldReel| {
        reel.pieces > 0
            && want.colour.is_none_or(|colour| reel.colour.as_ref().is_some_and(|c| same(c) == same(colour)))
    };
    match status {
        "on-hand" => format!("on hand{colour}: {}", listed(&own)),
        "other-colour" => format!(
            "{on_hand} of {} on hand{colour}; other colours have it: {}; or order {buy}",
            want.count,
            listed(&|reel| reel.pieces > 0)
        ),
        "short" => format!("short: {on_hand} of {} on hand{colour}; order {buy}", want.count),
        _ => format!("not on the rack; order {buy}"),
    }
}

/// Lines of the same colour that lie beside a line at a clutch, cam or
/// organiser: a hand cannot tell them apart.
pub(crate) fn same_colour_beside(order: &OrderFile, line: &LineRecord) -> Vec<String> {
    const BESIDE: Length = Length::of_mm(100.0);
    let Some(colour) = &line.colour else { return Vec::new() };
    let apart = |a: &files::LeadRecord, b: &files::LeadRecord| {
        let (a, b) = (a.at.value, b.at.value);
        Length::of_m((a.x - b.x).to_m().hypot((a.y - b.y).to_m()).hypot((a.z - b.z).to_m()))
    };
    // At the mast all lines meet; they are told apart where the hand takes them.
    let handled = |turn: &files::LeadRecord| {
        matches!(turn.on.value, files::LeadOn::Clutch | files::LeadOn::Cam | files::LeadOn::Winch)
    };
    order
        .line
        .iter()
        .map(|other| &other.value)
        .filter(|other| other.name.value != line.name.value)
        .filter(|other| other.colour.as_ref().is_some_and(|own| same(&own.value) == same(&colour.value)))
        .filter(|other| {
            let mine = line.lead.iter().map(|turn| &turn.value).filter(|turn| handled(turn));
            mine.into_iter().any(|turn| {
                other.lead.iter().map(|turn| &turn.value).any(|there| handled(there) && apart(turn, there) <= BESIDE)
            })
        })
        .map(|other| other.name.value.clone())
        .collect()
}
