//! Does a buried tail hold: grip margin, critical bury, shrinkage.
//!
//! Load passes from tail to braid by friction, `dTi/dx = -mu To tan^2 a / R`.
//! Coulomb friction with any geometry is linear in the logarithm of `To`, so
//! the friction at which the tail would just let go is
//! `mu_crit = ln(1/(1-rho)) / sum(c k dx)`, exact over stretches of even tail,
//! and the **grip margin** is the assumed friction over that. It does not
//! depend on the load: one number of diameters serves every load, and slack
//! rope has no grip at all. Own derivation from statics; a proof or break test
//! outranks it. Not covered here:
//! elasticity, and how friction and contact change with load.

use crate::braid::Braid;
use crate::prior::{Belief, Draw, Span, percentiles};
use crate::tail::{Slice, bury_for, grip_sum, grip_sum_full_contact, shrinkage};

/// Share of the load that the tail's leg of an eye carries on a pin without
/// friction.
pub const EVEN_LEGS: f64 = 0.5;

/// Share of the load that the tail's leg carries at most where the eye's pin
/// holds by friction: `e^(pi mu) / (1 + e^(pi mu))`.
///
/// ```
/// assert!((splice::leg_share(0.10) - 0.578).abs() < 0.0005);
/// assert!((splice::leg_share(0.20) - 0.652).abs() < 0.0005);
/// ```
#[must_use]
pub fn leg_share(pin_friction: f64) -> f64 {
    let ratio = (std::f64::consts::PI * pin_friction).exp();
    ratio / (1.0 + ratio)
}

/// `ln(1/(1-rho))`: what the grip must sum to for a tail that carries `rho`.
///
/// ```
/// assert!((splice::grip_needed(0.6) - 0.9163).abs() < 1e-4);
/// ```
#[must_use]
pub fn grip_needed(rho: f64) -> f64 {
    -(-rho).ln_1p()
}

/// Bury at which a tail of even thickness just holds, in diameters:
/// `R ln(1/(1-rho)) / (mu tan^2 a)`. Only for a geometry that is constant;
/// `None` without friction, where no bury holds.
#[must_use]
pub fn critical_bury_even(braid: &Braid, friction: f64, rho: f64) -> Option<f64> {
    let grip = friction * braid.grip(1.0) * braid.contact(1.0);
    (grip > 0.0).then(|| grip_needed(rho) / grip)
}

/// Grip margin of one braid and friction over a tail.
#[must_use]
pub fn margin(braid: &Braid, friction: f64, slices: &[Slice], rho: f64) -> f64 {
    friction * grip_sum(braid, slices) / grip_needed(rho)
}

/// Margin where friction falls with load as `F = a N^n`: at the tension `T`
/// that is `over_reference` times the one the friction was measured at.
/// Exact: `To^(1-n)` is linear in the sum of `c k^n`.
#[must_use]
pub fn margin_with_exponent(braid: &Braid, slices: &[Slice], friction: f64, rho: f64, law: LoadLaw) -> f64 {
    let rest = 1.0 - law.exponent;
    if rest.abs() < 1e-9 {
        return margin(braid, friction, slices, rho);
    }
    let needed = (1.0 - (1.0 - rho).powf(rest)) / rest;
    friction * sum_with_exponent(braid, slices, law.exponent) / needed / law.over_reference.powf(rest)
}

/// `sum of c k (k/k1)^(n-1) dx`, `k1` that of the full tail: the grip of a tail
/// for a friction of one where friction goes with load as `F = a N^n`.
pub(crate) fn sum_with_exponent(braid: &Braid, slices: &[Slice], exponent: f64) -> f64 {
    let full = braid.grip(1.0);
    let one = |slice: &Slice| {
        let grip = braid.grip(slice.share);
        braid.contact(slice.share) * grip * (grip / full).powf(exponent - 1.0) * slice.length
    };
    slices.iter().map(one).sum()
}

/// How friction changes with load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoadLaw {
    /// Exponent `n` of `F = a N^n`; one is Coulomb's.
    pub exponent: f64,
    /// The tension over that at which the friction was measured.
    pub over_reference: f64,
}

/// Share of the full contact between braid and tail at a tension: none when
/// slack, rising to one over `onset`. A form of ours, with a parameter no one
/// has measured; the lock stitching carries the rest.
#[must_use]
pub fn contact_at(tension_share: f64, onset: f64) -> f64 {
    if onset <= 0.0 { f64::from(u8::from(tension_share > 0.0)) } else { 1.0 - (-tension_share / onset).exp() }
}

/// What is said of a buried tail. Lengths in diameters.
#[derive(Debug, Clone, PartialEq)]
pub struct Hold {
    /// Grip margin: assumed friction over the friction it lets go at.
    pub margin: Span<f64>,
    /// The same with all inward force reaching even a thin tail.
    pub margin_full_contact: Span<f64>,
    /// Bury at which the margin would be one.
    pub critical_bury: Span<f64>,
    /// Shrinkage of the standing part over the bury.
    pub shrinkage: Span<f64>,
    /// Friction kept.
    pub friction: Span<f64>,
    /// Share of the kept weight for which the margin is at least one.
    pub chance: f64,
}

/// What is said of a tail, for all that is believed of the rope.
#[must_use]
pub fn hold(belief: &Belief, slices: &[Slice], rho: f64) -> Hold {
    let needed = grip_needed(rho);
    let margin = |draw: &Draw| draw.friction * grip_sum(&draw.braid, slices) / needed;
    let margins = belief.draws.iter().map(|draw| (margin(draw), draw.weight)).collect::<Vec<_>>();
    let weight = |margins: &mut dyn Iterator<Item = &(f64, f64)>| margins.map(|(_, weight)| weight).sum::<f64>();
    Hold {
        margin: percentiles(&margins),
        margin_full_contact: belief.span(|draw| draw.friction * grip_sum_full_contact(&draw.braid, slices) / needed),
        critical_bury: belief
            .span(|draw| bury_for(&draw.braid, slices, needed / draw.friction.max(1e-12)).unwrap_or(f64::MAX)),
        shrinkage: belief.span(|draw| shrinkage(&draw.braid, slices)),
        friction: belief.span(|draw| draw.friction),
        chance: weight(&mut margins.iter().filter(|(margin, _)| *margin >= 1.0)) / weight(&mut margins.iter()),
    }
}

/// Bury, in diameters, whose margin at the low end is the wanted one, for a
/// tail that `tail_of` makes of a bury. `None` when no bury up to 400
/// diameters has it.
#[must_use]
pub fn bury_for_margin(belief: &Belief, wanted: f64, rho: f64, tail_of: impl Fn(f64) -> Vec<Slice>) -> Option<f64> {
    let needed = grip_needed(rho);
    let low = |bury: f64| {
        let slices = tail_of(bury);
        belief.span(|draw| draw.friction * grip_sum(&draw.braid, &slices) / needed).low
    };
    let (mut short, mut long) = (1.0, 400.0);
    if low(long) < wanted {
        return None;
    }
    while long - short > 0.05 {
        let middle = (short + long) / 2.0;
        if low(middle) < wanted {
            short = middle;
        } else {
            long = middle;
        }
    }
    Some(long)
}
