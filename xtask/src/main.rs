//! `cargo xtask`: the project's own checks from the command line.
//!
//! Exit codes: 0 when everything holds, 1 when something does not, 2 when the
//! command was not understood or could not be begun.

use std::path::Path;
use std::process::ExitCode;
use xtask::{ci, tidy};

const USAGE: &str = "usage: cargo xtask COMMAND

  tidy   the rules of the house that no compiler knows: arrows between rooms, sources, tests, texts
  ci     format, tidy, clippy, documentation, doc tests and tests, each by name; the count of tests last";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let Some(root) = Path::new(env!("CARGO_MANIFEST_DIR")).parent() else {
        eprintln!("the folder of xtask has no parent");
        return ExitCode::from(2);
    };
    let outcome = match arguments.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        ["tidy"] => tidy::run(root),
        ["ci"] => ci::run(root),
        _ => {
            eprintln!("{USAGE}");
            return ExitCode::from(2);
        }
    };
    match outcome {
        Ok(holds) => ExitCode::from(u8::from(!holds)),
        Err(fault) => {
            eprintln!("{fault}");
            ExitCode::from(2)
        }
    }
}
