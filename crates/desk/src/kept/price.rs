//! The quote of an order with the loft's measured minutes, from its records.

use super::tests::KeptFigures;
use crate::job::{OrderAsked, read};
use crate::own::OwnSource;
use crate::problem::Problem;
use crate::quote::{QuoteAnswer, QuoteRequest, quote_with};
use crate::records::Records;

/// A quote for an order; minutes by kind of end are those that were entered
/// in the records, and the request's own list of figures is not looked at.
///
/// # Errors
/// As [`quote`](crate::quote), and when the records cannot be read.
pub async fn quote_kept(records: &Records, request: &QuoteRequest) -> Result<QuoteAnswer, Problem> {
    let figures = KeptFigures::of(records).await?;
    let own = OwnSource::default();
    let asked = OrderAsked { order: &request.order, ropes: request.ropes.as_ref(), own: &own, units: request.units };
    quote_with(request, &read(&asked)?, figures.measures())
}
