//! A place on the boat: aft of the mast, to starboard, up from the deck.

use units::Length;

/// A place, measured from the mast's fore face at deck level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Aft of the mast; forward is negative.
    pub aft: Length,
    /// To starboard; port is negative.
    pub starboard: Length,
    /// Up from the deck.
    pub up: Length,
}

impl Point {
    /// A place from metres aft, to starboard and up.
    #[must_use]
    pub const fn of_m(aft: f64, starboard: f64, up: f64) -> Point {
        Point { aft: Length::of_m(aft), starboard: Length::of_m(starboard), up: Length::of_m(up) }
    }

    /// A share of the straight way to another place.
    #[must_use]
    pub fn toward(self, other: Point, share: f64) -> Point {
        let part = |from: Length, to: Length| from + (to - from) * share;
        Point {
            aft: part(self.aft, other.aft),
            starboard: part(self.starboard, other.starboard),
            up: part(self.up, other.up),
        }
    }

    /// The straight distance to another place.
    #[must_use]
    pub fn distance(self, other: Point) -> Length {
        Length::of_m(norm(between(self, other)))
    }
}

/// The vector from one place to another, metres.
pub(crate) fn between(from: Point, to: Point) -> [f64; 3] {
    [(to.aft - from.aft).to_m(), (to.starboard - from.starboard).to_m(), (to.up - from.up).to_m()]
}

pub(crate) fn norm(v: [f64; 3]) -> f64 {
    dot(v, v).sqrt()
}

pub(crate) fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(crate) fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

/// The vector at length one; `None` for no vector.
pub(crate) fn unit(v: [f64; 3]) -> Option<[f64; 3]> {
    let length = norm(v);
    (length > 1e-9).then(|| v.map(|part| part / length))
}
