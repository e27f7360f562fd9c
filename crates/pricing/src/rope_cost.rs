//! The rope of an order: what the pieces take and what the cuts spoil.

use crate::{Money, MoneyError, Rounding};
use rust_decimal::Decimal;
use units::Millimetres;

/// Rope taken off the rack for an order, of one price.
#[derive(Debug, Clone, PartialEq)]
pub struct Used {
    /// The rope's name.
    pub rope: String,
    /// In pieces.
    pub pieces: Millimetres,
    /// Spoiled: loss at cuts, and scrap too short to keep.
    pub spoiled: Millimetres,
    /// Price of a metre.
    pub per_metre: Money,
}

/// One line of the cost, rounded.
#[derive(Debug, Clone, PartialEq)]
pub struct CostLine {
    /// The rope's name.
    pub rope: String,
    /// Metres charged, pieces and spoiled rope together.
    pub length: Millimetres,
    /// Price of a metre.
    pub per_metre: Money,
    /// Length times price, rounded to coins.
    pub amount: Money,
}

/// The cost of an order's rope.
#[derive(Debug, Clone, PartialEq)]
pub struct RopeCost {
    /// Line by line.
    pub lines: Vec<CostLine>,
    /// The sum of the lines as printed; `None` without lines.
    pub total: Option<Money>,
}

/// Charges pieces and spoiled rope at their prices; the total is the sum of
/// the rounded lines.
///
/// # Errors
/// When prices are in two currencies, or too large.
pub fn rope_cost(used: &[Used], rule: Rounding) -> Result<RopeCost, MoneyError> {
    let lines = used
        .iter()
        .map(|used| {
            let length = used.pieces + used.spoiled;
            let metres = Decimal::new(length.count(), 3);
            let amount = used.per_metre.times(metres)?.rounded(rule);
            Ok(CostLine { rope: used.rope.clone(), length, per_metre: used.per_metre, amount })
        })
        .collect::<Result<Vec<_>, MoneyError>>()?;
    let total = lines.iter().try_fold(None, |total: Option<Money>, line| {
        let total = total.unwrap_or(Money::zero(line.amount.currency()));
        total.plus(line.amount).map(Some)
    })?;
    Ok(RopeCost { lines, total: total.map(|total| total.rounded(rule)) })
}
