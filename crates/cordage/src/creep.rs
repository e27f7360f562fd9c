//! Creep of HMPE under a load that stands: how much faster it goes when warmer
//! or more loaded, and, from the user's own figure alone, how long until the
//! rope is to be discarded.
//!
//! Eyring's law, rate ~ exp(-(Ea - σ V*) / k T), with the activation energy and
//! volume of a molecular simulation. It has no prefactor, so it gives ratios
//! and no rate: without a measured rate the life is not assessed. Not covered:
//! the part of creep that comes back, and other fibres.

use crate::{Fibre, Rope};
use sources::{Citation, DNV_E303, Finding, GIVEN, Grade, OCONNOR_ROBBINS_2020, OFFSHORE_2012, OURS, Sourced, Step};
use units::{Force, Pressure, Sentence, Value};

/// Activation energy of creep, electronvolts.
pub const ACTIVATION_ENERGY_EV: Sourced<f64> = Sourced::new(1.5, OCONNOR_ROBBINS_2020.at("abstract, Ea"));

/// Activation volume of creep, cubic ångströms.
pub const ACTIVATION_VOLUME_A3: Sourced<f64> = Sourced::new(45.0, OCONNOR_ROBBINS_2020.at("abstract, V*"));

/// Lasting stretch at which HMPE is discarded, share of its length.
pub const DISCARD_AT: Sourced<f64> = Sourced::new(0.10, OFFSHORE_2012.at("10 % permanent elongation"));

/// Margin on the life to creep failure of rope that can be taken in and looked at.
pub const LIFE_MARGIN: Sourced<f64> = Sourced::new(3.0, DNV_E303.at("creep margin: 3 mobile, 5 to 8 long term"));

/// Boltzmann's constant, eV/K, and one electronvolt in joules: definitions of the SI.
const BOLTZMANN_EV: f64 = 8.617_333_262e-5;
const JOULES_PER_EV: f64 = 1.602_176_634e-19;
const ZERO_CELSIUS: f64 = 273.15;

/// A rate of creep that somebody measured: supplier's sheet or own test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CreepRate {
    /// Lasting stretch a year, share of the length.
    pub per_year: f64,
    /// The load it was measured under.
    pub load: Force,
    /// The temperature it was measured at, degrees Celsius.
    pub celsius: f64,
}

/// A load that stands, and how warm the rope is meanwhile.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Standing {
    /// The load.
    pub load: Force,
    /// Temperature of the rope, degrees Celsius.
    pub celsius: f64,
    /// How long it is to stand in all, years.
    pub years: f64,
}

/// What a standing load does to an HMPE rope.
#[derive(Debug, Clone, PartialEq)]
pub struct Creep {
    /// Stress in the fibre that carries.
    pub stress: Pressure,
    /// How many times faster it creeps 10 degrees warmer.
    pub ten_degrees_warmer: f64,
    /// How many times faster it creeps under a tenth more load.
    pub tenth_more_load: f64,
    /// Lasting stretch a year; `None` is not assessed.
    pub per_year: Option<f64>,
    /// Years until it is to be discarded, margin taken off; `None` is not assessed.
    pub years: Option<f64>,
    /// How it was worked out.
    pub working: Vec<Step>,
}

/// How many times faster HMPE creeps in the second state than in the first;
/// each is a stress and a temperature in degrees Celsius.
///
/// # Example
/// ```
/// use units::Pressure;
/// let half = Pressure::of_mpa(500.0);
/// let warmer = cordage::creep_ratio((half, 20.0), (half, 30.0));
/// assert!((warmer - 5.90).abs() < 0.01);
/// let harder = cordage::creep_ratio((half, 20.0), (Pressure::of_mpa(600.0), 20.0));
/// assert!((harder - 3.04).abs() < 0.01);
/// ```
#[must_use]
pub fn creep_ratio(first: (Pressure, f64), second: (Pressure, f64)) -> f64 {
    (exponent(second) - exponent(first)).exp()
}

/// -(Ea - σ V*) / k T.
fn exponent((stress, celsius): (Pressure, f64)) -> f64 {
    let energy = ACTIVATION_ENERGY_EV.get().unwrap_or(0.0);
    let volume_m3 = ACTIVATION_VOLUME_A3.get().unwrap_or(0.0) * 1e-30;
    let lowered = stress.to_pa() * volume_m3 / JOULES_PER_EV;
    -(energy - lowered) / (BOLTZMANN_EV * (celsius + ZERO_CELSIUS))
}

/// Stress in the fibre that carries; `None` where the core was not weighed.
#[must_use]
pub fn fibre_stress(rope: &Rope, load: Force) -> Option<Pressure> {
    let carrying = if rope.construction.load_on_core() { rope.core_linear_density? } else { rope.linear_density };
    let density = rope.fibre.facts().density.get()?;
    Some(Pressure::of_pa(load.si() / carrying.si() * density.si()))
}

/// Creep of a rope under a standing load; `None` for other fibres than HMPE,
/// and where the core was not weighed.
#[must_use]
pub fn standing_creep(rope: &Rope, standing: &Standing) -> Option<Creep> {
    const EYRING: Citation = OCONNOR_ROBBINS_2020.at("Ea 1.5 eV, V* 45 Å3; ratios alone");
    if rope.fibre != Fibre::Hmpe {
        return None;
    }
    let stress = fibre_stress(rope, standing.load)?;
    let now = (stress, standing.celsius);
    let ten_degrees_warmer = creep_ratio(now, (stress, standing.celsius + 10.0));
    let tenth_more_load = creep_ratio(now, (stress * 1.1, standing.celsius));
    let mut working = vec![
        Step::new(
            "stress in the fibre",
            "load / mass per length x fibre density",
            stress,
            OURS.at("the part that carries"),
        )
        .input("load", standing.load),
        Step::new("creep, 10 degrees warmer", "exp(-(Ea - σ V*) / kT), over now", ten_degrees_warmer, EYRING)
            .input("celsius", standing.celsius),
        Step::new("creep, a tenth more load", "exp(0.1 σ V* / kT)", tenth_more_load, EYRING),
    ];
    let per_year = rope.creep_rate.and_then(|measured| {
        let then = fibre_stress(rope, measured.load)?;
        let ratio = creep_ratio((then, measured.celsius), now);
        let per_year = measured.per_year * ratio;
        working.push(
            Step::new(
                "creep a year",
                "measured x ratio of the two states",
                Value::Share(per_year),
                GIVEN.at("rope list, creep"),
            )
            .input("measured", Value::Share(measured.per_year))
            .input("ratio", ratio),
        );
        Some(per_year)
    });
    let years = per_year.filter(|rate| *rate > 0.0).map(|rate| {
        let (limit, margin) = (DISCARD_AT.get().unwrap_or(0.1), LIFE_MARGIN.get().unwrap_or(3.0));
        let years = limit / rate / margin;
        working.push(
            Step::new("years under this load", "10 % / rate / margin", years, LIFE_MARGIN.citation)
                .input("margin", margin),
        );
        years
    });
    Some(Creep { stress, ten_degrees_warmer, tenth_more_load, per_year, years, working })
}

/// What is to be said of the life; `None` where it lasts.
#[must_use]
pub fn creep_life(creep: &Creep, standing: &Standing) -> Option<Finding> {
    let Some(years) = creep.years else {
        let text = Sentence::new(
            "creep under the standing {} at {} degrees for {} years is not assessed: its rate is not in the rope list; 10 degrees warmer it is {} times as fast, a tenth more load {} times",
        )
        .with(standing.load)
        .with(standing.celsius)
        .with(standing.years)
        .with(creep.ten_degrees_warmer)
        .with(creep.tenth_more_load);
        return Some(
            Finding::new(Grade::Note, "creep-not-assessed", text, OCONNOR_ROBBINS_2020.at("ratios alone")).remedy(
                Sentence::new(
                    "put creep_per_year, creep_load and creep_celsius of the supplier's sheet in the rope list",
                ),
            ),
        );
    };
    (years < standing.years).then(|| {
        let text = Sentence::new("it creeps {} a year under the standing {}: {} years to discard, {} are wanted")
            .with(Value::Share(creep.per_year.unwrap_or(0.0)))
            .with(standing.load)
            .with(years)
            .with(standing.years);
        Finding::new(Grade::Caution, "creep-life", text, LIFE_MARGIN.citation)
            .remedy(Sentence::new("a thicker rope, a low-creep fibre, or ease it when she lies at her berth"))
    })
}
