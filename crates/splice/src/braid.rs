//! The shape of a hollow braid, alone and round a buried tail.
//!
//! Lengths are in diameters of the braid, so one shape serves every size.
//! Strands keep their length: along one turn of length `S`,
//! `sin a = 2 pi R / S`, so a braid of radius `R0` and angle `a0` has, round a
//! tail, `sin a = sin a0 R/R0`. The radius round a tail that keeps a share `f`
//! of its strands follows from areas, `R^2 = R0^2 + f (R1^2 - R0^2)`. Own
//! derivation. Not covered: crimp where strands cross, flattening.

use thiserror::Error;
use units::Angle;

/// Strands of the braid that grips.
pub const STRANDS: u32 = 12;

/// Root-mean-square radius, in diameters, of the strands of a braid round a
/// tail of its own area: outer radius `sqrt(2)/2`, inner `1/2`.
pub const FULL_RADIUS: f64 = 0.612_372_435_695_794_5;

/// A braid that cannot be what it is said to be, or cannot take a tail.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum BraidError {
    /// The strands would have to stand square across the rope or beyond.
    #[error("strands at {angle:.1} degrees cannot open {inflation:.2} times round a tail: the sine would pass one")]
    CannotOpen {
        /// Angle of the free braid, degrees.
        angle: f64,
        /// Ratio of radii wanted.
        inflation: f64,
    },
    /// The braid bears on itself at every thickness the tail can bring.
    #[error(
        "the braid is jammed: its strands touch at every radius the tail can bring, so it grips itself and not the tail"
    )]
    Jammed,
    /// An angle, ratio or width outside what a braid can have.
    #[error("{what} is {given:.3}: it must lie between {low} and {high}")]
    OutOfRange {
        /// Which figure.
        what: &'static str,
        /// The figure.
        given: f64,
        /// The lowest allowed.
        low: f64,
        /// The highest allowed.
        high: f64,
    },
}

/// A hollow braid, in units of its own diameter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Braid {
    sine_free: f64,
    free_radius: f64,
    full_radius: f64,
    /// Share of the tail at or below which the braid bears on itself.
    locked_below: f64,
}

/// What was measured or assumed about a braid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shape {
    /// Angle of the strands of the free braid to the rope's axis.
    pub angle: Angle,
    /// Radius of the strands round the full tail over that of the free braid.
    pub inflation: f64,
    /// Radius of the strands round the full tail, in diameters.
    pub full_radius: f64,
    /// Width of one strand, in diameters; `None` takes a round strand of its
    /// share of the area.
    pub strand_width: Option<f64>,
}

impl Shape {
    /// A shape with the radius that follows from areas.
    #[must_use]
    pub fn new(angle: Angle, inflation: f64) -> Shape {
        Shape { angle, inflation, full_radius: FULL_RADIUS, strand_width: None }
    }
}

impl Braid {
    /// The braid of a shape.
    ///
    /// ```
    /// use splice::{Braid, BraidShape as Shape};
    /// use units::Angle;
    /// let braid = Braid::new(Shape::new(Angle::of_degrees(15.0), 1.414))?;
    /// assert!((braid.angle(1.0).to_degrees() - 21.5).abs() < 0.05);
    /// assert!((1.0 - braid.shortened(1.0) - 0.0366).abs() < 0.0005);
    /// # Ok::<(), splice::BraidError>(())
    /// ```
    ///
    /// # Errors
    /// When the angle is not between 2 and 45 degrees, the inflation not above
    /// one, the braid cannot open so far, or it is jammed.
    pub fn new(shape: Shape) -> Result<Braid, BraidError> {
        let degrees = shape.angle.to_degrees();
        within("the braid's angle in degrees", degrees, 2.0, 45.0)?;
        within("the inflation", shape.inflation, 1.01, 3.0)?;
        within("the radius round the tail in diameters", shape.full_radius, 0.3, 1.5)?;
        let sine_free = shape.angle.sin();
        if sine_free * shape.inflation >= 0.999 {
            return Err(BraidError::CannotOpen { angle: degrees, inflation: shape.inflation });
        }
        let mut braid = Braid {
            sine_free,
            free_radius: shape.full_radius / shape.inflation,
            full_radius: shape.full_radius,
            locked_below: 0.0,
        };
        let width = match shape.strand_width {
            Some(width) => {
                within("the strand's width in diameters", width, 0.02, 1.0)?;
                width
            }
            None => (shape.angle.cos() / f64::from(STRANDS)).sqrt(),
        };
        braid.locked_below = braid.lock_share(width)?;
        Ok(braid)
    }

    /// Share of the tail whose radius is the lock radius, where strands of one
    /// hand touch: `2 pi R cos a = (N/2) w`, a quadratic in `R^2`.
    fn lock_share(&self, width: f64) -> Result<f64, BraidError> {
        let touch = f64::from(STRANDS) * width / (4.0 * std::f64::consts::PI);
        let slope = (self.sine_free / self.free_radius).powi(2);
        let root = 1.0 - 4.0 * slope * touch * touch;
        if root <= 0.0 {
            return Err(BraidError::Jammed);
        }
        let lock_squared = (1.0 - root.sqrt()) / (2.0 * slope);
        let free = self.free_radius * self.free_radius;
        let share = (lock_squared - free) / (self.full_radius * self.full_radius - free);
        // The wall closes again where R cos a falls, beyond the larger root.
        let closes = (1.0 + root.sqrt()) / (2.0 * slope);
        if share >= 1.0 || closes <= self.full_radius * self.full_radius {
            return Err(BraidError::Jammed);
        }
        Ok(share.max(0.0))
    }

    /// Radius of the strands' centre line round a share `f` of the tail.
    #[must_use]
    pub fn radius(&self, f: f64) -> f64 {
        let free = self.free_radius * self.free_radius;
        (free + f * (self.full_radius * self.full_radius - free)).sqrt()
    }

    /// Sine of the strands' angle round a share `f` of the tail.
    #[must_use]
    pub fn sine(&self, f: f64) -> f64 {
        self.sine_free * self.radius(f) / self.free_radius
    }

    /// The strands' angle round a share `f` of the tail.
    #[must_use]
    pub fn angle(&self, f: f64) -> Angle {
        Angle::of_radians(self.sine(f).asin())
    }

    /// Grip per diameter of bury, `tan^2 a / R`.
    #[must_use]
    pub fn grip(&self, f: f64) -> f64 {
        let radius = self.radius(f);
        let sine = self.sine_free * radius / self.free_radius;
        let square = sine * sine;
        square / (1.0 - square) / radius
    }

    /// Share of the inward force that reaches the tail: none at or below the
    /// lock radius, otherwise the share of the tail that is there. No source;
    /// a choice of ours, half on average over a taper to a point.
    #[must_use]
    pub fn contact(&self, f: f64) -> f64 {
        if f <= self.locked_below { 0.0 } else { f }
    }

    /// Share of the tail at or below which the braid bears on itself.
    #[must_use]
    pub fn locked_below(&self) -> f64 {
        self.locked_below
    }

    /// Length of the braid round a share `f` of the tail over its free length.
    #[must_use]
    pub fn shortened(&self, f: f64) -> f64 {
        let sine = self.sine(f);
        ((1.0 - sine * sine) / (1.0 - self.sine_free * self.sine_free)).sqrt()
    }

    /// Length of one turn of a strand in the free braid, in diameters.
    #[must_use]
    pub fn pitch(&self) -> f64 {
        let sine = self.sine_free;
        2.0 * std::f64::consts::PI * self.free_radius * (1.0 - sine * sine).sqrt() / sine
    }

    /// Length of one pick, where a strand crosses the next of the other hand.
    #[must_use]
    pub fn pick(&self) -> f64 {
        self.pitch() / f64::from(STRANDS / 2)
    }

    /// Radius of the free braid's strands, in diameters.
    #[must_use]
    pub fn free_radius(&self) -> f64 {
        self.free_radius
    }

    /// Angle by which a strand turns where the tail falls from share `thick`
    /// to `thin` at a sharp edge, radians: past the edge it runs straight,
    /// touching the smaller radius.
    #[must_use]
    pub fn turn(&self, thick: f64, thin: f64) -> f64 {
        let (r1, r2) = (self.radius(thick), self.radius(thin));
        let (s1, s2) = (self.sine(thick), self.sine(thin));
        let cosine = s1 * s2 * r2 / r1 + ((1.0 - s1 * s1) * (1.0 - s2 * s2)).sqrt();
        cosine.clamp(-1.0, 1.0).acos()
    }

    /// The same where the fall is spread over a slanted cut, `length` in
    /// diameters: the strand lies on the cone and turns by its slope. Never
    /// more than the sharp edge's.
    #[must_use]
    pub fn turn_over(&self, thick: f64, thin: f64, length: f64) -> f64 {
        let sharp = self.turn(thick, thin);
        if length <= 0.0 {
            return sharp;
        }
        let slope = ((self.radius(thick) - self.radius(thin)) / length).atan();
        let square = self.sine(thick).powi(2);
        let cone = ((1.0 - square) * slope.cos() + square).clamp(-1.0, 1.0).acos();
        cone.min(sharp)
    }

    /// Length, in diameters, over which a strand runs from the radius at
    /// `thick` to that at `thin`: steps closer than this act as one.
    #[must_use]
    pub fn run_out(&self, thick: f64, thin: f64) -> f64 {
        let (r1, r2) = (self.radius(thick), self.radius(thin));
        let sine = self.sine(thin);
        (r1 * r1 - r2 * r2).max(0.0).sqrt() * (1.0 - sine * sine).sqrt() / sine
    }
}

fn within(what: &'static str, given: f64, low: f64, high: f64) -> Result<(), BraidError> {
    if (low..=high).contains(&given) { Ok(()) } else { Err(BraidError::OutOfRange { what, given, low, high }) }
}

/// Radius of the strands round the full tail, in diameters, from the diameter
/// measured over a trial bury, itself in diameters: the wall keeps its area.
///
/// # Errors
/// When the rope over the bury is not thicker than the rope alone.
pub fn full_radius_from(over_bury: f64) -> Result<f64, BraidError> {
    within("the diameter over a trial bury, over the rope's", over_bury, 1.05, 2.0)?;
    let outer = over_bury / 2.0;
    let inner_squared = outer * outer - 0.25;
    Ok(((outer * outer + inner_squared) / 2.0).sqrt())
}
