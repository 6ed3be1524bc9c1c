//! `relent watch`: logs land one by one, are poor, half written, copied, replaced, and the gate file breaks in between.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::thread;
use std::time::{Duration, Instant};

use tempfile::TempDir;

use crate::run::{edit, relent, visit};

/// Longer than any look takes on a busy machine.
const PATIENCE: Duration = Duration::from_secs(60);

/// A running watch; it ends with the test.
pub(crate) struct Watching {
    child: Child,
    lines: Receiver<String>,
}

impl Watching {
    /// Watches a gate folder with a look every 40 ms.
    pub(crate) fn start(gate: &Path, arguments: &[&str]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_relent"))
            .args(["watch", ".", "--every", "40"])
            .args(arguments)
            .current_dir(gate)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let out = BufReader::new(child.stdout.take().unwrap());
        let (to, lines) = channel();
        thread::spawn(move || {
            for line in out.lines() {
                if to.send(line.unwrap()).is_err() {
                    break;
                }
            }
        });
        Self { child, lines }
    }

    /// The lines up to and with the first that holds a text.
    pub(crate) fn until(&self, text: &str) -> Vec<String> {
        let end = Instant::now() + PATIENCE;
        let mut seen = Vec::new();
        loop {
            let left = end.saturating_duration_since(Instant::now());
            match self.lines.recv_timeout(left) {
                Ok(line) if line.contains(text) => {
                    seen.push(line);
                    return seen;
                }
                Ok(line) => seen.push(line),
                Err(_) => panic!("no line with {text:?}, but:\n{}", seen.join("\n")),
            }
        }
    }

    /// The first line that holds a text.
    pub(crate) fn line(&self, text: &str) -> String {
        self.until(text).pop().unwrap()
    }

    /// The exit status and the rest of the lines.
    pub(crate) fn end(mut self) -> (i32, Vec<String>) {
        let status = self.child.wait().unwrap().code().unwrap();
        (status, self.lines.iter().collect())
    }

    fn runs(&mut self) -> bool {
        self.child.try_wait().unwrap().is_none()
    }
}

impl Drop for Watching {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The demo's visit with its logs beside it: the gate folder has none yet.
pub(crate) fn empty(name: &str) -> (TempDir, PathBuf, PathBuf) {
    let (home, gate) = visit(name);
    let aside = home.path().join("aside");
    fs::rename(gate.join("logs"), &aside).unwrap();
    fs::create_dir(gate.join("logs")).unwrap();
    (home, gate, aside)
}

/// The log of a hit, whatever its ending.
pub(crate) fn log(folder: &Path, stem: &str) -> PathBuf {
    let mut entries = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path());
    let stem = format!("{stem}.");
    let found = entries.find(|path| {
        path.file_name()
            .unwrap()
            .to_string_lossy()
            .starts_with(&stem)
    });
    found.unwrap_or_else(|| panic!("no log {stem}"))
}

fn drop_in(from: &Path, stem: &str, gate: &Path) -> String {
    let from = log(from, stem);
    let name = from.file_name().unwrap().to_string_lossy().into_owned();
    fs::copy(&from, gate.join("logs").join(&name)).unwrap();
    name
}

fn stems() -> Vec<String> {
    let places = [50, 300, 500]
        .into_iter()
        .flat_map(|gap| [50, 900, 1500].map(|height| (gap, height)));
    let hits = places
        .flat_map(|(gap, height)| [1, 2, 3].map(|hit| format!("closing-{gap}-{height}-{hit}")));
    hits.collect()
}

#[test]
fn logs_that_land_one_by_one_are_assessed_and_the_next_hit_is_named_until_nothing_is_missing() {
    let (_home, gate, logs) = empty("visit-2");
    let watching = Watching::start(&gate, &["--until-complete"]);
    let first = watching.line("Next:");
    assert!(first.contains("save as closing-50-50-1.csv"), "{first}");
    let stems = stems();
    for (place, stem) in stems.iter().enumerate() {
        let name = drop_in(&logs, stem, &gate);
        let told = watching.line(&format!("{name}: "));
        assert!(
            told.contains("peak force") && told.contains("(limit 400 N)"),
            "{told}"
        );
        assert!(!told.contains("repeat") && !told.contains("over"), "{told}");
        if let Some(next) = stems.get(place + 1) {
            let line = watching.line("Next: ");
            assert!(line.contains(&format!("save as {next}.csv")), "{line}");
        }
    }
    let (status, rest) = watching.end();
    let [.., last, farewell] = rest.as_slice() else {
        panic!("{rest:?}")
    };
    assert_eq!(status, 0, "{rest:?}");
    assert_eq!(
        farewell,
        "The watch has ended. `relent assess .` writes the report."
    );
    assert!(
        last.contains("All hits recorded") && last.contains("within the limits assessed"),
        "{last}"
    );
    assert_eq!(relent(&gate, &["assess", ".", "--no-report"]).status, 0);
}

/// A terminal of util-linux's `script`, which every Debian has.
#[cfg(target_os = "linux")]
#[test]
fn on_a_terminal_the_last_view_says_the_verdict_and_where_to_go_next() {
    let (_home, gate) = visit("visit-2");
    let command = format!(
        "stty cols 100; exec '{}' watch . --every 40 --until-complete",
        env!("CARGO_BIN_EXE_relent")
    );
    let output = Command::new("script")
        .args(["-qec", &command, "/dev/null"])
        .current_dir(&gate)
        .stdin(Stdio::null())
        .output()
        .unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(0), "{text}");
    let view = text.rsplit("\x1b[3J").next().unwrap();
    for wanted in [
        "All hits recorded.",
        "within the limits assessed",
        "The watch has ended. `relent assess .` writes the report.",
    ] {
        let words = view.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains(wanted), "{wanted}: {view}");
    }
    assert!(!view.contains("Ctrl-C"), "{view}");
}

#[test]
fn a_limit_that_is_exceeded_is_told_with_the_hit_and_decides_the_exit_status() {
    let (home, gate, logs) = empty("visit-2");
    let (_other, first) = visit("visit-1");
    for stem in stems() {
        let from = if stem.starts_with("closing-500-50-") {
            first.join("logs")
        } else {
            logs.clone()
        };
        fs::copy(
            log(&from, &stem),
            home.path().join(format!("gate/logs/{stem}.csv")),
        )
        .unwrap();
    }
    let watching = Watching::start(&gate, &["--until-complete"]);
    let told = watching.line("closing-500-50-2.csv: ");
    assert!(
        told.contains("▲ over the limit by itself: peak force"),
        "{told}"
    );
    let point = watching.line("gap 500 mm, height 50 mm: ▲ over the limit");
    assert!(point.contains("(limit 400 N)"), "{point}");
    let (status, rest) = watching.end();
    assert_eq!(status, 1, "{rest:?}");
    assert_eq!(relent(&gate, &["assess", ".", "--no-report"]).status, 1);
}

#[test]
fn a_poor_hit_says_at_once_why_it_is_made_again_and_a_better_log_of_its_name_is_assessed_anew() {
    let (_home, gate, logs) = empty("visit-2");
    let (_other, first) = visit("visit-1");
    let watching = Watching::start(&gate, &[]);
    watching.line("Next: ");
    let name = drop_in(&first.join("logs"), "closing-300-900-2", &gate);
    let told = watching.line(&format!("{name}: "));
    assert!(
        told.contains("◆ to repeat: Top of the hit clipped"),
        "{told}"
    );
    let next = watching.line("Next: ");
    assert!(
        next.contains(&format!("repeat hit 2: save as {name}")),
        "{next}"
    );
    let name = drop_in(&first.join("logs"), "closing-50-1500-3", &gate);
    let told = watching.line(&format!("{name}: "));
    assert!(
        told.contains("◆ to repeat: Recording too short: 3."),
        "{told}"
    );
    let silent = "time (s),force (N)\n".to_owned()
        + &(0..6000)
            .map(|k| format!("{:.3},0.{}\n", f64::from(k) / 1000.0, k % 3))
            .collect::<String>();
    fs::write(gate.join("logs/closing-50-900-1.csv"), silent).unwrap();
    let told = watching.line("closing-50-900-1.csv: ");
    assert!(told.contains("No reading: "), "{told}");
    fs::write(gate.join("logs/closing-50-900-2.csv"), "no log at all").unwrap();
    let told = watching.line("closing-50-900-2.csv: ");
    assert!(told.contains("the log could not be read"), "{told}");
    let bare: String = (0..6000).map(|k| format!("{}\n", k % 7)).collect();
    fs::write(gate.join("logs/closing-50-900-3.csv"), bare).unwrap();
    let told = watching.line("closing-50-900-3.csv: ");
    assert!(
        told.contains("leaves a question open") && told.contains("recipe"),
        "{told}"
    );
    drop_in(&logs, "closing-300-900-2", &gate);
    watching.line("closing-300-900-2.csv: changed");
    let told = watching.line("closing-300-900-2.csv: closing");
    assert!(!told.contains("repeat"), "{told}");
    fs::remove_file(gate.join("logs/closing-300-900-2.csv")).unwrap();
    watching.line("closing-300-900-2.csv: removed from the folder");
}

#[test]
fn a_log_that_is_still_being_written_is_not_assessed_by_half() {
    let (_home, gate, logs) = empty("visit-2");
    let watching = Watching::start(&gate, &[]);
    watching.line("Next: ");
    let from = log(&logs, "closing-500-900-1");
    let bytes = fs::read(&from).unwrap();
    let path = gate.join("logs").join(from.file_name().unwrap());
    let mut file = fs::File::create(&path).unwrap();
    // Each piece well within the two looks that would see the same.
    for piece in bytes.chunks(bytes.len() / 80 + 1) {
        file.write_all(piece).unwrap();
        file.flush().unwrap();
        thread::sleep(Duration::from_millis(15));
    }
    drop(file);
    let seen = watching.until("closing-500-900-1.csv: closing");
    assert!(
        seen[..seen.len() - 1]
            .iter()
            .all(|line| !line.contains("repeat")),
        "{seen:?}"
    );
    let whole = seen.last().unwrap();
    assert!(
        whole.contains("residual force") && !whole.contains("repeat"),
        "{whole}"
    );
    fs::write(gate.join("logs/closing-500-900-2.csv"), "").unwrap();
    watching.line("closing-500-900-2.csv: is empty so far");
}

#[test]
fn a_copy_is_noticed_within_the_visit_and_of_an_earlier_one() {
    let (_home, gate, logs) = empty("visit-2");
    let (_other, first) = visit("visit-1");
    let watching = Watching::start(&gate, &["--earlier", first.to_str().unwrap()]);
    watching.line("Next: ");
    let name = drop_in(&logs, "closing-50-50-1", &gate);
    watching.line(&format!("{name}: "));
    watching.line("Next: ");
    fs::copy(
        log(&logs, "closing-50-50-1"),
        gate.join("logs/closing-50-50-2.csv"),
    )
    .unwrap();
    let both = watching.until("Next: ");
    for name in ["closing-50-50-1.csv", "closing-50-50-2.csv"] {
        let told = both
            .iter()
            .find(|line| line.starts_with(name))
            .unwrap_or_else(|| panic!("{both:?}"));
        assert!(
            told.contains("to repeat: Copy, not a new hit: same samples as in"),
            "{told}"
        );
    }
    let name = drop_in(&first.join("logs"), "closing-500-900-1", &gate);
    let told = watching.line(&format!("{name}: "));
    assert!(
        told.contains("same samples as in closing-500-900-1") && told.contains("of the visit on"),
        "{told}"
    );
}

#[test]
fn names_without_a_place_and_two_logs_of_one_hit_are_told_and_neither_ends_the_watch() {
    let (_home, gate, logs) = empty("visit-2");
    let mut watching = Watching::start(&gate, &[]);
    watching.line("Next: ");
    fs::write(gate.join("logs/strange.csv"), "1,2\n").unwrap();
    watching.line("strange.csv: the name does not fit the pattern");
    fs::write(gate.join("logs/closing-400-4000-1.csv"), "1,2\n").unwrap();
    watching.line("closing-400-4000-1.csv: no such test point");
    let name = drop_in(&logs, "closing-50-50-1", &gate);
    watching.line(&format!("{name}: closing"));
    fs::copy(
        log(&logs, "closing-50-50-2"),
        gate.join("logs/closing-50-50-1.txt"),
    )
    .unwrap();
    watching.line("both claim closing, gap 50 mm, height 50 mm, repeat 1");
    let name = drop_in(&logs, "closing-300-50-1", &gate);
    watching.line(&format!("{name}: closing"));
    fs::copy(
        log(&logs, "closing-300-50-2"),
        gate.join("logs/closing-310-400-1.csv"),
    )
    .unwrap();
    let told = watching.line("closing-310-400-1.csv: ");
    assert!(
        told.contains("the plan requires no hit at this point"),
        "{told}"
    );
    assert!(watching.runs());
}

#[test]
fn a_fault_in_the_gate_file_is_told_the_watch_goes_on_and_a_change_assesses_all_hits_anew() {
    let (_home, gate, logs) = empty("visit-2");
    let watching = Watching::start(&gate, &[]);
    watching.line("Next: ");
    let name = drop_in(&logs, "closing-50-50-1", &gate);
    let told = watching.line(&format!("{name}: "));
    assert!(!told.contains("repeat"), "{told}");
    let file = gate.join("gate.toml");
    edit(&file, "leaf_mass_kg = 420", "leaf_mass_kg = \"heavy\"");
    let fault = watching.line("leaf_mass_kg");
    assert!(fault.contains("gate.toml, line 8: "), "{fault}");
    watching.line("it is still assessed by what stood there before");
    let name = drop_in(&logs, "closing-50-50-2", &gate);
    watching.line(&format!("{name}: closing"));
    edit(&file, "leaf_mass_kg = \"heavy\"", "leaf_mass_kg = 420");
    watching.line("everything can be read again");
    edit(
        &file,
        "calibration_due = 2026-09-07",
        "calibration_due = 2026-09-07\n# a remark changes nothing",
    );
    edit(&file, "capacity_n = 2000", "capacity_n = 200");
    let told = watching.line(&format!("{name}: "));
    assert!(
        told.contains("repeat"),
        "the gauge cannot show more than 200 N: {told}"
    );
    fs::remove_file(&file).unwrap();
    watching.line("it is still assessed by what stood there before");
}

#[test]
fn a_gate_file_without_logs_and_a_folder_that_is_not_there_yet_are_told() {
    let (_home, gate, logs) = empty("visit-2");
    fs::remove_dir(gate.join("logs")).unwrap();
    let watching = Watching::start(&gate, &[]);
    let told = watching.line("./logs: ");
    assert!(
        told.contains("is not there: logs are read as soon as it is"),
        "{told}"
    );
    fs::create_dir(gate.join("logs")).unwrap();
    let name = drop_in(&logs, "closing-50-50-1", &gate);
    watching.line("everything can be read again");
    watching.line(&format!("{name}: closing"));
    let file = gate.join("gate.toml");
    edit(&file, "[logs]\n", "[drive.settings.away]\n");
    watching.line("it is still assessed by what stood there before");
    let text = fs::read_to_string(&file).unwrap();
    let (before, rest) = text.split_once("[drive.settings.away]").unwrap();
    let (_, after) = rest.split_once("\n\n").unwrap();
    fs::write(&file, format!("{before}{after}")).unwrap();
    watching.line("the gate file has no [logs]");
}

#[test]
fn what_can_never_be_complete_is_refused_and_a_fault_at_the_start_ends_it() {
    let (_home, gate) = visit("visit-2");
    edit(&gate.join("gate.toml"), "leaf_height_mm = 1800\n", "");
    let ran = relent(&gate, &["watch", ".", "--until-complete"]);
    assert!(
        ran.status == 2 && ran.err.contains("leaf_height_mm"),
        "{}",
        ran.err
    );
    edit(
        &gate.join("gate.toml"),
        "motion = \"sliding\"",
        "motion = \"rolling\"",
    );
    let ran = relent(&gate, &["watch", "."]);
    assert!(
        ran.status == 2 && ran.err.contains("rolling"),
        "{}",
        ran.err
    );
    assert_eq!(relent(&gate, &["watch", ".", "--every", "0"]).status, 2);
}

/// Sends a request as it stands and returns status, head and body of the answer.
fn ask(port: &str, request: &str) -> (u32, String, String) {
    let mut stream = TcpStream::connect(format!("127.0.0.1:{port}")).unwrap();
    stream.set_read_timeout(Some(PATIENCE)).unwrap();
    stream.write_all(request.as_bytes()).unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    let (head, body) = answer
        .split_once("\r\n\r\n")
        .unwrap_or_else(|| panic!("{answer}"));
    let status = head.split(' ').nth(1).unwrap().parse().unwrap();
    (status, head.to_owned(), body.to_owned())
}

pub(crate) fn get(port: &str, path: &str, host: &str, more: &str) -> (u32, String, String) {
    ask(
        port,
        &format!("GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n{more}\r\n"),
    )
}

/// The port that a line names.
pub(crate) fn port(line: &str) -> String {
    let address = line.split_once("http://127.0.0.1:").unwrap().1;
    address.trim_end_matches('/').to_owned()
}

#[test]
fn the_served_page_answers_this_machine_alone_and_reads_no_files() {
    let (_home, gate, logs) = empty("visit-2");
    let watching = Watching::start(&gate, &["--serve"]);
    let port = port(&watching.line("page: "));
    watching.line("Next: ");
    for host in ["127.0.0.1", "localhost", "LocalHost:8080", "[::1]:1"] {
        assert_eq!(get(&port, "/", host, "").0, 200, "{host}");
    }
    for host in [
        "example.org",
        "127.0.0.1.example.org",
        "localhost.example.org:80",
        "localhost:",
        "10.0.0.1",
        "",
        "127.0.0.1@example.org",
    ] {
        let (status, _, body) = get(&port, "/", host, "");
        assert!(
            status == 403 && !body.contains("Quillmere"),
            "{host}: {status}"
        );
    }
    assert_eq!(
        get(&port, "/", "localhost", "Host: example.org\r\n").0,
        403,
        "two hosts"
    );
    assert_eq!(ask(&port, "GET / HTTP/1.0\r\n\r\n").0, 403, "no host");
    for path in [
        "/gate.toml",
        "/../gate.toml",
        "/%2e%2e/gate.toml",
        "//etc/passwd",
        "/logs/",
    ] {
        let (status, _, body) = get(&port, path, "localhost", "");
        assert!(
            status == 404 && !body.contains("schema"),
            "{path}: {status} {body}"
        );
    }
    let (status, head, _) = ask(
        &port,
        "POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 0\r\nConnection: close\r\n\r\n",
    );
    assert!(status == 405 && head.contains("Allow: GET, HEAD"), "{head}");
    let (status, head, body) = ask(
        &port,
        "HEAD / HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n",
    );
    assert!(status == 200 && body.is_empty(), "{head}");
    for wanted in [
        "default-src 'none'",
        "frame-ancestors 'none'",
        "nosniff",
        "no-store",
    ] {
        assert!(head.contains(wanted), "{head}");
    }
    let (_, head, news) = get(&port, "/now", "localhost", "");
    assert!(news.contains("closing-50-50-1.csv"), "{news}");
    let tag = head
        .lines()
        .find_map(|line| line.strip_prefix("Etag: "))
        .unwrap()
        .to_owned();
    let known = format!("If-None-Match: {tag}\r\n");
    assert_eq!(get(&port, "/now", "localhost", &known).0, 304);
    let name = drop_in(&logs, "closing-50-50-1", &gate);
    watching.line(&format!("{name}: "));
    let (status, _, news) = get(&port, "/now", "localhost", &known);
    assert!(
        status == 200 && news.contains("Last hit") && news.contains("closing-50-50-2.csv"),
        "{news}"
    );
}

#[test]
fn a_port_that_is_taken_is_a_complaint() {
    let (_home, gate) = visit("visit-2");
    let taken = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let port = taken.local_addr().unwrap().port().to_string();
    let ran = relent(&gate, &["watch", ".", "--serve", &port]);
    assert!(
        ran.status == 2 && ran.err.contains("another port"),
        "{}",
        ran.err
    );
}
