//! Where the trade makes an end in more than one way: the others, and when.
//!
//! Common practice throughout; a sentence of ours says when each is the better
//! choice. Only kinds of this room are named, and those a rope can take.

use crate::EndKind;
use cordage::Construction;

/// Another way, and when it is the better one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Alternative {
    /// The other kind.
    pub kind: EndKind,
    /// When it is chosen.
    pub when: &'static str,
}

/// The other ways to make an end in a rope built so.
///
/// ```
/// use cordage::Construction;
/// use splice::{EndKind, alternatives};
/// let others = alternatives(EndKind::LongBuryEye, Construction::TwelveStrand);
/// assert_eq!(others[0].kind, EndKind::LockedEye);
/// ```
#[must_use]
pub fn alternatives(kind: EndKind, construction: Construction) -> Vec<Alternative> {
    let all = others(kind);
    all.iter().filter(|other| other.kind.suits(construction)).copied().collect()
}

const fn other(kind: EndKind, when: &'static str) -> Alternative {
    Alternative { kind, when }
}

fn others(kind: EndKind) -> &'static [Alternative] {
    match kind {
        EndKind::LongBuryEye => {
            const {
                &[
                    other(
                        EndKind::LockedEye,
                        "where the eye flogs or hangs slack for long and its stitching may chafe through",
                    ),
                    other(EndKind::AdjustableLoop, "where the length is set by hand, and the line never flogs"),
                ]
            }
        }
        EndKind::LockedEye => {
            const { &[other(EndKind::LongBuryEye, "where the throat can be stitched and looked at: quicker, and as strong")] }
        }
        EndKind::AdjustableLoop => {
            const { &[other(EndKind::LongBuryEye, "where the length is settled, or the line can flog")] }
        }
        EndKind::LuggageTagLoop => {
            const { &[other(EndKind::LongBuryEye, "where the fitting stays in the eye: a hitch costs strength")] }
        }
        EndKind::EndToEnd => {
            const {
                &[other(
                    EndKind::LongBuryEye,
                    "one on each rope, joined by a shackle or a loop, where they must part again",
                )]
            }
        }
        EndKind::EndlessLoop => {
            const {
                &[
                    other(EndKind::SoftShackle, "where it must open"),
                    other(EndKind::Strop, "where one part between two fittings is enough"),
                ]
            }
        }
        EndKind::SoftShackle => {
            const { &[other(EndKind::EndlessLoop, "where it need not open: no knot, and the grip can be computed")] }
        }
        EndKind::Strop => {
            const {
                &[other(
                    EndKind::EndlessLoop,
                    "where the two buries leave no room: a ring is twice as strong for its length",
                )]
            }
        }
        EndKind::CoveredEye => {
            const { &[other(EndKind::BareCoreEye, "where weight aloft counts and nothing grips, winds or chafes that run")] }
        }
        EndKind::BareCoreEye => {
            const { &[other(EndKind::CoveredEye, "where the run is handled, gripped by a clutch, or chafes")] }
        }
        EndKind::TuckedEye | EndKind::EightPlaitTuckedEye => {
            const { &[other(EndKind::ToChain, "straight on to a chain, where the splice must pass a windlass")] }
        }
        EndKind::ToChain => {
            const {
                &[
                    other(
                        EndKind::TuckedEye,
                        "round a thimble with a shackle, where the windlass lets it pass: it wears less and is undone",
                    ),
                    other(
                        EndKind::EightPlaitTuckedEye,
                        "round a thimble with a shackle, where the windlass lets it pass: it wears less and is undone",
                    ),
                ]
            }
        }
        EndKind::ShortSplice => {
            const { &[other(EndKind::TuckedEye, "one on each rope, linked, where the join need not pass a block")] }
        }
        EndKind::BackSplice => {
            const { &[other(EndKind::SailmakersWhipping, "where the end must pass a block: it is no thicker than the rope")] }
        }
        EndKind::CommonWhipping => {
            const {
                &[
                    other(
                        EndKind::SailmakersWhipping,
                        "in laid rope, for good: locked along the lay, it cannot slide off",
                    ),
                    other(EndKind::StitchedWhipping, "in braid, for good: sewn through, it cannot slide off"),
                ]
            }
        }
        EndKind::SailmakersWhipping => {
            const { &[other(EndKind::BackSplice, "where nothing narrow is in its way: no twine to chafe through")] }
        }
        EndKind::StitchedWhipping | EndKind::WhippedEnd => {
            const {
                &[
                    other(EndKind::CommonWhipping, "for a time, or where there is no needle"),
                    other(EndKind::ReevingLoop, "where a messenger will haul the line through a mast"),
                ]
            }
        }
        EndKind::SealedEnd => {
            const { &[other(EndKind::StitchedWhipping, "for good: a sealed end cracks and cuts hands")] }
        }
        _ => &[],
    }
}
