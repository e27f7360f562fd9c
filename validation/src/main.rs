//! Runs every case and writes REPORT.md beside them.

use std::process::ExitCode;

fn main() -> ExitCode {
    let written = validation::run::load(&validation::folder().join("cases"))
        .and_then(|cases| validation::report::report(&cases))
        .and_then(|text| {
            let path = validation::folder().join("REPORT.md");
            std::fs::write(&path, text).map_err(|fault| format!("{}: {fault}", path.display()))?;
            Ok(path)
        });
    match written {
        Ok(path) => {
            println!("{}", path.display());
            ExitCode::SUCCESS
        }
        Err(fault) => {
            eprintln!("{fault}");
            ExitCode::FAILURE
        }
    }
}
