//! What cargo knows about the workspace's own packages.

use serde_json::Value;
use std::path::Path;
use std::process::Command;

/// One of our packages.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Package {
    /// Its folder's name: the room.
    pub room: String,
    /// Its folder, from the root.
    pub folder: String,
    /// The sentence in its manifest.
    pub description: String,
    /// Its licence.
    pub license: String,
    /// Everything it depends on, ours and others', for building and testing.
    pub dependencies: Vec<Dependency>,
}

/// One entry under a package's dependencies.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Dependency {
    /// The name that its code is reached by.
    pub name: String,
    /// The room, where it is one of ours.
    pub room: Option<String>,
    /// Needed by tests and benches only.
    pub only_tests: bool,
}

/// Our packages as cargo reads them; asks no network.
///
/// # Errors
/// When cargo cannot be run, or refuses the manifests.
pub fn packages(root: &Path) -> Result<Vec<Package>, String> {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let output = Command::new(cargo)
        .args(["metadata", "--format-version", "1", "--no-deps"])
        .current_dir(root)
        .output()
        .map_err(|fault| format!("cargo could not be run: {fault}"))?;
    if !output.status.success() {
        return Err(format!("cargo metadata: {}", String::from_utf8_lossy(&output.stderr).trim()));
    }
    let answer: Value =
        serde_json::from_slice(&output.stdout).map_err(|fault| format!("cargo metadata is no JSON: {fault}"))?;
    Ok(read(&answer))
}

/// The packages in cargo's answer.
pub fn read(answer: &Value) -> Vec<Package> {
    let root = text(answer, "workspace_root");
    list(answer, "packages").iter().map(|package| read_package(package, &root)).collect()
}

fn read_package(package: &Value, root: &str) -> Package {
    let manifest = text(package, "manifest_path");
    let folder = manifest.strip_prefix(root).unwrap_or(&manifest).trim_matches('/');
    let folder = folder.strip_suffix("Cargo.toml").unwrap_or(folder).trim_matches('/').to_owned();
    Package {
        room: last_part(&folder),
        folder,
        description: text(package, "description"),
        license: text(package, "license"),
        dependencies: list(package, "dependencies").iter().map(read_dependency).collect(),
    }
}

fn read_dependency(dependency: &Value) -> Dependency {
    let renamed = text(dependency, "rename");
    let name = if renamed.is_empty() { text(dependency, "name") } else { renamed };
    let path = text(dependency, "path");
    Dependency {
        name: name.replace('-', "_"),
        room: (!path.is_empty()).then(|| last_part(&path)),
        only_tests: text(dependency, "kind") == "dev",
    }
}

fn last_part(path: &str) -> String {
    path.rsplit('/').next().unwrap_or(path).to_owned()
}

/// The text under a key; empty where there is none.
fn text(value: &Value, key: &str) -> String {
    value.get(key).and_then(Value::as_str).unwrap_or_default().to_owned()
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value.get(key).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}
