//! Grip at a load: friction that falls with load, contact that begins with it.
//!
//! Coulomb friction on a closed braid has one grip margin for every tension.
//! Two things are left out of that. **Onset**: a braid closes on its tail only
//! as tension comes on, so near slack a share `c(T)` of the contact is there;
//! no law for splices is published, the form and its range are ours, and the
//! twine carries the rest. **Load**: the friction of some polymers falls as
//! `F = a N^n`, `n` about 0.75; an option, off by default. With both, `To = u T`
//! along the bury obeys `du / (u^n c(u T)) = mu c_f k^n dx` up to constants,
//! which separates: the margin is a sum over the tail divided by an integral
//! over `u` from `1 - rho` to one.

use crate::grip::{Hold, contact_at, grip_needed, sum_with_exponent};
use crate::prior::{Belief, Range, Span};
use crate::tail::Slice;
use units::Force;

/// Tension over which the braid closes on its tail, share of the rope's
/// strength. Ours, no source: nobody has measured it.
pub const ONSET: Range = Range::new(0.000_5, 0.005);
/// Tension at which friction is taken as it is stated where it changes with
/// load, share of the rope's strength: a usual working load, our choice.
pub const REFERENCE_SHARE: f64 = 0.2;
/// A rope nearly slack, share of its strength. Ours.
pub const NEARLY_SLACK: f64 = 0.001;

/// How friction and contact depend on load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GripLaw {
    /// Exponent `n` of `F = a N^n`; one is Coulomb's.
    pub exponent: f64,
    /// Tension over which the braid closes, share of the rope's strength.
    pub onset: Range,
}

impl GripLaw {
    /// Coulomb's friction, and the onset believed in.
    pub const COULOMB: GripLaw = GripLaw { exponent: 1.0, onset: ONSET };
}

/// The grip margin at one load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoadGrip {
    /// `working load`, `peak load`, `listed strength`, `nearly slack`.
    pub what: &'static str,
    /// The load.
    pub load: Force,
    /// What the tail carries of it at the throat.
    pub tail: Force,
    /// The margin there.
    pub margin: Span<f64>,
}

/// `integral of du / (u^n c(u))` from `1 - rho` to one, where the braid closes
/// over a tension of `onset` times the load: `ln(1/(1-rho))` for a closed braid
/// and `n = 1`.
///
/// ```
/// use splice::{grip_needed, needed_at};
/// assert!((needed_at(0.5, 1.0, 0.0) - grip_needed(0.5)).abs() < 1e-9);
/// // A load a tenth of the onset closes the braid on a tenth of the contact.
/// assert!(needed_at(0.5, 1.0, 10.0) > 9.0 * grip_needed(0.5));
/// ```
#[must_use]
pub fn needed_at(rho: f64, exponent: f64, onset: f64) -> f64 {
    // Simpson's rule over the logarithm of u, in which the integrand is flat.
    const HALVES: u32 = 64;
    let (low, step) = ((1.0 - rho).ln(), grip_needed(rho) / f64::from(HALVES));
    let at = |i: u32| {
        let u = (low + step * f64::from(i)).exp();
        u.powf(1.0 - exponent) / contact_at(u, onset).max(1e-300)
    };
    let inner = (1..HALVES).map(|i| at(i) * if i % 2 == 1 { 4.0 } else { 2.0 }).sum::<f64>();
    (at(0) + inner + at(HALVES)) * step / 3.0
}

/// What the margins at loads are worked out for.
pub(crate) struct LoadsRequest<'a> {
    pub belief: &'a Belief,
    pub hold: &'a Hold,
    pub slices: &'a [Slice],
    pub rho: f64,
    pub law: GripLaw,
    pub strength: Force,
}

/// The margin at each of some loads.
pub(crate) fn grip_at_loads(request: &LoadsRequest, loads: &[(&'static str, Force)]) -> Vec<LoadGrip> {
    let law = request.law;
    let coulomb = (law.exponent - 1.0).abs() < 1e-9;
    // Per unit of what is needed, at the reference tension.
    let per_needed = if coulomb {
        request.hold.margin.map(|margin| margin * grip_needed(request.rho))
    } else {
        request.belief.span(|draw| draw.friction * sum_with_exponent(&draw.braid, request.slices, law.exponent))
    };
    let usual_onset = (law.onset.low * law.onset.high).sqrt();
    let each = |(what, load): &(&'static str, Force)| {
        let share = *load / request.strength;
        let by_load = (share / REFERENCE_SHARE).powf(law.exponent - 1.0);
        let margin = |per: f64, onset: f64| per * by_load / needed_at(request.rho, law.exponent, onset / share);
        LoadGrip {
            what,
            load: *load,
            tail: *load * request.rho,
            margin: Span {
                low: margin(per_needed.low, law.onset.high),
                usual: margin(per_needed.usual, usual_onset),
                high: margin(per_needed.high, law.onset.low),
            },
        }
    };
    loads.iter().filter(|(_, load)| *load > Force::ZERO).map(each).collect()
}
