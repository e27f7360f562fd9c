//! Splices: one elastic solve, one choice of a taper, one layout, one run of a
//! simulation. `benches/splice/run.sh` runs these and the collocation solver
//! on the same cases, and writes `benches/splice/REPORT.md`.

#![allow(clippy::unwrap_used, reason = "a bench that cannot go on fails")]
#![allow(missing_docs, reason = "a bench is called by its harness alone")]

use divan::{Bencher, black_box};
use splice::chooser::{Choice, choose};
use splice::elastic::{BEDDING_SLIP, CELLS, Grid, Service, Work, solve_into};
use splice::{
    Braid, BraidShape, ChanceRequest, EndKind, EndRequest, Measured, Tail, TaperWish, chance, common_taper, layout,
};
use units::Angle;

fn main() {
    divan::main();
}

fn braid() -> Braid {
    Braid::new(BraidShape::new(Angle::of_degrees(14.0), 1.66)).unwrap()
}

const SERVICE: Service = Service { friction: 0.08, rho: 0.5, strain: 0.0036, bedding: BEDDING_SLIP };

/// The smooth case that the peer solves as well: a tail of even thickness.
#[divan::bench]
fn elastic_even(bencher: Bencher) {
    solves(bencher, &Tail::blunt(72.0));
}

/// The same with the common taper.
#[divan::bench]
fn elastic_tapered(bencher: Bencher) {
    solves(bencher, &common_taper(72.0));
}

fn solves(bencher: Bencher, tail: &Tail) {
    let grid = Grid::new(&braid(), &tail.slices(), CELLS);
    let mut work = Work::default();
    bencher.bench_local(|| solve_into(black_box(&grid), black_box(SERVICE), &mut work).unwrap());
}

/// The grid of a geometry, made once for many solves.
#[divan::bench]
fn elastic_grid() -> Grid {
    Grid::new(black_box(&braid()), &common_taper(72.0).slices(), CELLS)
}

/// The best taper of one to five pairs in a bury of 72 diameters.
#[divan::bench(args = [1, 2, 3, 4, 5])]
fn taper_choice(bencher: Bencher, pairs: u32) {
    let braid = braid();
    let choice = Choice {
        braid,
        friction: 0.08,
        mobilised: 0.05,
        bury: 72.0,
        pick: braid.pick(),
        pairs,
        cut: 3.0,
        wanted: 1.0,
        rho: 0.5,
        per_radian: 0.2,
    };
    bencher.bench_local(|| choose(black_box(&choice)).unwrap());
}

/// An eye laid out, the common taper and the chosen one.
#[divan::bench(args = ["common", "chosen"])]
fn long_bury_eye(bencher: Bencher, taper: &str) {
    let rope = cordage::generic("10 mm 12-strand HMPE").unwrap();
    let taper = TaperWish::from_word(taper).unwrap();
    let request = EndRequest { taper, ..EndRequest::new(EndKind::LongBuryEye, &rope) };
    bencher.bench_local(|| layout(black_box(&request)).unwrap());
}

/// A million draws on all cores.
#[divan::bench(sample_count = 5, sample_size = 1)]
fn million_draws(bencher: Bencher) {
    let request = ChanceRequest {
        fibre: cordage::Fibre::Hmpe,
        measured: Measured::default(),
        friction: None,
        friction_times: 1.0,
        tail: common_taper(72.0),
        rho: 0.5,
        bury_within: 0.03,
        diameter_within: 0.03,
        draws: 1_000_000,
        seed: 1,
    };
    bencher.bench_local(|| chance(black_box(&request)).unwrap());
}
