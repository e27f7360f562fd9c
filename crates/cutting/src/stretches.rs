//! The sound stretches of a reel: what is left of it between trim and flaws.
//!
//! Each counts as a reel of its own when cutting; marks still run along the
//! whole reel. Overlapping flaws are allowed.

use units::Millimetres;

use crate::model::Reel;

/// From and to of every sound stretch, in order, in millimetres.
pub(crate) fn sound_stretches(reel: &Reel, trim: Millimetres) -> Vec<(i64, i64)> {
    let mut flaws: Vec<(i64, i64)> = reel.flaws.iter().map(|flaw| (flaw.from.count(), flaw.to.count())).collect();
    flaws.sort_unstable();
    let mut stretches = Vec::new();
    let mut at = trim.count();
    for (from, to) in flaws {
        if from > at {
            stretches.push((at, from));
        }
        at = at.max(to);
    }
    if reel.length.count() > at {
        stretches.push((at, reel.length.count()));
    }
    stretches
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Flaw;

    #[test]
    fn flaws_and_trim_leave_the_rest() {
        let mut reel = Reel::new("a", "r", Millimetres::new(100));
        let flaw = |from, to| Flaw { from: Millimetres::new(from), to: Millimetres::new(to) };
        assert_eq!(sound_stretches(&reel, Millimetres::new(5)), [(5, 100)]);
        reel.flaws = vec![flaw(50, 60), flaw(0, 10), flaw(55, 70), flaw(99, 100)];
        assert_eq!(sound_stretches(&reel, Millimetres::new(5)), [(10, 50), (70, 99)]);
        assert!(sound_stretches(&reel, Millimetres::new(100)).is_empty());
    }
}
