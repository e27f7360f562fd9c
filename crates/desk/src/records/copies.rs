//! Backup, restore, move and export: the whole store at once.

use super::Records;
use crate::problem::Problem;
use schemars::JsonSchema;
use serde::Serialize;
use std::path::Path;
use store::{Count, Exported, Place};

/// A copy that was made and compared.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CopyAnswer {
    /// From where; without a password.
    pub from: String,
    /// To where.
    pub to: String,
    /// Rows and checksum of each table, the same in both.
    pub tables: Vec<Count>,
}

/// An export that was written.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ExportAnswer {
    /// The folder.
    pub folder: String,
    /// Rows of each table.
    pub tables: Vec<Exported>,
}

impl Records {
    /// Copies everything to a place where there is nothing yet: a backup to a
    /// file, or a move to the other database. Others may go on writing
    /// meanwhile; the copy is the store as it was at one moment.
    ///
    /// # Errors
    /// When there is something at the place, or a checksum differs.
    pub async fn copy_to(&self, place: &str) -> Result<CopyAnswer, Problem> {
        let to = Place::parse(place);
        let tables = self.store().copy_to(&to).await?;
        Ok(CopyAnswer { from: self.store().place().to_string(), to: to.to_string(), tables })
    }

    /// Brings a backup back, to a place where there is nothing yet.
    ///
    /// # Errors
    /// As [`Records::copy_to`], and when the backup is none.
    pub async fn restore(backup: &Path, place: &str) -> Result<CopyAnswer, Problem> {
        let to = Place::parse(place);
        let tables = store::restore(backup, &to).await?;
        Ok(CopyAnswer { from: backup.display().to_string(), to: to.to_string(), tables })
    }

    /// Writes everything to a new folder as CSV and JSON.
    ///
    /// # Errors
    /// When the folder is there already or cannot be written.
    pub async fn export_to(&self, folder: &Path) -> Result<ExportAnswer, Problem> {
        let tables = self.store().export_to(folder).await?;
        Ok(ExportAnswer { folder: folder.display().to_string(), tables })
    }

    /// Looks whether the store is whole, and adds up every table.
    ///
    /// # Errors
    /// When it is damaged or cannot be read.
    pub async fn look_over(&self) -> Result<Vec<Count>, Problem> {
        self.store().check_whole().await?;
        Ok(self.store().counts().await?)
    }
}
