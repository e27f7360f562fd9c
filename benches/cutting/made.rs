//! Our own instances: uniform, triplets, several reel lengths, shop-sized jobs.
//!
//! Uniform: lengths from 20 to 100 on reels of 150. Triplets: three pieces
//! that fill a reel of 1,000 exactly, so that the best plan is known. Several
//! lengths: 2 to 30 lengths of reel, few of each, remnants among them. Shop:
//! orders and weeks of a loft, in millimetres. Chance is a xorshift from a
//! fixed seed, so that every run has the same jobs.

use super::{Case, Class, named};
use cutting::{Job, Origin, Rules};
use units::Millimetres;

/// A job with names in the order given.
pub fn job(pieces: Vec<Millimetres>, reels: &[(Millimetres, u32, Origin)], rules: Rules) -> Job {
    named(pieces, reels, rules)
}

/// Every class of our own.
pub fn classes() -> Vec<Class> {
    let class = |name: &str, jobs: u64, make: &dyn Fn(&mut Chance) -> Job| {
        let case = |seed: u64| Case { name: format!("{seed:02}"), job: make(&mut Chance::new(seed)) };
        (name.to_owned(), (1..=jobs).map(case).collect())
    };
    vec![
        class("made_uniform_120", 10, &|chance| uniform(chance, 120)),
        class("made_uniform_500", 10, &|chance| uniform(chance, 500)),
        class("made_triplets_60", 10, &|chance| triplets(chance, 20)),
        class("made_triplets_120", 10, &|chance| triplets(chance, 40)),
        class("made_lengths_5", 10, &|chance| several(chance, 100, 5)),
        class("made_lengths_12", 10, &|chance| several(chance, 200, 12)),
        class("made_lengths_30", 10, &|chance| several(chance, 300, 30)),
        class("shop_order_40", 40, &order_of_several_ropes),
        class("shop_40_of_one_rope", 40, &|chance| shop(chance, &ORDER)),
        class("shop_40_of_one_rope_no_loss", 40, &|chance| shop(chance, &Shop { loss: 0, smallest: 1_000, ..ORDER })),
        class("shop_12_of_one_rope", 60, &|chance| shop(chance, &TWELVE)),
        class("shop_week_300", 10, &|chance| shop(chance, &WEEK)),
        class("shop_5000_over_60", 5, &|chance| shop(chance, &LARGE)),
        class("shop_5000_all_scrap", 3, &|chance| {
            shop(chance, &Shop { loss: 0, remnants: 0, smallest: 600_000, ..LARGE })
        }),
    ]
}

fn mm(count: u64) -> Millimetres {
    Millimetres::new(count as i64)
}

fn uniform(chance: &mut Chance, pieces: u64) -> Job {
    let lengths = (0..pieces).map(|_| mm(chance.between(20, 100))).collect();
    job(lengths, &[(mm(150), pieces as u32, Origin::Rack)], Rules::keeping(mm(151)))
}

fn triplets(chance: &mut Chance, reels: u64) -> Job {
    let mut lengths = Vec::new();
    for _ in 0..reels {
        let first = chance.between(380, 490);
        let second = chance.between(250, (1_000 - first) / 2);
        lengths.extend([first, second, 1_000 - first - second].map(mm));
    }
    job(lengths, &[(mm(1_000), reels as u32 * 3, Origin::Rack)], Rules::keeping(mm(1_001)))
}

/// Reels of several lengths in short supply; the least rope is opened.
fn several(chance: &mut Chance, pieces: u64, kinds: u64) -> Job {
    let lengths: Vec<_> = (0..pieces).map(|_| mm(chance.between(20, 150))).collect();
    let wanted: i64 = lengths.iter().map(|length| length.count()).sum();
    let mut reels = Vec::new();
    for at in 0..kinds {
        let length = mm(chance.between(150, 600));
        // Together they hold a good deal more than is wanted, none alone.
        let count = (wanted * 3 / 2 / kinds as i64 / length.count()).max(1) as u32 + 1;
        reels.push((length, count, if at % 3 == 2 { Origin::Remnant } else { Origin::Rack }));
    }
    let rules = Rules { remnant_value: Some(Millimetres::ZERO), ..Rules::keeping(mm(601)) };
    job(lengths, &reels, rules)
}

/// A size of shop.
struct Shop {
    pieces: u64,
    lengths: u64,
    shortest: u64,
    longest: u64,
    /// Full reels: length and count.
    reels: &'static [(u64, u32)],
    remnants: u64,
    loss: i64,
    smallest: u64,
}

const ORDER: Shop = Shop {
    pieces: 40,
    lengths: 30,
    shortest: 600,
    longest: 36_000,
    reels: &[(200_000, 3), (100_000, 3)],
    remnants: 8,
    loss: 10,
    smallest: 2_000,
};
const TWELVE: Shop =
    Shop { pieces: 12, lengths: 12, shortest: 2_000, longest: 30_000, reels: &[(100_000, 2)], remnants: 3, ..ORDER };
const WEEK: Shop = Shop { pieces: 300, lengths: 60, reels: &[(200_000, 30), (100_000, 20)], remnants: 30, ..ORDER };
const LARGE: Shop = Shop {
    pieces: 5_000,
    lengths: 150,
    shortest: 500,
    longest: 4_000,
    reels: &[(200_000, 20), (300_000, 10), (150_000, 10), (220_000, 5), (500_000, 5)],
    remnants: 10,
    loss: 5,
    smallest: 2_000,
};

fn shop(chance: &mut Chance, size: &Shop) -> Job {
    let lengths: Vec<u64> =
        (0..size.lengths).map(|_| chance.between(size.shortest / 5, size.longest / 5) * 5).collect();
    let pieces = (0..size.pieces).map(|_| mm(lengths[chance.between(0, size.lengths - 1) as usize])).collect();
    let full = size.reels.iter().map(|&(length, count)| (mm(length), count, Origin::Rack));
    let left: Vec<_> = (0..size.remnants).map(|_| (mm(chance.between(500, 12_000) * 5), 1, Origin::Remnant)).collect();
    let reels: Vec<_> = full.chain(left).collect();
    let rules = Rules { loss_per_cut: Millimetres::new(size.loss), ..Rules::keeping(mm(size.smallest)) };
    job(pieces, &reels, rules)
}

/// A boat's order: 40 pieces of eight ropes, from two pieces of a rope to nine,
/// each rope with a full reel or two and what is left of others.
fn order_of_several_ropes(chance: &mut Chance) -> Job {
    const OF_EACH: [u64; 8] = [9, 8, 6, 5, 4, 3, 3, 2];
    let of_rope = |(number, pieces): (usize, &u64)| {
        let size =
            Shop { pieces: *pieces, lengths: *pieces, reels: &[(200_000, 1), (100_000, 1)], remnants: 3, ..ORDER };
        let mut job = shop(chance, &size);
        let rope = format!("rope {number}");
        for piece in &mut job.pieces {
            (piece.id, piece.rope) = (format!("{rope}, {}", piece.id), rope.clone());
        }
        for reel in &mut job.reels {
            (reel.id, reel.rope) = (format!("{rope}, {}", reel.id), rope.clone());
        }
        job
    };
    let mut all = OF_EACH.iter().enumerate().map(of_rope);
    let first = all.next().unwrap_or_else(|| named(Vec::new(), &[], Rules::keeping(mm(2_000))));
    all.fold(first, |mut whole, job| {
        whole.pieces.extend(job.pieces);
        whole.reels.extend(job.reels);
        whole
    })
}

/// A small generator of repeatable chance (a xorshift).
struct Chance(u64);

impl Chance {
    fn new(seed: u64) -> Chance {
        Chance(0x9E37_79B9_7F4A_7C15 ^ seed.wrapping_mul(0x0000_0100_0000_01B3))
    }

    fn between(&mut self, least: u64, most: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        least + self.0 % (most - least + 1)
    }
}
