//! The whole way as a rigger meets it: the program started, its answer read,
//! its end waited for. `benches/whole_way/run.sh` builds the program, runs this
//! and writes `benches/REPORT.md`.
//!
//! The program is `target/release/becket`, or what `BECKET` names. Peak memory is
//! read from the running process, so it is told for Linux alone.

#![allow(clippy::unwrap_used, reason = "a bench that cannot go on fails")]
#![allow(missing_docs, reason = "a bench is called by its harness alone")]

use divan::Bencher;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// The pieces of the card goal.
const PIECES: usize = 30;

fn main() {
    if !program().is_file() {
        println!("skipped: no program at {}; cargo build --release -p becket-cli", program().display());
        return;
    }
    divan::main();
    println!("\npeak memory, kB");
    for (what, arguments) in [("--help", vec!["--help".into()]), ("lines", lines(&order())), ("30 cards", sheets())] {
        println!("{what:<12} {:>9}", peak_memory(&arguments));
    }
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..").canonicalize().unwrap()
}

fn program() -> PathBuf {
    std::env::var_os("BECKET").map_or_else(
        || {
            let target = std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), PathBuf::from);
            target.join("release/becket")
        },
        PathBuf::from,
    )
}

fn order() -> PathBuf {
    root().join("examples/sloop/order.toml")
}

/// A folder of the bench's own, outside the project.
fn folder() -> PathBuf {
    let folder = std::env::temp_dir().join("becket-bench");
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

fn word(path: &Path) -> String {
    path.to_str().unwrap().to_owned()
}

fn lines(order: &Path) -> Vec<String> {
    let ropes = root().join("examples/sloop/ropes.csv");
    vec!["lines".into(), word(order), "--ropes".into(), word(&ropes), "--json".into()]
}

fn cut() -> Vec<String> {
    let mut arguments = lines(&order());
    arguments[0] = "cut".into();
    arguments.extend(["--rack".into(), word(&root().join("examples/sloop/rack.csv"))]);
    arguments
}

fn splice() -> Vec<String> {
    ["splice", "--rope", "10 mm 12-strand HMPE", "--end", "long-bury-eye", "--json"].map(str::to_owned).to_vec()
}

fn sheets() -> Vec<String> {
    let mut arguments = lines(&of_thirty_pieces());
    arguments[0] = "sheets".into();
    arguments.extend(["--out".into(), word(&folder().join("out"))]);
    arguments
}

/// The demo order up to its thirtieth piece.
fn of_thirty_pieces() -> PathBuf {
    let text = std::fs::read_to_string(order()).unwrap();
    let mut parts = text.split("[[line]]");
    let mut cut = parts.next().unwrap().to_owned();
    let mut pieces = 0;
    for line in parts {
        let count = line.lines().find_map(|row| row.strip_prefix("count = ")).map_or(1, |n| n.trim().parse().unwrap());
        if pieces + count <= PIECES {
            pieces += count;
            write!(cut, "[[line]]{line}").unwrap();
        }
    }
    assert_eq!(pieces, PIECES, "the demo order gives {PIECES} pieces");
    let path = folder().join("thirty.toml");
    std::fs::write(&path, cut).unwrap();
    path
}

/// The demo order with the lines of so many boats.
fn of_boats(boats: usize) -> PathBuf {
    let text = std::fs::read_to_string(order()).unwrap();
    let (head, lines) = text.split_at(text.find("[[line]]").unwrap());
    let mut all = head.to_owned();
    for boat in 1..=boats {
        all.push_str(&lines.replace("\nname = \"", &format!("\nname = \"{boat} ")));
    }
    let path = folder().join(format!("boats-{boats}.toml"));
    std::fs::write(&path, all).unwrap();
    path
}

fn run(arguments: &[String]) {
    let status = Command::new(program()).args(arguments).stdout(Stdio::null()).stderr(Stdio::null()).status().unwrap();
    // 1 is an answer with a stop finding.
    assert!(matches!(status.code(), Some(0 | 1)), "{arguments:?}: {status}");
}

#[divan::bench]
fn help(bencher: Bencher) {
    bencher.bench_local(|| run(&["--help".into()]));
}

#[divan::bench]
fn demo_lines(bencher: Bencher) {
    let arguments = lines(&order());
    bencher.bench_local(|| run(&arguments));
}

#[divan::bench]
fn demo_splice(bencher: Bencher) {
    let arguments = splice();
    bencher.bench_local(|| run(&arguments));
}

#[divan::bench]
fn demo_cut(bencher: Bencher) {
    let arguments = cut();
    bencher.bench_local(|| run(&arguments));
}

#[divan::bench(sample_count = 11, sample_size = 1)]
fn thirty_cards(bencher: Bencher) {
    let arguments = sheets();
    bencher.bench_local(|| run(&arguments));
}

/// Linear means: ten times the boats, ten times the time.
#[divan::bench(args = [5, 50, 500], sample_count = 5, sample_size = 1)]
fn lines_of_boats(bencher: Bencher, boats: usize) {
    let arguments = lines(&of_boats(boats));
    bencher.bench_local(|| run(&arguments));
}

/// The most memory that the process held, in kB; 0 where the system does not
/// tell.
fn peak_memory(arguments: &[String]) -> u64 {
    let mut child =
        Command::new(program()).args(arguments).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
    let status = PathBuf::from(format!("/proc/{}/status", child.id()));
    let mut most = 0;
    while child.try_wait().unwrap().is_none() {
        // The figure only rises, so the last reading before the end is it.
        let told = std::fs::read_to_string(&status).unwrap_or_default();
        let peak = told.lines().find_map(|row| row.strip_prefix("VmHWM:"));
        let peak = peak.and_then(|rest| rest.trim().trim_end_matches(" kB").trim().parse().ok());
        most = most.max(peak.unwrap_or(0));
        std::thread::sleep(std::time::Duration::from_micros(200));
    }
    most
}
