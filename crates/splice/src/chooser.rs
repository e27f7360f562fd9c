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
    /// Pairs back below the last step.
    below: u8,
    /// Pairs back in the tail.
    back: u8,
    /// Pick where the last step starts (none for the slanted end), and where
    /// its last pair stands.
    bottom: u32,
    last: u32,
    /// Picks of the pairs so far, as many as are back.
    picks: [u32; MOST_PAIRS],
}

/// What is looked up again and again: figures by the number of pairs back.
struct Tables<'a> {
    choice: &'a Choice,
    /// Share of the strands there.
    share: [f64; MOST_PAIRS + 1],
    /// Grip per diameter for a friction of one.
    grip: [f64; MOST_PAIRS + 1],
    /// Run-out of the step that puts the last of so many pairs back.
    run_out: [f64; MOST_PAIRS + 1],
    /// Share of strength left by a step of that one pair alone.
    alone: [f64; MOST_PAIRS + 1],
    /// The same of a step of several, by pairs back, pairs below (the last for
    /// the slanted end) and picks from bottom to top; worked out when asked
    /// for, below zero until then.
    several: Vec<f64>,
    /// Picks that a step of several can span.
    span: usize,
}

impl<'a> Tables<'a> {
    fn of(choice: &'a Choice, picks: u32) -> Tables<'a> {
        let pairs = choice.pairs.min(MOST_PAIRS as u32) as usize;
        let each = |of: &dyn Fn(usize) -> f64| std::array::from_fn(|back| if back <= pairs { of(back) } else { 0.0 });
        let share: [f64; MOST_PAIRS + 1] =
            each(&|back| f64::from(STRANDS - 2 * choice.pairs + 2 * back as u32) / f64::from(STRANDS));
        let braid = &choice.braid;
        let from = |back: usize| share[back.saturating_sub(1)];
        let span = picks as usize + 1;
        Tables {
            choice,
            grip: each(&|back| braid.contact(share[back]) * braid.grip(share[back])),
            run_out: each(&|back| braid.run_out(share[back], from(back))),
            alone: each(&|back| step_share(braid, share[back], from(back), STRAND_SLANT, choice.per_radian)),
            several: vec![-1.0; (MOST_PAIRS + 1) * (MOST_PAIRS + 1) * span],
            share,
            span,
        }
    }

    /// Share left by a step from `back` pairs down to `below`, or to nothing at
    /// the slanted end, whose pairs stand over `picks` picks.
    fn several(&mut self, back: u8, below: Option<u8>, picks: u32) -> f64 {
        let (back, low) = (usize::from(back), below.map_or(MOST_PAIRS, usize::from));
        let index = (back * (MOST_PAIRS + 1) + low) * self.span + (picks as usize).min(self.span - 1);
        if self.several[index] < 0.0 {
            let thin = below.map_or(0.0, |below| self.share[usize::from(below)]);
            let over = f64::from(picks) * self.choice.pick + STRAND_SLANT;
            let choice = self.choice;
            self.several[index] = step_share(&choice.braid, self.share[back], thin, over, choice.per_radian).max(0.0);
        }
        self.several[index]
    }

    /// A pair put back at a pick: a step of its own, or part of the last.
    fn stepped(&mut self, label: &Label, pick: u32) -> Label {
        let choice = self.choice;
        let mut next = *label;
        next.back += 1;
        next.last = pick;
        let back = usize::from(next.back);
        next.picks[back - 1] = pick;
        let spread = if label.back == 0 { choice.cut } else { STRAND_SLANT };
        let apart = f64::from(pick - label.last) * choice.pick - spread;
        let share = if apart < self.run_out[back] {
            // The slanted end is a step whose thin side is nothing; pairs that
            // stand close to it fall with it.
            let below = (label.bottom > 0).then_some(label.below);
            self.several(next.back, below, pick - label.bottom) / label.load
        } else {
            next.load = choice.load(label.grip);
            next.below = label.back;
            next.bottom = pick;
            self.alone[back] / next.load
        };
        next.loss = next.loss.max(1.0 - share);
        next
    }
}

impl Choice {
    fn share(&self, back: u32) -> f64 {
        f64::from(STRANDS - 2 * self.pairs + 2 * back) / f64::from(STRANDS)
    }

    /// Load on the braid where the grip so far is known.
    fn load(&self, grip: f64) -> f64 {
        (-self.mobilised * grip).exp()
    }
}

/// The taper whose largest loss is least and that keeps the wanted margin.
///
/// # Errors
/// When there are fewer picks than pairs, too many pairs, or no positions keep
/// the margin.
pub fn choose(choice: &Choice) -> Result<(Tail, Score), TaperError> {
    if !(1..=MOST_PAIRS as u32).contains(&choice.pairs) {
        return Err(TaperError::Pairs { given: choice.pairs });
    }
    let from = (choice.cut / choice.pick - 1e-9).ceil().max(1.0) as u32;
    let picks = (choice.bury / choice.pick + 1e-9).floor() as u32;
    if picks < from + choice.pairs {
        return Err(TaperError::TooShort { picks: picks.saturating_sub(from), pairs: choice.pairs });
    }
    let mut tables = Tables::of(choice, picks);
    let needed = grip_needed(choice.rho);
    let rest = choice.bury - f64::from(picks) * choice.pick;
    // Grip up to the last pick that keeps the wanted margin; after any pick the
    // most that can still come is that of all pairs back at once.
    let full = tables.grip[choice.pairs as usize];
    let wanted = choice.wanted * needed / choice.friction.max(1e-300) - full * rest;
    let enough = even_loss(&mut tables, from, picks);
    // Labels by the number of pairs back.
    let mut labels: [Vec<Label>; MOST_PAIRS + 1] = Default::default();
    labels[0].push(start(choice, from));
    let reach = STRAND_SLANT.max(choice.cut) + choice.braid.run_out(1.0, 0.0);
    for pick in from..picks {
        let to_come = f64::from(picks - pick - 1) * choice.pick * full;
        // From the most pairs down, so that none is put back twice at a pick.
        for back in (0..=choice.pairs as usize).rev() {
            let stepped = back.checked_sub(1).map_or(0, |fewer| labels[fewer].len());
            let (fewer, here) = labels.split_at_mut(back);
            let here = &mut here[0];
            // Too few picks left for the pairs still to come.
            if choice.pairs - back as u32 >= picks - pick {
                here.clear();
            }
            if let Some(fewer) = fewer.last() {
                here.reserve(stepped);
                here.extend(fewer.iter().map(|label| tables.stepped(label, pick)).filter(|next| next.loss <= enough));
            }
            let grip = tables.grip[back] * choice.pick;
            here.retain_mut(|label| {
                label.grip += grip;
                label.grip + to_come >= wanted - 1e-9
            });
            let grows = |label: &Label| f64::from(pick - label.last) * choice.pick <= reach;
            undominated(here, grows);
        }
    }
    let margin = |label: &Label| choice.friction * (label.grip + full * rest) / needed;
    let best = labels[choice.pairs as usize]
        .iter()
        .filter(|label| margin(label) >= choice.wanted)
        .min_by(|a, b| a.loss.total_cmp(&b.loss).then(b.grip.total_cmp(&a.grip)))
        .ok_or(TaperError::NoneHolds { pairs: choice.pairs, wanted: choice.wanted })?;
    let score = Score { loss: best.loss, margin: margin(best) };
    Ok((tail_of(choice, &best.picks[..choice.pairs as usize]), score))
}

/// Loss of an even taper that keeps the margin: nothing worse need be followed.
fn even_loss(tables: &mut Tables, from: u32, picks: u32) -> f64 {
    let choice = tables.choice;
    let mut least = f64::INFINITY;
    for spacing in 1..=(picks - from) / choice.pairs {
        let mut places = [0; MOST_PAIRS];
        for (place, step) in places.iter_mut().zip(0..choice.pairs) {
            *place = from + step * spacing;
        }
        let even = scored(tables, &places[..choice.pairs as usize]);
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
        bottom: 0,
        last: 0,
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

/// Without the labels that another betters, all of one number of pairs back.
/// Two are alike when their future is: as much of the last step as can still
/// grow. Sorting brings alike ones together, the least loss first.
fn undominated(labels: &mut Vec<Label>, grows: impl Fn(&Label) -> bool) {
    // Where nothing can grow, last and bottom no longer matter.
    let future = |label: &Label| {
        if grows(label) { (label.last, label.bottom, label.below) } else { (0, u32::MAX, 0) }
    };
    labels.sort_unstable_by(|a, b| {
        let worth = || a.loss.total_cmp(&b.loss).then(b.grip.total_cmp(&a.grip)).then(a.load.total_cmp(&b.load));
        future(a).cmp(&future(b)).then_with(worth)
    });
    let (mut kept, mut group, mut most_grip) = (0, 0, f64::NEG_INFINITY);
    for index in 0..labels.len() {
        let label = labels[index];
        let own = future(&label);
        if index == 0 || future(&labels[group]) != own {
            (group, most_grip) = (kept, f64::NEG_INFINITY);
        }
        // What still grows is bettered only where the load is no higher too.
        let beaten = label.grip <= most_grip
            && (own.1 == u32::MAX
                || labels[group..kept].iter().any(|other| other.grip >= label.grip && other.load <= label.load));
        if !beaten {
            labels[kept] = label;
            kept += 1;
            most_grip = most_grip.max(label.grip);
        }
    }
    labels.truncate(kept);
}

/// The score of pairs at given picks, worked out step by step: what
/// [`choose`] minimises.
#[must_use]
pub fn score(choice: &Choice, picks: &[u32]) -> Score {
    let most = picks.iter().copied().max().unwrap_or(0);
    scored(&mut Tables::of(choice, most), picks)
}

fn scored(tables: &mut Tables, picks: &[u32]) -> Score {
    let choice = tables.choice;
    let mut label = start(choice, 1);
    let end = choice.cut.min(choice.bury);
    let slant = Tail { bury: end, ..tail_of(choice, picks) };
    // Grip to a place: the slant, then even stretches up to each pair.
    let (mut grip, mut from) = (grip_sum(&choice.braid, &slant.slices()), end);
    for (back, pick) in picks.iter().enumerate() {
        let at = f64::from(*pick) * choice.pick;
        if at > from {
            grip += tables.grip[back] * (at - from);
            from = at;
        }
        label.grip = grip;
        label = tables.stepped(&label, *pick);
    }
    let whole = grip + tables.grip[picks.len()] * (choice.bury - from).max(0.0);
    Score { loss: label.loss, margin: choice.friction * whole / grip_needed(choice.rho) }
}
