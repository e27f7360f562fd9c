//! The quote of an order with the loft's measured minutes, from its records.

use super::KeptPrices;
use crate::problem::Problem;
use crate::quote::{QuoteAnswer, QuoteRequest, quote};
use crate::records::Records;

/// A quote for an order; minutes by kind of end are those that were entered
/// in the records, and the request's own list of figures is not looked at; what
/// the price list of the records has stands in where the request gives no price.
///
/// # Errors
/// As [`quote`](crate::quote), and when the records cannot be read.
pub async fn quote_kept(records: &Records, request: &QuoteRequest) -> Result<QuoteAnswer, Problem> {
    let kept = Some(KeptPrices::of(records).await?);
    quote(&QuoteRequest { kept, measures: None, ..request.clone() })
}
