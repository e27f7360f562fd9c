//! The programme interface: every path of its document is called, and each
//! refusal carries desk's problem.

use crate::ask::Loft;
use axum::http::Method;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

#[tokio::test]
async fn the_document_is_whole() {
    let loft = Loft::demo().await;
    let document = loft.get("/api/openapi.json").await.expect(200).json();
    assert_eq!(document["openapi"], "3.1.0");
    let mut references = Vec::new();
    collect(&document, &mut references);
    assert!(references.len() > 10);
    for reference in references {
        let pointer = reference.strip_prefix('#').unwrap();
        assert!(document.pointer(pointer).is_some(), "{reference} leads nowhere");
    }
}

fn collect(value: &Value, into: &mut Vec<String>) {
    match value {
        Value::Object(map) => {
            if let Some(Value::String(reference)) = map.get("$ref") {
                into.push(reference.clone());
            }
            map.values().for_each(|value| collect(value, into));
        }
        Value::Array(values) => values.iter().for_each(|value| collect(value, into)),
        _ => {}
    }
}

/// A call: method, path of the document, address, what is sent.
type Call = (&'static str, &'static str, String, Value);

/// Every path, in an order in which each can be done.
fn calls(plan: &str) -> Vec<Call> {
    const ORDER: &str = "/api/orders/{id}";
    let get = |path: &'static str, here: &str| ("get", path, here.to_owned(), Value::Null);
    let end = json!({ "rope": "10 mm 12-strand HMPE", "end": "long-bury-eye", "eye": "60 mm", "eye_on": "12 mm pin" });
    let service = json!({ "on": "2026-11-25", "what": "in-service" });
    let reels = "reel,rope,colour,batch,length,price_per_metre\nZ-1,braid,,,100 m,\n";
    vec![
        get("/api/openapi.json", "/api/openapi.json"),
        ("post", "/api/orders", "/api/orders".to_owned(), json!({ "text": another_order() })),
        get("/api/orders", "/api/orders"),
        get(ORDER, "/api/orders/26-041"),
        get("/api/orders/{id}/boat", "/api/orders/26-041/boat"),
        get("/api/orders/{id}/lines", "/api/orders/26-041/lines"),
        get("/api/orders/{id}/lines/{line}", "/api/orders/26-041/lines/main%20halyard"),
        get("/api/orders/{id}/lines/{line}/rope", "/api/orders/26-041/lines/main%20halyard/rope"),
        get("/api/orders/{id}/lines/{line}/cover", "/api/orders/26-041/lines/main%20halyard/cover"),
        get("/api/orders/{id}/pieces", "/api/orders/26-041/pieces"),
        get("/api/orders/{id}/pieces/{piece}", "/api/orders/26-041/pieces/01"),
        get("/api/orders/{id}/price", "/api/orders/26-041/price?labour=48+EUR&margin=20+%25&tax=19+%25"),
        ("post", "/api/splice", "/api/splice".to_owned(), end),
        ("post", "/api/cut", "/api/cut".to_owned(), json!({ "orders": ["26-041"] })),
        ("post", "/api/cut/{id}/confirm", format!("/api/cut/{plan}/confirm"), Value::Null),
        get("/api/pieces/{order}/{piece}", "/api/pieces/26-041/01"),
        ("post", "/api/pieces/{order}/{piece}/events", "/api/pieces/26-041/01/events".to_owned(), service),
        get("/api/due", "/api/due?by=2028-01-01"),
        ("post", "/api/tests", "/api/tests".to_owned(), json!({ "text": tests_log() })),
        get("/api/tests", "/api/tests"),
        get("/api/learned", "/api/learned"),
        get("/api/rack", "/api/rack"),
        ("post", "/api/rack", "/api/rack".to_owned(), json!({ "text": reels })),
        ("put", ORDER, "/api/orders/26-041".to_owned(), json!({ "text": demo_order(), "based_on": 1 })),
        (
            "post",
            "/drafts",
            "/drafts".to_owned(),
            json!({ "page": "/orders/new", "field": "text", "value": "half", "based_on": 0 }),
        ),
    ]
}

/// Every path of the document is a route and every route is in the document;
/// each is called, and the document and what came back are judged by the
/// validators that others wrote for OpenAPI 3.1 and JSON Schema.
#[tokio::test]
async fn every_path_answers_as_the_document_says() {
    let loft = Loft::demo().await;
    let document = loft.get("/api/openapi.json").await.expect(200).json();
    let plan = loft.json(Method::POST, "/api/cut", &json!({ "orders": ["26-041"] })).await.expect(200).json();
    let calls = calls(plan["id"].as_str().unwrap());
    let named = |paths: Vec<(String, String)>| paths.into_iter().collect::<BTreeSet<_>>();
    let listed =
        document["paths"].as_object().unwrap().iter().flat_map(|(path, methods)| {
            methods.as_object().unwrap().keys().map(|method| (method.clone(), path.clone()))
        });
    let listed = named(listed.collect());
    assert_eq!(listed, named(calls.iter().map(|call| (call.0.to_owned(), call.1.to_owned())).collect()));
    let routes = crate::refused::interface_routes();
    assert_eq!(listed.iter().filter(|(_, path)| path.starts_with("/api/")).count(), routes.len(), "{routes:?}");
    let folder = tempfile::tempdir().unwrap();
    std::fs::create_dir(folder.path().join("answers")).unwrap();
    let keep = |name: &str, value: &Value| std::fs::write(folder.path().join(name), value.to_string()).unwrap();
    keep("document.json", &document);
    for (number, (method, path, here, body)) in calls.iter().enumerate() {
        let (answer, ended) = called(&loft, method, here, body).await;
        let wanted = document["paths"][path][method]["responses"].as_object().unwrap().keys().next().unwrap().clone();
        assert_eq!(ended.to_string(), wanted, "{method} {here}: {answer}");
        let kept = json!({ "method": method, "path": path, "status": ended, "body": answer });
        keep(&format!("answers/{number:02}.json"), &kept);
    }
    // Refusals are judged too.
    for (number, (method, path, here, body)) in [
        ("get", "/api/orders/{id}", "/api/orders/none", Value::Null),
        ("post", "/api/orders", "/api/orders", json!({ "text": "becket = 1\nodd = 2\n" })),
        ("post", "/api/splice", "/api/splice", json!({ "rope": "string", "end": "long-bury-eye" })),
        ("post", "/api/cut", "/api/cut", json!({ "orders": [] })),
        ("get", "/api/due", "/api/due?by=tomorrow", Value::Null),
    ]
    .into_iter()
    .enumerate()
    {
        let (answer, ended) = called(&loft, method, here, &body).await;
        assert!(ended >= 400, "{method} {here}: {answer}");
        keep(
            &format!("answers/refused-{number}.json"),
            &json!({ "method": method, "path": path, "status": ended, "body": answer }),
        );
    }
    judge(folder.path());
}

async fn called(loft: &Loft, method: &str, here: &str, body: &Value) -> (Value, u16) {
    // A piece is made before it goes into service.
    if here.ends_with("/events") {
        let records = desk::records::Records::open(&loft.store()).await.unwrap();
        let step =
            desk::records::rows::Move { to: desk::records::rows::PieceState::Made, on: "2026-11-24", next_due: None };
        records.store().move_piece("26-041/01", step, &desk::records::stamp("Ada").unwrap()).await.unwrap();
    }
    let method = Method::from_bytes(method.to_uppercase().as_bytes()).unwrap();
    let answer = if method == Method::GET { loft.get(here).await } else { loft.json(method, here, body).await };
    let value = if answer.bytes.is_empty() { Value::Null } else { answer.json() };
    (value, answer.status.as_u16())
}

/// The validators, in Python, brought by `./check`.
fn judge(folder: &Path) {
    let target = std::env::var_os("CARGO_TARGET_DIR")
        .map_or_else(|| PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../../target")), PathBuf::from);
    let python = target.join("web-tools/openapi/bin/python");
    assert!(python.exists(), "{} is needed: ./check installs it", python.display());
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/openapi.py");
    let judged = std::process::Command::new(python).arg(script).arg(folder).output().unwrap();
    let said = format!("{}{}", String::from_utf8_lossy(&judged.stdout), String::from_utf8_lossy(&judged.stderr));
    assert!(judged.status.success(), "{said}");
}

fn tests_log() -> String {
    std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/loft/tests.csv")).unwrap()
}

fn another_order() -> String {
    demo_order().replace("26-041", "26-99")
}

fn demo_order() -> String {
    std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/sloop/order.toml")).unwrap()
}

/// What is left of the reels is the plan's own, in the store as in a rack file:
/// reels that go and reels that come, by rope and length.
#[tokio::test]
async fn the_stores_rack_changes_as_the_plan_says() {
    let loft = Loft::demo().await;
    let lengths = async || {
        let rack = loft.get("/api/rack").await.expect(200).json();
        let of = |reel: &Value| (reel["rope"].to_string(), reel["length_mm"].as_i64().unwrap());
        rack.as_array().unwrap().iter().map(of).collect::<Vec<_>>()
    };
    let mut wanted = lengths().await;
    let planned = loft.json(Method::POST, "/api/cut", &json!({ "orders": ["26-041"] })).await.expect(200).json();
    let side = |word: &str| planned["plan"]["rack"][word].as_array().unwrap().clone();
    let of = |row: &Value| (row["rope"].to_string(), row["length_mm"].as_i64().unwrap());
    for gone in side("gone") {
        let at = wanted.iter().position(|reel| *reel == of(&gone)).expect("it was on the rack");
        wanted.swap_remove(at);
    }
    wanted.extend(side("come").iter().map(of));
    loft.json(Method::POST, &format!("/api/cut/{}/confirm", planned["id"].as_str().unwrap()), &Value::Null)
        .await
        .expect(200);
    let mut found = lengths().await;
    wanted.sort();
    found.sort();
    assert_eq!(found, wanted);
    // Once: the rack is another one now, and has not rope enough for a second cut.
    let again = format!("/api/cut/{}/confirm", planned["id"].as_str().unwrap());
    loft.json(Method::POST, &again, &Value::Null).await.expect(422).has("cannot-plan");
}

#[tokio::test]
async fn refusals_are_problems() {
    let loft = Loft::demo().await;
    let missing = loft.get("/api/orders/nothing/lines").await.expect(404).json();
    assert_eq!(missing["code"], "missing");
    let broken =
        loft.json(Method::POST, "/api/orders", &json!({ "text": "becket = 1\nodd = 2\n" })).await.expect(422).json();
    assert_eq!(broken["code"], "mistakes");
    assert!(broken["mistakes"].as_array().unwrap().iter().any(|mistake| mistake["place"]["line"] == 2));
    let rope = loft
        .json(Method::POST, "/api/splice", &json!({ "rope": "string", "end": "long-bury-eye" }))
        .await
        .expect(400)
        .json();
    assert!(!rope["hints"].as_array().unwrap().is_empty());
    loft.json(Method::POST, "/api/splice", &json!({ "rope": "x", "end": "y", "colour": "red" })).await.expect(422);
    loft.get("/api/no/such").await.expect(404);
}

#[tokio::test]
async fn an_order_that_moved_on_is_not_overwritten() {
    let loft = Loft::demo().await;
    let save = |text: String, based_on: i64| json!({ "text": text, "based_on": based_on });
    let theirs = demo_order().replace("Crew of Sandpiper", "The new crew");
    loft.json(Method::PUT, "/api/orders/26-041", &save(theirs.clone(), 1)).await.expect(200);
    let mine = demo_order().replace("Crew of Sandpiper", "The old crew");
    let refusal = loft.json(Method::PUT, "/api/orders/26-041", &save(mine, 1)).await.expect(409).json();
    assert_eq!(refusal["code"], "changed");
    let now = loft.get("/api/orders/26-041").await.expect(200).json();
    assert_eq!((now["revision"].as_i64(), now["text"].as_str()), (Some(2), Some(theirs.as_str())));
}
