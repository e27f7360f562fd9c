//! What breaks while people work through the pages: the plug, the disk, the
//! server, the clock, another program on the same file, and many at once.

use crate::ask::Loft;
use crate::served::{Served, ask, draft, serve_if_told};
use desk::records::{Records, Stamp, rows::OrderText};
use serde_json::json;
use std::collections::BTreeMap;
use std::io::Write;
use std::net::SocketAddr;
use std::path::Path;
use std::process::Command;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// How many plugs are pulled; 40 unless this says otherwise.
const PLUGS: &str = "BECKET_PLUGS";
/// How long fifty benches work, s; 5 unless this says otherwise.
const SECONDS: &str = "BECKET_BENCH_SECONDS";

fn number(name: &str, usual: u64) -> u64 {
    std::env::var(name).ok().map_or(usual, |text| text.parse().unwrap())
}

fn order(number: &str, customer: &str) -> String {
    let demo =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/sloop/order.toml")).unwrap();
    demo.replace("26-041", number).replace("Crew of Sandpiper", customer)
}

fn wait<T>(work: impl Future<Output = T>) -> T {
    tokio::runtime::Builder::new_multi_thread().enable_all().build().unwrap().block_on(work)
}

/// What was acknowledged: drafts by page, reels, and the order's revisions.
#[derive(Debug, Default)]
struct Kept {
    drafts: BTreeMap<String, String>,
    reels: Vec<String>,
    texts: BTreeMap<i64, String>,
}

/// Three benches that write until the plug is pulled.
fn work(at: SocketAddr, round: u64, kept: &Arc<Mutex<Kept>>, over: &Arc<AtomicBool>) {
    let drafts = (Arc::clone(kept), Arc::clone(over));
    let reels = (Arc::clone(kept), Arc::clone(over));
    let texts = (Arc::clone(kept), Arc::clone(over));
    let benches = [
        std::thread::spawn(move || {
            for turn in 0.. {
                let (page, value) = (format!("/p{round}-{turn}"), "x".repeat(1 + turn * 97 % 3000));
                let Some((status, said)) = ask(at, "POST", "/drafts", &draft(&page, &value)) else { break };
                assert_eq!(status, 204, "{said}");
                drafts.0.lock().unwrap().drafts.insert(page, value);
            }
            assert!(drafts.1.load(Ordering::SeqCst), "a draft had no answer while the server was up");
        }),
        std::thread::spawn(move || {
            for turn in 0.. {
                let reel = format!("R{round}-{turn}");
                let form = format!("text=reel,rope,colour,batch,length,price_per_metre%0A{reel},braid,,,100+m,%0A");
                let Some((status, said)) = ask(at, "POST", "/rack", &form) else { break };
                assert_eq!(status, 303, "{said}");
                reels.0.lock().unwrap().reels.push(reel);
            }
            assert!(reels.1.load(Ordering::SeqCst), "a reel had no answer while the server was up");
        }),
        std::thread::spawn(move || {
            let Some((_, now)) = ask(at, "GET", "/api/orders/26-041", "") else { return };
            let mut revision = serde_json::from_str::<serde_json::Value>(&now).unwrap()["revision"].as_i64().unwrap();
            for turn in 0.. {
                let text = order("26-041", &format!("crew {round} {turn}"));
                let body = json!({ "text": text, "based_on": revision }).to_string();
                let Some((status, said)) = ask(at, "PUT", "/api/orders/26-041", &body) else { break };
                assert_eq!(status, 200, "{said}");
                revision += 1;
                texts.0.lock().unwrap().texts.insert(revision, text);
            }
            assert!(texts.1.load(Ordering::SeqCst), "an order had no answer while the server was up");
        }),
    ];
    for bench in benches {
        bench.join().unwrap();
    }
}

/// Everything that was acknowledged is in the file, and the file is whole.
async fn look(store: &Path, kept: &Kept) {
    let records = Records::open(&store.display().to_string()).await.unwrap();
    records.look_over().await.unwrap();
    for (page, value) in &kept.drafts {
        let found = records.store().drafts("bench", page).await.unwrap();
        assert!(found.iter().any(|draft| draft.value == *value), "the draft of {page} is lost");
    }
    for reel in &kept.reels {
        records.store().reel(reel).await.unwrap();
    }
    let versions = records.store().order_versions("26-041").await.unwrap();
    for (revision, text) in &kept.texts {
        let found = versions.iter().find(|version| version.revision == *revision);
        assert!(found.is_some_and(|version| version.text == *text), "revision {revision} is lost");
    }
    records.close().await;
}

/// Plugs are pulled at random moments while three benches write through the
/// pages: what was acknowledged is there each time, and the file is whole.
#[test]
fn a_pulled_plug_loses_nothing_that_a_page_acknowledged() {
    if serve_if_told() {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let store = folder.path().join("loft.becket");
    let plugs = number(PLUGS, 40);
    let kept = Arc::new(Mutex::new(Kept::default()));
    let mut random: u64 = 20_261_125;
    for round in 0..plugs {
        let mut server = Served::start(&[], "faults::a_pulled_plug_loses_nothing_that_a_page_acknowledged", &store);
        if round == 0 {
            let begun = json!({ "text": order("26-041", "the first crew") }).to_string();
            assert_eq!(ask(server.at, "POST", "/api/orders", &begun).unwrap().0, 201);
        }
        let over = Arc::new(AtomicBool::new(false));
        let (at, kept_there, over_there) = (server.at, Arc::clone(&kept), Arc::clone(&over));
        let benches = std::thread::spawn(move || work(at, round, &kept_there, &over_there));
        random = random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        std::thread::sleep(Duration::from_micros(5_000 + (random >> 33) % 250_000));
        over.store(true, Ordering::SeqCst);
        server.kill();
        benches.join().unwrap();
        // Every tenth time everything is looked through, and at the end.
        if round % 10 == 9 || round + 1 == plugs {
            wait(look(&store, &kept.lock().unwrap()));
        }
    }
    let kept = kept.lock().unwrap();
    let (drafts, reels, texts) = (kept.drafts.len(), kept.reels.len(), kept.texts.len());
    let _ = writeln!(
        std::io::stderr(),
        "{plugs} plugs pulled: {drafts} drafts, {reels} reels, {texts} orders acknowledged, none lost"
    );
    assert!(drafts as u64 > plugs && reels as u64 > plugs && texts > 5, "{drafts}, {reels}, {texts}");
}

/// On a disk of three megabytes a page says that there is no room, keeps what
/// it had, and goes on showing it.
#[test]
fn a_full_disk_is_said_on_the_page_and_the_pages_stay() {
    if serve_if_told() {
        return;
    }
    let allowed = Command::new("unshare").args(["--map-root-user", "--mount", "true"]).status();
    if !allowed.is_ok_and(|status| status.success()) {
        let _ = writeln!(std::io::stderr(), "SKIPPED on a full disk: this system gives no namespace of our own");
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let mount = format!("mount -t tmpfs -o size=3m none '{}' && exec \"$@\"", folder.path().display());
    let under = ["unshare", "--map-root-user", "--mount", "sh", "-c", &mount, "sh"];
    let test = "faults::a_full_disk_is_said_on_the_page_and_the_pages_stay";
    let server = Served::start(&under, test, &folder.path().join("loft.becket"));
    let begun = json!({ "text": order("26-041", "the crew") }).to_string();
    assert_eq!(ask(server.at, "POST", "/api/orders", &begun).unwrap().0, 201);
    let long = "x".repeat(20_000);
    let refused = (0..400)
        .map(|turn| ask(server.at, "POST", "/drafts", &draft(&format!("/p{turn}"), &long)).unwrap())
        .position(|(status, _)| status != 204);
    let kept = refused.expect("the disk never filled");
    assert!(kept > 3, "refused after {kept}");
    let (status, said) = ask(server.at, "POST", "/drafts", &draft("/more", &long)).unwrap();
    assert_eq!(status, 507, "{said}");
    assert!(said.contains("no room left"), "{said}");
    let (status, page) = ask(server.at, "GET", "/orders/26-041", "").unwrap();
    assert!(status == 200 && page.contains("the crew"), "{status}: {page}");
    let (status, page) = ask(server.at, "POST", "/rack", "text=reel,rope,length%0AA,braid,100+m%0A").unwrap();
    assert!(status == 507 || status == 303, "{status}: {page}");
}

/// A file that may only be read is shown, and a change is refused with words.
#[test]
fn a_file_that_cannot_be_written_is_shown() {
    use std::os::unix::fs::PermissionsExt;
    if serve_if_told() {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let store = folder.path().join("loft.becket");
    wait(async {
        let records = Records::open(&store.display().to_string()).await.unwrap();
        let text = order("26-041", "the crew");
        let stamp = desk::records::stamp("Ada").unwrap();
        records.store().add_order(OrderText { id: "26-041", name: "Sandpiper", text: &text }, &stamp).await.unwrap();
        records.close().await;
    });
    std::fs::set_permissions(&store, std::fs::Permissions::from_mode(0o444)).unwrap();
    // Root may write everything, so root gives that up.
    let under: &[&str] = if std::fs::OpenOptions::new().append(true).open(&store).is_ok() {
        &["setpriv", "--bounding-set=-dac_override", "--inh-caps=-dac_override", "--"]
    } else {
        &[]
    };
    let server = Served::start(under, "faults::a_file_that_cannot_be_written_is_shown", &store);
    for path in ["/", "/orders", "/orders/26-041", "/rack", "/settings"] {
        assert_eq!(ask(server.at, "GET", path, "").unwrap().0, 200, "{path}");
    }
    let (status, said) = ask(server.at, "POST", "/drafts", &draft("/p", "x")).unwrap();
    assert!(status == 503 && said.contains("read-only"), "{status}: {said}");
}

/// Two programs serve one file: what one keeps the other shows, and neither
/// writes over the other's order.
#[test]
fn two_programs_serve_one_file() {
    if serve_if_told() {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let store = folder.path().join("loft.becket");
    let test = "faults::two_programs_serve_one_file";
    let (one, other) = (Served::start(&[], test, &store), Served::start(&[], test, &store));
    let begun = json!({ "text": order("26-041", "the first crew") }).to_string();
    assert_eq!(ask(one.at, "POST", "/api/orders", &begun).unwrap().0, 201);
    let writers: Vec<_> = [(one.at, "one"), (other.at, "other")]
        .into_iter()
        .map(|(at, name)| {
            std::thread::spawn(move || {
                for turn in 0..40 {
                    let answer = ask(at, "POST", "/drafts", &draft(&format!("/{name}{turn}"), name)).unwrap();
                    assert_eq!(answer.0, 204, "{}", answer.1);
                }
            })
        })
        .collect();
    writers.into_iter().for_each(|writer| writer.join().unwrap());
    let save = |at, customer: &str, based_on: i64| {
        let body = json!({ "text": order("26-041", customer), "based_on": based_on }).to_string();
        ask(at, "PUT", "/api/orders/26-041", &body).unwrap()
    };
    assert_eq!(save(one.at, "the crew of one", 1).0, 200);
    let (status, said) = save(other.at, "the crew of the other", 1);
    assert!(status == 409 && said.contains("revision 2"), "{status}: {said}");
    assert!(ask(other.at, "GET", "/orders/26-041", "").unwrap().1.contains("the crew of one"));
    wait(async {
        let records = Records::open(&store.display().to_string()).await.unwrap();
        for page in (0..40).flat_map(|turn| [format!("/one{turn}"), format!("/other{turn}")]) {
            assert_eq!(records.store().drafts("bench", &page).await.unwrap().len(), 1, "{page}");
        }
        let aside = records.store().order_asides("26-041").await.unwrap();
        assert!(aside.iter().any(|aside| aside.text.contains("the crew of the other")), "the other's text is lost");
        records.close().await;
    });
}

/// A clock that was a year ahead is set right: orders go on, and the newest is
/// the one that was saved last, whatever the times say.
#[tokio::test]
async fn a_clock_that_is_set_back_changes_nothing() {
    let loft = Loft::empty().await;
    let ahead = Stamp::new("Ada", "2099-01-01T00:00:00Z").unwrap();
    let records = Records::open(&loft.store()).await.unwrap();
    let text = order("26-041", "the crew of the future");
    records.store().add_order(OrderText { id: "26-041", name: "Sandpiper", text: &text }, &ahead).await.unwrap();
    let now = json!({ "text": order("26-041", "the crew of today"), "based_on": 1 });
    loft.json(axum::http::Method::PUT, "/api/orders/26-041", &now).await.expect(200);
    let saved = loft.get("/api/orders/26-041").await.expect(200).json();
    assert_eq!(saved["revision"], 2);
    assert!(saved["text"].as_str().unwrap().contains("the crew of today"));
    assert!(saved["at"].as_str().unwrap() < "2099");
    loft.get("/orders/26-041").await.expect(200).has("the crew of today");
}

/// PostgreSQL goes while people work, and is back: a page says so, and then
/// goes on without being started again.
#[test]
fn a_server_that_was_gone_and_is_back_needs_nothing() {
    let Some(mut server) = crate::postgres::Server::start() else { return };
    wait(async {
        let loft = Loft::at(&server.url()).await;
        let typed = |value: &str| json!({ "page": "/orders/new", "field": "text", "value": value, "based_on": 0 });
        let post = axum::http::Method::POST;
        loft.json(post.clone(), "/drafts", &typed("typed before")).await.expect(204);
        tokio::task::block_in_place(|| server.stop());
        loft.json(post.clone(), "/drafts", &typed("typed meanwhile")).await.expect(503).has("store-unreachable");
        loft.get("/orders").await.expect(503).has("cannot be reached");
        loft.get("/health").await.expect(200);
        tokio::task::block_in_place(|| server.start_again());
        loft.get("/orders/new").await.expect(200).has("typed before");
        loft.json(post, "/drafts", &typed("typed after")).await.expect(204);
        loft.get("/orders/new").await.expect(200).has("typed after");
    });
}

/// Fifty benches read and write at once, and none sees an error.
#[test]
fn fifty_benches_at_once_see_no_error() {
    if serve_if_told() {
        return;
    }
    const PAGES: [&str; 6] =
        ["/", "/orders", "/orders/26-041", "/orders/26-041/lines", "/orders/26-041/lines/main%20halyard", "/rack"];
    let folder = tempfile::tempdir().unwrap();
    let store = folder.path().join("loft.becket");
    let server = Served::start(&[], "faults::fifty_benches_at_once_see_no_error", &store);
    let at = server.at;
    assert_eq!(ask(at, "POST", "/begin", "with=demo").unwrap().0, 303);
    let until = Instant::now() + Duration::from_secs(number(SECONDS, 5));
    let answers = Arc::new(AtomicUsize::new(0));
    let benches: Vec<_> = (0..50_usize)
        .map(|bench| {
            let answers = Arc::clone(&answers);
            std::thread::spawn(move || {
                for turn in bench.. {
                    if Instant::now() > until {
                        break;
                    }
                    let answer = if turn % 4 == 3 {
                        ask(at, "POST", "/drafts", &draft(&format!("/bench {bench}"), &format!("turn {turn}")))
                    } else {
                        ask(at, "GET", PAGES[turn % PAGES.len()], "")
                    };
                    let (status, said) = answer.expect("an answer");
                    assert!(status == 200 || status == 204, "{status}: {said}");
                    answers.fetch_add(1, Ordering::Relaxed);
                }
            })
        })
        .collect();
    benches.into_iter().for_each(|bench| bench.join().expect("a bench saw no error"));
    let answers = answers.load(Ordering::Relaxed);
    let _ = writeln!(std::io::stderr(), "50 benches at once: {answers} answers, no error");
    assert!(answers > 50, "{answers}");
}
