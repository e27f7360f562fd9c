//! Rope that the rack is short of for the orders on the book.
//!
//! Cut lengths of the pieces that are not cut yet, rope by rope, less all the
//! rope that lies in the rack. It is the least that is missing: what flaws,
//! colours, cuts and remnants take besides, the cut plan says. A piece that is
//! refused wants no rope; an order that cannot be read has its mistakes told
//! on its own page and is passed over here.

use crate::cards::{pieces, refused};
use crate::input::open;
use crate::job::same;
use crate::lines::{LinesRequest, job};
use crate::problem::Problem;
use crate::text::Text;
use crate::wire::Amount;
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;
use units::{Millimetres, System};

/// An order with the codes of its pieces that are cut already.
#[derive(Debug, Clone)]
pub struct Wants {
    /// The order.
    pub order: LinesRequest,
    /// What is cut of it.
    pub cut: Vec<String>,
}

/// A rope of which there is too little.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ShortAnswer {
    /// The rope.
    pub rope: String,
    /// Pieces that are to be cut of it.
    pub pieces: usize,
    /// What they take.
    pub wanted: Amount,
    /// What lies in the rack.
    pub on_rack: Amount,
    /// What is missing at least.
    pub short: Amount,
}

/// The ropes of which there is too little, those that are missing most first.
///
/// # Errors
/// When the rack cannot be read.
pub fn short(orders: &[Wants], rack: Option<&Text>, units: System) -> Result<Vec<ShortAnswer>, Problem> {
    let mut wanted: BTreeMap<String, (String, usize, i64)> = BTreeMap::new();
    for one in orders {
        let Ok(job) = job(&one.order) else { continue };
        for piece in pieces(&job).iter().filter(|piece| !one.cut.contains(&piece.code) && !refused(&job, piece)) {
            let rope = &piece.line.made.rope.name;
            let entry = wanted.entry(same(rope)).or_insert_with(|| (rope.clone(), 0, 0));
            entry.1 += 1;
            entry.2 += piece.line.made.cut.count();
        }
    }
    let mut lies: BTreeMap<String, i64> = BTreeMap::new();
    if let Some(rack) = rack {
        let input = open(rack, files::LARGEST_TABLE)?;
        for reel in input.complete(files::read_rack(&input.bytes))? {
            let length = reel.value.length.value.down_to_mm().count() * i64::from(reel.value.count.value);
            *lies.entry(same(&reel.value.rope.value)).or_default() += length;
        }
    }
    let mut short: Vec<(i64, ShortAnswer)> = wanted
        .into_iter()
        .filter_map(|(key, (rope, pieces, takes))| {
            let there = lies.get(&key).copied().unwrap_or(0);
            let missing = takes - there;
            let amount = |length: i64| Amount::of(Millimetres::new(length), units);
            let answer =
                ShortAnswer { rope, pieces, wanted: amount(takes), on_rack: amount(there), short: amount(missing) };
            (missing > 0).then_some((missing, answer))
        })
        .collect();
    short.sort_by_key(|(missing, _)| std::cmp::Reverse(*missing));
    Ok(short.into_iter().map(|(_, answer)| answer).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The blank order's one dock line of ten metres, against racks.
    #[test]
    fn what_is_missing_is_what_is_wanted_less_what_lies_there() {
        let order =
            LinesRequest { order: Text::held("order", crate::blank_order("2026-11-25")), ..LinesRequest::default() };
        let code = crate::order_pieces(&order).expect("pieces")[0].piece.clone();
        let of = |cut: &[&str], rack: &str| {
            let wants = Wants { order: order.clone(), cut: cut.iter().map(|code| (*code).to_owned()).collect() };
            let rack = Text::held("rack", format!("reel,rope,length\n{rack}"));
            short(&[wants], Some(&rack), System::Metric).expect("a rack")
        };
        let none = of(&[], "A,other rope,50 m\n");
        assert_eq!((none.len(), none[0].pieces, none[0].on_rack.value), (1, 1, 0.0));
        let some = of(&[], "A,16 mm 3-strand polyamide,4 m\nB,16 mm 3-strand polyamide,2 m\n");
        assert!((none[0].short.value - some[0].short.value - 6000.0).abs() < 1e-9, "{some:?}");
        assert!(of(&[], "A,16 mm 3-strand polyamide,50 m\n").is_empty());
        assert!(of(&[code.as_str()], "A,other rope,50 m\n").is_empty(), "what is cut wants no rope");
    }
}
