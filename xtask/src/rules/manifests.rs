//! Manifests: every package says what it is and under which licence, and
//! every outside dependency says why it is there.

use crate::metadata::Package;
use crate::{Fault, File};

const RULE: &str = "manifests";

/// Packages without description or licence.
pub fn check_packages(packages: &[Package]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for package in packages {
        let manifest = format!("{}/Cargo.toml", package.folder);
        if package.description.trim().is_empty() {
            faults.push(Fault::error(RULE, &manifest, 0, "no description: one sentence on what the room answers"));
        }
        if package.license.trim().is_empty() {
            faults.push(Fault::error(RULE, &manifest, 0, "no licence: write `license.workspace = true`"));
        }
    }
    faults
}

/// Lines of the root manifest's dependencies without a reason. Our own rooms
/// need none: their descriptions are theirs.
pub fn check_reasons(root: &File) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut inside = false;
    for (index, line) in root.text.lines().enumerate() {
        let line = line.trim();
        if line.starts_with('[') {
            inside = line == "[workspace.dependencies]";
            if line.starts_with("[workspace.dependencies.") {
                let text = "write the dependency on one line, with its reason";
                faults.push(Fault::error(RULE, &root.path, index + 1, text));
            }
        } else if inside && line.contains('=') && !line.starts_with('#') && !line.contains("path =") {
            let reason = comment(line).unwrap_or_default();
            if reason.is_empty() {
                let name = line.split('=').next().unwrap_or_default().trim();
                let text = format!("{name} has no reason: end the line with `# why it is here`");
                faults.push(Fault::error(RULE, &root.path, index + 1, text));
            }
        }
    }
    faults
}

/// What follows the first `#` outside quotation marks.
fn comment(line: &str) -> Option<&str> {
    let mut quoted = false;
    for (at, c) in line.char_indices() {
        match c {
            '"' => quoted = !quoted,
            '#' if !quoted => return Some(line[at + 1..].trim()),
            _ => {}
        }
    }
    None
}
