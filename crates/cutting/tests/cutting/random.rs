//! Random small jobs, all rules mixed, against every plan there is.

use cutting::{Aim, Flaw, Job, Origin, Plan, Reel, fingerprint, step_of};
use proptest::prelude::*;

use crate::brute::{best, stated};
use crate::jobs::{checked, job, mm};

/// Numbers that a job is made of.
#[derive(Debug, Clone)]
struct Recipe {
    pieces: Vec<(i64, u32, u8)>,
    reels: Vec<(i64, u32, u8)>,
    loss: i64,
    trim: i64,
    smallest: i64,
    value: Option<i64>,
    most: Option<u64>,
}

fn recipe() -> impl Strategy<Value = Recipe> {
    let pieces = prop::collection::vec((1_i64..30, 0_u32..3, 0_u8..8), 1..7);
    let reels = prop::collection::vec((30_i64..70, 1_u32..3, 0_u8..10), 1..4);
    let rules = (0_i64..4, 0_i64..4, 1_i64..80, prop::option::of(0_i64..40), prop::option::of(0_u64..4));
    (pieces, reels, rules).prop_map(|(pieces, reels, (loss, trim, smallest, value, most))| Recipe {
        pieces,
        reels,
        loss,
        trim,
        smallest,
        value,
        most,
    })
}

fn made(recipe: &Recipe) -> Job {
    let lengths: Vec<i64> = recipe.pieces.iter().map(|piece| piece.0).collect();
    let reels: Vec<(i64, u32)> = recipe.reels.iter().map(|reel| (reel.0, reel.1)).collect();
    let mut job = job(&lengths, &reels, recipe.smallest);
    job.rules.loss_per_cut = mm(recipe.loss);
    job.rules.trim = mm(recipe.trim);
    job.rules.remnant_value = recipe.value.map(mm);
    job.rules.most_remnants = recipe.most;
    for (piece, &(_, rank, role)) in job.pieces.iter_mut().zip(&recipe.pieces) {
        piece.rank = rank;
        match role {
            0 => piece.same_reel = Some("pair".to_owned()),
            1 => piece.same_batch = Some("sail".to_owned()),
            2 => piece.same_batch = Some("boat".to_owned()),
            3 => piece.allowance = mm(2),
            _ => {}
        }
    }
    for (at, reel) in job.reels.iter_mut().enumerate().filter(|(at, _)| (at + recipe.pieces.len()).is_multiple_of(2)) {
        reel.price_per_metre = Some(500 + 7 * at as i64);
    }
    for (reel, &(length, _, role)) in job.reels.iter_mut().zip(&recipe.reels) {
        match role {
            0..=2 => reel.origin = Origin::Remnant,
            3 => reel.origin = Origin::Supplier { price: 10 + length / 3 },
            4 => reel.flaws = vec![Flaw { from: mm(length / 2), to: mm(length / 2 + 3) }],
            5 | 6 => reel.batch = Some("one".to_owned()),
            7 => reel.batch = Some("two".to_owned()),
            _ => {}
        }
    }
    job
}

/// A plan may fall short of the best (seen: 1 mm in some hundred tight jobs of
/// mixed reels), but then it never says that it is proven.
fn compare(job: &Job) -> Result<(), TestCaseError> {
    if !cutting::mistakes(job).is_empty() {
        return Ok(());
    }
    let plan = checked(job);
    back_and_forth(job, &plan)?;
    let best = best(job);
    let stated = stated(&plan);
    prop_assert!(stated >= best, "better than every plan: {:?} {:?}\n{:#?}", stated, best, job);
    let mut equal_so_far = true;
    for (goal, &best) in plan.goals.iter().zip(&best.goals) {
        if !equal_so_far {
            break;
        }
        prop_assert!(goal.bound <= best, "bound above the best: {:?} {}\n{:#?}", goal, best, job);
        prop_assert!(!goal.proven || goal.value == best, "{:?} {}\n{:#?}", goal, best, job);
        equal_so_far = goal.value == best;
    }
    Ok(())
}

/// The rack after a plan holds what the plan leaves, and the step back undoes it.
fn back_and_forth(job: &Job, plan: &Plan) -> Result<(), TestCaseError> {
    let rack: Vec<_> =
        job.reels.iter().filter(|reel| !matches!(reel.origin, Origin::Supplier { .. })).cloned().collect();
    let step = step_of(job, plan);
    let after = step.apply(&rack);
    prop_assert!(after.is_ok(), "{:?}\n{:#?}", after, job);
    let after = after.unwrap();
    let lengths = |rack: &[Reel]| rack.iter().map(|reel| reel.length.count() * i64::from(reel.count)).sum::<i64>();
    let bought: i64 = plan
        .reels
        .iter()
        .filter_map(|cut| job.reels.iter().find(|reel| reel.id == cut.reel))
        .filter(|reel| matches!(reel.origin, Origin::Supplier { .. }))
        .map(|reel| reel.length.count())
        .sum();
    let taken = (plan.totals.cut + plan.totals.waste).count();
    // A flaw goes with the rope around it or stays on what is left.
    if job.reels.iter().all(|reel| reel.flaws.is_empty()) {
        prop_assert_eq!(lengths(&rack) + bought - lengths(&after), taken, "{:#?}\n{:#?}", job, plan);
    }
    let back = step.inverse().apply(&after);
    prop_assert!(back.is_ok(), "{:?}\n{:#?}", back, job);
    prop_assert_eq!(fingerprint(&back.unwrap()), fingerprint(&rack));
    if !plan.reels.is_empty() && !step.gone.is_empty() {
        prop_assert_ne!(fingerprint(&after), fingerprint(&rack));
    }
    Ok(())
}

#[test]
fn jobs_that_once_had_a_false_proof() {
    let recipes = [
        Recipe {
            pieces: vec![(5, 0, 3), (15, 0, 3), (17, 0, 3), (1, 0, 3)],
            reels: vec![(30, 2, 0), (31, 2, 0)],
            loss: 1,
            trim: 0,
            smallest: 32,
            value: None,
            most: None,
        },
        Recipe {
            pieces: vec![(18, 0, 4), (18, 0, 3), (13, 0, 1)],
            reels: vec![(41, 1, 0), (41, 1, 0), (54, 1, 5)],
            loss: 0,
            trim: 0,
            smallest: 55,
            value: Some(0),
            most: None,
        },
        Recipe {
            pieces: vec![(20, 0, 4), (11, 0, 4), (12, 0, 0)],
            reels: vec![(55, 2, 0), (45, 1, 4), (30, 1, 0)],
            loss: 0,
            trim: 0,
            smallest: 56,
            value: Some(7),
            most: None,
        },
        Recipe {
            pieces: vec![(24, 0, 3), (5, 0, 3), (8, 0, 3)],
            reels: vec![(49, 2, 4), (30, 1, 0)],
            loss: 0,
            trim: 2,
            smallest: 31,
            value: None,
            most: None,
        },
    ];
    for recipe in recipes {
        let found = compare(&made(&recipe));
        assert!(found.is_ok(), "{recipe:?}: {found:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn all_rules_mixed(recipe in recipe()) {
        compare(&made(&recipe))?;
    }

    #[test]
    fn plain_mixed_reels(
        lengths in prop::collection::vec(3_i64..30, 1..8),
        reels in prop::collection::vec((30_i64..60, 1_u32..4), 1..4),
        smallest in 5_i64..70,
        loss in 0_i64..3,
    ) {
        let mut job = job(&lengths, &reels, smallest);
        job.rules.loss_per_cut = mm(loss);
        compare(&job)?;
    }

    #[test]
    fn plain_jobs_with_enough_rope_are_proven(
        lengths in prop::collection::vec(3_i64..30, 1..8),
        lots in 30_i64..60,
        smallest in 5_i64..70,
    ) {
        let job = job(&lengths, &[(lots, 8), (lots + 7, 8)], smallest);
        let plan = checked(&job);
        prop_assert!(plan.goal(Aim::Loss).unwrap().proven, "{:#?}\n{:#?}", job, plan);
    }
}
