//! `becket store` as people run it.

#![cfg(feature = "pages")]
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use desk::records::rows::OrderText;
use desk::records::{Records, stamp, wait};
use std::path::Path;
use std::process::{Command, Output};

fn becket(arguments: &[&str], folder: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_becket")).args(arguments).current_dir(folder).output().unwrap()
}

fn said(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap() + &String::from_utf8(output.stderr.clone()).unwrap()
}

fn filled(folder: &Path) {
    let place = folder.join("loft.becket").display().to_string();
    let made = wait(async {
        let records = Records::open(&place).await?;
        let new = OrderText { id: "sloop", name: "=Sloop", text: "becket = 1\n" };
        records.store().add_order(new, &stamp("Ada")?).await?;
        records.close().await;
        Ok::<(), desk::Problem>(())
    });
    made.unwrap().unwrap();
}

#[test]
fn a_store_is_backed_up_restored_exported_and_checked() {
    let folder = tempfile::tempdir().unwrap();
    filled(folder.path());
    let run = |arguments: &[&str]| becket(arguments, folder.path());
    let backup = run(&["store", "backup", "loft.becket", "backup.becket"]);
    assert_eq!(
        said(&backup),
        "loft.becket backed up to backup.becket: 3 rows of 26 tables, counts and checksums agree\n"
    );
    let restored = run(&["store", "restore", "backup.becket", "again.becket", "--json"]);
    assert!(restored.status.success(), "{}", said(&restored));
    let check = |store: &str| {
        let answer: serde_json::Value =
            serde_json::from_slice(&run(&["store", "check", store, "--json"]).stdout).unwrap();
        answer["tables"].clone()
    };
    assert_eq!(check("again.becket"), check("loft.becket"));
    assert!(said(&run(&["store", "export", "again.becket", "out"])).starts_with("3 rows of 26 tables written to out"));
    let orders = std::fs::read_to_string(folder.path().join("out/orders.csv")).unwrap();
    assert!(orders.contains("sloop,'=Sloop,open"), "{orders}");
}

#[test]
fn nothing_is_written_over_and_no_store_is_made_by_a_slip() {
    let folder = tempfile::tempdir().unwrap();
    filled(folder.path());
    let run = |arguments: &[&str]| becket(arguments, folder.path());
    std::fs::write(folder.path().join("there"), "mine").unwrap();
    let refused = run(&["store", "backup", "loft.becket", "there"]);
    assert_eq!(refused.status.code(), Some(5), "{}", said(&refused));
    assert_eq!(std::fs::read_to_string(folder.path().join("there")).unwrap(), "mine");
    let slip = run(&["store", "check", "lotf.becket"]);
    assert_eq!(slip.status.code(), Some(4));
    assert!(said(&slip).contains("lotf.becket cannot be reached: there is no such file"), "{}", said(&slip));
    assert!(!folder.path().join("lotf.becket").exists());
    let other = run(&["store", "check", "there"]);
    assert_eq!(other.status.code(), Some(3));
    assert!(said(&other).contains("there is not a Becket store: the file is no SQLite database"), "{}", said(&other));
}

/// The chapter on running a loft: every command in it does what it says. Pages
/// come up and print their address; a server that is not there is said.
#[test]
fn the_chapter_on_a_loft_of_ten_is_true() {
    use std::io::{BufRead, BufReader};
    let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/loft.md")).unwrap();
    let folder = tempfile::tempdir().unwrap();
    filled(folder.path());
    let programs = Path::new(env!("CARGO_BIN_EXE_becket")).parent().unwrap();
    let path = format!("{}:{}", programs.display(), std::env::var("PATH").unwrap());
    let shell = |command: &str| {
        let mut shell = Command::new("sh");
        shell.args(["-c", command]).env("PATH", &path).current_dir(folder.path());
        shell
    };
    let blocks = text.split("```sh\n").skip(1).filter_map(|block| block.split("```").next());
    let mut run = 0;
    for command in blocks.flat_map(str::lines) {
        // No port is anybody's here, and no server listens on port 1.
        let here = command.replace("--port 4310", "--port 0").replace("@localhost/", "@localhost:1/");
        if here.contains("postgres://") {
            let output = shell(&here).output().unwrap();
            assert!(
                !output.status.success() && said(&output).contains("cannot be reached"),
                "{command}: {}",
                said(&output)
            );
        } else if here.starts_with("becket pages") {
            let mut pages = shell(&format!("exec {here}")).stdout(std::process::Stdio::piped()).spawn().unwrap();
            let mut address = String::new();
            BufReader::new(pages.stdout.take().unwrap()).read_line(&mut address).unwrap();
            pages.kill().unwrap();
            pages.wait().unwrap();
            assert!(address.starts_with("http://0.0.0.0:"), "{command}: {address}");
        } else {
            let output = shell(&here).output().unwrap();
            assert!(output.status.success(), "{command}: {}", said(&output));
        }
        run += 1;
    }
    assert_eq!(run, 10, "commands of the chapter");
    assert!(folder.path().join("export-2026-11-25/orders.csv").is_file());
}
