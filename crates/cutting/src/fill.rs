//! Which fills of a stretch can be reached exactly: bounded subset sums.
//!
//! Counts are split into powers of two; a bit set holds the sums reached, and
//! for each sum the first part that reached it, so that a fill can be traced
//! back without storing a table per part. Widest parts go first, so that the
//! trace prefers long pieces.

use crate::case::Case;

/// Most cells of a table of sums; beyond it the callers do without.
pub(crate) const MOST_CELLS: i64 = 4_000_000;
const NOT_REACHED: u32 = u32::MAX;

/// The sums that some pieces can make.
#[derive(Debug, Clone)]
pub(crate) struct Sums {
    step: i64,
    bits: Vec<u64>,
    first: Vec<u32>,
    parts: Vec<Part>,
}

#[derive(Debug, Clone, Copy)]
struct Part {
    kind: usize,
    count: usize,
    cells: usize,
}

/// Greatest common divisor, 0 for 0 and 0.
pub(crate) fn gcd(one: i64, other: i64) -> i64 {
    let (mut one, mut other) = (one.abs(), other.abs());
    while other != 0 {
        (one, other) = (other, one % other);
    }
    one
}

/// The step that all widths share.
pub(crate) fn step_of(case: &Case) -> i64 {
    case.kinds.iter().fold(0, |step, kind| gcd(step, kind.width)).max(1)
}

impl Sums {
    /// No sum but 0 for a case of this step.
    pub fn new(step: i64) -> Self {
        Sums { step, bits: Vec::new(), first: Vec::new(), parts: Vec::new() }
    }

    /// Finds every sum up to `room` of the kinds with their counts, or stops as
    /// soon as one is at least `ideal`. `false` when the table would be too large.
    pub fn reach(&mut self, room: i64, ideal: i64, pieces: impl Iterator<Item = (usize, i64, usize)>) -> bool {
        let cells = room / self.step;
        if !(0..MOST_CELLS).contains(&cells) {
            return false;
        }
        let cells = cells as usize;
        self.parts.clear();
        for (kind, width, count) in pieces {
            let cells_each = (width / self.step) as usize;
            let mut left = count.min(cells.checked_div(cells_each).unwrap_or(count));
            let mut take = 1;
            while left > 0 {
                let count = take.min(left);
                self.parts.push(Part { kind, count, cells: cells_each * count });
                left -= count;
                take *= 2;
            }
        }
        self.bits.clear();
        self.bits.resize(cells / 64 + 1, 0);
        self.bits[0] = 1;
        self.first.clear();
        self.first.resize(cells + 1, NOT_REACHED);
        let mut top = 0;
        for at in 0..self.parts.len() {
            top = (top + self.parts[at].cells).min(cells);
            self.add(at, top);
            if top as i64 * self.step >= ideal && self.highest() >= ideal {
                break;
            }
        }
        true
    }

    /// Adds one part; sums up to `top` cells can be reached with it.
    fn add(&mut self, at: usize, top: usize) {
        let shift = self.parts[at].cells;
        let (words, rest) = (shift / 64, shift % 64);
        let cells = self.first.len() - 1;
        for word in (words..=top / 64).rev() {
            let mut moved = self.bits[word - words] << rest;
            if rest > 0 && word > words {
                moved |= self.bits[word - words - 1] >> (64 - rest);
            }
            let mut fresh = moved & !self.bits[word];
            if fresh == 0 {
                continue;
            }
            if word == cells / 64 && cells % 64 != 63 {
                fresh &= (1 << (cells % 64 + 1)) - 1;
            }
            self.bits[word] |= fresh;
            while fresh != 0 {
                self.first[word * 64 + fresh.trailing_zeros() as usize] = at as u32;
                fresh &= fresh - 1;
            }
        }
    }

    /// The largest sum reached.
    fn highest(&self) -> i64 {
        let word = self.bits.iter().rposition(|&bits| bits != 0).unwrap_or(0);
        (word * 64 + 63 - self.bits[word].leading_zeros().min(63) as usize) as i64 * self.step
    }

    /// Every sum reached, largest first, 0 last.
    pub fn downwards(&self) -> impl Iterator<Item = i64> {
        let step = self.step;
        self.bits.iter().enumerate().rev().flat_map(move |(word, &bits)| {
            let mut left = bits;
            std::iter::from_fn(move || {
                if left == 0 {
                    return None;
                }
                let bit = 63 - left.leading_zeros();
                left ^= 1 << bit;
                Some((word * 64 + bit as usize) as i64 * step)
            })
        })
    }

    /// The pieces that make a sum that was reached: kind and count.
    pub fn trace(&self, sum: i64) -> Vec<(usize, usize)> {
        let mut cells = (sum / self.step) as usize;
        let mut pieces: Vec<(usize, usize)> = Vec::new();
        while cells > 0 {
            let part = self.parts[self.first[cells] as usize];
            match pieces.iter_mut().find(|(kind, _)| *kind == part.kind) {
                Some((_, count)) => *count += part.count,
                None => pieces.push((part.kind, part.count)),
            }
            cells -= part.cells;
        }
        pieces.sort_unstable();
        pieces
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn sums_are_those_of_every_subset(
            pieces in prop::collection::vec((1_i64..40, 1_usize..4), 1..5),
            room in 1_i64..200,
        ) {
            let mut all = std::collections::BTreeSet::from([0_i64]);
            for &(width, count) in &pieces {
                for _ in 0..count {
                    all = all.iter().flat_map(|&sum| [sum, sum + width]).filter(|&sum| sum <= room).collect();
                }
            }
            let mut sums = Sums::new(1);
            prop_assert!(sums.reach(room, i64::MAX, pieces.iter().enumerate().map(|(kind, &(width, count))| (kind, width, count))));
            let reached: Vec<i64> = sums.downwards().collect();
            prop_assert_eq!(&reached, &all.into_iter().rev().collect::<Vec<_>>());
            for sum in reached {
                let traced = sums.trace(sum);
                prop_assert_eq!(traced.iter().map(|&(kind, count)| pieces[kind].0 * count as i64).sum::<i64>(), sum);
                prop_assert!(traced.iter().all(|&(kind, count)| count <= pieces[kind].1));
            }
        }
    }

    #[test]
    fn a_step_shrinks_the_table_and_a_huge_one_is_declined() {
        let mut sums = Sums::new(500);
        assert!(sums.reach(1_999, i64::MAX, [(0, 1_000, 1), (1, 500, 1)].into_iter()));
        assert_eq!(sums.downwards().collect::<Vec<_>>(), [1_500, 1_000, 500, 0]);
        assert!(!Sums::new(1).reach(MOST_CELLS, i64::MAX, std::iter::empty()));
    }
}
