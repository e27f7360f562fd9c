//! Rooms and arrows: the table in ARCHITECTURE.md is the truth, and cargo's
//! manifests must agree with it both ways.
//!
//! Every one of our packages has a row, every row a package; no package uses
//! a room that its row does not allow. An arrow that is allowed and not drawn
//! is only listed. A dependency that the code never names is a fault too.

use crate::metadata::{Dependency, Package};
use crate::scan::{code_only, has_word};
use crate::{Fault, File};

const RULE: &str = "arrows";
/// The document with the table.
pub const MAP: &str = "ARCHITECTURE.md";

/// One row of the table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Room {
    /// The room's name: its folder.
    pub name: String,
    /// The rooms it may use.
    pub uses: Vec<String>,
    /// A room without input, output, clock and printing.
    pub core: bool,
    /// The line of the row.
    pub line: usize,
}

/// The rows of the table that is headed `room | kind | may use | …`.
pub fn rooms(map: &str) -> Vec<Room> {
    let mut found = Vec::new();
    let mut inside = false;
    for (index, line) in map.lines().enumerate() {
        let cells: Vec<&str> = line.trim().trim_matches('|').split('|').map(str::trim).collect();
        match cells[..] {
            ["room", "kind", "may use", ..] => inside = true,
            [name, kind, uses, ..] if inside && line.starts_with('|') => {
                if name.starts_with("---") {
                    continue;
                }
                let uses = uses.split(',').map(bare).filter(|word| !word.is_empty() && word != "nothing");
                found.push(Room { name: bare(name), uses: uses.collect(), core: kind == "core", line: index + 1 });
            }
            _ => inside = false,
        }
    }
    found
}

fn bare(cell: &str) -> String {
    cell.trim().trim_matches('`').to_owned()
}

/// The table against the manifests.
pub fn check(rooms: &[Room], packages: &[Package]) -> Vec<Fault> {
    if rooms.is_empty() {
        return vec![Fault::error(RULE, MAP, 0, "no table headed `room | kind | may use` was found")];
    }
    let mut faults: Vec<Fault> = rooms
        .iter()
        .filter(|room| !packages.iter().any(|package| package.room == room.name))
        .map(|room| Fault::error(RULE, MAP, room.line, format!("the room {} does not exist", room.name)))
        .collect();
    for package in packages {
        match rooms.iter().find(|room| room.name == package.room) {
            Some(room) => faults.extend(check_room(room, package)),
            None => faults.push(Fault::error(RULE, MAP, 0, format!("no row for the room {}", package.room))),
        }
    }
    faults
}

fn check_room(room: &Room, package: &Package) -> Vec<Fault> {
    let manifest = format!("{}/Cargo.toml", package.folder);
    let drawn: Vec<&String> = package.dependencies.iter().filter_map(|dependency| dependency.room.as_ref()).collect();
    let refused = drawn.iter().filter(|used| !room.uses.contains(used)).map(|used| {
        let allowed = if room.uses.is_empty() { "nothing".to_owned() } else { room.uses.join(", ") };
        Fault::error(RULE, &manifest, 0, format!("{} may not use {used}: it may use {allowed}", room.name))
    });
    let idle = room.uses.iter().filter(|used| !drawn.contains(used)).map(|used| {
        Fault::warning(RULE, MAP, room.line, format!("{} may use {used}, and its manifest does not", room.name))
    });
    refused.chain(idle).collect()
}

/// Dependencies that no file of their package names.
pub fn check_named(packages: &[Package], files: &[File]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for package in packages {
        let folder = format!("{}/", package.folder);
        let own: Vec<(&str, String)> = files
            .iter()
            .filter(|file| file.is_rust() && file.path.starts_with(&folder))
            .map(|file| (&file.path[folder.len()..], code_only(&file.text)))
            .collect();
        let named = |dependency: &Dependency| {
            own.iter().any(|(path, code)| {
                (dependency.only_tests || !path.starts_with("tests/")) && has_word(code, &dependency.name)
            })
        };
        let idle: Vec<&str> =
            package.dependencies.iter().filter(|one| !named(one)).map(|one| one.name.as_str()).collect();
        if !idle.is_empty() {
            let text = format!("{} depends on {}, and no line of its code says so", package.room, idle.join(", "));
            faults.push(Fault::error(RULE, &format!("{folder}Cargo.toml"), 0, text));
        }
    }
    faults
}
