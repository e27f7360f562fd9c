//! Quote, tests, curve, certificate and due list on paper: what is printed is
//! what the JSON says, the same to the byte each time, whatever names hold.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

use serde_json::Value as Json;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn project() -> PathBuf {
    let here = std::env::var_os("CARGO_MANIFEST_DIR").unwrap();
    Path::new(&here).join("../..").canonicalize().unwrap()
}

fn becket(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_becket")).args(arguments).current_dir(project()).output().unwrap()
}

/// Runs with `--out` twice; gives the answer and the paper's text in one line.
fn paper(arguments: &[&str], file: &Path) -> (Json, String) {
    let run = |file: &Path| {
        let mut all = arguments.to_vec();
        all.extend(["--json", "--out", file.to_str().unwrap()]);
        let output = becket(&all);
        assert!(matches!(output.status.code(), Some(0 | 1)), "{output:?}");
        (serde_json::from_slice(&output.stdout).unwrap(), std::fs::read(file).unwrap())
    };
    let (json, bytes) = run(file);
    let (_, again) = run(&file.with_extension("again.pdf"));
    assert!(bytes == again, "the same question gives the same bytes");
    let has = |what: &[u8]| bytes.windows(what.len()).any(|part| part == what);
    assert!(has(b"<pdfaid:part>2</pdfaid:part>") && has(b"/StructTreeRoot"), "PDF/A-2 and tagged");
    let text = Command::new("pdftotext").arg("-layout").arg(file).arg("-").output().unwrap().stdout;
    (json, plain(&String::from_utf8_lossy(&text)))
}

/// Without spaces: a cell may break its words over lines.
fn plain(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

fn says(text: &str, wanted: &str) {
    assert!(text.contains(&plain(wanted)), "{wanted:?} is not in {text}");
}

const ROPES: &str = "examples/sloop/ropes.csv";

#[test]
fn a_quote_on_paper_says_what_its_json_says() {
    let folder = tempfile::tempdir().unwrap();
    let arguments = ["price", "examples/sloop/order.toml", "--labour", "48 EUR", "--tax", "19 %", "--waste", "4 %"];
    let (json, text) = paper(&arguments, &folder.path().join("quote.pdf"));
    for key in ["waste", "cost", "margin", "net", "tax", "total", "order", "boat"] {
        says(&text, json[key].as_str().unwrap());
    }
    for line in json["lines"].as_array().unwrap() {
        says(&text, line["amount"].as_str().unwrap());
    }
    says(&text, json["rounding"].as_str().unwrap());
    // A tax that cannot be leaves the lines, and no total.
    let (json, text) = paper(
        &["price", "examples/sloop/order.toml", "--labour", "48 EUR", "--tax", "101 %"],
        &folder.path().join("q.pdf"),
    );
    assert_eq!(json["total"], Json::Null);
    says(&text, "tax of 101 %");
    says(&text, json["net"].as_str().unwrap());
}

#[test]
fn tests_and_curves_are_drawn_with_their_limits() {
    let folder = tempfile::tempdir().unwrap();
    let tests = ["proof", "tests", "examples/loft/tests.csv", "--ropes", ROPES];
    let (json, text) = paper(&tests, &folder.path().join("tests.pdf"));
    for splice in json["splices"].as_array().unwrap() {
        says(&text, splice["rule"].as_str().unwrap());
        for test in splice["tests"].as_array().unwrap() {
            says(&text, test["number"].as_str().unwrap());
        }
    }
    for caution in json["cautions"].as_array().unwrap() {
        says(&text, caution.as_str().unwrap());
    }
    let curve = ["proof", "curve", "examples/loft/pull.csv", "--on", "2026-06-02"];
    let (json, text) = paper(&curve, &folder.path().join("curve.pdf"));
    assert_eq!(json["readings"], 298);
    says(&text, "22.1 kN");
    says(&text, "load, kN");
    says(&text, "Refused, and the rest used");
    let svg = folder.path().join("curve.svg");
    let output = becket(&["proof", "curve", "examples/loft/pull.csv", "--out", svg.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    assert!(std::fs::read_to_string(&svg).unwrap().contains("time from the first reading, s"));
    let undated = folder.path().join("undated.pdf");
    let output = becket(&["proof", "curve", "examples/loft/pull.csv", "--out", undated.to_str().unwrap()]);
    assert_eq!((output.status.code(), undated.exists()), (Some(2), false), "a paper bears a day: {output:?}");
}

#[test]
fn hostile_names_stay_names_on_paper() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("tests.csv");
    let long = "x".repeat(10_000);
    let names = ["#import \"/etc/passwd\" $x$ *b* <t>@ref", "🪢⚓ קשר", "\u{202e}evil\u{7}\u{1b}[31m", long.as_str()];
    let rows = names
        .iter()
        .enumerate()
        .map(|(index, name)| format!("T{index},\"{}\",long-bury-eye,44 kN,splice,50 kN\n", name.replace('"', "\"\"")));
    std::fs::write(&file, format!("test,rope,end,load,broke,strength\n{}", rows.collect::<String>())).unwrap();
    let out = folder.path().join("tests.pdf");
    let output = becket(&[
        "proof",
        "tests",
        file.to_str().unwrap(),
        "--on",
        "2026-06-02",
        "--json",
        "--out",
        out.to_str().unwrap(),
    ]);
    assert!(matches!(output.status.code(), Some(0 | 3)), "{output:?}");
    assert!(output.status.code() == Some(3) || out.is_file());
    if out.is_file() {
        let text = Command::new("pdftotext").arg(&out).arg("-").output().unwrap().stdout;
        let text = plain(&String::from_utf8_lossy(&text));
        assert!(text.contains("#import") && !text.contains("root:x:0"), "{}", text.len());
        assert!(!text.contains('\u{1b}'));
    }
}

#[cfg(feature = "pages")]
mod kept {
    use super::{Json, becket, paper, says};
    use desk::records::rows::{Move, Piece, PieceState};
    use desk::records::{Records, Stamp, wait};

    /// A store with a halyard, a shroud and a strop with a hostile name.
    fn store(place: &str) {
        let stamp = Stamp::new("Ada", "2026-02-01T08:00:00Z").unwrap();
        let piece = |code: &str, line: &str, purpose: &str| Piece {
            code: code.to_owned(),
            order_id: None,
            boat: "Sandpiper".to_owned(),
            line: line.to_owned(),
            rope: "10 mm 12-strand HMPE".to_owned(),
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
        wait(async {
            let records = Records::open(place).await.unwrap();
            let hostile = "*#strop* \u{202e}dne\u{0} 🪢".replace('\u{0}', "");
            for (code, line, purpose) in
                [("P1", "main halyard", "halyard"), ("P2", "cap shroud", "standing-rigging"), ("P3", &hostile, "strop")]
            {
                records.store().add_piece(&piece(code, line, purpose), &stamp).await.unwrap();
                let step = Move { to: PieceState::InService, on: "2026-02-01", next_due: Some("2026-11-01") };
                records.store().move_piece(code, step, &stamp).await.unwrap();
            }
            records.close().await;
        })
        .unwrap();
    }

    #[test]
    fn due_list_and_certificate_on_paper_say_what_their_json_says() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("loft.becket");
        let place = place.to_str().unwrap();
        store(place);
        let due = ["due", "--store", place, "--today", "2026-11-25", "--by", "2026-12-31"];
        let (json, text) = paper(&due, &folder.path().join("due.pdf"));
        assert_eq!(json["pieces"].as_array().unwrap().len(), 3);
        for piece in json["pieces"].as_array().unwrap() {
            says(&text, piece["code"].as_str().unwrap());
            says(&text, piece["due"].as_str().unwrap());
        }
        says(&text, "*#strop*");
        let tests = folder.path().join("tests.csv");
        let rows = "test,piece,date,rope,end,load,broke,strength,used_months\nT1,P1,2026-03-02,10 mm 12-strand HMPE,long-bury-eye,30 kN,held,80 kN,1\n\
                    T2,P2,2026-03-02,10 mm 12-strand HMPE,long-bury-eye,30 kN,held,80 kN,1\n";
        std::fs::write(&tests, rows).unwrap();
        let enter = |more: &[&str]| {
            let mut all = vec!["proof", "enter", tests.to_str().unwrap(), "--store", place, "--who", "Ada", "--json"];
            all.extend(more);
            becket(&all)
        };
        let entered = enter(&["--machine", "bench 1, cell of 2026-01-05", "--method", "20 mm pins"]);
        let answer: Json = serde_json::from_slice(&entered.stdout).unwrap();
        assert_eq!((entered.status.code(), answer["entered"].as_array().unwrap().len()), (Some(0), 2), "{answer}");
        assert_eq!(enter(&[]).status.code(), Some(1), "a number is given once");
        let certificate = folder.path().join("certificate.pdf");
        let (json, text) = paper(&["proof", "certificate", "P1", "--store", place], &certificate);
        for key in ["code", "boat", "line", "rope", "method", "load_cell", "tested_by", "given_on"] {
            says(&text, json[key].as_str().unwrap());
        }
        for statement in json["statements"].as_array().unwrap() {
            says(&text, statement.as_str().unwrap());
        }
        // Standing rigging has none, no file is written, and it says who gives one.
        let none = folder.path().join("none.pdf");
        let output = becket(&["proof", "certificate", "P2", "--store", place, "--out", none.to_str().unwrap()]);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!((output.status.code(), none.exists()), (Some(5), false), "{said}");
        assert!(said.contains("rigger") || said.contains("surveyor") || said.contains("body"), "{said}");
        let piece = becket(&["piece", "P1", "--store", place, "--json"]);
        let answer: Json = serde_json::from_slice(&piece.stdout).unwrap();
        assert_eq!((answer["code"].as_str(), answer["tests"].as_array().unwrap().len()), (Some("P1"), 1));
    }
}

#[test]
fn every_answer_has_its_schema() {
    for word in [
        "own",
        "proof-tests",
        "proof-plan",
        "proof-curve",
        "learned",
        "certificate",
        "price",
        "due",
        "piece",
        "entered",
    ] {
        let output = becket(&["schema", word]);
        let schema: Json = serde_json::from_slice(&output.stdout).unwrap_or_else(|why| panic!("{word}: {why}"));
        assert!(schema["$schema"].is_string() && output.status.success(), "{word}");
    }
}
