//! What an order's rope costs, in exact decimals.
//!
//! Amounts are rounded once, per printed line, by a stated rule, and a total
//! is the sum of printed lines. Labour, margin and tax are not here yet.

mod money;
mod rope_cost;

pub use money::{Currency, Money, MoneyError, Rounding};
pub use rope_cost::{CostLine, RopeCost, Used, rope_cost};
