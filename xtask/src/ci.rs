//! Everything that must pass before a change is finished, step by step.
//!
//! A failing step does not hide the ones behind it: all are run, and the
//! failing ones are named at the end. The tests come last, and the last line
//! counts them: `412 passed, 0 failed`.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

/// One command of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stage {
    /// What it is called when it fails.
    pub name: &'static str,
    /// What cargo is told.
    pub arguments: &'static [&'static str],
    /// A variable set for it.
    pub environment: Option<(&'static str, &'static str)>,
    /// Whether its output has counts of tests in it.
    pub counted: bool,
}

const fn stage(name: &'static str, arguments: &'static [&'static str]) -> Stage {
    Stage { name, arguments, environment: None, counted: false }
}

/// The steps in order. The lock file comes first, so that every later step
/// builds what is written in it.
pub const STAGES: &[Stage] = &[
    stage("lock file", &["metadata", "--locked", "--format-version", "1", "--quiet"]),
    stage("format", &["fmt", "--all", "--check"]),
    stage("tidy", &["xtask", "tidy"]),
    stage("clippy", &["clippy", "--workspace", "--all-targets", "--", "-D", "warnings"]),
    stage(
        "clippy without pages",
        &["clippy", "--package", "becket-cli", "--no-default-features", "--all-targets", "--", "-D", "warnings"],
    ),
    Stage {
        environment: Some(("RUSTDOCFLAGS", "-D warnings")),
        ..stage("documentation", &["doc", "--workspace", "--no-deps"])
    },
    Stage { counted: true, ..stage("doc tests", &["test", "--workspace", "--doc", "--no-fail-fast"]) },
    Stage {
        counted: true,
        ..stage("tests", &["test", "--workspace", "--lib", "--bins", "--tests", "--examples", "--no-fail-fast"])
    },
];

/// Tests that passed and failed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Counts {
    /// Passed.
    pub passed: u64,
    /// Failed.
    pub failed: u64,
}

impl Counts {
    /// Adds what a line of the test runner counts: `test result: ok. 3
    /// passed; 0 failed; …`. Other lines add nothing.
    pub fn add(&mut self, line: &str) {
        let Some((_, counts)) = line.strip_prefix("test result: ").and_then(|rest| rest.split_once(". ")) else {
            return;
        };
        for part in counts.split(';') {
            match part.trim().split_once(' ') {
                Some((count, "passed")) => self.passed += count.parse().unwrap_or(0),
                Some((count, "failed")) => self.failed += count.parse().unwrap_or(0),
                _ => {}
            }
        }
    }
}

/// Runs every step; true when all passed and at least one test ran.
///
/// # Errors
/// When cargo cannot be started.
pub fn run(root: &Path) -> Result<bool, String> {
    let mut counts = Counts::default();
    let mut failing = Vec::new();
    for stage in STAGES {
        println!("== {}", stage.name);
        let begun = Instant::now();
        if !run_stage(root, stage, &mut counts)? {
            failing.push(stage.name);
        }
        println!("== {}: {:.0} s", stage.name, begun.elapsed().as_secs_f64());
    }
    if counts.passed == 0 {
        failing.push("count of tests");
    }
    match failing[..] {
        [] => println!("all steps passed"),
        _ => println!("failing steps: {}", failing.join(", ")),
    }
    println!("{} passed, {} failed", counts.passed, counts.failed);
    Ok(failing.is_empty())
}

fn run_stage(root: &Path, stage: &Stage, counts: &mut Counts) -> Result<bool, String> {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let mut command = Command::new(cargo);
    command.args(stage.arguments).envs(stage.environment).current_dir(root).stdin(Stdio::null());
    // The lock file's step answers with a page of JSON that nobody reads.
    if stage.arguments.first() == Some(&"metadata") {
        command.stdout(Stdio::null());
    } else if stage.counted {
        command.stdout(Stdio::piped());
    }
    let mut child = command.spawn().map_err(|fault| format!("cargo could not be started: {fault}"))?;
    if let Some(output) = child.stdout.take() {
        for line in BufReader::new(output).split(b'\n') {
            let line = line.map_err(|fault| format!("the output of {} broke off: {fault}", stage.name))?;
            let line = String::from_utf8_lossy(&line);
            println!("{line}");
            counts.add(&line);
        }
    }
    child.wait().map(|status| status.success()).map_err(|fault| format!("{}: {fault}", stage.name))
}
