//! This program again as a server of its own, so that it can be killed, put on
//! a full disk, or run without the right to write; and who asks it.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

/// Set for the program that is started again: the store it serves.
const SERVES: &str = "BECKET_TEST_SERVES";

/// Serves until it is killed, in the program that was started again for it.
pub fn serve_if_told() -> bool {
    let Ok(store) = std::env::var(SERVES) else { return false };
    let options = web::Options { store, port: 0, ..web::Options::default() };
    let say = |address: &str| {
        let mut out = std::io::stdout().lock();
        writeln!(out, "\nserved at {address}").unwrap();
        out.flush().unwrap();
    };
    if let Err(why) = web::serve(&options, say) {
        panic!("not served: {why}");
    }
    true
}

/// A server in a process of its own; it ends with this.
pub struct Served {
    child: Child,
    pub at: SocketAddr,
}

impl Served {
    /// Starts this program again for one test, under other programs.
    pub fn start(under: &[&str], test: &str, store: &Path) -> Served {
        let own = std::env::current_exe().unwrap().display().to_string();
        let words: Vec<&str> = under.iter().copied().chain([own.as_str()]).collect();
        let mut child = Command::new(words[0])
            .args(&words[1..])
            .args(["--exact", test, "--nocapture", "--test-threads=1"])
            .env(SERVES, store)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
        let said = lines.find_map(|line| line.strip_prefix("served at http://").map(str::to_owned));
        let at = said.unwrap_or_else(|| panic!("{test}: the server did not start"));
        // What else it says is taken, so that it never waits to say it.
        std::thread::spawn(move || lines.for_each(drop));
        Served { child, at: at.trim_end_matches('/').parse().unwrap() }
    }

    /// Pulls the plug.
    pub fn kill(&mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Asks as a page of its own: the status and the body, or no whole answer.
pub fn ask(at: SocketAddr, method: &str, path: &str, body: &str) -> Option<(u16, String)> {
    let kind = if body.starts_with('{') { "application/json" } else { "application/x-www-form-urlencoded" };
    let mut stream = TcpStream::connect(at).ok()?;
    stream.set_read_timeout(Some(Duration::from_secs(120))).ok()?;
    write!(
        stream,
        "{method} {path} HTTP/1.1\r\nHost: {at}\r\nOrigin: http://{at}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
        body.len()
    )
    .ok()?;
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).ok()?;
    let text = String::from_utf8_lossy(&answer);
    let status = text.get(9..12)?.parse().ok()?;
    Some((status, text.split_once("\r\n\r\n")?.1.to_owned()))
}

/// A draft as a page sends it.
pub fn draft(page: &str, value: &str) -> String {
    format!("{{\"page\":\"{page}\",\"field\":\"text\",\"value\":\"{value}\",\"based_on\":0}}")
}
