//! Backup, restore, move and export; tables that only grow; the catalogue
//! against the database.

use crate::both::{fresh_server_place, on_both, stamp, wait};
use crate::rack::{facts, plan, reel};
use crate::rows::piece;
use sqlx::{Connection, Executor, Row};
use std::collections::BTreeSet;
use std::path::Path;
use store::{Error, Mark, NewPhoto, OrderText, PhotoKind, Place, Store, TABLES, Typed, restore};

/// Something in many of the tables, and texts that are hard to carry.
async fn fill(store: &Store) {
    let by = stamp("Ada", 1);
    let new = OrderText { id: "sloop", name: "Sloop \"O'Hara\"", text: "a = 1\r\nb = \"ß 漢 👩‍🔧\"\n" };
    store.add_order(new, &by).await.unwrap();
    store.save_order(OrderText { text: "a = 2", ..new }, 1, &by).await.unwrap();
    store.save_order(OrderText { text: "a = 3", ..new }, 1, &by).await.unwrap();
    store.keep_drafts(&[Typed { page: "/", field: "f", value: "=1+1", based_on: None }], &by).await.unwrap();
    store.set("paper", "\"a4\"", None, &by).await.unwrap();
    store.add_reels(&[reel("R1", 10_000), reel("R2", 10_000)], &by).await.unwrap();
    let new = plan("P1", &["R1", "R2"]);
    store.make_plan(&new, &by).await.unwrap();
    store.confirm_plan("P1", &facts(&new), &by).await.unwrap();
    let mut odd = piece("H1");
    odd.note = "=HYPERLINK(\"x\")".to_owned();
    store.add_piece(&odd, &by).await.unwrap();
    for number in 0..40 {
        store.tick("H1", &format!("step {number}"), Mark::Ticked, &by).await.unwrap();
    }
    let photo = NewPhoto {
        id: "../f1".to_owned(),
        piece: "H1".to_owned(),
        step: "-1".to_owned(),
        kind: PhotoKind::Png,
        bytes: b"\x89PNG\r\n\x1a\n\0\xff".to_vec(),
    };
    store.add_photo(photo, &by).await.unwrap();
}

#[test]
fn a_store_goes_to_the_other_database_and_back() {
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str| Place::File(folder.path().join(name));
    let server = fresh_server_place();
    wait(async {
        let store = Store::open(&file("first")).await.unwrap();
        fill(&store).await;
        let counts = store.counts().await.unwrap();
        let backup = store.copy_to(&file("backup")).await.unwrap();
        assert_eq!(backup, counts);
        assert!(counts.iter().find(|count| count.table == "ticks").unwrap().rows == 40);
        assert!(matches!(store.copy_to(&file("backup")).await.unwrap_err(), Error::Occupied { .. }));
        if let Some(server) = server {
            assert_eq!(store.copy_to(&server).await.unwrap(), counts);
            let moved = Store::open(&server).await.unwrap();
            assert_eq!(moved.counts().await.unwrap(), counts);
            assert!(matches!(store.copy_to(&server).await.unwrap_err(), Error::Occupied { .. }));
            assert_eq!(moved.copy_to(&file("again")).await.unwrap(), counts);
            // Numbers go on from where they were, in both.
            let tick = moved.tick("H1", "next", Mark::Ticked, &stamp("Ada", 2)).await.unwrap();
            assert_eq!(tick.seq, 41);
            moved.close().await;
            let again = Store::open(&file("again")).await.unwrap();
            assert_eq!(again.tick("H1", "next", Mark::Ticked, &stamp("Ada", 2)).await.unwrap().seq, 41);
            again.close().await;
        }
        let restored = restore(&folder.path().join("backup"), &file("restored")).await.unwrap();
        assert_eq!(restored, counts);
        assert!(restore(&folder.path().join("nothing"), &file("x")).await.is_err());
        store.close().await;
    });
}

#[test]
fn a_backup_under_load_is_of_one_moment() {
    on_both(async |store| {
        let folder = tempfile::tempdir().unwrap();
        store.set("n", "0", None, &stamp("Ada", 0)).await.unwrap();
        let writer = {
            let store = store.clone();
            tokio::spawn(async move {
                for number in 1..=150_u32 {
                    store.set("n", &number.to_string(), None, &stamp("Ada", number)).await.unwrap();
                }
            })
        };
        for number in 0..3 {
            let place = Place::File(folder.path().join(format!("b{number}")));
            store.copy_to(&place).await.unwrap();
            let copy = Store::open(&place).await.unwrap();
            let value = copy.setting("n").await.unwrap().unwrap();
            let changes = copy.history_of("setting", "n").await.unwrap();
            // Setting and history are written in one transaction, so at one
            // moment they agree.
            assert_eq!(changes.len() as i64, value.revision);
            copy.close().await;
        }
        writer.await.unwrap();
        assert_eq!(store.setting("n").await.unwrap().unwrap().value, "150");
    });
}

#[test]
fn a_damaged_copy_is_seen() {
    let folder = tempfile::tempdir().unwrap();
    wait(async {
        let store = Store::open(&Place::File(folder.path().join("a"))).await.unwrap();
        fill(&store).await;
        let before = store.counts().await.unwrap();
        store.set("paper", "\"a5\"", None, &stamp("Ada", 3)).await.unwrap();
        let after = store.counts().await.unwrap();
        let changed: Vec<&str> = before
            .iter()
            .zip(&after)
            .filter(|(before, after)| before != after)
            .map(|(before, _)| before.table)
            .collect();
        assert_eq!(changed, ["settings", "history"]);
        store.check_whole().await.unwrap();
        store.close().await;
    });
}

#[test]
fn an_export_reads_back_and_defuses_formulas() {
    on_both(async |store| {
        fill(&store).await;
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("export");
        let done = store.export_to(&out).await.unwrap();
        assert_eq!(done.len(), TABLES.len());
        assert!(matches!(store.export_to(&out).await.unwrap_err(), Error::Occupied { .. }));
        for (table, done) in TABLES.iter().zip(&done) {
            let text = std::fs::read_to_string(out.join(format!("{}.json", table.name))).unwrap();
            let rows: Vec<serde_json::Value> = serde_json::from_str(&text).unwrap();
            assert_eq!(rows.len() as u64, done.rows, "{}", table.name);
            let mut csv = csv::Reader::from_path(out.join(format!("{}.csv", table.name))).unwrap();
            assert_eq!(csv.records().filter(|row| row.is_ok()).count() as u64, done.rows, "{}", table.name);
            for row in csv::Reader::from_path(out.join(format!("{}.csv", table.name))).unwrap().records() {
                for cell in &row.unwrap() {
                    assert!(!cell.starts_with(['=', '@', '\t', '\r']), "{cell}");
                }
            }
        }
        let pieces = std::fs::read_to_string(out.join("pieces.json")).unwrap();
        assert!(pieces.contains(r#"=HYPERLINK(\"x\")"#));
        assert!(std::fs::read_to_string(out.join("pieces.csv")).unwrap().contains("'=HYPERLINK"));
        let photos: Vec<_> = std::fs::read_dir(out.join("photos")).unwrap().collect();
        assert_eq!(photos.len(), 1, "photos lie in their folder, whatever their id says");
        assert!(!std::fs::read_to_string(out.join("users.csv")).unwrap().contains("secret"));
        let described = std::fs::read_to_string(out.join("tables.json")).unwrap();
        assert!(described.contains("whole millimetres"));
    });
}

#[test]
fn formulas_are_defused_and_numbers_are_not() {
    for (text, wanted) in [
        ("=1+1", "'=1+1"),
        ("+44 20", "'+44 20"),
        ("-12.50", "-12.50"),
        ("+3", "+3"),
        ("-", "'-"),
        ("-1-1", "'-1-1"),
        ("-1.2.3", "'-1.2.3"),
        ("@sum", "'@sum"),
        ("\t=1", "'\t=1"),
        (" =1", "' =1"),
        ("\u{ff1d}1", "'\u{ff1d}1"),
        ("main sheet", "main sheet"),
        ("", ""),
    ] {
        assert_eq!(store::defused(text), wanted);
    }
}

/// A statement sent past the program, to the database itself.
async fn directly(place: &Place, statement: &str) -> Result<(), String> {
    let statement = sqlx::AssertSqlSafe(statement.to_owned());
    match place {
        Place::File(path) => {
            let mut connection = sqlx::SqliteConnection::connect(path.to_str().unwrap()).await.unwrap();
            connection.execute(sqlx::raw_sql(statement)).await.map(|_| ()).map_err(|error| error.to_string())
        }
        Place::Server(url) => {
            let mut connection = sqlx::PgConnection::connect(url).await.unwrap();
            connection.execute(sqlx::raw_sql(statement)).await.map(|_| ()).map_err(|error| error.to_string())
        }
    }
}

#[test]
fn the_database_itself_refuses_to_change_what_only_grows() {
    on_both(async |store| {
        fill(&store).await;
        for table in ["history", "order_versions", "order_asides", "ticks"] {
            for statement in [format!("DELETE FROM {table}"), format!("UPDATE {table} SET who = 'Eve'")] {
                let refused = directly(store.place(), &statement).await.unwrap_err();
                assert!(refused.contains(&format!("rows of {table} are added and never changed")), "{refused}");
            }
        }
        assert_eq!(store.ticks("H1").await.unwrap().len(), 40);
        assert!(directly(store.place(), "DELETE FROM pieces WHERE code = 'H1'").await.is_err(), "ticks hang on it");
        assert!(directly(store.place(), "UPDATE reels SET length_mm = -1").await.is_err());
    });
}

/// Columns of each table as the database has them.
async fn columns(place: &Place) -> BTreeSet<(String, String)> {
    let (file, server) = (
        "SELECT m.name, c.name FROM sqlite_master m, pragma_table_info(m.name) c WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite%'",
        "SELECT table_name::text, column_name::text FROM information_schema.columns WHERE table_schema = current_schema()",
    );
    match place {
        Place::File(path) => {
            let mut connection = sqlx::SqliteConnection::connect(path.to_str().unwrap()).await.unwrap();
            let rows = sqlx::query(file).fetch_all(&mut connection).await.unwrap();
            rows.iter().map(|row| (row.get(0), row.get(1))).collect()
        }
        Place::Server(url) => {
            let mut connection = sqlx::PgConnection::connect(url).await.unwrap();
            let rows = sqlx::query(server).fetch_all(&mut connection).await.unwrap();
            rows.iter().map(|row| (row.get(0), row.get(1))).collect()
        }
    }
}

#[test]
fn the_catalogue_is_what_the_database_has() {
    on_both(async |store| {
        let known: BTreeSet<(String, String)> = TABLES
            .iter()
            .flat_map(|table| {
                (table.columns)().into_iter().map(|column| (table.name.to_owned(), column.name.to_owned()))
            })
            .collect();
        let found = columns(store.place()).await;
        let missing: Vec<_> = known.difference(&found).collect();
        assert!(missing.is_empty(), "{missing:?}");
        // What is not in the catalogue is in no backup: only these may be.
        let extra: BTreeSet<&str> = found.difference(&known).map(|(table, _)| table.as_str()).collect();
        assert_eq!(extra, BTreeSet::from(["becket_store", "sessions"]));
    });
}

/// A store of the first layout, as an older program left it, is brought up.
#[test]
fn an_older_store_is_brought_up_with_what_is_in_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("loft.becket");
    wait(async {
        let store = Store::open(&Place::File(path.clone())).await.unwrap();
        store.add_reels(&[reel("R1", 10_000)], &stamp("Ada", 1)).await.unwrap();
        store.close().await;
        take_back_to_first(&path).await;
        let store = Store::open(&Place::File(path.clone())).await.unwrap();
        assert_eq!(store.reel("R1").await.unwrap().length_mm, 10_000);
        assert_eq!(store.minutes().await.unwrap(), []);
        store.close().await;
    });
}

/// Removes what the later steps made.
async fn take_back_to_first(path: &Path) {
    let mut statements = vec!["PRAGMA foreign_keys = OFF; DROP INDEX pieces_state".to_owned()];
    for table in [
        "load_curves",
        "tests",
        "inspections",
        "life",
        "minutes",
        "readings",
        "struck",
        "prices",
        "quotes",
        "sessions",
        "users",
        "refusals",
        "plan_remnants",
    ] {
        statements.push(format!("DROP TABLE {table}"));
    }
    for (table, column) in
        [("reels", "kind"), ("plan_reels", "seen_kind"), ("plan_reels", "seen_flaws"), ("plan_reels", "left_flaws")]
    {
        statements.push(format!("ALTER TABLE {table} DROP COLUMN {column}"));
    }
    statements.push("UPDATE becket_store SET layout = 1".to_owned());
    directly(&Place::File(path.to_owned()), &statements.join("; ")).await.unwrap();
}
