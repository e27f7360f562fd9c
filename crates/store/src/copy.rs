//! A store copied whole: as a backup, back from one, or to the other database.
//!
//! The original is read in one transaction, as it was at one moment, while
//! others go on writing to it. The copy is written in one transaction and
//! then read back; counts and checksums of every table must agree, or there
//! is no copy. A file is made under another name and takes its own only when
//! it is whole; nothing is ever written over.

use crate::cell::{Cell, Kind};
use crate::checksum;
use crate::error::Error;
use crate::place::Place;
use crate::record::Table;
use crate::store::{Store, folder_of, sync_folder};
use crate::tables::TABLES;
use crate::work::{Work, insertion, names};
use sha2::{Digest, Sha256};
use std::path::Path;

/// How many rows a table has, and their checksum.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, schemars::JsonSchema)]
pub struct Count {
    /// The table.
    pub table: &'static str,
    /// How many rows.
    pub rows: u64,
    /// SHA-256 over every value of every row, in order of the key.
    pub sha256: String,
}

impl Store {
    /// Rows and checksum of every table, as they are at one moment.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn counts(&self) -> Result<Vec<Count>, Error> {
        let mut work = self.reading().await?;
        let mut counts = Vec::new();
        for table in TABLES {
            counts.push(walk(&mut work, table, None).await?);
        }
        Ok(counts)
    }

    /// Copies everything to a place where there is nothing yet, and compares.
    ///
    /// # Errors
    /// [`Error::Occupied`]; [`Error::Differs`], with the copy removed; when
    /// either place cannot be read or written.
    pub async fn copy_to(&self, place: &Place) -> Result<Vec<Count>, Error> {
        match place {
            Place::Server(_) => {
                let copy = Store::open(place).await?;
                let counts = fill(self, &copy).await;
                copy.close().await;
                counts
            }
            Place::File(path) => self.copy_to_file(place, path).await,
        }
    }

    async fn copy_to_file(&self, place: &Place, path: &Path) -> Result<Vec<Count>, Error> {
        let unwritable = |error: std::io::Error| Error::of_io(place, &error);
        if path.exists() {
            return Err(Error::Occupied { place: place.to_string() });
        }
        let folder = folder_of(path);
        let draft = tempfile::Builder::new().prefix(".becket-copy-").tempdir_in(folder).map_err(unwritable)?;
        let draft_path = draft.path().join("copy");
        let copy = Store::open(&Place::File(draft_path.clone())).await?;
        let counts = fill(self, &copy).await;
        copy.close().await;
        let counts = counts?;
        std::fs::File::open(&draft_path).and_then(|file| file.sync_all()).map_err(unwritable)?;
        take_name(&draft_path, path).map_err(|error| match error.kind() {
            std::io::ErrorKind::AlreadyExists => Error::Occupied { place: place.to_string() },
            _ => unwritable(error),
        })?;
        sync_folder(folder).map_err(unwritable)?;
        Ok(counts)
    }
}

/// Gives a whole file its name. A link refuses to take another file's; a disk
/// without links (many a memory stick) gets a rename after a look.
fn take_name(draft: &Path, path: &Path) -> std::io::Result<()> {
    match std::fs::hard_link(draft, path) {
        Err(error) if error.kind() != std::io::ErrorKind::AlreadyExists && !path.exists() => {
            std::fs::rename(draft, path)
        }
        done => done,
    }
}

/// Copies a backup to a place where there is nothing yet. The backup itself is
/// not touched, also when its layout is older.
///
/// # Errors
/// As [`Store::open`] for the backup and [`Store::copy_to`] for the place.
pub async fn restore(backup: &Path, place: &Place) -> Result<Vec<Count>, Error> {
    let from = Place::File(backup.to_owned());
    let unreadable = |error: std::io::Error| Error::of_io(&from, &error);
    if !backup.exists() {
        return Err(Error::Unreachable { place: from.to_string(), why: "there is no such file".to_owned() });
    }
    let folder = tempfile::tempdir().map_err(unreadable)?;
    let own = folder.path().join("backup");
    std::fs::copy(backup, &own).map_err(unreadable)?;
    // A store that was not closed has its last entries in a log beside it.
    let mut log = backup.as_os_str().to_owned();
    log.push("-wal");
    if Path::new(&log).exists() {
        std::fs::copy(&log, folder.path().join("backup-wal")).map_err(unreadable)?;
    }
    let store = Store::open(&Place::File(own)).await?;
    let counts = store.copy_to(place).await;
    store.close().await;
    counts
}

/// Fills an empty store, and compares.
async fn fill(from: &Store, to: &Store) -> Result<Vec<Count>, Error> {
    let mut read = from.reading().await?;
    let mut write = to.writing().await?;
    for table in TABLES {
        let rows: Vec<(i64,)> = write.all(&format!("SELECT COUNT(*) FROM {}", table.name), &[]).await?;
        if rows != [(0,)] {
            return Err(Error::Occupied { place: to.place().to_string() });
        }
    }
    let mut counts = Vec::new();
    for table in TABLES {
        counts.push(walk(&mut read, table, Some(&mut write)).await?);
        if table.is_numbered() {
            write.number_on(table.name).await?;
        }
    }
    for original in &counts {
        let table = TABLES.iter().find(|table| table.name == original.table);
        if let Some(table) = table {
            let copy = walk(&mut write, table, None).await?;
            compare(original, &copy)?;
        }
    }
    write.commit().await?;
    Ok(counts)
}

fn compare(original: &Count, copy: &Count) -> Result<(), Error> {
    if original == copy {
        return Ok(());
    }
    let told = |count: &Count| format!("{} rows, {}", count.rows, count.sha256);
    Err(Error::Differs { table: original.table, original: told(original), copy: told(copy) })
}

/// Reads a table page by page in order of its key, adds it up, and writes
/// what it reads to `into`.
async fn walk(work: &mut Work, table: &Table, mut into: Option<&mut Work>) -> Result<Count, Error> {
    let columns = (table.columns)();
    let insert = insertion(table.name, &columns);
    let mut sum = Sha256::new();
    let mut rows = 0;
    let mut last: Option<Vec<Cell>> = None;
    loop {
        let page = next_page(work, table, last.as_deref()).await?;
        for row in &page {
            row.iter().for_each(|cell| add(&mut sum, cell));
            if let Some(into) = into.as_deref_mut() {
                into.run(&insert, row).await?;
            }
            rows += 1;
        }
        match page.last() {
            Some(row) => {
                last = Some(table.key.iter().filter_map(|name| row.get(table.position(name)?).cloned()).collect());
            }
            None => return Ok(Count { table: table.name, rows, sha256: checksum::hex(&sum.finalize()) }),
        }
    }
}

/// The rows whose keys follow `last`, in order of the key.
pub(crate) async fn next_page(work: &mut Work, table: &Table, last: Option<&[Cell]>) -> Result<Vec<Vec<Cell>>, Error> {
    let columns = (table.columns)();
    let kinds: Vec<Kind> = columns.iter().map(|column| column.kind).collect();
    let key = table.key.join(", ");
    let places: Vec<String> = (1..=table.key.len()).map(|number| format!("${number}")).collect();
    let after = if last.is_some() { format!("WHERE ({key}) > ({})", places.join(", ")) } else { String::new() };
    let statement =
        format!("SELECT {} FROM {} {after} ORDER BY {key} LIMIT {}", names(&columns), table.name, table.page());
    work.cells(&statement, last.unwrap_or_default(), &kinds).await
}

/// Kind, length and value, so that no two rows give the same bytes.
fn add(sum: &mut Sha256, cell: &Cell) {
    let mut put = |kind: u8, bytes: Option<&[u8]>| {
        sum.update([kind, u8::from(bytes.is_some())]);
        if let Some(bytes) = bytes {
            sum.update((bytes.len() as u64).to_be_bytes());
            sum.update(bytes);
        }
    };
    match cell {
        Cell::Text(text) => put(0, text.as_ref().map(String::as_bytes)),
        Cell::Whole(number) => put(1, number.map(i64::to_be_bytes).as_ref().map(<[u8; 8]>::as_slice)),
        Cell::Bytes(bytes) => put(2, bytes.as_deref()),
    }
}
