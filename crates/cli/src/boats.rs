//! `becket boats`: the loads of many boats from one table.

use clap::Args;
use desk::{BoatsCount, Problem};
use std::fs::File;
use std::io::{BufReader, BufWriter, IsTerminal, Write};
use std::path::PathBuf;

/// A table of boats.
#[derive(Debug, Args)]
pub struct BoatsAsk {
    /// The boats (CSV), one a row: name, hull, rig and loa, and whatever else
    /// is known; columns as the boat of an order has them.
    pub table: PathBuf,
    /// Write the loads (CSV) here; standard output where not given.
    #[arg(long)]
    pub out: Option<PathBuf>,
}

/// Works the table through; says on standard error how far it is.
pub fn boats(ask: &BoatsAsk) -> Result<BoatsCount, Problem> {
    let cannot =
        |path: &PathBuf, why: std::io::Error| Problem::disk(&format!("{} cannot be opened: {why}", path.display()));
    let mut table = BufReader::new(File::open(&ask.table).map_err(|why| cannot(&ask.table, why))?);
    let seen = std::io::stderr().is_terminal();
    let mut told = |count: BoatsCount| {
        let end = if seen { "\r" } else { "\n" };
        // Nobody can be told that standard error is closed.
        let _ = write!(std::io::stderr(), "{} boats, {} refused{end}", count.answered + count.refused, count.refused);
    };
    let count = match &ask.out {
        None => desk::boats(&mut table, &mut std::io::stdout().lock(), &mut told),
        Some(path) => {
            // Written beside its place and renamed: whole or absent.
            let beside = path.with_extension("part");
            let file = File::create(&beside).map_err(|why| cannot(&beside, why))?;
            let count = desk::boats(&mut table, &mut BufWriter::new(file), &mut told);
            match count {
                Ok(count) => std::fs::rename(&beside, path).map(|()| count).map_err(|why| cannot(path, why)),
                Err(why) => {
                    let _ = std::fs::remove_file(&beside);
                    Err(why)
                }
            }
        }
    }?;
    if seen {
        let _ = writeln!(std::io::stderr());
    }
    Ok(count)
}
