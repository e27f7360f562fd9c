//! One piece of work on either database: a transaction, statements with
//! their values, rows back as records.
//!
//! Every statement is written once, with `$1`, `$2` …; both databases read
//! it. The few words in which they differ are in [`Database`] and in the
//! layout.

use crate::cell::{Cell, Columns, Kind};
use crate::error::Error;
use crate::history;
use crate::place::Place;
use crate::record::{ColumnOf, Record, joined, key_cells, key_text};
use crate::stamp::Stamp;
use sqlx::postgres::PgRow;
use sqlx::sqlite::SqliteRow;
use sqlx::{AssertSqlSafe, Postgres, Row, Sqlite, Transaction};

/// Which database.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Database {
    Sqlite,
    Postgres,
}

impl Database {
    /// Names of all tables.
    pub(crate) const fn list_of_tables(self) -> &'static str {
        match self {
            Database::Sqlite => {
                "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite%' ORDER BY name"
            }
            Database::Postgres => {
                "SELECT CAST(tablename AS TEXT) FROM pg_tables WHERE schemaname = current_schema() ORDER BY tablename"
            }
        }
    }

    /// What makes a read row stay as it is until the transaction ends. A
    /// transaction that writes to an SQLite file has the file to itself.
    const fn held(self) -> &'static str {
        match self {
            Database::Sqlite => "",
            Database::Postgres => " FOR UPDATE",
        }
    }
}

/// A transaction; what was not committed never was.
pub(crate) struct Work {
    place: Place,
    inner: Inner,
}

pub(crate) enum Inner {
    Sqlite(Transaction<'static, Sqlite>),
    Postgres(Transaction<'static, Postgres>),
}

impl Work {
    pub(crate) const fn new(place: Place, inner: Inner) -> Work {
        Work { place, inner }
    }

    pub(crate) const fn place(&self) -> &Place {
        &self.place
    }

    pub(crate) const fn database(&self) -> Database {
        match self.inner {
            Inner::Sqlite(_) => Database::Sqlite,
            Inner::Postgres(_) => Database::Postgres,
        }
    }

    /// Makes everything in this work last.
    pub(crate) async fn commit(self) -> Result<(), Error> {
        let Work { place, inner } = self;
        let done = match inner {
            Inner::Sqlite(transaction) => transaction.commit().await,
            Inner::Postgres(transaction) => transaction.commit().await,
        };
        done.map_err(|error| Error::of_driver(&place, error))
    }

    /// Runs a statement; gives the number of rows it touched.
    pub(crate) async fn run(&mut self, statement: &str, cells: &[Cell]) -> Result<u64, Error> {
        check_text(cells)?;
        let text = AssertSqlSafe(statement.to_owned());
        let done = match &mut self.inner {
            Inner::Sqlite(transaction) => bound_sqlite(sqlx::query(text), cells)
                .execute(&mut **transaction)
                .await
                .map(|done| done.rows_affected()),
            Inner::Postgres(transaction) => bound_postgres(sqlx::query(text), cells)
                .execute(&mut **transaction)
                .await
                .map(|done| done.rows_affected()),
        };
        done.map_err(|error| Error::of_driver(&self.place, error))
    }

    /// The rows of a statement, as cells of these kinds.
    pub(crate) async fn cells(
        &mut self,
        statement: &str,
        cells: &[Cell],
        kinds: &[Kind],
    ) -> Result<Vec<Vec<Cell>>, Error> {
        check_text(cells)?;
        let text = AssertSqlSafe(statement.to_owned());
        let rows = match &mut self.inner {
            Inner::Sqlite(transaction) => bound_sqlite(sqlx::query(text), cells)
                .fetch_all(&mut **transaction)
                .await
                .and_then(|rows| rows.iter().map(|row| of_sqlite(row, kinds)).collect()),
            Inner::Postgres(transaction) => bound_postgres(sqlx::query(text), cells)
                .fetch_all(&mut **transaction)
                .await
                .and_then(|rows| rows.iter().map(|row| of_postgres(row, kinds)).collect()),
        };
        rows.map_err(|error| Error::of_driver(&self.place, error))
    }

    /// All rows of a statement.
    pub(crate) async fn all<T: Columns>(&mut self, statement: &str, cells: &[Cell]) -> Result<Vec<T>, Error> {
        self.cells(statement, cells, &T::kinds()).await?.into_iter().map(T::of_cells).collect()
    }

    /// Rows of a record's table; `rest` follows `SELECT … FROM table`.
    pub(crate) async fn list<R: Record>(&mut self, rest: &str, cells: &[Cell]) -> Result<Vec<R>, Error> {
        self.all(&format!("SELECT {} FROM {} {rest}", names(&(R::TABLE.columns)()), R::TABLE.name), cells).await
    }

    /// The row with this key.
    pub(crate) async fn find<R: Record>(&mut self, key: &[Cell]) -> Result<Option<R>, Error> {
        Ok(self.list::<R>(&by_key::<R>(1), key).await?.pop())
    }

    /// The row with this key, which nobody else changes until this work ends.
    ///
    /// # Errors
    /// [`Error::Missing`] when there is none.
    pub(crate) async fn hold<R: Record>(&mut self, key: &[Cell]) -> Result<R, Error> {
        let rest = format!("{}{}", by_key::<R>(1), self.database().held());
        let found = self.list::<R>(&rest, key).await?.pop();
        found.ok_or_else(|| Error::Missing { kind: R::TABLE.what, id: joined(key) })
    }

    /// Adds a row and its history.
    pub(crate) async fn insert<R: Record>(&mut self, stamp: &Stamp, row: &R) -> Result<(), Error> {
        self.put(row).await?;
        history::note::<R>(self, stamp, None, Some(row)).await
    }

    /// Adds a row of a table that keeps no history.
    pub(crate) async fn put<R: Record>(&mut self, row: &R) -> Result<(), Error> {
        let columns = (R::TABLE.columns)();
        let statement = insertion(R::TABLE.name, &columns);
        self.run(&statement, &row.cells()).await.map(|_| ()).map_err(|error| match error {
            Error::Taken { .. } => Error::Taken { kind: R::TABLE.what, id: key_text(row) },
            other => other,
        })
    }

    /// Adds a row to a numbered table and gives its number; the row's own
    /// number, its first column, is not looked at.
    pub(crate) async fn append<R: Record>(&mut self, row: &R) -> Result<i64, Error> {
        let columns = (R::TABLE.columns)();
        let statement = format!("{} RETURNING seq", insertion(R::TABLE.name, &columns[1..]));
        let rows: Vec<(i64,)> = self.all(&statement, &row.cells()[1..]).await?;
        rows.first()
            .map(|(seq,)| *seq)
            .ok_or_else(|| Error::Refused { why: format!("{} gave no number", R::TABLE.name) })
    }

    /// Writes a row over the one with its key, and its history.
    pub(crate) async fn replace<R: Record>(&mut self, stamp: &Stamp, before: &R, after: &R) -> Result<(), Error> {
        let columns = (R::TABLE.columns)();
        let sets: Vec<String> =
            columns.iter().enumerate().map(|(index, column)| format!("{} = ${}", column.name, index + 1)).collect();
        let statement = format!("UPDATE {} SET {} {}", R::TABLE.name, sets.join(", "), by_key::<R>(columns.len() + 1));
        let mut cells = after.cells();
        cells.extend(key_cells(before));
        if self.run(&statement, &cells).await? != 1 {
            return Err(Error::Missing { kind: R::TABLE.what, id: key_text(before) });
        }
        history::note(self, stamp, Some(before), Some(after)).await
    }

    /// Waits until no other work has the turn of this name, and takes it: for
    /// a row that may not be there yet and so cannot be held.
    pub(crate) async fn turn(&mut self, name: &str) -> Result<(), Error> {
        if self.database() == Database::Postgres {
            let statement = "SELECT CAST(pg_advisory_xact_lock(hashtextextended($1, 0)) AS TEXT)";
            self.cells(statement, &[Cell::text(name)], &[Kind::Text]).await?;
        }
        Ok(())
    }

    /// After rows were written with their numbers: the next one goes on from
    /// the highest. SQLite does so by itself.
    pub(crate) async fn number_on(&mut self, table: &str) -> Result<(), Error> {
        if self.database() == Database::Postgres {
            let statement = format!(
                "SELECT setval(pg_get_serial_sequence('{table}', 'seq'), \
                 (SELECT COALESCE(MAX(seq), 0) + 1 FROM {table}), false)"
            );
            self.cells(&statement, &[], &[Kind::Whole]).await?;
        }
        Ok(())
    }

    /// While a transaction has this, no other brings the layout up.
    pub(crate) async fn lock_layout(&mut self) -> Result<(), Error> {
        if self.database() == Database::Postgres {
            // Any number will do that no other program of the server uses.
            self.cells("SELECT CAST(pg_advisory_xact_lock(4283920175) AS TEXT)", &[], &[Kind::Text]).await?;
        }
        Ok(())
    }
}

/// `WHERE key = $first …`.
pub(crate) fn by_key<R: Record>(first: usize) -> String {
    let parts: Vec<String> =
        R::TABLE.key.iter().enumerate().map(|(index, name)| format!("{name} = ${}", first + index)).collect();
    format!("WHERE {}", parts.join(" AND "))
}

/// Column names with commas between.
pub(crate) fn names(columns: &[ColumnOf]) -> String {
    columns.iter().map(|column| column.name).collect::<Vec<&str>>().join(", ")
}

/// `INSERT INTO table (…) VALUES ($1, …)`.
pub(crate) fn insertion(table: &str, columns: &[ColumnOf]) -> String {
    let places: Vec<String> = (1..=columns.len()).map(|number| format!("${number}")).collect();
    format!("INSERT INTO {table} ({}) VALUES ({})", names(columns), places.join(", "))
}

/// PostgreSQL keeps no NUL in a text, so neither database is asked to.
fn check_text(cells: &[Cell]) -> Result<(), Error> {
    for cell in cells {
        if let Cell::Text(Some(text)) = cell
            && text.contains('\0')
        {
            let given: String = text.chars().take(40).collect();
            let allowed = "text without the character NUL".to_owned();
            return Err(Error::Value { field: "text", given, allowed });
        }
    }
    Ok(())
}

type SqliteQuery<'q> = sqlx::query::Query<'q, Sqlite, sqlx::sqlite::SqliteArguments>;
type PostgresQuery<'q> = sqlx::query::Query<'q, Postgres, sqlx::postgres::PgArguments>;

fn bound_sqlite<'q>(query: SqliteQuery<'q>, cells: &[Cell]) -> SqliteQuery<'q> {
    cells.iter().fold(query, |query, cell| match cell.clone() {
        Cell::Text(text) => query.bind(text),
        Cell::Whole(number) => query.bind(number),
        Cell::Bytes(bytes) => query.bind(bytes),
    })
}

fn bound_postgres<'q>(query: PostgresQuery<'q>, cells: &[Cell]) -> PostgresQuery<'q> {
    cells.iter().fold(query, |query, cell| match cell.clone() {
        Cell::Text(text) => query.bind(text),
        Cell::Whole(number) => query.bind(number),
        Cell::Bytes(bytes) => query.bind(bytes),
    })
}

fn of_sqlite(row: &SqliteRow, kinds: &[Kind]) -> Result<Vec<Cell>, sqlx::Error> {
    let cell = |(at, kind): (usize, &Kind)| {
        Ok(match kind {
            Kind::Text => Cell::Text(row.try_get(at)?),
            Kind::Whole => Cell::Whole(row.try_get(at)?),
            Kind::Bytes => Cell::Bytes(row.try_get(at)?),
        })
    };
    kinds.iter().enumerate().map(cell).collect()
}

fn of_postgres(row: &PgRow, kinds: &[Kind]) -> Result<Vec<Cell>, sqlx::Error> {
    let cell = |(at, kind): (usize, &Kind)| {
        Ok(match kind {
            Kind::Text => Cell::Text(row.try_get(at)?),
            Kind::Whole => Cell::Whole(row.try_get(at)?),
            Kind::Bytes => Cell::Bytes(row.try_get(at)?),
        })
    };
    kinds.iter().enumerate().map(cell).collect()
}
