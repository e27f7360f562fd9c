//! The commands on a store as people run them: due, piece, proof, price; each
//! on a file and on a PostgreSQL server of the test's own.

#![cfg(feature = "pages")]
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

#[path = "../../web/tests/web/postgres.rs"]
#[allow(dead_code, reason = "the pages' tests also stop and start it again")]
mod postgres;

use desk::records::{Records, stamp, wait};
use desk::{BringIn, FigureEntry, Problem, TestEntry};
use serde_json::Value as Json;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const ROPE: &str = "10 mm 12-strand HMPE";

fn project() -> PathBuf {
    let here = std::env::var_os("CARGO_MANIFEST_DIR").unwrap();
    Path::new(&here).join("../..").canonicalize().unwrap()
}

fn becket(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_becket")).args(arguments).current_dir(project()).output().unwrap()
}

/// What a command says, with its exit code.
fn said(arguments: &[&str]) -> (i32, String) {
    let output = becket(arguments);
    let text = String::from_utf8(output.stdout).unwrap() + &String::from_utf8(output.stderr).unwrap();
    (output.status.code().unwrap(), text)
}

fn json(arguments: &[&str]) -> Json {
    let output = becket(arguments);
    serde_json::from_slice(&output.stdout).unwrap_or_else(|why| panic!("{why}: {output:?}"))
}

fn text(text: &str) -> Option<String> {
    Some(text.to_owned())
}

/// Runs a test on a filled store of each database.
fn on_both(test: impl Fn(&str, &Path)) {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("loft.becket").display().to_string();
    wait(fill(&place)).unwrap().unwrap();
    test(&place, folder.path());
    if let Some(server) = postgres::Server::start() {
        wait(fill(&server.url())).unwrap().unwrap();
        test(&server.url(), folder.path());
    }
}

/// Two pieces in service, one for people's weight, a proof test, minutes.
async fn fill(place: &str) -> Result<(), Problem> {
    let records = Records::open(place).await?;
    let by = stamp("Ada")?;
    for (code, due, purpose) in
        [("H-1", "2026-04-01", None), ("H-2", "2026-12-10", None), ("C-1", "2027-05-01", text("holds-person"))]
    {
        let piece = BringIn {
            code: code.to_owned(),
            boat: "Sandpiper".to_owned(),
            line: "main halyard".to_owned(),
            rope: ROPE.to_owned(),
            length: "31 m".to_owned(),
            purpose,
            made_on: text("2025-03-01"),
            in_service_on: text("2025-04-01"),
            next_due: text(due),
            ropes: None,
        };
        desk::bring_in(&records, &piece, &by).await?;
    }
    let test = TestEntry {
        number: "P-1".to_owned(),
        piece: text("H-1"),
        end: "long-bury-eye".to_owned(),
        on: "2025-05-01".to_owned(),
        load: "20 kN".to_owned(),
        broke: "held".to_owned(),
        hold: text("2 min"),
        method: text("bench 2, 14 mm pins"),
        load_cell: text("cell 3, calibrated 2025-02-01"),
        ..TestEntry::default()
    };
    desk::enter_test(&records, &test, &by).await?;
    for minutes in ["60", "62", "58", "61", "59", "60"] {
        let figure = FigureEntry {
            what: "minutes".to_owned(),
            end: "covered-eye".to_owned(),
            value: minutes.to_owned(),
            on: "2025-05-01".to_owned(),
            ..FigureEntry::default()
        };
        desk::enter_figure(&records, &figure, &by).await?;
    }
    records.close().await;
    Ok(())
}

#[test]
fn what_is_due_is_listed_and_a_calendar() {
    on_both(|store, folder| {
        let ics = folder.join("due.ics").display().to_string();
        let today = ["--today", "2026-11-25", "--store", store];
        let (code, text) = said(&[&["due"], &today[..], &["--ics", &ics]].concat());
        assert_eq!(code, 1, "something is overdue: {text}");
        assert!(text.contains("H-1") && text.contains("H-2") && !text.contains("C-1"), "{text}");
        let answer = json(&[&["due", "--json"], &today[..]].concat());
        assert_eq!((answer["by"].as_str(), answer["pieces"].as_array().unwrap().len()), (Some("2026-12-25"), 2));
        assert_eq!(answer["pieces"][0]["days"], -238);
        let calendar = std::fs::read_to_string(&ics).unwrap();
        assert_eq!(calendar.matches("BEGIN:VEVENT").count(), 2);
        assert!(calendar.contains("DTSTART;VALUE=DATE:20261210"), "{calendar}");
        let (code, text) = said(&["due", "--store", store, "--today", "2026-03-01"]);
        assert_eq!(code, 0, "nothing is overdue then: {text}");
        let (code, text) = said(&["due", "--store", store, "--by", "soon"]);
        assert!(code == 2 && text.contains("2026-11-25"), "{text}");
        let (code, text) = said(&["due", "--store", "no-such-folder/loft.becket"]);
        assert!(code == 4 && text.contains("cannot be reached"), "{text}");
    });
}

#[test]
fn a_piece_is_told_and_entered_to_its_end() {
    on_both(|store, _| {
        let enter = |what: &str, on: &str, more: &[&str]| {
            said(&[&["piece", "H-1", "--store", store, "--who", "Ada", "--enter", what, "--on", on], more].concat())
        };
        let answer = json(&["piece", "H-1", "--store", store, "--json"]);
        assert_eq!(
            (answer["state"].as_str(), answer["tests"][0]["number"].as_str()),
            (Some("in service"), Some("P-1"))
        );
        assert!(answer["form"].as_array().unwrap().len() >= 5 && answer["residual"]["basis"].is_string());
        let (code, text) = enter("used", "2026-05-01", &["--hours", "120"]);
        assert!(code == 0 && text.contains("120 h"), "{text}");
        // What is not seen moves no day; a limit that is passed takes it out.
        let (code, text) = enter("inspected", "2026-05-02", &["--reading", "wear=5%"]);
        assert!(code == 0 && text.contains("incomplete"), "{text}");
        let (code, text) = enter("inspected", "2026-05-03", &["--reading", "wear=60%"]);
        assert!(code == 1 && text.contains("withdraw"), "{text}");
        let (code, text) = enter("in-service", "2026-05-04", &[]);
        assert!(code == 5 && text.contains("withdrawn"), "{text}");
        let (code, text) = enter("retired", "2026-05-05", &[]);
        assert!(code == 5 && text.contains("without a reason"), "{text}");
        let (code, text) = enter("retired", "2026-05-05", &["--reason", "worn"]);
        assert_eq!(code, 0, "{text}");
        for back in ["in-service", "issued", "turned"] {
            let (code, text) = enter(back, "2026-05-06", &[]);
            assert!(code == 5 && text.contains("retired"), "{back}: {text}");
        }
        assert!(!json(&["due", "--store", store, "--json"])["pieces"].to_string().contains("H-1"));
        let (code, text) = said(&["piece", "none", "--store", store]);
        assert!(code == 2 && text.contains("none"), "{text}");
    });
}

#[test]
fn tests_and_certificates_come_out_of_the_store() {
    on_both(|store, _| {
        let (code, text) = said(&["proof", "certificate", "H-1", "--store", store]);
        assert!(code == 0 && text.contains("20 kN") && text.contains("cell 3") && text.contains("Ada"), "{text}");
        let answer = json(&["proof", "certificate", "H-1", "--store", store, "--json"]);
        assert_eq!(answer["proof"]["broke"], "held");
        let (code, text) = said(&["proof", "certificate", "H-2", "--store", store]);
        assert!(code == 5 && text.contains("no test in the log"), "{text}");
        let (code, text) = said(&["proof", "certificate", "C-1", "--store", store]);
        assert!(code == 5 && text.lines().count() > 1, "who may give one is said: {text}");
        let log = json(&["proof", "tests", "--store", store, "--json"]);
        assert_eq!((log["splices"][0]["used"].as_u64(), log["splices"][0]["breaks"].as_u64()), (Some(1), Some(0)));
        let learned = json(&["proof", "learned", "--store", store, "--json"]);
        let minutes = &learned["figures"][0];
        assert_eq!(
            (minutes["what"].as_str(), minutes["count"].as_u64(), minutes["own"].as_f64()),
            (Some("minutes"), Some(6), Some(60.0))
        );
    });
}

#[test]
fn a_quote_takes_the_minutes_of_the_store() {
    on_both(|store, _| {
        let order = ["price", "examples/sloop/order.toml", "--labour", "48 EUR", "--json"];
        let (usual, own) = (json(&order), json(&[&order[..], &["--store", store]].concat()));
        let minutes = |answer: &Json| {
            let all = answer["minutes"].as_array().unwrap();
            all.iter().filter_map(Json::as_str).find(|line| line.starts_with("covered")).unwrap().to_owned()
        };
        assert_ne!(minutes(&usual), minutes(&own));
        assert!(minutes(&own).contains("6 "), "the count is said: {}", minutes(&own));
        let (code, text) = said(&["price", "examples/sloop/order.toml", "--store", store, "--measures", "x.csv"]);
        assert!(code == 2 && text.contains("--measures"), "{text}");
    });
}
