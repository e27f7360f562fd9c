//! Prices: the loft's terms, an order priced, a quote kept and moved on.

use crate::ask::Loft;
use crate::kept::form;

const TERMS: [(&str, &str); 6] = [
    ("labour", "48 EUR"),
    ("twine", "0.40 EUR"),
    ("waste", "4 %"),
    ("margin", "20 % on cost"),
    ("tax", "19 %"),
    ("rounding", "half-even"),
];

#[tokio::test]
async fn an_order_is_priced_with_the_lofts_terms() {
    let loft = Loft::demo().await;
    loft.get("/prices").await.expect(200).has("No quote has been kept").has("/orders/26-041/price");
    let without = loft.get("/orders/26-041/price").await.expect(200);
    without.has("no total yet").has("no price of an hour");
    loft.post("/prices", &form(&TERMS)).await.expect(303);
    let page = loft.get("/orders/26-041/price").await.expect(200);
    page.has("to pay")
        .has("margin, 20 % on cost")
        .has("rope spoiled")
        .has("EUR")
        .has("a sum is the sum of what is printed");
    page.has("minutes, and where they are from");
    // Another margin, of this order alone, in the address.
    let other = "labour=60+EUR&twine=0.40+EUR&waste=4+%25&margin=25+%25+of+price&tax=19+%25&rounding=half-up";
    loft.get(&format!("/orders/26-041/price?{other}")).await.expect(200).has("25 % of the price before tax");
    loft.get("/orders/26-041/price").await.expect(200).has("margin, 20 % on cost");
    loft.get("/orders/26-041/price?labour=48").await.expect(200).has("labour").has("no total yet");
    loft.get("/orders/26-041/price?labour=48+EUR&tax=120+%25").await.expect(200).has("no total yet");
    loft.get("/orders/none/price").await.expect(404);
}

#[tokio::test]
async fn terms_and_items_that_cannot_be_read_change_nothing() {
    let loft = Loft::demo().await;
    loft.post("/prices", &form(&TERMS)).await.expect(303);
    let bad = loft.post("/prices", &form(&[("labour", "48"), ("margin", "much")])).await.expect(400);
    bad.has("labour").has("value=\"much\"");
    loft.get("/prices").await.expect(200).has("value=\"48 EUR\"");
    let items = "kind,item,quantity,price\nhardware,thimble 10,6,4.20 EUR\n";
    loft.post("/orders/26-041/price/items", &form(&[("items", items)])).await.expect(303);
    loft.get("/orders/26-041/price").await.expect(200).has("thimble 10").has("25.20 EUR");
    let broken = "kind,item,quantity,price\nhardware,thimble 10,six,4.20 EUR\n";
    loft.post("/orders/26-041/price/items", &form(&[("items", broken)])).await.expect(422).has("six").has("line 2");
    loft.get("/orders/26-041/price").await.expect(200).has("25.20 EUR");
    loft.post("/orders/none/price/items", &form(&[("items", items)])).await.expect(404);
}

#[tokio::test]
async fn a_quote_is_kept_and_moved_on_and_never_changes() {
    let loft = Loft::demo().await;
    loft.post("/orders/26-041/price", "asked=").await.expect(400).has("no total");
    loft.post("/prices", &form(&TERMS)).await.expect(303);
    let kept = loft.post("/orders/26-041/price", "asked=").await.expect(303);
    assert_eq!(kept.header("location"), "/quote/26-041-Q1?said=quoted");
    let page = loft.get("/quote/26-041-Q1").await.expect(200);
    page.has("<strong>draft</strong>").has("order <a").has("EUR");
    let total = page.text().split("<dt>to pay</dt><dd>").nth(1).unwrap().split('<').next().unwrap().to_owned();
    // Dearer work makes another quote, and leaves this one as it is.
    let dearer: Vec<(&str, &str)> =
        TERMS.iter().map(|one| if one.0 == "labour" { ("labour", "90 EUR") } else { *one }).collect();
    loft.post("/prices", &form(&dearer)).await.expect(303);
    loft.get("/quote/26-041-Q1").await.expect(200).has(&total);
    let second = loft.post("/orders/26-041/price", "asked=").await.expect(303);
    assert_eq!(second.header("location"), "/quote/26-041-Q2?said=quoted");
    assert!(!loft.get("/quote/26-041-Q2").await.expect(200).text().contains(&format!("<dd>{total}<")));
    loft.post("/quote/26-041-Q1", "to=accepted").await.expect(409);
    loft.post("/quote/26-041-Q1", "to=sent").await.expect(303);
    loft.post("/quote/26-041-Q1", "to=accepted").await.expect(303);
    loft.post("/quote/26-041-Q1", "to=lost").await.expect(400).has("withdrawn");
    loft.get("/quote/26-041-Q1").await.expect(200).has("<strong>accepted</strong>");
    loft.get("/prices").await.expect(200).has("26-041-Q1").has("accepted").has("draft");
    loft.get("/quote/none").await.expect(404);
}
