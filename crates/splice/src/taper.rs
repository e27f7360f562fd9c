//! Taper schedules: which strands of the tail come out, where, of which hand.
//!
//! Strands come out in pairs, one of each hand, at whole picks, spread over
//! the last part of the tail, which ends in a slanted cut. That much is common
//! practice, with no publication behind it. The chooser of the best positions
//! is in the chooser.

use crate::braid::STRANDS;
use crate::tail::Tail;
use thiserror::Error;

/// Bury of stiff, slippery fibres in diameters: common practice, no standard.
pub const HIGH_MODULUS_BURY: f64 = 72.0;
/// Bury of other hollow braids in diameters: three fids of 21, common practice.
pub const OTHER_BURY: f64 = 63.0;
/// Share of the tail that is tapered.
pub const TAPERED_SHARE: f64 = 1.0 / 3.0;
/// Strands of each hand taken out by the common taper.
pub const COMMON_PAIRS: u32 = 3;
/// Length of the slanted cut in diameters.
pub const SLANT: f64 = 3.0;

/// How the tail is to be tapered.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum TaperWish {
    /// Half the strands, pair by pair, evenly over the last third.
    #[default]
    Common,
    /// None: the tail cut square.
    None,
    /// Half the strands on neighbouring picks where the last third begins.
    HalfAtOnce,
    /// So many pairs, evenly over a share of the tail.
    Even {
        /// Pairs taken out, one to five.
        pairs: u32,
        /// Share of the tail that is tapered, above 0 and at most 1.
        share: f64,
    },
    /// Where the largest step is least, by the chooser.
    Chosen,
}

impl TaperWish {
    /// The word of files and commands; a plain `even` is the common one.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            TaperWish::Common => "common",
            TaperWish::None => "none",
            TaperWish::HalfAtOnce => "half-at-once",
            TaperWish::Even { .. } => "even",
            TaperWish::Chosen => "chosen",
        }
    }

    /// From its word: `common`, `none`, `half-at-once` or `chosen`.
    #[must_use]
    pub fn from_word(word: &str) -> Option<TaperWish> {
        match word.trim().to_ascii_lowercase().as_str() {
            "common" | "even" => Some(TaperWish::Common),
            "none" => Some(TaperWish::None),
            "half-at-once" => Some(TaperWish::HalfAtOnce),
            "chosen" | "best" => Some(TaperWish::Chosen),
            _ => None,
        }
    }
}

/// A taper that cannot be made.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum TaperError {
    /// Too many or too few pairs.
    #[error("{given} pairs cannot be taken out of twelve strands: one to five can")]
    Pairs {
        /// Pairs wanted.
        given: u32,
    },
    /// A share of the tail that is none.
    #[error("a taper over {given} of the tail: the share must be above 0 and at most 1")]
    Share {
        /// Share wanted.
        given: f64,
    },
    /// Fewer picks than pairs.
    #[error("the taper has {picks} whole picks for {pairs} pairs: lengthen the bury or take out fewer pairs")]
    TooShort {
        /// Whole picks there are.
        picks: u32,
        /// Pairs to take out.
        pairs: u32,
    },
    /// No schedule leaves the wanted grip margin.
    #[error("no taper of {pairs} pairs leaves a grip margin of {wanted:.2}: lengthen the bury or take out fewer pairs")]
    NoneHolds {
        /// Pairs to take out.
        pairs: u32,
        /// Margin wanted.
        wanted: f64,
    },
}

/// A tail tapered as common practice does, before rounding to picks.
#[must_use]
pub fn common(bury: f64) -> Tail {
    even(bury, COMMON_PAIRS, TAPERED_SHARE)
}

/// Pairs evenly over a share of the tail, before rounding to picks.
#[must_use]
pub fn even(bury: f64, pairs: u32, share: f64) -> Tail {
    let spacing = bury * share / f64::from(pairs.max(1));
    let steps = (1..=pairs).map(|step| (spacing * f64::from(step), STRANDS - 2 * (pairs + 1 - step))).collect();
    Tail { bury, steps, cut: SLANT.min(spacing) }
}

/// The tail a wish asks for, with strands out at whole picks of length `pick`
/// counted from the bitter end. [`TaperWish::Chosen`] is not answered here.
///
/// # Errors
/// When the wish cannot be, or the taper holds fewer picks than pairs.
pub fn tail_for(wish: TaperWish, bury: f64, pick: f64) -> Result<Tail, TaperError> {
    match wish {
        TaperWish::None => Ok(Tail::blunt(bury)),
        TaperWish::Common | TaperWish::Chosen => on_picks(&common(bury), pick),
        TaperWish::Even { pairs, share } => {
            if !(1..=5).contains(&pairs) {
                return Err(TaperError::Pairs { given: pairs });
            }
            if !(share > 0.0 && share <= 1.0) {
                return Err(TaperError::Share { given: share });
            }
            on_picks(&even(bury, pairs, share), pick)
        }
        TaperWish::HalfAtOnce => {
            let first = (bury * TAPERED_SHARE / pick).round();
            let steps = (0..COMMON_PAIRS)
                .map(|step| {
                    let back = f64::from(COMMON_PAIRS - 1 - step);
                    ((first - back) * pick, STRANDS - 2 * (COMMON_PAIRS - step))
                })
                .collect();
            on_picks(&Tail { bury, steps, cut: SLANT }, pick)
        }
    }
}

/// A schedule with its steps moved to the nearest whole pick, each on its own.
pub(crate) fn on_picks(tail: &Tail, pick: f64) -> Result<Tail, TaperError> {
    let mut steps = Vec::with_capacity(tail.steps.len());
    let mut last = 0.0;
    for (at, left) in &tail.steps {
        let number = (at / pick).round().max(last + 1.0);
        steps.push((number * pick, *left));
        last = number;
    }
    let cut = steps.first().map_or(tail.cut, |(first, _)| tail.cut.min(*first));
    if last * pick > tail.bury {
        let picks = (tail.bury / pick).floor() as u32;
        return Err(TaperError::TooShort { picks, pairs: tail.steps.len() as u32 });
    }
    Ok(Tail { bury: tail.bury, steps, cut })
}
