//! A boat swept over all winds and angles and her lines' loads taken from it;
//! and a lead walked over its whole travel. `benches/rig/run.sh` runs this, sends
//! ten thousand boats through the program, and writes `benches/rig/REPORT.md`.

#![allow(clippy::unwrap_used, reason = "a bench that cannot go on fails")]
#![allow(missing_docs, reason = "a bench is called by its harness alone")]

use divan::{Bencher, black_box};
use rig::tackle::SheaveBearing;
use rig::{
    Bearing, Boat, Conditions, Grid, Headsail, Hull, Lead, LineKind, Mainsail, Point, Question, RigType, Sails, Setup,
    Spinnaker, SpinnakerKind, Sweep, TurnAt,
};
use units::{Length, Mass, Moment, Speed};

fn main() {
    divan::main();
}

/// Kinds of line that a sail loads.
const SAILED: [LineKind; 15] = [
    LineKind::MainHalyard,
    LineKind::JibHalyard,
    LineKind::SpinnakerHalyard,
    LineKind::Mainsheet,
    LineKind::JibSheet,
    LineKind::SpinnakerSheet,
    LineKind::Guy,
    LineKind::Foreguy,
    LineKind::Vang,
    LineKind::Outhaul,
    LineKind::BackstayAdjuster,
    LineKind::ReefLineSlab,
    LineKind::FurlingLine,
    LineKind::Traveller,
    LineKind::JibCar,
];

fn question(moment: Option<Moment>) -> Question {
    let mut boat = Boat::of_length(Length::of_m(10.4), Hull::Monohull, RigType::FractionalSloop);
    boat.displacement = Some(Mass::of_kg(4600.0));
    boat.righting_moment = moment;
    let sails = Sails {
        main: Some(Mainsail { reefs: Some(2), ..Mainsail::default() }),
        jib: Some(Headsail::default()),
        spinnaker: Some(Spinnaker { kind: SpinnakerKind::Symmetric, area: None, mass: None }),
        ..Sails::default()
    };
    let wind = Some(Speed::of_knots(18.0));
    let conditions = Conditions { wind_upwind: wind, wind_downwind: wind, hand_pull: None };
    Question { grid: Grid::even(20, 30), ..Question::usual(boat, sails, conditions) }
}

/// Sixty lines in twenty winds and thirty angles, the worst state of each.
fn sixty(asked: &Question) -> usize {
    let sweep = Sweep::of(asked.clone());
    (0..60).filter(|line| sweep.line(&Setup::of(SAILED[line % SAILED.len()])).is_ok()).count()
}

#[divan::bench]
fn sixty_lines_righting_moment_given(bencher: Bencher) {
    let asked = question(Some(Moment::of_kn_m(28.0)));
    assert_eq!(sixty(&asked), 60);
    bencher.bench_local(|| sixty(black_box(&asked)));
}

/// Estimated: swept at both ends of its band too.
#[divan::bench]
fn sixty_lines_righting_moment_estimated(bencher: Bencher) {
    let asked = question(None);
    assert_eq!(sixty(&asked), 60);
    bencher.bench_local(|| sixty(black_box(&asked)));
}

#[divan::bench]
fn a_halyard_over_its_travel(bencher: Bencher) {
    let turn = |name: &str, at, bearing, mm| TurnAt { name: name.to_owned(), at, diameter: Length::of_mm(mm), bearing };
    let ball = Bearing::Sheave(SheaveBearing::Ball);
    let lead = Lead {
        hauled: Point::of_m(0.0, 0.0, 12.6),
        eased: Point::of_m(0.0, 0.0, 1.3),
        parts: 1,
        turns: vec![
            turn("masthead", Point::of_m(-0.04, 0.0, 13.0), ball, 80.0),
            turn("mast foot", Point::of_m(-0.08, 0.0, 0.1), ball, 60.0),
            turn("organiser", Point::of_m(0.8, 0.3, 0.2), ball, 60.0),
            turn("clutch", Point::of_m(3.0, 0.4, 0.3), Bearing::Clutch, 0.0),
        ],
    };
    bencher.bench_local(|| rig::travel(black_box(&lead)).unwrap());
}
