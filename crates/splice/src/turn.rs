//! What a strand's turn over a step costs: one coefficient, from six breaks.
//!
//! A strand that turns over the end of a tail or a step of its taper is
//! weakened in proportion to the turn, `1 - c t`, `t` in radians. The
//! coefficient is fitted on one published series alone: hollow polyester braid
//! broken with tapered and with blunt buries. Any strength that uses it is
//! indicative. What it was fitted on is no validation of it; the HMPE series
//! of blunt ends is its prediction, and [`prediction`] says how far off it is.

use crate::braid::{Braid, BraidError, Shape};
use crate::prior::Range;
use crate::taper;
use cordage::Fibre;
use sources::{BREAKS_2009, BREAKS_HMPE_6, Citation};
use units::Angle;

/// Breaks of one rope size: tapered and blunt, in pounds-force.
struct Series {
    tapered: &'static [f64],
    blunt: &'static [f64],
}

/// The series the coefficient is fitted on.
const BREAKS: [Series; 2] =
    [Series { tapered: &[4460.0, 4400.0], blunt: &[4006.0, 4084.0] }, Series { tapered: &[5554.0], blunt: &[5118.0] }];

/// Where it is from.
pub const FITTED_ON: Citation = BREAKS_2009.at("six breaks, tapered and blunt");

/// Shape taken for that rope, whose pitch was not reported: a polyester braid
/// of 15 degrees, the least the reference gives for it, opened by the radii
/// that follow from areas.
const ANGLE_DEGREES: f64 = 15.0;
const INFLATION: f64 = 1.732_050_807_568_877_2;

/// Student's t for 95 %, two-sided, two degrees of freedom.
const T_2: f64 = 4.303;

/// The fitted coefficient and what is known of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TurnPenalty {
    /// Loss per radian of turn.
    pub per_radian: f64,
    /// Low end of its 95 % interval; a turn cannot strengthen.
    pub low: f64,
    /// High end of its 95 % interval.
    pub high: f64,
    /// Root mean square of what the fit leaves, share of strength.
    pub residual: f64,
    /// The largest turn in the fitted breaks, radians; beyond it the
    /// coefficient is not used.
    pub largest_turn: f64,
}

/// The coefficient, fitted by least squares on the ratio of each blunt break
/// to the mean of the tapered ones of its size.
///
/// # Errors
/// Never for the shape of this module; passed on from the braid.
pub fn turn_penalty() -> Result<TurnPenalty, BraidError> {
    let braid = Braid::new(Shape::new(Angle::of_degrees(ANGLE_DEGREES), INFLATION))?;
    let angle_share = braid.shortened(1.0);
    let turn = braid.turn(1.0, 0.0);
    let mut ratios = Vec::new();
    for series in &BREAKS {
        let mean = series.tapered.iter().sum::<f64>() / series.tapered.len() as f64;
        ratios.extend(series.blunt.iter().map(|load| load / mean));
    }
    // The tapered breaks' own small penalty is inside their mean: ratio =
    // angle share x (1 - c t), so c of each break is explicit and the least
    // squares answer is their mean, as every break has the same turn.
    let each = ratios.iter().map(|ratio| (1.0 - ratio / angle_share) / turn).collect::<Vec<_>>();
    let count = each.len() as f64;
    let mean = each.iter().sum::<f64>() / count;
    let spread = (each.iter().map(|c| (c - mean).powi(2)).sum::<f64>() / (count - 1.0)).sqrt();
    let half = T_2 * spread / count.sqrt();
    let per_radian = mean.max(0.0);
    let residual = (ratios.iter().map(|ratio| (ratio - angle_share * (1.0 - per_radian * turn)).powi(2)).sum::<f64>()
        / count)
        .sqrt();
    Ok(TurnPenalty {
        per_radian,
        low: (mean - half).max(0.0),
        high: (mean + half).max(0.0),
        residual,
        largest_turn: turn,
    })
}

/// The blunt HMPE ends of the other series: predicted and observed share of
/// the average strength.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prediction {
    /// Share predicted for a blunt end.
    pub predicted: f64,
    /// Lowest observed.
    pub observed_low: f64,
    /// Highest observed.
    pub observed_high: f64,
    /// Where it was observed.
    pub citation: Citation,
}

/// What the coefficient says of a series it was not fitted on.
///
/// # Errors
/// When the angle and inflation cannot be a braid.
pub fn prediction(angle: Angle, inflation: f64) -> Result<Prediction, BraidError> {
    let penalty = turn_penalty()?;
    let braid = Braid::new(Shape::new(angle, inflation))?;
    let predicted = braid.shortened(1.0) * (1.0 - penalty.per_radian * braid.turn(1.0, 0.0));
    Ok(Prediction {
        predicted,
        observed_low: 0.80,
        observed_high: 0.87,
        citation: BREAKS_HMPE_6.at("blunt ends, n = 3"),
    })
}

/// What square ends cost that the coefficient does not know of: the fibres it
/// was not fitted on, taken from tests of one of them.
///
/// Square ends of HMPE buries lost 13 to 20 % in three breaks, more than the
/// coefficient fitted on polyester says of any braid. Where a tail of a stiff,
/// slippery fibre ends square the tests stand and not the model; a step of one
/// pair lost nothing in two tapered series, and between them the difference is
/// shared out by the turn. The form is ours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SquareEnd {
    /// Share of strength left by a full tail's square end.
    pub left: Range,
    /// Was it tested in this very fibre?
    pub tested: bool,
    /// Where it was observed.
    pub citation: Citation,
}

/// What is known of a fibre's square ends beside the coefficient; `None` where
/// the coefficient's own tests stand for it.
#[must_use]
pub fn square_end(fibre: Fibre) -> Option<SquareEnd> {
    let tested = fibre == Fibre::Hmpe;
    matches!(fibre, Fibre::Hmpe | Fibre::Lcp | Fibre::Pbo | Fibre::Aramid).then_some(SquareEnd {
        left: Range::new(0.80, 0.87),
        tested,
        citation: BREAKS_HMPE_6.at("blunt ends, n = 3"),
    })
}

/// What a step takes off in addition where tests say of a full square end that
/// less is left than the model says: nothing up to the turn of one pair, all of
/// the difference at that of a whole tail.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SquareLoss {
    /// Turns at which it begins and is whole, radians.
    pair: f64,
    whole: f64,
    /// All of the difference.
    most: f64,
}

impl SquareLoss {
    /// In a braid where a full square end leaves `left`.
    pub(crate) fn of(braid: &Braid, per_radian: f64, left: f64) -> SquareLoss {
        let (pair, whole) = (braid.turn(1.0, 1.0 - 2.0 / f64::from(crate::STRANDS)), braid.turn(1.0, 0.0));
        let model = braid.shortened(1.0) * (1.0 - per_radian * whole);
        SquareLoss { pair, whole, most: (model - left).max(0.0) }
    }

    /// Share of strength to take off at a turn, radians.
    pub(crate) fn at(self, turn: f64) -> f64 {
        ((turn - self.pair) / (self.whole - self.pair)).clamp(0.0, 1.0) * self.most
    }
}

/// Share left at a step from `thick` to `thin`, spread over `length`
/// diameters: the inflated angle's, and the turn's.
#[must_use]
pub fn step_share(braid: &Braid, thick: f64, thin: f64, length: f64, per_radian: f64) -> f64 {
    braid.shortened(thick) * (1.0 - per_radian * braid.turn_over(thick, thin, length))
}

/// Length over which one strand's end is cut on the slant, in diameters.
pub const STRAND_SLANT: f64 = taper::SLANT / 3.0;
