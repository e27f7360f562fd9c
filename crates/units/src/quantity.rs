//! What all quantities share, written once.
//!
//! A macro rather than a generic type: each quantity then has named
//! constructors and getters (`Length::mm`, `to_mm`) and its own page of
//! documentation, and adding one is five lines.

use thiserror::Error;

/// A number that was NaN or infinite where a quantity was to be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error("not a finite number")]
pub struct NotFinite;

/// The result of arithmetic on quantities. Inputs are bounded where they are
/// read, so a result that is not finite is a bug, as an integer overflow is;
/// it stops here instead of travelling on as NaN.
#[track_caller]
pub(crate) const fn finite(value: f64) -> f64 {
    assert!(value.is_finite(), "arithmetic on quantities left the finite numbers");
    value
}

/// One quantity: type, units with constructor and getter, operators, text.
macro_rules! quantity {
    (
        $(#[$doc:meta])*
        $name:ident, $what:literal, example $example:literal,
        $( $make:ident / $of:ident / $get:ident = [$($spelling:literal),+] * $factor:expr $(, then $then:literal)? ; )+
    ) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: $name = $name(0.0);

            /// Every unit that is read, the first spelling of each being printed.
            pub const UNITS: &'static [$crate::number::Unit] = &[$(
                $crate::number::Unit {
                    names: &[$($spelling),+],
                    factor: $factor,
                    then: $crate::quantity::first_of(&[$($then)?]),
                },
            )+];

            $(
                #[doc = concat!("From a number in ", quantity!(@first $($spelling),+), ".")]
                ///
                /// # Errors
                /// When the number is NaN or infinite.
                pub fn $make(value: f64) -> Result<Self, $crate::quantity::NotFinite> {
                    let si = value * $factor;
                    if si.is_finite() { Ok($name(si)) } else { Err($crate::quantity::NotFinite) }
                }

                #[doc = concat!("From a number in ", quantity!(@first $($spelling),+), " known to be finite: a literal, or computed from quantities.")]
                #[track_caller]
                #[must_use]
                pub const fn $of(value: f64) -> Self {
                    $name($crate::quantity::finite(value * $factor))
                }

                #[doc = concat!("The number in ", quantity!(@first $($spelling),+), ".")]
                #[must_use]
                pub const fn $get(self) -> f64 {
                    self.0 / $factor
                }
            )+

            /// The number in SI units.
            #[must_use]
            pub const fn si(self) -> f64 {
                self.0
            }

            /// From a number in SI units known to be finite.
            #[track_caller]
            #[must_use]
            pub const fn of_si(value: f64) -> Self {
                $name($crate::quantity::finite(value))
            }

            /// Its size without its sign.
            #[must_use]
            pub const fn abs(self) -> Self {
                $name(self.0.abs())
            }

            /// The larger of two.
            #[must_use]
            pub const fn max(self, other: Self) -> Self {
                $name(self.0.max(other.0))
            }

            /// The smaller of two.
            #[must_use]
            pub const fn min(self, other: Self) -> Self {
                $name(self.0.min(other.0))
            }

            /// Order; quantities are never NaN.
            #[must_use]
            pub fn compare(&self, other: &Self) -> std::cmp::Ordering {
                self.0.total_cmp(&other.0)
            }
        }

        impl std::ops::Add for $name {
            type Output = Self;
            #[track_caller]
            fn add(self, other: Self) -> Self {
                $name($crate::quantity::finite(self.0 + other.0))
            }
        }

        impl std::ops::Sub for $name {
            type Output = Self;
            #[track_caller]
            fn sub(self, other: Self) -> Self {
                $name($crate::quantity::finite(self.0 - other.0))
            }
        }

        impl std::ops::Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                $name(-self.0)
            }
        }

        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            #[track_caller]
            fn mul(self, factor: f64) -> Self {
                $name($crate::quantity::finite(self.0 * factor))
            }
        }

        impl std::ops::Div<f64> for $name {
            type Output = Self;
            #[track_caller]
            fn div(self, divisor: f64) -> Self {
                $name($crate::quantity::finite(self.0 / divisor))
            }
        }

        impl std::ops::Div for $name {
            type Output = f64;
            #[track_caller]
            fn div(self, other: Self) -> f64 {
                $crate::quantity::finite(self.0 / other.0)
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
                items.fold(Self::ZERO, |total, item| total + item)
            }
        }

        impl std::str::FromStr for $name {
            type Err = $crate::number::ParseError;
            fn from_str(text: &str) -> Result<Self, Self::Err> {
                $crate::number::parse(text, $what, Self::UNITS, $example).map($name)
            }
        }

        impl From<$name> for $crate::Value {
            fn from(quantity: $name) -> Self {
                $crate::Value::$name(quantity)
            }
        }

        impl std::fmt::Display for $name {
            /// Metric, as [`Value`](crate::Value) prints it.
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                $crate::quantity::write_padded(f, &$crate::Value::$name(*self).show($crate::System::Metric))
            }
        }
    };
    (@first $first:literal $(, $rest:literal)*) => { $first };
}

/// Text with the formatter's width and alignment. A precision is not obeyed:
/// it would cut the text off, and with it the unit.
pub(crate) fn write_padded(f: &mut std::fmt::Formatter<'_>, text: &str) -> std::fmt::Result {
    if f.precision().is_some() { f.write_str(text) } else { f.pad(text) }
}

/// The first of at most one, at compile time.
pub(crate) const fn first_of(items: &[&'static str]) -> Option<&'static str> {
    match items {
        [] => None,
        [first, ..] => Some(first),
    }
}

/// `A * B = C`, and both ways back.
macro_rules! product {
    ($a:ident * $b:ident = $c:ident) => {
        impl std::ops::Mul<$b> for $a {
            type Output = $c;
            #[track_caller]
            fn mul(self, other: $b) -> $c {
                $c::of_si(self.si() * other.si())
            }
        }
        impl std::ops::Div<$b> for $c {
            type Output = $a;
            #[track_caller]
            fn div(self, other: $b) -> $a {
                $a::of_si(self.si() / other.si())
            }
        }
    };
}

pub(crate) use {product, quantity};
