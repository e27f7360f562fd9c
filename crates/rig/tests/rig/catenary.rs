//! Hanging lines against numerical integration (validation/generators/catenary.py),
//! against the closed form of a level line, and properties.

use super::close;
use proptest::prelude::*;
use rig::{Catenary, HangError, Hanging, Lift, hang, hang_over_deck, lifting_wind};
use units::{Area, Force, Length, LinearDensity};

fn line(span: f64, rise: f64, length: f64, kg_per_m: f64) -> Hanging {
    Hanging {
        span: Length::of_m(span),
        rise: Length::of_m(rise),
        length: Length::of_m(length),
        linear_density: LinearDensity::of_kg_per_m(kg_per_m),
    }
}

#[test]
fn every_line_of_the_oracle_pulls_as_integrated() {
    let mut seen = 0;
    for row in include_str!("catenary_oracle.csv").lines().filter(|row| row.starts_with(|c: char| c.is_ascii_digit())) {
        let cells: Vec<&str> = row.split(',').collect();
        let number = |index: usize| cells[index].parse::<f64>().unwrap();
        let given = line(number(1), number(2), number(3), number(4));
        let hung = match cells[5] {
            "" => hang(&given).unwrap(),
            deck => hang_over_deck(&given, Length::of_m(deck.parse().unwrap())).unwrap(),
        };
        let weight = number(3) * number(4) * units::STANDARD_GRAVITY;
        for (got, index) in [(hung.across, 6), (hung.clew_down, 7), (hung.block_down, 8)] {
            let wanted = number(index);
            // The oracle's own integration is the worse of the two near taut.
            let tolerance = 1e-7 * wanted.abs().max(weight);
            assert!((got.to_n() - wanted).abs() <= tolerance, "case {}: {} for {wanted}", cells[0], got.to_n());
        }
        seen += 1;
    }
    assert_eq!(seen, 56);
}

#[test]
fn a_level_line_agrees_with_fifty_digits() {
    let hung = hang(&line(5.0, 0.0, 5.2, 0.1)).unwrap();
    close(hung.across.to_n(), 5.034_188, 1e-6);
    close(hung.clew_down.to_n(), 2.549_729, 1e-6);
    close(hung.clew_tension().to_n(), 5.643_063, 1e-6);
    close(hung.sag.to_m(), 0.620_880, 1e-6);
    close(hung.below_block.to_m(), 0.620_880, 1e-6);
}

#[test]
fn a_line_that_cannot_hang_says_why() {
    let taut = hang(&line(3.0, 4.0, 5.0, 0.1)).unwrap_err();
    assert!(taut.to_string().contains("more than 5"), "{taut}");
    assert!(matches!(hang(&line(-1.0, 0.0, 5.0, 0.1)), Err(HangError::Span { .. })));
    assert!(matches!(hang(&line(1.0, 0.0, 5.0, 0.0)), Err(HangError::Weightless { .. })));
    let deck = hang_over_deck(&line(1.0, 0.0, 5.0, 0.1), Length::of_m(-0.1));
    assert!(matches!(deck, Err(HangError::Deck { .. })));
}

#[test]
fn a_plumb_line_hangs_half_from_each_point() {
    let hung = hang(&line(0.0, 2.0, 6.0, 0.1)).unwrap();
    close(hung.clew_down.to_n(), 4.0 * 0.980_665, 1e-9);
    close(hung.below_block.to_m(), 2.0, 1e-12);
    let nearly = hang(&line(1e-3, 2.0, 6.0, 0.1)).unwrap();
    close(nearly.clew_down.to_n(), hung.clew_down.to_n(), 1e-6);
    close(nearly.below_block.to_m(), 2.0, 1e-3);
    // The sag comes close slowly: with the logarithm of the span.
    close(nearly.sag.to_m(), hung.sag.to_m(), 0.5);
}

/// Depth of the hung line below the straight, by walking along it.
fn walked_sag(given: &Hanging, hung: &Catenary) -> f64 {
    const STEPS: usize = 40_000;
    let weight = given.linear_density.to_kg_per_m() * units::STANDARD_GRAVITY;
    let ds = given.length.to_m() / STEPS as f64;
    let (mut x, mut z, mut deepest) = (0.0, 0.0, 0.0f64);
    for step in 0..STEPS {
        let down = hung.block_down.to_n() - weight * (step as f64 + 0.5) * ds;
        let tension = hung.across.to_n().hypot(down);
        x += ds * hung.across.to_n() / tension;
        z -= ds * down / tension;
        deepest = deepest.max(given.rise.to_m() * x / given.span.to_m() - z);
    }
    deepest
}

proptest! {
    #[test]
    fn sag_is_what_walking_along_the_line_finds(
        span in 0.5f64..12.0, rise in -3.0f64..5.0, slack in 1.02f64..4.0,
    ) {
        let given = line(span, rise, slack * span.hypot(rise), 0.1);
        let hung = hang(&given).unwrap();
        let walked = walked_sag(&given, &hung);
        prop_assert!((hung.sag.to_m() - walked).abs() < 2e-3 * walked.max(0.1), "{} {walked}", hung.sag);
    }

    #[test]
    fn the_ends_carry_the_whole_weight_and_forces_go_with_it(
        span in 0.0f64..12.0, rise in -3.0f64..5.0, more in 1e-4f64..10.0, mass in 0.01f64..0.5, wet in 1.0f64..1.5,
    ) {
        let given = line(span, rise, span.hypot(rise) + more, mass);
        let hung = hang(&given).unwrap();
        let weight = given.length.to_m() * mass * units::STANDARD_GRAVITY;
        let sum = (hung.clew_down + hung.block_down).to_n();
        // Near taut the two ends' pulls are large and opposite.
        prop_assert!((sum - weight).abs() < 1e-9 * weight.max(hung.across.to_n()));
        let soaked = hang(&line(span, rise, span.hypot(rise) + more, mass * wet)).unwrap();
        prop_assert!((soaked.clew_down.to_n() - wet * hung.clew_down.to_n()).abs() < 1e-9 * weight.max(hung.across.to_n()));
    }

    #[test]
    fn a_deck_never_adds_to_the_clew(span in 0.1f64..12.0, rise in 0.0f64..5.0, more in 1e-2f64..10.0, deck in 0.0f64..1.0) {
        let given = line(span, rise, span.hypot(rise) + more, 0.1);
        let (free, over) = (hang(&given).unwrap(), hang_over_deck(&given, Length::of_m(deck)).unwrap());
        prop_assert!(over.clew_down <= free.clew_down + Force::of_n(1e-6));
        prop_assert!(over.below_block <= Length::of_m(deck + 1e-9));
        prop_assert!(over.on_deck >= Length::of_m(-1e-6) && over.on_deck <= given.length);
        // What lies on the deck weighs on nobody.
        let carried = (over.clew_down + over.block_down).to_n();
        let hanging = (given.length - over.on_deck).to_m() * 0.1 * units::STANDARD_GRAVITY;
        prop_assert!((carried - hanging).abs() < 1e-6, "{carried} {hanging}");
    }

    #[test]
    fn a_heavier_sheet_wants_more_wind(down in 0.0f64..50.0, more in 0.0f64..10.0) {
        let lift = Lift { coefficient: 1.3, area: Area::of_m2(30.0), clew_share: 1.0 / 3.0 };
        let (light, heavy) = (lifting_wind(Force::of_n(down), &lift), lifting_wind(Force::of_n(down + more), &lift));
        prop_assert!(light <= heavy);
        let force = 0.5 * rig::wind::AIR_DENSITY * 1.3 * 10.0 * heavy.to_m_per_s().powi(2);
        prop_assert!((force - down - more).abs() < 1e-9);
    }
}
