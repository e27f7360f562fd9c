//! The simulation against the conditioned range and against itself.

use splice::*;

fn request(draws: u64, seed: u64) -> ChanceRequest {
    ChanceRequest {
        fibre: cordage::Fibre::Hmpe,
        measured: Measured::default(),
        friction: None,
        friction_times: 1.0,
        tail: common_taper(72.0),
        rho: 0.5,
        bury_within: 0.0,
        diameter_within: 0.0,
        draws,
        seed,
    }
}

#[test]
fn a_simulation_without_scatter_is_the_conditioned_range() {
    let got = chance(&request(60_000, 7)).unwrap();
    let expected = hold(usual_belief(cordage::Fibre::Hmpe).unwrap(), &common_taper(72.0).slices(), 0.5);
    for (got, expected) in [
        (got.margin.low, expected.margin.low),
        (got.margin.usual, expected.margin.usual),
        (got.margin.high, expected.margin.high),
    ] {
        assert!((got / expected - 1.0).abs() < 0.02, "{got} {expected}");
    }
    assert_eq!(got.holds, 1.0);
    let rope = cordage::generic("10 mm 12-strand HMPE").unwrap();
    // The bench moves the strands to whole picks: a small difference.
    let share = layout(&EndRequest::new(EndKind::LongBuryEye, &rope)).unwrap().strength_share.unwrap();
    assert!((got.strength.usual - share.usual).abs() < 0.004, "{got:?} {share:?}");
    assert!((got.strength.low - share.low).abs() < 0.006, "{got:?} {share:?}");
}

#[test]
fn the_same_seed_has_the_same_answer_on_any_number_of_threads() {
    let all = chance(&request(40_000, 3)).unwrap();
    let one = rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap();
    assert_eq!(one.install(|| chance(&request(40_000, 3))).unwrap(), all);
    assert_ne!(chance(&request(40_000, 4)).unwrap(), all);
    assert_eq!(all.draws, 40_000);
}

#[test]
fn scatter_on_the_bench_costs_chance() {
    let tail = common_taper(50.0);
    let exact = chance(&ChanceRequest { tail: tail.clone(), ..request(40_000, 1) }).unwrap();
    let loose =
        chance(&ChanceRequest { tail: tail.clone(), bury_within: 0.1, diameter_within: 0.1, ..request(40_000, 1) })
            .unwrap();
    assert!(loose.margin.low < exact.margin.low, "{loose:?} {exact:?}");
    let slick = chance(&ChanceRequest { tail, friction: Some(Range::new(0.0, 0.0)), ..request(1000, 1) }).unwrap();
    assert_eq!(slick.holds, 0.0);
}
