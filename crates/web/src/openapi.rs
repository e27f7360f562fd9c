//! The OpenAPI 3.1 document of the programme interface.
//!
//! Paths are listed here, one line each; schemas are desk's own, the same that
//! `becket schema` prints. A test calls every path that is listed, and holds
//! the list against the routes.

use serde_json::{Map, Value, json};

/// A path: method, address, what it does, schema of the body that is sent, schema of the answer.
pub(crate) struct Route {
    pub(crate) method: &'static str,
    pub(crate) path: &'static str,
    what: &'static str,
    takes: Option<&'static str>,
    gives: &'static str,
}

const fn get(path: &'static str, what: &'static str, gives: &'static str) -> Route {
    Route { method: "get", path, what, takes: None, gives }
}

const fn send(
    method: &'static str,
    path: &'static str,
    what: &'static str,
    (takes, gives): (&'static str, &'static str),
) -> Route {
    Route { method, path, what, takes: Some(takes), gives }
}

/// Every path of the interface.
pub(crate) const ROUTES: &[Route] = &[
    get("/api/openapi.json", "this document", "document"),
    get("/api/orders", "the order book", "orders"),
    send("post", "/api/orders", "put an order on the book", ("order-text", "order")),
    get("/api/orders/{id}", "an order with its text", "order"),
    send("put", "/api/orders/{id}", "save an order over the revision it was made from", ("order-text", "order")),
    get("/api/orders/{id}/boat", "an order's heading and boat", "boat"),
    get("/api/orders/{id}/lines", "every line of an order, worked out", "lines"),
    get("/api/orders/{id}/lines/{line}", "one line of an order, worked out", "lines"),
    send("post", "/api/splice", "lay out one end", ("splice-ask", "splice")),
];

/// The document.
pub(crate) fn document() -> Value {
    let mut paths = Map::new();
    for route in ROUTES {
        let entry = paths.entry(route.path.to_owned()).or_insert_with(|| json!({}));
        if let Some(methods) = entry.as_object_mut() {
            methods.insert(route.method.to_owned(), operation(route));
        }
    }
    json!({
        "openapi": "3.1.0",
        "info": {
            "title": "Becket",
            "version": env!("CARGO_PKG_VERSION"),
            "description": "What the pages do, as JSON. Text in, amounts with their units out. Refusals carry a problem.",
            "license": { "name": "MIT OR Apache-2.0" }
        },
        "servers": [{ "url": "/" }],
        "paths": paths,
        "components": { "schemas": schemas() }
    })
}

fn operation(route: &Route) -> Value {
    let body = |schema: &str| json!({ "application/json": { "schema": { "$ref": format!("#/components/schemas/{schema}") } } });
    let parameters: Vec<Value> = route
        .path
        .split('/')
        .filter_map(|part| part.strip_prefix('{')?.strip_suffix('}'))
        .map(|name| json!({ "name": name, "in": "path", "required": true, "schema": { "type": "string" } }))
        .collect();
    let status = if (route.method, route.path) == ("post", "/api/orders") { "201" } else { "200" };
    let mut operation = json!({
        "summary": route.what,
        "operationId": format!("{} {}", route.method, route.path.trim_start_matches("/api/")).replace(['/', ' '], "-").replace(['{', '}'], ""),
        "parameters": parameters,
        "responses": {
            status: { "description": route.what, "content": body(route.gives) },
            "default": { "description": "why it cannot be done", "content": body("problem") }
        }
    });
    if let (Some(takes), Some(parts)) = (route.takes, operation.as_object_mut()) {
        parts.insert("requestBody".to_owned(), json!({ "required": true, "content": body(takes) }));
    }
    operation
}

fn schemas() -> Value {
    let text = || json!({ "type": "string" });
    let order = json!({
        "type": "object",
        "required": ["id", "name", "revision", "at", "who"],
        "properties": { "id": text(), "name": text(), "revision": { "type": "integer" }, "at": text(), "who": text(), "text": text() }
    });
    let words = ["bury", "wanted_margin", "eye", "eye_on", "taper", "lock", "friction", "load", "units"];
    let mut asked: Map<String, Value> = words.iter().map(|word| ((*word).to_owned(), text())).collect();
    asked.insert("rope".to_owned(), text());
    asked.insert("end".to_owned(), text());
    let mut schemas = Map::from_iter([
        ("document".to_owned(), json!({ "type": "object" })),
        ("orders".to_owned(), json!({ "type": "array", "items": order })),
        ("order".to_owned(), order),
        (
            "order-text".to_owned(),
            json!({ "type": "object", "required": ["text"], "properties": { "text": text(), "based_on": { "type": "integer" } } }),
        ),
        ("boat".to_owned(), json!({ "type": "object" })),
        (
            "splice-ask".to_owned(),
            json!({ "type": "object", "required": ["rope", "end"], "properties": asked, "additionalProperties": false }),
        ),
    ]);
    for (document, word) in desk::Document::ALL {
        if word != "order" {
            schemas.insert(word.to_owned(), local(desk::schema(document), word));
        }
    }
    Value::Object(schemas)
}

/// A schema's own definitions are found under it, inside this document.
fn local(mut schema: Value, word: &str) -> Value {
    fn walk(value: &mut Value, word: &str) {
        match value {
            Value::Object(map) => {
                if let Some(Value::String(reference)) = map.get_mut("$ref")
                    && let Some(rest) = reference.strip_prefix("#/")
                {
                    *reference = format!("#/components/schemas/{word}/{rest}");
                }
                map.values_mut().for_each(|value| walk(value, word));
            }
            Value::Array(values) => values.iter_mut().for_each(|value| walk(value, word)),
            _ => {}
        }
    }
    walk(&mut schema, word);
    schema
}
