//! Quantities of the rope loft: built, converted, parsed and printed.
//!
//! Every quantity is a newtype over one `f64` in SI units, finite by
//! construction. Text always carries its unit, metric or US, mixed freely:
//!
//! ```
//! use units::{Length, Force, LinearDensity};
//! assert_eq!("12 ft 6 1/2 in".parse::<Length>()?.to_mm().round(), 3823.0);
//! assert_eq!("450 daN".parse::<Force>()?.to_n(), 4500.0);
//! assert_eq!("1,000 lbf".parse::<Force>()?.to_n().round(), 4448.0);
//! assert_eq!("0.62 g/m".parse::<LinearDensity>()?.to_g_per_m(), 0.62);
//! assert!("10".parse::<Length>().is_err());
//! # Ok::<(), units::ParseError>(())
//! ```
//!
//! Factors are exact definitions (SI brochure, international yard and pound
//! of 1959); a test compares them with an independent library. Not covered:
//! temperatures and money, which have rooms of their own.

mod millimetres;
mod number;
mod quantities;
mod quantity;
mod sentence;
mod value;

pub use millimetres::{Millimetres, Sixteenths};
pub use number::{ParseError, Unit, group_thousands};
pub use quantities::*;
pub use quantity::NotFinite;
pub use sentence::Sentence;
pub use value::{System, Value};
