//! How the pages bear many benches at once: clients on loopback that ask for
//! page after page, and what each answer took.
//!
//! Usage: `cargo bench -p benches --bench web -- 127.0.0.1:4310 20 10` asks the
//! pages at that address with 20 clients for 10 seconds. Only loopback is
//! asked, and never for longer than two minutes. Every fourth request of the
//! odd clients keeps a draft, so that reading is measured beside writing.
//! Without an address nothing is measured and the usage is printed. It measures
//! whole requests from the client's side, connection included.

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::time::{Duration, Instant};

/// What is asked for in turn.
const PAGES: &[&str] = &[
    "/",
    "/orders",
    "/orders/26-041",
    "/orders/26-041/boat",
    "/orders/26-041/lines",
    "/orders/26-041/lines/main%20halyard",
    "/splice/answer?size=10+mm&construction=12-strand&fibre=hmpe&end=long-bury-eye&eye=60+mm&eye_on=12+mm+pin&bury=60d",
    "/pieces/26-041/01",
    "/rack",
    "/cut?order=26-041",
    "/api/orders",
];

/// What one client found: page by page, milliseconds; and what went wrong.
#[derive(Default)]
struct Found {
    took: Vec<(usize, f64)>,
    wrong: Vec<String>,
}

fn main() {
    let given: Vec<String> = std::env::args().skip(1).filter(|one| one != "--bench").collect();
    let address = given.first().and_then(|text| text.parse::<SocketAddr>().ok());
    let Some(address) = address.filter(|address| address.ip().is_loopback()) else {
        println!("usage: cargo bench -p benches --bench web -- 127.0.0.1:PORT [CLIENTS] [SECONDS]");
        return;
    };
    let number = |at: usize, usual: u64| given.get(at).and_then(|text| text.parse().ok()).unwrap_or(usual);
    let (clients, seconds) = (number(1, 20).clamp(1, 200), number(2, 10).clamp(1, 120));
    let until = Instant::now() + Duration::from_secs(seconds);
    let work: Vec<_> =
        (0..clients).map(|client| std::thread::spawn(move || ask(address, client as usize, until))).collect();
    let mut found = Found::default();
    for one in work {
        let Ok(one) = one.join() else { continue };
        found.took.extend(one.took);
        found.wrong.extend(one.wrong);
    }
    report(&found, clients, seconds);
}

fn ask(address: SocketAddr, client: usize, until: Instant) -> Found {
    let mut found = Found::default();
    let mut turn = client;
    while Instant::now() < until {
        let begun = Instant::now();
        let page = turn % PAGES.len();
        let answer = if client % 2 == 1 && turn % 4 == 3 {
            let body =
                format!("{{\"page\":\"/bench {client}\",\"field\":\"note\",\"value\":\"turn {turn}\",\"based_on\":0}}");
            request(address, "POST", "/drafts", &body).map(|status| (PAGES.len(), status))
        } else {
            request(address, "GET", PAGES[page], "").map(|status| (page, status))
        };
        match answer {
            Ok((page, 200 | 204)) => found.took.push((page, begun.elapsed().as_secs_f64() * 1000.0)),
            Ok((page, status)) => found.wrong.push(format!("{} answered {status}", name(page))),
            Err(why) => found.wrong.push(format!("{}: {why}", PAGES[page])),
        }
        turn += 1;
    }
    found
}

fn request(address: SocketAddr, method: &str, path: &str, body: &str) -> std::io::Result<u16> {
    let mut stream = TcpStream::connect(address)?;
    stream.set_read_timeout(Some(Duration::from_secs(30)))?;
    write!(
        stream,
        "{method} {path} HTTP/1.1\r\nHost: {address}\r\nContent-Type: application/json\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
        body.len()
    )?;
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer)?;
    let status = std::str::from_utf8(answer.get(9..12).unwrap_or_default()).ok().and_then(|text| text.parse().ok());
    status.ok_or_else(|| std::io::Error::other("no status"))
}

fn name(page: usize) -> &'static str {
    PAGES.get(page).copied().unwrap_or("POST /drafts")
}

fn report(found: &Found, clients: u64, seconds: u64) {
    println!("{clients} clients, {seconds} s: {} answers, {} errors", found.took.len(), found.wrong.len());
    println!("{:>8} {:>8} {:>8} {:>8}  page", "count", "median", "99 %", "worst");
    for page in 0..=PAGES.len() {
        line(name(page), found.took.iter().filter(|(of, _)| *of == page).map(|(_, took)| *took).collect());
    }
    line("all", found.took.iter().map(|(_, took)| *took).collect());
    let mut wrong = found.wrong.clone();
    wrong.sort();
    wrong.dedup();
    wrong.iter().take(10).for_each(|one| println!("{one}"));
}

fn line(page: &str, mut took: Vec<f64>) {
    took.sort_by(f64::total_cmp);
    let at = |share: f64| took.get(((took.len() as f64 * share) as usize).min(took.len().saturating_sub(1))).copied();
    let (Some(median), Some(high), Some(worst)) = (at(0.5), at(0.99), took.last()) else { return };
    println!("{:>8} {median:>8.1} {high:>8.1} {worst:>8.1}  {page}", took.len());
}
