//! The chance that a splice holds: a seeded simulation.
//!
//! Friction, angle and inflation are drawn from the fibre's prior and kept
//! where the common splice holds, as in the conditioning of the defaults;
//! diameter and as-made bury are drawn about what was asked. Every draw gives a
//! grip margin and the strength of its weakest step. Draws are made in blocks,
//! each with its own generator seeded from the seed and the block's number, and
//! counted in bins, so the answer does not depend on the number of threads and
//! the memory not on the number of draws.

use crate::braid::{Braid, BraidError};
use crate::grip::grip_needed;
use crate::prior::{Measured, Observed, Prior, Range, Span, braid_at, prior, weight};
use crate::tail::{Slice, Tail};
use crate::turn::{SquareLoss, square_end, turn_penalty};
use crate::weak::{Step, steps_of};
use cordage::Fibre;
use rayon::prelude::*;

/// What is simulated.
#[derive(Debug, Clone, PartialEq)]
pub struct ChanceRequest {
    /// Fibre of the braid that grips.
    pub fibre: Fibre,
    /// What was measured of it.
    pub measured: Measured,
    /// Friction in place of the fibre's range, conditioned on nothing.
    pub friction: Option<Range>,
    /// How many times the friction of the fibre's range is taken: 1, or what
    /// the loft's own pull-out tests make of it.
    pub friction_times: f64,
    /// The tail as asked, in nominal diameters.
    pub tail: Tail,
    /// Share of the load that the tail carries.
    pub rho: f64,
    /// The as-made bury lies within this share of the asked one.
    pub bury_within: f64,
    /// The diameter lies within this share of the nominal one.
    pub diameter_within: f64,
    /// Kept draws to make.
    pub draws: u64,
    /// Seed; the same seed has the same answer.
    pub seed: u64,
}

/// How an end is simulated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChanceWish {
    /// Draws to make.
    pub draws: u64,
    /// Seed; the same seed has the same answer.
    pub seed: u64,
    /// The diameter lies within this share of the nominal one.
    pub diameter_within: f64,
}

impl ChanceWish {
    /// A hundred thousand draws of a rope good to 3 % in diameter: ours.
    pub const USUAL: ChanceWish = ChanceWish { draws: 100_000, seed: 1, diameter_within: 0.03 };
}

/// Margin and strength that a share of the draws stays under.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Percentile {
    /// The share of the draws, 0 to 1.
    pub share: f64,
    /// Grip margin.
    pub margin: f64,
    /// Share of the straight rope's strength at the weakest step.
    pub strength: f64,
}

/// Shares that are listed.
const LISTED: [f64; 7] = [0.01, 0.05, 0.25, 0.50, 0.75, 0.95, 0.99];

/// What came out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chance {
    /// Share of draws whose margin is at least one.
    pub holds: f64,
    /// 5th, 50th and 95th percentile of the grip margin.
    pub margin: Span<f64>,
    /// The same of the strength share at the weakest step.
    pub strength: Span<f64>,
    /// Both at shares from the first to the ninety-ninth in a hundred.
    pub percentiles: [Percentile; LISTED.len()],
    /// Draws kept.
    pub draws: u64,
}

const BLOCK: u64 = 8192;
const MARGIN_BINS: usize = 4000;
const STRENGTH_BINS: usize = 4000;
/// Natural logarithms of the margins that the bins span.
const LOG_MARGIN: Range = Range::new(-5.0, 5.0);
/// Tries for one kept draw; a prior that keeps less than that holds nothing.
const TRIES: u32 = 10_000;

/// Xoshiro256++ of Blackman and Vigna, seeded by SplitMix64.
#[derive(Debug, Clone)]
struct Generator {
    state: [u64; 4],
}

impl Generator {
    fn new(seed: u64) -> Generator {
        let mut at = seed;
        let mut next = || {
            at = at.wrapping_add(0x9e37_79b9_7f4a_7c15);
            let mut z = at;
            z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            z ^ (z >> 31)
        };
        Generator { state: [next(), next(), next(), next()] }
    }

    /// Evenly between nothing and one.
    fn share(&mut self) -> f64 {
        let s = &mut self.state;
        let result = s[0].wrapping_add(s[3]).rotate_left(23).wrapping_add(s[0]);
        let t = s[1] << 17;
        s[2] ^= s[0];
        s[3] ^= s[1];
        s[1] ^= s[2];
        s[0] ^= s[3];
        s[2] ^= t;
        s[3] = s[3].rotate_left(45);
        (result >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Evenly between `-within` and `within`.
    fn about(&mut self, within: f64) -> f64 {
        within * (2.0 * self.share() - 1.0)
    }
}

/// Counts of one block.
struct Counts {
    margin: Vec<u64>,
    strength: Vec<u64>,
    holds: u64,
    draws: u64,
}

impl Counts {
    fn none() -> Counts {
        Counts { margin: vec![0; MARGIN_BINS], strength: vec![0; STRENGTH_BINS], holds: 0, draws: 0 }
    }

    fn and(mut self, other: &Counts) -> Counts {
        self.margin.iter_mut().zip(&other.margin).for_each(|(a, b)| *a += b);
        self.strength.iter_mut().zip(&other.strength).for_each(|(a, b)| *a += b);
        self.holds += other.holds;
        self.draws += other.draws;
        self
    }

    fn count(&mut self, margin: f64, strength: f64) {
        let place = (margin.max(1e-12).ln() - LOG_MARGIN.low) / (LOG_MARGIN.high - LOG_MARGIN.low);
        self.margin[((place * MARGIN_BINS as f64).max(0.0) as usize).min(MARGIN_BINS - 1)] += 1;
        self.strength[((strength * STRENGTH_BINS as f64).max(0.0) as usize).min(STRENGTH_BINS - 1)] += 1;
        self.holds += u64::from(margin >= 1.0);
        self.draws += 1;
    }
}

/// Everything that is the same for all draws.
struct Setting<'a> {
    request: &'a ChanceRequest,
    prior: Prior,
    observed: Observed,
    slices: Vec<Slice>,
    /// The step that each slice lies above.
    step_of: Vec<usize>,
    steps: Vec<Step>,
    per_radian: f64,
    /// Share left by a full square end, where tests say less than the model.
    square: Option<Range>,
}

/// The chance that a splice holds.
///
/// # Errors
/// When what was measured cannot be a braid that takes a tail, or nothing that
/// is believed of the fibre agrees with it.
pub fn chance(request: &ChanceRequest) -> Result<Chance, BraidError> {
    let prior = prior(request.fibre);
    let (bench, _, _) = braid_at(&prior, request.measured, [0.5, 0.5])?;
    let slices = request.tail.slices();
    let steps = steps_of(&request.tail, &bench);
    let mut at = 0.0;
    let step_of = slices
        .iter()
        .map(|slice| {
            let from = at;
            at += slice.length;
            steps.iter().rposition(|step| step.from_end <= from + 1e-9).unwrap_or(0)
        })
        .collect();
    let setting = Setting {
        request,
        observed: Observed::of(&prior),
        prior,
        slices,
        step_of,
        steps,
        per_radian: turn_penalty()?.per_radian,
        square: square_end(request.fibre).map(|end| end.left),
    };
    let counts = (0..request.draws.div_ceil(BLOCK))
        .into_par_iter()
        .map(|block| {
            let draws = BLOCK.min(request.draws - block * BLOCK);
            run(&setting, block, draws)
        })
        .try_reduce(Counts::none, |a, b| Ok(a.and(&b)))?;
    let log_margin = |share: f64| percentile(&counts.margin, counts.draws, share);
    let margin = |share: f64| LOG_MARGIN.at(log_margin(share)).exp();
    let strength = |share: f64| percentile(&counts.strength, counts.draws, share);
    Ok(Chance {
        holds: counts.holds as f64 / counts.draws.max(1) as f64,
        margin: Span { low: margin(0.05), usual: margin(0.5), high: margin(0.95) },
        strength: Span { low: strength(0.05), usual: strength(0.5), high: strength(0.95) },
        percentiles: LISTED.map(|share| Percentile { share, margin: margin(share), strength: strength(share) }),
        draws: counts.draws,
    })
}

/// Place of a percentile among bins, as a share of their span.
fn percentile(bins: &[u64], total: u64, share: f64) -> f64 {
    let wanted = share * total as f64;
    let mut below = 0.0;
    for (index, count) in bins.iter().enumerate() {
        let here = *count as f64;
        if here > 0.0 && below + here >= wanted {
            return (index as f64 + (wanted - below) / here) / bins.len() as f64;
        }
        below += here;
    }
    1.0
}

fn run(setting: &Setting, block: u64, draws: u64) -> Result<Counts, BraidError> {
    let request = setting.request;
    let mut generator = Generator::new(request.seed ^ block.wrapping_mul(0x2545_f491_4f6c_dd1d));
    let mut counts = Counts::none();
    for _ in 0..draws {
        let (friction, braid) = kept_draw(setting, &mut generator).ok_or(BraidError::Jammed)?;
        let thick = 1.0 + generator.about(request.diameter_within);
        let bury = request.tail.bury * (1.0 + generator.about(request.bury_within));
        let longer = bury - request.tail.bury;
        let square = setting.square.map(|left| left.at(generator.share()));
        let made = Made { longer, thick, square };
        let (margin, strength) = one(setting, friction, &braid, &made);
        counts.count(margin, strength);
    }
    Ok(counts)
}

/// A draw from the prior that agrees with what is known to hold.
fn kept_draw(setting: &Setting, generator: &mut Generator) -> Option<(f64, Braid)> {
    for _ in 0..TRIES {
        let assumed = setting.prior.friction.at(generator.share());
        let shape = [generator.share(), generator.share()];
        let luck = generator.share();
        let Ok((braid, _, _)) = braid_at(&setting.prior, setting.request.measured, shape) else { continue };
        if luck < weight(&setting.prior, &setting.observed, assumed, &braid) {
            let friction = setting
                .request
                .friction
                .map_or(assumed * setting.request.friction_times, |range| range.at(generator.share()));
            return Some((friction, braid));
        }
    }
    None
}

/// One splice as made.
struct Made {
    /// How much longer the bury is than asked, at the throat.
    longer: f64,
    /// Its diameter over the nominal one.
    thick: f64,
    /// Share that a full square end of it leaves, where tests say.
    square: Option<f64>,
}

/// Margin and strength of one draw.
fn one(setting: &Setting, friction: f64, braid: &Braid, made: &Made) -> (f64, f64) {
    let (longer, thick) = (made.longer, made.thick);
    let last = setting.slices.len().saturating_sub(1);
    let length = |index: usize, slice: &Slice| {
        let own = if index == last { (slice.length + longer).max(0.0) } else { slice.length };
        own / thick
    };
    let grip = |slice: &Slice| braid.contact(slice.share) * braid.grip(slice.share);
    let sum = setting.slices.iter().enumerate().map(|(i, slice)| grip(slice) * length(i, slice)).sum::<f64>();
    let needed = grip_needed(setting.request.rho);
    let mobilised = if sum > 0.0 { needed / sum } else { 0.0 };
    let square = made.square.map(|left| SquareLoss::of(braid, setting.per_radian, left));
    let mut held = 0.0;
    let mut strength = f64::INFINITY;
    let mut turn = (usize::MAX, 1.0, 0.0);
    for (i, slice) in setting.slices.iter().enumerate() {
        let index = setting.step_of[i];
        if turn.0 != index {
            let step = &setting.steps[index];
            let by = braid.turn_over(step.thick, step.thin, step.over);
            turn = (index, 1.0 - setting.per_radian * by, square.map_or(0.0, |square| square.at(by)));
        }
        let share = braid.shortened(slice.share) * (mobilised * held).exp() * turn.1;
        strength = strength.min(share.min(1.0) - turn.2);
        held += grip(slice) * length(i, slice);
    }
    (friction * sum / needed, strength.min(1.0))
}
