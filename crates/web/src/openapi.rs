//! The OpenAPI 3.1 document of the programme interface.
//!
//! Paths are listed here, one line each; schemas are desk's own, the same that
//! `becket schema` prints. A test holds the list against the routes, calls
//! every path, and has the document and every answer judged by a validator of
//! its own.

use serde_json::{Map, Value, json};

/// A path: method, address, what it does, schema of the body that is sent, schema of the answer.
pub(crate) struct Route {
    pub(crate) method: &'static str,
    pub(crate) path: &'static str,
    what: &'static str,
    takes: Option<&'static str>,
    gives: &'static str,
    /// Words that may be asked for in the address.
    query: &'static [&'static str],
}

const fn get(path: &'static str, what: &'static str, gives: &'static str) -> Route {
    Route { method: "get", path, what, takes: None, gives, query: &[] }
}

const fn send(
    method: &'static str,
    path: &'static str,
    what: &'static str,
    (takes, gives): (&'static str, &'static str),
) -> Route {
    Route { method, path, what, takes: Some(takes), gives, query: &[] }
}

impl Route {
    const fn asking(self, query: &'static [&'static str]) -> Route {
        Route { query, ..self }
    }

    /// What it answers when it is done.
    fn status(&self) -> &'static str {
        match (self.method, self.path) {
            (_, "/drafts") => "204",
            ("post", "/api/orders" | "/api/rack" | "/api/tests" | "/api/pieces/{order}/{piece}/events") => "201",
            _ => "200",
        }
    }
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
    get("/api/orders/{id}/lines/{line}/rope", "which rope to take for a line", "rope"),
    get("/api/orders/{id}/lines/{line}/cover", "cover on or off for a line", "cover"),
    get("/api/orders/{id}/pieces", "the pieces of an order", "pieces"),
    get("/api/orders/{id}/pieces/{piece}", "a piece at the bench: marks, steps, measurements", "bench"),
    get("/api/orders/{id}/price", "a quote for an order", "price")
        .asking(&["labour", "twine", "waste", "margin", "tax", "rounding"]),
    send("post", "/api/splice", "lay out one end", ("splice-ask", "splice")),
    send("post", "/api/cut", "plan the cuts of orders from the rack", ("cut-ask", "cut-plan")),
    Route { takes: None, ..send("post", "/api/cut/{id}/confirm", "confirm a plan: cut it, once", ("", "confirmed")) },
    get("/api/rack", "every reel and remnant", "reels"),
    send("post", "/api/rack", "put reels on the rack, all or none", ("reels-text", "reels")),
    get("/api/pieces/{order}/{piece}", "a piece's record, by the code on its label", "record"),
    send("post", "/api/pieces/{order}/{piece}/events", "enter what happened to a piece", ("event", "due-day")),
    get("/api/due", "what must be looked at by a day", "due").asking(&["by"]),
    get("/api/tests", "proof and break tests with their statistics", "tests").asking(&["rope", "end"]),
    send("post", "/api/tests", "take a log of tests in (CSV)", ("tests-text", "taken-in")),
    get("/api/learned", "the loft's own figures beside the defaults", "learned").asking(&["rope", "end"]),
    send("post", "/drafts", "keep what is half typed", ("draft", "")),
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
            "license": { "name": "MIT OR Apache-2.0", "identifier": "MIT OR Apache-2.0" }
        },
        "servers": [{ "url": "/" }],
        // Nobody signs in on the loft's own machine.
        "security": [{}, { "session": [] }],
        "paths": paths,
        "components": {
            "schemas": schemas(),
            "securitySchemes": { "session": { "type": "apiKey", "in": "cookie", "name": crate::cookies::NAME } }
        }
    })
}

fn operation(route: &Route) -> Value {
    let body = |schema: &str| json!({ "application/json": { "schema": { "$ref": format!("#/components/schemas/{schema}") } } });
    let parameters: Vec<Value> = route
        .path
        .split('/')
        .filter_map(|part| part.strip_prefix('{')?.strip_suffix('}'))
        .map(|name| json!({ "name": name, "in": "path", "required": true, "schema": { "type": "string" } }))
        .chain(route.query.iter().map(|name| json!({ "name": name, "in": "query", "schema": { "type": "string" } })))
        .collect();
    let done = match route.gives {
        "" => json!({ "description": route.what }),
        schema => json!({ "description": route.what, "content": body(schema) }),
    };
    let mut operation = json!({
        "summary": route.what,
        "operationId": format!("{} {}", route.method, route.path.trim_start_matches("/api/")).replace(['/', ' '], "-").replace(['{', '}'], ""),
        "parameters": parameters,
        "responses": {
            route.status(): done,
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
    let array = |of: &str| json!({ "type": "array", "items": { "$ref": format!("#/components/schemas/{of}") } });
    let words = ["rope", "end", "bury", "wanted_margin", "eye", "eye_on", "taper", "lock", "friction", "load", "units"];
    let asked: Map<String, Value> = words.iter().map(|word| ((*word).to_owned(), text())).collect();
    let order = [("id", true), ("name", true), ("at", true), ("who", true), ("text", false)];
    let reel = [("reel", true), ("rope", true), ("colour", true), ("batch", true), ("state", true)];
    let happened = [("on", true), ("what", true), ("next", false), ("reason", false)];
    let typed = [("page", true), ("field", true), ("value", true)];
    let whole = json!({ "type": "integer" });
    let mut schemas = Map::from_iter([
        ("document".to_owned(), json!({ "type": "object", "required": ["openapi", "paths"] })),
        ("orders".to_owned(), array("order")),
        ("order".to_owned(), object(&order, &[("revision", true, whole.clone())])),
        ("order-text".to_owned(), object(&[("text", true)], &[("based_on", false, whole.clone())])),
        (
            "splice-ask".to_owned(),
            json!({ "type": "object", "required": ["rope", "end"], "properties": asked, "additionalProperties": false }),
        ),
        ("cut-ask".to_owned(), object(&[], &[("orders", true, json!({ "type": "array", "items": text() }))])),
        (
            "cut-plan".to_owned(),
            object(&[("id", true)], &[("plan", true, json!({ "$ref": "#/components/schemas/cut" }))]),
        ),
        ("confirmed".to_owned(), object(&[("confirmed", true)], &[])),
        ("reels".to_owned(), array("reel")),
        (
            "reel".to_owned(),
            object(&reel, &[("length_mm", true, whole.clone()), ("remnant", true, json!({ "type": "boolean" }))]),
        ),
        ("reels-text".to_owned(), object(&[("text", true)], &[])),
        ("tests-text".to_owned(), object(&[("text", true)], &[])),
        ("event".to_owned(), object(&happened, &[("hours", false, json!({ "type": "number" }))])),
        ("due-day".to_owned(), object(&[], &[("due", true, json!({ "type": ["string", "null"] }))])),
        ("draft".to_owned(), object(&typed, &[("based_on", false, whole)])),
    ]);
    for (word, schema) in desk::interface_schemas() {
        schemas.insert(word.to_owned(), local(schema, word));
    }
    Value::Object(schemas)
}

/// An object of texts and of other values; each is wanted or not.
fn object(texts: &[(&str, bool)], others: &[(&str, bool, Value)]) -> Value {
    let texts = texts.iter().map(|(name, wanted)| (*name, *wanted, json!({ "type": "string" })));
    let all: Vec<(&str, bool, Value)> = texts.chain(others.iter().cloned()).collect();
    let wanted: Vec<&str> = all.iter().filter(|(_, wanted, _)| *wanted).map(|(name, ..)| *name).collect();
    let properties: Map<String, Value> = all.iter().map(|(name, _, of)| ((*name).to_owned(), of.clone())).collect();
    json!({ "type": "object", "required": wanted, "properties": properties, "additionalProperties": false })
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
