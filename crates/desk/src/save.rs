//! Files are written beside their name and renamed: a full disk or a pulled
//! plug leaves the old file whole.

use crate::problem::{Fault, Problem};
use std::io::Write;
use std::path::Path;

/// Whether files can be made in `folder`, asked before the work and not after
/// it; makes the folder if it is missing.
///
/// # Errors
/// When the folder cannot be made or written to.
pub fn ready(folder: &Path) -> Result<(), Problem> {
    std::fs::create_dir_all(folder)
        .and_then(|()| tempfile::NamedTempFile::new_in(folder))
        .map(drop)
        .map_err(|error| cannot_write(folder, &error))
}

fn cannot_write(path: &Path, error: &std::io::Error) -> Problem {
    Problem::new(Fault::Disk, "cannot-write", format!("{} cannot be written: {error}", path.display()))
        .hint("the old file, if there was one, is untouched; check space and permissions, or give another folder")
}

/// Writes `bytes` to `path`, all or nothing; makes the folder if it is missing.
///
/// # Errors
/// When the folder or file cannot be written; the old file is left as it was.
pub fn save(path: &Path, bytes: &[u8]) -> Result<(), Problem> {
    let fault = |error: std::io::Error| cannot_write(path, &error);
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    std::fs::create_dir_all(folder).map_err(fault)?;
    let mut file = tempfile::NamedTempFile::new_in(folder).map_err(fault)?;
    file.write_all(bytes).map_err(fault)?;
    file.as_file().sync_all().map_err(fault)?;
    open_to_all(file.as_file()).map_err(fault)?;
    file.persist(path).map_err(|error| fault(error.error))?;
    Ok(())
}

/// A temporary file is the owner's alone; a card on a shared disk is not.
#[cfg(unix)]
fn open_to_all(file: &std::fs::File) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn open_to_all(_: &std::fs::File) -> std::io::Result<()> {
    Ok(())
}
