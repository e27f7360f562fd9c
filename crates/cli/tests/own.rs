//! The loft's own figures in lines, splices, cards and checks.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

use serde_json::Value as Json;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn becket(arguments: &[&str]) -> Output {
    let here = std::env::var_os("CARGO_MANIFEST_DIR").unwrap();
    let project = Path::new(&here).join("../..").canonicalize().unwrap();
    Command::new(env!("CARGO_BIN_EXE_becket")).args(arguments).current_dir(project).output().unwrap()
}

fn json(arguments: &[&str]) -> Json {
    let output = becket(arguments);
    serde_json::from_slice(&output.stdout).unwrap_or_else(|why| panic!("{why}: {output:?}"))
}

const ROPES: &str = "examples/sloop/ropes.csv";
const ORDER: &str = "examples/sloop/order.toml";

/// A log with so many breaks of the sloop's usual eye, about 80 %.
fn log(folder: &Path, breaks: usize) -> PathBuf {
    let file = folder.join(format!("tests-{breaks}.csv"));
    let loads = [80.1, 79.2, 81.4, 78.9, 80.7, 79.8, 80.4, 81.0];
    let rows = loads
        .iter()
        .take(breaks)
        .enumerate()
        .map(|(index, share)| format!("T{index},Loft DB-10,covered-eye,{} N,splice,20 kN\n", share * 200.0));
    std::fs::write(&file, format!("test,rope,end,load,broke,strength\n{}", rows.collect::<String>())).unwrap();
    file
}

fn findings<'a>(of: &'a Json, code: &str) -> Vec<&'a str> {
    let all = of["findings"].as_array().unwrap().iter().filter(|finding| finding["code"] == code);
    all.map(|finding| finding["text"].as_str().unwrap()).collect()
}

#[test]
fn five_breaks_replace_the_default_in_every_command() {
    let folder = tempfile::tempdir().unwrap();
    let tests = log(folder.path(), 8);
    let tests = tests.to_str().unwrap();
    let proof = json(&["proof", "tests", tests, "--ropes", ROPES, "--json"]);
    let (low, rule) = (proof["splices"][0]["own"]["low"].as_f64().unwrap(), proof["splices"][0]["rule"].clone());
    let line = |more: &[&str]| {
        let mut arguments = vec!["line", ORDER, "spinnaker halyard", "--json"];
        arguments.extend(more);
        json(&arguments)["lines"][0].clone()
    };
    let (plain, own) = (line(&[]), line(&["--tests", tests]));
    let end = &own["ends"][0];
    assert!((end["strength_share"].as_f64().unwrap() - low).abs() < 1e-3, "{end}");
    assert_eq!(end["strength_basis"], rule);
    assert_eq!(plain["ends"][0]["strength_basis"], Json::Null);
    assert_eq!(findings(&own, "own-strength"), [rule.as_str().unwrap()]);
    assert!(rule.as_str().unwrap().contains("8 breaks"), "{rule}");
    let weakest = &own["weak_points"][0];
    assert_eq!(weakest["place"], "working end: splice, as tested");
    assert_eq!(weakest["reason"], rule);
    // The other numbers of the line stay as they were.
    assert_eq!((&own["cut_length"], &own["load"]), (&plain["cut_length"], &plain["load"]));
    let splice =
        json(&["splice", "--rope", "Loft DB-10", "--end", "covered-eye", "--ropes", ROPES, "--tests", tests, "--json"]);
    assert_eq!(splice["strength_basis"], rule);
    assert!((splice["strength_share"]["low"].as_f64().unwrap() - low).abs() < 0.006);
    // A check tells what the order's lines take, and from the table that it is whole.
    let check = json(&["check", ORDER, "--tests", tests, "--json"]);
    let again = check["look_again"].as_array().unwrap();
    assert!(
        again.iter().any(|row| row.as_str().unwrap().starts_with("spinnaker halyard: the loft's own tests")),
        "{check}"
    );
    assert_eq!(json(&["check", tests, "--json"])["kind"], "tests");
}

#[test]
fn under_five_breaks_nothing_moves_and_that_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let few = log(folder.path(), 4);
    let arguments = ["line", ORDER, "spinnaker halyard", "--json", "--tests", few.to_str().unwrap()];
    let (own, plain) = (json(&arguments)["lines"][0].clone(), json(&arguments[..4])["lines"][0].clone());
    assert_eq!((&own["weak_points"], &own["ends"]), (&plain["weak_points"], &plain["ends"]));
    let waits = findings(&own, "own-strength-waits");
    assert!(waits.len() == 1 && waits[0].starts_with("4 breaks at the splice: under 5"), "{waits:?}");
}

#[test]
fn measured_figures_move_cut_and_time_by_their_rule() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("measures.csv");
    let rows = "what,end,rope,value\nbedding-in,covered-eye,Loft DB-10,0.008\nbedding-in,covered-eye,Loft DB-10,0.008\n\
                bedding-in,covered-eye,Loft DB-10,0.008\nminutes,covered-eye,,40\nminutes,covered-eye,,40\n";
    std::fs::write(&file, rows).unwrap();
    let measures = file.to_str().unwrap();
    let line = |more: &[&str]| {
        let mut arguments = vec!["line", ORDER, "spinnaker halyard", "--json"];
        arguments.extend(more);
        json(&arguments)["lines"][0].clone()
    };
    let (plain, own) = (line(&[]), line(&["--measures", measures]));
    let millimetres = |of: &Json, key: &str| of[key]["value"].as_f64().unwrap();
    // Three of the loft's own against a default that counts as three: half of
    // 0.8 % of the finished length comes off.
    let off = millimetres(&plain, "cut_length") - millimetres(&own, "cut_length");
    let wanted = millimetres(&plain, "finished_length") * 0.004;
    assert!((off - wanted).abs() <= 1.0, "{off} {wanted}");
    assert_eq!(findings(&own, "own-bedding-in").len(), 1);
    let minutes = findings(&own, "own-minutes");
    assert!(minutes.len() == 1 && minutes[0].contains("50 % of the say"), "{minutes:?}");
}

#[test]
fn cards_say_on_what_their_strength_rests() {
    let folder = tempfile::tempdir().unwrap();
    let tests = log(folder.path(), 8);
    let out = folder.path().join("cards");
    let (tests, folder) = (tests.to_str().unwrap(), out.to_str().unwrap());
    let arguments =
        ["sheets", ORDER, "--out", folder, "--tests", tests, "--what", "calculation", "--line", "spinnaker halyard"];
    let output = becket(&arguments);
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("own figures: ") && said.contains("8 tests"), "{output:?}");
    let file = out.join("calculation.pdf");
    let text = Command::new("pdftotext").arg("-layout").arg(&file).arg("-").output().unwrap().stdout;
    let text = String::from_utf8_lossy(&text).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("the loft's own tests replace the default: 8 breaks"), "{text}");
    assert!(text.contains("default, low end 96.3 %"), "{text}");
}

#[test]
fn refused_rows_are_told_and_the_rest_is_used() {
    let folder = tempfile::tempdir().unwrap();
    let tests = log(folder.path(), 6);
    let rows = std::fs::read_to_string(&tests).unwrap()
        + "T0,Loft DB-10,covered-eye,16 kN,splice,20 kN\nT9,Loft DB-10,covered-eye,-3 kN,splice,20 kN\n";
    std::fs::write(&tests, rows).unwrap();
    let answer = json(&["lines", ORDER, "--tests", tests.to_str().unwrap(), "--json"]);
    assert_eq!((answer["own"]["tests"].as_u64(), answer["own"]["refused"].as_array().unwrap().len()), (Some(6), 2));
    let output = becket(&["check", tests.to_str().unwrap()]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(3), "{said}");
    assert!(said.contains(":8:") && said.contains(":9:"), "{said}");
}
