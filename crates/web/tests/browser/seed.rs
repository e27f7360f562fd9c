//! A loft with years of work in it: the plan confirmed, pieces in service,
//! tests in the log, figures measured, a quote kept. Sent as a browser would.

use std::io::{Read, Write};
use std::net::TcpStream;

/// Sends a form and gives the whole answer.
fn sent(at: &str, path: &str, pairs: &[(&str, &str)]) -> String {
    let host = at.trim_start_matches("http://");
    let escape = |text: &str| text.bytes().map(|byte| format!("%{byte:02X}")).collect::<String>();
    let body = pairs.iter().map(|(name, value)| format!("{name}={}", escape(value))).collect::<Vec<_>>().join("&");
    let method = if path.starts_with("/cut?") { "GET" } else { "POST" };
    let mut stream = TcpStream::connect(host).expect("a loft that listens");
    let head = format!(
        "{method} {path} HTTP/1.1\r\nhost: {host}\r\norigin: {at}\r\ncontent-type: application/x-www-form-urlencoded\r\n\
         content-length: {}\r\nconnection: close\r\n\r\n{body}",
        body.len()
    );
    stream.write_all(head.as_bytes()).expect("sent");
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).expect("an answer");
    String::from_utf8_lossy(&answer).into_owned()
}

fn post(at: &str, path: &str, pairs: &[(&str, &str)]) {
    let answer = sent(at, path, pairs);
    assert!(answer.starts_with("HTTP/1.1 303"), "{path} {pairs:?}: {answer}");
}

/// Fills a loft that has the demo order.
pub fn years_of_work(at: &str) {
    for (code, purpose) in [("S-1", ""), ("S-2", ""), ("S-3", "holds-person")] {
        let pairs = [
            ("code", code),
            ("boat", "Sandpiper"),
            ("line", "main halyard"),
            ("rope", "10 mm 12-strand HMPE"),
            ("length", "31 m"),
            ("purpose", purpose),
            ("made_on", "2024-03-01"),
            ("in_service_on", "2024-04-01"),
            ("next_due", "2026-04-01"),
        ];
        post(at, "/service", &pairs);
    }
    post(at, "/piece/S-1", &[("what", "used"), ("on", "2025-06-01"), ("hours", "220")]);
    post(at, "/piece/S-1", &[("what", "turned"), ("on", "2025-06-02")]);
    post(at, "/piece/S-1", &[("what", "inspected"), ("on", "2026-03-01"), ("see-wear", "8 %"), ("see-heat", "no")]);
    post(at, "/piece/S-2", &[("what", "retired"), ("on", "2026-05-01"), ("reason", "chafed through at the sheave")]);
    for (index, load) in ["88 kN", "90 kN", "91 kN", "92.5 kN", "86 kN", "94 kN"].iter().enumerate() {
        let number = format!("B-{index}");
        let pairs = [
            ("number", number.as_str()),
            ("on", "2026-05-04"),
            ("sample", "bench sample"),
            ("rope", "10 mm 12-strand HMPE"),
            ("end", "long-bury-eye"),
            ("load", load),
            ("broke", if index == 5 { "held" } else { "splice" }),
            ("strength", "100 kN"),
        ];
        post(at, "/tests", &pairs);
    }
    let readings: String =
        (1..60).map(|second| format!("{second},{},{}\n", f64::from(second) * 1.5, second * 2)).collect();
    let curve = format!("time [s],load [kN],extension [mm]\n0,0.1,0\n{readings}");
    post(at, "/test/B-0", &[("curve", &curve)]);
    for minutes in ["22", "25", "27", "24", "26", "23"] {
        post(
            at,
            "/learned",
            &[("what", "minutes"), ("end", "long-bury-eye"), ("value", minutes), ("on", "2026-05-01")],
        );
    }
    let terms =
        [("labour", "48 EUR"), ("twine", "0.40 EUR"), ("waste", "4 %"), ("margin", "20 % on cost"), ("tax", "19 %")];
    post(at, "/prices", &terms);
    post(at, "/orders/26-041/price", &[("asked", "")]);
    let plan = sent(at, "/cut?order=26-041", &[]);
    let id = plan.split("action=\"/cut/").nth(1).and_then(|rest| rest.split('/').next()).expect("a plan").to_owned();
    post(at, &format!("/cut/{id}/confirm"), &[]);
    let proof = [
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
    post(at, "/tests", &proof);
}
