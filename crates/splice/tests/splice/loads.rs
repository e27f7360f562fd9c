//! Grip where it changes with load, and square ends where tests say less than
//! the model.

use proptest::prelude::*;
use sources::{Grade, worst};
use splice::*;
use units::{Angle, Force};

fn hmpe() -> cordage::Rope {
    cordage::generic("10 mm 12-strand HMPE").unwrap()
}

fn at<'a>(end: &'a Layout, what: &str) -> &'a LoadGrip {
    end.grip.as_ref().unwrap().at_loads.iter().find(|at| at.what == what).unwrap()
}

#[test]
fn the_integral_is_the_march_of_the_balance() {
    // du/dx = m u^n c(u/onset) from 1 at the tail's end to 1 - rho at the
    // throat, marched backwards: the length it takes is the integral over m.
    for (rho, n, onset) in [(0.5, 1.0, 0.3), (0.578, 0.75, 0.1), (0.5, 0.75, 0.0), (0.652, 1.0, 2.0)] {
        let steps = 400_000;
        let length = needed_at(rho, n, onset);
        let h = length / f64::from(steps);
        let slope = |u: f64| {
            let contact = if onset > 0.0 { 1.0 - (-u / onset).exp() } else { 1.0 };
            u.powf(n) * contact
        };
        let mut u: f64 = 1.0;
        for _ in 0..steps {
            let half = u - 0.5 * h * slope(u);
            u -= h * slope(half);
        }
        assert!((u - (1.0 - rho)).abs() < 1e-6, "{u} for {}", 1.0 - rho);
    }
}

#[test]
fn nearly_slack_the_twine_holds_and_at_work_the_braid() {
    let rope = hmpe();
    let end = layout(&EndRequest::new(EndKind::LongBuryEye, &rope)).unwrap();
    let coulomb = end.grip.as_ref().unwrap().margin;
    for what in ["working load", "listed strength"] {
        assert!((at(&end, what).margin.low / coulomb.low - 1.0).abs() < 1e-6, "{what}");
    }
    let slack = at(&end, "nearly slack").margin;
    assert!(slack.low < 0.5 * coulomb.low && slack.high < coulomb.high, "{slack:?}");
    assert!((at(&end, "working load").tail / at(&end, "working load").load - 0.5).abs() < 1e-12);
    // A load so light that the braid is not closed on the tail is said.
    let light = EndRequest { load: Some(rope.strength.force * 0.004), ..EndRequest::new(EndKind::LongBuryEye, &rope) };
    let light = layout(&light).unwrap();
    assert!(light.findings.iter().any(|finding| finding.code == "grip-at-low-load"), "{:?}", light.findings);
    assert!(worst(&light.findings) == Some(Grade::Caution));
}

#[test]
fn friction_that_falls_with_load_is_a_what_if_that_can_stop_a_splice() {
    let rope = hmpe();
    let law = GripLaw { exponent: 0.75, ..GripLaw::COULOMB };
    let ask = |peak| EndRequest { law, peak, ..EndRequest::new(EndKind::LongBuryEye, &rope) };
    let end = layout(&ask(None)).unwrap();
    // Five times the reference tension: the margin falls by 5^(1/4).
    let (work, most) = (at(&end, "working load").margin, at(&end, "listed strength").margin);
    assert!((work.usual / most.usual - 5f64.powf(0.25)).abs() < 1e-3, "{work:?} {most:?}");
    assert!(end.findings.iter().any(|finding| finding.code == "grip-at-load" && finding.grade == Grade::Stop));
    let peak = layout(&ask(Some(rope.strength.force * 0.3))).unwrap();
    assert_eq!(at(&peak, "peak load").load, rope.strength.force * 0.3);
    // Against the closed form of one braid.
    let braid = Braid::new(BraidShape::new(Angle::of_degrees(12.0), 1.73)).unwrap();
    let slices = common_taper(72.0).slices();
    let closed =
        |over| margin_with_exponent(&braid, &slices, 0.08, 0.5, LoadLaw { exponent: 0.75, over_reference: over });
    let by_integral = closed(1.0) * needed_at(0.5, 1.0, 0.0) / std::f64::consts::LN_2;
    assert!((by_integral / closed(1.0) - 1.0).abs() < 1e-9);
    assert!((needed_at(0.5, 0.75, 0.0) - (1.0 - 0.5f64.powf(0.25)) / 0.25).abs() < 1e-8);
    for bad in [0.1, 1.2] {
        let law = GripLaw { exponent: bad, ..GripLaw::COULOMB };
        assert!(layout(&EndRequest { law, ..EndRequest::new(EndKind::LongBuryEye, &rope) }).is_err());
    }
    let none = EndRequest { peak: Some(Force::ZERO), ..EndRequest::new(EndKind::LongBuryEye, &rope) };
    assert!(matches!(layout(&none), Err(SpliceError::LoadNotAboveZero { .. })));
}

#[test]
fn square_ends_of_stiff_fibres_are_no_stronger_than_the_tests() {
    let share = |name: &str, taper| {
        let rope = cordage::generic(name).unwrap();
        layout(&EndRequest { taper, ..EndRequest::new(EndKind::LongBuryEye, &rope) }).unwrap().strength_share.unwrap()
    };
    for mm in [6, 10, 24] {
        let blunt = share(&format!("{mm} mm 12-strand HMPE"), TaperWish::None);
        assert!(blunt.low <= 0.81 && blunt.high <= 0.875, "{blunt:?}");
        assert!((0.79..0.84).contains(&blunt.usual), "{blunt:?}");
    }
    let tapered = share("10 mm 12-strand HMPE", TaperWish::Common);
    assert!(tapered.low > 0.93, "{tapered:?}");
    assert!(square_end(cordage::Fibre::Polyester).is_none());
    assert!(square_end(cordage::Fibre::Lcp).is_some_and(|end| !end.tested));
    // The simulation takes the same figure.
    let request = ChanceRequest {
        fibre: cordage::Fibre::Hmpe,
        measured: Measured::default(),
        friction: None,
        friction_times: 1.0,
        tail: Tail::blunt(72.0),
        rho: 0.5,
        bury_within: 0.0,
        diameter_within: 0.0,
        draws: 40_000,
        seed: 5,
    };
    let drawn = chance(&request).unwrap().strength;
    let laid = share("10 mm 12-strand HMPE", TaperWish::None);
    assert!((drawn.usual - laid.usual).abs() < 0.004 && (drawn.low - laid.low).abs() < 0.004, "{drawn:?} {laid:?}");
}

proptest! {
    #[test]
    fn more_tension_never_loosens_a_closing_braid(rho in 0.3..0.7f64, onset in 0.01..5.0f64) {
        let base = needed_at(rho, 1.0, onset);
        let sooner = needed_at(rho, 1.0, onset * 0.9);
        // An onset of a few hundredths of the load adds less than a float can tell.
        let rounding = if onset > 0.05 { 0.0 } else { 1e-12 };
        prop_assert!(sooner - base < rounding, "{sooner} {base}");
        prop_assert!(grip_needed(rho) - base <= rounding, "{base}");
        prop_assert!((needed_at(rho, 1.0, 1e-6) - grip_needed(rho)).abs() < 1e-9);
    }
}
