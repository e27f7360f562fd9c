//! Lines made up: ropes judged, ends summed to the millimetre, ends on leads.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use cordage::{Rope, Use, generic};
use makeup::*;
use proptest::prelude::*;
use rig::{Bearing, Lead, LineKind, Point, TurnAt, tackle::SheaveBearing};
use sources::Grade;
use splice::EndKind;
use units::{Force, Length};

fn request(kind: LineKind, steady_kn: f64) -> LineRequest<'static> {
    LineRequest {
        kind,
        duty: Duty::Running,
        used_for: Use::ClubRacing,
        design_factor: None,
        steady: Force::of_kn(steady_kn),
        peak: Force::of_kn(steady_kn * 1.3),
        finished: Length::of_m(30.0),
        lead: None,
        fits: Vec::new(),
        working: EndWish::default(),
        bitter: EndWish::default(),
        cover: CoverWish::Keep,
        bury_diameters: None,
    }
}

fn hmpe(mm: f64) -> Rope {
    generic(&format!("{mm} mm 12-strand HMPE")).unwrap()
}

#[test]
fn a_cut_length_is_the_sum_of_its_parts_rounded_up_once() {
    let made = make_up(&request(LineKind::MainHalyard, 4.0), &[hmpe(10.0)]).unwrap();
    let parts = made.finished
        + made.working.rope_used
        + made.bitter.as_ref().unwrap().rope_used
        + Length::of_mm(10.0 * 2.0 * 2.0);
    assert_eq!(made.cut, parts.up_to_mm());
    assert!(made.cut.to_length() - made.finished > Length::of_mm(720.0), "the bury is in it");
    assert_eq!(made.working.kind, EndKind::LongBuryEye);
}

#[test]
fn the_lightest_rope_that_stands_is_taken() {
    let ropes = [hmpe(16.0), hmpe(4.0), hmpe(10.0), hmpe(12.0)];
    let made = make_up(&request(LineKind::JibSheet, 5.0), &ropes).unwrap();
    assert_eq!(made.rope.name, "10 mm 12-strand HMPE");
    assert_eq!(made.verdicts.len(), 4);
    let thin = made.verdicts.iter().find(|verdict| verdict.rope.starts_with("4 mm")).unwrap();
    assert_eq!(thin.grade(), Some(Grade::Stop), "ratio {}", thin.strength_ratio);
}

#[test]
fn a_single_rope_is_taken_with_what_is_said_of_it() {
    let made = make_up(&request(LineKind::JibSheet, 40.0), &[hmpe(6.0)]).unwrap();
    assert_eq!(made.grade(), Some(Grade::Stop));
    assert!(made.findings.iter().any(|finding| finding.code == "too-weak" && finding.remedy.is_some()));
}

#[test]
fn people_and_standing_rigging_are_never_passed() {
    for duty in [Duty::HoldsPerson, Duty::StandingRigging] {
        let made = make_up(&LineRequest { duty, ..request(LineKind::MainHalyard, 0.1) }, &[hmpe(12.0)]).unwrap();
        assert_eq!(made.grade(), Some(Grade::Stop));
    }
}

#[test]
fn a_spliced_strength_has_its_splice_already() {
    let rope = generic("14 mm 3-strand polyester").unwrap();
    let made = make_up(&request(LineKind::DockLine, 2.0), std::slice::from_ref(&rope)).unwrap();
    let lowest = made.weak_points.first().unwrap();
    assert_eq!(lowest.strength, Some(rope.strength.force));
}

#[test]
fn wet_polyamide_weakens_the_whole_rope() {
    let rope = generic("14 mm 3-strand polyamide").unwrap();
    let made = make_up(&request(LineKind::DockLine, 2.0), std::slice::from_ref(&rope)).unwrap();
    let lowest = made.weak_points.first().unwrap().strength.unwrap();
    assert!((lowest / rope.strength.force - 0.85).abs() < 1e-9);
}

fn masthead(eye_below_sheave_m: f64) -> Lead {
    let turn = |name: &str, at, bearing, mm| TurnAt { name: name.to_owned(), at, diameter: Length::of_mm(mm), bearing };
    let ball = Bearing::Sheave(SheaveBearing::Ball);
    Lead {
        hauled: Point::of_m(0.0, 0.0, 13.0 - eye_below_sheave_m),
        eased: Point::of_m(0.0, 0.0, 1.3),
        parts: 1,
        turns: vec![
            turn("masthead sheave", Point::of_m(-0.04, 0.0, 13.0), ball, 80.0),
            turn("mast foot", Point::of_m(-0.08, 0.0, 0.1), ball, 60.0),
            turn("halyard clutch", Point::of_m(3.0, 0.4, 0.3), Bearing::Clutch, 0.0),
        ],
    }
}

#[test]
fn a_bury_that_reaches_the_masthead_at_full_hoist_is_told() {
    let told = |below: f64| {
        let lead = masthead(below);
        let request = LineRequest { lead: Some(&lead), ..request(LineKind::MainHalyard, 4.0) };
        let made = make_up(&request, &[hmpe(10.0)]).unwrap();
        made.findings.iter().any(|finding| finding.code == "bury-on-sheave")
    };
    assert!(told(0.3), "720 mm of bury and 300 mm to the sheave");
    assert!(!told(1.5), "720 mm of bury and 1.5 m to the sheave");
}

#[test]
fn a_stripped_run_in_the_jaws_is_a_stop() {
    let lead = masthead(1.5);
    let rope = generic("10 mm double braid HMPE/polyester core 7.5 mm").unwrap();
    let strip = |to| LineRequest {
        lead: Some(&lead),
        cover: CoverWish::Strip { from: Length::of_m(0.8), to: Length::of_m(to) },
        ..request(LineKind::MainHalyard, 2.0)
    };
    let codes = |to| -> Vec<&str> {
        let made = make_up(&strip(to), std::slice::from_ref(&rope)).unwrap();
        made.findings.iter().map(|finding| finding.code).collect()
    };
    assert!(codes(25.0).contains(&"bare-in-jaws"));
    assert!(!codes(10.0).contains(&"bare-in-jaws"));
}

#[test]
fn stripping_saves_what_the_cover_weighs() {
    let rope = generic("10 mm double braid HMPE/polyester core 7.5 mm").unwrap();
    let request = LineRequest {
        cover: CoverWish::Strip { from: Length::of_m(1.0), to: Length::of_m(11.0) },
        ..request(LineKind::JibSheet, 2.0)
    };
    let made = make_up(&request, std::slice::from_ref(&rope)).unwrap();
    let stripped = made.cover.stripped.unwrap();
    let by_hand = (rope.linear_density - rope.core_linear_density.unwrap()) * Length::of_m(10.0);
    assert_eq!(stripped.saved_dry, by_hand);
    let (least, most) = stripped.saved_wet;
    assert!(by_hand < least && least < most);
}

#[test]
fn what_cannot_be_made_says_why() {
    assert_eq!(make_up(&request(LineKind::Mainsheet, 1.0), &[]).unwrap_err(), MakeUpError::NoRope);
    let wish = EndWish { kind: Some(EndKind::TuckedEye), ..EndWish::default() };
    let refused = make_up(&LineRequest { working: wish, ..request(LineKind::Mainsheet, 1.0) }, &[hmpe(10.0)]);
    assert!(refused.unwrap_err().to_string().contains("12-strand"));
    let short = LineRequest { finished: Length::of_mm(20.0), ..request(LineKind::Mainsheet, 1.0) };
    assert!(matches!(make_up(&short, &[hmpe(10.0)]), Err(MakeUpError::Length { .. })));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn longer_lines_are_cut_longer_by_just_that(metres in 5.0f64..60.0, more in 0.0f64..20.0) {
        let cut = |metres: f64| {
            let request = LineRequest { finished: Length::of_m(metres), ..request(LineKind::JibSheet, 2.0) };
            make_up(&request, &[hmpe(8.0)]).unwrap().cut.count()
        };
        let grown = cut(metres + more) - cut(metres);
        prop_assert!((grown as f64 - more * 1000.0).abs() <= 1.0);
    }

    #[test]
    fn a_stronger_load_never_judges_milder(kn in 0.5f64..20.0) {
        let grade = |kn: f64| make_up(&request(LineKind::JibSheet, kn), &[hmpe(8.0)]).unwrap().grade();
        prop_assert!(grade(kn) <= grade(kn * 1.2));
    }
}
