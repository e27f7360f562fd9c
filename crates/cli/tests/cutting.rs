//! Cut plans as people run them: offers, dates, rules, confirming, refusals.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use std::path::PathBuf;
use std::process::{Command, Output};
use tempfile::TempDir;

/// A folder with the files of a loft.
struct Loft(TempDir);

const RACK: &str = "reel,rope,length,batch,count,flaws,price_per_metre\n\
                    A,r10,40 m,b1,1,14 m..14.3 m,5.20 EUR\nB,r10,10 m,b2,2,,5.00 EUR\n";

impl Loft {
    fn with(files: &[(&str, &str)]) -> Loft {
        let loft = Loft(tempfile::tempdir().unwrap());
        for (name, text) in files {
            std::fs::write(loft.path(name), text).unwrap();
        }
        loft
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path(name)).unwrap()
    }

    fn run(&self, arguments: &str) -> Output {
        let words = arguments.split_whitespace();
        Command::new(env!("CARGO_BIN_EXE_becket")).args(words).current_dir(self.0.path()).output().unwrap()
    }

    fn json(&self, arguments: &str) -> serde_json::Value {
        let output = self.run(&format!("cut --pieces pieces.csv --rack rack.csv --json {arguments}"));
        serde_json::from_slice(&output.stdout).unwrap()
    }

    fn refused(&self, arguments: &str) -> (Option<i32>, String) {
        let output = self.run(&format!("cut --pieces pieces.csv --rack rack.csv {arguments}"));
        (output.status.code(), String::from_utf8(output.stderr).unwrap())
    }
}

fn names(list: &serde_json::Value) -> Vec<&str> {
    list.as_array().unwrap().iter().map(|piece| piece["piece"].as_str().unwrap()).collect()
}

#[test]
fn what_the_rack_lacks_is_bought_for_the_least_money() {
    let pieces = "piece,rope,length,count\nhalyard,r10,30 m,1\nstrop,r10,9 m,2\n";
    let offers = "rope,length,price,count\nr10,50 m,200 EUR,2\nr10,31 m,140 EUR,\nr10,33 m,139.50 EUR,\n";
    let loft = Loft::with(&[("pieces.csv", pieces), ("rack.csv", RACK), ("offers.csv", offers)]);
    let (code, said) = loft.refused("");
    assert_eq!(code, Some(5));
    assert!(said.contains("piece \"halyard\" needs 30000 mm, the longest sound stretch of \"r10\""), "{said}");
    let answer = loft.json("--offers offers.csv");
    assert_eq!(answer["money"], "139.50 EUR");
    assert_eq!(answer["buy"][0]["count"], 1);
    assert_eq!(names(&answer["not_from_rack"]), ["halyard"]);
    assert_eq!(answer["uncut"].as_array().unwrap().len(), 0);
    let money =
        answer["goals"].as_array().unwrap().iter().find(|goal| goal["goal"] == "money for rope to buy").unwrap();
    assert_eq!((&money["value"], &money["bound"], &money["proven"]), (&13_950.into(), &13_950.into(), &true.into()));
}

#[test]
fn every_rule_of_the_cut_plan_is_reached_from_the_files() {
    let pieces = "piece,rope,length,count,allowance,pair,batch_set,rush,not_before,not_after\n\
                  sheet,r10,6 m,2,,p,,,,2026-06-02\nlater,r10,1 m,1,,,,,2026-07-01,\n\
                  rush,r10,3 m,1,250 mm,,,true,,\nset,r10,4 m,2,,,s,,,2026-06-01\n";
    let loft = Loft::with(&[("pieces.csv", pieces), ("rack.csv", RACK)]);
    assert_eq!(loft.refused("").0, Some(2), "days are given and today is not");
    let answer = loft.json("--day 2026-06-02 --loss 10mm --loss-per-end 40mm --most-remnants 9 --remnant-value 1m");
    assert_eq!(names(&answer["later"]), ["later"]);
    assert!(answer["notes"][0].as_str().unwrap().contains("set/1 was due on 2026-06-01"), "{}", answer["notes"]);
    let cuts = answer["cuts"].as_array().unwrap();
    let first = &cuts[0]["pieces"][0];
    assert_eq!(first["piece"], "rush");
    let long = first["to"]["value"].as_f64().unwrap() - first["from"]["value"].as_f64().unwrap();
    assert!((long - 3_250.0).abs() < 1e-9, "length and allowance: {long}");
    let of = |piece: &str| cuts.iter().find(|reel| names(&reel["pieces"]).contains(&piece)).unwrap();
    assert_eq!(of("sheet/1")["reel"], of("sheet/2")["reel"], "a pair on one reel");
    assert_eq!(of("set/1")["batch"], of("set/2")["batch"], "a set from one batch");
    let aims: Vec<_> = answer["goals"].as_array().unwrap().iter().map(|goal| goal["goal"].as_str().unwrap()).collect();
    assert!(
        aims.contains(&"remnants beyond the largest number") && aims.contains(&"price of the rope taken"),
        "{aims:?}"
    );
    for reel in cuts {
        for piece in reel["pieces"].as_array().unwrap() {
            let (from, to) = (piece["from"]["value"].as_f64().unwrap(), piece["to"]["value"].as_f64().unwrap());
            assert!(reel["reel"] != "A" || to <= 14_000.0 || from >= 14_300.0, "{piece} lies in the flaw");
            assert!(from >= 40.0, "{piece} begins in the reel's end");
        }
    }
}

#[test]
fn a_plan_is_confirmed_once_and_taken_back_to_the_byte() {
    let loft = Loft::with(&[("pieces.csv", "piece,rope,length,count\nstrop,r10,9 m,3\n"), ("rack.csv", RACK)]);
    assert_eq!(loft.refused("--out out").0, Some(0));
    let confirm = "confirm out/cut-plan.json --rack rack.csv";
    assert_eq!(loft.run(confirm).status.code(), Some(0));
    let after = loft.read("rack.csv");
    assert_ne!(after, RACK);
    let again = loft.run(confirm);
    assert_eq!(again.status.code(), Some(5));
    assert!(String::from_utf8(again.stderr).unwrap().contains("not the one that this plan was made for"));
    assert_eq!(loft.read("rack.csv"), after, "a refused plan changes nothing");
    assert_eq!(loft.run("confirm --take-back --rack rack.csv").status.code(), Some(0));
    assert_eq!(loft.read("rack.csv"), RACK);
    assert_eq!(loft.run("confirm --take-back --rack rack.csv").status.code(), Some(5), "only once");
    // Another reel that came meanwhile stays when the plan is taken back.
    assert_eq!(loft.run(confirm).status.code(), Some(0));
    let text = loft.read("rack.csv");
    let columns = text.lines().next().unwrap().split(',').count();
    let more = format!("{text}Z,r12,7 m{}\n", ",".repeat(columns - 3));
    std::fs::write(loft.path("rack.csv"), &more).unwrap();
    assert_eq!(loft.run("confirm --take-back --rack rack.csv").status.code(), Some(0));
    let back = loft.read("rack.csv");
    assert!(back.contains("Z,r12,7 m") && back.contains("B,r10,10 m") && back.contains("A,r10,40 m"), "{back}");
    let plan = loft.read("out/cut-plan.json").replace("\"gone\"", "\"went\"");
    std::fs::write(loft.path("torn.json"), plan).unwrap();
    assert_eq!(loft.run("confirm torn.json --rack rack.csv").status.code(), Some(3));
}

#[test]
fn a_plan_may_be_confirmed_as_it_is_made() {
    let loft = Loft::with(&[("pieces.csv", "piece,rope,length\nstrop,r10,9 m\n"), ("rack.csv", RACK)]);
    let output = loft.run("cut --pieces pieces.csv --rack rack.csv --csv --confirm");
    assert_eq!(output.status.code(), Some(0));
    let text = String::from_utf8(output.stdout).unwrap();
    let rows: Vec<&str> = text.lines().collect();
    assert_eq!(rows[0], "order,reel,copy,rope,batch,what,piece,for,from,to,length,unit");
    assert!(rows[1].ends_with(",piece,strop,strop,0,9000,9000,mm"), "{text}");
    assert_ne!(loft.read("rack.csv"), RACK);
    assert!(loft.path("rack.csv.journal").is_file());
}

#[test]
fn hopeless_jobs_are_refused_by_name() {
    let job = |pieces: &str, rack: &str| Loft::with(&[("pieces.csv", pieces), ("rack.csv", rack)]).refused("");
    let rack = "reel,rope,length,count\nA,r,10 m,1\n";
    let pieces = "piece,rope,length,count\np,r,1 m,1\n";
    for (pieces, rack, code, words) in [
        ("piece,rope,length,count\nlong,r,11 m,1\n", rack, 5, "\"long\""),
        ("piece,rope,length,count\nnone,r,0 m,1\n", rack, 3, "length"),
        ("piece,rope,length,count\nless,r,-1 m,1\n", rack, 3, "length"),
        ("piece,rope,length,count\nmany,r,1 m,10000000\n", rack, 3, "10000000"),
        ("piece,rope,length,count\nmany,r,1 m,100000\nmore,r,1 m,100000\n", rack, 5, "200000 pieces"),
        ("piece,rope,length,count\nhuge,r,2147484 m,1\n", rack, 3, "2147484 m"),
        (pieces, "reel,rope,length,count\nA,r,10 m,0\n", 3, "count"),
        (pieces, "reel,rope,length,count\nA,r,10 m,1\na,r,9 m,1\n", 3, "two reels are called"),
        (pieces, "reel,rope,length,count\nA,r,-10 m,1\n", 3, "length"),
    ] {
        let (found, said) = job(pieces, rack);
        assert_eq!(found, Some(code), "{pieces}{rack}{said}");
        assert!(said.contains(words), "{said}");
    }
}

#[test]
#[cfg(unix)]
fn an_interrupt_ends_the_search_with_the_best_plan_so_far() {
    let pieces: String = (0..60).map(|at| format!("p{at},r,{} mm,1\n", 4_003 + 577 * at % 9_001)).collect();
    let reels: String = (0..40).map(|at| format!("R{at},r,{} mm,true\n", 11_007 + 331 * at)).collect();
    let loft = Loft::with(&[
        ("pieces.csv", &format!("piece,rope,length,count\n{pieces}")),
        ("rack.csv", &format!("reel,rope,length,remnant\n{reels}")),
    ]);
    let words = "cut --pieces pieces.csv --rack rack.csv --limit 300s --json --loss 7mm --smallest-remnant 3m";
    let child = Command::new(env!("CARGO_BIN_EXE_becket"))
        .args(words.split_whitespace())
        .current_dir(loft.0.path())
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    std::thread::sleep(std::time::Duration::from_secs(4));
    // Already done is no failure: the plan is then the best there is.
    let _ = Command::new("kill").args(["-INT", &child.id().to_string()]).status().unwrap();
    let output = child.wait_with_output().unwrap();
    let answer: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(names(&answer["pieces"]).len(), 60);
    assert!(answer["proven"] == true || answer["interrupted"] == true, "{}", answer["verdict"]);
    assert!(answer["gap"]["value"].as_f64().unwrap() >= 0.0);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(answer["interrupted"] == false || said.contains("ctrl-c stops with the best so far"), "{said}");
}
