//! A value to be shown: any quantity, printed in metric or US units.
//!
//! Working, findings and sentences hold values, not text, so the same answer
//! prints in either system.

use crate::*;

/// Which units are printed. What is entered may be in either.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum System {
    /// Millimetres, metres, kilonewtons, grams.
    #[default]
    Metric,
    /// Feet, inches and sixteenths, pounds-force, pounds.
    Us,
}

/// Something with a number in it, or a word.
#[derive(Debug, Clone, PartialEq)]
#[expect(missing_docs, reason = "each variant is the quantity of its name")]
pub enum Value {
    Length(Length),
    /// A mark or a finished length: whole millimetres, or the nearest sixteenth.
    Bench(Millimetres),
    /// A length to cut: whole millimetres, or sixteenths rounded up.
    Cut(Millimetres),
    Area(Area),
    Force(Force),
    Mass(Mass),
    LinearDensity(LinearDensity),
    Tenacity(Tenacity),
    Density(Density),
    Speed(Speed),
    Pressure(Pressure),
    Moment(Moment),
    Angle(Angle),
    Duration(Duration),
    /// A plain number, three significant digits.
    Number(f64),
    /// A share of one, printed in per cent.
    Share(f64),
    /// A whole count.
    Count(i64),
    /// A word or name; data, never markup.
    Text(String),
}

impl From<Millimetres> for Value {
    fn from(length: Millimetres) -> Self {
        Value::Bench(length)
    }
}

impl From<f64> for Value {
    /// # Panics
    /// On NaN and infinity, as arithmetic on quantities does.
    #[track_caller]
    fn from(number: f64) -> Self {
        Value::Number(crate::quantity::finite(number))
    }
}

impl From<&str> for Value {
    fn from(text: &str) -> Self {
        Value::Text(text.to_owned())
    }
}

impl From<String> for Value {
    fn from(text: String) -> Self {
        Value::Text(text)
    }
}

macro_rules! count_from {
    ($($int:ty),+) => {$(
        impl From<$int> for Value {
            fn from(count: $int) -> Self {
                Value::Count(count as i64)
            }
        }
    )+};
}
count_from!(i64, i32, u32, usize);

impl Value {
    /// The value as text in one system of units.
    ///
    /// ```
    /// use units::{Length, Force, Millimetres, System, Value};
    /// assert_eq!(Value::from(Length::of_m(33.5)).show(System::Metric), "33.50 m");
    /// assert_eq!(Value::from(Length::of_m(3.8227)).show(System::Us), "12 ft 6 1/2 in");
    /// assert_eq!(Value::from(Millimetres::new(720)).show(System::Us), "28 3/8 in");
    /// assert_eq!(Value::from(Force::of_n(8130.0)).show(System::Metric), "8.13 kN");
    /// ```
    #[must_use]
    pub fn show(&self, system: System) -> String {
        match self {
            Value::Text(text) => text.clone(),
            Value::Count(count) => count.to_string(),
            Value::Length(length) if system == System::Us => us_length(*length),
            Value::Bench(length) if system == System::Us => {
                us_bench_sixteenths(length.to_length().nearest_sixteenth().count())
            }
            Value::Cut(length) if system == System::Us => {
                us_bench_sixteenths(length.to_length().up_to_sixteenth().count())
            }
            Value::Bench(length) | Value::Cut(length) => format!("{} mm", group_thousands(length.count() as f64, 0)),
            _ => {
                let (number, unit) = self.readable(system);
                let decimals = self.decimals(number, unit);
                let space = if matches!(unit, "" | "°") { "" } else { " " };
                format!("{}{space}{unit}", group_thousands(number, decimals))
            }
        }
    }

    /// The number and its unit in one system: what JSON carries. One unit for
    /// each quantity, whatever its size.
    ///
    /// ```
    /// use units::{Length, System, Value};
    /// assert_eq!(Value::from(Length::of_m(33.5)).number(System::Metric), (33_500.0, "mm"));
    /// ```
    #[must_use]
    pub fn number(&self, system: System) -> (f64, &'static str) {
        let metric = system == System::Metric;
        let either = |in_metric, in_us| if metric { in_metric } else { in_us };
        match self {
            Value::Length(v) => either((v.to_mm(), "mm"), (v.to_inches(), "in")),
            Value::Bench(v) => {
                either((v.count() as f64, "mm"), (v.to_length().nearest_sixteenth().count() as f64 / 16.0, "in"))
            }
            Value::Cut(v) => {
                either((v.count() as f64, "mm"), (v.to_length().up_to_sixteenth().count() as f64 / 16.0, "in"))
            }
            Value::Area(v) => either((v.to_m2(), "m2"), (v.to_ft2(), "ft2")),
            Value::Force(v) => either((v.to_n(), "N"), (v.to_lbf(), "lbf")),
            Value::Mass(v) => either((v.to_g(), "g"), (v.to_oz(), "oz")),
            Value::Pressure(v) => either((v.to_pa(), "Pa"), (v.to_psf(), "lbf/ft2")),
            Value::Moment(v) => either((v.to_n_m(), "N m"), (v.to_ft_lbf(), "ft lbf")),
            Value::Angle(v) => (v.to_degrees(), "deg"),
            Value::Duration(v) => (v.to_minutes(), "min"),
            Value::Text(_) => (0.0, ""),
            _ => self.readable(system),
        }
    }

    /// The number and the unit that a person reads best.
    fn readable(&self, system: System) -> (f64, &'static str) {
        let metric = system == System::Metric;
        match self {
            Value::Length(v) if !metric && v.abs().to_feet() >= 10.0 => (v.to_feet(), "ft"),
            Value::Length(v) if !metric => (v.to_inches(), "in"),
            Value::Length(v) if v.abs().to_m() >= 10.0 => (v.to_m(), "m"),
            Value::Length(v) => (v.to_mm(), "mm"),
            Value::Area(v) if !metric => (v.to_ft2(), "ft2"),
            Value::Area(v) if v.abs().to_m2() < 0.01 => (v.to_mm2(), "mm2"),
            Value::Area(v) => (v.to_m2(), "m2"),
            Value::Force(v) if !metric => (v.to_lbf(), "lbf"),
            Value::Force(v) if v.abs().to_n() < 999.5 => (v.to_n(), "N"),
            Value::Force(v) => (v.to_kn(), "kN"),
            Value::Mass(v) if !metric && v.abs().to_lb() < 1.0 => (v.to_oz(), "oz"),
            Value::Mass(v) if !metric => (v.to_lb(), "lb"),
            Value::Mass(v) if v.abs().to_g() < 999.5 => (v.to_g(), "g"),
            Value::Mass(v) => (v.to_kg(), "kg"),
            Value::LinearDensity(v) if metric => (v.to_g_per_m(), "g/m"),
            Value::LinearDensity(v) => (v.to_lb_per_100ft(), "lb/100 ft"),
            Value::Tenacity(v) => (v.to_n_per_tex(), "N/tex"),
            Value::Density(v) => (v.to_kg_per_m3(), "kg/m3"),
            Value::Speed(v) => (v.to_knots(), "kn"),
            Value::Pressure(v) if !metric => (v.to_psf(), "lbf/ft2"),
            Value::Pressure(v) if v.abs().to_pa() < 99_999.5 => (v.to_pa(), "Pa"),
            Value::Pressure(v) => (v.to_mpa(), "MPa"),
            Value::Moment(v) if !metric => (v.to_ft_lbf(), "ft lbf"),
            Value::Moment(v) if v.abs().to_n_m() < 999.5 => (v.to_n_m(), "N m"),
            Value::Moment(v) => (v.to_kn_m(), "kN m"),
            Value::Angle(v) => (v.to_degrees(), "°"),
            Value::Duration(v) if v.abs().to_minutes() < 2.0 => (v.to_seconds(), "s"),
            Value::Duration(v) if v.abs().to_hours() < 2.0 => (v.to_minutes(), "min"),
            Value::Duration(v) => (v.to_hours(), "h"),
            Value::Number(v) => (*v, ""),
            Value::Share(v) => (100.0 * v, "%"),
            Value::Count(v) => (*v as f64, ""),
            Value::Bench(_) | Value::Cut(_) | Value::Text(_) => self.number(system),
        }
    }

    /// Decimals that show what the trade reads, and no more.
    fn decimals(&self, number: f64, unit: &str) -> usize {
        match (self, unit) {
            (Value::Length(_), "mm") => usize::from((number - number.round()).abs() > 0.05 && number.abs() < 100.0),
            (Value::Length(_), "m") => 2,
            (Value::Angle(_), _) => usize::from((number - number.round()).abs() > 0.05),
            _ => three_significant(number),
        }
    }
}

fn three_significant(number: f64) -> usize {
    if number == number.round() {
        return 0;
    }
    match number.abs() {
        size if size >= 99.95 => 0,
        size if size >= 9.995 => 1,
        size if size >= 0.0995 => 2,
        size if size >= 0.000_995 => 4,
        _ => 7,
    }
}

/// Inches below three feet, feet and inches above, in sixteenths; decimals
/// where a small size falls between sixteenths.
fn us_length(length: Length) -> String {
    let inches = length.to_inches();
    let off = (inches * 16.0 - (inches * 16.0).round()).abs() / 16.0;
    if inches.abs() < 3.0 && off > 0.002 {
        return format!("{inches:.3} in");
    }
    us_bench_sixteenths(length.nearest_sixteenth().count())
}

fn us_bench_sixteenths(count: i64) -> String {
    const FOOT: u64 = 12 * 16;
    let sign = if count < 0 { "-" } else { "" };
    let count = count.unsigned_abs();
    if count < 3 * FOOT {
        return format!("{sign}{} in", millimetres::whole_and_fraction(count));
    }
    match count % FOOT {
        0 => format!("{sign}{} ft", group_thousands((count / FOOT) as f64, 0)),
        rest => {
            let feet = group_thousands((count / FOOT) as f64, 0);
            format!("{sign}{feet} ft {} in", millimetres::whole_and_fraction(rest))
        }
    }
}
