//! Wind on a line, its weight in the water, and friction over fairleads.

use cordage::{Fibre, Rope};
use rig::{Bearing, Run, tackle};
use sources::{COMMON_PRACTICE, ORC_VPP_2023, Sourced};
use units::{Force, Length, Speed};

/// Drag coefficient of a rope across the wind.
pub const ROPE_DRAG: Sourced<f64> = Sourced::new(1.0, ORC_VPP_2023.at("table 5.10, rigging"));

/// Friction of bare HMPE on metal, least and most: no published value was read.
pub const BARE_FRICTION: Sourced<(f64, f64)> =
    Sourced::new((0.05, 0.10), COMMON_PRACTICE.at("HMPE on metal, 0.05 to 0.10"));

/// Sea water, kg/m3.
pub(crate) const SEA_WATER: f64 = 1025.0;

/// Wind's pull on a line across it: q Cd d L.
///
/// # Example
/// ```
/// use units::{Length, Speed};
/// let pull = makeup::wind_drag(Speed::of_m_per_s(10.0), Length::of_mm(10.0), Length::of_m(10.0));
/// assert!((pull.to_n() - 6.125).abs() < 1e-9);
/// ```
#[must_use]
pub fn wind_drag(wind: Speed, diameter: Length, length: Length) -> Force {
    let pressure = rig::wind::pressure(wind).to_pa();
    Force::of_n(pressure * ROPE_DRAG.get().unwrap_or(1.0) * diameter.to_m() * length.to_m())
}

/// Weight of a fibre under sea water over its dry weight; below nothing it floats.
///
/// # Example
/// ```
/// use cordage::Fibre;
/// assert!((makeup::weight_in_water(Fibre::Polyester) - 0.2572).abs() < 1e-4);
/// assert!((makeup::weight_in_water(Fibre::Hmpe) + 0.0567).abs() < 1e-4);
/// ```
#[must_use]
pub fn weight_in_water(fibre: Fibre) -> f64 {
    let density = fibre.facts().density.get().map_or(SEA_WATER, |density| density.to_kg_per_m3());
    1.0 - SEA_WATER / density
}

/// Diameter that lies outside: the rope's, or the bare core's.
#[must_use]
pub fn bare_diameter(rope: &Rope) -> Option<Length> {
    rope.core_diameter.filter(|_| rope.construction.has_cover())
}

/// Pull at the hand over pull at the working end through a lead's fairleads
/// alone: cover on, and bare from least to most friction; `None` without
/// fairleads.
#[must_use]
pub fn over_fairleads(run: &Run) -> Option<FairleadFriction> {
    let wraps: Vec<_> =
        run.turns.iter().filter(|turn| turn.bearing == Bearing::Fairlead).map(|turn| turn.wrap).collect();
    if wraps.is_empty() {
        return None;
    }
    let through = |friction: f64| wraps.iter().map(|wrap| tackle::capstan(friction, *wrap)).product::<f64>();
    let (least, most) = BARE_FRICTION.get()?;
    Some(FairleadFriction {
        fairleads: wraps.len(),
        covered: through(tackle::FAIRLEAD_FRICTION.get()?),
        bare: (through(least), through(most)),
    })
}

/// What fairleads do to the pull.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FairleadFriction {
    /// How many.
    pub fairleads: usize,
    /// Pull at the hand over pull at the end, cover on.
    pub covered: f64,
    /// The same bare, least and most.
    pub bare: (f64, f64),
}
