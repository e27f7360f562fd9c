//! The due list and the statistics of a big loft: 100,000 pieces, 20,000
//! tests; a curve of 10,000 readings thinned for a drawing. Wanted: each of
//! the first two, and both together, under 100 ms.

#![allow(clippy::expect_used, reason = "a bench that cannot go on fails")]
#![allow(missing_docs, reason = "a bench is called by its harness alone")]

use divan::{Bencher, black_box};
use proving::{Event, Interval, Life, Outcome, Sample, Test};
use splice::Span;
use units::{Duration, Force};

fn main() {
    divan::main();
}

/// Numbers from nowhere, the same in every run.
struct Seeded(u64);

impl Seeded {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    /// About normal: the sum of twelve, less six.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.next()).sum::<f64>() - 6.0
    }
}

fn lives() -> Vec<Life> {
    let mut seeded = Seeded(1);
    let start = proving::day_from("2024-01-01").expect("a day");
    (0..100_000)
        .map(|_| {
            let made = proving::days_after(start, (seeded.next() * 900.0) as i32).expect("a day");
            let life = Life::new(made, Interval { months: 12, hours: Some(400.0) });
            life.after(made, &Event::PutInService).expect("it goes into service")
        })
        .collect()
}

/// 20,000 tests of 400 kinds of rope and splice, a tenth of them held only.
fn groups() -> Vec<Vec<Test>> {
    let mut seeded = Seeded(2);
    (0..400)
        .map(|group| {
            (0..50)
                .map(|number| Test {
                    number: format!("{group}-{number}"),
                    load: Force::of_kn(45.0 + 1.5 * seeded.normal()),
                    outcome: if number % 10 == 0 { Outcome::Held } else { Outcome::BrokeAtSplice },
                    listed: Force::of_kn(50.0),
                    used: None,
                    left_out: None,
                })
                .collect()
        })
        .collect()
}

#[divan::bench]
fn due_list_of_100_000_pieces(bencher: Bencher) {
    let lives = lives();
    let today = proving::day_from("2026-11-25").expect("a day");
    bencher.bench_local(|| proving::due_list(black_box(&lives), today, today).len());
}

#[divan::bench]
fn statistics_of_20_000_tests(bencher: Bencher) {
    let groups = groups();
    let default = Some(Span { low: 0.8, usual: 0.88, high: 0.95 });
    bencher
        .bench_local(|| black_box(&groups).iter().filter(|tests| proving::strength_of(tests, default).is_ok()).count());
}

#[divan::bench]
fn a_curve_of_10_000_readings_thinned(bencher: Bencher) {
    let samples = (0..10_000).map(|n| Sample {
        time: Duration::of_seconds(f64::from(n) * 0.01),
        load: Force::of_n(f64::from(n % 977)),
        extension: None,
    });
    let curve = proving::Curve { samples: samples.collect() };
    bencher.bench_local(|| {
        (proving::summary(black_box(&curve)).is_some(), proving::thinned(black_box(&curve), 800).len())
    });
}
