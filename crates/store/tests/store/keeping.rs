//! Tests, inspections, minutes, prices and people.

use crate::both::{on_both, stamp};
use crate::rows::piece;
use store::{
    BrokeAt, Error, Event, Minutes, Move, NewEvent, NewInspection, PieceState, Price, PriceKind, Quote, QuoteState,
    Reading, Role, Session, Store, Test, TestKind, TestResult, TestsWanted, UserFacts, UserState, Verdict, Worn,
};

fn test(number: &str) -> Test {
    Test {
        number: number.to_owned(),
        kind: TestKind::Break,
        piece: None,
        sample: "sample 1".to_owned(),
        rope: "10 mm braid".to_owned(),
        end_kind: "long-bury-eye".to_owned(),
        splicer: "Ada".to_owned(),
        worn: Worn::New,
        day: "2026-11-25".to_owned(),
        wanted_mn: None,
        load_mn: 61_500_000,
        estimate_mn: Some(60_000_000),
        hold_ms: None,
        cycles: Some(10),
        extension_um: Some(182_000),
        rate: "50 mm/min".to_owned(),
        result: TestResult::Broke,
        broke_at: Some(BrokeAt::Throat),
        machine: "bench 1".to_owned(),
        detail: "{}".to_owned(),
        note: String::new(),
        at: String::new(),
        who: String::new(),
    }
}

async fn in_service(store: &Store, code: &str, due: &str) {
    store.add_piece(&piece(code), &stamp("Ada", 1)).await.unwrap();
    let step = Move { to: PieceState::InService, on: "2026-01-01", next_due: Some(due) };
    store.move_piece(code, step, &stamp("Ada", 2)).await.unwrap();
}

#[test]
fn a_test_has_one_number_and_is_struck_out_with_a_reason() {
    on_both(async |store| {
        let entered = store.add_test(&test("T1"), &stamp("Ada", 1)).await.unwrap();
        assert_eq!(store.test("T1").await.unwrap(), entered);
        let again = store.add_test(&test("T1"), &stamp("Bea", 2)).await.unwrap_err();
        assert_eq!(again.to_string(), "test \"T1\" is there already");
        store.add_test(&Test { rope: "8 mm braid".to_owned(), ..test("T2") }, &stamp("Ada", 3)).await.unwrap();
        let of = TestsWanted { rope: Some("10 mm braid"), end_kind: Some("long-bury-eye"), piece: None };
        assert_eq!(store.tests(of).await.unwrap().len(), 1);
        assert!(store.strike_out("test", "T1", " ", &stamp("Ada", 4)).await.is_err());
        assert!(matches!(
            store.strike_out("test", "T9", "typo", &stamp("Ada", 4)).await.unwrap_err(),
            Error::Missing { .. }
        ));
        assert!(store.strike_out("order", "T1", "typo", &stamp("Ada", 4)).await.is_err());
        store.strike_out("test", "T1", "load cell not zeroed", &stamp("Ada", 5)).await.unwrap();
        assert_eq!(store.tests(of).await.unwrap(), []);
        assert_eq!(store.tests(TestsWanted::default()).await.unwrap().len(), 1);
        assert_eq!(store.test("T1").await.unwrap().load_mn, 61_500_000);
        assert_eq!(store.struck("test").await.unwrap()[0].reason, "load cell not zeroed");
    });
}

#[test]
fn tests_that_contradict_themselves_are_refused() {
    on_both(async |store| {
        for (wrong, why) in [
            (Test { load_mn: -1, ..test("T") }, "load is \"-1 mN\""),
            (Test { broke_at: None, ..test("T") }, "broke at is \"\""),
            (Test { result: TestResult::Held, ..test("T") }, "broke at is \"throat\""),
            (Test { sample: String::new(), ..test("T") }, "sample is \"\""),
            (Test { day: "yesterday".to_owned(), ..test("T") }, "day is \"yesterday\""),
            (Test { piece: Some("none".to_owned()), ..test("T") }, "there is no piece \"none\""),
        ] {
            let refused = store.add_test(&wrong, &stamp("Ada", 1)).await.unwrap_err();
            assert!(refused.to_string().starts_with(why), "{refused}");
        }
        assert_eq!(store.tests(TestsWanted::default()).await.unwrap(), []);
    });
}

#[test]
fn a_retired_piece_is_broken_as_a_used_one_and_in_no_other_way() {
    on_both(async |store| {
        in_service(&store, "H1", "2027-01-01").await;
        let step = Move { to: PieceState::Retired, on: "2026-11-24", next_due: None };
        store.move_piece("H1", step, &stamp("Ada", 3)).await.unwrap();
        let of = |worn, kind, result, broke_at| Test {
            piece: Some("H1".to_owned()),
            worn,
            kind,
            result,
            broke_at,
            ..test("T1")
        };
        let new = of(Worn::New, TestKind::Break, TestResult::Broke, Some(BrokeAt::Clear));
        let refused = store.add_test(&new, &stamp("Ada", 4)).await.unwrap_err();
        assert_eq!(refused.to_string(), "worn is \"new\": allowed is used: piece H1 has been in service");
        let proof = of(Worn::Used, TestKind::Proof, TestResult::Held, None);
        let refused = store.add_test(&proof, &stamp("Ada", 5)).await.unwrap_err();
        assert_eq!(refused.to_string(), "piece \"H1\" is retired, and cannot be proof tested");
        let used = of(Worn::Used, TestKind::Break, TestResult::Broke, Some(BrokeAt::Clear));
        store.add_test(&used, &stamp("Ada", 6)).await.unwrap();
        let broken = store.piece("H1").await.unwrap();
        assert_eq!((broken.state, broken.retired_on.as_deref()), (PieceState::Broken, Some("2026-11-24")));
    });
}

#[test]
fn a_load_curve_is_kept_as_its_file_was() {
    on_both(async |store| {
        store.add_test(&test("T1"), &stamp("Ada", 1)).await.unwrap();
        let text = "time;load\r\n0;0\r\n1;12,5\r\n";
        store.add_load_curve("T1", text, 2, &stamp("Ada", 2)).await.unwrap();
        assert_eq!(store.load_curve("T1").await.unwrap().unwrap().text, text);
        assert!(matches!(
            store.add_load_curve("T1", text, 2, &stamp("Ada", 3)).await.unwrap_err(),
            Error::Taken { .. }
        ));
        assert!(matches!(
            store.add_load_curve("T2", text, 2, &stamp("Ada", 3)).await.unwrap_err(),
            Error::Missing { .. }
        ));
    });
}

fn inspection(due: Option<&str>, verdict: Verdict, reason: &str) -> NewInspection {
    NewInspection {
        piece: "H1".to_owned(),
        day: "2026-11-25".to_owned(),
        form: "braid on braid".to_owned(),
        findings: "[]".to_owned(),
        verdict,
        used: "2 seasons".to_owned(),
        next_due: due.map(str::to_owned),
        reason: reason.to_owned(),
        note: String::new(),
    }
}

#[test]
fn a_due_day_moves_later_only_with_a_reason() {
    on_both(async |store| {
        in_service(&store, "H1", "2027-01-01").await;
        let refused =
            store.inspect(&inspection(Some("2027-06-01"), Verdict::Keep, ""), &stamp("Ada", 3)).await.unwrap_err();
        assert_eq!(
            refused.to_string(),
            "next due is \"2027-06-01\": allowed is 2027-01-01 or sooner, or a reason for later"
        );
        assert_eq!(store.inspections("H1").await.unwrap(), []);
        store.inspect(&inspection(Some("2026-12-01"), Verdict::Watch, ""), &stamp("Ada", 4)).await.unwrap();
        let new = inspection(Some("2027-06-01"), Verdict::Keep, "no wear found");
        let later = store.inspect(&new, &stamp("Ada", 5)).await.unwrap();
        assert_eq!((later.due_before.as_deref(), later.due_after.as_deref()), (Some("2026-12-01"), Some("2027-06-01")));
        assert_eq!(store.piece("H1").await.unwrap().next_due.as_deref(), Some("2027-06-01"));
        store.strike_out("inspection", &later.seq.to_string(), "wrong piece", &stamp("Ada", 6)).await.unwrap();
        assert_eq!(store.inspections("H1").await.unwrap().len(), 1);
    });
}

#[test]
fn an_inspection_retires_a_piece_with_a_reason_and_for_good() {
    on_both(async |store| {
        in_service(&store, "H1", "2027-01-01").await;
        assert!(store.inspect(&inspection(None, Verdict::Retire, ""), &stamp("Ada", 3)).await.is_err());
        store.inspect(&inspection(None, Verdict::Retire, "core cut"), &stamp("Ada", 4)).await.unwrap();
        let retired = store.piece("H1").await.unwrap();
        assert_eq!(
            (retired.state, retired.next_due, retired.retired_on.as_deref()),
            (PieceState::Retired, None, Some("2026-11-25"))
        );
        let told = store.life("H1").await.unwrap();
        assert_eq!((told.len(), told[0].event, told[0].reason.as_str()), (1, Event::Retired, "core cut"));
        let back = NewEvent {
            piece: "H1".to_owned(),
            event: Event::PutInService,
            day: "2026-11-26".to_owned(),
            amount_millionths: None,
            unit: String::new(),
            reason: String::new(),
            detail: "{}".to_owned(),
            next_due: None,
        };
        assert!(matches!(store.add_event(&back, &stamp("Ada", 5)).await.unwrap_err(), Error::NotFrom { .. }));
        let turned = NewEvent { event: Event::Turned, ..back };
        store.add_event(&turned, &stamp("Ada", 6)).await.unwrap();
        assert_eq!(store.life("H1").await.unwrap().len(), 2);
        assert_eq!(store.due("2099-01-01", 10).await.unwrap(), []);
    });
}

#[test]
fn minutes_and_readings_are_what_the_loft_learns_from() {
    on_both(async |store| {
        let minutes = Minutes {
            seq: 0,
            piece: None,
            end_kind: "long-bury-eye".to_owned(),
            rope: "10 mm braid".to_owned(),
            rigger: "Ada".to_owned(),
            seconds: 1_500,
            day: "2026-11-25".to_owned(),
            note: String::new(),
            at: String::new(),
            who: String::new(),
        };
        let first = store.add_minutes(&minutes, &stamp("Ada", 1)).await.unwrap();
        let second = store.add_minutes(&minutes, &stamp("Ada", 2)).await.unwrap();
        assert!(first.seq < second.seq);
        assert!(store.add_minutes(&Minutes { seconds: 0, ..minutes.clone() }, &stamp("Ada", 3)).await.is_err());
        store
            .strike_out("minutes", &first.seq.to_string(), "the clock ran over lunch", &stamp("Ada", 4))
            .await
            .unwrap();
        assert_eq!(store.minutes().await.unwrap(), [second]);
        let reading = Reading {
            seq: 0,
            what: "friction".to_owned(),
            rope: "10 mm braid".to_owned(),
            piece: None,
            given: "0.062".to_owned(),
            millionths: 62_000,
            unit: "1".to_owned(),
            detail: "{}".to_owned(),
            day: "2026-11-25".to_owned(),
            at: String::new(),
            who: String::new(),
        };
        let kept = store.add_reading(&reading, &stamp("Ada", 5)).await.unwrap();
        assert_eq!(store.readings("friction").await.unwrap(), [kept]);
        assert_eq!(store.readings("shrinkage").await.unwrap(), []);
    });
}

#[test]
fn prices_and_quotes_keep_every_digit() {
    on_both(async |store| {
        let price = Price {
            id: "rope-1".to_owned(),
            kind: PriceKind::Rope,
            name: "10 mm braid".to_owned(),
            per: "m".to_owned(),
            amount: "4.2000".to_owned(),
            currency: "EUR".to_owned(),
            note: String::new(),
            revision: 0,
            at: String::new(),
            who: String::new(),
        };
        store.set_price(&price, 0, &stamp("Ada", 1)).await.unwrap();
        assert!(matches!(store.set_price(&price, 0, &stamp("Bea", 2)).await.unwrap_err(), Error::Changed { .. }));
        store.set_price(&Price { amount: "4.35".to_owned(), ..price.clone() }, 1, &stamp("Ada", 3)).await.unwrap();
        assert_eq!(store.prices().await.unwrap()[0].amount, "4.35");
        for amount in ["", "1,5", "1.2.3", "NaN", "1e3", ".5", "5.", "--1"] {
            let wrong = Price { amount: amount.to_owned(), ..price.clone() };
            assert!(store.set_price(&wrong, 2, &stamp("Ada", 4)).await.is_err(), "{amount}");
        }
        let quote = Quote {
            number: "Q1".to_owned(),
            order_id: None,
            order_revision: None,
            state: QuoteState::Sent,
            currency: "EUR".to_owned(),
            total: "1234.50".to_owned(),
            answer: "{}".to_owned(),
            day: "2026-11-25".to_owned(),
            valid_until: Some("2026-12-25".to_owned()),
            note: String::new(),
            revision: 0,
            at: String::new(),
            who: String::new(),
        };
        assert_eq!(store.add_quote(&quote, &stamp("Ada", 5)).await.unwrap().state, QuoteState::Draft);
        assert!(store.move_quote("Q1", QuoteState::Accepted, &stamp("Ada", 6)).await.is_err());
        store.move_quote("Q1", QuoteState::Sent, &stamp("Ada", 7)).await.unwrap();
        store.move_quote("Q1", QuoteState::Accepted, &stamp("Ada", 8)).await.unwrap();
        assert_eq!(store.quote("Q1").await.unwrap().total, "1234.50");
    });
}

#[test]
fn sessions_end_and_the_last_owner_stays() {
    on_both(async |store| {
        let user = |name, role, state, secret| UserFacts { name, role, state, secret };
        let first = user("Ada", Role::Owner, UserState::Active, None);
        assert!(store.set_user(first, &stamp("set-up", 1)).await.is_err());
        let first = UserFacts { secret: Some("$argon2id$one"), ..first };
        store.set_user(first, &stamp("set-up", 2)).await.unwrap();
        store
            .set_user(user("Bea", Role::Rigger, UserState::Active, Some("$argon2id$two")), &stamp("Ada", 3))
            .await
            .unwrap();
        let refused =
            store.set_user(user("Ada", Role::Owner, UserState::Closed, None), &stamp("Ada", 4)).await.unwrap_err();
        assert_eq!(refused.to_string(), "user is \"owner, closed\": allowed is an active owner, for there is no other");
        let session = Session {
            id: "hash".to_owned(),
            user_name: "Bea".to_owned(),
            token: "token".to_owned(),
            begun_at: "2026-11-25T08:00:00Z".to_owned(),
            seen_at: "2026-11-25T08:00:00Z".to_owned(),
            ends_at: "2026-11-25T20:00:00Z".to_owned(),
            address: "192.0.2.7".to_owned(),
        };
        store.begin_session(&session).await.unwrap();
        store.touch_session("hash", "2026-11-25T09:00:00Z").await.unwrap();
        let (found, user_found) = store.session("hash", "2026-11-25T19:59:59Z").await.unwrap().unwrap();
        assert_eq!((found.seen_at.as_str(), user_found.role), ("2026-11-25T09:00:00Z", Role::Rigger));
        assert_eq!(store.session("hash", "2026-11-25T20:00:00Z").await.unwrap(), None);
        store.set_user(user("Bea", Role::Rigger, UserState::Closed, None), &stamp("Ada", 5)).await.unwrap();
        assert_eq!(store.session("hash", "2026-11-25T09:00:00Z").await.unwrap(), None);
        assert!(store.begin_session(&session).await.is_err());
        let told = store.history_of("user", "Bea").await.unwrap();
        assert!(told.iter().all(|one| !format!("{one:?}").contains("argon2id")), "{told:?}");
        store.note_refusal("POST /orders", "no session", "192.0.2.9", &stamp("nobody", 6)).await.unwrap();
        assert_eq!(store.refusals(10).await.unwrap()[0].why, "no session");
    });
}
