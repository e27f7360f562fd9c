//! `becket store`: backup, restore, move, export, check.

use clap::{Args, Subcommand};
use desk::Problem;
use desk::records::rows::Count;
use desk::records::{Records, wait};
use serde::Serialize;
use std::path::PathBuf;

/// The records as a whole.
#[derive(Debug, Args)]
pub struct StoreAsk {
    #[command(subcommand)]
    task: StoreTask,
}

#[derive(Debug, Subcommand)]
enum StoreTask {
    /// Copy a store to a new file and compare; others may go on writing.
    Backup {
        /// The store: a file, or a postgres:// address.
        store: String,
        /// The new file.
        file: PathBuf,
    },
    /// Bring a backup back, to a place where there is nothing yet.
    Restore {
        /// The backup.
        file: PathBuf,
        /// Where to: a new file, or the postgres:// address of an empty database.
        store: String,
    },
    /// Copy a store to the other database and compare: the old one stays.
    Move {
        /// The store.
        from: String,
        /// Where to, nothing being there yet.
        to: String,
    },
    /// Write everything to a new folder as CSV and JSON.
    Export {
        /// The store.
        store: String,
        /// The new folder.
        folder: PathBuf,
    },
    /// Look whether a store is whole; count and add up its tables.
    Check {
        /// The store.
        store: String,
    },
}

/// What a check found.
#[derive(Debug, Serialize)]
struct Checked {
    store: String,
    tables: Vec<Count>,
}

/// What was done: its JSON, and its text.
pub type Done = (serde_json::Value, String);

/// Does the task.
///
/// # Errors
/// As the task of desk.
pub fn run(ask: &StoreAsk) -> Result<Done, Problem> {
    wait(async {
        match &ask.task {
            StoreTask::Backup { store, file } => copy("backed up", store, &file.display().to_string()).await,
            StoreTask::Move { from, to } => copy("copied", from, to).await,
            StoreTask::Restore { file, store } => {
                let answer = Records::restore(file, store).await?;
                let text = told("restored", &answer.from, &answer.to, &answer.tables);
                done(&answer, text)
            }
            StoreTask::Export { store, folder } => {
                let records = there(store).await?;
                let answer = records.export_to(folder).await;
                records.close().await;
                let answer = answer?;
                let rows: u64 = answer.tables.iter().map(|table| table.rows).sum();
                let count = answer.tables.len();
                let text = format!("{rows} rows of {count} tables written to {}\n", answer.folder);
                done(&answer, text)
            }
            StoreTask::Check { store } => {
                let records = there(store).await?;
                let tables = records.look_over().await;
                let store = records.store().place().to_string();
                records.close().await;
                let tables = tables?;
                let text = format!("{store}: whole\n{}", listed(&tables));
                done(&Checked { store, tables }, text)
            }
        }
    })?
}

/// A store that is there: a mistyped name must not make an empty one.
async fn there(store: &str) -> Result<Records, Problem> {
    Records::open_existing(store).await
}

async fn copy(word: &str, from: &str, to: &str) -> Result<Done, Problem> {
    let records = there(from).await?;
    let answer = records.copy_to(to).await;
    records.close().await;
    let answer = answer?;
    let text = told(word, &answer.from, &answer.to, &answer.tables);
    done(&answer, text)
}

fn done<T: Serialize>(answer: &T, text: String) -> Result<Done, Problem> {
    let json = serde_json::to_value(answer).map_err(|why| Problem::disk(&why.to_string()))?;
    Ok((json, text))
}

fn told(word: &str, from: &str, to: &str, tables: &[Count]) -> String {
    let rows: u64 = tables.iter().map(|table| table.rows).sum();
    format!("{from} {word} to {to}: {rows} rows of {} tables, counts and checksums agree\n", tables.len())
}

fn listed(tables: &[Count]) -> String {
    let line = |table: &Count| {
        format!("{:<16}{:>9}  {}\n", table.table, table.rows, table.sha256.get(..16).unwrap_or_default())
    };
    tables.iter().map(line).collect()
}
