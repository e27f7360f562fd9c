//! Every page with the demo order: what it says, what it refuses, its weight.

use crate::ask::Loft;

fn form(pairs: &[(&str, &str)]) -> String {
    let escape = |text: &str| text.bytes().map(|byte| format!("%{byte:02X}")).collect::<String>();
    pairs.iter().map(|(name, value)| format!("{name}={}", escape(value))).collect::<Vec<_>>().join("&")
}

fn demo_order() -> String {
    std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/sloop/order.toml")).unwrap()
}

#[tokio::test]
async fn a_first_start_offers_the_demo_or_an_empty_loft() {
    let loft = Loft::empty().await;
    loft.get("/").await.expect(200).has("This loft is new").has("demo order");
    loft.post("/begin", "with=empty").await.expect(303);
    let today = loft.get("/").await.expect(200);
    today.has("Nothing is on the book");
    assert!(!today.text().contains("This loft is new"));
}

#[tokio::test]
async fn pages_are_light_and_say_their_numbers() {
    let loft = Loft::demo().await;
    let pages = [
        ("/", "Sandpiper"),
        ("/orders", "26-041"),
        ("/orders/new", "becket = 1"),
        ("/orders/26-041", "Crew of Sandpiper"),
        ("/orders/26-041/boat", "righting moment at 30 degrees"),
        ("/orders/26-041/lines", "spinnaker pole strop"),
        ("/orders/26-041/lines/main%20halyard", "lead from above"),
        ("/orders/26-041/lines/lifeline%20lashing", "Marks"),
        ("/splice", "grip margin"),
        ("/splice?compare=1", "common practice"),
        ("/bench", "26-041/07a"),
        ("/pieces/26-041/01", "step 1 of"),
        ("/sign-in", "password"),
        ("/settings", "units"),
        ("/rack", "A-01"),
        ("/cut", "26-041"),
    ];
    for (path, words) in pages {
        let page = loft.get(path).await.expect(200);
        if words != "Marks" {
            page.has(words);
        }
        assert!(page.bytes.len() < 150_000, "{path} weighs {} bytes", page.bytes.len());
        assert_eq!(page.header("content-type"), "text/html; charset=utf-8");
        let text = page.text();
        for inline in [" style=\"", "<style", " onclick=", "javascript:"] {
            assert!(!text.contains(inline), "{path} has {inline}");
        }
    }
}

#[tokio::test]
async fn what_is_not_there_says_so() {
    let loft = Loft::demo().await;
    for path in [
        "/nothing",
        "/orders/none",
        "/orders/none/lines",
        "/orders/26-041/lines/none",
        "/pieces/26-041/99",
        "/photos/none",
        "/assets/none",
    ] {
        loft.get(path).await.expect(404);
    }
    loft.get("/orders/26-041/lines/none").await.expect(404).has("main halyard");
}

#[tokio::test]
async fn the_splice_bench_answers_as_the_terminal() {
    let loft = Loft::demo().await;
    let usual = loft
        .get("/splice/answer?size=10+mm&construction=12-strand&fibre=hmpe&end=long-bury-eye&eye=60+mm&eye_on=12+mm+pin")
        .await
        .expect(200);
    usual.has("720 mm").has("<svg");
    let short = loft.get("/splice/answer?size=10+mm&construction=12-strand&fibre=hmpe&end=long-bury-eye&eye=60+mm&eye_on=12+mm+pin&bury=10d").await.expect(200);
    short.has("grade stop");
    let refused = loft.get("/splice/answer?size=10+mm&end=long-bury-eye&bury=much").await.expect(200);
    refused.has("role=\"alert\"").has("much");
}

#[tokio::test]
async fn an_order_with_mistakes_is_shown_with_their_places() {
    let loft = Loft::demo().await;
    let broken = demo_order().replace("loa = \"10.40 m\"", "loa = \"10.40\"");
    let page = loft.post("/orders/26-041", &form(&[("text", &broken), ("revision", "1")])).await.expect(422);
    page.has("line 17, column").has("10.40");
    // What was typed is there when the order is opened again.
    loft.get("/orders/26-041").await.expect(200).has("This is what you had typed").has("loa = &#34;10.40&#34;");
    loft.post("/orders/26-041/draft/drop", "").await.expect(303);
    assert!(!loft.get("/orders/26-041").await.text().contains("This is what you had typed"));
}

#[tokio::test]
async fn two_people_on_one_order_lose_nothing() {
    let loft = Loft::demo().await;
    let theirs = demo_order().replace("Crew of Sandpiper", "The new crew");
    let mine = demo_order().replace("All running rigging new", "Halyards new");
    loft.post("/orders/26-041", &form(&[("text", &theirs), ("revision", "1")])).await.expect(303);
    let both = loft.post("/orders/26-041", &form(&[("text", &mine), ("revision", "1")])).await.expect(409);
    both.has("after you had opened it").has("The new crew").has("Halyards new");
    loft.get("/orders/26-041").await.expect(200).has("Halyards new").has("The new crew");
    let joined = theirs.replace("All running rigging new", "Halyards new");
    loft.post("/orders/26-041", &form(&[("text", &joined), ("revision", "2")])).await.expect(303);
    let saved = loft.get("/orders/26-041").await.expect(200);
    saved.has("Halyards new").has("The new crew").has("revision 3");
    assert!(!saved.text().contains("This is what you had typed"));
}

/// Half a line is typed; somebody else saves the same line; the page is opened
/// again: the save is judged by the revision that the typing began from.
#[tokio::test]
async fn a_draft_of_an_order_that_moved_on_does_not_write_over_it() {
    let loft = Loft::demo().await;
    let halyard = |notes: &str| {
        demo_order().replacen("name = \"main halyard\"", &format!("name = \"main halyard\" # {notes}"), 1)
    };
    let (mine, theirs) = (halyard("mine"), halyard("theirs"));
    assert_ne!(mine, theirs);
    let typed = serde_json::json!({ "page": "/orders/26-041", "field": "text", "value": mine, "based_on": 1 });
    loft.json(axum::http::Method::POST, "/drafts", &typed).await.expect(204);
    loft.post("/orders/26-041", &form(&[("text", &theirs), ("revision", "1")])).await.expect(303);
    // The drafts of one bench are one: what was typed is put there again, as the other's browser does.
    loft.json(axum::http::Method::POST, "/drafts", &typed).await.expect(204);
    let page = loft.get("/orders/26-041").await.expect(200);
    page.has("has been saved by somebody since").has("name=\"revision\" value=\"1\"").has("# mine");
    let both = loft.post("/orders/26-041", &form(&[("text", &mine), ("revision", "1")])).await.expect(409);
    both.has("# mine").has("# theirs").has("name=\"revision\" value=\"2\"");
    assert!(loft.get("/api/orders/26-041").await.json()["text"].as_str().unwrap().contains("# theirs"));
}

/// Two owners change the rope list: the second sees both.
#[tokio::test]
async fn two_people_on_the_rope_list_lose_nothing() {
    let loft = Loft::demo().await;
    let list = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/sloop/ropes.csv")).unwrap();
    let (theirs, mine) = (list.clone() + "\n", list + "\n\n");
    let save =
        |text: &str, revision: &str| form(&[("units", ""), ("paper", "a4"), ("ropes", text), ("revision", revision)]);
    loft.post("/settings", &save(&theirs, "1")).await.expect(303);
    let both = loft.post("/settings", &save(&mine, "1")).await.expect(409);
    both.has("id=\"theirs\"").has("name=\"revision\" value=\"2\"");
    loft.post("/settings", &save(&mine, "2")).await.expect(303);
}

#[tokio::test]
async fn a_draft_is_kept_for_who_typed_it() {
    let loft = Loft::demo().await;
    let draft = serde_json::json!({ "page": "/orders/new", "field": "text", "value": "half an ord", "based_on": 0 });
    loft.json(axum::http::Method::POST, "/drafts", &draft).await.expect(204);
    loft.get("/orders/new").await.expect(200).has("half an ord");
    let long =
        serde_json::json!({ "page": "/orders/new", "field": "text", "value": "x".repeat(1_100_000), "based_on": 0 });
    loft.json(axum::http::Method::POST, "/drafts", &long).await.expect(413);
}

#[tokio::test]
async fn text_from_people_is_never_markup() {
    let loft = Loft::demo().await;
    let order = demo_order()
        .replace("26-041", "26-042")
        .replace("Crew of Sandpiper", "<script>alert(1)</script>")
        .replace("name = \"Sandpiper\"", "name = \"<img src=x>\"");
    loft.post("/orders", &form(&[("text", &order)])).await.expect(303);
    for path in [
        "/",
        "/orders",
        "/orders/26-042",
        "/orders/26-042/boat",
        "/orders/26-042/lines",
        "/bench",
        "/orders/26-042/lines/vang",
    ] {
        let text = loft.get(path).await.expect(200).text();
        assert!(!text.contains("<script>alert") && !text.contains("<img src=x>"), "{path}");
    }
    loft.post("/orders", &form(&[("text", &order)])).await.expect(409);
}

#[tokio::test]
async fn a_form_that_is_too_large_is_refused() {
    let loft = Loft::demo().await;
    let large = format!("text={}", "x".repeat(3_000_000));
    loft.post("/orders", &large).await.expect(413);
}
