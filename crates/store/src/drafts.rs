//! What is half entered: each field of a page as it was last typed, by each
//! person, kept until it is saved or thrown away. Drafts have no history:
//! they are not yet anything.

use crate::Store;
use crate::cell::Cell;
use crate::error::Error;
use crate::record::record;
use crate::stamp::Stamp;

record! {
    /// One field, half entered.
    Draft "draft" in "drafts" by [who, page, field] {
        /// Who is typing.
        who: String,
        /// On which page: its address in the program.
        page: String,
        /// In which field.
        field: String,
        /// What stands in it.
        value: String,
        /// The revision of the thing that was shown when typing began.
        based_on: Option<i64>,
        /// When it was typed.
        at: String,
    }
}

/// A field as it is typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Typed<'a> {
    /// The page.
    pub page: &'a str,
    /// The field.
    pub field: &'a str,
    /// What stands in it.
    pub value: &'a str,
    /// The revision of what was shown.
    pub based_on: Option<i64>,
}

impl Store {
    /// Keeps what was typed, all fields in one transaction.
    ///
    /// # Errors
    /// When the store cannot be written.
    pub async fn keep_drafts(&self, typed: &[Typed<'_>], stamp: &Stamp) -> Result<(), Error> {
        let mut work = self.writing().await?;
        for one in typed {
            let cells = [
                Cell::text(stamp.who()),
                Cell::text(one.page),
                Cell::text(one.field),
                Cell::text(one.value),
                Cell::Whole(one.based_on),
                Cell::text(stamp.at()),
            ];
            let statement = "INSERT INTO drafts (who, page, field, value, based_on, at) VALUES ($1, $2, $3, $4, $5, $6) \
                 ON CONFLICT (who, page, field) DO UPDATE SET value = $4, based_on = $5, at = $6";
            work.run(statement, &cells).await?;
        }
        work.commit().await
    }

    /// What `who` has half entered on a page, by field.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn drafts(&self, who: &str, page: &str) -> Result<Vec<Draft>, Error> {
        let cells = [Cell::text(who), Cell::text(page)];
        self.reading().await?.list("WHERE who = $1 AND page = $2 ORDER BY field", &cells).await
    }

    /// Everybody's half-entered fields of a page: who else is at it.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn drafts_of_all(&self, page: &str) -> Result<Vec<Draft>, Error> {
        self.reading().await?.list("WHERE page = $1 ORDER BY who, field", &[Cell::text(page)]).await
    }

    /// Throws away what `who` has half entered on a page.
    ///
    /// # Errors
    /// When the store cannot be written.
    pub async fn drop_drafts(&self, who: &str, page: &str) -> Result<(), Error> {
        let mut work = self.writing().await?;
        work.run("DELETE FROM drafts WHERE who = $1 AND page = $2", &[Cell::text(who), Cell::text(page)]).await?;
        work.commit().await
    }
}
