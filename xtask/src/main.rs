//! `cargo xtask`: the project's own checks from the command line.
//!
//! Exit codes: 0 when everything holds, 1 when something does not, 2 when the
//! command was not understood or could not be begun.

use std::path::PathBuf;
use std::process::ExitCode;
use xtask::{ci, tidy};

const USAGE: &str = "usage: cargo xtask COMMAND

  tidy   the rules of the house that no compiler knows: arrows between rooms, sources, tests, texts
  ci     format, tidy, clippy, documentation, doc tests and tests, each by name; the count of tests last";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    // Asked when run and not when built: a target directory outlives the clone that filled it.
    let folder = std::env::var_os("CARGO_MANIFEST_DIR").map(PathBuf::from);
    let Some(root) = folder.as_deref().and_then(|folder| folder.parent()) else {
        eprintln!("call it as `cargo xtask`, so that cargo says where the project is");
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
