//! A headless Chromium spoken to through a pair of pipes, with nothing but the standard library and
//! JSON: what a page asks the network for, what it complains of, how wide it comes out.

use std::fs::{File, OpenOptions};
use std::io::{BufRead as _, BufReader, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use tempfile::TempDir;

/// Names under which the browser is installed.
const NAMES: [&str; 2] = ["chromium", "chromium-browser"];
/// Longest wait for an answer.
const PATIENCE: Duration = Duration::from_secs(120);

/// A running browser with one page; ended when dropped.
pub struct Browser {
    child: Child,
    orders: File,
    answers: Receiver<Value>,
    session: Option<String>,
    sent: u64,
    /// Everything the page has reported since the last [`Browser::open`].
    pub events: Vec<Value>,
    _home: TempDir,
}

fn installed() -> Option<&'static str> {
    NAMES.into_iter().find(|name| {
        let version = Command::new(name)
            .arg("--version")
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status();
        version.is_ok_and(|status| status.success())
    })
}

impl Browser {
    /// Starts the browser. Where there is none the test says on standard error that it is left out, and
    /// what to install; where continuous integration runs (`CI` is set) it fails instead.
    pub fn start() -> Option<Browser> {
        let needed = "the report page is opened in Chromium (apt-get install chromium)";
        let Some(name) = installed() else {
            assert!(std::env::var_os("CI").is_none(), "{needed}");
            eprintln!("left out: {needed}");
            return None;
        };
        let home = tempfile::tempdir().unwrap();
        let pipe = |name: &str| -> PathBuf {
            let path = home.path().join(name);
            let made = Command::new("mkfifo").arg(&path).status();
            assert!(made.is_ok_and(|status| status.success()), "mkfifo");
            path
        };
        let (orders, answers) = (pipe("orders"), pipe("answers"));
        // The browser takes orders from descriptor 3 and answers on descriptor 4.
        let child = Command::new("sh")
            .args([
                "-c",
                "browser=$1; in=$2; out=$3; home=$4; exec \"$browser\" --headless --no-sandbox \
                 --disable-gpu --disable-dev-shm-usage --no-first-run --disable-extensions \
                 --disable-background-networking --disable-component-update --disable-sync \
                 --user-data-dir=\"$home\" --remote-debugging-pipe about:blank \
                 3<\"$in\" 4>\"$out\"",
                "browser",
                name,
            ])
            .args([&orders, &answers, &home.path().join("profile")])
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let orders = OpenOptions::new().write(true).open(orders).unwrap();
        let mut reader = BufReader::new(File::open(answers).unwrap());
        let (send, receive) = channel();
        std::thread::spawn(move || {
            let mut message = Vec::new();
            while reader
                .read_until(0, &mut message)
                .is_ok_and(|read| read > 0)
            {
                message.pop();
                let value = serde_json::from_slice(&message).unwrap_or(Value::Null);
                if send.send(value).is_err() {
                    return;
                }
                message.clear();
            }
        });
        let mut browser = Browser {
            child,
            orders,
            answers: receive,
            session: None,
            sent: 0,
            events: Vec::new(),
            _home: home,
        };
        let target = browser.ask("Target.createTarget", json!({ "url": "about:blank" }));
        let attached = browser.ask(
            "Target.attachToTarget",
            json!({ "targetId": target["targetId"], "flatten": true }),
        );
        browser.session = attached["sessionId"].as_str().map(str::to_owned);
        for domain in ["Page", "Runtime", "Log", "Network"] {
            browser.ask(&format!("{domain}.enable"), json!({}));
        }
        Some(browser)
    }

    /// Sends an order and waits for its answer.
    pub fn ask(&mut self, method: &str, parameters: Value) -> Value {
        self.sent += 1;
        let id = self.sent;
        let mut order = json!({ "id": id, "method": method, "params": parameters });
        if let Some(session) = &self.session {
            order["sessionId"] = json!(session);
        }
        let mut bytes = order.to_string().into_bytes();
        bytes.push(0);
        self.orders.write_all(&bytes).unwrap();
        let answer = self.wait(method, |message| message["id"] == id);
        assert!(answer["error"].is_null(), "{method}: {}", answer["error"]);
        answer["result"].clone()
    }

    /// Keeps events until the one wanted comes, and gives that.
    fn wait(&mut self, what: &str, wanted: impl Fn(&Value) -> bool) -> Value {
        let start = Instant::now();
        loop {
            let left = PATIENCE.saturating_sub(start.elapsed());
            let message = self
                .answers
                .recv_timeout(left)
                .unwrap_or_else(|_| panic!("Chromium did not answer {what}"));
            if wanted(&message) {
                return message;
            }
            if message["id"].is_null() {
                self.events.push(message);
            }
        }
    }

    /// Opens a file of the disk on a screen so many pixels wide and waits until it is all there.
    pub fn open(&mut self, file: &Path, width: u32) {
        self.ask(
            "Emulation.setDeviceMetricsOverride",
            json!({
                "width": width, "height": 844, "deviceScaleFactor": 1, "mobile": width < 600
            }),
        );
        self.events.clear();
        let url = format!("file://{}", file.display());
        let gone = self.ask("Page.navigate", json!({ "url": url }));
        assert!(gone["errorText"].is_null(), "{url}: {}", gone["errorText"]);
        let loaded = |event: &Value| event["method"] == "Page.loadEventFired";
        if !self.events.iter().any(loaded) {
            self.wait("the page", loaded);
        }
    }

    /// The value of an expression in the page.
    pub fn value(&mut self, expression: &str) -> Value {
        let answer = self.ask(
            "Runtime.evaluate",
            json!({ "expression": expression, "returnByValue": true }),
        );
        assert!(answer["exceptionDetails"].is_null(), "{answer}");
        answer["result"]["value"].clone()
    }

    /// Addresses that the page asked for.
    pub fn asked_for(&self) -> Vec<String> {
        self.events
            .iter()
            .filter(|event| event["method"] == "Network.requestWillBeSent")
            .filter_map(|event| event["params"]["request"]["url"].as_str())
            .map(str::to_owned)
            .collect()
    }

    /// What the page or the browser complained of.
    pub fn complaints(&self) -> Vec<String> {
        let kinds = [
            "Runtime.consoleAPICalled",
            "Runtime.exceptionThrown",
            "Log.entryAdded",
            "Network.loadingFailed",
        ];
        self.events
            .iter()
            .filter(|event| kinds.iter().any(|kind| event["method"] == *kind))
            .map(Value::to_string)
            .collect()
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
