//! Sharing: hosts, sites, sign-in, roles, sessions, and what is written down.

use crate::ask::Loft;
use axum::http::Method;

#[tokio::test]
async fn a_foreign_host_is_misdirected() {
    let loft = Loft::empty().await;
    for host in ["evil.example", "evil.example:4310", "localhost.evil.example", "192.0.2.7"] {
        let answer = loft.ask(Method::GET, "/", &[("host", host)], Vec::new()).await.expect(421);
        answer.has("the address that the program printed");
    }
    for host in ["localhost", "127.0.0.1:4310", "[::1]:4310", "LOCALHOST:9"] {
        loft.ask(Method::GET, "/", &[("host", host)], Vec::new()).await.expect(200);
    }
    let shared = Loft::shared().await;
    shared.ask(Method::GET, "/sign-in", &[("host", "192.0.2.7:4310")], Vec::new()).await.expect(200);
    shared.ask(Method::GET, "/sign-in", &[("host", "evil.example")], Vec::new()).await.expect(421);
}

#[tokio::test]
async fn a_form_of_another_site_is_refused() {
    let loft = Loft::empty().await;
    let form = b"with=demo".to_vec();
    let kind = ("content-type", "application/x-www-form-urlencoded");
    for headers in
        [vec![kind], vec![kind, ("origin", "http://evil.example")], vec![kind, ("sec-fetch-site", "cross-site")]]
    {
        let answer = loft.ask(Method::POST, "/begin", &headers, form.clone()).await.expect(403);
        answer.has("another site");
    }
    loft.get("/orders").await.expect(200).has("Nothing is on the book");
}

#[tokio::test]
async fn every_answer_forbids_what_is_not_ours() {
    let loft = Loft::empty().await;
    for path in ["/", "/orders", "/assets/becket.css", "/no/such/page", "/health"] {
        let answer = loft.get(path).await;
        let policy = answer.header("content-security-policy");
        assert!(
            policy.contains("default-src 'none'; script-src 'self'; style-src 'self'")
                && policy.contains("frame-ancestors 'none'"),
            "{path}: {policy}"
        );
        assert!(!policy.contains("unsafe"), "{path}: {policy}");
        assert_eq!(answer.header("x-content-type-options"), "nosniff", "{path}");
    }
}

#[tokio::test]
async fn a_shared_loft_asks_who_is_there() {
    let mut loft = Loft::shared().await;
    let away = loft.get("/orders").await.expect(303);
    assert_eq!(away.header("location"), "/sign-in?to=%2Forders");
    loft.get("/api/orders").await.expect(401).has("\"sign-in\"");
    loft.get("/health").await.expect(200);
    loft.post("/sign-in", "name=Ada&password=wrong+password").await.expect(401).has("do not belong together");
    loft.post("/sign-in", "name=Nobody&password=wrong+password").await.expect(401).has("do not belong together");
    loft.sign_in("Ada").await;
    loft.get("/orders").await.expect(200).has("sign out Ada");
    loft.post("/sign-out", "").await.expect(303);
    loft.get("/orders").await.expect(303);
}

#[tokio::test]
async fn a_reader_looks_and_a_rigger_works() {
    let mut loft = Loft::shared().await;
    loft.sign_in("Cleo").await;
    loft.get("/orders").await.expect(200);
    loft.post("/begin", "with=demo").await.expect(403).has("a reader looks");
    loft.sign_in("Ben").await;
    loft.post("/begin", "with=demo").await.expect(303);
    loft.post("/settings/users", "name=Dora&role=reader&password=Dora+ties+knots")
        .await
        .expect(403)
        .has("ask an owner");
    loft.sign_in("Ada").await;
    loft.post("/settings/users", "name=Dora&role=reader&password=short").await.expect(400).has("10 to 200");
    loft.post("/settings/users", "name=Dora&role=reader&password=Dora+ties+knots").await.expect(303);
    let settings = loft.get("/settings").await.expect(200);
    settings.has("Dora").has("/settings/users").has("403");
    loft.sign_in("Dora").await;
    loft.get("/orders").await.expect(200);
}

#[tokio::test]
async fn signing_in_is_not_tried_for_ever() {
    let loft = Loft::shared().await;
    let mut last = 0;
    for _ in 0..10 {
        last = loft.post("/sign-in", "name=Ada&password=guess+number+one").await.status.as_u16();
    }
    assert_eq!(last, 429);
    // The owner can sign in again from elsewhere; here the list is read by itself.
    let records = desk::records::Records::open(&loft.store()).await.unwrap();
    let refused = records.store().refusals(50).await.unwrap();
    assert!(refused.len() >= 10, "{refused:?}");
    assert!(refused.iter().any(|one| one.what == "POST /sign-in" && one.why.starts_with("429")), "{refused:?}");
    assert!(!format!("{refused:?}").contains("guess"), "no password is written down");
}

#[tokio::test]
async fn nobody_shares_a_loft_without_an_owner() {
    let folder = tempfile::tempdir().unwrap();
    let store = folder.path().join("loft.db").display().to_string();
    let options = web::Options { store, listen: [0, 0, 0, 0].into(), ..web::Options::default() };
    let refusal = web::open(&options).await.unwrap_err();
    assert_eq!(refusal.code, "no-owner");
    assert!(refusal.hints[0].contains("--add-user"), "{refusal}");
}
