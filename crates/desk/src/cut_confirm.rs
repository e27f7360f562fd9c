//! A plan confirmed: the rack file changed once, and taken back from a journal.
//!
//! The journal lies beside the rack, `rack.csv.journal`. It is written before
//! the rack, and both are written beside their place and renamed; an entry
//! whose rack was never written is known by its fingerprints and dropped. One
//! confirmation at a time: the others wait for the lock.

use crate::cut_rack::{RackChange, RackRow, confirm_rows, rack_fingerprint, take_back_rows};
use crate::input::open;
use crate::problem::{Fault, Problem};
use crate::save::save;
use crate::text::Text;
use files::{RackEdit, rewrite_rack};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::fs::File;
use std::path::{Path, PathBuf};

/// What was done to a rack.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ConfirmAnswer {
    /// The rack file.
    pub rack: String,
    /// The journal beside it.
    pub journal: String,
    /// The reels that went.
    pub gone: Vec<RackRow>,
    /// The reels that came.
    pub come: Vec<RackRow>,
    /// What tells the rack as it is now from every other.
    pub fingerprint: String,
    /// Confirmed plans that can still be taken back, the last one first.
    pub can_be_taken_back: usize,
}

/// The plan's own part of the file that `cut` wrote.
#[derive(Debug, Deserialize)]
struct PlanFile {
    rack: RackChange,
}

/// Every confirmed plan, the first first.
#[derive(Debug, Default, Serialize, Deserialize)]
struct Journal {
    entries: Vec<Entry>,
}

/// One confirmed plan.
#[derive(Debug, Serialize, Deserialize)]
struct Entry {
    /// Fingerprints of the rack before and after.
    before: String,
    after: String,
    change: RackChange,
    /// The rack file as it was.
    file: String,
    taken_back: bool,
}

/// Confirms a written plan: the rack file is changed once, in one step.
///
/// # Errors
/// When the plan or the rack cannot be read, when the rack is not the one that
/// the plan was made for, and when it cannot be written: it is then as it was.
pub fn confirm(rack: &Path, plan: &Path) -> Result<ConfirmAnswer, Problem> {
    let written = open(&Text::File(plan.to_owned()), files::LARGEST_TABLE * 4)?;
    let plan: PlanFile = serde_json::from_slice(&written.bytes).map_err(|why| {
        Problem::new(Fault::File, "not-a-plan", format!("{} is not a cut plan: {why}", written.name))
            .hint("give the cut-plan.json that becket cut --out wrote")
    })?;
    confirm_change(rack, &plan.rack)
}

/// Confirms a plan's change.
///
/// # Errors
/// As [`confirm`].
pub fn confirm_change(rack: &Path, change: &RackChange) -> Result<ConfirmAnswer, Problem> {
    let _held = lock(rack)?;
    let (bytes, rows) = read(rack)?;
    let mut journal = read_journal(rack, &rows)?;
    let after = confirm_rows(&rows, change)?;
    let file = rewritten(&bytes, &rows, &after)?;
    journal.entries.push(Entry {
        before: change.fingerprint.clone(),
        after: rack_fingerprint(&after),
        change: change.clone(),
        file: String::from_utf8_lossy(&bytes).into_owned(),
        taken_back: false,
    });
    write_journal(rack, &journal)?;
    save(rack, &file)?;
    Ok(answer(rack, &journal, change, &after))
}

/// Takes the last confirmed plan back. Where nothing else has changed since
/// then the file is again what it was, to the byte.
///
/// # Errors
/// When nothing is to be taken back, or a reel that the plan left is no longer
/// what it left.
pub fn take_back(rack: &Path) -> Result<ConfirmAnswer, Problem> {
    let _held = lock(rack)?;
    let (bytes, rows) = read(rack)?;
    let mut journal = read_journal(rack, &rows)?;
    let Some(entry) = journal.entries.iter_mut().rfind(|entry| !entry.taken_back) else {
        return Err(Problem::refused("nothing-confirmed", "no confirmed plan is left to be taken back")
            .hint(format!("{} says what was confirmed", journal_of(rack).display())));
    };
    let before = take_back_rows(&rows, &entry.change)?;
    let untouched = rack_fingerprint(&rows) == entry.after;
    let file = if untouched { entry.file.clone().into_bytes() } else { rewritten(&bytes, &rows, &before)? };
    entry.taken_back = true;
    let change = entry.change.inverse(&rows);
    save(rack, &file)?;
    write_journal(rack, &journal)?;
    Ok(answer(rack, &journal, &change, &before))
}

fn answer(rack: &Path, journal: &Journal, change: &RackChange, now: &[RackRow]) -> ConfirmAnswer {
    ConfirmAnswer {
        rack: rack.display().to_string(),
        journal: journal_of(rack).display().to_string(),
        gone: change.gone.clone(),
        come: change.come.clone(),
        fingerprint: rack_fingerprint(now),
        can_be_taken_back: journal.entries.iter().filter(|entry| !entry.taken_back).count(),
    }
}

fn read(rack: &Path) -> Result<(Vec<u8>, Vec<RackRow>), Problem> {
    let input = open(&Text::File(rack.to_owned()), files::LARGEST_TABLE)?;
    let records = input.complete(files::read_rack(&input.bytes))?;
    let rows = records.iter().map(|record| RackRow::of(&record.value)).collect();
    Ok((input.bytes, rows))
}

fn beside(rack: &Path, ending: &str) -> PathBuf {
    let mut name = rack.file_name().unwrap_or_default().to_os_string();
    name.push(ending);
    rack.with_file_name(name)
}

fn journal_of(rack: &Path) -> PathBuf {
    beside(rack, ".journal")
}

/// Held until it is dropped; whoever comes meanwhile waits.
fn lock(rack: &Path) -> Result<File, Problem> {
    let path = beside(rack, ".lock");
    let open = File::options().create(true).truncate(false).write(true).open(&path);
    let held = open.and_then(|file| file.lock().map(|()| file));
    held.map_err(|why| {
        Problem::new(Fault::Disk, "cannot-lock", format!("{} cannot be locked: {why}", path.display()))
            .hint("check that the rack's folder can be written")
    })
}

/// The journal, without a last entry whose rack was never written.
fn read_journal(rack: &Path, rows: &[RackRow]) -> Result<Journal, Problem> {
    let path = journal_of(rack);
    let bytes = match std::fs::read(&path) {
        Ok(bytes) => bytes,
        Err(why) if why.kind() == std::io::ErrorKind::NotFound => return Ok(Journal::default()),
        Err(why) => {
            let message = format!("{} cannot be read: {why}", path.display());
            return Err(Problem::new(Fault::Disk, "cannot-read", message));
        }
    };
    let mut journal: Journal = serde_json::from_slice(&bytes).map_err(|why| {
        Problem::new(Fault::File, "not-a-journal", format!("{} cannot be read: {why}", path.display()))
            .hint("put it aside under another name; what it says can then be taken back by hand only")
    })?;
    let now = rack_fingerprint(rows);
    if let Some(last) = journal.entries.pop_if(|last| !last.taken_back && last.before == now && last.after != now) {
        drop(last);
    }
    Ok(journal)
}

fn write_journal(rack: &Path, journal: &Journal) -> Result<(), Problem> {
    let bytes = serde_json::to_vec_pretty(journal).map_err(|why| Problem::disk(&why.to_string()))?;
    save(&journal_of(rack), &bytes)
}

/// The rack file with the rows that differ written anew.
fn rewritten(bytes: &[u8], before: &[RackRow], after: &[RackRow]) -> Result<Vec<u8>, Problem> {
    let mut edits = Vec::new();
    for row in before {
        match after.iter().find(|now| now.reel == row.reel) {
            None => edits.push(RackEdit::Drop { reel: row.reel.clone() }),
            Some(now) if now != row => {
                let (old, new) = (cells(row), cells(now));
                let cells = new.into_iter().zip(old).filter(|(new, old)| new != old).map(|(new, _)| new).collect();
                edits.push(RackEdit::Set { reel: row.reel.clone(), cells });
            }
            Some(_) => {}
        }
    }
    for row in after.iter().filter(|row| !before.iter().any(|old| old.reel == row.reel)) {
        edits.push(RackEdit::Add { cells: cells(row) });
    }
    rewrite_rack(bytes, &edits).map_err(|problem| Problem::new(Fault::File, problem.code, problem.message.clone()))
}

/// A row as a rack file writes it. What is usual is left empty.
fn cells(row: &RackRow) -> Vec<(&'static str, String)> {
    let flaws = row.flaws_mm.iter().map(|&(from, to)| format!("{}..{}", metres(from), metres(to)));
    vec![
        ("reel", row.reel.clone()),
        ("rope", row.rope.clone()),
        ("colour", row.colour.clone().unwrap_or_default()),
        ("batch", row.batch.clone().unwrap_or_default()),
        ("length", metres(row.length_mm)),
        ("count", if row.count == 1 { String::new() } else { row.count.to_string() }),
        ("remnant", if row.remnant { "true".to_owned() } else { String::new() }),
        ("flaws", flaws.collect::<Vec<_>>().join("; ")),
        ("price_per_metre", row.price_per_metre.clone().unwrap_or_default()),
    ]
}

/// Whole millimetres as metres, exactly.
fn metres(mm: i64) -> String {
    let text = format!("{}.{:03}", mm / 1000, mm % 1000);
    format!("{} m", text.trim_end_matches('0').trim_end_matches('.'))
}
