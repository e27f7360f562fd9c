//! Pieces, tests, prices and what is learnt, kept in either database: due
//! list, inspection, rework, retirement, certificate, quote.

#![cfg(feature = "records")]
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

#[path = "../../store/tests/store/both.rs"]
#[allow(dead_code, reason = "made for the tests of the store")]
mod both;

// What the helper of both databases makes its schemas with.
use sqlx as _;

use desk::records::rows::{Move, Piece, PieceState, Price, PriceKind, Verdict};
use desk::records::{Records, Stamp, wait};
use desk::{
    CertifyRequest, DueRequest, EnterTestsRequest, EventRequest, InspectRequest, PieceRequest, Problem, QuoteRequest,
    Text,
};

/// Runs a test on fresh records in each database.
fn on_both(test: impl AsyncFn(&Records)) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("loft.becket").display().to_string();
    let server = both::fresh_server_place().map(|place| place.to_string());
    for place in std::iter::once(file).chain(server) {
        wait(async {
            let records = Records::open(&place).await.unwrap();
            test(&records).await;
            records.close().await;
        })
        .unwrap();
    }
}

fn stamp(day: &str) -> Stamp {
    Stamp::new("Ada", &format!("{day}T08:00:00Z")).unwrap()
}

const ROPE: &str = "10 mm 12-strand HMPE";

async fn in_service(records: &Records, code: &str, purpose: &str) {
    made(records, code, purpose).await;
    let step = Move { to: PieceState::InService, on: "2026-02-01", next_due: Some("2026-11-01") };
    records.store().move_piece(code, step, &stamp("2026-02-01")).await.unwrap();
}

async fn made(records: &Records, code: &str, purpose: &str) {
    let piece = Piece {
        code: code.to_owned(),
        order_id: None,
        boat: "Sandpiper".to_owned(),
        line: "main halyard".to_owned(),
        rope: ROPE.to_owned(),
        colour: String::new(),
        batch: String::new(),
        reel: None,
        plan: None,
        cut_mm: 12_000,
        purpose: purpose.to_owned(),
        state: PieceState::Made,
        card: "{}".to_owned(),
        made_on: Some("2026-01-10".to_owned()),
        in_service_on: None,
        next_due: None,
        retired_on: None,
        note: String::new(),
        revision: 0,
        at: String::new(),
        who: String::new(),
    };
    records.store().add_piece(&piece, &stamp("2026-01-10")).await.unwrap();
}

async fn enter(records: &Records, code: &str, what: &str, on: &str) -> Result<Option<String>, Problem> {
    let request =
        EventRequest { code: code.to_owned(), on: on.to_owned(), what: what.to_owned(), ..Default::default() };
    desk::enter_event(records, &request, &stamp(on)).await
}

async fn inspect(records: &Records, code: &str, wear: &str, on: &str) -> Result<desk::InspectAnswer, Problem> {
    let form = desk::piece(records, &asked(code)).await.unwrap().form;
    let reading = |criterion: &desk::CriterionAnswer| {
        let seen = if criterion.kind == "share" { wear } else { "no" };
        (criterion.code.to_owned(), seen.to_owned())
    };
    let request = InspectRequest {
        code: code.to_owned(),
        on: on.to_owned(),
        reason: Some("season's look".to_owned()),
        readings: form.iter().map(reading).collect(),
        ..Default::default()
    };
    desk::inspect(records, &request, &stamp(on)).await
}

fn asked(code: &str) -> PieceRequest {
    PieceRequest { code: code.to_owned(), today: "2026-11-25".to_owned(), ..Default::default() }
}

fn due_by(by: &str) -> DueRequest {
    DueRequest { today: "2026-11-25".to_owned(), by: Some(by.to_owned()), most: 100 }
}

#[test]
fn a_withdrawn_piece_is_due_at_once_and_comes_back_only_reworked() {
    on_both(async |records| {
        in_service(records, "P1", "halyard").await;
        let found = inspect(records, "P1", "60 %", "2026-10-01").await.unwrap();
        assert_eq!((found.condition, found.due.as_deref()), ("withdraw", Some("2026-10-01")));
        // The row says so in its own column, which exports carry.
        let row = records.store().inspections("P1").await.unwrap().pop().unwrap();
        assert_eq!(row.verdict, Verdict::Withdraw);
        assert_eq!(desk::piece(records, &asked("P1")).await.unwrap().state, "withdrawn");
        let due = desk::due(records, &due_by("2026-11-30")).await.unwrap();
        assert_eq!((due.pieces[0].code.as_str(), due.pieces[0].why), ("P1", "overdue"));
        let back = enter(records, "P1", "in-service", "2026-10-02").await.unwrap_err();
        assert_eq!(back.code, "not-for-this-piece", "{back}");
        enter(records, "P1", "re-spliced", "2026-10-03").await.unwrap();
        let unseen = enter(records, "P1", "in-service", "2026-10-04").await;
        assert!(unseen.is_err(), "reworked, and nobody has looked");
        let found = inspect(records, "P1", "1 %", "2026-10-05").await.unwrap();
        assert_eq!(found.condition, "good");
        enter(records, "P1", "in-service", "2026-10-06").await.unwrap();
        let piece = desk::piece(records, &asked("P1")).await.unwrap();
        assert_eq!((piece.state, piece.reworked), ("in service", 1), "{piece:?}");
    });
}

#[test]
fn hours_turns_and_cuts_are_counted_and_a_date_moves_later_only_with_a_reason() {
    on_both(async |records| {
        in_service(records, "P1", "sheet").await;
        let used = EventRequest {
            code: "P1".to_owned(),
            on: "2026-05-01".to_owned(),
            what: "used".to_owned(),
            hours: Some(12.5),
            ..Default::default()
        };
        desk::enter_event(records, &used, &stamp("2026-05-01")).await.unwrap();
        for hours in [None, Some(-3.0), Some(f64::NAN)] {
            let wrong = EventRequest { hours, ..used.clone() };
            assert!(desk::enter_event(records, &wrong, &stamp("2026-05-02")).await.is_err(), "{hours:?}");
        }
        enter(records, "P1", "turned", "2026-05-03").await.unwrap();
        enter(records, "P1", "shortened", "2026-05-04").await.unwrap();
        let piece = desk::piece(records, &asked("P1")).await.unwrap();
        assert_eq!((piece.hours, piece.turned, piece.reworked), (12.5, 1, 1));
        let plan = |next: &str, reason: Option<&str>| EventRequest {
            code: "P1".to_owned(),
            on: "2026-06-01".to_owned(),
            what: "replanned".to_owned(),
            next: Some(next.to_owned()),
            reason: reason.map(str::to_owned),
            ..Default::default()
        };
        let stamp = stamp("2026-06-01");
        assert!(desk::enter_event(records, &plan("2027-12-01", None), &stamp).await.is_err());
        assert!(desk::enter_event(records, &plan("2027-12-01", Some("  ")), &stamp).await.is_err());
        assert_eq!(desk::piece(records, &asked("P1")).await.unwrap().due, piece.due);
        let due = desk::enter_event(records, &plan("2027-12-01", Some("laid up")), &stamp).await.unwrap();
        assert_eq!(due.as_deref(), Some("2027-12-01"));
        let sooner = desk::enter_event(records, &plan("2026-08-01", None), &stamp).await.unwrap();
        assert_eq!(sooner.as_deref(), Some("2026-08-01"));
    });
}

#[test]
fn a_retired_piece_is_broken_for_test_and_nothing_else() {
    on_both(async |records| {
        in_service(records, "P1", "sheet").await;
        let retire = |reason: &str| EventRequest {
            code: "P1".to_owned(),
            on: "2026-07-01".to_owned(),
            what: "retired".to_owned(),
            reason: Some(reason.to_owned()),
            ..Default::default()
        };
        assert!(desk::enter_event(records, &retire(""), &stamp("2026-07-01")).await.is_err(), "no reason");
        desk::enter_event(records, &retire("worn at the sheave"), &stamp("2026-07-01")).await.unwrap();
        assert_eq!(desk::due(records, &due_by("2030-01-01")).await.unwrap().pieces.len(), 0);
        for what in ["in-service", "turned", "shortened", "re-spliced", "issued"] {
            assert!(enter(records, "P1", what, "2026-07-02").await.is_err(), "{what}");
        }
        assert!(inspect(records, "P1", "1 %", "2026-07-02").await.is_err());
        enter(records, "P1", "broken-for-test", "2026-07-03").await.unwrap();
        let piece = desk::piece(records, &asked("P1")).await.unwrap();
        assert_eq!((piece.state, piece.may_be.len()), ("broken for test", 0), "{piece:?}");
    });
}

fn log(rows: &str) -> EnterTestsRequest {
    EnterTestsRequest {
        tests: Text::held("tests.csv", format!("test,piece,date,rope,end,load,broke,strength,bury\n{rows}")),
        ropes: None,
        machine: "bench 1, load cell of 2026-01-05".to_owned(),
        method: "20 mm pins, 250 mm/min".to_owned(),
        units: desk::System::Metric,
    }
}

#[test]
fn a_certificate_needs_a_proof_that_was_held_last() {
    on_both(async |records| {
        for (code, purpose) in
            [("P1", "halyard"), ("P2", "standing-rigging"), ("P3", "holds-person"), ("P4", "climbing")]
        {
            made(records, code, purpose).await;
        }
        let certify = async |code: &str| {
            let request = CertifyRequest { code: code.to_owned(), on: "2026-11-25".to_owned(), ..Default::default() };
            desk::certify(records, &request).await
        };
        assert_eq!(certify("P1").await.unwrap_err().code, "no-proof");
        let proof = |number: &str, code: &str, how: &str| {
            log(&format!("{number},{code},2026-03-02,{ROPE},long-bury-eye,30 kN,{how},80 kN,\n"))
        };
        let day = stamp("2026-03-02");
        for (number, code) in [("T1", "P1"), ("T2", "P2"), ("T3", "P3"), ("T4", "P4")] {
            let entered = desk::enter_tests(records, &proof(number, code, "held"), &day).await.unwrap();
            assert_eq!(entered.entered, [number], "{:?}", entered.refused);
        }
        let given = certify("P1").await.unwrap();
        assert_eq!((given.proof.load.text.as_str(), given.tested_by.as_str()), ("30 kN", "Ada"));
        assert!(given.method.contains("20 mm pins") && given.load_cell.contains("2026-01-05"));
        // Who may give one is said in the words of the refusal.
        for code in ["P2", "P3", "P4"] {
            let why = certify(code).await.unwrap_err();
            assert!(!why.hints.is_empty() && why.to_string().len() > 60, "{code}: {why}");
        }
        // A number is given once, and a later test that failed ends the certificate.
        let again = desk::enter_tests(records, &proof("T1", "P1", "held"), &day).await.unwrap();
        assert_eq!((again.entered.len(), again.refused.len()), (0, 1));
        assert!(again.refused[0].message.contains("there already"), "{:?}", again.refused);
        let later = desk::enter_tests(records, &proof("T9", "P1", "fitting"), &stamp("2026-04-02")).await;
        if later.unwrap().entered.len() == 1 {
            assert_eq!(certify("P1").await.unwrap_err().code, "proof-failed");
        }
    });
}

#[test]
fn a_pull_out_test_moves_the_friction_by_its_weight() {
    on_both(async |records| {
        let row = |number: &str, load: &str| {
            log(&format!("{number},,2026-06-02,{ROPE},adjustable-loop,{load},drew-out,80 kN,200 mm\n"))
        };
        let day = stamp("2026-06-02");
        let first = desk::enter_tests(records, &row("T1", "6.2 kN"), &day).await.unwrap();
        let friction = first.moved.iter().find(|figure| figure.what == "friction").unwrap();
        assert_eq!(friction.count, 1);
        assert!(friction.before != friction.after && friction.changes.contains("grip margin"), "{friction:?}");
        // The default counts as five: the first has a sixth of the say.
        assert!(friction.rule.contains("16.7 %"), "{}", friction.rule);
        let second = desk::enter_tests(records, &row("T2", "5.9 kN"), &day).await.unwrap();
        assert_eq!(second.moved[0].before, friction.after);
        let wrong = desk::enter_tests(records, &row("T3", "-5.9 kN"), &day).await.unwrap();
        assert_eq!((wrong.entered.len(), wrong.refused.len(), wrong.moved.len()), (0, 1, 0));
        // An end with the store's own figures says so.
        let own =
            desk::OwnSource { kept: Some(desk::KeptFigures::of(records).await.unwrap()), ..desk::OwnSource::default() };
        let end = desk::splice(&desk::SpliceRequest {
            rope: ROPE.to_owned(),
            end: "long-bury-eye".to_owned(),
            own,
            ..desk::SpliceRequest::default()
        })
        .unwrap();
        assert!(end.findings.iter().any(|finding| finding.code == "own-friction"), "{:?}", end.findings);
    });
}

#[test]
fn prices_of_the_store_make_a_quote_and_a_wrong_one_is_told() {
    on_both(async |records| {
        let price = |id: &str, kind, name: &str, per: &str, amount: &str, currency: &str| Price {
            id: id.to_owned(),
            kind,
            name: name.to_owned(),
            per: per.to_owned(),
            amount: amount.to_owned(),
            currency: currency.to_owned(),
            note: String::new(),
            revision: 0,
            at: String::new(),
            who: String::new(),
        };
        let order = std::fs::read(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/dinghy/order.toml")).unwrap();
        let ropes = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/dinghy/ropes.csv"));
        let ropes = ropes.unwrap();
        let mut names = Vec::new();
        for row in ropes.lines().skip(1) {
            names.push(row.split(',').next().unwrap().trim_matches('"').to_owned());
        }
        for (index, name) in names.iter().enumerate() {
            let row = price(&format!("r{index}"), PriceKind::Rope, name, "metre", "3.15", "EUR");
            records.store().set_price(&row, 0, &stamp("2026-01-01")).await.unwrap();
        }
        let labour = price("l", PriceKind::Labour, "bench", "hour", "48.00", "EUR");
        records.store().set_price(&labour, 0, &stamp("2026-01-01")).await.unwrap();
        let ask = async || {
            let request = QuoteRequest {
                order: Text::held("order", &order),
                ropes: Some(Text::held("ropes.csv", ropes.replace(" USD", " EUR").replace("2.80 EUR", ""))),
                kept: Some(desk::KeptPrices::of(records).await.unwrap()),
                tax: Some("19 %".to_owned()),
                ..QuoteRequest::default()
            };
            desk::quote(&request).unwrap()
        };
        let quote = ask().await;
        assert!(quote.total.is_some() && quote.refused.is_empty(), "{:?}", quote.refused);
        assert!(quote.lines.iter().any(|line| line.price == "48.00 EUR"));
        let odd = price("t", PriceKind::Twine, "waxed", "spool", "9.00", "EUR");
        records.store().set_price(&odd, 0, &stamp("2026-01-01")).await.unwrap();
        let odd = ask().await;
        assert!(odd.total.is_none() && odd.lines.len() == quote.lines.len());
        assert!(odd.refused.iter().any(|refused| refused.message.contains("waxed")), "{:?}", odd.refused);
    });
}
