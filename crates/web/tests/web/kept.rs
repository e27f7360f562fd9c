//! Pieces after the bench: by their code, due, tested, proved, certified, and
//! what the loft learns; each page happy and refused.

use crate::ask::{Answer, Loft};

/// A form of fields.
pub fn form(pairs: &[(&str, &str)]) -> String {
    let escape = |text: &str| text.bytes().map(|byte| format!("%{byte:02X}")).collect::<String>();
    pairs.iter().map(|(name, value)| format!("{name}={}", escape(value))).collect::<Vec<_>>().join("&")
}

const ROPE: &str = "10 mm 12-strand HMPE";

async fn brought_in(loft: &Loft, code: &str, since: &str) -> Answer {
    let pairs = [
        ("code", code),
        ("boat", "Sandpiper"),
        ("line", "main halyard"),
        ("rope", ROPE),
        ("length", "31 m"),
        ("made_on", "2025-03-01"),
        ("in_service_on", since),
        ("next_due", "2026-04-01"),
    ];
    loft.post("/service", &form(&pairs)).await
}

/// The demo order with its cut plan confirmed, so that its pieces are cut.
async fn cut() -> Loft {
    let loft = Loft::demo().await;
    let page = loft.get("/cut?order=26-041").await.expect(200).text();
    let id = page.split("action=\"/cut/").nth(1).unwrap().split('/').next().unwrap().to_owned();
    loft.post(&format!("/cut/{id}/confirm"), "").await.expect(303);
    loft
}

#[tokio::test]
async fn a_piece_is_opened_by_the_code_on_its_label() {
    let loft = cut().await;
    let found = loft.get("/piece?code=26-041%2F01").await.expect(303);
    assert_eq!(found.header("location"), "/piece/26-041/01");
    let scanned = loft.get("/piece?code=http%3A%2F%2Floft.example%2Fpiece%2F26-041%2F01").await.expect(303);
    assert_eq!(scanned.header("location"), "/piece/26-041/01");
    let page = loft.get("/piece/26-041/01").await.expect(200);
    page.has("cut, not made up yet").has("Sandpiper").has("/pieces/26-041/01");
    loft.get("/piece?code=").await.expect(400).has("no code was given");
    loft.get("/piece/26-041/99").await.expect(404).has("26-041/99");
    // It is made up first: nothing of service can be entered. It was cut today,
    // whenever that is, and an event lies after it.
    loft.post("/piece/26-041/01", &form(&[("what", "in-service"), ("on", "2999-12-31")])).await.expect(409);
}

#[tokio::test]
async fn a_piece_lives_from_service_to_the_bin() {
    let loft = Loft::demo().await;
    brought_in(&loft, "S-1", "2025-04-01").await.expect(303);
    loft.get("/piece/S-1").await.expect(200).has("in service").has("overdue").has("next look").has("2026-04-01");
    let used = [("what", "used"), ("on", "2026-06-01"), ("hours", "120")];
    assert_eq!(loft.post("/piece/S-1", &form(&used)).await.expect(303).header("location"), "/piece/S-1?said=entered");
    loft.get("/piece/S-1?said=entered").await.expect(200).has("120.0 h").has("It is entered");
    loft.post("/piece/S-1", &form(&[("what", "used"), ("hours", "many")]))
        .await
        .expect(400)
        .has("hours: &#34;many&#34;");
    loft.post("/piece/S-1", &form(&[("what", "turned"), ("on", "2026-06-02")])).await.expect(303);
    // Entries come in the order of their days, and what was typed is still there.
    let early = loft.post("/piece/S-1", &form(&[("what", "turned"), ("on", "2026-05-01"), ("reason", "salt")])).await;
    early.expect(422).has("the last entry is of 2026-06-02").has("value=\"salt\"");
    // The day does not move later without a reason.
    let later = [("what", "replanned"), ("on", "2026-06-03"), ("next", "2027-06-01")];
    loft.post("/piece/S-1", &form(&later)).await.expect(422).has("no reason is given");
    let why = [later[0], later[1], later[2], ("reason", "laid up ashore")];
    loft.post("/piece/S-1", &form(&why)).await.expect(303);
    loft.get("/piece/S-1").await.expect(200).has("2027-06-01").has("laid up ashore");
    loft.post("/piece/S-1", &form(&[("what", "retired"), ("on", "2026-06-04")])).await.expect(422);
    loft.post("/piece/S-1", &form(&[("what", "retired"), ("on", "2026-06-04"), ("reason", "chafed")]))
        .await
        .expect(303);
    let gone = loft.get("/piece/S-1").await.expect(200);
    gone.has("<strong>retired</strong>").has("comes back into none").has("chafed");
    for back in ["in-service", "issued", "used", "turned"] {
        let form = form(&[("what", back), ("on", "2026-06-05"), ("hours", "1")]);
        loft.post("/piece/S-1", &form).await.expect(422).has("retired");
    }
}

#[tokio::test]
async fn an_inspection_goes_by_the_form_of_its_rope() {
    let loft = Loft::demo().await;
    brought_in(&loft, "S-2", "2025-04-01").await.expect(303);
    let page = loft.get("/piece/S-2").await.expect(200).text();
    let criteria: Vec<&str> = page.split("id=\"see-").skip(1).filter_map(|rest| rest.split('"').next()).collect();
    assert!(criteria.len() >= 5, "{criteria:?}");
    assert!(page.contains("allowed: "), "limits stand beside what is looked at");
    let is_share = |code: &str| page.contains(&format!("<input id=\"see-{code}\""));
    let names: Vec<String> = criteria.iter().map(|code| format!("see-{code}")).collect();
    let readings = |share: &'static str| -> Vec<(&str, &str)> {
        let mut pairs = vec![("what", "inspected"), ("on", "2026-04-01"), ("reason", "seen all over")];
        pairs.extend(
            names.iter().zip(&criteria).map(|(name, code)| (name.as_str(), if is_share(code) { share } else { "no" })),
        );
        pairs
    };
    loft.post("/piece/S-2", &form(&readings("0 %"))).await.expect(303);
    let good = loft.get("/piece/S-2").await.expect(200);
    good.has("good; next look 2027-04-01");
    assert!(!good.text().contains("What the last inspection found"));
    // A bare number is refused with what was typed; a passed limit takes the piece out.
    loft.post("/piece/S-2", &form(&readings("60"))).await.expect(400).has("is no reading").has("value=\"60\"");
    loft.post("/piece/S-2", &form(&readings("60 %"))).await.expect(303);
    let out = loft.get("/piece/S-2").await.expect(200);
    out.has("<strong>withdrawn</strong>").has("What the last inspection found").has("the limit is");
    // Mended, inspected anew, and back on board.
    loft.post("/piece/S-2", &form(&[("what", "in-service"), ("on", "2026-04-02")])).await.expect(422);
    loft.post("/piece/S-2", &form(&[("what", "re-spliced"), ("on", "2026-04-02")])).await.expect(303);
    loft.post(
        "/piece/S-2",
        &form(
            &readings("0 %")
                .into_iter()
                .map(|pair| if pair.0 == "on" { ("on", "2026-04-03") } else { pair })
                .collect::<Vec<_>>(),
        ),
    )
    .await
    .expect(303);
    loft.post("/piece/S-2", &form(&[("what", "in-service"), ("on", "2026-04-03")])).await.expect(303);
    loft.get("/piece/S-2").await.expect(200).has("<strong>in service</strong>");
}

#[tokio::test]
async fn the_due_list_is_narrowed_and_is_a_calendar() {
    let loft = Loft::demo().await;
    loft.get("/service").await.expect(200).has("Nothing must be looked at");
    brought_in(&loft, "S-3", "2025-04-01").await.expect(303);
    loft.get("/service").await.expect(200).has("S-3").has("1 overdue");
    loft.get("/").await.expect(200).has("S-3").has("days over");
    loft.get("/service?find=sandpiper&late=1").await.expect(200).has("S-3");
    assert!(!loft.get("/service?find=heron").await.expect(200).text().contains("S-3"));
    assert!(!loft.get("/service?by=2026-03-01").await.expect(200).text().contains("/piece/S-3"));
    loft.get("/service?by=soon").await.expect(400).has("soon");
    let calendar = loft.get("/service/due.ics").await.expect(200);
    assert_eq!(calendar.header("content-type"), "text/calendar; charset=utf-8");
    calendar.has("BEGIN:VCALENDAR").has("DTSTART;VALUE=DATE:20260401").has("S-3");
    loft.get("/service/pieces").await.expect(200).has("S-3");
    loft.get("/service/pieces?state=retired").await.expect(200).has("No piece is");
    loft.get("/service/pieces?state=lost").await.expect(400).has("in_service");
    // A code is given once; a rope without a form is said.
    brought_in(&loft, "S-3", "2025-04-01").await.expect(409).has("S-3");
    let pairs = [("code", "S-4"), ("boat", "Sandpiper"), ("line", "vang"), ("rope", "string"), ("length", "4 m")];
    loft.post("/service", &form(&pairs)).await.expect(400).has("string").has("value=\"S-4\"");
    brought_in(&loft, "", "2025-04-01").await.expect(400).has("code: nothing was given");
}

fn test(number: &str, load: &str, broke: &str) -> Vec<(String, String)> {
    [
        ("number", number),
        ("on", "2026-05-04"),
        ("sample", "bench sample"),
        ("rope", ROPE),
        ("end", "long-bury-eye"),
        ("load", load),
        ("broke", broke),
        ("strength", "100 kN"),
    ]
    .map(|(name, value)| (name.to_owned(), value.to_owned()))
    .to_vec()
}

async fn entered(loft: &Loft, pairs: &[(String, String)]) -> Answer {
    let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    loft.post("/tests", &form(&pairs)).await
}

#[tokio::test]
async fn tests_are_entered_listed_and_counted() {
    let loft = Loft::demo().await;
    loft.get("/tests").await.expect(200).has("No test is in the log yet");
    for (index, load) in ["88 kN", "90 kN", "91 kN", "92.5 kN"].iter().enumerate() {
        entered(&loft, &test(&format!("B-{index}"), load, "splice")).await.expect(303);
    }
    let under = loft.get("/tests/statistics?rope=10+mm+12-strand+HMPE&end=long-bury-eye").await.expect(200);
    under.has("Under five breaks").has("<svg");
    entered(&loft, &test("B-4", "89 kN", "drew-out")).await.expect(303);
    entered(&loft, &test("P-1", "95 kN", "held")).await.expect(303);
    loft.get("/tests").await.expect(200).has("6 tests of 1 splices").has("B-4");
    let five = loft.get("/tests/statistics?rope=10+mm+12-strand+HMPE&end=long-bury-eye").await.expect(200);
    five.has("normal limit").has("Weibull limit").has("control chart").has("mean");
    loft.get("/tests/statistics?rope=string&end=long-bury-eye").await.expect(400);
    // Refused in words, with what was typed.
    entered(&loft, &test("B-4", "89 kN", "splice")).await.expect(409).has("B-4");
    entered(&loft, &test("B-5", "89", "splice")).await.expect(400).has("has no unit").has("value=\"89\"");
    entered(&loft, &test("B-5", "-3 kN", "splice")).await.expect(400).has("below zero");
    entered(&loft, &test("B-5", "89 kN", "somewhere")).await.expect(400).has("drew-out");
    entered(&loft, &test("B-5", "300 kN", "splice")).await.expect(400).has("B-5");
    let mut without = test("B-5", "89 kN", "splice");
    without.retain(|pair| pair.0 != "sample");
    entered(&loft, &without).await.expect(400).has("sample");
    loft.get("/test/none").await.expect(404);
}

#[tokio::test]
async fn a_test_has_its_curve_and_is_struck_out_once() {
    let loft = Loft::demo().await;
    entered(&loft, &test("C/1", "44 kN", "splice")).await.expect(303);
    let curve = "time [s],load [kN],extension [mm]\n0,0.1,0\n1,20,11\n2,44,30\n3,2,31\n";
    loft.post("/test/C/1", &form(&[("curve", "time [s],load\n0,1\n")])).await.expect(422).has("load");
    loft.post("/test/C/1", &form(&[("curve", curve)])).await.expect(303);
    let page = loft.get("/test/C%2F1").await.expect(200);
    page.has("load over time").has("load over extension").has("44 kN").has("before anything is pulled");
    loft.post("/test/C/1", &form(&[("curve", curve)])).await.expect(409);
    loft.post("/test/C/1", &form(&[("strike", "1"), ("reason", "")])).await.expect(400).has("reason");
    loft.post("/test/C/1", &form(&[("strike", "1"), ("reason", "the pin was too small")])).await.expect(303);
    loft.get("/test/C%2F1").await.expect(200).has("struck out").has("the pin was too small");
    loft.post("/test/C/1", &form(&[("strike", "1"), ("reason", "again")])).await.expect(409);
    assert!(!loft.get("/tests").await.expect(200).text().contains("C/1"));
}

#[tokio::test]
async fn a_log_is_taken_in_row_by_row() {
    let loft = Loft::demo().await;
    let log = "test,date,rope,end,load,broke,strength\n\
               L-1,2026-01-02,Grey ten,long-bury-eye,44 kN,splice,50 kN\n\
               L-2,2026-01-02,Grey ten,long-bury-eye,45,splice,50 kN\n\
               L-3,2026-01-03,Grey ten,long-bury-eye,46 kN,held,50 kN\n";
    let taken = loft.post("/tests/log", &form(&[("log", log)])).await.expect(200);
    taken.has("2 tests taken in, 1 rows refused").has("has no unit").has("line 3");
    let again = loft.post("/tests/log", &form(&[("log", log)])).await.expect(422);
    again.has("0 tests taken in, 3 rows refused");
    loft.get("/tests").await.expect(200).has("2 tests of 1 splices");
}

#[tokio::test]
async fn a_piece_is_proved_and_certified_or_refused_in_words() {
    let loft = cut().await;
    let plan = loft.get("/proof/26-041/01?load=40+%25&hold=2+min").await.expect(200);
    plan.has("pull to").has("Before anything is pulled").has("enter the test");
    loft.get("/proof/26-041/01?load=60+%25").await.expect(200).has("grade caution");
    let stop = loft.get("/proof/26-041/01?load=80+%25").await.expect(200);
    stop.has("grade stop");
    assert!(!stop.text().contains("enter the test"), "a stop offers no test");
    loft.get("/proof/26-041/01?load=much").await.expect(400).has("much");
    loft.get("/proof/none").await.expect(404);
    loft.get("/certificate/26-041/01").await.expect(422).has("has no test in the log");
    let pairs = [
        ("number", "P-7"),
        ("on", "2026-11-25"),
        ("piece", "26-041/01"),
        ("end", "covered-eye"),
        ("load", "5 kN"),
        ("broke", "held"),
        ("hold", "2 min"),
        ("method", "bench 2, 10 mm a second, 14 mm pins"),
        ("load_cell", "cell 3, calibrated 2026-02-01"),
    ];
    loft.post("/tests", &form(&pairs)).await.expect(303);
    let given = loft.get("/certificate/26-041/01").await.expect(200);
    given.has("was pulled to 5 kN").has("cell 3").has("no working load");
    loft.get("/piece/26-041/01").await.expect(200).has("P-7");
    loft.get("/certificate/none").await.expect(404);
    // People and the mast: refused, and told who may.
    for (code, purpose) in [("H-1", "holds-person"), ("H-2", "standing-rigging")] {
        let pairs = [
            ("code", code),
            ("boat", "Sandpiper"),
            ("line", "bosun's chair"),
            ("rope", ROPE),
            ("length", "31 m"),
            ("purpose", purpose),
        ];
        loft.post("/service", &form(&pairs)).await.expect(303);
        let refused = loft.get(&format!("/certificate/{code}")).await.expect(422);
        refused.has("No certificate of");
        assert!(refused.text().matches("<p>").count() > 2, "who may give one is said");
        loft.get(&format!("/piece/{code}")).await.expect(200).has("No certificate");
    }
}

#[tokio::test]
async fn figures_stand_beside_their_defaults() {
    let loft = Loft::demo().await;
    loft.get("/learned").await.expect(200).has("Nothing yet");
    for minutes in ["22", "25", "27", "24", "26", "23"] {
        let pairs = [("what", "minutes"), ("end", "long-bury-eye"), ("value", minutes), ("on", "2026-05-01")];
        loft.post("/learned", &form(&pairs)).await.expect(303);
    }
    let page = loft.get("/learned").await.expect(200);
    page.has("minutes").has("time of an end").has("instead of").has("24.5").has("counts as");
    let refused = |pairs: &[(&str, &str)]| form(pairs);
    let none = refused(&[("what", "shrinkage"), ("end", "long-bury-eye"), ("value", "1.05"), ("on", "2026-05-01")]);
    loft.post("/learned", &none).await.expect(400).has("no rope was given").has("value=\"1.05\"");
    let unit = refused(&[("what", "minutes"), ("end", "long-bury-eye"), ("value", "25 min"), ("on", "2026-05-01")]);
    loft.post("/learned", &unit).await.expect(400).has("without a unit");
    let word = refused(&[("what", "luck"), ("end", "long-bury-eye"), ("value", "25"), ("on", "2026-05-01")]);
    loft.post("/learned", &word).await.expect(400).has("bedding-in");
}

#[tokio::test]
async fn papers_of_an_order_are_pdf() {
    let loft = Loft::demo().await;
    for kind in ["labels", "line-plan", "calculation", "delivery"] {
        let paper = loft.get(&format!("/orders/26-041/papers/{kind}.pdf?line=main+halyard")).await.expect(200);
        assert_eq!(paper.header("content-type"), "application/pdf");
        assert!(paper.bytes.starts_with(b"%PDF"), "{kind}");
        assert!(paper.header("content-disposition").contains(kind));
    }
    loft.get("/orders/26-041/papers/poem.pdf").await.expect(404).has("labels.pdf");
    loft.get("/orders/none/papers/labels.pdf").await.expect(404);
    loft.get("/orders/26-041/papers/labels.pdf?width=wide").await.expect(400);
    loft.get("/orders/26-041/papers/labels.pdf?line=none").await.expect(404);
}
