//! The program as people run it: answers, JSON, exit codes, refusals.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

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

#[test]
fn a_rope_is_chosen_with_its_reasons_its_price_and_the_rack() {
    for line in ["main halyard", "jib sheet", "spinnaker sheet", "guy", "bow line"] {
        let output = becket(&["rope", "examples/sloop/order.toml", line]);
        assert!(output.status.success(), "{line}");
        let text = text(&output);
        assert!(text.lines().nth(2).unwrap().starts_with("take Loft "), "{line}: the verdict comes first\n{text}");
        let widest = text.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= 80, "{line}: {widest}\n{text}");
    }
    let answer = json(&["rope", "examples/sloop/order.toml", "jib sheet", "--json"]);
    let candidates = answer["candidates"].as_array().unwrap();
    assert!(candidates.len() >= 10);
    assert_eq!(answer["take"], candidates[0]["rope"]);
    assert_eq!(answer["moves"].as_array().unwrap().len(), 4);
    for candidate in candidates {
        assert!(candidate["checks"].as_array().unwrap().len() >= 10);
        let second = &candidate["second_weakest"];
        assert!(second["place"].is_string() || candidate["ends"][0] == "core-and-cover-eye", "{candidate}");
        assert!(candidate["price"].as_str().unwrap().ends_with(" EUR"));
        assert!(!candidate["holding"]["text"].as_str().unwrap().is_empty());
    }
}

#[test]
fn a_rope_list_with_impossible_figures_is_refused_at_the_row() {
    let folder = tempfile::tempdir().unwrap();
    let list = folder.path().join("ropes.csv");
    let good = std::fs::read_to_string(project().join("examples/sloop/ropes.csv")).unwrap();
    let bad = good.replace("86 kN,unspliced,58 g/m", "860 kN,unspliced,58 g/m")
        + &good.lines().nth(1).unwrap().replace("Loft S12-4", "loft  s12-4");
    std::fs::write(&list, bad).unwrap();
    let output = becket(&["check", list.to_str().unwrap(), "--json"]);
    assert_eq!(output.status.code(), Some(3));
    let said: serde_json::Value = serde_json::from_slice(&output.stderr).unwrap();
    let [weight, name] = said["mistakes"].as_array().unwrap().as_slice() else { panic!("{said}") };
    assert!(weight["message"].as_str().unwrap().contains("1.17 N/tex to 1.30 N/tex"), "{weight}");
    assert_eq!((weight["place"]["line"].as_u64(), weight["code"].as_str()), (Some(6), Some("impossible-strength")));
    assert_eq!((name["place"]["line"].as_u64(), name["code"].as_str()), (Some(18), Some("duplicate-name")));
    // Possible, and unusual: the list is read, and the row is said.
    std::fs::write(&list, good.replace("86 kN,unspliced,58 g/m", "110 kN,unspliced,58 g/m")).unwrap();
    let answer = json(&["check", list.to_str().unwrap(), "--json"]);
    let again = answer["look_again"].as_array().unwrap();
    assert!(
        again.len() == 1 && again[0].as_str().unwrap().starts_with("row 6, Loft S12-10: strength for mass is 1.90"),
        "{answer}"
    );
}

#[test]
fn a_cover_is_settled_with_its_numbers_and_its_rules() {
    for (line, advice) in
        [("main halyard", "strip"), ("jib sheet", "keep"), ("spinnaker sheet", "strip"), ("guy", "keep")]
    {
        let answer = json(&["cover", "examples/sloop/order.toml", line, "--json"]);
        assert_eq!(answer["advice"], advice, "{line}");
        assert!(!answer["verdict"].as_str().unwrap().is_empty());
        let number = |value: &serde_json::Value| value["value"].as_f64().unwrap();
        assert!(number(&answer["strip_from"]) < number(&answer["strip_to"]), "{line}");
        for (covered, stripped) in
            [("mass_covered_dry", "mass_stripped_dry"), ("mass_covered_wet", "mass_stripped_wet")]
        {
            for end in ["low", "high"] {
                assert!(number(&answer[stripped][end]) < number(&answer[covered][end]), "{line} {covered} {end}");
            }
            assert!(!answer[covered]["basis"].as_str().unwrap().is_empty());
        }
        assert!(number(&answer["mass_covered_wet"]["low"]) < number(&answer["mass_covered_wet"]["high"]));
        let sheet = line != "main halyard";
        assert_eq!(answer["clew_load"].is_object() && answer["lift_wind"].is_object(), sheet, "{line}");
        assert_eq!(answer["hoist"].is_object(), !sheet, "{line}");
        assert_eq!(answer["rules"].as_array().unwrap().len(), 2);
        let text = text(&becket(&["cover", "examples/sloop/order.toml", line, "--working"]));
        let widest = text.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= 80, "{line}: {widest}\n{text}");
    }
    // At one height each end carries half of the sheet, so more slack is more; a plot is written.
    let folder = tempfile::tempdir().unwrap();
    let plot = folder.path().join("plot.svg");
    let load = |slack: &str| {
        let plot = plot.to_str().unwrap();
        let asked = [
            "cover",
            "examples/sloop/order.toml",
            "spinnaker sheet",
            "--slack",
            slack,
            "--clew-height",
            "0m",
            "--span",
            "6m",
            "--plot",
            plot,
            "--json",
        ];
        json(&asked)["clew_load"]["covered_dry"]["value"].as_f64().unwrap()
    };
    assert!(load("0.05") > load("0.01"));
    assert!(std::fs::read_to_string(&plot).unwrap().starts_with("<svg"));
}

#[test]
fn a_loft_edits_its_rules() {
    let folder = tempfile::tempdir().unwrap();
    let own = folder.path().join("rules.csv");
    let table = text(&becket(&["rules"]));
    std::fs::write(
        &own,
        table
            .replace(",bare-core-eye;long-bury-eye,3,", ",bare-core-eye;long-bury-eye,0.1,")
            .replace("strip;bare-core-eye,,2,\"weight and", "strip;bare-core-eye,,9,\"weight and"),
    )
    .unwrap();
    let asked = ["cover", "examples/sloop/order.toml", "jib sheet", "--rules", own.to_str().unwrap(), "--json"];
    assert_eq!(json(&asked)["advice"], "strip");
    std::fs::write(&own, table.replace("chafes-at-end", "chafs-at-end").replace("strip;bare-core-eye,,2", "stripp,,2"))
        .unwrap();
    let output = becket(&asked);
    assert_eq!(output.status.code(), Some(3));
    let said: serde_json::Value = serde_json::from_slice(&output.stderr).unwrap();
    let codes: Vec<&str> =
        said["mistakes"].as_array().unwrap().iter().map(|one| one["code"].as_str().unwrap()).collect();
    assert_eq!(codes, ["unknown-fact", "unknown-choice", "unknown-choice"], "{said}");
}

#[test]
fn a_line_list_goes_out_and_comes_in_again() {
    let folder = tempfile::tempdir().unwrap();
    let tables = ["list.csv", "list.xlsx"].map(|name| {
        let list = folder.path().join(name);
        let list = list.to_str().unwrap();
        let output = becket(&["export", "examples/sloop/order.toml", "--out", list]);
        assert!(output.status.success(), "{name}");
        let output = becket(&["import", list]);
        assert_eq!(output.status.code(), Some(0), "{name}: {}", String::from_utf8_lossy(&output.stderr));
        text(&output)
    });
    assert_eq!(tables[0], tables[1], "both forms say the same");
    // The lines stand in an order of the same boat, and weigh and cut the same.
    let order = std::fs::read_to_string(project().join("examples/sloop/order.toml")).unwrap();
    let head = order.split("[[line]]").next().unwrap();
    let again = folder.path().join("order.toml");
    std::fs::write(&again, format!("{head}{}", tables[0])).unwrap();
    std::fs::copy(project().join("examples/sloop/ropes.csv"), folder.path().join("ropes.csv")).unwrap();
    let [was, is] =
        ["examples/sloop/order.toml", again.to_str().unwrap()].map(|order| json(&["lines", order, "--json"]));
    let lengths = |answer: &serde_json::Value| -> Vec<(String, f64)> {
        let lines = answer["lines"].as_array().unwrap().iter();
        lines
            .map(|line| (line["name"].as_str().unwrap().to_owned(), line["finished_length"]["value"].as_f64().unwrap()))
            .collect()
    };
    assert_eq!(lengths(&was), lengths(&is));
    // A row with a mistake is refused, the others are read, and it is kept for repair.
    let list = folder.path().join("list.csv");
    let broken = std::fs::read_to_string(&list).unwrap().replace("jib sheet,jib-sheet", "jib sheet,jib-shet");
    std::fs::write(&list, broken).unwrap();
    let output = becket(&["import", list.to_str().unwrap(), "--json"]);
    assert_eq!(output.status.code(), Some(1));
    let answer: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(answer["refused"].as_array().unwrap().len(), 1, "{answer}");
    assert_eq!(answer["refused"][0]["row"], 8);
    let kept = std::fs::read_to_string(answer["kept_for_repair"].as_str().unwrap()).unwrap();
    assert!(kept.starts_with("line,kind,") && kept.contains("jib-shet") && kept.lines().count() == 2, "{kept}");
    assert!(text(&becket(&["import", "--columns"])).contains("length (mm)"));
}

/// A packed file says in its directory how far it unfolds: too far is refused
/// before it is unfolded, less than the truth is found out, and both are told
/// what to do.
#[test]
fn a_spreadsheet_that_lies_about_its_size_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let list = folder.path().join("list.xlsx");
    let list = list.to_str().unwrap();
    assert!(becket(&["export", "examples/sloop/order.toml", "--out", list]).status.success());
    let honest = std::fs::read(list).unwrap();
    let entry = (0..honest.len())
        .find(|at| {
            honest[*at..].starts_with(b"PK\x01\x02") && honest[at + 46..].starts_with(b"xl/worksheets/sheet1.xml")
        })
        .unwrap();
    for (says, told) in [(u32::MAX - 1, "split it"), (100, "save it again")] {
        let mut lying = honest.clone();
        lying[entry + 24..entry + 28].copy_from_slice(&says.to_le_bytes());
        std::fs::write(list, lying).unwrap();
        let output = becket(&["import", list]);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(3), "{says}: {said}");
        assert!(said.contains(told), "{says}: {said}");
    }
    std::fs::write(list, "no spreadsheet at all").unwrap();
    let said = String::from_utf8_lossy(&becket(&["import", list]).stderr).into_owned();
    assert!(said.contains("save it as xlsx, or as CSV"), "{said}");
}
