//! A slack line hanging between two points: what its weight pulls on each.
//!
//! The catenary of a limp line of even weight, from its lower bearing (the
//! *block*) to its upper or level one (the *clew*): `sinh u / u = √(L² - h²) /
//! s` is solved for `u = s / 2a`, and everything follows from it in closed
//! form. [`hang_over_deck`] lets a long line lie on a deck that does not rub.
//! Stiffness, wind on the line and a rubbing deck are not covered.

use thiserror::Error;
use units::{Area, Force, Length, LinearDensity, Speed};

/// A line between a block and a clew.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hanging {
    /// Distance across, from block to clew; zero where one hangs over the other.
    pub span: Length,
    /// The clew above the block; below it when negative.
    pub rise: Length,
    /// Length of line between them; longer than the straight distance.
    pub length: Length,
    /// Mass per length: dry, or with the water in it.
    pub linear_density: LinearDensity,
}

/// What a hanging line pulls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Catenary {
    /// Pull across, alike over the whole length.
    pub across: Force,
    /// Pull downwards on the clew; negative where the line pulls it up.
    pub clew_down: Force,
    /// Pull downwards on the block; negative where the line pulls it up.
    pub block_down: Force,
    /// Greatest depth of the line below the straight from block to clew; from
    /// the higher point where one hangs over the other.
    pub sag: Length,
    /// Lowest point of the line below the block; zero where the block is lowest.
    pub below_block: Length,
    /// Length that lies on the deck, where there is one.
    pub on_deck: Length,
}

impl Catenary {
    /// Tension in the line at the clew.
    #[must_use]
    pub fn clew_tension(&self) -> Force {
        Force::of_n(self.across.to_n().hypot(self.clew_down.to_n()))
    }

    /// Tension in the line at the block.
    #[must_use]
    pub fn block_tension(&self) -> Force {
        Force::of_n(self.across.to_n().hypot(self.block_down.to_n()))
    }
}

/// Why a line does not hang.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum HangError {
    /// Shorter than the straight distance, or taut along it.
    #[error("a line of {length} does not hang between points {apart} apart: more than {apart} is wanted")]
    Taut {
        /// Length given.
        length: Length,
        /// Straight distance.
        apart: Length,
    },
    /// A span below zero.
    #[error("a span of {given}: zero or more is wanted; a clew before its block is the same span")]
    Span {
        /// The span given.
        given: Length,
    },
    /// A line without mass pulls nothing.
    #[error("a mass of {given}: more than zero is wanted")]
    Weightless {
        /// The mass given.
        given: LinearDensity,
    },
    /// A deck above one of the points.
    #[error("the deck is {given} below the block: zero or more is wanted, and not above the clew")]
    Deck {
        /// What was given.
        given: Length,
    },
}

/// The line hanging free.
///
/// # Errors
/// When the line does not reach, hangs taut, weighs nothing, or the span is
/// negative.
///
/// # Example
/// ```
/// use rig::{Hanging, hang};
/// use units::{Length, LinearDensity};
/// let sheet = Hanging {
///     span: Length::of_m(6.0), rise: Length::of_m(1.5), length: Length::of_m(6.5),
///     linear_density: LinearDensity::of_g_per_m(100.0),
/// };
/// let hung = hang(&sheet)?;
/// assert!((hung.clew_down.to_n() - 4.624238).abs() < 1e-5);
/// assert!((hung.across.to_n() - 5.205521).abs() < 1e-5);
/// assert!((hung.block_down.to_n() - 1.750084).abs() < 1e-5);
/// # Ok::<(), rig::HangError>(())
/// ```
pub fn hang(line: &Hanging) -> Result<Catenary, HangError> {
    let apart = checked(line)?;
    let (span, rise, length) = (line.span.to_m(), line.rise.to_m(), line.length.to_m());
    let weight = weight_per_m(line);
    if span == 0.0 {
        // Two plumb legs: the longer reaches from the higher point to the bight.
        let below_block = (length - rise) / 2.0;
        return Ok(Catenary {
            across: Force::ZERO,
            clew_down: Force::of_n(weight * (length + rise) / 2.0),
            block_down: Force::of_n(weight * below_block),
            sag: Length::of_m((length + rise.abs()) / 2.0),
            below_block: Length::of_m(below_block),
            on_deck: Length::ZERO,
        });
    }
    // (L² - h²) / s² - 1, without taking nearly equal squares apart.
    let excess = (length - apart) * (length + apart) / (span * span);
    let u = half_span_over_parameter(excess);
    let parameter = span / (2.0 * u);
    let (across, slope) = (weight * parameter, rise / u.tanh());
    let [clew_down, block_down] = [length + slope, length - slope].map(|share| 0.5 * weight * share);
    let shape = Shape { span, rise, parameter, block_down: block_down / weight };
    Ok(Catenary {
        across: Force::of_n(across),
        clew_down: Force::of_n(clew_down),
        block_down: Force::of_n(block_down),
        sag: Length::of_m(shape.sag()),
        below_block: Length::of_m(shape.below_block()),
        on_deck: Length::ZERO,
    })
}

/// The line hanging over a deck `deck` below the block, on which what is too
/// much lies straight; the deck does not rub.
///
/// Two half catenaries rise from the deck with one pull across; a line so
/// long that it needs none lies in a heap, and each point carries the plumb
/// length above the deck.
///
/// # Errors
/// As [`hang`], and when the deck is above the block or the clew.
///
/// # Example
/// ```
/// use rig::{Hanging, hang_over_deck};
/// use units::{Length, LinearDensity};
/// // A metre of clew height and rope to spare: the clew carries about that metre.
/// let sheet = Hanging {
///     span: Length::of_m(3.0), rise: Length::of_m(1.0), length: Length::of_m(9.0),
///     linear_density: LinearDensity::of_g_per_m(100.0),
/// };
/// let hung = hang_over_deck(&sheet, Length::ZERO)?;
/// assert!((hung.clew_down.to_n() - 0.980665).abs() < 1e-6);
/// # Ok::<(), rig::HangError>(())
/// ```
pub fn hang_over_deck(line: &Hanging, deck: Length) -> Result<Catenary, HangError> {
    let free = hang(line)?;
    let (block_height, clew_height) = (deck.to_m(), deck.to_m() + line.rise.to_m());
    if block_height < 0.0 || clew_height < 0.0 {
        return Err(HangError::Deck { given: deck });
    }
    if free.below_block <= deck {
        return Ok(free);
    }
    let weight = weight_per_m(line);
    let heights = [block_height, clew_height];
    let spare = line.length.to_m() - line.span.to_m();
    let arc = |height: f64, a: f64| (height * (height + 2.0 * a)).sqrt();
    let across = |height: f64, a: f64| if a > 0.0 { a * (1.0 + height / a).acosh() } else { 0.0 };
    // What each half takes up beyond its distance across falls as the pull grows.
    let taken = |a: f64| heights.iter().map(|height| arc(*height, a) - across(*height, a)).sum::<f64>();
    let parameter = if spare >= block_height + clew_height { 0.0 } else { falling_root(taken, spare) };
    let [block_arc, clew_arc] = heights.map(|height| arc(height, parameter));
    Ok(Catenary {
        across: Force::of_n(weight * parameter),
        clew_down: Force::of_n(weight * clew_arc),
        block_down: Force::of_n(weight * block_arc),
        sag: Length::of_m(deepest(line, heights, parameter)),
        below_block: deck,
        on_deck: line.length - Length::of_m(block_arc + clew_arc),
    })
}

/// Wind at which a sail lifts its sheet: its share of the pressure on the
/// sail carries what the sheet pulls down on the clew.
///
/// # Errors
/// None: a clew that carries nothing is lifted by no wind, zero.
///
/// # Example
/// ```
/// use rig::{Lift, lifting_wind};
/// use units::{Area, Force};
/// let lift = Lift { coefficient: 1.3, area: Area::of_m2(30.0), clew_share: 1.0 / 3.0 };
/// let wind = lifting_wind(Force::of_n(4.6), &lift);
/// assert!((wind.to_m_per_s() - 0.76).abs() < 0.005);
/// ```
#[must_use]
pub fn lifting_wind(clew_down: Force, lift: &Lift) -> Speed {
    let force = clew_down.to_n().max(0.0);
    let per_square = 0.5 * crate::wind::AIR_DENSITY * lift.coefficient * lift.area.to_m2() * lift.clew_share;
    Speed::of_m_per_s((force / per_square).sqrt())
}

/// The sail that has to lift its sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lift {
    /// Whole force coefficient.
    pub coefficient: f64,
    /// Cloth.
    pub area: Area,
    /// Share of the sail's force that its clew holds; a third of three corners.
    pub clew_share: f64,
}

fn weight_per_m(line: &Hanging) -> f64 {
    line.linear_density.to_kg_per_m() * units::STANDARD_GRAVITY
}

/// The straight distance, m, of a line that can hang.
fn checked(line: &Hanging) -> Result<f64, HangError> {
    if line.span < Length::ZERO {
        return Err(HangError::Span { given: line.span });
    }
    if line.linear_density <= LinearDensity::ZERO {
        return Err(HangError::Weightless { given: line.linear_density });
    }
    let apart = line.span.to_m().hypot(line.rise.to_m());
    if line.length.to_m() <= apart {
        return Err(HangError::Taut { length: line.length, apart: Length::of_m(apart) });
    }
    Ok(apart)
}

/// Solves `sinh u / u = √(1 + excess)` for u > 0.
fn half_span_over_parameter(excess: f64) -> f64 {
    let wanted = 0.5 * excess.ln_1p();
    // ln(sinh u / u), its series where u is small and its tail where it is large.
    let value = |u: f64| {
        if u < 1e-2 {
            let square = u * u;
            square / 6.0 * (1.0 - square / 30.0 * (1.0 - square * 4.0 / 63.0))
        } else {
            u - std::f64::consts::LN_2 + (-(-2.0 * u).exp()).ln_1p() - u.ln()
        }
    };
    let slope = |u: f64| if u < 1e-2 { u / 3.0 * (1.0 - u * u / 15.0) } else { 1.0 / u.tanh() - 1.0 / u };
    // Convex below and nearly straight above: Newton from the taut side's root
    // or the slack side's line arrives in a few steps.
    let mut u = (6.0 * wanted).sqrt().max(if wanted > 3.0 { wanted + wanted.ln() } else { 0.0 });
    for _ in 0..60 {
        let step = (value(u) - wanted) / slope(u);
        let next = if step < u { u - step } else { u / 2.0 };
        let done = (next - u).abs() <= 1e-15 * u;
        u = next;
        if done {
            break;
        }
    }
    u
}

/// Root of a function that falls from a value above `wanted` at zero to zero.
fn falling_root(function: impl Fn(f64) -> f64, wanted: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    while function(high) > wanted && high < 1e15 {
        (low, high) = (high, high * 2.0);
    }
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if function(middle) > wanted { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// Greatest depth below the straight of a line that lies on the deck: on the
/// half that hangs from the higher point, where it runs along the straight.
fn deepest(line: &Hanging, [block, clew]: [f64; 2], parameter: f64) -> f64 {
    let (lower, higher) = (block.min(clew), block.max(clew));
    let span = line.span.to_m();
    if span == 0.0 {
        return higher;
    }
    let rise = higher - lower;
    let lifts_off = if parameter > 0.0 { span - parameter * (1.0 + higher / parameter).acosh() } else { span };
    let along = parameter * (rise / span).asinh();
    let height = parameter * (1f64.hypot(rise / span) - 1.0);
    lower + rise * (lifts_off + along) / span - height
}

/// A catenary's curve, in metres from the block.
struct Shape {
    span: f64,
    rise: f64,
    parameter: f64,
    /// Arc from the block to the lowest point; negative past it.
    block_down: f64,
}

impl Shape {
    /// Height of the curve above the block at a distance across, as a product:
    /// two large and nearly equal heights are never taken apart.
    fn height(&self, across: f64) -> f64 {
        let lowest = self.parameter * (self.block_down / self.parameter).asinh();
        let (to_point, to_block) = ((across - lowest) / self.parameter, -lowest / self.parameter);
        2.0 * self.parameter * ((to_point + to_block) / 2.0).sinh() * ((to_point - to_block) / 2.0).sinh()
    }

    fn sag(&self) -> f64 {
        let lowest = self.parameter * (self.block_down / self.parameter).asinh();
        let across = (lowest + self.parameter * (self.rise / self.span).asinh()).clamp(0.0, self.span);
        if self.is_steep() {
            let tension = |arc: f64| arc.hypot(self.parameter);
            let at_slope = self.parameter * 1f64.hypot(self.rise / self.span);
            return self.rise * across / self.span - (at_slope - tension(self.block_down));
        }
        self.rise * across / self.span - self.height(across)
    }

    fn below_block(&self) -> f64 {
        if self.block_down <= 0.0 {
            return 0.0;
        }
        let lowest = self.parameter * (self.block_down / self.parameter).asinh();
        if lowest >= self.span {
            return -self.rise;
        }
        if self.is_steep() {
            return self.block_down.hypot(self.parameter) - self.parameter;
        }
        -self.height(lowest)
    }

    /// So narrow for its depth that the hyperbolic functions would overflow.
    fn is_steep(&self) -> bool {
        self.span / self.parameter > 100.0
    }
}
