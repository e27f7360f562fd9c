//! Wind: pressure, what the boat feels of it, and how it grows with height.

use sources::Sourced;
use units::{Angle, Length, Pressure, Speed};

/// Air, kg/m3, at sea level and 15 °C.
pub const AIR_DENSITY: f64 = 1.225;

/// Where the logarithm of the wind profile ends: roughness of open water, m.
pub const ROUGHNESS_M: Sourced<f64> = Sourced::new(0.005, sources::ORC_VPP_2023.at("eq. 7.1"));

/// Pressure of wind brought to rest: density V² / 2.
///
/// ```
/// use rig::wind::pressure;
/// use units::Speed;
/// assert!((pressure(Speed::of_knots(1.0)).to_pa() - 0.1621).abs() < 1e-4);
/// ```
#[must_use]
pub fn pressure(speed: Speed) -> Pressure {
    let v = speed.to_m_per_s();
    Pressure::of_pa(0.5 * AIR_DENSITY * v * v)
}

/// The wind the boat feels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Apparent {
    /// Its speed.
    pub speed: Speed,
    /// Its angle from ahead.
    pub angle: Angle,
}

/// True wind and the boat's way through it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sailing {
    /// True wind speed.
    pub wind: Speed,
    /// True wind angle from ahead.
    pub angle: Angle,
    /// Boat speed.
    pub boat: Speed,
    /// Heel: shortens the wind across the mast.
    pub heel: Angle,
}

/// Apparent wind in the plane normal to the mast: the part across the boat
/// is shortened by the cosine of the heel.
///
/// ```
/// use rig::wind::{Sailing, apparent};
/// use units::{Angle, Speed};
/// let felt = apparent(&Sailing {
///     wind: Speed::of_m_per_s(10.0), angle: Angle::of_degrees(90.0),
///     boat: Speed::of_m_per_s(10.0), heel: Angle::ZERO,
/// });
/// assert!((felt.speed.to_m_per_s() - 14.142136).abs() < 1e-6);
/// assert!((felt.angle.to_degrees() - 45.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn apparent(sailing: &Sailing) -> Apparent {
    let ahead = sailing.wind.to_m_per_s() * sailing.angle.cos() + sailing.boat.to_m_per_s();
    let across = sailing.wind.to_m_per_s() * sailing.angle.sin() * sailing.heel.cos();
    Apparent { speed: Speed::of_m_per_s(ahead.hypot(across)), angle: Angle::of_radians(across.atan2(ahead)) }
}

/// Wind at a height over wind at 10 m: ln(h/z0) / ln(10 m/z0); `None` at or
/// below the roughness length, where the profile ends.
///
/// ```
/// use units::Length;
/// let share = rig::wind::gradient(Length::of_m(2.0)).unwrap();
/// assert!((share - 0.7883).abs() < 1e-4);
/// ```
#[must_use]
pub fn gradient(height: Length) -> Option<f64> {
    let roughness = ROUGHNESS_M.get()?;
    (height.to_m() > roughness).then(|| (height.to_m() / roughness).ln() / (10.0 / roughness).ln())
}
