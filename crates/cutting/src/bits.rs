//! Sums of pieces as bits, without a way back: for bounds that are asked often.

use crate::case::Case;
use crate::columns::Rest;

/// The sums that the rest can make, up to so many cells.
pub(crate) fn reach(case: &Case, rest: &Rest, step: i64, cells: usize) -> Vec<u64> {
    let mut bits = vec![0_u64; cells / 64 + 1];
    bits[0] = 1;
    for (kind, &demand) in rest.demand.iter().enumerate().filter(|&(_, &demand)| demand > 0) {
        add_kind(&mut bits, (case.kinds[kind].width / step) as usize, demand);
    }
    bits
}

/// Adds up to so many pieces of a width to the sums.
pub(crate) fn add_kind(bits: &mut [u64], cells: usize, count: usize) {
    let mut left = count;
    let mut take = 1;
    while left > 0 {
        let now = take.min(left);
        shift_or(bits, cells * now);
        left -= now;
        take *= 2;
    }
}

fn shift_or(bits: &mut [u64], shift: usize) {
    let (words, rest) = (shift / 64, shift % 64);
    if rest == 0 {
        for word in (words..bits.len()).rev() {
            bits[word] |= bits[word - words];
        }
        return;
    }
    for word in (words + 1..bits.len()).rev() {
        bits[word] |= bits[word - words] << rest | bits[word - words - 1] >> (64 - rest);
    }
    if words < bits.len() {
        bits[words] |= bits[0] << rest;
    }
}

/// Whether a sum can be made.
pub(crate) fn has(bits: &[u64], place: usize) -> bool {
    bits.get(place / 64).is_some_and(|word| word >> (place % 64) & 1 == 1)
}

/// The highest sum at or below a place.
pub(crate) fn highest(bits: &[u64], place: usize) -> Option<usize> {
    let place = place.min(bits.len() * 64 - 1);
    let mut word = place / 64;
    let mut here = bits[word] & (u64::MAX >> (63 - place % 64));
    loop {
        if here != 0 {
            return Some(word * 64 + 63 - here.leading_zeros() as usize);
        }
        word = word.checked_sub(1)?;
        here = bits[word];
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn bits_are_the_sums_of_every_subset(pieces in prop::collection::vec((1_usize..150, 1_usize..4), 1..6)) {
            let mut bits = vec![0_u64; 8];
            bits[0] = 1;
            let mut all = std::collections::BTreeSet::from([0_usize]);
            for &(cells, count) in &pieces {
                add_kind(&mut bits, cells, count);
                for _ in 0..count {
                    all = all.iter().flat_map(|&sum| [sum, sum + cells]).filter(|&sum| sum < 512).collect();
                }
            }
            for place in 0..512 {
                prop_assert_eq!(has(&bits, place), all.contains(&place), "{}", place);
                prop_assert_eq!(highest(&bits, place), all.range(..=place).next_back().copied());
            }
        }
    }
}
