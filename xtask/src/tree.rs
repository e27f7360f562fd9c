//! The project's own files: everything git tracks or would track.

use std::path::Path;
use std::process::Command;

/// A text file of the project.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct File {
    /// Its path from the root, with strokes.
    pub path: String,
    /// Its text.
    pub text: String,
}

impl File {
    /// A file from its path and text: what tests make.
    pub fn new(path: &str, text: &str) -> Self {
        File { path: path.to_owned(), text: text.to_owned() }
    }

    /// The last part of the path.
    pub fn name(&self) -> &str {
        self.path.rsplit('/').next().unwrap_or(&self.path)
    }

    /// Whether it is Rust.
    pub fn is_rust(&self) -> bool {
        self.path.ends_with(".rs")
    }
}

/// The names of all files that git tracks or would track if they were added;
/// those that are ignored or deleted are left out.
///
/// # Errors
/// When git cannot be run here.
pub fn paths(root: &Path) -> Result<Vec<String>, String> {
    let output = Command::new("git")
        .args(["ls-files", "--cached", "--others", "--exclude-standard", "-z"])
        .current_dir(root)
        .output()
        .map_err(|fault| format!("git could not be run: {fault}"))?;
    if !output.status.success() {
        return Err(format!("git ls-files: {}", String::from_utf8_lossy(&output.stderr).trim()));
    }
    let listed = String::from_utf8_lossy(&output.stdout).into_owned();
    Ok(listed.split('\0').filter(|path| !path.is_empty() && root.join(path).is_file()).map(str::to_owned).collect())
}

/// The text files among `paths`; one that is not UTF-8 is no text.
///
/// # Errors
/// When a file cannot be read.
pub fn texts(root: &Path, paths: &[String]) -> Result<Vec<File>, String> {
    let mut files = Vec::new();
    for path in paths {
        let bytes = std::fs::read(root.join(path)).map_err(|fault| format!("{path}: {fault}"))?;
        if let Ok(text) = String::from_utf8(bytes)
            && !text.contains('\0')
        {
            files.push(File { path: path.clone(), text });
        }
    }
    Ok(files)
}
