//! Purchases and the friction of sheaves, fairleads and drums.
//!
//! Friction builds up from sheave to sheave (each part carries `E` times the
//! part before it). The linear ten-per-cent rule of seamanship books is kept
//! for comparison; the two differ by a third at six sheaves, so an answer
//! says which was used.

use sources::{COMMON_PRACTICE, DELANEY_2022, Sourced, WRTB_4};
use units::{Angle, Force};

/// What a sheave turns on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SheaveBearing {
    /// Balls.
    Ball,
    /// Rollers.
    Roller,
    /// A plain pin.
    Plain,
}

/// Share of the tension left after half a turn round a sheave.
#[must_use]
pub const fn sheave_efficiency(bearing: SheaveBearing) -> Sourced<f64> {
    match bearing {
        SheaveBearing::Ball => Sourced::new(0.97, COMMON_PRACTICE.at("ball-bearing block, 0.95 to 0.98")),
        SheaveBearing::Roller => Sourced::new(1.0 / 1.04, WRTB_4.at("p. 86-88, K 1.04 antifriction")),
        SheaveBearing::Plain => Sourced::new(1.0 / 1.09, WRTB_4.at("p. 86-88, K 1.09 plain")),
    }
}

/// Friction of rope on an aluminium fairlead or drum.
pub const FAIRLEAD_FRICTION: Sourced<f64> = Sourced::new(0.175, DELANEY_2022.at("p. 88, polyester on aluminium"));

/// Share of the tension left after a turn of any angle round a sheave of
/// which half a turn leaves `half_turn`.
///
/// The pin's load is 2 T sin(θ/2), and its friction goes with it:
/// E = (1 - x) / (1 + x), x in proportion to sin(θ/2).
///
/// ```
/// use rig::tackle::turn_efficiency;
/// use units::Angle;
/// assert!((turn_efficiency(0.95312, Angle::of_degrees(90.0)) - 0.96663).abs() < 1e-4);
/// ```
#[must_use]
pub fn turn_efficiency(half_turn: f64, wrap: Angle) -> f64 {
    let x_half = (1.0 - half_turn) / (1.0 + half_turn);
    // Past half a turn the pin's load would fall again, but the rope's own
    // bending does not: keep the half turn's loss.
    let x = x_half * (wrap.abs() / 2.0).min(Angle::of_degrees(90.0)).sin();
    (1.0 - x) / (1.0 + x)
}

/// Tension held by a drum or fairlead: T1 / T2 = e^(mu wrap).
///
/// ```
/// use rig::tackle::capstan;
/// use units::Angle;
/// assert!((capstan(0.175, Angle::of_degrees(360.0)) - 3.00).abs() < 0.01);
/// ```
#[must_use]
pub fn capstan(friction: f64, wrap: Angle) -> f64 {
    (friction * wrap.to_radians()).exp()
}

/// Pull on the tail of a drum that a hand or the jaws of a self-tailer give.
pub const TAILING: Force = Force::of_n(50.0);

/// Whole round turns with which a drum holds `load` by a pull of `tail`: two
/// at least, for one rides up.
///
/// ```
/// use rig::tackle::drum_turns;
/// use units::Force;
/// // e^(0.175 x 2 pi x 4) is 81.
/// assert_eq!(drum_turns(Force::of_n(4000.0), Force::of_n(50.0)), 4);
/// assert_eq!(drum_turns(Force::of_n(40.0), Force::of_n(50.0)), 2);
/// ```
#[must_use]
pub fn drum_turns(load: Force, tail: Force) -> u32 {
    let friction = FAIRLEAD_FRICTION.get().unwrap_or(0.175);
    let turns = (load / tail).max(1.0).ln() / (friction * std::f64::consts::TAU);
    (turns.ceil() as u32).max(2)
}

/// A tackle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tackle {
    /// Parts at the moving block.
    pub parts: u32,
    /// Where the fall leaves.
    pub fall: Fall,
    /// Share of tension left after each sheave.
    pub efficiency: f64,
}

/// From which block the fall leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fall {
    /// Off the standing block: every part at the moving block has passed a sheave.
    FixedBlock,
    /// Off the moving block: the fall is one of its parts.
    MovingBlock,
}

impl Tackle {
    /// Load moved over pull at the fall, hauling.
    ///
    /// ```
    /// use rig::tackle::{Fall, Tackle};
    /// let tackle = Tackle { parts: 4, fall: Fall::FixedBlock, efficiency: 1.0 / 1.09 };
    /// assert!((1.0 / tackle.advantage() - 0.309).abs() < 0.001);
    /// ```
    #[must_use]
    pub fn advantage(&self) -> f64 {
        let sum = |count: u32| (0..count).map(|power| self.efficiency.powi(power as i32)).sum::<f64>();
        match self.fall {
            Fall::FixedBlock => self.efficiency * sum(self.parts),
            Fall::MovingBlock => sum(self.parts),
        }
    }

    /// Load held over pull at the fall, easing: friction now helps.
    #[must_use]
    pub fn easing(&self) -> f64 {
        Tackle { efficiency: 1.0 / self.efficiency, ..*self }.advantage()
    }

    /// Pull at the fall to move a load.
    #[must_use]
    pub fn pull(&self, load: Force) -> Force {
        load / self.advantage()
    }
}

/// The seamanship books' linear rule: S = (W + n W / 10) / P.
///
/// # Source
/// Nicholls's Seamanship and Nautical Knowledge, p. 40-44.
#[must_use]
pub fn ten_per_cent_rule(load: Force, sheaves: u32, power: u32) -> Force {
    load * ((1.0 + 0.1 * f64::from(sheaves)) / f64::from(power))
}

/// Pull of a winch over the pull on its handle, without friction.
///
/// # Source
/// Practical Sailor, "Winches: Ratios and Reality": 8 in handle, 4 in drum,
/// gear 7 give 28.
#[must_use]
pub fn winch_ratio(handle: units::Length, drum: units::Length, gear: f64) -> f64 {
    2.0 * (handle / drum) * gear
}
