//! The programme interface: every path of its document is called, and each
//! refusal carries desk's problem.

use crate::ask::Loft;
use axum::http::Method;
use serde_json::{Value, json};

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

#[tokio::test]
async fn every_path_of_the_document_answers() {
    let loft = Loft::demo().await;
    let document = loft.get("/api/openapi.json").await.json();
    let mut called = 0;
    for (path, methods) in document["paths"].as_object().unwrap() {
        let here = path
            .replace("{id}", "26-041")
            .replace("{line}", "main%20halyard")
            .replace("{piece}", "01")
            .replace("{order}", "26-041");
        for (method, operation) in methods.as_object().unwrap() {
            let method = Method::from_bytes(method.to_uppercase().as_bytes()).unwrap();
            let body = match (method.as_str(), path.as_str()) {
                ("POST", "/api/orders") => json!({ "text": web_blank() }),
                ("PUT", "/api/orders/{id}") => json!({ "text": demo_order(), "based_on": 1 }),
                ("POST", "/api/splice") => {
                    json!({ "rope": "10 mm 12-strand HMPE", "end": "long-bury-eye", "eye": "60 mm", "eye_on": "12 mm pin" })
                }
                _ => json!({}),
            };
            let answer = if method == Method::GET {
                loft.get(&here).await
            } else {
                loft.json(method.clone(), &here, &body).await
            };
            let wanted = operation["responses"].as_object().unwrap().keys().next().unwrap().parse().unwrap();
            answer.expect(wanted);
            called += 1;
        }
    }
    assert!(called >= 9, "{called}");
}

fn web_blank() -> String {
    desk_blank("26-99")
}

fn desk_blank(number: &str) -> String {
    demo_order().replace("26-041", number)
}

fn demo_order() -> String {
    std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/sloop/order.toml")).unwrap()
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
