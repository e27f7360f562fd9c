//! Everything that must be refused: who may not, what is too much, what is not
//! what it says it is; and that each refusal is written down for the owner.

use crate::ask::Loft;
use axum::http::Method;
use std::time::Duration;

/// Every address with its methods, as the program declares them.
fn routes() -> Vec<(Method, String)> {
    let pages = include_str!("../../src/routes.rs");
    let interface = include_str!("../../src/api.rs");
    let mut found = Vec::new();
    let kept = include_str!("../../src/pages/kept.rs");
    let money = include_str!("../../src/pages/money.rs");
    let papers = include_str!("../../src/pages/papers.rs");
    for (text, before) in [(pages, ""), (kept, ""), (money, ""), (papers, ""), (interface, "/api")] {
        for part in text.split(".route(").skip(1) {
            let part = part.split(".route(").next().unwrap();
            let (_, rest) = part.split_once('"').unwrap();
            let (path, handlers) = rest.split_once('"').unwrap();
            let handlers = handlers.split("\n        .").next().unwrap();
            let here = format!("{before}{path}")
                .replace("{id}", "26-041")
                .replace("{order}", "26-041")
                .replace("{piece}", "01")
                .replace("{line}", "vang")
                .replace("{*code}", "S-1")
                .replace("{*number}", "B-1")
                .replace("{kind}", "labels.pdf")
                .replace("{name}", "becket.css");
            for (word, method) in [("get(", Method::GET), ("post(", Method::POST), ("put(", Method::PUT)] {
                if handlers.contains(&format!(" {word}")) || handlers.contains(&format!(".{word}")) {
                    found.push((method, here.clone()));
                }
            }
        }
    }
    assert!(found.len() > 40, "{found:?}");
    found
}

/// Those of the programme interface.
pub fn interface_routes() -> Vec<(Method, String)> {
    routes().into_iter().filter(|(_, path)| path.starts_with("/api/")).collect()
}

/// What needs no sign-in, and is open to whoever is signed in.
fn is_open(path: &str) -> bool {
    path == "/health" || path == "/sign-in" || path.starts_with("/assets/")
}

#[tokio::test]
async fn nobody_gets_anywhere_without_signing_in() {
    let loft = Loft::shared().await;
    for (method, path) in routes().into_iter().filter(|(_, path)| !is_open(path)) {
        let origin = format!("http://{}", loft.host);
        let headers = [("content-type", "application/json"), ("origin", origin.as_str())];
        let status = loft.ask(method.clone(), &path, &headers, b"{}".to_vec()).await.status.as_u16();
        let sent_to_sign_in = method == Method::GET && !path.starts_with("/api/");
        assert_eq!(status, if sent_to_sign_in { 303 } else { 401 }, "{method} {path}");
    }
}

#[tokio::test]
async fn a_reader_changes_nothing_anywhere() {
    let mut loft = Loft::shared().await;
    loft.sign_in("Ben").await;
    loft.post("/begin", "with=demo").await.expect(303);
    loft.sign_in("Cleo").await;
    let asks = ["/api/splice", "/api/cut"];
    for (method, path) in routes() {
        if method == Method::GET || is_open(&path) || path == "/sign-out" || asks.contains(&path.as_str()) {
            continue;
        }
        let origin = format!("http://{}", loft.host);
        let headers = [("content-type", "application/json"), ("origin", origin.as_str())];
        let answer = loft.ask(method.clone(), &path, &headers, b"{}".to_vec()).await;
        assert_eq!(answer.status.as_u16(), 403, "{method} {path}: {}", answer.text());
        answer.has("a reader looks");
    }
    loft.get("/orders/26-041").await.expect(200).has("Crew of Sandpiper");
    let end = serde_json::json!({ "rope": "10 mm 12-strand HMPE", "end": "long-bury-eye", "eye": "60 mm", "eye_on": "12 mm pin" });
    loft.json(Method::POST, "/api/splice", &end).await.expect(200);
}

#[tokio::test]
async fn a_rigger_neither_adds_users_nor_changes_the_loft() {
    let mut loft = Loft::shared().await;
    loft.sign_in("Ben").await;
    for (path, form) in [
        ("/settings/users", "name=Dora&role=owner&password=Dora+ties+knots"),
        ("/settings/users/close", "name=Ada"),
        ("/settings", "units=us&paper=a4&ropes="),
    ] {
        loft.post(path, form).await.expect(403).has("ask an owner");
    }
    let seen = loft.get("/settings").await.expect(200).text();
    assert!(!seen.contains("Ada</th>") && !seen.contains("Refused</h2>"), "a rigger sees users or refusals");
}

#[tokio::test]
async fn a_closed_user_is_out_at_once_and_the_last_owner_stays() {
    let mut loft = Loft::shared().await;
    loft.sign_in("Ben").await;
    let ben = loft.cookie.clone();
    loft.sign_in("Ada").await;
    loft.post("/settings/users/close", "name=Ben").await.expect(303);
    loft.post("/settings/users/close", "name=Nobody").await.expect(404);
    loft.post("/settings/users/close", "name=Ada").await.expect(400).has("owner");
    loft.get("/settings").await.expect(200);
    loft.cookie = ben;
    loft.get("/orders").await.expect(303);
    loft.cookie = None;
    loft.post("/sign-in", "name=Ben&password=Ben+ties+knots").await.expect(401);
}

#[tokio::test]
async fn a_session_ends_by_itself() {
    let limits = web::SessionLimits { idle: Duration::from_millis(400), ..web::SessionLimits::default() };
    let mut loft = Loft::shared_with(limits).await;
    loft.sign_in("Ada").await;
    loft.get("/orders").await.expect(200);
    tokio::time::sleep(Duration::from_millis(600)).await;
    assert_eq!(loft.get("/orders").await.expect(303).header("location"), "/sign-in?to=%2Forders");
    loft.get("/api/orders").await.expect(401);
    // What it had is gone, also when it is asked for at once again.
    loft.get("/orders").await.expect(303);
}

#[tokio::test]
async fn changes_have_a_number_in_a_minute() {
    let mut loft = Loft::shared().await;
    loft.sign_in("Ben").await;
    for _ in 0..600 {
        loft.post("/no/such/page", "").await.expect(404);
    }
    loft.post("/no/such/page", "").await.expect(429).has("too many changes");
    loft.get("/orders").await.expect(200);
    loft.sign_in("Ada").await;
    loft.post("/no/such/page", "").await.expect(404);
}

#[tokio::test]
async fn what_is_too_large_is_refused_everywhere() {
    let loft = Loft::demo().await;
    let form = format!("text={}", "x".repeat(2_200_000));
    for path in ["/orders", "/orders/26-041", "/rack", "/settings", "/pieces/26-041/01/tick"] {
        assert_eq!(loft.post(path, &form).await.status.as_u16(), 413, "{path}");
    }
    let json = serde_json::json!({ "text": "x".repeat(2_200_000) });
    for (method, path) in
        [(Method::POST, "/api/orders"), (Method::PUT, "/api/orders/26-041"), (Method::POST, "/drafts")]
    {
        loft.json(method, path, &json).await.expect(413).has("too-large");
    }
}

#[tokio::test]
async fn paths_lead_nowhere_else() {
    let loft = Loft::demo().await;
    for path in [
        "/assets/../Cargo.toml",
        "/assets/..%2f..%2fCargo.toml",
        "/assets/%2e%2e/%2e%2e/etc/passwd",
        "/photos/..%2f..%2fetc%2fpasswd",
        "/orders/..%2f..%2fetc%2fpasswd",
        "/orders/..%2f26-041/cards.pdf",
        "/pieces/26-041/..%2f..%2fx/card.pdf",
        "/pieces/26-041/01%0d%0aset-cookie:%20x=y/card.pdf",
        "/pieces/26-041/01%00/card.pdf",
        "/api/orders/..%2f26-041/lines",
    ] {
        let answer = loft.get(path).await;
        let status = answer.status.as_u16();
        assert!(status == 404 || status == 400, "{path}: {status}");
        assert!(answer.header("set-cookie").is_empty(), "{path}");
        assert!(!answer.text().contains("root:"), "{path}");
    }
}

/// A part of a form with a file in it.
fn upload(bytes: &[u8], name: &str) -> Vec<u8> {
    let mut body = format!(
        "--edge\r\ncontent-disposition: form-data; name=\"step\"\r\n\r\n2\r\n--edge\r\ncontent-disposition: form-data; name=\"photo\"; filename=\"{name}\"\r\ncontent-type: image/png\r\n\r\n"
    )
    .into_bytes();
    body.extend_from_slice(bytes);
    body.extend_from_slice(b"\r\n--edge--\r\n");
    body
}

fn png(width: u32, height: u32) -> Vec<u8> {
    let mut out = std::io::Cursor::new(Vec::new());
    image::GrayImage::new(width, height).write_to(&mut out, image::ImageFormat::Png).unwrap();
    out.into_inner()
}

#[tokio::test]
async fn uploads_are_pictures_of_a_decent_size_or_refused() {
    let loft = Loft::demo().await;
    let origin = format!("http://{}", loft.host);
    let headers = [("content-type", "multipart/form-data; boundary=edge"), ("origin", origin.as_str())];
    let send = async |bytes: &[u8], name: &str| {
        loft.ask(Method::POST, "/pieces/26-041/01/photo", &headers, upload(bytes, name)).await
    };
    let svg = b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>";
    for (bytes, name) in [
        (&svg[..], "knot.png"),
        (b"<script>alert(1)</script>", "knot.jpg"),
        (b"GIF89a\x01\x00\x01\x00", "knot.png"),
        (b"MZ\x90\x00", "../../knot.exe"),
        (b"\x89PNG\r\n\x1a\nrubbish", "knot.png"),
        (b"", "knot.png"),
    ] {
        send(bytes, name).await.expect(400).has("the photo cannot be read");
    }
    // Few bytes that would be a great picture.
    send(&png(12_500, 4), "wide.png").await.expect(400).has("the photo cannot be read");
    send(&vec![0u8; 17 * 1024 * 1024], "large.png").await.expect(413);
    // A good picture of a piece that is not cut has nowhere to go.
    send(&png(40, 30), "knot.png").await.expect(404);
}

#[tokio::test]
async fn every_refusal_is_written_down_for_the_owner() {
    let mut loft = Loft::shared().await;
    loft.ask(Method::GET, "/", &[("host", "evil.example")], Vec::new()).await.expect(421);
    let form = ("content-type", "application/x-www-form-urlencoded");
    loft.ask(Method::POST, "/begin", &[form, ("origin", "http://evil.example")], b"with=demo".to_vec())
        .await
        .expect(403);
    loft.get("/api/orders").await.expect(401);
    loft.post("/sign-in", "name=Ada&password=a+wrong+guess").await.expect(401);
    loft.sign_in("Cleo").await;
    loft.post("/begin", "with=demo").await.expect(403);
    loft.sign_in("Ben").await;
    loft.post("/settings/users/close", "name=Ada").await.expect(403);
    loft.post("/orders", &format!("text={}", "x".repeat(2_200_000))).await.expect(413);
    loft.sign_in("Ada").await;
    let page = loft.get("/settings").await.expect(200);
    for words in ["other-host", "other-site", "sign-in", "not-yours", "too-large", "Cleo", "Ben", "(nobody signed in)"]
    {
        page.has(words);
    }
    let records = desk::records::Records::open(&loft.store()).await.unwrap();
    let written = records.store().refusals(50).await.unwrap();
    assert_eq!(written.len(), 7, "{written:?}");
    assert!(!format!("{written:?}").contains("guess"), "no password is written down");
    // Whoever is refused without end does not fill the disk.
    loft.cookie = None;
    for _ in 0..100 {
        loft.get("/api/orders").await.expect(401);
    }
    let written = records.store().refusals(500).await.unwrap();
    assert!(written.len() <= 70, "{}", written.len());
    assert!(written.iter().any(|one| one.what.contains("more than is written down")));
}
