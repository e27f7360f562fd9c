//! Short names for the amounts that bound a field. Not covered: amounts that
//! users type; those are read in `value`.

use units::{Area, Force, Length, Mass, Speed};

pub(crate) const fn mm(value: f64) -> Length {
    Length::of_mm(value)
}

pub(crate) const fn m(value: f64) -> Length {
    Length::of_m(value)
}

pub(crate) const fn m2(value: f64) -> Area {
    Area::of_m2(value)
}

pub(crate) const fn n(value: f64) -> Force {
    Force::of_n(value)
}

pub(crate) const fn kn(value: f64) -> Force {
    Force::of_kn(value)
}

pub(crate) const fn kg(value: f64) -> Mass {
    Mass::of_kg(value)
}

pub(crate) const fn knots(value: f64) -> Speed {
    Speed::of_knots(value)
}
