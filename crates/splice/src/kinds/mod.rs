//! One module for each family of ends.

mod adjustable;
mod bare_core;
mod bench;
mod buried;
mod core_and_cover;
mod core_to_cover;
mod covered;
mod crossing;
mod fid_join;
mod fids;
mod long_bury;
mod reasons;
mod reeving;
mod soft_shackle;
mod strop;
mod tucked;
mod tucked_ends;
mod unlike;
mod whipped;

pub(crate) use bench::cautions;
pub(crate) use buried::chance_request;
pub use tucked::{full_tucks, sling_tail, unlay_length};

use crate::{EndKind, EndRequest, Layout, SpliceError};

/// The end of a request, whose rope suits it.
pub(crate) fn lay_out(request: &EndRequest) -> Result<Layout, SpliceError> {
    match request.kind {
        EndKind::LongBuryEye | EndKind::LockedEye | EndKind::LuggageTagLoop => long_bury::lay_out(request),
        EndKind::AdjustableLoop => adjustable::lay_out(request),
        EndKind::Strop => strop::lay_out(request),
        EndKind::EndToEnd | EndKind::EndlessLoop => crossing::lay_out(request),
        EndKind::SoftShackle => soft_shackle::lay_out(request),
        EndKind::CoveredEye => covered::lay_out(request),
        EndKind::BareCoreEye => bare_core::lay_out(request),
        EndKind::CoreToCoverJoin => core_to_cover::lay_out(request),
        EndKind::CoreAndCoverEye => core_and_cover::lay_out(request),
        EndKind::CoreAndCoverEndToEnd | EndKind::CoreAndCoverLoop => fid_join::lay_out(request),
        EndKind::TuckedEye => tucked::lay_out(request),
        EndKind::ShortSplice | EndKind::BackSplice | EndKind::EightPlaitTuckedEye | EndKind::ToChain => {
            tucked_ends::lay_out(request)
        }
        EndKind::UnlikeRopes => unlike::lay_out(request),
        EndKind::ReevingLoop => reeving::lay_out(request),
        EndKind::CommonWhipping
        | EndKind::SailmakersWhipping
        | EndKind::StitchedWhipping
        | EndKind::WhippedEnd
        | EndKind::SealedEnd => whipped::lay_out(request),
    }
}
