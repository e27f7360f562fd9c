//! A small generator of repeatable chance (splitmix64), for shaken restarts.
//!
//! Same seed, same numbers, on every machine. Not for secrets.

/// Repeatable chance.
#[derive(Debug, Clone)]
pub(crate) struct Chance(u64);

impl Chance {
    /// From a seed.
    pub fn new(seed: u64) -> Self {
        Chance(seed)
    }

    /// The next 64 bits.
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// A number below `limit`, 0 when the limit is 0.
    pub fn below(&mut self, limit: usize) -> usize {
        ((u128::from(self.next()) * limit as u128) >> 64) as usize
    }

    /// Whether a chance of `percent` in 100 comes up.
    pub fn in_hundred(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn repeats_and_stays_below_its_limit() {
        let (mut one, mut other) = (Chance::new(7), Chance::new(7));
        let drawn: Vec<usize> = (0..200).map(|_| one.below(10)).collect();
        assert_eq!(drawn, (0..200).map(|_| other.below(10)).collect::<Vec<_>>());
        assert!((0..10).all(|digit| drawn.contains(&digit)) && drawn.iter().all(|&digit| digit < 10));
    }
}
