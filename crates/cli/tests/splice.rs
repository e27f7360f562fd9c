//! `becket splice` as riggers run it: every kind, what is refused and why,
//! drawings, what-ifs, and the words at 80 columns.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use serde_json::Value;
use std::process::{Command, Output};

fn becket(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_becket")).arg("splice").args(arguments).output().unwrap()
}

fn json(arguments: &[&str]) -> Value {
    let output = becket(&[arguments, &["--json"]].concat());
    serde_json::from_slice(&output.stdout).unwrap_or_else(|why| unreachable!("{arguments:?}: {why} {output:?}"))
}

const HMPE: &str = "10 mm 12-strand HMPE";
const EYE: [&str; 4] = ["--rope", HMPE, "--end", "long-bury-eye"];

fn eye<'a>(more: &[&'a str]) -> Vec<&'a str> {
    [&EYE[..], more].concat()
}

/// Each kind with what it needs.
const KINDS: [&[&str]; 26] = [
    &["--rope", HMPE, "--end", "long-bury-eye", "--eye-on", "12 mm pin"],
    &["--rope", HMPE, "--end", "locked-eye"],
    &["--rope", HMPE, "--end", "end-to-end"],
    &["--rope", HMPE, "--end", "endless-loop", "--eye", "900 mm"],
    &["--rope", HMPE, "--end", "adjustable-loop", "--eye", "300 mm"],
    &["--rope", HMPE, "--end", "soft-shackle", "--eye", "200 mm"],
    &["--rope", HMPE, "--end", "strop", "--length", "3 m"],
    &["--rope", HMPE, "--end", "luggage-tag-loop", "--eye-on", "20 mm ring"],
    &["--rope", "10 mm double braid HMPE", "--core-diameter", "7.5 mm", "--end", "covered-eye"],
    &["--rope", "10 mm double braid HMPE", "--core-diameter", "7.5 mm", "--end", "bare-core-eye"],
    &[
        "--rope",
        "10 mm double braid HMPE",
        "--core-diameter",
        "7.5 mm",
        "--end",
        "core-to-cover-join",
        "--stripped-run",
        "3 m",
    ],
    &["--rope", "12 mm double braid polyester", "--end", "core-and-cover-eye"],
    &["--rope", "12 mm double braid polyester", "--end", "core-and-cover-end-to-end"],
    &["--rope", "12 mm double braid polyester", "--end", "core-and-cover-loop", "--eye", "1 m"],
    &["--rope", "12 mm 3-strand polyester", "--end", "tucked-eye", "--eye-on", "16 mm thimble"],
    &["--rope", "12 mm 3-strand polyester", "--end", "short-splice"],
    &["--rope", "12 mm 3-strand polyester", "--end", "back-splice"],
    &["--rope", "14 mm 8-plait polyamide", "--end", "eight-plait-tucked-eye"],
    &["--rope", "14 mm 8-plait polyamide", "--end", "to-chain", "--eye-on", "14 mm ring"],
    &["--rope", HMPE, "--end", "unlike-ropes", "--other-rope", "10 mm double braid polyester"],
    &["--rope", HMPE, "--end", "reeving-loop"],
    &["--rope", "12 mm 3-strand polyester", "--end", "common-whipping"],
    &["--rope", "12 mm 3-strand polyester", "--end", "sailmakers-whipping"],
    &["--rope", HMPE, "--end", "stitched-whipping"],
    &["--rope", HMPE, "--end", "whipped-end"],
    &["--rope", HMPE, "--end", "sealed-end"],
];

#[test]
fn every_kind_is_drawn_and_told_in_eighty_columns() {
    for asked in KINDS {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("drawings");
        let output = becket(&[asked, &["--out", out.to_str().unwrap(), "--working"]].concat());
        assert!(output.status.success(), "{asked:?} {output:?}");
        let text = String::from_utf8(output.stdout).unwrap();
        let widest = text.lines().max_by_key(|line| line.chars().count()).unwrap();
        assert!(widest.chars().count() <= 80, "{asked:?}: {widest}");
        assert!(!text.contains("{}") && !text.contains("NaN"), "{text}");
        let read = |name: &str| {
            let end = asked[asked.iter().position(|word| *word == "--end").unwrap() + 1];
            std::fs::read_to_string(out.join(format!("{end}-{name}")))
                .or_else(|_| std::fs::read_to_string(out.join(format!("{end}.{name}"))))
        };
        let answer: Value = serde_json::from_str(&read("json").unwrap()).unwrap();
        let laid_out = read("laid-out.svg").unwrap();
        for mark in answer["marks"].as_array().unwrap().iter().filter(|mark| mark["part"] != "other rope") {
            assert!(laid_out.contains(&format!(">{}<", mark["number"])), "{asked:?}: no mark {}", mark["number"]);
        }
        assert!(read("made-up.svg").unwrap().starts_with("<svg"));
        assert_eq!(read("taper.svg").is_ok(), !answer["taper"].as_array().unwrap().is_empty(), "{asked:?}");
        assert_eq!(read("load-passing.svg").is_ok(), !answer["passing"].as_array().unwrap().is_empty(), "{asked:?}");
    }
}

#[test]
fn json_says_whether_it_holds() {
    let answer = json(&eye(&["--load", "6 kN", "--peak", "15 kN"]));
    for field in ["grip_margin", "critical_bury", "strength_share"] {
        for end in ["low", "usual", "high"] {
            assert!(!answer[field][end].is_null(), "{field} {end}");
        }
    }
    assert!(answer["tail_creep"]["value"].as_f64().unwrap() > 0.0);
    assert!(answer["weak_points"].as_array().unwrap().len() >= 3);
    let loads = answer["grip_at_loads"].as_array().unwrap();
    let names: Vec<_> = loads.iter().map(|at| at["what"].as_str().unwrap()).collect();
    assert_eq!(names, ["working load", "peak load", "nearly slack"]);
    assert_eq!(loads[0]["tail_load"]["value"], 3000.0);
    let margin = |at: &Value| at["grip_margin"]["low"].as_f64().unwrap();
    assert!(margin(&loads[2]) < margin(&loads[0]), "{loads:?}");
    assert!(answer["strength_basis"].as_str().unwrap().contains("indicative"));
    assert_eq!(answer["instead"][0]["end"], "locked-eye");
}

#[test]
fn what_is_asked_of_friction_bury_and_measures_moves_the_answer() {
    let low = |more: &[&str]| json(&eye(more))["grip_margin"]["low"].as_f64().unwrap();
    assert!(low(&["--friction", "0.04..0.08"]) < low(&["--friction", "0.06..0.08"]));
    assert!(low(&["--bury", "100d"]) > low(&[]));
    assert!(low(&["--wanted-margin", "1.5"]) >= 1.49);
    let range = |more: &[&str]| {
        let margin = &json(&eye(more))["grip_margin"];
        margin["high"].as_f64().unwrap() / margin["low"].as_f64().unwrap()
    };
    assert!(range(&["--picks-per-metre", "65", "--over-bury", "14.2 mm"]) < range(&[]));
    // Half as many picks in a metre is twice the pitch.
    assert_eq!(json(&eye(&["--picks-per-metre", "60"]))["taper"], json(&eye(&["--pitch", "100 mm"]))["taper"]);
    let falls = becket(&eye(&["--friction-exponent", "0.75"]));
    assert_eq!(falls.status.code(), Some(1), "at its listed strength it may let go");
    let square = json(&eye(&["--taper", "none"]));
    assert!(square["strength_share"]["low"].as_f64().unwrap() <= 0.81, "square ends of HMPE lost 13 to 20 %");
    let output = becket(&eye(&["--bury", "45d", "--taper", "none", "--friction", "0.04..0.08", "--compare"]));
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    assert!(text.contains("as asked") && text.contains("common practice") && text.contains("stop"), "{text}");
}

#[test]
fn a_simulation_is_the_same_for_the_same_seed() {
    let chance = |seed: &str| json(&eye(&["--chance", "20000", "--seed", seed]))["chance"].clone();
    let (one, again, other) = (chance("7"), chance("7"), chance("8"));
    assert_eq!(one, again);
    assert_ne!(one, other);
    assert_eq!(one["draws"], 20_000);
    let margins: Vec<f64> =
        one["percentiles"].as_array().unwrap().iter().map(|at| at["grip_margin"].as_f64().unwrap()).collect();
    assert!(margins.len() == 7 && margins.windows(2).all(|pair| pair[0] <= pair[1]), "{margins:?}");
    let tucked = becket(&["--rope", "12 mm 3-strand polyester", "--end", "tucked-eye", "--chance"]);
    assert_eq!(tucked.status.code(), Some(5));
}

#[test]
fn slack_with_nothing_to_hold_it_is_a_stop() {
    assert_eq!(becket(&eye(&["--lock", "none"])).status.code(), Some(1));
    assert_eq!(becket(&eye(&["--lock", "none", "--never-slack"])).status.code(), Some(0));
    for lock in ["stitch", "whip", "stitch-and-whip"] {
        assert_eq!(becket(&eye(&["--lock", lock])).status.code(), Some(0), "{lock}");
    }
    let hanging = json(&eye(&["--hardware", "500 g"]));
    assert!(hanging["stitching"][0]["must_hold"]["value"].as_f64().unwrap() > 40.0, "{}", hanging["stitching"][0]);
}

#[test]
fn slings_have_their_tails_and_fids_their_reading() {
    let tucked = ["--rope", "12 mm 3-strand polyester", "--end", "tucked-eye"];
    let working = |more: &[&str]| json(&[&tucked[..], more].concat())["working"].to_string();
    assert!(working(&["--sling"]).contains("1926.251"));
    assert!(!working(&[]).contains("tails stand proud"));
    let finish = json(&[&tucked[..], &["--finish", "proud", "--tucks", "5"]].concat());
    assert!(finish["findings"].to_string().contains("tuck-finish"), "{finish}");
    let few = becket(&[&tucked[..], &["--sling", "--tucks", "3"]].concat());
    assert_eq!(few.status.code(), Some(1), "a sling of synthetic rope has four");
    let by_fids = ["--rope", "12 mm double braid polyester", "--end", "core-and-cover-eye"];
    let reading = |more: &[&str]| json(&[&by_fids[..], more].concat());
    assert!(reading(&[])["findings"].to_string().contains("21 diameters here, 252 mm"));
    assert_eq!(reading(&["--fid", "22"])["bury"]["value"], 264.0);
}

/// Exit code 5, the words that say why, and a hint that says what to do.
fn refused(arguments: &[&str], why: &str, hint: &str) {
    let output = becket(arguments);
    assert_eq!(output.status.code(), Some(5), "{arguments:?} {output:?}");
    assert!(output.stdout.is_empty());
    let said = String::from_utf8(output.stderr).unwrap();
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains(why), "{arguments:?}: {said}");
    assert!(said.contains(hint), "{arguments:?}: {said}");
}

#[test]
fn what_cannot_be_made_is_refused_with_why_and_what_to_do() {
    refused(&eye(&["--rope-length", "1 m"]), "1,000 mm of rope", "cut the piece longer than");
    refused(
        &eye(&["--eye", "15 mm", "--eye-on", "12 mm pin"]),
        "at most 60 degrees is allowed",
        "make the eye at least",
    );
    refused(&eye(&["--strand-width", "7.5 mm"]), "jammed", "cannot be buried in itself");
    let folder = tempfile::tempdir().unwrap();
    let list = folder.path().join("ropes.csv");
    let header = "name,construction,diameter,core_diameter,fibre,cover_fibre,strength,strength_basis,linear_density";
    let row = "stiff ten,parallel-core,10 mm,7 mm,hmpe,polyester,40 kN,unspliced,70 g/m";
    std::fs::write(&list, format!("{header}\n{row}\n")).unwrap();
    refused(
        &["--rope", "stiff ten", "--ropes", list.to_str().unwrap(), "--end", "covered-eye"],
        "which is parallel core",
        "takes no splice",
    );
    refused(&["--rope", "6 mm 7x19 wire", "--end", "long-bury-eye"], "is wire", "swage");
    refused(&["--rope", "5 mm 1x19", "--end", "tucked-eye"], "is wire", "describe a rope");
    refused(&["--rope", "12 mm 3-strand polyester", "--end", "long-bury-eye"], "cannot be made", "tucked-eye");
    refused(
        &["--rope", "10 mm double braid HMPE", "--end", "covered-eye"],
        "core's diameter is not known",
        "strip a metre",
    );
    refused(&["--rope", HMPE, "--end", "strop", "--length", "1 m"], "too short", "or longer");
    refused(&["--rope", HMPE, "--end", "unlike-ropes"], "needs the other rope", "give the other rope");
    refused(&eye(&["--wanted-margin", "19"]), "no bury up to 400 diameters", "measure pitch");
    for wrong in
        [&["--bury", "20"][..], &["--friction", "0.08..0.04"], &["--picks-per-metre", "many"], &["--chance", "0"]]
    {
        assert_eq!(becket(&eye(wrong)).status.code(), Some(2), "{wrong:?}");
    }
    assert_eq!(becket(&eye(&["--pitch", "90 mm", "--picks-per-metre", "60"])).status.code(), Some(2));
    assert_eq!(becket(&eye(&["--svg", "sideways"])).status.code(), Some(2));
}

#[test]
fn one_drawing_goes_to_standard_output() {
    for name in ["laid-out", "made-up", "taper", "load-passing"] {
        let output = becket(&eye(&["--svg", name]));
        assert!(output.status.success() && output.stdout.starts_with(b"<svg"), "{name}");
    }
}
