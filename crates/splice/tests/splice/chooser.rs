//! The chosen taper against every taper there is.

use splice::chooser::{Choice, Score, choose, score, tail_of};
use splice::*;
use units::{Angle, Length};

fn choice() -> Choice {
    Choice {
        braid: Braid::new(BraidShape::new(Angle::of_degrees(13.0), 1.6)).unwrap(),
        friction: 0.09,
        mobilised: 0.05,
        bury: 30.0,
        pick: 1.6,
        pairs: 3,
        cut: 3.0,
        wanted: 1.0,
        rho: 0.4,
        per_radian: 0.2,
    }
}

/// The best of every way to place the pairs.
fn brute_force(choice: &Choice) -> Option<(Score, Vec<u32>)> {
    let from = (choice.cut / choice.pick).ceil().max(1.0) as u32;
    let picks = (choice.bury / choice.pick).floor() as u32;
    let mut best: Option<(Score, Vec<u32>)> = None;
    for mask in 0u64..1 << (picks - from) {
        if mask.count_ones() != choice.pairs {
            continue;
        }
        let places = (from..picks).filter(|pick| mask >> (pick - from) & 1 == 1).collect::<Vec<_>>();
        let made = score(choice, &places);
        let better = best.as_ref().is_none_or(|(so_far, _)| {
            made.loss < so_far.loss - 1e-12 || (made.loss < so_far.loss + 1e-12 && made.margin > so_far.margin)
        });
        if made.margin >= choice.wanted && better {
            best = Some((made, places));
        }
    }
    best
}

#[test]
fn no_taper_is_better_than_the_chosen_one() {
    for (pairs, wanted, pick, cut, per_radian) in [
        (3, 1.0, 1.6, 3.0, 0.2),
        (3, 0.8, 1.6, 3.0, 0.05),
        (2, 1.0, 1.2, 2.0, 0.3),
        (4, 0.7, 1.9, 0.0, 0.2),
        (1, 1.1, 1.6, 3.0, 0.2),
        (5, 0.5, 1.9, 1.0, 0.4),
    ] {
        let choice = Choice { pairs, wanted, pick, cut, per_radian, ..choice() };
        let (expected, places) = brute_force(&choice).unwrap();
        let (tail, got) = choose(&choice).unwrap();
        assert!((got.loss - expected.loss).abs() < 1e-9, "{got:?} {expected:?} {places:?} {tail:?}");
        assert!(got.margin >= expected.margin - 1e-9, "{got:?} {expected:?} {places:?} {tail:?}");
        let again = score(&choice, &tail.steps.iter().map(|(at, _)| (at / pick).round() as u32).collect::<Vec<_>>());
        assert!((again.loss - got.loss).abs() < 1e-9 && (again.margin - got.margin).abs() < 1e-9, "{again:?} {got:?}");
    }
}

#[test]
fn pairs_on_picks_closer_than_their_run_out_score_as_one_step() {
    // Picks so fine that every pair stands within the run-out of the next.
    let fine = Choice { pick: 0.02, cut: 0.0, pairs: 5, ..choice() };
    let together = score(&fine, &[1, 2, 3, 4, 5]);
    // One blunt end of the full tail: angle and turn of 12 strands to none,
    // spread over the same hand's breadth of strand ends.
    let blunt = 1.0 - step_share(&fine.braid, 1.0, 0.0, 0.1 + 1.0, fine.per_radian);
    assert!((together.loss - blunt).abs() < 1e-9, "{} {blunt}", together.loss);
    let apart = score(&Choice { pick: 1.6, ..fine }, &[3, 6, 9, 12, 15]);
    assert!(apart.loss < together.loss, "{apart:?} {together:?}");
}

#[test]
fn what_no_taper_can_keep_is_refused() {
    assert!(matches!(choose(&Choice { wanted: 50.0, ..choice() }), Err(TaperError::NoneHolds { .. })));
    assert!(matches!(choose(&Choice { pairs: 6, ..choice() }), Err(TaperError::Pairs { given: 6 })));
    assert!(matches!(choose(&Choice { bury: 5.0, ..choice() }), Err(TaperError::TooShort { .. })));
    assert_eq!(tail_of(&choice(), &[2, 4, 6]).steps[2].1, 10);
}

#[test]
fn the_bench_takes_the_chosen_taper() {
    let rope = cordage::generic("10 mm 12-strand HMPE").unwrap();
    let ask = |taper| layout(&EndRequest { taper, ..EndRequest::new(EndKind::LongBuryEye, &rope) }).unwrap();
    let (chosen, common) = (ask(TaperWish::Chosen), ask(TaperWish::Common));
    let (a, b) = (chosen.strength_share.unwrap(), common.strength_share.unwrap());
    assert!(a.usual >= b.usual - 1e-3, "{a:?} {b:?}");
    assert!(chosen.grip.unwrap().margin.low >= common.grip.unwrap().margin.low);
    assert!(chosen.taper.windows(2).all(|pair| pair[0].at >= pair[1].at));
    // A bury nothing can hold is laid out all the same, with its stop.
    let short = EndRequest {
        bury: Some(BuryWish::Length(Length::of_mm(300.0))),
        taper: TaperWish::Chosen,
        ..EndRequest::new(EndKind::LongBuryEye, &rope)
    };
    assert!(layout(&short).unwrap().findings.iter().any(|finding| finding.code == "grip-margin"));
}
