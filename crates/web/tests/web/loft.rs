//! What is the loft's own: rules, factors, whose figures count, labels; and
//! what follows on the pages of lines.

use crate::ask::Loft;
use crate::kept::form;

/// An order without factors of its own: one strop with a buried eye.
const STROP: &str = r#"becket = 1

[order]
number = "26-9"
date = 2026-01-01

[boat]
name = "Wren"
hull = "monohull"
rig = "masthead-sloop"
loa = "10 m"

[use]
kind = "coastal-cruising"

[[line]]
name = "strop"
kind = "dock-line"
rope = "10 mm 12-strand HMPE"
length = "3 m"
ends = { working = { kind = "long-bury-eye", eye = "60 mm" }, bitter = { kind = "whipped-end" } }
"#;

#[tokio::test]
async fn the_rope_of_a_line_is_chosen_with_every_check() {
    let loft = Loft::demo().await;
    let page = loft.get("/orders/26-041/lines/main%20halyard/rope").await.expect(200);
    page.has("wanted at the weakest point").has("Every check").has("What would change the choice").has("<svg");
    page.has("over wanted").has("Strength against mass");
    assert!(page.bytes.len() < 150_000, "{} bytes", page.bytes.len());
    loft.get("/orders/26-041/lines/none/rope").await.expect(404).has("main halyard");
    loft.get("/orders/none/lines/vang/rope").await.expect(404);
}

#[tokio::test]
async fn the_cover_of_a_line_is_judged_by_the_lofts_rules() {
    let loft = Loft::demo().await;
    let address = "/orders/26-041/lines/spinnaker%20sheet/cover";
    let page = loft.get(address).await.expect(200);
    page.has("Cover on, run bare")
        .has("What the loft&#39;s rules say".replace("&#39;", "'").as_str())
        .has("per metre, wet")
        .has("<svg");
    assert!(page.bytes.len() < 150_000, "{} bytes", page.bytes.len());
    loft.get(&format!("{address}?span=6+m&clew_height=1.5+m&slack=0.05&power=120"))
        .await
        .expect(200)
        .has("value=\"6 m\"");
    loft.get(&format!("{address}?span=6")).await.expect(400).has("has no unit");
    loft.get(&format!("{address}?slack=loose")).await.expect(400).has("loose");
    loft.get("/orders/26-041/lines/none/cover").await.expect(404);
    // A rule of the loft's own is heard.
    let rules = loft.get("/settings/rules").await.expect(200);
    rules.has("come with the program").has("What a rule may look at");
    let built_in = include_str!("../../../desk/tables/loft-rules.csv");
    let row = built_in.lines().nth(1).unwrap();
    let name = row.split(',').next().unwrap();
    let own = built_in.replacen(name, "the rule of this very loft", 1);
    loft.post("/settings/rules", &form(&[("rules", &own)])).await.expect(303);
    loft.get("/settings/rules").await.expect(200).has("the loft's own").has("this very loft");
    let broken = own.replacen(",for", ",fro", 1);
    loft.post("/settings/rules", &form(&[("rules", &broken)]))
        .await
        .expect(422)
        .has("role=\"alert\"")
        .has("this very loft");
    loft.post("/settings/rules", &form(&[("rules", "")])).await.expect(303);
    loft.get("/settings/rules").await.expect(200).has("come with the program");
}

#[tokio::test]
async fn the_lofts_factors_hold_where_an_order_brings_none() {
    let loft = Loft::demo().await;
    loft.post("/orders", &form(&[("text", STROP)])).await.expect(303);
    let before = loft.get("/orders/26-9/lines/strop").await.expect(200);
    before.has("720 mm");
    let settings =
        [("bury_diameters", "60"), ("months", "6"), ("hours", "400"), ("address", "http://loft.example:4310/")];
    loft.post("/settings/loft", &form(&settings)).await.expect(303);
    loft.get("/settings/loft")
        .await
        .expect(200)
        .has("value=\"60\"")
        .has("value=\"6\"")
        .has("http://loft.example:4310\"");
    loft.get("/orders/26-9/lines/strop").await.expect(200).has("600 mm");
    // The demo order has factors of its own, and keeps them.
    loft.get("/orders/26-041/boat").await.expect(200).has("Rules for this order");
    // Pieces that go on board now are looked at after six months.
    let piece = [
        ("code", "S-9"),
        ("boat", "Wren"),
        ("line", "strop"),
        ("rope", "10 mm 12-strand HMPE"),
        ("length", "3 m"),
        ("made_on", "2026-01-05"),
    ];
    loft.post("/service", &form(&piece)).await.expect(303);
    loft.post("/piece/S-9", &form(&[("what", "in-service"), ("on", "2026-02-01")])).await.expect(303);
    loft.get("/piece/S-9").await.expect(200).has("2026-08-01");
    for (field, text) in [
        ("bury_diameters", "5"),
        ("loss_per_cut", "ten"),
        ("months", "2.5"),
        ("hours", "-4"),
        ("address", "javascript:alert(1)"),
    ] {
        let refused = loft.post("/settings/loft", &form(&[(field, text)])).await;
        assert!(refused.status.is_client_error(), "{field} {text}");
        refused.has("role=\"alert\"").has(&format!("value=\"{text}\""));
    }
    loft.get("/settings/loft").await.expect(200).has("value=\"60\"");
}

#[tokio::test]
async fn the_lofts_own_figures_count_where_it_wants_them() {
    let loft = Loft::demo().await;
    loft.post("/orders", &form(&[("text", STROP)])).await.expect(303);
    for (index, load) in ["88 kN", "90 kN", "91 kN", "92.5 kN", "89 kN", "90.5 kN"].iter().enumerate() {
        let number = format!("B-{index}");
        let pairs = [
            ("number", number.as_str()),
            ("on", "2026-05-04"),
            ("sample", "bench sample"),
            ("rope", "10 mm 12-strand HMPE"),
            ("end", "long-bury-eye"),
            ("load", load),
            ("broke", "splice"),
        ];
        loft.post("/tests", &form(&pairs)).await.expect(303);
    }
    let by_default = loft.get("/orders/26-9/lines/strop").await.expect(200).text();
    loft.post("/settings/loft", &form(&[("figures", "own")])).await.expect(303);
    let by_own = loft.get("/orders/26-9/lines/strop").await.expect(200);
    by_own.has("6 breaks");
    assert!(!by_default.contains("6 breaks"));
    loft.post("/settings/loft", &form(&[("figures", "")])).await.expect(303);
    assert!(!loft.get("/orders/26-9/lines/strop").await.expect(200).text().contains("6 breaks"));
}
