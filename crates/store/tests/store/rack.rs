//! Reels and plans: reserved, cut and taken back, and no rope cut twice.

use crate::both::{on_both, stamp};
use store::{
    Cut, Error, LeftAs, Mark, Move, NewPlan, PieceFacts, PieceState, PlanReel, PlanState, ReelFacts, ReelKind,
    ReelState, Store, rack_fingerprint,
};

pub fn reel(id: &str, length_mm: i64) -> ReelFacts {
    ReelFacts {
        id: id.to_owned(),
        rope: "10 mm braid".to_owned(),
        colour: "blue".to_owned(),
        batch: "B7".to_owned(),
        length_mm,
        flaws: "[]".to_owned(),
        price: Some("4.20".to_owned()),
        place: "shelf 2".to_owned(),
        note: String::new(),
        kind: ReelKind::Whole,
    }
}

/// A plan that cuts one piece of 4 m from each reel of 10 m.
pub fn plan(id: &str, reels: &[&str]) -> NewPlan {
    let part = |reel: &&str| PlanReel {
        plan: String::new(),
        reel: (*reel).to_owned(),
        seen_mm: 10_000,
        left_mm: 5_990,
        left_as: LeftAs::Remnant,
        seen_flaws: "[]".to_owned(),
        left_flaws: "[]".to_owned(),
        seen_kind: ReelKind::Whole,
    };
    let cut = |reel: &&str| Cut {
        plan: String::new(),
        reel: (*reel).to_owned(),
        position: 1,
        length_mm: 4_000,
        loss_mm: 10,
        piece: format!("{id}-{reel}"),
        order_id: None,
        line: "jib sheet".to_owned(),
    };
    NewPlan {
        id: id.to_owned(),
        rack: String::new(),
        answer: "{}".to_owned(),
        note: String::new(),
        reels: reels.iter().map(part).collect(),
        cuts: reels.iter().map(cut).collect(),
        remnants: Vec::new(),
    }
}

pub fn facts(plan: &NewPlan) -> Vec<PieceFacts> {
    let of = |cut: &Cut| PieceFacts {
        code: cut.piece.clone(),
        boat: "Sloop".to_owned(),
        purpose: "running rigging".to_owned(),
        card: "{}".to_owned(),
        note: String::new(),
    };
    plan.cuts.iter().map(of).collect()
}

async fn lengths(store: &Store) -> Vec<(String, i64, ReelState)> {
    store.reels().await.unwrap().into_iter().map(|reel| (reel.id, reel.length_mm, reel.state)).collect()
}

#[test]
fn a_plan_is_confirmed_once_and_taken_back() {
    on_both(async |store| {
        store.add_reels(&[reel("R1", 10_000), reel("R2", 10_000)], &stamp("Ada", 1)).await.unwrap();
        let before = rack_fingerprint(&store.rack().await.unwrap());
        let new = plan("P1", &["R1", "R2"]);
        store.make_plan(&new, &stamp("Ada", 2)).await.unwrap();
        store.reserve_plan("P1", &stamp("Ada", 3)).await.unwrap();
        assert_eq!(store.reel("R1").await.unwrap().plan.as_deref(), Some("P1"));
        store.confirm_plan("P1", &facts(&new), &stamp("Ada", 4)).await.unwrap();
        let again = store.confirm_plan("P1", &facts(&new), &stamp("Ada", 5)).await.unwrap_err();
        assert_eq!(again.to_string(), "plan \"P1\" is confirmed, and cannot be confirmed");
        let cut = [("R1".to_owned(), 5_990, ReelState::Free), ("R2".to_owned(), 5_990, ReelState::Free)];
        assert_eq!(lengths(&store).await, cut);
        let piece = store.piece("P1-R2").await.unwrap();
        assert_eq!((piece.batch.as_str(), piece.cut_mm, piece.state), ("B7", 4_000, PieceState::Cut));

        store.take_back_plan("P1", &stamp("Bea", 6)).await.unwrap();
        assert_eq!(rack_fingerprint(&store.rack().await.unwrap()), before);
        assert_eq!(store.piece("P1-R2").await.unwrap().state, PieceState::TakenBack);
        assert_eq!(store.plan("P1").await.unwrap().plan.state, PlanState::TakenBack);
    });
}

#[test]
fn a_plan_whose_rack_has_changed_changes_nothing() {
    on_both(async |store| {
        store.add_reels(&[reel("R1", 10_000), reel("R2", 9_000)], &stamp("Ada", 1)).await.unwrap();
        let new = plan("P1", &["R1", "R2"]);
        store.make_plan(&new, &stamp("Ada", 2)).await.unwrap();
        let before = lengths(&store).await;
        let refused = store.confirm_plan("P1", &facts(&new), &stamp("Ada", 3)).await.unwrap_err();
        assert_eq!(
            refused.to_string(),
            "reel \"R2\" cannot be cut by plan \"P1\": there are 9000 mm on it, the plan saw 10000 mm"
        );
        assert_eq!(lengths(&store).await, before);
        assert!(matches!(store.piece("P1-R1").await.unwrap_err(), Error::Missing { .. }));
        assert_eq!(store.history_of("reel", "R1").await.unwrap().len(), 1);
    });
}

#[test]
fn a_reserved_reel_is_nobody_elses() {
    on_both(async |store| {
        store.add_reels(&[reel("R1", 10_000)], &stamp("Ada", 1)).await.unwrap();
        store.make_plan(&plan("P1", &["R1"]), &stamp("Ada", 2)).await.unwrap();
        store.make_plan(&plan("P2", &["R1"]), &stamp("Bea", 2)).await.unwrap();
        store.reserve_plan("P1", &stamp("Ada", 3)).await.unwrap();
        let refused = store.reserve_plan("P2", &stamp("Bea", 4)).await.unwrap_err();
        assert_eq!(refused.to_string(), "reel \"R1\" cannot be cut by plan \"P2\": plan \"P1\" has it reserved");
        let revision = store.reel("R1").await.unwrap().revision;
        let refused = store.correct_reel(&reel("R1", 8_000), revision, &stamp("Bea", 5)).await.unwrap_err();
        assert_eq!(refused.to_string(), "reel \"R1\" is reserved, and cannot be corrected");
        store.release_plan("P1", &stamp("Ada", 6)).await.unwrap();
        store.reserve_plan("P2", &stamp("Bea", 7)).await.unwrap();
        store.drop_plan("P1", &stamp("Ada", 8)).await.unwrap();
        assert_eq!(store.reel("R1").await.unwrap().plan.as_deref(), Some("P2"));
    });
}

#[test]
fn a_plan_is_not_taken_back_from_under_work() {
    on_both(async |store| {
        store.add_reels(&[reel("R1", 10_000)], &stamp("Ada", 1)).await.unwrap();
        let new = plan("P1", &["R1"]);
        store.make_plan(&new, &stamp("Ada", 2)).await.unwrap();
        store.confirm_plan("P1", &facts(&new), &stamp("Ada", 3)).await.unwrap();
        store.tick("P1-R1", "measure", Mark::Ticked, &stamp("Ada", 4)).await.unwrap();
        let made = Move { to: PieceState::Made, on: "2026-11-25", next_due: None };
        store.move_piece("P1-R1", made, &stamp("Ada", 5)).await.unwrap();
        let refused = store.take_back_plan("P1", &stamp("Ada", 6)).await.unwrap_err();
        assert_eq!(refused.to_string(), "piece \"P1-R1\" is made, and cannot be taken back");
        assert_eq!(store.reel("R1").await.unwrap().length_mm, 5_990);
    });
}

#[test]
fn a_plan_that_takes_more_than_there_is_is_refused() {
    on_both(async |store| {
        store.add_reels(&[reel("R1", 10_000)], &stamp("Ada", 1)).await.unwrap();
        let mut new = plan("P1", &["R1"]);
        new.reels[0].left_mm = 6_001;
        let refused = store.make_plan(&new, &stamp("Ada", 2)).await.unwrap_err();
        assert_eq!(refused.to_string(), "sum of cuts and rest is \"10001 mm from reel R1\": allowed is 10000 mm");
        let mut other = plan("P2", &["R1"]);
        other.cuts[0].reel = "R9".to_owned();
        assert!(store.make_plan(&other, &stamp("Ada", 3)).await.is_err());
        assert_eq!(store.plans(10).await.unwrap(), []);
    });
}

/// Twelve benches, each with a plan over three of five reels, all confirm at
/// once: every reel is cut by one plan at most, a plan is cut whole or not at
/// all, and the rope adds up.
#[test]
fn benches_at_once_never_cut_the_same_rope() {
    on_both(async |store| {
        let names = ["R1", "R2", "R3", "R4", "R5"];
        let reels: Vec<ReelFacts> = names.iter().map(|name| reel(name, 10_000)).collect();
        store.add_reels(&reels, &stamp("Ada", 1)).await.unwrap();
        let mut plans = Vec::new();
        for bench in 0..12 {
            // In turned order, so that locks taken as they come would cross.
            let mut chosen: Vec<&str> = (0..3).map(|step| names[(bench + step * 2) % 5]).collect();
            if bench % 2 == 1 {
                chosen.reverse();
            }
            let new = plan(&format!("P{bench}"), &chosen);
            store.make_plan(&new, &stamp("Ada", 2)).await.unwrap();
            plans.push(new);
        }
        let tasks: Vec<_> = plans
            .iter()
            .cloned()
            .map(|new| {
                let store = store.clone();
                tokio::spawn(async move { store.confirm_plan(&new.id, &facts(&new), &stamp("Bea", 3)).await })
            })
            .collect();
        let mut cut = Vec::new();
        for (task, new) in tasks.into_iter().zip(&plans) {
            match task.await.unwrap() {
                Ok(_) => cut.extend(new.reels.iter().map(|part| part.reel.clone())),
                Err(error) => assert!(matches!(error, Error::ReelHeld { .. }), "{error}"),
            }
        }
        assert!(!cut.is_empty());
        let mut once = cut.clone();
        once.sort();
        once.dedup();
        assert_eq!(once.len(), cut.len(), "cut twice: {cut:?}");
        for (id, length, _) in lengths(&store).await {
            assert_eq!(length, if cut.contains(&id) { 5_990 } else { 10_000 }, "{id}");
        }
        let pieces = store.pieces(PieceState::Cut, "", 100).await.unwrap();
        assert_eq!(pieces.len(), cut.len());
    });
}
