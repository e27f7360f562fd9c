//! The quantities themselves. Factors are exact definitions: the inch is
//! 25.4 mm, the pound 0.45359237 kg (1959 agreement), standard gravity
//! 9.80665 m/s2 (CGPM 1901), the international nautical mile 1852 m.

use crate::quantity::{product, quantity};

/// Standard gravity, m/s2 (CGPM 1901, exact).
pub const STANDARD_GRAVITY: f64 = 9.806_65;
const INCH: f64 = 0.0254;
const FOOT: f64 = 0.3048;
const POUND: f64 = 0.453_592_37;
const POUND_FORCE: f64 = POUND * STANDARD_GRAVITY;

quantity! {
    /// A length or a position along a rope. SI: metres.
    Length, "length", example "10 mm",
    mm / of_mm / to_mm = ["mm", "millimetre", "millimetres", "millimeter", "millimeters"] * 1e-3;
    cm / of_cm / to_cm = ["cm"] * 1e-2;
    m / of_m / to_m = ["m", "metre", "metres", "meter", "meters"] * 1.0;
    inches / of_inches / to_inches = ["in", "inch", "inches", "\"", "\u{2033}"] * INCH;
    feet / of_feet / to_feet = ["ft", "foot", "feet", "'", "\u{2032}"] * FOOT, then "in";
}

quantity! {
    /// An area. SI: square metres.
    Area, "area", example "42 m2",
    mm2 / of_mm2 / to_mm2 = ["mm2", "mm²", "sq mm"] * 1e-6;
    m2 / of_m2 / to_m2 = ["m2", "m²", "sq m"] * 1.0;
    ft2 / of_ft2 / to_ft2 = ["ft2", "ft²", "sq ft"] * (FOOT * FOOT);
}

quantity! {
    /// A pull, a load, a strength. SI: newtons.
    Force, "force", example "4.5 kN",
    n / of_n / to_n = ["N", "newton", "newtons"] * 1.0;
    dan / of_dan / to_dan = ["daN"] * 10.0;
    kn / of_kn / to_kn = ["kN"] * 1e3;
    kgf / of_kgf / to_kgf = ["kgf", "kp"] * STANDARD_GRAVITY;
    tf / of_tf / to_tf = ["tf"] * (1e3 * STANDARD_GRAVITY);
    lbf / of_lbf / to_lbf = ["lbf"] * POUND_FORCE;
    kip / of_kip / to_kip = ["kip", "kips"] * (1e3 * POUND_FORCE);
}

quantity! {
    /// A mass. SI: kilograms.
    Mass, "mass", example "5200 kg",
    g / of_g / to_g = ["g", "gram", "grams"] * 1e-3;
    kg / of_kg / to_kg = ["kg"] * 1.0;
    t / of_t / to_t = ["t", "tonne", "tonnes"] * 1e3;
    lb / of_lb / to_lb = ["lb", "lbs", "pound", "pounds"] * POUND, then "oz";
    oz / of_oz / to_oz = ["oz", "ounce", "ounces"] * (POUND / 16.0);
}

quantity! {
    /// Mass per length of rope. SI: kilograms per metre.
    LinearDensity, "linear density", example "62 g/m",
    g_per_m / of_g_per_m / to_g_per_m = ["g/m"] * 1e-3;
    kg_per_m / of_kg_per_m / to_kg_per_m = ["kg/m"] * 1.0;
    tex / of_tex / to_tex = ["tex"] * 1e-6;
    ktex / of_ktex / to_ktex = ["ktex"] * 1e-3;
    lb_per_ft / of_lb_per_ft / to_lb_per_ft = ["lb/ft"] * (POUND / FOOT);
    lb_per_100ft / of_lb_per_100ft / to_lb_per_100ft = ["lb/100 ft", "lb/100ft"] * (POUND / FOOT / 100.0);
}

quantity! {
    /// Strength or stiffness for its mass per length. SI: N m/kg; 1 N/tex is 1e6 of it.
    Tenacity, "tenacity", example "2.1 N/tex",
    n_per_tex / of_n_per_tex / to_n_per_tex = ["N/tex"] * 1e6;
    cn_per_dtex / of_cn_per_dtex / to_cn_per_dtex = ["cN/dtex"] * 1e5;
}

quantity! {
    /// Mass per volume. SI: kilograms per cubic metre.
    Density, "density", example "970 kg/m3",
    kg_per_m3 / of_kg_per_m3 / to_kg_per_m3 = ["kg/m3", "kg/m³"] * 1.0;
    g_per_cm3 / of_g_per_cm3 / to_g_per_cm3 = ["g/cm3", "g/cm³"] * 1e3;
}

quantity! {
    /// A speed, of wind or boat. SI: metres per second.
    Speed, "speed", example "25 kn",
    m_per_s / of_m_per_s / to_m_per_s = ["m/s"] * 1.0;
    knots / of_knots / to_knots = ["kn", "kt", "knots", "knot"] * (1852.0 / 3600.0);
    km_per_h / of_km_per_h / to_km_per_h = ["km/h"] * (1.0 / 3.6);
    mph / of_mph / to_mph = ["mph"] * 0.447_04;
}

quantity! {
    /// Force per area. SI: pascals.
    Pressure, "pressure", example "120 Pa",
    pa / of_pa / to_pa = ["Pa", "N/m2", "N/m²"] * 1.0;
    kpa / of_kpa / to_kpa = ["kPa"] * 1e3;
    mpa / of_mpa / to_mpa = ["MPa"] * 1e6;
    psf / of_psf / to_psf = ["lbf/ft2", "lbf/ft²", "psf"] * (POUND_FORCE / (FOOT * FOOT));
}

quantity! {
    /// A turning moment. SI: newton metres.
    Moment, "moment", example "32 kN m",
    n_m / of_n_m / to_n_m = ["N m", "Nm"] * 1.0;
    kn_m / of_kn_m / to_kn_m = ["kN m", "kNm"] * 1e3;
    ft_lbf / of_ft_lbf / to_ft_lbf = ["ft lbf", "lbf ft", "ft-lbf"] * (POUND_FORCE * FOOT);
}

quantity! {
    /// An angle. SI: radians.
    Angle, "angle", example "30 deg",
    degrees / of_degrees / to_degrees = ["deg", "°", "degree", "degrees"] * (std::f64::consts::PI / 180.0);
    radians / of_radians / to_radians = ["rad"] * 1.0;
}

quantity! {
    /// A stretch of time. SI: seconds.
    Duration, "time", example "25 min",
    seconds / of_seconds / to_seconds = ["s", "sec"] * 1.0;
    minutes / of_minutes / to_minutes = ["min"] * 60.0;
    hours / of_hours / to_hours = ["h", "hour", "hours"] * 3600.0;
}

product!(Length * Length = Area);
product!(Force * Length = Moment);
product!(LinearDensity * Length = Mass);
product!(Pressure * Area = Force);
product!(Tenacity * LinearDensity = Force);

impl Mass {
    /// What it weighs under standard gravity.
    #[must_use]
    pub fn weight(self) -> Force {
        Force::of_n(self.to_kg() * STANDARD_GRAVITY)
    }
}

impl Angle {
    /// Sine, without a unit.
    #[must_use]
    pub fn sin(self) -> f64 {
        self.si().sin()
    }
    /// Cosine, without a unit.
    #[must_use]
    pub fn cos(self) -> f64 {
        self.si().cos()
    }
    /// Tangent, without a unit.
    #[must_use]
    pub fn tan(self) -> f64 {
        self.si().tan()
    }
}
