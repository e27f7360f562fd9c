//! What every page must be for everybody: no axe-core violation in light and
//! dark, no sideways scroll at 360, 768 and 1440 px, targets of 44 px, read
//! without scripts, worked with keys alone.

use crate::driver::{Browser, Scripts, target};
use crate::loft::Loft;

/// Every page with the demo order.
const PAGES: [(&str, &str); 33] = [
    ("today", "/"),
    ("orders", "/orders"),
    ("order-new", "/orders/new"),
    ("order", "/orders/26-041"),
    ("boat", "/orders/26-041/boat"),
    ("lines", "/orders/26-041/lines"),
    ("line", "/orders/26-041/lines/main%20halyard"),
    ("line-strop", "/orders/26-041/lines/spinnaker%20pole%20strop"),
    ("splice", "/splice"),
    ("splice-compare", "/splice?size=10+mm&construction=12-strand&fibre=hmpe&eye=60+mm&eye_on=12+mm+pin&compare=1"),
    ("bench", "/bench"),
    ("piece", "/pieces/26-041/01"),
    ("rack", "/rack"),
    ("cut", "/cut"),
    ("settings", "/settings"),
    ("rope", "/orders/26-041/lines/main%20halyard/rope"),
    ("cover", "/orders/26-041/lines/spinnaker%20sheet/cover"),
    ("rules", "/settings/rules"),
    ("loft", "/settings/loft"),
    ("service", "/service"),
    ("service-pieces", "/service/pieces"),
    ("piece-record", "/piece/S-1"),
    ("piece-retired", "/piece/S-2"),
    ("proof-plan", "/proof/26-041/01?load=60+%25"),
    ("certificate", "/certificate/26-041/01"),
    ("certificate-refused", "/certificate/S-3"),
    ("tests", "/tests"),
    ("statistics", "/tests/statistics?rope=10+mm+12-strand+HMPE&end=long-bury-eye"),
    ("test", "/test/B-0"),
    ("learned", "/learned"),
    ("prices", "/prices"),
    ("price", "/orders/26-041/price"),
    ("refusal", "/nothing"),
];

fn with_demo(browser: &Browser) -> Loft {
    let loft = Loft::up();
    browser.go(&loft.at);
    browser.click("button[value=demo]");
    browser.says("26-041");
    crate::seed::years_of_work(&loft.at);
    loft
}

#[test]
fn no_violation_on_any_page_in_light_and_dark() {
    let axe = target().join("web-tools/node_modules/axe-core/axe.min.js");
    let axe = std::fs::read_to_string(&axe).expect("axe-core is needed: ./check installs it");
    let browser = Browser::start(Scripts::Run);
    let loft = with_demo(&browser);
    browser.width(768);
    let mut found = Vec::new();
    for (name, path) in PAGES {
        browser.go(&format!("{}{path}", loft.at));
        browser.script(&axe);
        for scheme in ["light", "dark"] {
            browser.scheme(scheme);
            let answer = browser.waited_script(
                "axe.run(document, { resultTypes: ['violations'], runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })
                    .then((r) => done(r.violations.map((v) => v.id + ': ' + v.nodes.slice(0, 3).map((n) => n.target.join(' ') + ' ' + n.failureSummary).join('; '))))
                    .catch((why) => done(['axe: ' + why]));",
            );
            for violation in answer.as_array().expect("a list") {
                found.push(format!("{name}, {scheme}: {violation}"));
            }
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn nothing_scrolls_sideways_and_targets_are_large() {
    let browser = Browser::start(Scripts::Run);
    let loft = with_demo(&browser);
    let mut found = Vec::new();
    for (name, path) in PAGES {
        browser.go(&format!("{}{path}", loft.at));
        for width in [360, 768, 1440] {
            browser.width(width);
            // Dark is looked at where a tablet is; axe-core judges it everywhere.
            let schemes: &[&str] = if width == 768 { &["light", "dark"] } else { &["light"] };
            for scheme in schemes {
                browser.scheme(scheme);
                browser.picture(&format!("{name}-{width}-{scheme}"));
            }
            let wide = browser.script("return [document.documentElement.scrollWidth, innerWidth]");
            if wide[0].as_f64() > wide[1].as_f64() {
                found.push(format!("{name} at {width} px scrolls to {wide}"));
            }
        }
        browser.width(768);
        let small = browser.script(
            "return [...document.querySelectorAll('main button, main .button, main input:not([type=hidden]):not([type=radio]):not([type=checkbox]), main select, main summary, nav a')]
                .filter((one) => one.offsetParent && one.getBoundingClientRect().height < 43.5)
                .map((one) => one.outerHTML.slice(0, 80))",
        );
        for one in small.as_array().expect("a list") {
            found.push(format!("{name} has a small target: {one}"));
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn pages_read_and_send_without_scripts() {
    let browser = Browser::start(Scripts::Off);
    let loft = with_demo(&browser);
    for (_, path) in PAGES {
        browser.go(&format!("{}{path}", loft.at));
        assert!(browser.text("h1").len() > 2, "{path} has no heading");
    }
    browser.go(&format!("{}/splice", loft.at));
    browser.says("720");
    browser.fill("#bury", "40d");
    browser.click("form#splice button");
    browser.says("400");
    browser.says("Working".to_lowercase().as_str());
    browser.go(&format!("{}/orders/26-041/lines/main%20halyard", loft.at));
    browser.click("details.working summary");
    browser.says("steady");
}

#[test]
fn keys_alone_reach_and_do_everything() {
    const TAB: &str = "\u{e004}";
    const ENTER: &str = "\u{e007}";
    let browser = Browser::start(Scripts::Run);
    let loft = with_demo(&browser);
    browser.go(&format!("{}/orders", loft.at));
    // The first stop skips the frame; what has the keys is always marked.
    browser.press(&[TAB]);
    assert_eq!(browser.script("return document.activeElement.className"), "skip");
    browser.press(&[ENTER]);
    assert_eq!(browser.script("return document.activeElement.id"), "main");
    let mut seen = Vec::new();
    for _ in 0..12 {
        browser.press(&[TAB]);
        let outline = browser.script("return getComputedStyle(document.activeElement).outlineStyle");
        assert_eq!(outline, "solid", "what has the keys is not marked");
        seen.push(
            browser.script("return document.activeElement.textContent.trim()").as_str().unwrap_or_default().to_owned(),
        );
        if seen.last().is_some_and(|text| text == "26-041") {
            break;
        }
    }
    assert!(seen.iter().any(|text| text == "26-041"), "{seen:?}");
    browser.press(&[ENTER]);
    browser.says("Order 26-041");
    let stops = browser.script(
        "return [...document.querySelectorAll('a[href], button, input:not([type=hidden]), select, textarea, summary')].filter((one) => one.tabIndex < 0).length",
    );
    assert_eq!(stops, 0, "something cannot be reached with keys");
}
