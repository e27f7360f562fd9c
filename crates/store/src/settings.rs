//! The loft's settings: a value, as JSON, under each key.

use crate::Store;
use crate::cell::Cell;
use crate::error::Error;
use crate::record::record;
use crate::stamp::Stamp;

record! {
    /// One setting of the loft.
    Setting "setting" in "settings" by [key] {
        /// Its name.
        key: String,
        /// Its value as JSON.
        value: String,
        /// How often it has been set; 1 at first.
        revision: i64,
        /// When it was set.
        at: String,
        /// Who set it.
        who: String,
    }
}

impl Store {
    /// One setting; none when it was never set.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn setting(&self, key: &str) -> Result<Option<Setting>, Error> {
        self.reading().await?.find(&[Cell::text(key)]).await
    }

    /// All settings, by key.
    ///
    /// # Errors
    /// When the store cannot be read.
    pub async fn settings(&self) -> Result<Vec<Setting>, Error> {
        self.reading().await?.list("ORDER BY key", &[]).await
    }

    /// Sets a value, whatever it was (`based_on` none), or only if the setting
    /// is still at the revision `based_on` (0: not set yet).
    ///
    /// # Errors
    /// [`Error::Changed`] when it is at another revision; when the store
    /// cannot be written.
    pub async fn set(&self, key: &str, value: &str, based_on: Option<i64>, stamp: &Stamp) -> Result<Setting, Error> {
        let mut work = self.writing().await?;
        work.turn(&format!("setting/{key}")).await?;
        let before: Option<Setting> = work.find(&[Cell::text(key)]).await?;
        let revision = before.as_ref().map_or(0, |before| before.revision);
        if let Some(yours) = based_on
            && yours != revision
        {
            let (by, at) = before.map_or((String::new(), String::new()), |before| (before.who, before.at));
            return Err(Error::Changed { kind: "setting", id: key.to_owned(), yours, theirs: revision, by, at });
        }
        let after = Setting {
            key: key.to_owned(),
            value: value.to_owned(),
            revision: revision + 1,
            at: stamp.at().to_owned(),
            who: stamp.who().to_owned(),
        };
        match before {
            Some(before) => work.replace(stamp, &before, &after).await?,
            None => work.insert(stamp, &after).await?,
        }
        work.commit().await?;
        Ok(after)
    }
}
