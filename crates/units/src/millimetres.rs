//! Whole numbers for marks, cuts and stock: millimetres and sixteenths.
//!
//! Rounding happens here and nowhere else, with its direction in the name. A
//! length within a millionth of a millimetre of a whole one counts as whole,
//! so that 72 x 10 mm is 720 and not 721 by the last bit of a product.

use crate::Length;
use std::fmt;
use std::ops::{Add, Neg, Sub};

/// Below this a difference is the arithmetic's, not the rope's. Millimetres.
const BIT_NOISE_MM: f64 = 1e-6;

/// A whole number of millimetres.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Millimetres(i64);

/// A whole number of sixteenths of an inch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Sixteenths(i64);

impl Millimetres {
    /// No length.
    pub const ZERO: Millimetres = Millimetres(0);

    /// From a count of millimetres.
    #[must_use]
    pub const fn new(count: i64) -> Self {
        Millimetres(count)
    }

    /// The count.
    #[must_use]
    pub const fn count(self) -> i64 {
        self.0
    }

    /// The same length as a quantity.
    #[must_use]
    pub fn to_length(self) -> Length {
        Length::of_mm(self.0 as f64)
    }
}

impl Sixteenths {
    /// The count.
    #[must_use]
    pub const fn count(self) -> i64 {
        self.0
    }
}

impl Length {
    /// Rounded up to a whole millimetre: for cut lengths.
    ///
    /// ```
    /// # use units::Length;
    /// assert_eq!(Length::of_mm(72.0 * 10.0).up_to_mm().count(), 720);
    /// assert_eq!(Length::of_mm(720.2).up_to_mm().count(), 721);
    /// ```
    #[must_use]
    pub fn up_to_mm(self) -> Millimetres {
        Millimetres((self.to_mm() - BIT_NOISE_MM).ceil() as i64)
    }

    /// Rounded down to a whole millimetre: for what a reel can be relied on for.
    #[must_use]
    pub fn down_to_mm(self) -> Millimetres {
        Millimetres((self.to_mm() + BIT_NOISE_MM).floor() as i64)
    }

    /// Rounded to the nearest whole millimetre: for marks.
    #[must_use]
    pub fn nearest_mm(self) -> Millimetres {
        Millimetres(self.to_mm().round() as i64)
    }

    /// Rounded up to a sixteenth of an inch: for cut lengths.
    #[must_use]
    pub fn up_to_sixteenth(self) -> Sixteenths {
        Sixteenths((self.to_inches() * 16.0 - BIT_NOISE_MM).ceil() as i64)
    }

    /// Rounded to the nearest sixteenth of an inch.
    #[must_use]
    pub fn nearest_sixteenth(self) -> Sixteenths {
        Sixteenths((self.to_inches() * 16.0).round() as i64)
    }
}

impl Add for Millimetres {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Millimetres(self.0 + other.0)
    }
}

impl Sub for Millimetres {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Millimetres(self.0 - other.0)
    }
}

impl Neg for Millimetres {
    type Output = Self;
    fn neg(self) -> Self {
        Millimetres(-self.0)
    }
}

impl std::iter::Sum for Millimetres {
    fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
        items.fold(Millimetres::ZERO, |total, item| total + item)
    }
}

impl fmt::Display for Millimetres {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        crate::quantity::write_padded(f, &format!("{} mm", self.0))
    }
}

impl fmt::Display for Sixteenths {
    /// `28 3/8 in`, fractions in lowest terms.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        crate::quantity::write_padded(f, &format!("{sign}{} in", whole_and_fraction(self.0.unsigned_abs())))
    }
}

/// Sixteenths as `28 3/8`.
pub(crate) fn whole_and_fraction(count: u64) -> String {
    let (whole, mut above) = (count / 16, count % 16);
    let mut below = 16;
    while above > 0 && above.is_multiple_of(2) {
        above /= 2;
        below /= 2;
    }
    match (whole, above) {
        (whole, 0) => whole.to_string(),
        (0, above) => format!("{above}/{below}"),
        (whole, above) => format!("{whole} {above}/{below}"),
    }
}
