//! Names on a plot where they touch nothing.

use crate::pen::{Pen, SMALL_TYPE_MM, Type, text_width};

/// A box on paper: left, top, right, foot, in mm.
pub(crate) type Box4 = (f64, f64, f64, f64);

/// Height of a line of names, in mm.
pub(crate) const LINE_MM: f64 = SMALL_TYPE_MM + 0.7;

/// Heights near those wanted, at least `apart` from one another, within
/// `low..high`; in the order in which they were given.
///
/// Heights that are too close are moved apart as one block around their mean,
/// which keeps every name as near to its curve as the others allow.
pub(crate) fn spread(wanted: &[f64], apart: f64, (low, high): (f64, f64)) -> Vec<f64> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by(|&a, &b| wanted[a].total_cmp(&wanted[b]));
    // Blocks of names: the sum of where each wants the block's first to be.
    let mut blocks: Vec<(f64, usize)> = Vec::new();
    let first = |block: (f64, usize)| block.0 / block.1 as f64;
    for &index in &order {
        blocks.push((wanted[index], 1));
        while let [.., before, after] = blocks[..] {
            if first(before) + apart * before.1 as f64 <= first(after) {
                break;
            }
            let shift = apart * (before.1 * after.1) as f64;
            blocks.truncate(blocks.len() - 2);
            blocks.push((before.0 + after.0 - shift, before.1 + after.1));
        }
    }
    let mut heights: Vec<f64> = Vec::with_capacity(wanted.len());
    for block in blocks {
        heights.extend((0..block.1).map(|place| first(block) + apart * place as f64));
    }
    let mut least = low;
    for height in &mut heights {
        *height = height.max(least);
        least = *height + apart;
    }
    let mut most = high;
    for height in heights.iter_mut().rev() {
        *height = height.min(most);
        most = *height - apart;
    }
    let mut placed = vec![0.0; wanted.len()];
    for (&index, height) in order.iter().zip(heights) {
        placed[index] = height;
    }
    placed
}

/// Whether two boxes touch.
pub(crate) fn touch(a: Box4, b: Box4) -> bool {
    a.0 < b.2 && b.0 < a.2 && a.1 < b.3 && b.1 < a.3
}

/// Writes a name beside a point where nothing is yet, and takes the place;
/// false if there is no room anywhere near.
pub(crate) fn beside(pen: &mut Pen, (x, y): (f64, f64), name: &str, frame: Box4, taken: &mut Vec<Box4>) -> bool {
    let wide = text_width(name, Type::SMALL);
    let (clear, up) = (1.7, SMALL_TYPE_MM);
    let mut places = vec![(x + clear, y + 1.1), (x - clear - wide, y + 1.1)];
    for row in 0..4 {
        let away = clear + f64::from(row) * LINE_MM;
        for left in [x - wide / 2.0, x - 0.2, x - wide + 0.2] {
            places.extend([(left, y - away), (left, y + away + 0.75 * up)]);
        }
    }
    for (left, baseline) in places {
        let spot = (left, baseline - 0.8 * up, left + wide, baseline + 0.25 * up);
        let inside = spot.0 >= frame.0 && spot.2 <= frame.2 && spot.1 >= frame.1 && spot.3 <= frame.3;
        if inside && !taken.iter().any(|other| touch(*other, spot)) {
            pen.text((left, baseline), name, Type::SMALL);
            taken.push(spot);
            return true;
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn names_with_room_stay_where_they_want_to_be() {
        assert_eq!(spread(&[30.0, 10.0, 20.0], 4.0, (0.0, 50.0)), [30.0, 10.0, 20.0]);
        // Two at one height go half a line up and half a line down.
        assert_eq!(spread(&[20.0, 20.0], 4.0, (0.0, 50.0)), [18.0, 22.0]);
        assert_eq!(spread(&[1.0, 0.0], 4.0, (0.0, 50.0)), [4.0, 0.0]);
    }

    proptest! {
        #[test]
        fn names_never_touch_and_never_leave_their_room(
            wanted in prop::collection::vec(0.0..100.0_f64, 0..20),
        ) {
            let placed = spread(&wanted, 4.0, (0.0, 100.0));
            let mut sorted = placed.clone();
            sorted.sort_by(f64::total_cmp);
            prop_assert!(sorted.windows(2).all(|pair| pair[1] - pair[0] >= 4.0 - 1e-9), "{sorted:?}");
            prop_assert!(sorted.iter().all(|y| (-1e-9..=100.0 + 1e-9).contains(y)), "{sorted:?}");
        }
    }
}
