//! A store opened: made where there is nothing, brought up to the newest
//! layout where it is older, refused where it is newer or something else.
//!
//! SQLite: one file with its write-ahead log beside it, every commit on the
//! disk before it is acknowledged (`synchronous=FULL`), foreign keys kept.
//! One connection writes and several read, so that benches of one program
//! queue in order instead of colliding; another program on the same file is
//! waited for. A new file is made beside its place and renamed, so a store is
//! whole or not there.
//!
//! PostgreSQL: a pool whose connections are tried before they are used, so
//! that a server that was gone and is back needs nothing done here.

use crate::error::Error;
use crate::layout;
use crate::place::Place;
use crate::work::{Inner, Work};
use sqlx::postgres::{PgConnectOptions, PgPoolOptions, PgSslMode};
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};
use sqlx::{PgPool, Sqlite, SqlitePool, Transaction};
use std::path::Path;
use std::str::FromStr;
use std::time::Duration;

/// How long a writer waits for its turn.
const LONGEST_WAIT: Duration = Duration::from_secs(30);
/// How long a server may take to answer.
const SERVER_WAIT: Duration = Duration::from_secs(5);
/// Written into the file's head, bytes 68 to 71: "Beck".
const MARK: u32 = 0x4265_636b;

/// An open store. Cloning it is cheap, and the clones share its connections.
#[derive(Debug, Clone)]
pub struct Store {
    place: Place,
    pools: Pools,
}

#[derive(Debug, Clone)]
enum Pools {
    File { writer: SqlitePool, readers: SqlitePool },
    Server(PgPool),
}

impl Store {
    /// Opens the store at `place`, and makes it where there is nothing yet.
    ///
    /// # Errors
    /// [`Error::Newer`], [`Error::NotAStore`], [`Error::Unreachable`],
    /// [`Error::ReadOnly`] (an older layout in a file that cannot be written),
    /// [`Error::Full`].
    ///
    /// ```
    /// # let folder = tempfile::tempdir().unwrap();
    /// # let path = folder.path().join("loft.becket");
    /// # tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap().block_on(async {
    /// use store::{Place, Stamp, Store};
    /// let store = Store::open(&Place::File(path)).await?;
    /// let stamp = Stamp::new("Ada", "2026-11-25T14:05:00Z")?;
    /// store.set("units", "\"metric\"", None, &stamp).await?;
    /// assert_eq!(store.setting("units").await?.unwrap().value, "\"metric\"");
    /// # store.close().await;
    /// # Ok::<(), store::Error>(())
    /// # }).unwrap();
    /// ```
    pub async fn open(place: &Place) -> Result<Store, Error> {
        let pools = match place {
            Place::File(path) => {
                if !path.exists() {
                    make_file(place, path).await?;
                }
                check_head(place, path)?;
                open_file(place, path).await?
            }
            Place::Server(url) => open_server(place, url).await?,
        };
        let store = Store { place: place.clone(), pools };
        let brought = store.bring_up().await;
        if brought.is_err() {
            store.close().await;
        }
        brought.map(|()| store)
    }

    /// Brings the layout up; a store that is up already is only read.
    async fn bring_up(&self) -> Result<(), Error> {
        if layout::is_up(&mut self.reading().await?).await? {
            return Ok(());
        }
        let mut work = self.writing().await?;
        layout::bring_up(&mut work).await?;
        work.commit().await
    }

    /// Where the store is.
    #[must_use]
    pub const fn place(&self) -> &Place {
        &self.place
    }

    /// Looks whether the database itself is whole: every page and index of an
    /// SQLite file; a server sees to that itself.
    ///
    /// # Errors
    /// [`Error::NotAStore`] with what is damaged; when it cannot be read.
    pub async fn check_whole(&self) -> Result<(), Error> {
        if !matches!(self.pools, Pools::File { .. }) {
            return Ok(());
        }
        let found: Vec<(String,)> = self.reading().await?.all("PRAGMA integrity_check", &[]).await?;
        match found.first() {
            Some((word,)) if word == "ok" => Ok(()),
            other => {
                let why = format!("it is damaged: {}", other.map(|(word,)| word.as_str()).unwrap_or_default());
                Err(Error::NotAStore { place: self.place.to_string(), why })
            }
        }
    }

    /// Closes every connection; an SQLite file then stands alone, without
    /// its log.
    pub async fn close(&self) {
        match &self.pools {
            Pools::File { writer, readers } => {
                readers.close().await;
                writer.close().await;
            }
            Pools::Server(pool) => pool.close().await,
        }
    }

    /// A transaction that writes.
    pub(crate) async fn writing(&self) -> Result<Work, Error> {
        let inner = match &self.pools {
            Pools::File { writer, .. } => begin_to_write(writer).await.map(Inner::Sqlite),
            Pools::Server(pool) => pool.begin().await.map(Inner::Postgres),
        };
        Ok(Work::new(self.place.clone(), inner.map_err(|error| Error::of_driver(&self.place, error))?))
    }

    /// A transaction that reads the store as it is at its first statement.
    pub(crate) async fn reading(&self) -> Result<Work, Error> {
        let inner = match &self.pools {
            Pools::File { readers, .. } => readers.begin().await.map(Inner::Sqlite),
            Pools::Server(pool) => {
                pool.begin_with("BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY").await.map(Inner::Postgres)
            }
        };
        Ok(Work::new(self.place.clone(), inner.map_err(|error| Error::of_driver(&self.place, error))?))
    }
}

/// Begins on the one connection that writes. SQLite ends a transaction by
/// itself when the disk is full, and the driver then counts one that is open
/// for ever: such a connection is closed, and another begins.
async fn begin_to_write(writer: &SqlitePool) -> Result<Transaction<'static, Sqlite>, sqlx::Error> {
    match writer.begin_with("BEGIN IMMEDIATE").await {
        Err(sqlx::Error::InvalidSavePointStatement) => {
            writer.acquire().await?.close().await?;
            writer.begin_with("BEGIN IMMEDIATE").await
        }
        begun => begun,
    }
}

fn file_options(path: &Path) -> SqliteConnectOptions {
    SqliteConnectOptions::new()
        .filename(path)
        .synchronous(SqliteSynchronous::Full)
        .foreign_keys(true)
        .busy_timeout(LONGEST_WAIT)
}

/// A new file with its layout, made under another name beside `path`.
async fn make_file(place: &Place, path: &Path) -> Result<(), Error> {
    let folder = folder_of(path);
    let unwritable = |error: std::io::Error| Error::of_io(place, &error);
    let draft = tempfile::Builder::new().prefix(".becket-new-").tempfile_in(folder).map_err(unwritable)?;
    let options = file_options(draft.path()).pragma("application_id", MARK.to_string());
    let pool = SqlitePoolOptions::new().max_connections(1).connect_with(options).await;
    let pool = pool.map_err(|error| Error::of_driver(place, error))?;
    let store = Store { place: place.clone(), pools: Pools::File { writer: pool.clone(), readers: pool } };
    let made = async {
        let mut work = store.writing().await?;
        layout::bring_up(&mut work).await?;
        work.commit().await
    };
    let made = made.await;
    store.close().await;
    made?;
    draft.as_file().sync_all().map_err(unwritable)?;
    match draft.persist_noclobber(path) {
        Ok(_) => sync_folder(folder).map_err(unwritable),
        // Somebody else made it in the meantime: theirs is as good.
        Err(_) if path.exists() => Ok(()),
        Err(error) => Err(unwritable(error.error)),
    }
}

/// The folder that a file is in.
pub(crate) fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// A renamed file is on the disk when its folder is.
#[cfg(unix)]
pub(crate) fn sync_folder(folder: &Path) -> std::io::Result<()> {
    std::fs::File::open(folder)?.sync_all()
}

#[cfg(not(unix))]
pub(crate) fn sync_folder(_: &Path) -> std::io::Result<()> {
    Ok(())
}

/// Looks into the file's head before anything is changed in it.
fn check_head(place: &Place, path: &Path) -> Result<(), Error> {
    use std::io::Read;
    let mut head = Vec::new();
    let file = std::fs::File::open(path).map_err(|error| Error::of_io(place, &error))?;
    file.take(100).read_to_end(&mut head).map_err(|error| Error::of_io(place, &error))?;
    let why = if head.is_empty() {
        "the file is empty"
    } else if head.len() < 100 || !head.starts_with(b"SQLite format 3\0") {
        "the file is no SQLite database"
    } else if head[68..72] != MARK.to_be_bytes() {
        "the file is an SQLite database of another program"
    } else {
        return Ok(());
    };
    Err(Error::NotAStore { place: place.to_string(), why: why.to_owned() })
}

async fn open_file(place: &Place, path: &Path) -> Result<Pools, Error> {
    if std::fs::OpenOptions::new().append(true).open(path).is_err() {
        return open_to_read(place, path).await;
    }
    let fault = |error| Error::of_driver(place, error);
    let options = file_options(path);
    let writer = SqlitePoolOptions::new()
        .max_connections(1)
        .acquire_timeout(LONGEST_WAIT)
        .connect_with(options.clone().journal_mode(SqliteJournalMode::Wal))
        .await
        .map_err(fault)?;
    let readers = SqlitePoolOptions::new()
        .max_connections(8)
        .acquire_timeout(LONGEST_WAIT)
        .connect_with(options.pragma("query_only", "ON"))
        .await
        .map_err(fault)?;
    Ok(Pools::File { writer, readers })
}

/// A file that may not be written. Its log's index is kept beside it; where
/// the folder may not be written either, nobody else can be writing, and the
/// file is read as one that does not change.
async fn open_to_read(place: &Place, path: &Path) -> Result<Pools, Error> {
    let options = file_options(path).read_only(true);
    let mut last = None;
    for options in [options.clone(), options.immutable(true)] {
        let pool = SqlitePoolOptions::new().max_connections(8).connect_with(options).await;
        let tried = match pool {
            Ok(pool) => sqlx::query("SELECT COUNT(*) FROM sqlite_master").execute(&pool).await.map(|_| pool),
            Err(error) => Err(error),
        };
        match tried {
            Ok(pool) => return Ok(Pools::File { writer: pool.clone(), readers: pool }),
            Err(error) => last = Some(Error::of_driver(place, error)),
        }
    }
    Err(last.unwrap_or_else(|| Error::ReadOnly { why: place.to_string() }))
}

/// The connection is not encrypted: it stays within this machine unless the
/// address says `sslmode=disable` in so many words.
fn refuse_unencrypted(options: &PgConnectOptions) -> Result<(), Error> {
    let host = options.get_host();
    let here = options.get_socket().is_some()
        || host.starts_with('/')
        || host.eq_ignore_ascii_case("localhost")
        || host.trim_matches(['[', ']']).parse::<std::net::IpAddr>().is_ok_and(|address| address.is_loopback());
    if here || matches!(options.get_ssl_mode(), PgSslMode::Disable) {
        return Ok(());
    }
    Err(Error::Unencrypted { host: host.to_owned() })
}

async fn open_server(place: &Place, url: &str) -> Result<Pools, Error> {
    let options = PgConnectOptions::from_str(url).map_err(|error| Error::of_driver(place, error))?;
    refuse_unencrypted(&options)?;
    let options = options.application_name("becket").options([("lock_timeout", "30s")]);
    let pool = PgPoolOptions::new().max_connections(16).acquire_timeout(SERVER_WAIT).connect_with(options).await;
    Ok(Pools::Server(pool.map_err(|error| Error::of_driver(place, error))?))
}
