//! A headless Chromium, driven over the WebDriver protocol: plain JSON over
//! HTTP on loopback, so that it needs no more than the standard library.

use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Write};
use std::net::TcpStream;
use std::path::PathBuf;
use std::process::{Child, ChildStdout, Command, Stdio};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// One browser at a time: two cores are not many.
static TURN: Mutex<()> = Mutex::new(());

/// A browser with one page.
pub struct Browser {
    driver: Child,
    /// Held, for a driver whose output nobody takes ends.
    _said: BufReader<ChildStdout>,
    port: u16,
    session: String,
    _turn: MutexGuard<'static, ()>,
}

/// How it is started.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scripts {
    Run,
    Off,
}

impl Browser {
    pub fn start(scripts: Scripts) -> Browser {
        let turn = TURN.lock().unwrap_or_else(PoisonError::into_inner);
        let mut driver = Command::new("chromedriver")
            .arg("--port=0")
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("chromedriver is needed: ./check installs chromium-driver");
        let mut said = BufReader::new(driver.stdout.take().expect("its output"));
        let port = port_of(&mut said);
        let mut browser = Browser { driver, _said: said, port, session: String::new(), _turn: turn };
        let javascript = if scripts == Scripts::Off { 2 } else { 1 };
        let wanted = json!({ "capabilities": { "alwaysMatch": { "goog:chromeOptions": {
            "args": ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars", "--window-size=1440,1000"],
            "prefs": { "profile.managed_default_content_settings.javascript": javascript },
        } } } });
        let answer = browser.ask("POST", "/session", Some(&wanted));
        browser.session = answer["sessionId"].as_str().unwrap_or_else(|| panic!("no session: {answer}")).to_owned();
        browser
    }

    fn ask(&self, method: &str, path: &str, body: Option<&Value>) -> Value {
        let answer = self.tried(method, path, body);
        assert!(answer.get("error").is_none(), "{method} {path} {}: {answer}", body.cloned().unwrap_or_default());
        answer
    }

    fn tried(&self, method: &str, path: &str, body: Option<&Value>) -> Value {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).expect("chromedriver listens");
        stream.set_read_timeout(Some(Duration::from_secs(90))).expect("a time limit");
        let body = body.map(Value::to_string).unwrap_or_default();
        write!(
            stream,
            "{method} {path} HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
            body.len()
        )
        .expect("a request");
        let json = body_of(&mut BufReader::new(stream));
        let answer: Value = serde_json::from_slice(&json).unwrap_or_else(|_| panic!("no JSON from {method} {path}"));
        answer["value"].clone()
    }

    fn here(&self, command: &str, body: &Value) -> Value {
        self.ask("POST", &format!("/session/{}/{command}", self.session), Some(body))
    }

    pub fn go(&self, address: &str) {
        self.here("url", &json!({ "url": address }));
    }

    pub fn address(&self) -> String {
        self.ask("GET", &format!("/session/{}/url", self.session), None).as_str().unwrap_or_default().to_owned()
    }

    pub fn back(&self) {
        self.here("back", &json!({}));
    }

    pub fn forward(&self) {
        self.here("forward", &json!({}));
    }

    /// The page as it is printed: a PDF.
    pub fn printed(&self) -> Vec<u8> {
        let paper = json!({ "page": { "width": 21.0, "height": 29.7 }, "background": false });
        from_base64(self.here("print", &paper).as_str().unwrap_or_default())
    }

    pub fn reload(&self) {
        self.here("refresh", &json!({}));
    }

    /// What a script gives back.
    pub fn script(&self, script: &str) -> Value {
        self.here("execute/sync", &json!({ "script": script, "args": [] }))
    }

    /// What a script gives back when it calls `done`.
    pub fn waited_script(&self, script: &str) -> Value {
        let script = format!("const done = arguments[arguments.length - 1]; {script}");
        self.here("execute/async", &json!({ "script": script, "args": [] }))
    }

    /// The element that a selector finds, when it is there.
    fn found(&self, selector: &str) -> String {
        let until = Instant::now() + Duration::from_secs(20);
        let path = format!("/session/{}/element", self.session);
        loop {
            let answer = self.tried("POST", &path, Some(&json!({ "using": "css selector", "value": selector })));
            if let Some(id) = answer.as_object().and_then(|found| found.get("element-6066-11e4-a52e-4f735466cecf")) {
                return id.as_str().unwrap_or_default().to_owned();
            }
            assert!(Instant::now() < until, "{selector} is not on {}: {answer}", self.address());
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    /// Clicks; an element that went with its page while it was found is found again.
    pub fn click(&self, selector: &str) {
        let until = Instant::now() + Duration::from_secs(20);
        loop {
            let id = self.found(selector);
            self.script(&format!("document.querySelector({selector:?})?.scrollIntoView({{block: 'center'}})"));
            let path = format!("/session/{}/element/{id}/click", self.session);
            let answer = self.tried("POST", &path, Some(&json!({})));
            let Some(error) = answer.get("error") else { return };
            assert!(error == "stale element reference" && Instant::now() < until, "{selector}: {answer}");
        }
    }

    pub fn type_in(&self, selector: &str, text: &str) {
        let id = self.found(selector);
        self.here(&format!("element/{id}/value"), &json!({ "text": text }));
    }

    pub fn fill(&self, selector: &str, text: &str) {
        let id = self.found(selector);
        self.here(&format!("element/{id}/clear"), &json!({}));
        self.here(&format!("element/{id}/value"), &json!({ "text": text }));
    }

    /// The words of an element. Read in the page itself: a page that is just
    /// being left has none, and no fault is made of that.
    pub fn text(&self, selector: &str) -> String {
        self.found(selector);
        let read = self.script(&format!("return document.querySelector({selector:?})?.innerText ?? ''"));
        read.as_str().unwrap_or_default().to_owned()
    }

    /// Waits until the page says something.
    pub fn says(&self, words: &str) {
        let until = Instant::now() + Duration::from_secs(20);
        loop {
            let text = self.text("body");
            if text.contains(words) {
                return;
            }
            assert!(Instant::now() < until, "{words:?} is not on {}:\n{text}", self.address());
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    /// Presses keys one after another.
    pub fn press(&self, keys: &[&str]) {
        let actions: Vec<Value> = keys
            .iter()
            .flat_map(|key| [json!({ "type": "keyDown", "value": key }), json!({ "type": "keyUp", "value": key })])
            .collect();
        self.here("actions", &json!({ "actions": [{ "type": "key", "id": "keys", "actions": actions }] }));
    }

    fn devtools(&self, command: &str, parameters: Value) -> Value {
        self.here("goog/cdp/execute", &json!({ "cmd": command, "params": parameters }))
    }

    pub fn width(&self, width: u32) {
        let screen = json!({ "width": width, "height": 1000, "deviceScaleFactor": 1, "mobile": width < 800 });
        self.devtools("Emulation.setDeviceMetricsOverride", screen);
    }

    pub fn scheme(&self, scheme: &str) {
        let media = json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] });
        self.devtools("Emulation.setEmulatedMedia", media);
    }

    pub fn connection(&self, offline: bool) {
        self.devtools("Network.enable", json!({}));
        let line = json!({ "offline": offline, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1 });
        self.devtools("Network.emulateNetworkConditions", line);
    }

    /// A picture of the whole page, left among the artefacts.
    pub fn picture(&self, name: &str) {
        let taken = self.devtools("Page.captureScreenshot", json!({ "captureBeyondViewport": true, "format": "png" }));
        let bytes = from_base64(taken["data"].as_str().unwrap_or_default());
        assert!(bytes.starts_with(b"\x89PNG"), "{name} is no picture");
        let folder = target().join("pages");
        std::fs::create_dir_all(&folder).expect("a folder for pictures");
        std::fs::write(folder.join(format!("{name}.png")), bytes).expect("a picture");
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let path = format!("/session/{}", self.session);
        if !std::thread::panicking() {
            self.tried("DELETE", &path, None);
        }
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}

/// The port that the driver says it has taken.
fn port_of(said: &mut impl BufRead) -> u16 {
    loop {
        let mut line = String::new();
        assert!(said.read_line(&mut line).expect("its output") > 0, "chromedriver ended before it said its port");
        if let Some((_, port)) = line.split_once("started successfully on port ") {
            return port.trim().trim_end_matches('.').parse().expect("a port");
        }
    }
}

/// The body of an answer, as long as its head says.
fn body_of(stream: &mut impl BufRead) -> Vec<u8> {
    let mut length = 0;
    loop {
        let mut line = String::new();
        stream.read_line(&mut line).expect("an answer");
        if line.trim().is_empty() {
            break;
        }
        if let Some((name, value)) = line.split_once(':')
            && name.eq_ignore_ascii_case("content-length")
        {
            length = value.trim().parse().expect("a length");
        }
    }
    let mut body = vec![0; length];
    stream.read_exact(&mut body).expect("the whole answer");
    body
}

/// The target folder, from where the test itself lies.
pub fn target() -> PathBuf {
    let test = std::env::current_exe().expect("a test has a place");
    test.ancestors().nth(3).expect("deps, profile, target").to_owned()
}

fn from_base64(text: &str) -> Vec<u8> {
    let value = |byte: u8| match byte {
        b'A'..=b'Z' => u32::from(byte - b'A'),
        b'a'..=b'z' => u32::from(byte - b'a') + 26,
        b'0'..=b'9' => u32::from(byte - b'0') + 52,
        b'+' => 62,
        _ => 63,
    };
    let mut bytes = Vec::with_capacity(text.len() / 4 * 3);
    for four in text.trim_end_matches('=').as_bytes().chunks(4) {
        let bits = four.iter().fold(0, |bits, byte| bits << 6 | value(*byte)) << (6 * (4 - four.len()));
        bytes.extend_from_slice(&bits.to_be_bytes()[1..four.len()]);
    }
    bytes
}
