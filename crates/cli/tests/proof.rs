//! Proof, price, due list and pieces as people run them.

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

fn json(arguments: &[&str]) -> Json {
    let output = becket(arguments);
    serde_json::from_slice(&output.stdout).unwrap_or_else(|why| panic!("{why}: {output:?}"))
}

fn text(arguments: &[&str]) -> String {
    String::from_utf8(becket(arguments).stdout).unwrap()
}

const ROPES: &str = "examples/sloop/ropes.csv";
const TESTS: &str = "examples/loft/tests.csv";

#[test]
fn the_log_counts_each_test_as_what_it_is() {
    let answer = json(&["proof", "tests", TESTS, "--ropes", ROPES, "--json"]);
    let of = |rope: &str, end: &str| {
        let all = answer["splices"].as_array().unwrap();
        all.iter().find(|splice| splice["rope"] == rope && splice["end"] == end).unwrap().clone()
    };
    let eyes = of("Loft S12-8", "long-bury-eye");
    let counted: Vec<u64> =
        ["breaks", "held", "used", "left_out"].iter().map(|key| eyes[key].as_u64().unwrap()).collect();
    assert_eq!(counted, [6, 2, 1, 1]);
    assert_eq!(eyes["replaced"], true);
    assert!(eyes["rule"].as_str().unwrap().starts_with("the loft's own tests replace the default: 6 breaks"));
    assert_eq!(eyes["strength"], eyes["own"]);
    let few = of("Loft S12-6", "long-bury-eye");
    assert_eq!((few["replaced"].clone(), few["statistics"].clone()), (Json::Bool(false), Json::Null));
    assert_eq!(few["strength"], few["default"]);
    assert!(answer["cautions"].as_array().unwrap().len() >= 5);
}

#[test]
fn rows_that_are_no_tests_are_told_and_the_rest_used() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("tests.csv");
    let rows = "test,rope,end,load,broke,strength\n1,r,long-bury-eye,44 kN,splice,50 kN\n1,r,long-bury-eye,45 kN,splice,50 kN\n\
                2,r,long-bury-eye,-3 kN,splice,50 kN\n3,r,long-bury-eye,440,splice,50 kN\n4,r,long-bury-eye,440 kN,splice,50 kN\n\
                5,r,long-bury-eye,43 kN,held,50 kN\n";
    std::fs::write(&file, rows).unwrap();
    let answer = json(&["proof", "tests", file.to_str().unwrap(), "--json"]);
    let mut lines: Vec<u64> = answer["refused"]
        .as_array()
        .unwrap()
        .iter()
        .map(|refused| refused["place"]["line"].as_u64().unwrap())
        .collect();
    lines.sort_unstable();
    assert_eq!(lines, [3, 4, 5, 6], "{answer}");
    let numbers: Vec<&str> =
        answer["splices"][0]["tests"].as_array().unwrap().iter().map(|test| test["number"].as_str().unwrap()).collect();
    assert_eq!(numbers, ["1", "5"]);
}

#[test]
fn a_load_curve_keeps_what_can_be() {
    let answer = json(&["proof", "curve", "examples/loft/pull.csv", "--json"]);
    let codes: Vec<&str> =
        answer["refused"].as_array().unwrap().iter().map(|refused| refused["code"].as_str().unwrap()).collect();
    assert_eq!(codes, ["below-zero", "time-falls", "not-a-number"]);
    assert_eq!(answer["readings"], 298);
    let peak = answer["peak"]["value"].as_f64().unwrap();
    assert!((22_000.0..22_100.0).contains(&peak), "{peak}");
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("bare.csv");
    std::fs::write(&file, "time,load\n0,1\n").unwrap();
    assert_eq!(becket(&["proof", "curve", file.to_str().unwrap()]).status.code(), Some(3), "no units in the header");
}

#[test]
fn proof_loads_are_graded_and_a_stop_ends_with_one() {
    let run = |load: &str| {
        let output =
            becket(&["proof", "plan", "examples/sloop/order.toml", "--line", "main halyard", "--load", load, "--json"]);
        let answer: Json = serde_json::from_slice(&output.stdout).unwrap();
        let grade = answer[0]["findings"].as_array().unwrap().first().map(|finding| finding["grade"].clone());
        (output.status.code(), grade)
    };
    assert_eq!(run("40 %"), (Some(0), None));
    assert_eq!(run("60 %"), (Some(0), Some(Json::from("caution"))));
    assert_eq!(run("80 %"), (Some(1), Some(Json::from("stop"))));
    assert_eq!(becket(&["proof", "plan", "examples/sloop/order.toml", "--load", "0 kN"]).status.code(), Some(2));
}

#[test]
fn what_is_learnt_says_its_weight_and_what_changes() {
    let answer = json(&[
        "proof",
        "learned",
        "--tests",
        TESTS,
        "--measures",
        "examples/loft/measures.csv",
        "--ropes",
        ROPES,
        "--json",
    ]);
    let of = |what: &str, end: &str| {
        let all = answer["figures"].as_array().unwrap();
        all.iter().find(|figure| figure["what"] == what && figure["end"] == end).unwrap().clone()
    };
    let minutes = of("minutes", "long-bury-eye");
    assert_eq!((minutes["count"].as_u64(), minutes["weight"].as_f64()), (Some(3), Some(0.6)));
    let (default, own, used) =
        (minutes["default"].as_f64().unwrap(), minutes["own"].as_f64().unwrap(), minutes["used"].as_f64().unwrap());
    assert!((used - (0.4 * default + 0.6 * own)).abs() < 1e-5);
    let friction = of("friction", "adjustable-loop");
    assert_eq!((friction["count"].as_u64(), friction["at_least"].as_u64()), (Some(3), Some(1)));
    for figure in answer["figures"].as_array().unwrap() {
        assert!(
            !figure["changes"].as_str().unwrap().is_empty() && !figure["rule"].as_str().unwrap().is_empty(),
            "{figure}"
        );
    }
}

/// Coins of `12.34 EUR`.
fn coins(text: &Json) -> i64 {
    let text = text.as_str().unwrap();
    text.trim_end_matches(" EUR").replace('.', "").parse().unwrap()
}

#[test]
fn a_quote_adds_up_to_what_it_prints() {
    let priced = |more: &[&str]| {
        let mut arguments = vec![
            "price",
            "examples/sloop/order.toml",
            "--labour",
            "48 EUR",
            "--waste",
            "4 %",
            "--margin",
            "20 %",
            "--items",
            "examples/loft/items.csv",
            "--measures",
            "examples/loft/measures.csv",
            "--json",
        ];
        arguments.extend(more);
        json(&arguments)
    };
    for rule in ["half-up", "half-even"] {
        let quote = priced(&["--tax", "19 %", "--twine", "0.40 EUR", "--rounding", rule]);
        assert_eq!(quote["refused"].as_array().unwrap().len(), 0, "{quote}");
        let lines: i64 = quote["lines"].as_array().unwrap().iter().map(|line| coins(&line["amount"])).sum();
        assert_eq!(coins(&quote["cost"]), lines + coins(&quote["waste"]));
        assert_eq!(coins(&quote["net"]), coins(&quote["cost"]) + coins(&quote["margin"]));
        assert_eq!(coins(&quote["total"]), coins(&quote["net"]) + coins(&quote["tax"]));
    }
    let taxed = priced(&["--tax", "101 %"]);
    assert_eq!((taxed["total"].clone(), taxed["refused"][0]["field"].clone()), (Json::Null, Json::from("tax")));
}

#[test]
fn answers_fit_eighty_columns() {
    for arguments in [
        vec!["proof", "tests", TESTS, "--ropes", ROPES, "--working"],
        vec!["proof", "learned", "--tests", TESTS, "--measures", "examples/loft/measures.csv", "--ropes", ROPES],
        vec!["proof", "curve", "examples/loft/pull.csv"],
        vec!["proof", "plan", "examples/sloop/order.toml", "--load", "60 %"],
        vec!["price", "examples/sloop/order.toml", "--labour", "48 EUR", "--items", "examples/loft/items.csv"],
    ] {
        let text = text(&arguments);
        let widest = text.lines().max_by_key(|line| line.chars().count()).unwrap();
        assert!(widest.chars().count() <= 80, "{arguments:?}: {widest}");
    }
}
