//! Quantities read, printed and refused; factors against an independent library.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use proptest::prelude::*;
use units::*;

#[track_caller]
fn reads(text: &str, mm: f64) {
    let got = text.parse::<Length>().unwrap().to_mm();
    assert!((got - mm).abs() < 1e-9 * mm.abs().max(1.0), "{text}: {got} for {mm}");
}

#[test]
fn lengths_are_read_as_people_write_them() {
    reads("10 mm", 10.0);
    reads("10mm", 10.0);
    reads("3/8 in", 9.525);
    reads("12 ft 6 1/2 in", 3822.7);
    reads("12' 6 1/2\"", 3822.7);
    reads("12ft6in", 3810.0);
    reads("6 ft", 1828.8);
    reads("1,234.5 mm", 1234.5);
    reads("0.5 m", 500.0);
    reads("-20 mm", -20.0);
    reads("10\u{a0}MM", 10.0);
    reads("1e3 mm", 1000.0);
    reads("1-1/2 in", 38.1);
    reads("5'11-3/4\"", 1822.45);
    reads("6’ 2”", 1879.6);
}

#[track_caller]
fn refuses<Q: std::str::FromStr<Err = ParseError> + std::fmt::Debug>(text: &str, part: &str) {
    let message = text.parse::<Q>().unwrap_err().to_string();
    assert!(message.contains(part), "{text}: {message}");
}

#[test]
fn what_cannot_be_meant_is_refused_with_the_reason() {
    refuses::<Length>("10", "has no unit");
    refuses::<Length>("", "empty");
    refuses::<Length>("mm", "not a number");
    refuses::<Length>("1,5 mm", "comma");
    refuses::<Length>("0,620 m", "comma");
    refuses::<Length>("1,00 m", "comma");
    refuses::<Length>("3 in 2 ft", "cannot follow");
    refuses::<Length>("5 m 20 cm", "cannot follow");
    refuses::<Length>("1/0 in", "not a number");
    refuses::<Length>("NaN mm", "not a number");
    refuses::<Length>("inf mm", "not a number");
    refuses::<Length>("1e400 m", "too large");
    refuses::<Length>("10 kN", "not a unit of length");
    refuses::<Length>("1.2.3 mm", "not a number");
    refuses::<Length>("--3 mm", "not a number");
    refuses::<Length>("10 Mm", "not a unit");
    refuses::<Pressure>("1 mPa", "not a unit");
    refuses::<Force>("100 lb", "for a pull write lbf");
    refuses::<Force>("100 kg", "for a pull write kgf");
    refuses::<Mass>("100 lbf", "for a mass write lb");
}

#[test]
fn other_quantities_are_read() {
    assert_eq!("450 daN".parse::<Force>().unwrap().to_kn(), 4.5);
    assert!(("1,000 lbf".parse::<Force>().unwrap().to_n() - 4448.2216152605).abs() < 1e-9);
    assert!(("0.62 g/m".parse::<LinearDensity>().unwrap().to_tex() - 620.0).abs() < 1e-9);
    assert!(("6.3 lb/100 ft".parse::<LinearDensity>().unwrap().to_g_per_m() - 93.753).abs() < 1e-2);
    assert_eq!("36 m²".parse::<Area>().unwrap().to_m2(), 36.0);
    assert!(("2 lb 8 oz".parse::<Mass>().unwrap().to_lb() - 2.5).abs() < 1e-12);
    assert!(("25 kn".parse::<Speed>().unwrap().to_m_per_s() - 12.861).abs() < 1e-3);
}

#[test]
fn factors_agree_with_an_independent_library() {
    use uom::si::{angle, area, f64 as si, force, length, mass, torque, velocity};
    let close = |ours: f64, theirs: f64| assert!((ours / theirs - 1.0).abs() < 1e-6, "{ours} {theirs}");
    close(Length::of_inches(1.0).si(), si::Length::new::<length::inch>(1.0).value);
    close(Length::of_feet(1.0).si(), si::Length::new::<length::foot>(1.0).value);
    close(Area::of_ft2(1.0).si(), si::Area::new::<area::square_foot>(1.0).value);
    close(Force::of_lbf(1.0).si(), si::Force::new::<force::pound_force>(1.0).value);
    close(Force::of_kgf(1.0).si(), si::Force::new::<force::kilogram_force>(1.0).value);
    close(Force::of_kip(1.0).si(), si::Force::new::<force::kip>(1.0).value);
    close(Mass::of_lb(1.0).si(), si::Mass::new::<mass::pound>(1.0).value);
    close(Mass::of_oz(1.0).si(), si::Mass::new::<mass::ounce>(1.0).value);
    close(Speed::of_knots(1.0).si(), si::Velocity::new::<velocity::knot>(1.0).value);
    close(Speed::of_mph(1.0).si(), si::Velocity::new::<velocity::mile_per_hour>(1.0).value);
    close(Angle::of_degrees(1.0).si(), si::Angle::new::<angle::degree>(1.0).value);
    close(Moment::of_ft_lbf(1.0).si(), si::Torque::new::<torque::pound_force_foot>(1.0).value);
}

#[test]
fn values_print_in_either_system() {
    let both = |value: Value, metric: &str, us: &str| {
        assert_eq!(value.show(System::Metric), metric);
        assert_eq!(value.show(System::Us), us);
    };
    both(Length::of_mm(10.0).into(), "10 mm", "0.394 in");
    both(Length::of_mm(9.525).into(), "9.5 mm", "3/8 in");
    both(Length::of_m(12.0).into(), "12.00 m", "39 ft 4 7/16 in");
    both(Millimetres::new(12345).into(), "12,345 mm", "40 ft 6 in");
    both(Force::of_n(850.0).into(), "850 N", "191 lbf");
    both(Force::of_kn(12.34).into(), "12.3 kN", "2,774 lbf");
    both(Mass::of_g(62.0).into(), "62 g", "2.19 oz");
    both(LinearDensity::of_g_per_m(58.0).into(), "58 g/m", "3.90 lb/100 ft");
    both(Angle::of_degrees(12.5).into(), "12.5°", "12.5°");
    both(Value::Share(0.0712), "7.12 %", "7.12 %");
    both((-3i64).into(), "-3", "-3");
}

#[test]
fn a_cut_is_never_printed_shorter_than_it_is() {
    for mm in 1..2000 {
        let cut = Value::Cut(Millimetres::new(mm)).number(System::Us).0;
        assert!(cut * 25.4 >= mm as f64 - 1e-9, "{mm} mm printed as {cut} in");
        assert!(cut * 25.4 < mm as f64 + 25.4 / 16.0);
    }
}

#[test]
fn a_precision_never_cuts_a_unit_off() {
    assert_eq!(format!("{:.1}", Length::of_mm(720.0)), "720 mm");
    assert_eq!(format!("{:>8}", Millimetres::new(720)), "  720 mm");
}

#[test]
fn rounding_has_a_direction() {
    assert_eq!(Length::of_mm(0.1 * 7200.0).up_to_mm().count(), 720);
    assert_eq!(Length::of_mm(719.01).up_to_mm().count(), 720);
    assert_eq!(Length::of_mm(719.99).down_to_mm().count(), 719);
    assert_eq!(Length::of_mm(719.5).nearest_mm().count(), 720);
}

#[test]
fn not_a_number_is_never_a_quantity() {
    assert_eq!(Length::mm(f64::NAN), Err(NotFinite));
    assert_eq!(Force::kn(f64::INFINITY), Err(NotFinite));
}

proptest! {
    #[test]
    fn printed_lengths_read_back_to_what_was_shown(mm in 1i64..1_000_000) {
        let shown = Value::from(Millimetres::new(mm)).show(System::Metric);
        prop_assert_eq!(shown.parse::<Length>().unwrap().nearest_mm().count(), mm);
        let us = Value::from(Millimetres::new(mm)).show(System::Us);
        let back = us.parse::<Length>().unwrap();
        prop_assert!((back.to_mm() - mm as f64).abs() <= 25.4 / 32.0 + 1e-9);
    }

    #[test]
    fn no_text_panics(text in "\\PC{0,40}") {
        let read = text.parse::<Length>();
        prop_assert!(read.is_err() || read.is_ok_and(|l| l.si().is_finite()));
    }

    #[test]
    fn number_like_text_never_panics(text in "[0-9.,/ e+'\"-]{0,12}(mm|in|ft|'|\")?[ 0-9/]{0,6}(in|\")?") {
        let read = text.parse::<Length>();
        prop_assert!(read.is_err() || read.is_ok_and(|l| l.si().is_finite()));
    }
}
