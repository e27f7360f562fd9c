//! Ropes by description, table and estimate; the checks that need the rope alone.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

use cordage::tables::{Written, laid_or_plaited, polyamide_double_braid};
use cordage::*;
use proptest::prelude::*;
use sources::Grade;
use units::{Force, Length};

#[track_caller]
fn describes(text: &str, mm: f64, construction: &str, fibre: Fibre) {
    let got = describe(text).unwrap();
    assert!((got.diameter.to_mm() - mm).abs() < 1e-9, "{text}: {}", got.diameter);
    assert_eq!((got.construction.name(), got.fibre), (construction, fibre), "{text}");
}

#[test]
fn descriptions_are_taken_apart() {
    describes("10 mm 12-strand HMPE", 10.0, "12-strand", Fibre::Hmpe);
    describes("10mm 12-strand hmpe coated", 10.0, "12-strand", Fibre::Hmpe);
    describes("3/8 in 3-strand nylon", 9.525, "3-strand", Fibre::Polyamide);
    describes("1 1/8 in 8-plait polyester", 28.575, "8-plait", Fibre::Polyester);
    describes("12 mm double braid polyester", 12.0, "double braid", Fibre::Polyester);
    let covered = describe("10 mm double braid HMPE/polyester core 7.5 mm").unwrap();
    assert_eq!(covered.construction, Construction::DoubleBraid(LoadOn::Core));
    assert_eq!(covered.core_diameter, Some(Length::of_mm(7.5)));
    assert_eq!(covered.cover_fibre, Some(Fibre::Polyester));
}

#[track_caller]
fn refuses(text: &str, part: &str) {
    let message = generic(text).unwrap_err().to_string();
    assert!(message.contains(part), "{text}: {message}");
}

#[test]
fn what_is_no_rope_is_refused_with_the_reason() {
    refuses("", "does not begin with a size");
    refuses("10 12-strand HMPE", "no unit");
    refuses("10 mm HMPE", "no construction");
    refuses("10 mm 12-strand steel", "no fibre");
    refuses("10 mm 12-strand HMPE shiny", "\"shiny\"");
    refuses("10 mm 12-strand aramid", "no published figures");
    refuses("90 mm 3-strand polyester", "outside");
    refuses("500 mm 3-strand polyester", "outside 1 mm to 120 mm");
    refuses("10 mm double braid HMPE core 12 mm", "not below");
    refuses("8 mm double braid polyamide", "outside");
}

#[test]
fn a_size_in_millimetres_never_flatters() {
    let table = laid_or_plaited(Fibre::Polyester).unwrap();
    let three_quarters = table.strength(Length::of_inches(0.75), Written::Inches).unwrap();
    let eighteen = table.strength(Length::of_mm(18.0), Written::Metric).unwrap();
    assert!((three_quarters.to_lbf() - 11_200.0).abs() < 0.5);
    assert!(eighteen < three_quarters);
    let ten = table.strength(Length::of_mm(10.0), Written::Metric).unwrap();
    assert!((ten.to_lbf() - 2_900.0).abs() < 0.5, "the row 3/8 in, {}", ten.to_lbf());
}

#[test]
fn estimates_say_so_and_take_the_low_end() {
    let rope = generic("10 mm 12-strand HMPE").unwrap();
    assert_eq!(rope.linear_density.to_g_per_m().round(), 58.0);
    assert!((rope.strength.force.to_kn() - 67.86).abs() < 0.01);
    assert_eq!(rope.strength.basis, Basis::Unknown);
    let (low, high) = rope.strength.range.unwrap();
    assert!(low == rope.strength.force && high > low);
    let covered = generic("10 mm double braid HMPE").unwrap();
    assert!(covered.strength.force < rope.strength.force * 0.6, "the cover counts for nothing");
    assert_eq!(covered.gripping_diameter(), None);
}

#[test]
fn bends_are_graded() {
    let rope = generic("10 mm 12-strand HMPE").unwrap();
    let grade = |mm| bend(&rope, Length::of_mm(mm)).map(|finding| finding.grade);
    assert_eq!(grade(80.0), None);
    assert_eq!(grade(79.0), Some(Grade::Note));
    assert_eq!(grade(49.0), Some(Grade::Caution));
    assert_eq!(grade(19.0), Some(Grade::Stop));
}

#[test]
fn creep_and_hands_are_spoken_of() {
    let rope = generic("6 mm 12-strand HMPE").unwrap();
    assert!(creep(&rope, rope.strength.force * 0.21).is_some());
    assert!(creep(&rope, rope.strength.force * 0.19).is_none());
    assert!(grip_by_hand(&rope).is_some());
    let polyester = generic("10 mm 3-strand polyester").unwrap();
    assert!(creep(&polyester, polyester.strength.force * 0.5).is_none());
    assert!(grip_by_hand(&polyester).is_none());
}

#[test]
fn stretch_agrees_by_two_roads() {
    // The stiffness column itself, and the multiple of the strength used for every size.
    let table = polyamide_double_braid();
    for row in table.rows() {
        let multiple = row.stiffness.unwrap() / row.strength;
        assert!((multiple / 3.54 - 1.0).abs() < 0.005, "{}: {multiple}", row.locator);
    }
}

proptest! {
    #[test]
    fn strength_and_mass_grow_with_size(mm in 7.0f64..44.0, more in 0.05f64..0.09) {
        for fibre in [Fibre::Polyester, Fibre::Polyamide, Fibre::Polypropylene, Fibre::Manila] {
            let table = laid_or_plaited(fibre).unwrap();
            for written in [Written::Metric, Written::Inches] {
                let thin = table.strength(Length::of_mm(mm), written).unwrap();
                let thick = table.strength(Length::of_mm(mm * (1.0 + more)), written).unwrap();
                prop_assert!(thick > thin);
            }
        }
    }

    #[test]
    fn stretch_is_in_proportion(share in 0.01f64..0.5) {
        let rope = generic("12 mm 3-strand polyester").unwrap();
        let load = rope.strength.force * share;
        let one = stretch_at(&rope, load).unwrap();
        let two = stretch_at(&rope, load * 2.0).unwrap();
        prop_assert!((two - 2.0 * one).abs() < 1e-12);
    }

    #[test]
    fn no_description_panics(text in "[0-9a-zA-Z/ .,-]{0,40}") {
        let made = generic(&text);
        prop_assert!(made.is_err() || made.is_ok_and(|rope| rope.strength.force > Force::ZERO));
    }
}

#[test]
fn figures_that_no_rope_has_are_impossible() {
    let listed = |text: &str, strength: f64, mass: f64| {
        let mut rope = generic(text).unwrap();
        rope.strength.force = rope.strength.force * strength;
        rope.linear_density = rope.linear_density * mass;
        strength_to_weight(&rope)
    };
    let sound = [
        "10 mm 12-strand HMPE",
        "12 mm double braid polyester",
        "14 mm 3-strand polyester",
        "16 mm 8-plait polyamide",
        "14 mm 3-strand polypropylene",
        "16 mm 3-strand manila",
    ];
    for text in sound {
        assert_eq!(listed(text, 1.0, 1.0), None, "{text}");
        assert!(matches!(listed(text, 10.0, 1.0), Some(Doubt::Impossible(_))), "{text}: ten times as strong");
        assert!(matches!(listed(text, 0.1, 1.0), Some(Doubt::Impossible(_))), "{text}: a tenth as strong");
        assert!(matches!(listed(text, 1.0, 10.0), Some(Doubt::Impossible(_))), "{text}: ten times as heavy");
        assert!(matches!(listed(text, 1.0, 0.1), Some(Doubt::Impossible(_))), "{text}: a tenth as heavy");
    }
    let Some(Doubt::Unusual(finding)) = listed("10 mm 12-strand HMPE", 1.6, 1.0) else {
        panic!("strong, and possible")
    };
    let text = finding.text.show(units::System::Metric);
    assert!(text.contains("1.17 N/tex to 1.30 N/tex"), "{text}");
}

#[test]
fn published_tables_lie_within_their_own_bands() {
    for fibre in Fibre::ALL {
        let Some(table) = laid_or_plaited(fibre) else { continue };
        let band = band(fibre, Construction::ThreeStrand).unwrap();
        for row in table.rows() {
            let mass = row.linear_density.unwrap();
            let n_per_tex = units::Tenacity::of_si(row.strength.si() / mass.si()).to_n_per_tex();
            // Their masses are rounded: a quarter is what is allowed.
            assert!(
                (band.low * 0.75..=band.high * 1.25).contains(&n_per_tex),
                "{} {}: {n_per_tex}",
                fibre.name(),
                row.locator
            );
        }
    }
}

proptest! {
    /// Two roads from one state to a third give the same ratio, and both heat
    /// and load only ever speed creep up.
    #[test]
    fn creep_ratios_chain(a in 50.0..1500.0f64, b in 50.0..1500.0f64, c in 0.0..60.0f64, d in 0.0..60.0f64) {
        let [a, b] = [a, b].map(units::Pressure::of_mpa);
        let direct = creep_ratio((a, c), (b, d));
        let by_way = creep_ratio((a, c), (a, d)) * creep_ratio((a, d), (b, d));
        prop_assert!((direct / by_way - 1.0).abs() < 1e-9);
        prop_assert!(creep_ratio((a, c), (a, c + 1.0)) > 1.0);
        prop_assert!(creep_ratio((a, c), (a * 1.01, c)) > 1.0);
    }
}
