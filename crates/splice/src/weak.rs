//! Weak points: where a splice would break, and how strong it is there.
//!
//! Load per strand relative to the straight rope at the same tension: in the
//! braid `To/T cos a0/cos a`, and less what the turn over a step costs
//! ([`turn`](crate::turn_penalty)). Local weak points do not add up: the worst
//! one is the strength, and no splice beats its rope. Loads along the bury are
//! those of stiff members, which mobilise just the friction that is needed.
//! Not assessed: the crown on its fitting, for which no open table was found.

use crate::prior::{Belief, Span, percentiles};
use crate::tail::{Slice, Tail, grip_sum};
use crate::turn::{FITTED_ON, STRAND_SLANT, SquareEnd, SquareLoss, TurnPenalty, square_end, turn_penalty};
use crate::{Braid, Eye, STRANDS, grip_needed};
use cordage::{Basis, Fibre, Rope};
use sources::{Citation, Finding, GL_0027, Grade, OURS, PS_SPLICE};
use units::{Length, Sentence};

/// One place where it could break.
#[derive(Debug, Clone, PartialEq)]
pub struct WeakPoint {
    /// Where: `tail's end`, `pair out`, `throat`, `crown`.
    pub place: &'static str,
    /// Distance from the throat down the standing part, where it has one.
    pub from_throat: Option<Length>,
    /// Share of the straight rope's strength; `None` is not assessed.
    pub share: Option<Span<f64>>,
    /// Why.
    pub reason: Sentence,
    /// On whose word.
    pub citation: Citation,
}

/// Weak points of a buried splice and the lowest of them.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Weakness {
    pub points: Vec<WeakPoint>,
    pub share: Span<f64>,
}

/// What the shares are worked out for.
pub(crate) struct WeakRequest<'a> {
    pub fibre: Fibre,
    pub belief: &'a Belief,
    pub braid: &'a Braid,
    pub tail: &'a Tail,
    pub rho: f64,
    pub diameter: Length,
    pub eye: Option<&'a Eye>,
}

/// One step of thickness seen from the braid.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Step {
    /// From the tail's end, diameters.
    pub from_end: f64,
    pub thick: f64,
    pub thin: f64,
    /// Length over which it falls.
    pub over: f64,
}

/// The tail's steps, its end first. Steps closer together than a strand needs
/// to run out act as one, with the turn of their sum.
pub(crate) fn steps_of(tail: &Tail, braid: &Braid) -> Vec<Step> {
    let whole = f64::from(STRANDS);
    let last = f64::from(tail.steps.first().map_or(STRANDS, |(_, left)| *left)) / whole;
    let mut steps = vec![Step { from_end: 0.0, thick: last, thin: 0.0, over: tail.cut }];
    for (index, (at, left)) in tail.steps.iter().enumerate() {
        let above = tail.steps.get(index + 1).map_or(STRANDS, |(_, left)| *left);
        let (thick, thin) = (f64::from(above) / whole, f64::from(*left) / whole);
        let close = steps.last().is_some_and(|below| at - below.from_end - below.over < braid.run_out(thick, thin));
        match steps.last_mut() {
            Some(below) if close => {
                below.thick = thick;
                below.over = at - below.from_end + STRAND_SLANT;
            }
            _ => steps.push(Step { from_end: *at, thick, thin, over: STRAND_SLANT }),
        }
    }
    steps
}

/// A tail as the shares are worked out over it.
struct Run<'a> {
    slices: &'a [Slice],
    steps: &'a [Step],
    /// The step that each slice counts to.
    step_of: Vec<Option<usize>>,
}

impl Run<'_> {
    fn of<'a>(slices: &'a [Slice], steps: &'a [Step]) -> Run<'a> {
        let mut length = 0.0;
        let step_of = slices.iter().map(|slice| {
            let below = steps.iter().rposition(|step| step.from_end <= length + 1e-9);
            length += slice.length;
            below
        });
        Run { step_of: step_of.collect(), slices, steps }
    }

    /// Shares of one draw at each step, tail's end first, into `shares`. Where
    /// tests say of a full square end that less is `left`, it counts.
    fn shares(&self, braid: &Braid, rho: f64, (penalty, left): (&TurnPenalty, Option<f64>), shares: &mut [f64]) {
        let sum = grip_sum(braid, self.slices);
        // Stiff members mobilise just the friction at which it would let go; a
        // tail without any grip never unloads the braid.
        let mobilised = if sum > 0.0 { grip_needed(rho) / sum } else { 0.0 };
        for (share, step) in shares.iter_mut().zip(self.steps) {
            *share = if step.over > 0.0 { 1.0 } else { braid.shortened(step.thick) };
        }
        let mut held = 0.0;
        for (slice, below) in self.slices.iter().zip(&self.step_of) {
            // The braid at each slice carries the load at the slice's thin
            // side, so a slant or step is judged where it is loaded most.
            let share = braid.shortened(slice.share) * (mobilised * held).exp();
            if let Some(lowest) = below.and_then(|index| shares.get_mut(index)) {
                *lowest = lowest.min(share);
            }
            held += braid.contact(slice.share) * braid.grip(slice.share) * slice.length;
        }
        let per_radian = penalty.per_radian;
        let square = left.map(|left| SquareLoss::of(braid, per_radian, left));
        for (share, step) in shares.iter_mut().zip(self.steps) {
            let turn = braid.turn_over(step.thick, step.thin, step.over);
            let lost = square.map_or(0.0, |square| square.at(turn));
            *share = (*share * (1.0 - per_radian * turn)).min(1.0) - lost;
        }
    }
}

/// The weak points of a buried splice, lowest first, then those not assessed.
pub(crate) fn weakness(request: &WeakRequest) -> Result<Weakness, crate::BraidError> {
    let penalty = turn_penalty()?;
    let steps = steps_of(request.tail, request.braid);
    let slices = request.tail.slices();
    let known = square_end(request.fibre);
    // Draws spread over what was observed, by the golden section.
    let observed = |index: usize, end: SquareEnd| end.left.at((index as f64 * 0.618_033_988_749_895).fract());
    let run = Run::of(&slices, &steps);
    let draws = &request.belief.draws;
    let mut table = vec![0.0; draws.len() * steps.len()];
    for (index, (draw, row)) in draws.iter().zip(table.chunks_exact_mut(steps.len())).enumerate() {
        run.shares(&draw.braid, request.rho, (&penalty, known.map(|end| observed(index, end))), row);
    }
    let span = |of: &dyn Fn(&[f64]) -> f64| {
        let rows = table.chunks_exact(steps.len()).zip(draws);
        percentiles(&rows.map(|(row, draw)| (of(row), draw.weight)).collect::<Vec<_>>())
    };
    let mut points = steps
        .iter()
        .enumerate()
        .map(|(index, step)| WeakPoint {
            share: Some(span(&|row: &[f64]| row.get(index).copied().unwrap_or(1.0))),
            ..step_point(request, (index, step), (&penalty, known))
        })
        .collect::<Vec<_>>();
    points.sort_by(|a, b| usual(a).total_cmp(&usual(b)));
    if let Some(eye) = request.eye {
        points.extend(eye_points(eye));
    }
    let lowest = |row: &[f64]| row.iter().copied().fold(1.0, f64::min);
    Ok(Weakness { points, share: span(&lowest) })
}

/// A step of the tail in words, without its share.
fn step_point(
    request: &WeakRequest,
    (index, step): (usize, &Step),
    (penalty, known): (&TurnPenalty, Option<SquareEnd>),
) -> WeakPoint {
    let strands = |share: f64| (share * 12.0).round() as i64;
    let turn = request.braid.turn_over(step.thick, step.thin, step.over);
    let falls = |end: &SquareEnd| SquareLoss::of(request.braid, penalty.per_radian, end.left.low).at(turn) > 0.0;
    let square = known.filter(falls);
    let from_throat = Some(request.diameter * (request.tail.bury - step.from_end));
    let place = if index == 0 { "tail's end" } else { "strands out" };
    let (reason, citation) = match (square, index) {
        (Some(end), _) => {
            let words = if end.tested {
                "it falls steeply from {} strands: square ends of HMPE lost 13 to 20 % in three tests, more than the model says, and they stand"
            } else {
                "it falls steeply from {} strands: square ends of HMPE lost 13 to 20 % in three tests, and that is taken for this fibre, of which none was found"
            };
            (Sentence::new(words).with(strands(step.thick)), end.citation)
        }
        (None, 0) => {
            let words = "the braid carries the whole load at its opened angle and turns over the tail's end, {} of 12 strands thick";
            (Sentence::new(words).with(strands(step.thick)), FITTED_ON)
        }
        (None, _) => {
            let words = "the braid turns where the tail falls from {} strands to {}";
            (Sentence::new(words).with(strands(step.thick)).with(strands(step.thin)), FITTED_ON)
        }
    };
    WeakPoint { place, from_throat, share: None, reason, citation }
}

fn usual(point: &WeakPoint) -> f64 {
    point.share.map_or(f64::MAX, |share| share.usual)
}

fn eye_points(eye: &Eye) -> Vec<WeakPoint> {
    let mut points = Vec::new();
    if let Some(angle) = eye.angle {
        let half = angle / 2.0;
        let leg = 0.5 / half.cos();
        points.push(WeakPoint {
            place: "throat",
            from_throat: Some(Length::ZERO),
            share: Some(Span { low: 1.0, usual: 1.0, high: 1.0 }),
            reason: Sentence::new(
                "each leg carries {} of the load, and {} of it pulls the throat apart, which the stitching holds",
            )
            .with(units::Value::Share(leg))
            .with(units::Value::Share(0.5 * half.tan())),
            citation: OURS.at("statics of the throat"),
        });
    }
    let reason = match eye.on {
        Some(on) => Sentence::new(
            "each leg carries about half the load round a {} {}; no open table says what the bend costs: not assessed",
        )
        .with(on.diameter)
        .with(on.what.word()),
        None => Sentence::new("what the eye goes over is not known: not assessed"),
    };
    points.push(WeakPoint {
        place: "crown",
        from_throat: None,
        share: None,
        reason,
        citation: GL_0027.at("7.8, eye not under 2 d"),
    });
    points
}

/// What is to be said about the rope's listed strength beside a share.
pub(crate) fn basis_finding(rope: &Rope) -> Option<Finding> {
    let text = match rope.strength.basis {
        Basis::Spliced => "the listed strength already contains a splice: the share is not taken off it again",
        Basis::Unknown => "the basis of the listed strength is not stated: it is taken as that of the straight rope",
        Basis::Unspliced | Basis::Average => return None,
    };
    Some(Finding::new(Grade::Note, "strength-basis", Sentence::new(text), rope.strength.citation))
}

/// Full-length stitching stops the braid from closing on the tail.
pub(crate) fn full_length_point() -> WeakPoint {
    WeakPoint {
        place: "stitching",
        from_throat: None,
        share: Some(Span { low: 0.4, usual: 0.5, high: 0.6 }),
        reason: Sentence::new(
            "stitched from end to end, the braid cannot close on the tail: about half the strength was found",
        ),
        citation: PS_SPLICE.at("full-length lock stitching"),
    }
}
