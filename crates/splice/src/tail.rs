//! The buried tail: how many strands are left where, as seen by the braid.
//!
//! Distances run from the tail's end towards the throat, in diameters of the
//! braid. Between strands taken out the tail is even; the last part is the
//! slanted cut, where the area falls evenly to nothing. Sums over the tail are
//! exact for the even stretches; the slant is summed over [`SLICES`] slices.

use crate::braid::{Braid, STRANDS};

/// Slices of the slanted cut.
const SLICES: usize = 8;

/// A tail in diameters: its bury, where strands come out, how it is cut off.
#[derive(Debug, Clone, PartialEq)]
pub struct Tail {
    /// From throat to tail's end.
    pub bury: f64,
    /// Where strands are taken out, nearest the tail's end first: distance
    /// from the end, and strands left between there and the end.
    pub steps: Vec<(f64, u32)>,
    /// Length of the slanted cut at the very end; zero for a blunt end.
    pub cut: f64,
}

/// A slice of tail of one thickness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slice {
    /// Length in diameters.
    pub length: f64,
    /// Share of the strands that are there.
    pub share: f64,
}

impl Tail {
    /// A tail without a taper, cut square.
    #[must_use]
    pub fn blunt(bury: f64) -> Tail {
        Tail { bury, steps: Vec::new(), cut: 0.0 }
    }

    /// Strands left at a distance from the tail's end, the slant apart.
    #[must_use]
    pub fn strands_at(&self, from_end: f64) -> u32 {
        self.steps.iter().find(|(at, _)| from_end < *at).map_or(STRANDS, |(_, left)| *left)
    }

    /// The tail in slices, from its end to the throat.
    #[must_use]
    pub fn slices(&self) -> Vec<Slice> {
        let mut slices = Vec::with_capacity(SLICES + self.steps.len() + 1);
        let whole = f64::from(STRANDS);
        let cut = self.cut.min(self.bury);
        for slice in 0..SLICES {
            let middle = (slice as f64 + 0.5) / SLICES as f64;
            if cut > 0.0 {
                let share = middle * f64::from(self.strands_at(cut * middle)) / whole;
                slices.push(Slice { length: cut / SLICES as f64, share });
            }
        }
        let mut from = cut;
        for (at, left) in &self.steps {
            let to = at.clamp(from, self.bury);
            if to > from {
                slices.push(Slice { length: to - from, share: f64::from(*left) / whole });
            }
            from = to;
        }
        if self.bury > from {
            slices.push(Slice { length: self.bury - from, share: 1.0 });
        }
        slices
    }
}

/// The grip of a tail in a braid for a friction of one: `sum of c k dx`.
#[must_use]
pub fn grip_sum(braid: &Braid, slices: &[Slice]) -> f64 {
    slices.iter().map(|slice| braid.contact(slice.share) * braid.grip(slice.share) * slice.length).sum()
}

/// The same with all of the inward force reaching the tail, however thin.
#[must_use]
pub fn grip_sum_full_contact(braid: &Braid, slices: &[Slice]) -> f64 {
    slices.iter().map(|slice| braid.grip(slice.share) * slice.length).sum()
}

/// Free rope taken up by the braid over the tail, less the bury: the
/// shrinkage, in diameters.
#[must_use]
pub fn shrinkage(braid: &Braid, slices: &[Slice]) -> f64 {
    slices.iter().map(|slice| (1.0 / braid.shortened(slice.share) - 1.0) * slice.length).sum()
}

/// Bury, in diameters, at which the grip for a friction of one is just
/// `needed`: measured from the tail's end, so a bury is made shorter or longer
/// at the throat and the taper stays as it is. `None` where the full tail has
/// no grip at all.
#[must_use]
pub fn bury_for(braid: &Braid, slices: &[Slice], needed: f64) -> Option<f64> {
    let (mut sum, mut length) = (0.0, 0.0);
    for slice in slices {
        let grip = braid.contact(slice.share) * braid.grip(slice.share);
        if sum + grip * slice.length >= needed {
            return Some(length + (needed - sum) / grip);
        }
        sum += grip * slice.length;
        length += slice.length;
    }
    let full = braid.contact(1.0) * braid.grip(1.0);
    (full > 0.0).then(|| length + (needed - sum) / full)
}
