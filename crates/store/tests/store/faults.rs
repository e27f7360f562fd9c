//! What breaks: the server, the disk, the plug, another program.
//!
//! Writers that are to be killed, or to run on a full disk or without the
//! right to write, are this test program again, started for the one test with
//! [`ORDERS`] set.

use crate::both::{Server, found_or_told, stamp, wait};
use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};
use store::{Error, Mark, Place, Store};

/// Set for the program that is started again: the store it works on.
const ORDERS: &str = "BECKET_TEST_WRITES_TO";
/// How many plugs are pulled; 40 unless this says otherwise.
const PLUGS: &str = "BECKET_PLUGS";

/// This program again, for one test, on one store, under other programs.
fn again(under: &[&str], test: &str, path: &Path) -> Command {
    let own = std::env::current_exe().unwrap();
    let mut words: Vec<PathBuf> = under.iter().map(PathBuf::from).collect();
    words.push(own);
    let mut command = Command::new(&words[0]);
    command.args(&words[1..]).args(["--exact", test, "--nocapture", "--test-threads=1"]).env(ORDERS, path);
    command.stdout(Stdio::piped()).stderr(Stdio::null()).stdin(Stdio::null());
    command
}

fn ordered() -> Option<Place> {
    std::env::var_os(ORDERS).map(|path| Place::File(PathBuf::from(path)))
}

/// Says on standard output what was acknowledged.
fn say(text: &str) {
    let mut out = std::io::stdout().lock();
    writeln!(out, "\n{text}").unwrap();
    out.flush().unwrap();
}

/// Writes from several benches until it is killed, and says what is done.
async fn write_on(place: &Place) {
    let begun = std::process::id();
    let store = Store::open(place).await.unwrap();
    let benches: Vec<_> = (0..4)
        .map(|bench| {
            let store = store.clone();
            tokio::spawn(async move {
                for number in 0_u32.. {
                    let key = format!("{begun}-{bench}-{number}");
                    let value = "x".repeat(1 + (number as usize * 97) % 3000);
                    store.set(&key, &value, None, &stamp("Ada", number % 86_400)).await.unwrap();
                    say(&format!("kept {key}"));
                }
            })
        })
        .collect();
    for bench in benches {
        bench.await.unwrap();
    }
}

/// What a killed writer said was kept.
fn said(child: &mut Child, kill_after: Duration) -> Vec<String> {
    let out = child.stdout.take().unwrap();
    let reader = std::thread::spawn(move || {
        let lines = BufReader::new(out).lines().map_while(Result::ok);
        // A last line without its end was not said.
        lines.filter_map(|line| line.strip_prefix("kept ").map(str::to_owned)).collect::<Vec<String>>()
    });
    std::thread::sleep(kill_after);
    child.kill().unwrap();
    child.wait().unwrap();
    reader.join().unwrap()
}

/// Plugs are pulled at moments from before the file is there until well into
/// the work: the store opens every time, is whole, and has every entry that
/// was acknowledged.
#[test]
fn a_pulled_plug_loses_nothing_that_was_acknowledged() {
    if let Some(place) = ordered() {
        wait(write_on(&place));
        panic!("the writer ended by itself");
    }
    let plugs: u64 = std::env::var(PLUGS).ok().map_or(40, |text| text.parse().unwrap());
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("loft.becket");
    let mut kept = BTreeSet::new();
    let mut random: u64 = 20_261_125;
    for _ in 0..plugs {
        random = random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let after = Duration::from_micros(2_000 + (random >> 33) % 250_000);
        let mut writer =
            again(&[], "faults::a_pulled_plug_loses_nothing_that_was_acknowledged", &path).spawn().unwrap();
        kept.extend(said(&mut writer, after));
        wait(async {
            let store = Store::open(&Place::File(path.clone())).await.unwrap();
            store.check_whole().await.unwrap();
            let found: BTreeSet<String> =
                store.settings().await.unwrap().into_iter().map(|setting| setting.key).collect();
            let lost: Vec<&String> = kept.difference(&found).collect();
            assert!(lost.is_empty(), "lost: {lost:?}");
            store.close().await;
        });
    }
    assert!(kept.len() as u64 > plugs, "only {} entries were acknowledged", kept.len());
}

/// Two programs write to one file at once, and neither loses an entry.
#[test]
fn two_programs_share_a_file() {
    if let Some(place) = ordered() {
        wait(write_on(&place));
        panic!("the writer ended by itself");
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("loft.becket");
    wait(async {
        let store = Store::open(&Place::File(path.clone())).await.unwrap();
        let mut other = again(&[], "faults::two_programs_share_a_file", &path).spawn().unwrap();
        let ours = {
            let store = store.clone();
            tokio::spawn(async move {
                let begun = Instant::now();
                let mut number = 0;
                while begun.elapsed() < Duration::from_secs(3) {
                    store.set(&format!("ours-{number}"), "1", None, &stamp("Bea", number)).await.unwrap();
                    number += 1;
                }
                number
            })
        };
        let theirs = tokio::task::spawn_blocking(move || said(&mut other, Duration::from_secs(3))).await.unwrap();
        let ours = ours.await.unwrap();
        assert!(ours > 10 && theirs.len() > 10, "ours {ours}, theirs {}", theirs.len());
        let found: BTreeSet<String> = store.settings().await.unwrap().into_iter().map(|setting| setting.key).collect();
        assert!(theirs.iter().all(|key| found.contains(key)));
        assert!((0..ours).all(|number| found.contains(&format!("ours-{number}"))));
        store.close().await;
    });
}

/// Writes until something is refused; what was acknowledged is there, also
/// after opening again.
async fn write_until_refused(place: &Place) {
    let store = Store::open(place).await.unwrap();
    let mut kept = Vec::new();
    let refused = loop {
        let key = format!("k{}", kept.len());
        match store.set(&key, &"x".repeat(20_000), None, &stamp("Ada", 1)).await {
            Ok(_) => kept.push(key),
            Err(error) => break error,
        }
    };
    assert!(kept.len() > 3, "refused after {}: {refused}", kept.len());
    assert_eq!(store.setting(&kept[0]).await.unwrap().unwrap().value.len(), 20_000);
    // Refused again for the same reason: the first refusal left nothing open.
    let again = store.set("again", &"x".repeat(20_000), None, &stamp("Ada", 1)).await.unwrap_err();
    assert_eq!(again.to_string(), refused.to_string());
    store.close().await;
    let store = Store::open(place).await.unwrap();
    let found: BTreeSet<String> = store.settings().await.unwrap().into_iter().map(|setting| setting.key).collect();
    assert!(kept.iter().all(|key| found.contains(key)), "{found:?}");
    say(&format!("kept {}", kept.len()));
    say(&format!("refused {refused}"));
}

fn outcome(mut command: Command) -> (bool, String) {
    let output = command.stderr(Stdio::piped()).output().unwrap();
    let text = format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    (output.status.success(), text)
}

/// A disk of two megabytes, which a namespace of our own gives us, and where
/// there is none a limit on the size of files.
#[test]
fn a_full_disk_refuses_the_entry_and_keeps_the_others() {
    const TEST: &str = "faults::a_full_disk_refuses_the_entry_and_keeps_the_others";
    if let Some(place) = ordered() {
        return wait(write_until_refused(&place));
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("loft.becket");
    let limited = ["sh", "-c", "trap '' XFSZ; ulimit -f 1500; exec \"$@\"", "sh"];
    let (done, told) = outcome(again(&limited, TEST, &path));
    assert!(done && told.contains("refused "), "{told}");

    let disk = folder.path().display().to_string();
    let mount = format!("mount -t tmpfs -o size=2m none '{disk}' && exec \"$@\"");
    let own = ["unshare", "--map-root-user", "--mount", "sh", "-c", &mount, "sh"];
    let allowed = Command::new("unshare").args(["--map-root-user", "--mount", "true"]).status();
    if allowed.is_ok_and(|status| status.success()) {
        let (done, told) = outcome(again(&own, TEST, &path));
        assert!(done && told.contains("refused there is no room left to write"), "{told}");
    } else {
        let _ = writeln!(std::io::stderr(), "SKIPPED on a full disk: this system gives no namespace of our own");
    }
}

/// A file that may be read and not written: it is read, and a change is
/// refused with words. Root may write everything, so root gives that up.
#[test]
fn a_file_that_cannot_be_written_is_read() {
    use std::os::unix::fs::PermissionsExt;
    const TEST: &str = "faults::a_file_that_cannot_be_written_is_read";
    if let Some(place) = ordered() {
        return wait(async {
            let store = Store::open(&place).await.unwrap();
            assert_eq!(store.setting("k").await.unwrap().unwrap().value, "1");
            let refused = store.set("k", "2", None, &stamp("Ada", 2)).await.unwrap_err();
            assert!(matches!(refused, Error::ReadOnly { .. }), "{refused}");
            say("as it should be");
        });
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("loft.becket");
    wait(async {
        let store = Store::open(&Place::File(path.clone())).await.unwrap();
        store.set("k", "1", None, &stamp("Ada", 1)).await.unwrap();
        store.close().await;
    });
    let mode = |path: &Path, mode| std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).unwrap();
    mode(&path, 0o444);
    let under: &[&str] = if std::fs::OpenOptions::new().append(true).open(&path).is_ok() {
        &["setpriv", "--bounding-set=-dac_override", "--inh-caps=-dac_override", "--"]
    } else {
        &[]
    };
    let (done, told) = outcome(again(under, TEST, &path));
    assert!(done && told.contains("as it should be"), "the file: {told}");
    mode(folder.path(), 0o555);
    let (done, told) = outcome(again(under, TEST, &path));
    mode(folder.path(), 0o755);
    assert!(done && told.contains("as it should be"), "file and folder: {told}");
}

#[test]
fn a_clock_set_back_changes_no_order() {
    crate::both::on_both(async |store| {
        store.add_piece(&crate::rows::piece("H1"), &stamp("Ada", 5_000)).await.unwrap();
        for (second, batch) in [(4_000, "B1"), (3_000, "B2"), (2_000, "B3")] {
            store.set_batch("H1", batch, &stamp("Ada", second)).await.unwrap();
            store.tick("H1", batch, Mark::Ticked, &stamp("Ada", second)).await.unwrap();
        }
        let told = store.history_of("piece", "H1").await.unwrap();
        let batches: Vec<bool> = told
            .iter()
            .skip(1)
            .zip(["B1", "B2", "B3"])
            .map(|(one, batch)| one.after.as_ref().unwrap().contains(batch))
            .collect();
        assert_eq!(batches, [true; 3]);
        assert!(told.windows(2).all(|pair| pair[0].seq < pair[1].seq && pair[0].at > pair[1].at));
        let steps: Vec<String> = store.ticks("H1").await.unwrap().into_iter().map(|tick| tick.step).collect();
        assert_eq!(steps, ["B1", "B2", "B3"]);
        assert_eq!(store.piece("H1").await.unwrap().batch, "B3");
    });
}

#[test]
fn a_server_that_was_gone_and_is_back_needs_nothing() {
    let Some(programs) = found_or_told() else { return };
    let mut server = Server::start(&programs);
    let place = Place::parse(&server.url());
    wait(async {
        let store = Store::open(&place).await.unwrap();
        store.set("k", "1", None, &stamp("Ada", 1)).await.unwrap();
        server.stop();
        let refused = store.set("k", "2", None, &stamp("Ada", 2)).await.unwrap_err();
        assert!(matches!(refused, Error::Unreachable { .. }), "{refused}");
        assert!(matches!(store.setting("k").await.unwrap_err(), Error::Unreachable { .. }));
        tokio::task::block_in_place(|| server.start_again());
        assert_eq!(store.setting("k").await.unwrap().unwrap().value, "1");
        assert_eq!(store.set("k", "3", None, &stamp("Ada", 3)).await.unwrap().revision, 2);
        store.close().await;
    });
}
