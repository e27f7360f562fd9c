//! Runs every case and writes REPORT.md beside them, and the page of a boat
//! worked by hand.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

fn main() -> ExitCode {
    match written() {
        Ok(paths) => {
            paths.iter().for_each(|path| println!("{}", path.display()));
            ExitCode::SUCCESS
        }
        Err(fault) => {
            eprintln!("{fault}");
            ExitCode::FAILURE
        }
    }
}

fn written() -> Result<[PathBuf; 2], String> {
    let cases = validation::run::load(&validation::folder().join("cases"))?;
    let tables = validation::rows::load(&validation::folder().join("rows"))?;
    let report = validation::report::report(&cases, &tables)?;
    let (page, _) = validation::by_hand::document()?;
    let at = [validation::folder().join("REPORT.md"), validation::folder().join("../docs/a-boat-by-hand.md")];
    write(&at[0], &report)?;
    write(&at[1], &page)?;
    Ok(at)
}

fn write(path: &Path, text: &str) -> Result<(), String> {
    std::fs::write(path, text).map_err(|fault| format!("{}: {fault}", path.display()))
}
