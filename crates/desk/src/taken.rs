//! What a cut plan takes from each reel, in whole millimetres: what the
//! answer prints in anybody's units, exact for whoever cuts by it.

use cutting::{Becomes, CutReel, Flaw};

/// What a plan takes from one reel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReelTaken {
    /// Its label.
    pub reel: String,
    /// Which of several alike, from 1.
    pub copy: u32,
    /// What was on it.
    pub seen_mm: i64,
    /// Its flaws, from where to where.
    pub flaws: Vec<(i64, i64)>,
    /// Its pieces in the order to cut: code, from where, to where.
    pub pieces: Vec<(String, i64, i64)>,
    /// What is left: from where, to where, and whether it is kept.
    pub leftovers: Vec<(i64, i64, bool)>,
}

/// The same of the plan's own reel, of which `seen_mm` was there.
pub(crate) fn reel_taken(reel: &CutReel, seen_mm: i64, flaws: &[Flaw]) -> ReelTaken {
    ReelTaken {
        reel: reel.reel.clone(),
        copy: reel.copy,
        seen_mm,
        flaws: flaws.iter().map(|flaw| (flaw.from.count(), flaw.to.count())).collect(),
        pieces: reel.cuts.iter().map(|cut| (cut.piece.clone(), cut.from.count(), cut.to.count())).collect(),
        leftovers: reel
            .leftovers
            .iter()
            .map(|left| (left.from.count(), left.to.count(), left.becomes != Becomes::Scrap))
            .collect(),
    }
}

impl ReelTaken {
    /// Where the rope that stays on the reel begins: at the first sound
    /// stretch, or the first flaw, beyond the last cut; at the reel's end
    /// where there is neither.
    #[must_use]
    pub fn rest_from_mm(&self) -> i64 {
        let last = self.pieces.iter().map(|(_, _, to)| *to).max().unwrap_or(0);
        let beyond = self.leftovers.iter().map(|left| left.0).chain(self.flaws.iter().map(|flaw| flaw.0));
        beyond.filter(|from| *from >= last).min().unwrap_or(self.seen_mm)
    }
}

#[cfg(test)]
mod tests {
    use super::ReelTaken;

    fn taken(flaws: &[(i64, i64)], leftovers: &[(i64, i64, bool)]) -> ReelTaken {
        ReelTaken {
            reel: "R1".to_owned(),
            copy: 1,
            seen_mm: 10_000,
            flaws: flaws.to_vec(),
            pieces: vec![("a".to_owned(), 0, 4_000)],
            leftovers: leftovers.to_vec(),
        }
    }

    #[test]
    fn the_rest_begins_beyond_the_last_cut() {
        assert_eq!(taken(&[], &[(4_010, 10_000, true)]).rest_from_mm(), 4_010);
        assert_eq!(taken(&[], &[]).rest_from_mm(), 10_000);
        assert_eq!(taken(&[(4_500, 4_700)], &[(4_010, 4_500, false), (4_700, 10_000, true)]).rest_from_mm(), 4_010);
        assert_eq!(taken(&[(4_005, 4_700)], &[(4_700, 10_000, true)]).rest_from_mm(), 4_005);
        assert_eq!(taken(&[(1_000, 1_100)], &[(0, 900, false), (4_010, 10_000, true)]).rest_from_mm(), 4_010);
    }
}
