//! Papers as people get them: a stop from the order to the page, who may
//! overrule it, text of a card against the JSON, and true size measured on
//! what a printer draws.

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

/// The words of a PDF, its pages one after another.
fn words(file: &Path) -> String {
    let output = Command::new("pdftotext").arg("-layout").arg(file).arg("-").output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap().split_whitespace().collect::<Vec<_>>().join(" ")
}

fn pages(file: &Path) -> usize {
    let output = Command::new("pdfinfo").arg(file).output().unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    let line = text.lines().find(|line| line.starts_with("Pages:")).unwrap();
    line.split_whitespace().last().unwrap().parse().unwrap()
}

/// Width and height of a page, in mm.
fn size(file: &Path, page: usize) -> (f64, f64) {
    let number = page.to_string();
    let info = Command::new("pdfinfo").args(["-f", &number, "-l", &number]).arg(file).output().unwrap();
    let info = String::from_utf8(info.stdout).unwrap();
    let line = info.lines().find(|line| line.contains("size:") && line.contains("pts")).unwrap();
    let sizes: Vec<f64> =
        line.split("size:").nth(1).unwrap().split_whitespace().filter_map(|part| part.parse().ok()).collect();
    (sizes[0] * 25.4 / 72.0, sizes[1] * 25.4 / 72.0)
}

/// The first page that lies on its side: the strip's.
fn strip_page(file: &Path) -> usize {
    (1..=pages(file)).find(|page| size(file, *page).0 > size(file, *page).1).unwrap()
}

/// An order of one line, with what is given added to the line.
fn order(folder: &Path, bury: &str, more: &str) -> PathBuf {
    let text = format!(
        r#"becket = 1
[order]
number = "77"
date = 2026-11-25
[boat]
name = "Dunlin"
hull = "monohull"
rig = "masthead-sloop"
loa = "9 m"
[use]
kind = "coastal-cruising"
wind_upwind = "16 kn"
wind_downwind = "18 kn"
[[line]]
name = "runner tail"
kind = "lifeline-lashing"
rope = "10 mm 12-strand HMPE"
length = "2 m"
load = {{ steady = "6 kN", peak = "12 kN" }}
ends = {{ working = {{ kind = "long-bury-eye", on = "20 mm thimble", bury = "{bury}" }}, bitter = {{ kind = "whipped-end" }} }}
{more}
"#
    );
    let path = folder.join("order.toml");
    std::fs::write(&path, text).unwrap();
    path
}

struct Made {
    folder: tempfile::TempDir,
    output: Output,
}

impl Made {
    fn of(bury: &str, more: &str, what: &str) -> Made {
        let folder = tempfile::tempdir().unwrap();
        let order = order(folder.path(), bury, more);
        let out = folder.path().join("out");
        let output =
            becket(&["sheets", order.to_str().unwrap(), "--out", out.to_str().unwrap(), "--what", what, "--json"]);
        Made { folder, output }
    }

    fn file(&self, name: &str) -> PathBuf {
        self.folder.path().join("out").join(name)
    }

    fn card(&self) -> PathBuf {
        self.file("cards/77-01-runner-tail.pdf")
    }

    fn json(&self) -> serde_json::Value {
        serde_json::from_slice(&self.output.stdout)
            .unwrap_or_else(|_| panic!("{}", String::from_utf8_lossy(&self.output.stderr)))
    }
}

const OVERRIDE: &str =
    r#"override = { by = "A. Rigger", date = 2026-11-24, reason = "proof tested to 15 kN on the bench" }"#;

#[test]
fn a_stop_gives_a_refusal_that_names_the_weak_point_and_what_clears_it() {
    let made = Made::of("10d", "", "cards");
    assert_eq!(made.output.status.code(), Some(1), "{}", String::from_utf8_lossy(&made.output.stderr));
    assert_eq!(made.json()["cards"][0]["refused"], true);
    assert_eq!(pages(&made.card()), 1);
    let text = words(&made.card());
    assert!(text.contains("Stop: do not make this up"), "{text}");
    assert!(text.contains("Weak point:") && text.contains("Shortest change that clears it:"), "{text}");
    assert!(!text.contains("Marking strip at true size") && !text.contains("cut length"), "{text}");
}

#[test]
fn an_override_is_carried_on_card_label_delivery_sheet_and_record() {
    let made = Made::of("10d", OVERRIDE, "cards,labels,delivery");
    assert_eq!(made.output.status.code(), Some(0), "{}", String::from_utf8_lossy(&made.output.stderr));
    assert_eq!(made.json()["cards"][0]["overridden_by"], "A. Rigger");
    for file in [made.card(), made.file("labels.pdf"), made.file("delivery.pdf")] {
        let text = words(&file);
        assert!(text.contains("overruled") && text.contains("A. Rigger") && text.contains("2026-11-24"), "{text}");
        assert!(text.contains("proof tested to 15 kN"), "{text}");
    }
    let text = words(&made.card());
    assert!(text.contains("Marking strip at true size") && text.contains("Stop"), "{text}");
}

#[test]
fn what_holds_a_person_or_is_standing_rigging_is_never_overruled() {
    for duty in ["holds-person", "standing-rigging"] {
        let made = Made::of("72d", &format!("duty = \"{duty}\"\n{OVERRIDE}"), "cards");
        assert_eq!(made.output.status.code(), Some(1), "{duty}: {}", String::from_utf8_lossy(&made.output.stderr));
        assert_eq!(made.json()["cards"][0]["refused"], true, "{duty}");
        let text = words(&made.card());
        assert!(text.contains("cannot be overruled") && !text.contains("Marking strip at true size"), "{duty}: {text}");
        let labels = Made::of("72d", &format!("duty = \"{duty}\"\n{OVERRIDE}"), "labels");
        assert_eq!(labels.output.status.code(), Some(5), "{duty}");
        assert!(!labels.file("labels.pdf").exists(), "{duty} has a label");
    }
}

#[test]
fn the_text_of_a_card_is_what_the_answers_say() {
    let made = Made::of("72d", "", "cards,calculation");
    assert_eq!(made.output.status.code(), Some(0), "{}", String::from_utf8_lossy(&made.output.stderr));
    assert_eq!(strip_page(&made.card()), 2, "one page, then its strip");
    let order = made.folder.path().join("order.toml");
    let lines = becket(&["lines", order.to_str().unwrap(), "--json"]);
    let answer: serde_json::Value = serde_json::from_slice(&lines.stdout).unwrap();
    let line = &answer["lines"][0];
    let shown = |amount: &serde_json::Value| {
        let value = amount["value"].as_f64().unwrap();
        let digits = format!("{value:.0}");
        let grouped = if digits.len() > 3 {
            format!("{},{}", &digits[..digits.len() - 3], &digits[digits.len() - 3..])
        } else {
            digits
        };
        format!("{grouped} {}", amount["unit"].as_str().unwrap())
    };
    let text = words(&made.card());
    for amount in [&line["cut_length"], &line["finished_length"], &line["ends"][0]["bury"]] {
        assert!(text.contains(&shown(amount)), "{} is not on the card: {text}", shown(amount));
    }
    let end = becket(&[
        "splice",
        "--rope",
        "10 mm 12-strand HMPE",
        "--end",
        "long-bury-eye",
        "--eye-on",
        "20 mm thimble",
        "--bury",
        "72d",
        "--load",
        "6 kN",
        "--json",
    ]);
    let end: serde_json::Value = serde_json::from_slice(&end.stdout).unwrap();
    for mark in end["marks"].as_array().unwrap() {
        assert!(text.contains(&shown(&mark["from_bitter_end"])), "{mark} is not on the card: {text}");
        assert!(text.contains(mark["name"].as_str().unwrap()), "{mark}");
    }
    let sheet = words(&made.file("calculation.pdf"));
    for step in line["working"].as_array().unwrap() {
        let first = step["what"].as_str().unwrap().split_whitespace().next().unwrap();
        assert!(sheet.contains(first), "{step} is not on the calculation sheet");
    }
}

#[test]
fn fonts_are_inside_and_printers_are_asked_not_to_scale() {
    let made = Made::of("72d", "", "cards,labels,line-plan,calculation,delivery");
    for name in ["cards.pdf", "labels.pdf", "line-plan.pdf", "calculation.pdf", "delivery.pdf"] {
        let file = made.file(name);
        let fonts = Command::new("pdffonts").arg(&file).output().unwrap();
        let fonts = String::from_utf8(fonts.stdout).unwrap();
        let rows: Vec<&str> = fonts.lines().skip(2).collect();
        assert!(
            !rows.is_empty() && rows.iter().all(|row| row.contains("NotoSans") && row.contains(" yes ")),
            "{fonts}"
        );
        let bytes = std::fs::read(&file).unwrap();
        let has = |word: &[u8]| bytes.windows(word.len()).any(|window| window == word);
        assert!(
            has(b"/PrintScaling/None") && has(b"<pdfaid:part>2</pdfaid:part>") && has(b"/StructTreeRoot"),
            "{name}"
        );
    }
}

/// A greyscale picture as `pdftoppm` writes it: width, height, pixels.
fn raster(file: &Path, page: usize, dpi: u32, (x, y, w, h): (u32, u32, u32, u32)) -> (usize, usize, Vec<u8>) {
    let number = page.to_string();
    let numbers = [dpi, x, y, w, h].map(|number| number.to_string());
    let output = Command::new("pdftoppm")
        .args(["-gray", "-f", &number, "-l", &number, "-r", &numbers[0]])
        .args(["-x", &numbers[1], "-y", &numbers[2], "-W", &numbers[3], "-H", &numbers[4]])
        .arg(file)
        .output()
        .unwrap();
    let bytes = output.stdout;
    assert!(bytes.starts_with(b"P5"), "{}", String::from_utf8_lossy(&output.stderr));
    let mut fields = Vec::new();
    let mut at = 2;
    while fields.len() < 3 {
        let start = at + bytes[at..].iter().position(u8::is_ascii_digit).unwrap();
        let end = start + bytes[start..].iter().position(|byte| !byte.is_ascii_digit()).unwrap();
        fields.push(std::str::from_utf8(&bytes[start..end]).unwrap().parse::<usize>().unwrap());
        at = end;
    }
    (fields[0], fields[1], bytes[at + 1..].to_vec())
}

/// Middles of the dark runs along a row, in pixels, weighted by darkness.
fn dark_runs(row: &[u8]) -> Vec<f64> {
    let mut found = Vec::new();
    let (mut weight, mut moment) = (0.0, 0.0);
    for (x, pixel) in row.iter().chain(&[255]).enumerate() {
        let dark = f64::from(255 - pixel);
        if dark > 12.0 {
            weight += dark;
            moment += dark * (x as f64 + 0.5);
        } else if weight > 0.0 {
            found.push(moment / weight);
            (weight, moment) = (0.0, 0.0);
        }
    }
    found
}

/// The x of every upright stroke of a page, in points, from the drawing
/// commands as `pdftocairo` reads them.
fn strokes(file: &Path, page: usize) -> Vec<f64> {
    let number = page.to_string();
    let output = Command::new("pdftocairo")
        .args(["-svg", "-noshrink", "-nocenter", "-f", &number, "-l", &number])
        .arg(file)
        .arg("-")
        .output()
        .unwrap();
    let svg = String::from_utf8(output.stdout).unwrap();
    let mut found = Vec::new();
    for path in svg.split("<path ").skip(1) {
        let matrix: Vec<f64> = path
            .split("transform=\"matrix(")
            .nth(1)
            .map(|rest| {
                rest.split(')')
                    .next()
                    .unwrap_or_default()
                    .split(',')
                    .filter_map(|part| part.trim().parse().ok())
                    .collect()
            })
            .unwrap_or_default();
        let (scale, shift) = if matrix.len() == 6 { (matrix[0], matrix[4]) } else { (1.0, 0.0) };
        let Some(d) = path.split(" d=\"").nth(1).and_then(|rest| rest.split('"').next()) else { continue };
        let numbers: Vec<f64> = d.split_whitespace().filter_map(|part| part.parse().ok()).collect();
        for pair in numbers.chunks(4).filter(|pair| pair.len() == 4 && (pair[0] - pair[2]).abs() < 1e-6) {
            found.push(pair[0] * scale + shift);
        }
    }
    found
}

/// Ticks looked at, 5 mm apart; the tile is cut a little before mark 5.
const TICKS: u32 = 45;

#[test]
fn a_strip_measures_true_three_ways() {
    let made = Made::of("72d", "", "cards");
    let card = made.card();
    let page = strip_page(&card);
    // The page box: the long side of A4 along.
    let (width, height) = size(&card, page);
    assert!((width - 297.0).abs() < 0.01 && (height - 210.0).abs() < 0.01, "{width} by {height} mm");

    // The drawing commands: ticks of the first tile stand 5 mm apart. It begins 7 mm margin and 12 mm tab from the left edge.
    let places: Vec<f64> = strokes(&card, page).iter().map(|x| x * 25.4 / 72.0 - 19.0).collect();
    for tick in 0..=TICKS {
        let at = 5.0 * f64::from(tick);
        assert!(places.iter().any(|x| (x - at).abs() < 0.01), "no tick at {at} mm: {places:?}");
    }

    // What a printer draws at 1,270 dots to the inch, 0.02 mm each: the same
    // ticks, their middles to a fraction of a dot.
    let dots = |mm: f64| (mm * 1270.0 / 25.4).round() as u32;
    let (width, height, pixels) = raster(&card, page, 1270, (0, dots(20.0), dots(297.0), dots(45.0)));
    let near = |runs: &[f64], at: f64| runs.iter().copied().min_by(|a, b| (a - at).abs().total_cmp(&(b - at).abs()));
    // A row through all ticks, long and short.
    let runs = (0..height)
        .map(|row| {
            dark_runs(&pixels[row * width..(row + 1) * width]).iter().map(|x| x / 50.0 - 19.0).collect::<Vec<_>>()
        })
        .find(|runs| {
            (0..=TICKS).map(|tick| 5.0 * f64::from(tick)).all(|at| near(runs, at).is_some_and(|x| (x - at).abs() < 0.3))
        });
    let Some(runs) = runs else { panic!("no row of the picture goes through all ticks") };
    let nearest = |at: f64| near(&runs, at).unwrap();
    let long = nearest(225.0) - nearest(0.0);
    // 0.05 mm in 1,000 mm is 0.01125 mm in 225.
    assert!((long - 225.0).abs() < 0.011_25, "225 mm of the strip measure {long} mm");
    for tick in 0..=TICKS {
        let at = 5.0 * f64::from(tick);
        assert!((nearest(at) - at).abs() < 0.02, "the tick at {at} mm stands at {}", nearest(at));
    }
}
