//! The program as people run it: answers, JSON, exit codes, refusals.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn project() -> PathBuf {
    let here = std::env::var_os("CARGO_MANIFEST_DIR").unwrap();
    Path::new(&here).join("../..").canonicalize().unwrap()
}

fn becket(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_becket")).args(arguments).current_dir(project()).output().unwrap()
}

fn json(arguments: &[&str]) -> serde_json::Value {
    let output = becket(arguments);
    serde_json::from_slice(&output.stdout).unwrap()
}

fn text(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

#[test]
fn a_long_bury_eye_is_laid_out_to_the_millimetre() {
    let answer = json(&["splice", "--rope", "10 mm 12-strand HMPE", "--end", "long-bury-eye", "--json"]);
    assert_eq!(answer["bury"]["value"], 720.0);
    assert_eq!(answer["bury"]["unit"], "mm");
    assert_eq!(answer["taper"].as_array().unwrap().len(), 6);
    assert_eq!(answer["taper"][5]["strands_left"], 6);
    let low = answer["grip_margin"]["low"].as_f64().unwrap();
    assert!(low >= 1.0 && low < answer["grip_margin"]["usual"].as_f64().unwrap(), "{low}");
    let marks: Vec<f64> = answer["marks"]
        .as_array()
        .unwrap()
        .iter()
        .map(|mark| mark["from_bitter_end"]["value"].as_f64().unwrap())
        .collect();
    assert!(marks.windows(2).all(|pair| pair[0] <= pair[1]), "{marks:?}");
}

#[test]
fn the_example_order_has_its_lines_loads_and_lengths() {
    let answer = json(&["lines", "examples/sloop/order.toml", "--json"]);
    let lines = answer["lines"].as_array().unwrap();
    assert!(lines.len() >= 24);
    for line in lines {
        assert!(line["load"]["peak"]["value"].as_f64() > line["load"]["steady"]["value"].as_f64(), "{line}");
        assert!(line["cut_length"]["value"].as_f64() >= line["finished_length"]["value"].as_f64(), "{line}");
    }
}

#[test]
fn tables_fit_eighty_columns() {
    for order in ["examples/sloop/order.toml", "examples/dinghy/order.toml"] {
        let output = becket(&["lines", order]);
        assert!(output.status.success(), "{order}");
        let widest = text(&output).lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= 80, "{order}: {widest}");
    }
}

#[test]
fn an_order_is_cut_with_a_bound_that_holds() {
    let cut = ["cut", "examples/sloop/order.toml", "--rack", "examples/sloop/rack.csv", "--json"];
    let answer = json(&cut);
    assert_eq!(answer["proven"], true);
    assert_eq!(answer["waste"], answer["bound"]);
    assert_eq!(answer["uncut"].as_array().unwrap().len(), 0);
    assert_eq!(answer, json(&cut), "the same plan again");
}

#[test]
fn a_bare_list_is_cut_as_a_bin_packing() {
    let folder = tempfile::tempdir().unwrap();
    let pieces = folder.path().join("pieces.csv");
    let rack = folder.path().join("rack.csv");
    std::fs::write(&pieces, "piece,rope,length,count\na,r,60 mm,2\nb,r,50 mm,2\nc,r,40 mm,2\n").unwrap();
    std::fs::write(&rack, "reel,rope,length,count\nR,r,150 mm,10\n").unwrap();
    let answer = json(&[
        "cut",
        "--pieces",
        pieces.to_str().unwrap(),
        "--rack",
        rack.to_str().unwrap(),
        "--loss",
        "0mm",
        "--smallest-remnant",
        "2m",
        "--json",
    ]);
    assert_eq!(answer["cuts"].as_array().unwrap().len(), 2, "60 + 50 + 40 twice");
    assert_eq!(answer["waste"]["value"], 0.0);
    assert_eq!(answer["proven"], true);
}

#[test]
fn mistakes_are_shown_with_their_place_and_code_three() {
    let output = becket(&["check", "examples/broken/order.toml"]);
    assert_eq!(output.status.code(), Some(3));
    let shown = String::from_utf8(output.stderr).unwrap();
    assert!(shown.contains("examples/broken/order.toml:"), "{shown}");
    assert_eq!(becket(&["check", "examples/sloop/order.toml"]).status.code(), Some(0));
    assert_eq!(becket(&["check", "examples/sloop/rack.csv"]).status.code(), Some(0));
    assert_eq!(becket(&["check", "examples/sloop/ropes.csv"]).status.code(), Some(0));
}

#[test]
fn refusals_have_their_codes_and_say_what_to_do() {
    let code = |arguments: &[&str]| becket(arguments).status.code();
    assert_eq!(code(&["lines", "no-such-file.toml"]), Some(4));
    assert_eq!(code(&["splice", "--rope", "10 mm 12-strand HMPE", "--end", "granny"]), Some(2));
    assert_eq!(code(&["splice", "--rope", "10 mm 12-strand HMPE", "--end", "tucked-eye"]), Some(5));
    assert_eq!(code(&["splice", "--rope", "10 12-strand HMPE", "--end", "long-bury-eye"]), Some(2));
    let short = ["splice", "--rope", "10 mm 12-strand HMPE", "--end", "long-bury-eye", "--bury", "10d"];
    assert_eq!(code(&short), Some(1), "ten diameters do not hold");
    assert_eq!(code(&["frobnicate"]), Some(2));
    let output = becket(&["lines", "no-such-file.toml", "--json"]);
    let problem: serde_json::Value = serde_json::from_slice(&output.stderr).unwrap();
    assert_eq!(problem["code"], "cannot-read");
}

#[test]
fn a_folder_that_cannot_be_written_is_said_before_the_work() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("a file");
    std::fs::write(&file, "kept").unwrap();
    let out = file.join("cards");
    for command in [
        &["sheets", "examples/sloop/order.toml"][..],
        &["cut", "examples/sloop/order.toml", "--rack", "examples/sloop/rack.csv"],
    ] {
        let output = becket(&[command, &["--out", out.to_str().unwrap()]].concat());
        assert_eq!(output.status.code(), Some(4), "{command:?}");
        assert!(String::from_utf8_lossy(&output.stderr).contains("cannot be written"), "{output:?}");
        assert!(output.stdout.is_empty(), "no answer and a failure at once");
    }
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "kept");
}

#[test]
fn rubbish_is_refused_and_nothing_hangs() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("order.toml");
    for bytes in [vec![b'['; 20_000], vec![0xE9; 1 << 20], b"a = 1e999999999\r\n".to_vec(), vec![0; 4096]] {
        std::fs::write(&file, bytes).unwrap();
        assert_eq!(becket(&["check", file.to_str().unwrap()]).status.code(), Some(3));
    }
}

#[test]
fn schemas_completions_and_man_pages_are_published() {
    let schema = json(&["schema", "order"]);
    assert!(schema["properties"]["boat"].is_object());
    assert!(text(&becket(&["completions", "bash"])).contains("becket"));
    let folder = tempfile::tempdir().unwrap();
    assert!(becket(&["manual", "--out", folder.path().to_str().unwrap()]).status.success());
    assert!(folder.path().join("becket.1").is_file());
}
