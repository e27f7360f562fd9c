//! One module for each family of ends.

mod bare_core;
mod bench;
mod buried;
mod core_and_cover;
mod covered;
mod long_bury;
mod tucked;
mod whipped;

pub use tucked::{full_tucks, sling_tail, unlay_length};

use crate::{EndKind, EndRequest, Layout, SpliceError};

/// The end of a request, whose rope suits it.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    match request.kind {
        EndKind::LongBuryEye => long_bury::lay_out(request),
        EndKind::CoveredEye => covered::lay_out(request),
        EndKind::BareCoreEye => bare_core::lay_out(request),
        EndKind::CoreAndCoverEye => core_and_cover::lay_out(request),
        EndKind::TuckedEye => tucked::lay_out(request),
        EndKind::WhippedEnd | EndKind::SealedEnd => whipped::lay_out(request),
        kind => Err(SpliceError::Missing { kind, what: "a layout of its own" }),
    }
}
