//! Makes shop-sized jobs of several sizes by chance and reports how fast they are proven.
//!
//! `cargo run --release -p cutting --example shop -- [--limit SECONDS] [--each]`
//! Every plan is checked and its certificates are verified.
#![expect(clippy::print_stdout, reason = "a report program")]
#![allow(clippy::disallowed_methods, clippy::disallowed_macros, reason = "a report program reads its arguments")]

use std::error::Error;
use std::time::{Duration, Instant};

use cutting::{Aim, Job, Origin, Piece, Reel, Rules, Settings, check, plan};
use units::Millimetres;

/// A size of shop.
struct Size {
    name: &'static str,
    pieces: u64,
    lengths: u64,
    shortest: u64,
    longest: u64,
    /// Full reels: length and count.
    reels: &'static [(u64, u32)],
    remnants: u64,
    loss: i64,
    smallest: i64,
    jobs: u64,
}

const SIZES: &[Size] = &[
    Size {
        name: "order of 40",
        pieces: 40,
        lengths: 30,
        shortest: 600,
        longest: 36_000,
        reels: &[(200_000, 3), (100_000, 3)],
        remnants: 8,
        loss: 10,
        smallest: 2_000,
        jobs: 40,
    },
    Size {
        name: "order of 40, no loss",
        pieces: 40,
        lengths: 30,
        shortest: 600,
        longest: 36_000,
        reels: &[(200_000, 3), (100_000, 3)],
        remnants: 8,
        loss: 0,
        smallest: 1_000,
        jobs: 40,
    },
    Size {
        name: "12 of one rope",
        pieces: 12,
        lengths: 12,
        shortest: 2_000,
        longest: 30_000,
        reels: &[(100_000, 2)],
        remnants: 3,
        loss: 10,
        smallest: 2_000,
        jobs: 60,
    },
    Size {
        name: "week of 300",
        pieces: 300,
        lengths: 60,
        shortest: 600,
        longest: 36_000,
        reels: &[(200_000, 30), (100_000, 20)],
        remnants: 30,
        loss: 10,
        smallest: 2_000,
        jobs: 10,
    },
    Size {
        name: "5,000 over 60 reels",
        pieces: 5_000,
        lengths: 150,
        shortest: 500,
        longest: 4_000,
        reels: &[(200_000, 20), (300_000, 10), (150_000, 10), (220_000, 5), (500_000, 5)],
        remnants: 10,
        loss: 5,
        smallest: 2_000,
        jobs: 3,
    },
    Size {
        name: "5,000, all scrap",
        pieces: 5_000,
        lengths: 150,
        shortest: 500,
        longest: 4_000,
        reels: &[(200_000, 20), (300_000, 10), (150_000, 10), (220_000, 5), (500_000, 5)],
        remnants: 0,
        loss: 0,
        smallest: 600_000,
        jobs: 2,
    },
];

/// A small generator of repeatable chance (an xorshift).
struct Chance(u64);

impl Chance {
    fn between(&mut self, least: u64, most: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        least + self.0 % (most - least + 1)
    }
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut limit = 10.0;
    let mut wordy = false;
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        match argument.as_str() {
            "--limit" => limit = arguments.next().ok_or("--limit needs seconds")?.parse()?,
            "--each" => wordy = true,
            other => return Err(format!("unknown argument {other}").into()),
        }
    }
    for size in SIZES {
        report(size, Duration::from_secs_f64(limit), wordy)?;
    }
    Ok(())
}

fn report(size: &Size, limit: Duration, wordy: bool) -> Result<(), Box<dyn Error>> {
    let mut times = Vec::new();
    let (mut proven, mut gap) = (0, 0);
    for seed in 1..=size.jobs {
        let job = made(size, seed);
        let begin = Instant::now();
        let stop = || begin.elapsed() > limit;
        let told = |step: cutting::Progress<'_>| {
            if wordy {
                println!("    {:8.4} s {} gap {}", begin.elapsed().as_secs_f64(), step.doing, step.gap);
            }
        };
        let plan = plan(&job, &Settings { stop: &stop, progress: &told, ..Settings::default() })?;
        times.push(begin.elapsed().as_secs_f64());
        check(&job, &plan).map_err(|faults| format!("{faults:?}"))?;
        let loss = plan.goal(Aim::Loss).ok_or("no goal")?;
        proven += usize::from(loss.proven);
        gap = gap.max(loss.value - loss.bound);
        if wordy {
            println!(
                "  job {seed}: loss {} bound {} reels {} uncut {}, {}",
                loss.value,
                loss.bound,
                plan.totals.reels,
                plan.uncut.len(),
                plan.ropes[0].certificate
            );
        }
    }
    times.sort_by(f64::total_cmp);
    let median = times.get(times.len() / 2).copied().unwrap_or(0.0);
    let most = times.last().copied().unwrap_or(0.0);
    println!(
        "{}: {proven} of {} proven, widest gap {gap} mm, median {median:.4} s, most {most:.3} s",
        size.name, size.jobs
    );
    Ok(())
}

fn made(size: &Size, seed: u64) -> Job {
    let mut chance = Chance(0x9E37_79B9_7F4A_7C15 ^ seed.wrapping_mul(0x0000_0100_0000_01B3));
    let mm = |count: u64| Millimetres::new(count as i64);
    let lengths: Vec<u64> =
        (0..size.lengths).map(|_| chance.between(size.shortest / 5, size.longest / 5) * 5).collect();
    let pieces = (0..size.pieces)
        .map(|at| Piece::new(format!("piece {at}"), "rope", mm(lengths[chance.between(0, size.lengths - 1) as usize])))
        .collect();
    let full = size.reels.iter().map(|&(length, count)| (length, count, Origin::Rack));
    let left: Vec<_> = (0..size.remnants).map(|_| (chance.between(500, 12_000) * 5, 1, Origin::Remnant)).collect();
    let reels = full
        .chain(left)
        .enumerate()
        .map(|(at, (length, count, origin))| Reel {
            count,
            origin,
            ..Reel::new(format!("reel {at}"), "rope", mm(length))
        })
        .collect();
    let rules = Rules { loss_per_cut: Millimetres::new(size.loss), ..Rules::keeping(Millimetres::new(size.smallest)) };
    Job { pieces, reels, rules }
}
