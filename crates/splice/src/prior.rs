//! How slippery the fibre and how open the braid: ranges, and what is left of
//! them once the splices that are known to hold are made to hold.
//!
//! Friction, angle and inflation of a rope nobody measured are taken from the
//! widest honest ranges. Each draw is kept only if the common-practice splice,
//! as made (taper and all), holds with it; draws that do not hold the shorter
//! bury one series found at full strength count for less. Low, usual and high
//! are the 5th, 50th and 95th percentile of what is kept, everywhere in the
//! program. What conditions the range is no validation of it.
//!
//! Draws are an additive low-discrepancy sequence with a fixed start, so the
//! same question has the same answer on every machine.

use crate::braid::{Braid, BraidError, FULL_RADIUS, Shape, full_radius_from};
use crate::tail::{Slice, grip_sum};
use crate::taper;
use cordage::Fibre;
use sources::{COMMON_PRACTICE, Citation, OURS, PS_SPLICE, TEXTILE_NOTES};
use std::sync::OnceLock;
use units::Angle;

/// A range of a plain number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Its low end.
    pub low: f64,
    /// Its high end.
    pub high: f64,
}

impl Range {
    /// From low to high.
    #[must_use]
    pub const fn new(low: f64, high: f64) -> Range {
        Range { low, high }
    }

    /// The value a share of the way along.
    #[must_use]
    pub fn at(self, share: f64) -> f64 {
        self.low + share * (self.high - self.low)
    }
}

/// What is believed of a fibre's braids before anything is observed.
#[derive(Debug, Clone, PartialEq)]
pub struct Prior {
    /// Friction of strand on strand.
    pub friction: Range,
    /// Angle of the free braid's strands, degrees.
    pub angle: Range,
    /// Radius round the tail over that of the free braid.
    pub inflation: Range,
    /// On whose word the friction is.
    pub citation: Citation,
    /// Bury, in diameters, that is common practice and holds.
    pub common_bury: f64,
    /// A shorter bury found at full strength, and the weight of a draw that
    /// contradicts it.
    pub shorter: Option<(f64, f64)>,
}

/// Both bounds on the inflation: outside diameters, and means of areas.
const INFLATION: Range = Range::new(std::f64::consts::SQRT_2, 1.83);

/// The prior of a fibre. HMPE friction was read nowhere: it is the free
/// parameter. Other fibres start from single-fibre friction, which rope finish
/// lowers by an unknown amount, so their ranges reach well below it.
#[must_use]
pub fn prior(fibre: Fibre) -> Prior {
    let slippery = |low, high| Prior {
        friction: Range::new(low, high),
        angle: Range::new(10.0, 16.0),
        inflation: INFLATION,
        citation: OURS.at("friction range without a readable source"),
        common_bury: taper::HIGH_MODULUS_BURY,
        shorter: None,
    };
    let textile = |low, high, citation| Prior {
        friction: Range::new(low, high),
        angle: Range::new(12.0, 20.0),
        inflation: INFLATION,
        citation,
        common_bury: taper::OTHER_BURY,
        shorter: None,
    };
    match fibre {
        Fibre::Hmpe => Prior { shorter: Some((45.0, 0.35)), ..slippery(0.04, 0.10) },
        Fibre::Lcp | Fibre::Pbo => slippery(0.05, 0.15),
        Fibre::Aramid => slippery(0.08, 0.20),
        Fibre::Polyester => textile(0.10, 0.20, TEXTILE_NOTES.at("polyester on polyester, widened for finish")),
        Fibre::PolyesterPolyolefin | Fibre::Polypropylene => {
            textile(0.10, 0.25, OURS.at("friction range without a readable source"))
        }
        Fibre::Polyamide => textile(0.10, 0.40, TEXTILE_NOTES.at("polyamide on polyamide, widened for finish")),
        Fibre::Manila => textile(0.20, 0.50, OURS.at("friction range without a readable source")),
    }
}

/// What the bench measured of the braid, in diameters and degrees.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Measured {
    /// Length of one full turn of a strand of the free braid.
    pub pitch: Option<f64>,
    /// Diameter over a trial bury.
    pub over_bury: Option<f64>,
    /// Width of one strand.
    pub strand_width: Option<f64>,
}

/// One kept draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Draw {
    /// Friction.
    pub friction: f64,
    /// The braid.
    pub braid: Braid,
    /// Its angle, degrees.
    pub angle: f64,
    /// Its inflation.
    pub inflation: f64,
    /// How much it counts.
    pub weight: f64,
}

/// What is believed after conditioning.
#[derive(Debug, Clone, PartialEq)]
pub struct Belief {
    /// The kept draws.
    pub draws: Vec<Draw>,
    /// Weight kept over draws made.
    pub kept: f64,
    /// Where it started.
    pub prior: Prior,
}

/// Low, usual and high: 5th, 50th and 95th percentile.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span<T> {
    /// 5th percentile.
    pub low: T,
    /// Median.
    pub usual: T,
    /// 95th percentile.
    pub high: T,
}

impl<T> Span<T> {
    /// Each of the three through one function.
    pub fn map<U>(self, each: impl Fn(T) -> U) -> Span<U> {
        Span { low: each(self.low), usual: each(self.usual), high: each(self.high) }
    }
}

/// Draws made for one belief.
const DRAWS: usize = 4096;

/// Point `index` of the additive sequence in three dimensions whose steps are
/// powers of the reciprocal of the real root of `x^4 = x + 1`.
fn point(index: usize) -> [f64; 3] {
    const ROOT: f64 = 1.220_744_084_605_759_5;
    let step = |power: i32| (0.5 + (index + 1) as f64 * ROOT.powi(-power)).fract();
    [step(1), step(2), step(3)]
}

/// The splice that is known to hold, as made.
fn as_made(bury: f64) -> Vec<Slice> {
    taper::common(bury).slices()
}

/// How much a draw counts: nothing if the common-practice splice slips.
#[must_use]
pub fn weight(prior: &Prior, observed: &Observed, friction: f64, braid: &Braid) -> f64 {
    let needed = std::f64::consts::LN_2;
    if friction * grip_sum(braid, &observed.common) < needed {
        return 0.0;
    }
    match (&observed.shorter, prior.shorter) {
        (Some(slices), Some((_, weight))) if friction * grip_sum(braid, slices) < needed => weight,
        _ => 1.0,
    }
}

/// The splices the draws are conditioned on, in slices.
#[derive(Debug, Clone, PartialEq)]
pub struct Observed {
    common: Vec<Slice>,
    shorter: Option<Vec<Slice>>,
}

impl Observed {
    /// Those of a prior.
    #[must_use]
    pub fn of(prior: &Prior) -> Observed {
        Observed { common: as_made(prior.common_bury), shorter: prior.shorter.map(|(bury, _)| as_made(bury)) }
    }
}

/// The braid at a point of the prior, with what was measured in its place.
/// Returns the braid, its angle and its inflation.
///
/// # Errors
/// When what was measured cannot be a braid that takes a tail.
pub fn braid_at(prior: &Prior, measured: Measured, share: [f64; 2]) -> Result<(Braid, f64, f64), BraidError> {
    let full_radius = measured.over_bury.map_or(Ok(FULL_RADIUS), full_radius_from)?;
    let inflation = prior.inflation.at(share[1]);
    let free_radius = full_radius / inflation;
    let angle = match measured.pitch {
        Some(pitch) => (2.0 * std::f64::consts::PI * free_radius / pitch).atan().to_degrees(),
        None => prior.angle.at(share[0]),
    };
    let shape = Shape { angle: Angle::of_degrees(angle), inflation, full_radius, strand_width: measured.strand_width };
    Ok((Braid::new(shape)?, angle, inflation))
}

/// The belief about a fibre's braid, given what was measured of it. A range of
/// friction that the user states is taken as it is and conditioned on nothing.
///
/// # Errors
/// When what was measured cannot be a braid that takes a tail.
pub fn belief(fibre: Fibre, measured: Measured, friction: Option<Range>) -> Result<Belief, BraidError> {
    let prior = prior(fibre);
    // A braid in the middle of the prior tells whether the measured figures
    // can be at all; single draws that cannot be are left out.
    braid_at(&prior, measured, [0.5, 0.5])?;
    let observed = Observed::of(&prior);
    let mut draws = Vec::with_capacity(DRAWS);
    for index in 0..DRAWS {
        let [slip, angle, open] = point(index);
        let Ok((braid, angle, inflation)) = braid_at(&prior, measured, [angle, open]) else { continue };
        let assumed = prior.friction.at(slip);
        let weight = weight(&prior, &observed, assumed, &braid);
        if weight > 0.0 {
            let friction = friction.map_or(assumed, |range| range.at(slip));
            draws.push(Draw { friction, braid, angle, inflation, weight });
        }
    }
    let kept = draws.iter().map(|draw| draw.weight).sum::<f64>() / DRAWS as f64;
    if draws.is_empty() {
        return Err(BraidError::Jammed);
    }
    Ok(Belief { draws, kept, prior })
}

/// The belief about a rope of which nothing was measured, worked out once.
///
/// # Errors
/// Never for the priors of this module; passed on from [`belief`].
pub fn usual_belief(fibre: Fibre) -> Result<&'static Belief, BraidError> {
    static BELIEFS: OnceLock<[OnceLock<Result<Belief, BraidError>>; Fibre::ALL.len()]> = OnceLock::new();
    let all = BELIEFS.get_or_init(|| std::array::from_fn(|_| OnceLock::new()));
    let index = Fibre::ALL.iter().position(|each| *each == fibre).unwrap_or(0);
    let slot = &all[index];
    slot.get_or_init(|| belief(fibre, Measured::default(), None)).as_ref().map_err(|error| *error)
}

impl Belief {
    /// The usual friction, which a default is told by.
    pub(crate) fn usual_friction(&self) -> f64 {
        self.span(|draw| draw.friction).usual
    }

    /// With every draw's friction so many times as high: the middle moves, the
    /// spread and what it was conditioned on stay.
    pub(crate) fn with_friction(mut self, times: f64) -> Belief {
        self.draws.iter_mut().for_each(|draw| draw.friction *= times);
        self
    }

    /// The 5th, 50th and 95th percentile of something over the kept draws.
    #[must_use]
    pub fn span(&self, of: impl Fn(&Draw) -> f64) -> Span<f64> {
        let values = self.draws.iter().map(|draw| (of(draw), draw.weight)).collect::<Vec<_>>();
        percentiles(&values)
    }

    /// Share of the kept weight for which something holds.
    #[must_use]
    pub fn share(&self, holds: impl Fn(&Draw) -> bool) -> f64 {
        let total = self.draws.iter().map(|draw| draw.weight).sum::<f64>();
        self.draws.iter().filter(|draw| holds(draw)).map(|draw| draw.weight).sum::<f64>() / total
    }

    /// The braid that layouts are drawn for: median angle and inflation.
    ///
    /// # Errors
    /// When the measured rope cannot open so far.
    pub fn bench_braid(&self, measured: Measured) -> Result<(Braid, f64, f64), BraidError> {
        let inflation = self.span(|draw| draw.inflation).usual;
        let angle = self.span(|draw| draw.angle).usual;
        let width = |range: Range, value: f64| {
            if range.high > range.low { (value - range.low) / (range.high - range.low) } else { 0.5 }
        };
        braid_at(&self.prior, measured, [width(self.prior.angle, angle), width(self.prior.inflation, inflation)])
    }

    /// In words, what the range was conditioned on.
    #[must_use]
    pub fn conditioned_on(&self) -> (f64, Citation) {
        (self.prior.common_bury, COMMON_PRACTICE.at("the common bury holds"))
    }

    /// The shorter bury that weighs on the range, where there is one.
    #[must_use]
    pub fn weighed_by(&self) -> Option<(f64, f64, Citation)> {
        self.prior.shorter.map(|(bury, weight)| (bury, weight, PS_SPLICE.at("45 d with throat stitch")))
    }
}

/// Buckets that values are dealt into; a percentile then sorts one of them.
const BUCKETS: usize = 256;

/// The 5th, 50th and 95th percentile of weighted values: the first value, in
/// rising order, at which the weight so far reaches the share. Values are dealt
/// into buckets of equal width, since to sort them all is most of the time that
/// an end takes.
pub(crate) fn percentiles(values: &[(f64, f64)]) -> Span<f64> {
    let ends = |(low, high): (f64, f64), (value, _): &(f64, f64)| (low.min(*value), high.max(*value));
    let (low, high) = values.iter().fold((f64::INFINITY, f64::NEG_INFINITY), ends);
    let scale = BUCKETS as f64 / (high - low);
    let scale = if scale.is_finite() { scale } else { 0.0 };
    let bucket = |value: f64| (((value - low) * scale) as usize).min(BUCKETS - 1);
    let mut weights = [0.0; BUCKETS];
    values.iter().for_each(|(value, weight)| weights[bucket(*value)] += weight);
    let total = weights.iter().sum::<f64>();
    let at = |share: f64| {
        let mut sum = 0.0;
        let full = weights.iter().position(|weight| {
            sum += weight;
            *weight > 0.0 && sum >= share * total
        });
        let Some(full) = full else { return high };
        sum -= weights[full];
        let mut inside = values.iter().filter(|(value, _)| bucket(*value) == full).collect::<Vec<_>>();
        inside.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
        let reached = inside.iter().find(|(_, weight)| {
            sum += weight;
            sum >= share * total
        });
        reached.or(inside.last()).map_or(0.0, |(value, _)| *value)
    };
    Span { low: at(0.05), usual: at(0.50), high: at(0.95) }
}

#[cfg(test)]
mod tests {
    use super::{Span, percentiles};
    use proptest::prelude::*;

    /// All sorted, then counted through.
    fn counted(mut values: Vec<(f64, f64)>) -> Span<f64> {
        values.sort_by(|a, b| a.0.total_cmp(&b.0));
        let total = values.iter().map(|(_, weight)| weight).sum::<f64>();
        let at = |share: f64| {
            let mut sum = 0.0;
            let found = values.iter().find(|(_, weight)| {
                sum += weight;
                sum >= share * total
            });
            found.or(values.last()).map_or(0.0, |(value, _)| *value)
        };
        Span { low: at(0.05), usual: at(0.50), high: at(0.95) }
    }

    proptest! {
        /// Weights of whole halves, whose sums are exact in any order.
        #[test]
        fn buckets_find_what_counting_through_finds(
            values in prop::collection::vec((prop_oneof![5 => -3.0..3.0_f64, 1 => Just(1.0), 1 => Just(f64::MAX)], 1..4_u8), 1..300),
        ) {
            let values = values.into_iter().map(|(value, weight)| (value, 0.5 * f64::from(weight))).collect::<Vec<_>>();
            prop_assert_eq!(percentiles(&values), counted(values));
        }
    }
}
