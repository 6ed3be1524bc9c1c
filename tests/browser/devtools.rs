//! A headless Chromium that stays open: a page is opened at the width of a screen, asked, and asked again.
//!
//! Chromium takes commands on a pipe, each a JSON object with a zero byte after it.

use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use tempfile::TempDir;

const PATIENCE: Duration = Duration::from_secs(60);

/// An open browser with one page; it ends with the test.
pub(crate) struct Browser {
    child: Child,
    to: ChildStdin,
    from: BufReader<ChildStdout>,
    session: Option<String>,
    asked: u64,
    /// What the page wrote to the console, and what was refused to it.
    pub(crate) complaints: Vec<String>,
    _profile: TempDir,
}

impl Browser {
    pub(crate) fn start() -> Self {
        let profile = tempfile::tempdir().unwrap();
        let script = format!(
            "exec chromium --headless --no-sandbox --disable-gpu --no-first-run --disable-background-networking \
             --disable-component-update --disable-sync --user-data-dir='{}' --remote-debugging-pipe about:blank 3<&0 4>&1",
            profile.path().display()
        );
        let mut child = Command::new("bash")
            .args(["-c", &script])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("chromium is installed");
        let (to, from) = (child.stdin.take().unwrap(), child.stdout.take().unwrap());
        let mut browser = Self {
            child,
            to,
            from: BufReader::new(from),
            session: None,
            asked: 0,
            complaints: Vec::new(),
            _profile: profile,
        };
        let targets = browser.call("Target.getTargets", &json!({}));
        let targets = targets["targetInfos"].as_array().unwrap();
        let page = targets
            .iter()
            .find(|target| target["type"] == "page")
            .unwrap();
        let attach = json!({ "targetId": page["targetId"], "flatten": true });
        let session = browser.call("Target.attachToTarget", &attach);
        browser.session = Some(session["sessionId"].as_str().unwrap().to_owned());
        for domain in ["Page.enable", "Runtime.enable", "Log.enable"] {
            browser.call(domain, &json!({}));
        }
        browser
    }

    /// One command and its answer.
    fn call(&mut self, method: &str, parameters: &Value) -> Value {
        self.asked += 1;
        let mut command = json!({ "id": self.asked, "method": method, "params": parameters });
        if let Some(session) = &self.session {
            command["sessionId"] = json!(session);
        }
        self.to
            .write_all(format!("{command}\0").as_bytes())
            .unwrap();
        self.to.flush().unwrap();
        loop {
            let mut message = Vec::new();
            self.from.read_until(0, &mut message).unwrap();
            message.pop().expect("chromium went away");
            let message: Value = serde_json::from_slice(&message).unwrap();
            if message["id"] == self.asked {
                assert!(message.get("error").is_none(), "{method}: {message}");
                return message["result"].clone();
            }
            let told = message["method"].as_str().unwrap_or_default();
            if [
                "Log.entryAdded",
                "Runtime.exceptionThrown",
                "Runtime.consoleAPICalled",
            ]
            .contains(&told)
            {
                self.complaints.push(message["params"].to_string());
            }
        }
    }

    /// Opens an address on a screen of a width.
    pub(crate) fn open(&mut self, address: &str, width: u32) {
        let screen =
            json!({ "width": width, "height": 844, "deviceScaleFactor": 1, "mobile": width < 600 });
        self.call("Emulation.setDeviceMetricsOverride", &screen);
        self.call("Page.navigate", &json!({ "url": address }));
        self.wait("document.readyState === 'complete' && location.href !== 'about:blank'");
    }

    /// Turns scripts on or off for the pages that are opened from now on.
    pub(crate) fn without_scripts(&mut self) {
        self.call(
            "Emulation.setScriptExecutionDisabled",
            &json!({ "value": true }),
        );
    }

    /// The value of an expression in the page.
    pub(crate) fn value(&mut self, expression: &str) -> Value {
        let ask = json!({ "expression": expression, "returnByValue": true, "awaitPromise": true });
        self.call("Runtime.evaluate", &ask)["result"]["value"].clone()
    }

    /// Waits until an expression in the page is true.
    pub(crate) fn wait(&mut self, expression: &str) {
        let end = Instant::now() + PATIENCE;
        while self.value(expression) != true {
            assert!(
                Instant::now() < end,
                "never true: {expression}; {}",
                self.value("document.body.innerText")
            );
            thread::sleep(Duration::from_millis(50));
        }
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
