//! Runs every rule over the project and prints what was found.

use crate::rules::{arrows, core_rooms, manifests, places, registry, shape, tests_assert};
use crate::{Fault, File, Weight, metadata, tree};
use std::path::Path;

/// Prints warnings, then errors, then the count; true when there is no error.
///
/// # Errors
/// When git or cargo cannot be asked, or a file cannot be read.
pub fn run(root: &Path) -> Result<bool, String> {
    let mut faults = faults(root)?;
    faults.sort();
    faults.dedup();
    for fault in &faults {
        println!("{fault}");
    }
    let errors = faults.iter().filter(|fault| fault.weight == Weight::Error).count();
    println!("tidy: {errors} errors, {} warnings", faults.len() - errors);
    Ok(errors == 0)
}

fn faults(root: &Path) -> Result<Vec<Fault>, String> {
    let paths = tree::paths(root)?;
    let files = tree::texts(root, &paths)?;
    let packages = metadata::packages(root)?;
    let rooms = arrows::rooms(text(&files, arrows::MAP));
    let entries = registry::entries(text(&files, registry::REGISTRY));
    let root_manifest = File::new("Cargo.toml", text(&files, "Cargo.toml"));
    Ok([
        arrows::check(&rooms, &packages),
        arrows::check_named(&packages, &files),
        core_rooms::check(&rooms, &packages, &files),
        manifests::check_packages(&packages),
        manifests::check_reasons(&root_manifest),
        places::check_mentions(&files),
        places::check_links(&files, &paths),
        registry::check_used(&entries, &files),
        registry::check_cases(&entries, &files),
        shape::check_opening(&files),
        shape::check_length(&files),
        shape::check_names(&paths),
        tests_assert::check(&packages, &files),
    ]
    .concat())
}

/// A file's text; empty where there is none, which the rules then say.
fn text<'a>(files: &'a [File], path: &str) -> &'a str {
    files.iter().find(|file| file.path == path).map_or("", |file| &file.text)
}
