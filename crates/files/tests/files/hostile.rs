//! Bytes that mean harm or nothing: a clear problem, no panic, no hang.

use super::{SMALLEST, problems};
use files::{LARGEST_ORDER, Source, read_order, read_pieces, read_rack, read_ropes, render};
use proptest::prelude::*;
use std::time::{Duration, Instant};

/// Far more than any of these takes, and far less than a hang.
const PATIENCE: Duration = Duration::from_secs(60);

/// Reads the bytes as every kind of file and shows what is wrong with them.
fn survive(bytes: &[u8]) -> usize {
    let source = Source::new("file", bytes);
    let order = read_order(bytes);
    let mut count = order.problems.len();
    for problems in [order.problems, read_rack(bytes).problems, read_ropes(bytes).problems, read_pieces(bytes).problems]
    {
        count = count.max(problems.len());
        for problem in &problems {
            assert!(!problem.message.is_empty() || problem.code == "unknown-key");
            if let Some(place) = problem.place {
                assert!(place.start <= place.end && place.end <= bytes.len().max(1), "{problem:?}");
            }
        }
        let shown = render(&source, &problems);
        for line in shown.lines() {
            assert!(line.chars().count() <= 80, "{line:?}");
            assert!(!line.chars().any(char::is_control), "{line:?}");
        }
    }
    count
}

fn code(bytes: &[u8]) -> (&'static str, usize, usize) {
    let read = read_order(bytes);
    assert_eq!(read.problems.len(), 1, "{:#?}", read.problems);
    assert_eq!(read.record, None);
    let problem = &read.problems[0];
    let position = problem.place.map(|place| Source::new("file", bytes).position(place));
    survive(bytes);
    position.map_or((problem.code, 0, 0), |position| (problem.code, position.line, position.column))
}

#[test]
fn empty_files() {
    assert_eq!(code(b"").0, "empty-file");
    assert_eq!(code(b" \r\n\t\n").0, "empty-file");
    assert_eq!(code(b"\xEF\xBB\xBF").0, "empty-file");
}

#[test]
fn other_encodings() {
    let latin = b"becket = 1\n[boat]\nname = \"M\xF6we\"\n";
    assert_eq!(code(latin), ("not-utf-8", 3, 10));
    assert_eq!(read_order(latin).problems[0].message, "byte 0xF6 is not UTF-8, perhaps 'ö' in an older encoding");
    assert_eq!(code(b"\xFF\xFEb\0e\0"), ("not-utf-8", 1, 1));
    assert_eq!(code(b"\xEF\xBB\xBFx\xFF").0, "not-utf-8");
}

#[test]
fn binary_files() {
    assert_eq!(code(b"becket = 1\n\0\0\0"), ("binary", 2, 1));
    assert_eq!(code(b"\x7FELF\x02\x01\x01\0\0"), ("binary", 1, 8));
}

#[test]
fn a_byte_order_mark_and_carriage_returns_move_no_column() {
    let text = SMALLEST.replace("10 m", "10");
    let plain = problems(&text);
    assert_eq!(plain, [(9, 7, "no-unit")]);
    assert_eq!(problems(&format!("\u{feff}{}", text.replace('\n', "\r\n"))), plain);
    let first = "clour = 1\n".to_owned() + &text;
    assert_eq!(problems(&format!("\u{feff}{first}"))[0], (1, 1, "unknown-key"));
    let rack = "\u{feff}reel,rope,lenght\r\n";
    let read = read_rack(rack.as_bytes());
    let place = read.problems[0].place.expect("a place");
    assert_eq!(Source::new("rack.csv", rack.as_bytes()).position(place).column, 11);
}

#[test]
fn files_over_the_limit() {
    let mut text = SMALLEST.as_bytes().to_vec();
    text.push(b'#');
    text.resize(LARGEST_ORDER, b'x');
    assert_eq!(read_order(&text).problems, []);
    text.push(b'x');
    assert_eq!(read_order(&text).problems[0].code, "file-too-large");
}

#[test]
fn deep_nesting() {
    for text in [
        format!("a = {}", "[".repeat(10_000)),
        format!("a = {}{}", "[".repeat(10_000), "]".repeat(10_000)),
        format!("a = {}", "{a=".repeat(10_000)),
        format!("{}a = 1", "a.".repeat(100_000)),
        format!("[{}a]", "a.".repeat(100_000)),
        format!("a = {{ {}b = 1 }}", "b . ".repeat(100_000)),
        "[".repeat(1_000_000),
        "{".repeat(1_000_000),
    ] {
        let start = Instant::now();
        assert!(read_order(text.as_bytes()).problems.iter().any(|problem| problem.code == "too-deep"));
        survive(text.as_bytes());
        assert!(start.elapsed() < PATIENCE);
    }
}

#[test]
fn a_statement_without_end() {
    let good = format!("[[line]]\nname = \"a\"\nkind = \"strop\"\ncandidates = [{}]\n", "\"x\", ".repeat(20_000));
    assert_eq!(problems(&format!("{SMALLEST}{good}")), []);
    let long = good.replace("\"x\", ", "\"abcdefgh\", ");
    assert_eq!(problems(&format!("{SMALLEST}{long}")), [(15, 1, "too-long")]);
}

#[test]
fn a_megabyte_of_rubbish() {
    let big = |unit: &str| unit.repeat((1 << 20) / unit.len());
    for unit in [
        "]",
        "a\n",
        "=",
        "\"\n",
        ".",
        "[\n",
        "[[a]]\n",
        "x=1\n",
        "[a]\n",
        "'",
        "\"\"\"\n",
        "'''",
        "{\n",
        "a=[\n",
        "a={\n",
        "\\",
        ",",
        ";",
        "a,b,c\n",
        "\"a\n",
        "ä",
        "\u{202e}",
        "\u{1b}[31m",
        "[[line]]\n",
        "[[line]]\nname = \"a\"\n",
        "a.b.c=1\n",
        "#\n",
        "\r",
        "zz = \"1 mm\"\n",
    ] {
        let text = big(unit);
        survive(&text.as_bytes()[..(1 << 12) / unit.len() * unit.len()]);
        let start = Instant::now();
        let problems = read_order(text.as_bytes()).problems;
        assert!((1..=1001).contains(&problems.len()), "{unit:?} {}", problems.len());
        assert!(render(&Source::new("order.toml", text.as_bytes()), &problems).len() < 100_000);
        let some = &text.as_bytes()[..(1 << 16) / unit.len() * unit.len()];
        assert!((1..=1001).contains(&read_rack(some).problems.len()), "{unit:?}");
        assert!(start.elapsed() < PATIENCE, "{unit:?} {:?}", start.elapsed());
    }
}

#[test]
fn reading_time_grows_with_the_file_not_faster() {
    let order = |lines: usize| {
        let lines = (0..lines)
            .map(|n| format!("[[line]]\nname = \"line {n}\"\nkind = \"strop\"\nlength = \"{n} m\"\nclour = \"x\"\n"));
        SMALLEST.to_owned() + &lines.collect::<String>()
    };
    let time = |text: &str| {
        let best = (0..5).map(|_| {
            let start = Instant::now();
            assert!(read_order(text.as_bytes()).problems.len() > 400);
            start.elapsed()
        });
        best.min().expect("five tries").as_secs_f64()
    };
    let (small, large) = (order(500), order(4000));
    // Eight times the file: a square would be 64 times the time.
    assert!(time(&large) / time(&small) < 24.0);
}

#[test]
fn at_a_thousand_problems_reading_stops_and_says_so() {
    let text = SMALLEST.to_owned() + &"[[line]]\nname = \"\"\n".repeat(3000);
    let read = read_order(text.as_bytes());
    assert_eq!(read.problems.len(), 1001);
    assert_eq!(read.problems[1000].code, "more-problems");
    let shown = render(&Source::new("order.toml", text.as_bytes()), &read.problems);
    let end = "order.toml: 1000 problems, the first 50 shown\nreading stopped at 1000 problems: there may be more\n";
    assert!(shown.ends_with(end), "{shown}");
    assert_eq!(shown.matches("error[").count(), 50);
}

/// Pieces that an order is made of, and some that it is not.
const PIECES: &[&str] = &[
    "[[line]]",
    "[boat]",
    "[",
    "]",
    "{",
    "}",
    "=",
    ".",
    ",",
    "\n",
    "\r\n",
    "\r",
    "\"",
    "'",
    "\"\"\"",
    "'''",
    "#",
    "\\",
    " ",
    "\t",
    "a",
    "name",
    "loa",
    "line",
    "ends",
    "\"10 mm\"",
    "\"8 mm pin\"",
    "1",
    "-1",
    "1e999",
    "0x",
    "nan",
    "true",
    "2026-02-30",
    "ä",
    "\u{feff}",
    "\u{1b}",
    "÷",
    ";",
    "12.0 m..12.4 m",
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        survive(&bytes);
    }

    #[test]
    fn any_text(text in "\\PC{0,200}") {
        survive(text.as_bytes());
    }

    #[test]
    fn any_pieces(pieces in prop::collection::vec(prop::sample::select(PIECES), 0..60)) {
        survive(pieces.concat().as_bytes());
    }

    #[test]
    fn a_good_order_with_a_stretch_put_out(from in 0..9000usize, length in 0..200usize, by in prop::sample::select(PIECES)) {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/sloop/order.toml");
        let mut bytes = std::fs::read(path).expect("the example is there");
        let from = from.min(bytes.len());
        let to = (from + length).min(bytes.len());
        bytes.splice(from..to, by.bytes());
        let problems = read_order(&bytes).problems;
        let shown = render(&Source::new("order.toml", &bytes), &problems);
        prop_assert!(shown.is_empty() == problems.is_empty());
        // What the whole-file parser refuses is never read without a problem.
        if let Ok(text) = std::str::from_utf8(&bytes)
            && read_order(&bytes).problems.is_empty()
        {
            let whole = toml::from_str::<toml::Table>(text.trim_start_matches('\u{feff}'));
            prop_assert!(whole.is_ok());
        }
    }
}
