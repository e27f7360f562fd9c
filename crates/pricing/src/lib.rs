//! What an order costs and what is asked for it, in exact decimals.
//!
//! Amounts are rounded once, per printed line, by a stated rule, and a total
//! is the sum of printed lines. [`rope_cost`] is the rope of a cut plan;
//! [`quote`] a whole quote: rope, hardware, twine, labour, waste, margin, tax.

mod currencies;
mod money;
mod quote;
mod rope_cost;

pub use currencies::currency_codes;
pub use money::{Currency, Money, MoneyError, Rounding};
pub use quote::{Item, ItemKind, Margin, PriceError, PriceFault, Quote, QuoteLine, QuoteRequest, quote};
pub use rope_cost::{CostLine, RopeCost, Used, rope_cost};
/// The exact decimals that money and shares are kept in.
pub use rust_decimal::Decimal;
