//! The best taper: positions of the pairs that make the largest loss least.
//!
//! Given the bury, the pairs to take out and the picks there are, the
//! positions are chosen that minimise the largest step's loss, subject to the
//! wanted grip margin; among equals the one with the most grip. Exact: dynamic
//! programming over the picks from the tail's end to the throat, keeping every
//! state that no other betters. A step's loss is that of
//! [`weak points`](crate::WeakPoint): the opened angle's and the turn's, at the
//! load the braid still carries there in service. Steps closer than a strand's run-out act as one, with the
//! turn of their sum.

use crate::braid::{Braid, STRANDS};
use crate::grip::grip_needed;
use crate::tail::{Tail, grip_sum};
use crate::taper::TaperError;
use crate::turn::{STRAND_SLANT, step_share};

/// What is to be chosen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Choice {
    /// The braid.
    pub braid: Braid,
    /// Friction of strand on strand.
    pub friction: f64,
    /// Friction mobilised in service, which settles how much of its load the
    /// braid still carries at a step.
    pub mobilised: f64,
    /// Bury in diameters.
    pub bury: f64,
    /// One pick in diameters.
    pub pick: f64,
    /// Pairs to take out, one to five.
    pub pairs: u32,
    /// Slanted cut in diameters.
    pub cut: f64,
    /// Grip margin it must keep.
    pub wanted: f64,
    /// Share of the load that the tail carries.
    pub rho: f64,
    /// Loss per radian of turn.
    pub per_radian: f64,
}

/// How good a taper is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Score {
    /// Share of strength lost at its worst step.
    pub loss: f64,
    /// Its grip margin.
    pub margin: f64,
}

/// Twelve strands leave one pair at least.
const MOST_PAIRS: usize = 5;

/// A partial taper, from the tail's end up to some pick.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Label {
    /// Worst loss so far.
    loss: f64,
    /// Grip so far for a friction of one.
    grip: f64,
    /// Load share of the braid at the bottom of the last step.
    load: f64,
    /// Pairs back in the tail.
    back: u32,
    /// Pairs back below the last step.
    below: u32,
    /// Where the last step starts, and where its last pair stands.
    bottom: f64,
    last: f64,
    /// Picks of the pairs so far, as many as are back.
    picks: [u32; MOST_PAIRS],
}

impl Choice {
    fn share(&self, back: u32) -> f64 {
        f64::from(STRANDS - 2 * self.pairs + 2 * back) / f64::from(STRANDS)
    }

    fn grip_per_d(&self, back: u32) -> f64 {
        let share = self.share(back);
        self.braid.contact(share) * self.braid.grip(share)
    }

    /// Load on the braid where the grip so far is known.
    fn load(&self, grip: f64) -> f64 {
        (-self.mobilised * grip).exp()
    }

    /// Loss of a step from `back` pairs down to `below`, spread over `over`.
    fn loss(&self, back: u32, below: Option<u32>, over: f64, load: f64) -> f64 {
        let thin = below.map_or(0.0, |below| self.share(below));
        (1.0 - step_share(&self.braid, self.share(back), thin, over, self.per_radian) / load).max(0.0)
    }

    /// A pair put back at a position: a step of its own, or part of the last.
    fn stepped(&self, label: &Label, at: f64, pick: u32) -> Label {
        let mut next = *label;
        next.back += 1;
        next.last = at;
        next.picks[label.back as usize] = pick;
        let first = label.back == 0;
        let spread = if first { self.cut } else { STRAND_SLANT };
        let run_out = self.braid.run_out(self.share(next.back), self.share(label.back));
        let joined = at - label.last - spread < run_out;
        // The slanted end is a step whose thin side is nothing; pairs that
        // stand close to it fall with it.
        let at_end = label.bottom == 0.0;
        if joined {
            let over = at - label.bottom + STRAND_SLANT;
            let below = if at_end { None } else { Some(label.below) };
            next.loss = next.loss.max(self.loss(next.back, below, over, label.load));
        } else {
            next.load = self.load(label.grip);
            next.below = label.back;
            next.bottom = at;
            next.loss = next.loss.max(self.loss(next.back, Some(label.back), STRAND_SLANT, next.load));
        }
        next
    }
}

/// The taper whose largest loss is least and that keeps the wanted margin.
///
/// # Errors
/// When there are fewer picks than pairs, too many pairs, or no positions keep
/// the margin.
pub fn choose(choice: &Choice) -> Result<(Tail, Score), TaperError> {
    if !(1..=5).contains(&choice.pairs) {
        return Err(TaperError::Pairs { given: choice.pairs });
    }
    let from = (choice.cut / choice.pick - 1e-9).ceil().max(1.0) as u32;
    let picks = (choice.bury / choice.pick + 1e-9).floor() as u32;
    if picks < from + choice.pairs {
        return Err(TaperError::TooShort { picks: picks.saturating_sub(from), pairs: choice.pairs });
    }
    let enough = even_loss(choice, from, picks);
    let mut labels = vec![start(choice, from)];
    for pick in from..picks {
        let at = f64::from(pick) * choice.pick;
        let mut next = Vec::with_capacity(labels.len() * 2);
        for label in labels {
            if label.back < choice.pairs {
                next.push(choice.stepped(&label, at, pick));
            }
            // Too few picks left for the pairs still to come.
            if choice.pairs - label.back < picks - pick {
                next.push(label);
            }
        }
        next.retain(|label| label.loss <= enough);
        for label in &mut next {
            label.grip += choice.grip_per_d(label.back) * choice.pick;
        }
        labels = undominated(next, at, choice);
    }
    let rest = choice.bury - f64::from(picks) * choice.pick;
    let needed = grip_needed(choice.rho);
    let margin = |label: &Label| choice.friction * (label.grip + choice.grip_per_d(label.back) * rest) / needed;
    let best = labels
        .iter()
        .filter(|label| label.back == choice.pairs && margin(label) >= choice.wanted)
        .min_by(|a, b| a.loss.total_cmp(&b.loss).then(b.grip.total_cmp(&a.grip)))
        .ok_or(TaperError::NoneHolds { pairs: choice.pairs, wanted: choice.wanted })?;
    let score = Score { loss: best.loss, margin: margin(best) };
    Ok((tail_of(choice, &best.picks[..choice.pairs as usize]), score))
}

/// Loss of an even taper that keeps the margin: nothing worse need be followed.
fn even_loss(choice: &Choice, from: u32, picks: u32) -> f64 {
    let mut least = f64::INFINITY;
    for spacing in 1..=(picks - from) / choice.pairs {
        let mut places = [0; MOST_PAIRS];
        for (place, step) in places.iter_mut().zip(0..choice.pairs) {
            *place = from + step * spacing;
        }
        let even = score(choice, &places[..choice.pairs as usize]);
        if even.margin >= choice.wanted {
            least = least.min(even.loss);
        }
    }
    least + 1e-12
}

/// The tail whose pairs stand at these picks from its end.
#[must_use]
pub fn tail_of(choice: &Choice, picks: &[u32]) -> Tail {
    let steps = picks
        .iter()
        .zip(0..)
        .map(|(pick, back)| (f64::from(*pick) * choice.pick, STRANDS - 2 * choice.pairs + 2 * back))
        .collect();
    Tail { bury: choice.bury, steps, cut: choice.cut }
}

/// The slanted end alone, up to the first pick a pair may stand at.
fn start(choice: &Choice, from: u32) -> Label {
    let position = (f64::from(from) * choice.pick).max(choice.cut);
    let end = Tail { bury: position, steps: vec![(position, STRANDS - 2 * choice.pairs)], cut: choice.cut };
    let grip = grip_sum(&choice.braid, &end.slices());
    let whole = Tail { bury: choice.cut, ..end };
    Label {
        loss: end_loss(choice, &whole),
        grip,
        load: 1.0,
        back: 0,
        below: 0,
        bottom: 0.0,
        last: 0.0,
        picks: [0; MOST_PAIRS],
    }
}

/// Loss of the slanted end: along the slant the braid closes and sheds load,
/// and is judged where it is loaded most.
fn end_loss(choice: &Choice, slant: &Tail) -> f64 {
    let mut least = if choice.cut > 0.0 { 1.0 } else { choice.braid.shortened(choice.share(0)) };
    let mut held = 0.0;
    for slice in slant.slices() {
        least = least.min(choice.braid.shortened(slice.share) / choice.load(held));
        held += choice.braid.contact(slice.share) * choice.braid.grip(slice.share) * slice.length;
    }
    let full = least.min(choice.braid.shortened(choice.share(0)) / choice.load(held));
    (1.0 - full * (1.0 - choice.per_radian * choice.braid.turn_over(choice.share(0), 0.0, choice.cut))).max(0.0)
}

/// Without the labels that another betters. Two are alike when their future
/// is: pairs back, and as much of the last step as can still grow. Sorting
/// brings alike ones together, the least loss first.
fn undominated(mut labels: Vec<Label>, at: f64, choice: &Choice) -> Vec<Label> {
    let reach = STRAND_SLANT.max(choice.cut) + choice.braid.run_out(1.0, 0.0);
    let future = |label: &Label| {
        let grows = at - label.last <= reach;
        (label.back, grows, if grows { (label.last, label.bottom, label.below) } else { (0.0, 0.0, 0) })
    };
    labels.sort_unstable_by(|a, b| {
        let ((back_a, grows_a, step_a), (back_b, grows_b, step_b)) = (future(a), future(b));
        let step = || step_a.0.total_cmp(&step_b.0).then(step_a.1.total_cmp(&step_b.1)).then(step_a.2.cmp(&step_b.2));
        let worth = || a.loss.total_cmp(&b.loss).then(b.grip.total_cmp(&a.grip)).then(a.load.total_cmp(&b.load));
        back_a.cmp(&back_b).then(grows_a.cmp(&grows_b)).then_with(step).then_with(worth)
    });
    let mut kept: Vec<Label> = Vec::with_capacity(labels.len());
    let mut group = 0;
    for label in labels {
        let own = future(&label);
        if kept.get(group).is_none_or(|first| future(first) != own) {
            group = kept.len();
        }
        let grows = own.1;
        let beaten = kept[group..].iter().any(|other| other.grip >= label.grip && (!grows || other.load <= label.load));
        if !beaten {
            kept.push(label);
        }
    }
    kept
}

/// The score of pairs at given picks, worked out step by step: what
/// [`choose`] minimises.
#[must_use]
pub fn score(choice: &Choice, picks: &[u32]) -> Score {
    let tail = tail_of(choice, picks);
    let slices = tail.slices();
    let grip_to = |at: f64| {
        let cut_short = Tail { bury: at, ..tail.clone() };
        grip_sum(&choice.braid, &cut_short.slices())
    };
    let mut label = start(choice, 1);
    label.grip = 0.0;
    for pick in picks {
        let at = f64::from(*pick) * choice.pick;
        label.grip = grip_to(at);
        label = choice.stepped(&label, at, *pick);
    }
    let margin = choice.friction * grip_sum(&choice.braid, &slices) / grip_needed(choice.rho);
    Score { loss: label.loss, margin }
}
