//! The loft's records through desk: the rack as a file and back, a cut plan
//! confirmed and taken back, refusals in desk's words.

#![cfg(feature = "records")]
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use desk::records::rows::{PieceState, Reel, ReelState};
use desk::records::{Records, Stamp, wait};
use desk::{CutAnswer, CutRequest, PieceSource, Text, cut};
use std::collections::BTreeMap;

/// Runs a test on fresh records.
fn fresh(test: impl AsyncFn(&Records)) {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("loft.becket").display().to_string();
    wait(async {
        let records = Records::open(&place).await.unwrap();
        test(&records).await;
        records.close().await;
    })
    .unwrap();
}

fn stamp() -> Stamp {
    desk::records::stamp("Ada").unwrap()
}

async fn planned(records: &Records, pieces: &str) -> CutAnswer {
    let request = CutRequest {
        source: PieceSource::List(Text::held("pieces.csv", pieces)),
        rack: Text::held("rack.csv", records.rack_file().await.unwrap()),
        ..CutRequest::default()
    };
    cut(&request).unwrap()
}

const HEAD: &str = "reel,rope,length,price_per_metre,count,remnant,flaws\n";

#[test]
fn a_rack_file_comes_back_reel_by_reel() {
    fresh(async |records| {
        let rack = format!("{HEAD}B-4,\"ten, blue\",12 ft 6 in,4.20 EUR,2,false,1 m..1.2 m\nB-5,ten,30.5 m,,1,true,\n");
        let added = records.add_rack(&Text::held("rack.csv", &rack), &stamp()).await.unwrap();
        let labels: Vec<&str> = added.iter().map(|reel| reel.id.as_str()).collect();
        assert_eq!(labels, ["B-4/1", "B-4/2", "B-5"]);
        assert_eq!(
            records.rack_file().await.unwrap(),
            "reel,rope,colour,batch,length,price_per_metre,count,remnant,flaws\n\
             B-5,ten,,,30500 mm,,1,true,\n\
             B-4/1,\"ten, blue\",,,3810 mm,4.20 EUR,1,false,1000 mm..1200 mm\n\
             B-4/2,\"ten, blue\",,,3810 mm,4.20 EUR,1,false,1000 mm..1200 mm\n"
        );
        desk::check(&Text::held("rack.csv", records.rack_file().await.unwrap())).unwrap();
        let again = records.add_rack(&Text::held("rack.csv", &rack), &stamp()).await.unwrap_err();
        assert_eq!((again.code.as_str(), again.message.as_str()), ("taken", "reel \"B-4/1\" is there already"));
        let wrong = records.add_rack(&Text::held("rack.csv", format!("{HEAD}B-6,ten,long,,1,,\n")), &stamp()).await;
        assert_eq!(wrong.unwrap_err().mistakes.len(), 1);
        assert_eq!(records.store().reels().await.unwrap().len(), 3);
    });
}

#[test]
fn a_plan_is_confirmed_and_taken_back_to_the_millimetre() {
    fresh(async |records| {
        let rack = format!("{HEAD}R1,ten,10 m,,1,false,\nR2,ten,7.5 m,,1,true,\n");
        records.add_rack(&Text::held("rack.csv", rack), &stamp()).await.unwrap();
        let before = records.rack_file().await.unwrap();
        let answer = planned(records, "piece,rope,length,count\na,ten,4 m,1\nb,ten,3.2 m,1\nc,ten,5.1 m,1\n").await;
        assert_eq!(answer.uncut.len(), 0);
        let none = BTreeMap::new();
        records.keep_plan("P1", &answer, &none, &stamp()).await.unwrap();
        records.keep_plan("P2", &answer, &none, &stamp()).await.unwrap();
        records.confirm_plan("P1", &none, &stamp()).await.unwrap();
        let kept = records.store().plan("P1").await.unwrap();
        for part in &kept.reels {
            let cuts: i64 =
                kept.cuts.iter().filter(|cut| cut.reel == part.reel).map(|cut| cut.length_mm + cut.loss_mm).sum();
            assert_eq!(cuts + part.left_mm, part.seen_mm, "reel {}", part.reel);
            let reel = records.store().reel(&part.reel).await.unwrap();
            assert!(reel.length_mm == part.left_mm || reel.length_mm == 0, "{reel:?}");
        }
        let pieces = records.store().pieces(PieceState::Cut, "", 10).await.unwrap();
        assert_eq!(pieces.iter().map(|piece| piece.cut_mm).sum::<i64>(), 12_300);
        // A second plan from the old rack finds that its reels have changed.
        let late = records.confirm_plan("P2", &none, &stamp()).await.unwrap_err();
        assert_eq!(late.code, "reel-held", "{late}");
        records.store().take_back_plan("P1", &stamp()).await.unwrap();
        assert_eq!(records.rack_file().await.unwrap(), before);
    });
}

/// A reel with a flaw: what comes off before the flaw becomes a reel of its
/// own where it is long enough, and what stays has its flaw where it now is.
#[test]
fn rope_around_a_flaw_adds_up() {
    fresh(async |records| {
        let rack = format!("{HEAD}R1,ten,20 m,,1,false,8 m..8.5 m\n");
        records.add_rack(&Text::held("rack.csv", rack), &stamp()).await.unwrap();
        for (number, pieces) in ["a,ten,3 m,1", "b,ten,9 m,1"].iter().enumerate() {
            let answer = planned(records, &format!("piece,rope,length,count\n{pieces}\n")).await;
            assert_eq!(answer.uncut.len(), 0, "{pieces}");
            let id = format!("P{number}");
            records.keep_plan(&id, &answer, &BTreeMap::new(), &stamp()).await.unwrap();
            records.confirm_plan(&id, &BTreeMap::new(), &stamp()).await.unwrap();
        }
        let reels = records.store().reels().await.unwrap();
        let free: Vec<&Reel> = reels.iter().filter(|reel| reel.state == ReelState::Free).collect();
        let left: i64 = free.iter().map(|reel| reel.length_mm).sum();
        // 12 m are pieces; two cuts cost 10 mm each, and 5 m to 8.5 m may have
        // been spoiled or kept: never more than there was.
        assert!(left + 12_000 <= 20_000 && left > 0, "{reels:?}");
        for reel in free {
            let flaws: Vec<(i64, i64)> = serde_json::from_str(&reel.flaws).unwrap();
            assert!(flaws.iter().all(|flaw| flaw.0 >= 0 && flaw.1 <= reel.length_mm), "{reel:?}");
        }
        desk::check(&Text::held("rack.csv", records.rack_file().await.unwrap())).unwrap();
    });
}

#[test]
fn a_missing_store_is_a_disk_problem_with_its_place() {
    let problem = wait(Records::open_existing("no-such-folder/loft.becket")).unwrap().unwrap_err();
    assert_eq!(problem.code, "store-unreachable");
    assert!(problem.message.starts_with("no-such-folder/loft.becket cannot be reached"), "{}", problem.message);
    assert_eq!(problem.hints.len(), 1);
}
