//! Loads, leads and lengths: published checks, closed forms, properties.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use proptest::prelude::*;
use rig::coefficients::{SailTable, at};
use rig::tackle::*;
use rig::wind::{Sailing, apparent, gradient, pressure};
use rig::*;
use units::{Angle, Area, Force, Length, Moment, Speed};

mod catenary;
mod leads;
mod sweep;

fn close(got: f64, wanted: f64, tolerance: f64) {
    assert!((got - wanted).abs() <= tolerance, "{got} for {wanted} ± {tolerance}");
}

fn sloop() -> Boat {
    let m = |metres| Some(Length::of_m(metres));
    Boat {
        lwl: m(9.1),
        draught: m(1.9),
        righting_moment: Some(Moment::of_kn_m(32.0)),
        i: m(13.2),
        j: m(3.9),
        p: m(12.9),
        e: m(4.3),
        isp: m(14.0),
        bas: m(1.3),
        ..Boat::of_length(Length::of_m(10.4), Hull::Monohull, RigType::FractionalSloop)
    }
}

fn sails() -> Sails {
    Sails {
        main: Some(Mainsail { area: Some(Area::of_m2(31.0)), ..Mainsail::default() }),
        jib: Some(Headsail { area: Some(Area::of_m2(27.0)), ..Headsail::default() }),
        spinnaker: Some(Spinnaker { kind: SpinnakerKind::Asymmetric, area: Some(Area::of_m2(85.0)), mass: None }),
        staysail: Some(Headsail { area: Some(Area::of_m2(14.0)), ..Headsail::default() }),
        mizzen: None,
    }
}

fn setup(kind: LineKind) -> Setup {
    Setup::of(kind)
}

fn load(kind: LineKind) -> LineLoad {
    line_load(&sloop(), &sails(), &Conditions::default(), &setup(kind)).unwrap()
}

#[test]
fn wind_and_coefficients_match_published_values() {
    close(pressure(Speed::of_knots(1.0)).to_pa(), 0.16210, 1e-5);
    let felt = apparent(&Sailing {
        wind: Speed::of_knots(12.0),
        angle: Angle::of_degrees(45.0),
        boat: Speed::of_knots(6.0),
        heel: Angle::of_degrees(20.0),
    });
    close(felt.speed.to_m_per_s(), 8.50625, 1e-5);
    close(felt.angle.to_degrees(), 28.83099, 1e-5);
    close(gradient(Length::of_m(1.0)).unwrap(), 0.6971, 1e-4);
    close(gradient(Length::of_m(5.0)).unwrap(), 0.9088, 1e-4);
    assert_eq!(gradient(Length::of_mm(5.0)), None);
    let asymmetric = at(SailTable::Asymmetric, Angle::of_degrees(100.0)).unwrap();
    close(asymmetric.drive(Angle::of_degrees(100.0)), 1.065, 0.001);
    close(asymmetric.side(Angle::of_degrees(100.0)), 0.366, 0.001);
    let jib = at(SailTable::Jib, Angle::of_degrees(27.0)).unwrap();
    close(jib.drive(Angle::of_degrees(27.0)), 0.62532, 1e-5);
    close(jib.side(Angle::of_degrees(27.0)), 1.30876, 1e-5);
    // 40 m2 at 25 kn.
    close((pressure(Speed::of_knots(25.0)) * Area::of_m2(40.0)).to_n() * jib.size(), 5878.0, 0.5);
    assert!(at(SailTable::Jib, Angle::of_degrees(5.0)).is_err());
}

#[test]
fn tackles_match_published_examples() {
    let tons = |s: Force| s.to_tf();
    close(tons(ten_per_cent_rule(Force::of_tf(4.0), 3, 4)), 1.3, 0.005);
    close(tons(ten_per_cent_rule(Force::of_tf(4.0), 2, 2)), 2.4, 0.005);
    close(tons(ten_per_cent_rule(Force::of_tf(15.0), 3, 3)), 6.5, 0.005);
    let plain = sheave_efficiency(SheaveBearing::Plain).get().unwrap();
    let four = Tackle { parts: 4, fall: Fall::FixedBlock, efficiency: plain };
    close(1.0 / four.advantage(), 0.309, 0.001);
    // Two lead sheaves more: 2,202 lb for 6,000 lb.
    close(6000.0 / four.advantage() / (plain * plain), 2202.0, 5.0);
    let roller = Tackle { parts: 4, fall: Fall::FixedBlock, efficiency: 0.917 };
    close(roller.advantage(), 3.2361, 1e-4);
    close(winch_ratio(Length::of_inches(8.0), Length::of_inches(4.0), 7.0), 28.0, 1e-12);
}

#[test]
fn wrap_adds_up_along_a_lead() {
    // Masthead, foot block, along the deck: two half and quarter turns.
    let sheave = |name: &str, at| TurnAt {
        name: name.to_owned(),
        at,
        diameter: Length::of_mm(60.0),
        bearing: Bearing::Sheave(SheaveBearing::Ball),
    };
    let lead = Lead {
        hauled: Point::of_m(0.03, 0.0, 12.0),
        eased: Point::of_m(0.03, 0.0, 1.3),
        parts: 1,
        turns: vec![
            sheave("masthead", Point::of_m(0.0, 0.0, 13.0)),
            sheave("mast foot", Point::of_m(0.0, 0.0, 0.0)),
            TurnAt {
                name: "clutch".to_owned(),
                at: Point::of_m(3.0, 0.0, 0.0),
                diameter: Length::ZERO,
                bearing: Bearing::Clutch,
            },
        ],
    };
    let Travel { eased, hauled, .. } = travel(&lead).unwrap();
    close(eased.turns[0].wrap.to_degrees(), 180.0, 0.5);
    close(eased.turns[1].wrap.to_degrees(), 90.0, 1.0);
    close((eased.length - hauled.length).to_m(), 10.7, 0.001);
    // Straight lengths, half a turn and a quarter turn of 30 mm radius.
    let by_hand = 11.7 + 13.0 + 3.0 + 0.03 * 1.5 * std::f64::consts::PI;
    close(eased.length.to_m(), by_hand, 0.005);
    assert!(eased.hand_over_end > 1.0 / (0.97 * 0.97) * 0.98);
}

#[test]
fn a_crossed_and_an_open_belt_have_their_textbook_lengths() {
    // Two sheaves of radius 0.1 and 0.2 m, 1 m apart; a point well off on each side.
    let turn = |at, mm| TurnAt {
        name: "sheave".to_owned(),
        at,
        diameter: Length::of_mm(mm),
        bearing: Bearing::Sheave(SheaveBearing::Plain),
    };
    let lead = |end: Point| Lead {
        hauled: Point::of_m(0.0, 0.0, 5.0),
        eased: Point::of_m(0.0, 0.0, 5.0),
        parts: 1,
        turns: vec![
            turn(Point::of_m(0.0, 0.0, 0.0), 200.0),
            turn(Point::of_m(1.0, 0.0, 0.0), 400.0),
            TurnAt { bearing: Bearing::Fast, ..turn(end, 0.0) },
        ],
    };
    // Up on both sides: open belt. tangent from a point: sqrt(5² - r²).
    let Travel { eased: open, .. } = travel(&lead(Point::of_m(1.0, 0.0, 5.0))).unwrap();
    let arc = |radius: f64, wrap: f64| radius * wrap;
    let tilt = 0.1f64.asin();
    let (first, second) = ((0.1f64 / 5.0).asin(), (0.2f64 / 5.0).asin());
    let quarter = std::f64::consts::FRAC_PI_2;
    let by_hand = (25.0f64 - 0.01).sqrt()
        + arc(0.1, quarter + first - tilt)
        + (1.0f64 - 0.01).sqrt()
        + arc(0.2, quarter + tilt + second)
        + (25.0f64 - 0.04).sqrt();
    close(open.length.to_m(), by_hand, 1e-9);
    // Down on the second side: crossed belt.
    let Travel { eased: crossed, .. } = travel(&lead(Point::of_m(1.0, 0.0, -5.0))).unwrap();
    let tilt = 0.3f64.asin();
    let by_hand = (25.0f64 - 0.01).sqrt()
        + arc(0.1, quarter + first + tilt)
        + (1.0f64 - 0.09).sqrt()
        + arc(0.2, quarter + tilt + second)
        + (25.0f64 - 0.04).sqrt();
    close(crossed.length.to_m(), by_hand, 1e-9);
}

#[test]
fn a_lead_that_cannot_be_is_refused() {
    let mut lead =
        Lead { hauled: Point::of_m(0.0, 0.0, 1.0), eased: Point::of_m(0.0, 0.0, 2.0), parts: 1, turns: vec![] };
    assert_eq!(travel(&lead), Err(LeadError::Empty));
    let sheave = |name: &str, aft| TurnAt {
        name: name.to_owned(),
        at: Point::of_m(aft, 0.0, 0.0),
        diameter: Length::of_mm(100.0),
        bearing: Bearing::Sheave(SheaveBearing::Ball),
    };
    lead.turns = vec![sheave("one", 0.0), sheave("two", 0.05), sheave("three", 0.05)];
    lead.turns[2].at = Point::of_m(0.05, 0.0, -1.0);
    assert!(matches!(travel(&lead), Err(LeadError::TooClose { .. })));
    lead.parts = 0;
    assert_eq!(travel(&lead), Err(LeadError::Parts { given: 0 }));
}

#[test]
fn every_kind_has_a_load_or_says_what_it_needs() {
    for kind in LineKind::ALL {
        match line_load(&sloop(), &sails(), &Conditions::default(), &setup(kind)) {
            Ok(load) => {
                assert!(
                    load.steady > Force::of_n(20.0) && load.steady < Force::of_kn(40.0),
                    "{kind:?} {}",
                    load.steady
                );
                assert!(load.peak > load.steady, "{kind:?}");
                assert!(!load.working.is_empty(), "{kind:?}");
                if let Some((low, high)) = load.range {
                    assert!(low <= load.steady && load.steady <= high, "{kind:?}");
                }
            }
            Err(LoadError::Give { .. }) => assert!(matches!(
                kind,
                LineKind::LifelineLashing | LineKind::Strop | LineKind::Loop | LineKind::SoftShackle
            )),
            Err(LoadError::Rig { .. }) => assert!(matches!(kind, LineKind::PeakHalyard | LineKind::ThroatHalyard)),
            Err(other) => unreachable!("{kind:?}: {other}"),
        }
        assert_eq!(LineKind::from_word(kind.word()), Some(kind));
    }
}

#[test]
fn a_sail_that_is_missing_is_asked_for() {
    let nothing = Sails::default();
    let refusal = line_load(&sloop(), &nothing, &Conditions::default(), &setup(LineKind::Mainsheet)).unwrap_err();
    assert_eq!(refusal, LoadError::Sail { kind: "mainsheet", sail: "main" });
}

#[test]
fn loads_stand_in_the_range_of_sail_area_times_pressure() {
    // Secondary band of the reference sheet: sheet about 1.5 to 1.8 q A with CL 1.45.
    let jib = load(LineKind::JibSheet);
    let pressure_area = jib.steady.to_n() / 27.0;
    assert!((60.0..300.0).contains(&pressure_area), "{pressure_area} N/m2");
    // The backstay of an offshore boat is the hardest line aboard.
    let backstay = load(LineKind::BackstayAdjuster);
    assert!(backstay.steady > load(LineKind::MainHalyard).steady);
}

#[test]
fn a_given_load_wins_and_is_checked() {
    let given = |steady, peak| Setup { given: Some((steady, peak)), ..setup(LineKind::Strop) };
    let ask = |setup: Setup| line_load(&sloop(), &sails(), &Conditions::default(), &setup);
    let load = ask(given(Force::of_kn(5.0), None)).unwrap();
    assert_eq!(load.steady, Force::of_kn(5.0));
    assert!(ask(given(Force::of_kn(5.0), Some(Force::of_kn(4.0)))).is_err());
    assert!(ask(given(Force::ZERO, None)).is_err());
}

#[test]
fn estimates_say_what_was_assumed() {
    let bare = Boat::of_length(Length::of_m(10.0), Hull::Monohull, RigType::MastheadSloop);
    let load = line_load(&bare, &sails(), &Conditions::default(), &setup(LineKind::MainHalyard)).unwrap();
    assert!(load.working.iter().any(|step| step.formula.contains("LOA")));
    assert!(load.findings.iter().any(|finding| finding.code == "stability-estimated"));
    let graph = righting(&Boat { lwl: Some(Length::of_feet(40.0)), ..bare });
    close(graph.moment.to_kn_m(), 108.5, 0.1);
}

#[test]
fn lengths_by_rule_have_the_published_ones() {
    let mut boat = Boat::of_length(Length::of_m(10.0), Hull::Monohull, RigType::FractionalSloop);
    (boat.p, boat.bas) = (Some(Length::of_m(13.0)), Some(Length::of_m(1.5)));
    let rule = |kind, parts| {
        let input = RuleInput { kind, mast: Mast::Main, parts, tail: Some(Length::of_m(2.0)) };
        length_by_rule(&boat, &input).unwrap().0.to_m()
    };
    close(rule(LineKind::MainHalyard, 1), 33.5, 1e-9);
    close(rule(LineKind::MainHalyard, 2), 46.5, 1e-9);
    close(rule(LineKind::JibSheet, 1), 15.0, 1e-9);
    close(rule(LineKind::SpinnakerSheet, 1), 20.0, 1e-9);
    let mut sheet = boat;
    (sheet.e, sheet.bas) = (Some(Length::of_m(4.5)), Some(Length::of_m(1.2)));
    let input = RuleInput { kind: LineKind::Mainsheet, mast: Mast::Main, parts: 4, tail: Some(Length::ZERO) };
    close(length_by_rule(&sheet, &input).unwrap().0.to_m(), 24.790, 0.001);
}

proptest! {
    #[test]
    fn loads_grow_with_wind_until_stability_caps_them(knots in 6.0f64..14.0) {
        let at = |knots: f64| {
            let conditions = Conditions { wind_upwind: Some(Speed::of_knots(knots)), ..Conditions::default() };
            line_load(&sloop(), &sails(), &conditions, &setup(LineKind::JibSheet)).unwrap().steady
        };
        prop_assert!(at(knots) <= at(knots + 1.0));
    }

    #[test]
    fn a_purchase_divides_the_load(parts in 2u32..12) {
        let one = load(LineKind::Vang);
        let many = line_load(&sloop(), &sails(), &Conditions::default(), &Setup { parts, ..setup(LineKind::Vang) }).unwrap();
        prop_assert!((many.steady * f64::from(parts) / one.steady - 1.0).abs() < 1e-12);
        prop_assert!(many.hauling > many.steady);
    }

    #[test]
    fn friction_helps_when_easing_and_hurts_when_hauling(parts in 1u32..10, efficiency in 0.85f64..0.99) {
        let tackle = Tackle { parts, fall: Fall::FixedBlock, efficiency };
        prop_assert!(tackle.advantage() < f64::from(parts));
        prop_assert!(tackle.easing() > f64::from(parts));
    }

    #[test]
    fn three_lines_balance_what_they_hold(
        x in -1.0f64..1.0, y in -1.0f64..1.0, z in -0.9f64..0.9,
    ) {
        prop_assume!(x.abs() + y.abs() + z.abs() > 0.2);
        let lines = [[0.3, 0.2, 1.0], [0.5, -0.9, -0.3], [-0.6, 0.8, -0.5]];
        if let Ok(pulls) = three_corners(Force::of_n(100.0), [x, y, z], lines) {
            let size = (x * x + y * y + z * z).sqrt();
            for axis in 0..3 {
                let sum: f64 = (0..3).map(|line| {
                    let length = lines[line].iter().map(|part| part * part).sum::<f64>().sqrt();
                    pulls[line].to_n() * lines[line][axis] / length
                }).sum();
                prop_assert!((sum + 100.0 * [x, y, z][axis] / size).abs() < 1e-6);
            }
        }
    }
}
