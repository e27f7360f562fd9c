//! The loft's rules, one by one, on jobs small enough to see the answer.

use cutting::{Aim, Flaw, Job, Origin, RackMoved, Why, fingerprint, step_of};

use crate::jobs::{checked, job, mm};

fn value(job: &Job, aim: Aim) -> (i64, bool) {
    let plan = checked(job);
    let goal = plan.goal(aim).unwrap();
    (goal.value, goal.proven)
}

#[test]
fn every_leftover_scrap_and_equal_reels_is_bin_packing() {
    // 6 + 4, 5 + 5, 7 + 3: three full reels of 10.
    let job = job(&[6, 5, 5, 4, 7, 3], &[(10, 6)], 11);
    assert_eq!(value(&job, Aim::Loss), (0, true));
    assert_eq!(value(&job, Aim::Reels), (3, true));
}

#[test]
fn a_cut_costs_its_loss_except_at_the_reels_end() {
    // Two of 500 with 10 between: 1,010; the last cut falls on the end.
    let mut job = job(&[500, 500], &[(1_010, 1)], 2_000);
    job.rules.loss_per_cut = mm(10);
    let plan = checked(&job);
    assert_eq!(plan.totals.cut_loss, mm(10));
    assert_eq!(plan.totals.scrap, mm(0));
    assert_eq!((plan.reels[0].cuts[1].from, plan.reels[0].cuts[1].to), (mm(510), mm(1_010)));
    job.reels[0].length = mm(1_015);
    let plan = checked(&job);
    assert_eq!((plan.totals.cut_loss, plan.totals.scrap), (mm(15), mm(0)));
    job.reels[0].length = mm(1_025);
    let plan = checked(&job);
    assert_eq!((plan.totals.cut_loss, plan.totals.scrap), (mm(20), mm(5)));
}

#[test]
fn a_remnant_used_up_beats_a_fresh_reel() {
    let mut job = job(&[4_000], &[(50_000, 1), (4_300, 1)], 1_000);
    job.reels[1].origin = Origin::Remnant;
    let plan = checked(&job);
    assert_eq!(plan.reels[0].reel, "r1");
    assert_eq!(plan.goal(Aim::Loss).unwrap().value, 300);
    assert_eq!(plan.totals.remnants, 0);
}

#[test]
fn trim_and_allowance_are_cut_too() {
    let mut job = job(&[900], &[(1_000, 1)], 2_000);
    job.rules.trim = mm(30);
    job.pieces[0].allowance = mm(50);
    let plan = checked(&job);
    assert_eq!((plan.reels[0].cuts[0].from, plan.reels[0].cuts[0].to), (mm(30), mm(980)));
    assert_eq!((plan.totals.trim, plan.totals.scrap, plan.totals.waste), (mm(30), mm(20), mm(50)));
}

#[test]
fn a_flaw_is_stepped_over() {
    let mut job = job(&[400, 500], &[(1_000, 1)], 2_000);
    job.reels[0].flaws = vec![Flaw { from: mm(420), to: mm(450) }];
    let plan = checked(&job);
    let marks: Vec<_> = plan.reels[0].cuts.iter().map(|cut| (cut.from.count(), cut.to.count())).collect();
    assert_eq!(marks, [(0, 400), (450, 950)]);
}

#[test]
fn a_pair_lies_side_by_side_on_one_reel() {
    // Alone the pair would be split: 6 + 4 and 6 + 4 fill two reels.
    let mut job = job(&[6, 6, 4, 4], &[(10, 2), (12, 1)], 100);
    for piece in [0, 1] {
        job.pieces[piece].same_reel = Some("pair".to_owned());
    }
    let plan = checked(&job);
    let with = plan.reels.iter().find(|reel| reel.cuts.iter().any(|cut| cut.piece == "p0")).unwrap();
    assert!(with.cuts.iter().any(|cut| cut.piece == "p1"));
    assert_eq!(plan.goal(Aim::Loss).unwrap().value, 2);
}

#[test]
fn a_batch_set_comes_from_one_batch() {
    let mut job = job(&[6, 6], &[(6, 1), (6, 1), (9, 2)], 100);
    for (reel, batch) in ["one", "two", "three"].into_iter().enumerate() {
        job.reels[reel].batch = Some(batch.to_owned());
    }
    assert_eq!(value(&job, Aim::Loss), (0, true));
    for piece in &mut job.pieces {
        piece.same_batch = Some("sail".to_owned());
    }
    assert_eq!(checked(&job).goal(Aim::Loss).unwrap().value, 6);
}

#[test]
fn short_rope_serves_the_urgent_first() {
    let mut job = job(&[8, 5, 5], &[(10, 1)], 100);
    job.pieces[0].rank = 2;
    job.pieces[1].rank = 1;
    job.pieces[2].rank = 1;
    let plan = checked(&job);
    let uncut: Vec<_> = plan.uncut.iter().map(|uncut| (uncut.piece.as_str(), uncut.why)).collect();
    assert_eq!(uncut, [("p0", Why::NotEnough)]);
    job.pieces[0].rank = 0;
    let plan = checked(&job);
    assert_eq!(plan.uncut.len(), 2);
    assert_eq!(plan.goal(Aim::Uncut(0)).unwrap().value, 0);
}

#[test]
fn no_reel_of_a_rope_leaves_its_pieces_uncut() {
    let mut job = job(&[8, 5], &[(10, 1)], 100);
    job.pieces[1].rope = "other".to_owned();
    let plan = checked(&job);
    assert_eq!(plan.uncut.len(), 1);
    assert_eq!((plan.uncut[0].piece.as_str(), plan.uncut[0].why), ("p1", Why::NoReel));
}

#[test]
fn missing_rope_is_bought_for_the_least_money() {
    let mut job = job(&[8, 5, 5], &[(10, 1), (20, 9), (6, 9), (9, 9)], 100);
    for (reel, price) in [(1, 100), (2, 45), (3, 46)] {
        job.reels[reel].origin = Origin::Supplier { price };
    }
    let plan = checked(&job);
    assert!(plan.uncut.is_empty());
    assert_eq!(plan.goal(Aim::Money).unwrap().value, 46);
}

#[test]
fn open_remnants_stay_within_the_largest_number() {
    // Alone the least loss keeps two remnants; with one allowed, more is scrap.
    let mut job = job(&[60, 60], &[(100, 1), (110, 1), (125, 1)], 40);
    job.rules.remnant_value = Some(mm(1));
    job.reels[2].origin = Origin::Remnant;
    job.rules.most_remnants = Some(0);
    let plan = checked(&job);
    let excess = plan.goal(Aim::Excess).unwrap();
    assert_eq!((excess.value, excess.proven), (0, true));
    assert_eq!(plan.totals.remnants, 0);
    job.pieces.truncate(1);
    let plan = checked(&job);
    assert_eq!(plan.goal(Aim::Excess).unwrap().value, 1, "one piece leaves one remnant whatever is cut");
    assert_eq!(plan.reels[0].reel, "r2", "but not two");
}

#[test]
fn of_reels_alike_the_cheaper_is_cut() {
    let mut job = job(&[60], &[(100, 1), (100, 1), (100, 1)], 10);
    for (reel, price) in [(0, 520), (1, 480), (2, 500)] {
        job.reels[reel].price_per_metre = Some(price);
    }
    let plan = checked(&job);
    assert_eq!(plan.reels[0].reel, "r1");
    let price = plan.goal(Aim::Price).unwrap();
    assert_eq!((price.value, price.bound), (60 * 480, 60 * 480));
}

#[test]
fn what_is_left_goes_back_with_its_flaws_and_names() {
    let mut job = job(&[300, 300, 250], &[(1_000, 1), (310, 3)], 100);
    job.reels[0].flaws = vec![Flaw { from: mm(260), to: mm(270) }, Flaw { from: mm(800), to: mm(810) }];
    job.reels[1].origin = Origin::Remnant;
    job.pieces[2].rank = 1;
    let plan = checked(&job);
    let step = step_of(&job, &plan);
    let after = step.apply(&job.reels).unwrap();
    let left: Vec<_> = after.iter().map(|reel| (reel.id.as_str(), reel.length.count(), reel.count)).collect();
    // Two of the three alike are used up; the reel keeps its name and its second flaw.
    assert_eq!(left, [("r0", 730, 1), ("r1", 310, 1)], "{plan:#?}");
    assert_eq!(after[0].flaws, [Flaw { from: mm(530), to: mm(540) }]);
    assert_eq!(step.apply(&after), Err(RackMoved::TooFew { reel: "r1".to_owned(), count: 1, wanted: 2 }));
    assert_eq!(step.inverse().apply(&after).map(|rack| fingerprint(&rack)), Ok(fingerprint(&job.reels)));
}
