//! One bad snippet a rule, each found once and at its place, and a good one
//! that is left alone.

use serde_json::json;
use xtask::ci::{Counts, STAGES};
use xtask::metadata::{Dependency, Package, read};
use xtask::rules::arrows::{Room, rooms};
use xtask::rules::{arrows, core_rooms, manifests, places, registry, shape, tests_assert};
use xtask::{Fault, File, Weight};

/// The faults as `path:line words…`, those that stop a change.
fn errors(faults: &[Fault]) -> Vec<String> {
    let stopping = faults.iter().filter(|fault| fault.weight == Weight::Error);
    stopping.map(|fault| format!("{}:{} {}", fault.path, fault.line, fault.text)).collect()
}

#[track_caller]
fn finds(faults: &[Fault], place: &str, part: &str) {
    let errors = errors(faults);
    assert!(
        matches!(&errors[..], [one] if one.starts_with(&format!("{place} ")) && one.contains(part)),
        "{place} {part}: {errors:?}"
    );
}

#[track_caller]
fn leaves_alone(faults: &[Fault]) {
    assert_eq!(faults, []);
}

const MAP: &str = "# Map\n\n| room | kind | may use | answers |\n|---|---|---|---|\n\
                   | `units` | core | nothing | quantities |\n| `desk` | edge | units | tasks |\n\nafter\n";

fn package(room: &str, uses: &[&str]) -> Package {
    let dependency =
        |name: &&str| Dependency { name: (*name).to_owned(), room: Some((*name).to_owned()), only_tests: false };
    Package {
        room: room.to_owned(),
        folder: format!("crates/{room}"),
        description: "a room".to_owned(),
        license: "MIT".to_owned(),
        dependencies: uses.iter().map(dependency).collect(),
    }
}

fn map() -> Vec<Room> {
    rooms(MAP)
}

#[test]
fn the_map_is_read_as_rows() {
    let rows = map();
    assert_eq!(rows.len(), 2);
    assert_eq!((rows[0].name.as_str(), rows[0].core, rows[0].line), ("units", true, 5));
    assert_eq!((rows[1].uses.clone(), rows[1].core), (vec!["units".to_owned()], false));
    assert_eq!(rows[0].uses, Vec::<String>::new());
}

#[test]
fn an_arrow_that_the_map_does_not_show_is_found() {
    leaves_alone(&arrows::check(&map(), &[package("units", &[]), package("desk", &["units"])]));
    let backwards = arrows::check(&map(), &[package("units", &["desk"]), package("desk", &["units"])]);
    finds(&backwards, "crates/units/Cargo.toml:0", "units may not use desk: it may use nothing");
    let missing = arrows::check(&map(), &[package("desk", &["units"])]);
    finds(&missing, "ARCHITECTURE.md:5", "the room units does not exist");
    let unknown = [package("units", &[]), package("desk", &["units"]), package("web", &[])];
    finds(&arrows::check(&map(), &unknown), "ARCHITECTURE.md:0", "no row for the room web");
    finds(&arrows::check(&rooms("no table"), &unknown), "ARCHITECTURE.md:0", "no table");
}

#[test]
fn an_allowed_arrow_that_nobody_drew_is_only_listed() {
    let faults = arrows::check(&map(), &[package("units", &[]), package("desk", &[])]);
    assert_eq!(errors(&faults), Vec::<String>::new());
    assert_eq!(faults.len(), 1);
    assert!(
        faults[0].to_string().starts_with("ARCHITECTURE.md:6: warning [arrows] desk may use units"),
        "{}",
        faults[0]
    );
}

#[test]
fn a_dependency_that_no_line_names_is_found() {
    let packages = [package("desk", &["units"])];
    leaves_alone(&arrows::check_named(&packages, &[File::new("crates/desk/src/lib.rs", "use units::Length;")]));
    let only_said = [
        File::new("crates/desk/src/lib.rs", "// units\nlet x = \"units\";"),
        File::new("crates/desk/tests/desk.rs", "use units::Length;"),
    ];
    finds(&arrows::check_named(&packages, &only_said), "crates/desk/Cargo.toml:0", "depends on units");
}

#[test]
fn a_core_room_that_reads_files_prints_or_serializes_is_found() {
    let packages = [package("units", &[]), package("desk", &["units"])];
    let says = |path: &str, text: &str| core_rooms::check(&map(), &packages, &[File::new(path, text)]);
    let inside = "crates/units/src/lib.rs";
    finds(&says(inside, "//! x\nuse std::fs;"), "crates/units/src/lib.rs:2", "fs");
    finds(&says(inside, "use std::{\n    collections::X, fs\n};"), "crates/units/src/lib.rs:2", "fs");
    finds(&says(inside, "fn f() { println!(\"a\"); }"), "crates/units/src/lib.rs:1", "println");
    finds(&says(inside, "use std::time::SystemTime;"), "crates/units/src/lib.rs:1", "SystemTime");
    finds(&says(inside, "#[derive(Serialize)]\nstruct A;"), "crates/units/src/lib.rs:1", "Serialize");
    leaves_alone(&says(inside, "/// println!(\"a\")\nfn process(net: f64) { Tile { net, process: 1 } }"));
    leaves_alone(&says("crates/desk/src/lib.rs", "use std::fs;"));
    leaves_alone(&says("crates/units/tests/units.rs", "use std::fs;"));
}

#[test]
fn a_manifest_without_description_licence_or_reason_is_found() {
    leaves_alone(&manifests::check_packages(&[package("units", &[])]));
    let mute = Package { description: " ".to_owned(), ..package("units", &[]) };
    finds(&manifests::check_packages(&[mute]), "crates/units/Cargo.toml:0", "no description");
    let bare = Package { license: String::new(), ..package("units", &[]) };
    finds(&manifests::check_packages(&[bare]), "crates/units/Cargo.toml:0", "no licence");
    let reasons = |text: &str| manifests::check_reasons(&File::new("Cargo.toml", text));
    leaves_alone(&reasons("[a]\nb = 1\n[workspace.dependencies]\nc = { path = \"c\" }\nd = \"1\" # dates\n"));
    finds(&reasons("[workspace.dependencies]\nd = \"1\"\n[x]\ny = 1"), "Cargo.toml:2", "d has no reason");
    finds(&reasons("[workspace.dependencies]\nd = \"1 # not here\""), "Cargo.toml:2", "d has no reason");
    finds(&reasons("[workspace.dependencies.d]\nversion = \"1\""), "Cargo.toml:1", "on one line");
}

#[test]
fn a_place_that_other_readers_do_not_have_is_found() {
    let says = |text: &str| places::check_mentions(&[File::new("a.sh", text)]);
    finds(&says(concat!("x\ncd /", "work/main")), "a.sh:2", "absolute path");
    finds(&says(concat!("\"/", "tmp/x\"")), "a.sh:1", "absolute path");
    finds(&says(concat!("`/", "root`")), "a.sh:1", "absolute path");
    finds(&says(concat!("see .", "./", "shared", "/x")), "a.sh:1", "outside it");
    finds(&says(concat!("from crates", ".io")), "a.sh:1", "registry");
    leaves_alone(&says("$HOME/work ./tmp/x a/root https://example.org/work /workbench ${X}/tmp"));
    leaves_alone(&places::check_mentions(&[File::new("Cargo.lock", concat!("crates", ".io-index"))]));
}

#[test]
fn a_link_that_leads_nowhere_is_found() {
    let paths = ["README.md", "docs/a.md", "docs/pictures/card.png"].map(str::to_owned);
    let says = |path: &str, text: &str| places::check_links(&[File::new(path, text)], &paths);
    finds(&says("README.md", "x\n[a](docs/b.md)"), "README.md:2", "docs/b.md");
    finds(&says("docs/a.md", "![a](card.png)"), "docs/a.md:1", "card.png");
    finds(&says("README.md", "<img src=\"card.png\">"), "README.md:1", "card.png");
    leaves_alone(&says("README.md", "[a](docs/a.md#part) [b](#part) [c](https://x.org/y) [d](docs)"));
    leaves_alone(&says("docs/a.md", "![a](pictures/card.png) [b](../README.md) [c](/docs/a.md)"));
    leaves_alone(&says("README.md", "`[a](b)`\n```\n[a](b)\n```\n"));
}

const REGISTRY: &str =
    "sources! {\n    /// OTHER = \"x\"\n    CI_1301 = \"ci-1301\", Secondary, \"T\", \"B\", \"\";\n}";

#[test]
fn a_source_of_nothing_and_a_case_of_no_source_are_found() {
    let entries = registry::entries(REGISTRY);
    assert_eq!(entries.len(), 1);
    assert_eq!((entries[0].name.as_str(), entries[0].id.as_str(), entries[0].line), ("CI_1301", "ci-1301", 3));
    let file = |path: &str, text: &str| [File::new(path, text)];
    leaves_alone(&registry::check_used(&entries, &file("crates/cordage/src/a.rs", "CI_1301.at(\"x\")")));
    let place = "crates/sources/src/registry.rs:3";
    finds(
        &registry::check_used(&entries, &file("crates/cordage/src/a.rs", "// CI_1301\n\"CI_1301\"")),
        place,
        "nothing",
    );
    finds(&registry::check_used(&entries, &file("crates/sources/src/registry.rs", "CI_1301")), place, "nothing");
    finds(&registry::check_used(&entries, &file("crates/cordage/tests/a.rs", "CI_1301")), place, "nothing");
    finds(&registry::check_used(&[], &[]), "crates/sources/src/registry.rs:0", "no entry");

    let case = "validation/cases/a/b.toml";
    leaves_alone(&registry::check_cases(&entries, &file(case, "[[case]]\nsource = \"ci-1301\" # read\n")));
    finds(
        &registry::check_cases(&entries, &file(case, "source_note = 1\nsource = \"ci-9\"")),
        &format!("{case}:2"),
        "ci-9",
    );
    finds(&registry::check_cases(&entries, &file(case, "asks = \"x\"")), &format!("{case}:0"), "without");
}

#[test]
fn a_file_that_opens_runs_or_is_called_badly_is_found() {
    let file = |path: &str, text: &str| [File::new(path, text)];
    finds(&shape::check_opening(&file("a.rs", "use b;\n//! late")), "a.rs:1", "//!");
    leaves_alone(&shape::check_opening(&file("a.rs", "//! First.\nuse b;")));

    finds(&shape::check_length(&file("a.rs", &"x\n".repeat(801))), "a.rs:0", "801 lines");
    leaves_alone(&shape::check_length(&file("a.csv", &"x\n".repeat(9000))));
    leaves_alone(&shape::check_length(&file("a.rs", &"x\n".repeat(500))));
    let listed = shape::check_length(&file("a.rs", &"x\n".repeat(501)));
    assert_eq!((listed.len(), errors(&listed).len()), (1, 0));
    let long_function = shape::check_length(&file("a.rs", &format!("fn long() {{{}}}", "\n".repeat(61))));
    assert_eq!((long_function.len(), errors(&long_function).len()), (1, 0));
    finds(&shape::check_length(&file("ARCHITECTURE.md", &"x\n".repeat(201))), "ARCHITECTURE.md:0", "201 lines");

    let named = |path: &str| shape::check_names(&[path.to_owned()]);
    finds(&named("a/src/utils.rs"), "a/src/utils.rs:0", "utils");
    finds(&named("a/string_helpers.rs"), "a/string_helpers.rs:0", "helpers");
    finds(&named("a/tests/common/mod.rs"), "a/tests/common/mod.rs:0", "common");
    leaves_alone(&named("a/src/service_record.rs"));
}

#[test]
fn a_test_that_cannot_fail_is_found() {
    let place = "crates/units/tests/units.rs";
    let says = |text: &str| tests_assert::check(&[package("units", &[])], &[File::new(place, text)]);
    let first = format!("{place}:1");
    finds(&says("#[test] fn a() { let x = 1; }"), &first, "a asserts nothing");
    finds(&says("#[rstest] fn a() { /* assert!(x) */ }"), &first, "a asserts nothing");
    finds(&says("#[test] fn a() { assert!(true); }"), &first, "asserts `true`");
    finds(&says("#[test] #[ignore] fn a() { assert!(x); }"), &first, "is ignored");
    finds(&says("#[test] #[should_panic(expected = \"x\")] fn a() { assert!(x); }"), &first, "content with a panic");
    finds(&says("proptest! {\n#[test]\nfn a(x in 0..2) { x; } }"), &format!("{place}:3"), "a asserts nothing");
    leaves_alone(&says("#[test] fn a() -> Result<(), E> { run()?; Ok(()) }"));
    leaves_alone(&says("proptest! { #[test] fn a(x in 0..2) { prop_assert!(x); } }"));
    leaves_alone(&says("fn check() { assert!(x) } fn twice() { check() } #[test] fn a() { twice(); }"));
    leaves_alone(&says("macro_rules! same { () => { assert_eq!(a, b) } } #[test] fn a() { same!(); }"));
}

#[test]
fn an_assertion_outside_the_test_code_is_none_of_the_test() {
    let inside =
        |text: &str| tests_assert::check(&[package("units", &[])], &[File::new("crates/units/src/lib.rs", text)]);
    let own = "fn finite() { assert!(x) }";
    let test = |body: &str| {
        format!("{own}\n#[cfg(test)]\nmod tests {{\n fn check() {{ assert!(x) }}\n #[test]\n fn a() {{ {body} }}\n}}")
    };
    finds(&inside(&test("finite();")), "crates/units/src/lib.rs:6", "a asserts nothing");
    leaves_alone(&inside(&test("check();")));
}

#[test]
fn packages_are_read_from_cargos_answer() {
    let answer = json!({
        "workspace_root": "/x/becket",
        "packages": [{
            "name": "becket-cli", "manifest_path": "/x/becket/crates/cli/Cargo.toml",
            "description": "d", "license": null,
            "dependencies": [
                {"name": "desk", "path": "/x/becket/crates/desk", "kind": null, "rename": null},
                {"name": "annotate-snippets", "kind": "dev", "rename": null},
                {"name": "old", "kind": null, "rename": "new-name"},
            ],
        }],
    });
    let [package] = &read(&answer)[..] else { panic!("one package was given") };
    assert_eq!((package.room.as_str(), package.folder.as_str()), ("cli", "crates/cli"));
    assert_eq!((package.description.as_str(), package.license.as_str()), ("d", ""));
    let names: Vec<_> = package.dependencies.iter().map(|one| (one.name.as_str(), one.only_tests)).collect();
    assert_eq!(names, [("desk", false), ("annotate_snippets", true), ("new_name", false)]);
    assert_eq!(package.dependencies[0].room.as_deref(), Some("desk"));
}

#[test]
fn the_test_runners_counts_are_summed() {
    let mut counts = Counts::default();
    for line in [
        "test a ... ok",
        "test result: ok. 12 passed; 0 failed; 0 ignored; 0 measured; 0 filtered out; finished in 0.01s",
        "test result: FAILED. 3 passed; 2 failed; 1 ignored; 0 measured; 0 filtered out; finished in 0.01s",
        "said: test result: ok. 9 passed",
    ] {
        counts.add(line);
    }
    assert_eq!(counts, Counts { passed: 15, failed: 2 });
}

#[test]
fn tests_come_last_and_every_step_has_a_name_of_its_own() {
    assert_eq!(STAGES.last().map(|stage| stage.name), Some("tests"));
    let mut names: Vec<_> = STAGES.iter().map(|stage| stage.name).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), STAGES.len());
}
