//! Kills runs at random moments and counts what is left: torn files, sets of which a part is old and nobody is told, half gate files.
//!
//! `cargo bench --bench kills -- KILLS SEED` kills each command so many times (200, seed 1, if nothing is said) and prints the rows of
//! `reports/faults.md`.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use relent::impact::demo;
use relent::ingest::sha256;

/// Files by their names, drafts left out.
type Files = BTreeMap<String, Vec<u8>>;

/// What was counted of one command.
#[derive(Default)]
struct Count {
    killed: u32,
    ended: u32,
    torn: u32,
    told: u32,
    untold: u32,
}

/// A generator of our own: the high half of a linear congruence (Knuth's MMIX).
struct Moments(u64);

impl Moments {
    /// From 0 to 1.
    fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        f64::from((self.0 >> 32) as u32) / f64::from(u32::MAX)
    }
}

fn relent(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_relent"));
    command.args(arguments).current_dir(folder);
    command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    command
}

/// Runs to the end; how long that took.
fn run(folder: &Path, arguments: &[&str]) -> Duration {
    let start = Instant::now();
    relent(folder, arguments).status().unwrap();
    start.elapsed()
}

/// Kills a run after a part of its usual time; half of the moments lie in its last fifth, where files are written.
fn kill(
    folder: &Path,
    arguments: &[&str],
    usual: Duration,
    moments: &mut Moments,
    count: &mut Count,
) {
    let part = if moments.next() < 0.5 {
        moments.next()
    } else {
        0.8 + 0.25 * moments.next()
    };
    let mut child = relent(folder, arguments).spawn().unwrap();
    std::thread::sleep(usual.mul_f64(part));
    child.kill().unwrap();
    match child.wait().unwrap().code() {
        None => count.killed += 1,
        Some(_) => count.ended += 1,
    }
}

fn files(folder: &Path) -> Files {
    let Ok(entries) = fs::read_dir(folder) else {
        return Files::new();
    };
    let named = entries.map(|entry| entry.unwrap());
    let named = named.filter(|entry| entry.file_type().unwrap().is_file());
    let read = named.map(|entry| {
        let name = entry.file_name().to_string_lossy().into_owned();
        let bytes = fs::read(entry.path()).unwrap_or_default();
        (name, bytes)
    });
    read.filter(|(name, _)| !name.starts_with(".relent-"))
        .collect()
}

/// Whether the list says of exactly these files that they belong together.
fn agrees(found: &Files, list: &str) -> bool {
    let Some(list) = found.get(list) else {
        return false;
    };
    let text = String::from_utf8_lossy(list);
    let lines: Vec<_> = text
        .lines()
        .filter_map(|line| line.split_once("  "))
        .collect();
    lines.len() + 1 == found.len()
        && lines.iter().all(|(digest, name)| {
            found
                .get(*name)
                .is_some_and(|bytes| sha256(bytes) == *digest)
        })
}

/// Counts what a kill left of a set: files that are of no run, and a mixture that its list does or does not tell.
fn weigh(found: &Files, runs: &[Files], list: &str, count: &mut Count) {
    let whole =
        |(name, bytes): (&String, &Vec<u8>)| runs.iter().any(|run| run.get(name) == Some(bytes));
    if !found.iter().all(whole) {
        count.torn += 1;
    }
    if found.is_empty() || runs.contains(found) {
        return;
    }
    if agrees(found, list) {
        count.untold += 1;
    } else {
        count.told += 1;
    }
}

fn gate(folder: &Path, visit: &str) {
    for file in demo::files().unwrap() {
        if let Some(inner) = file.path.strip_prefix(&format!("{visit}/")) {
            let path = folder.join(inner);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, file.bytes).unwrap();
        }
    }
}

fn sealed_anew(home: &Path, kills: u32, moments: &mut Moments) -> Count {
    let mut count = Count::default();
    let usual = run(
        home,
        &["assess", "gate", "--seal", "--report", "gate/whole"],
    );
    let runs = [files(&home.join("gate/whole"))];
    for number in 0..kills {
        let place = format!("gate/r{number}");
        kill(
            home,
            &["assess", "gate", "--seal", "--report", &place],
            usual,
            moments,
            &mut count,
        );
        weigh(
            &files(&home.join(&place)),
            &runs,
            "report.sha256",
            &mut count,
        );
        let _ = fs::remove_dir_all(home.join(&place));
    }
    count
}

fn written_over(home: &Path, kills: u32, moments: &mut Moments) -> Count {
    let mut count = Count::default();
    let ask = |profile: &'static str, place: &'static str| {
        ["assess", "gate", "--profile", profile, "--report", place]
    };
    let editions = ["en12453-2017", "en12453-2000"];
    let usual = run(home, &ask(editions[0], "gate/first"));
    run(home, &ask(editions[1], "gate/second"));
    let runs = ["gate/first", "gate/second"].map(|place| files(&home.join(place)));
    run(home, &ask(editions[0], "gate/report"));
    for number in 0..kills {
        let edition = editions[1 - number as usize % 2];
        kill(
            home,
            &ask(edition, "gate/report"),
            usual,
            moments,
            &mut count,
        );
        weigh(
            &files(&home.join("gate/report")),
            &runs,
            "report.sha256",
            &mut count,
        );
    }
    count
}

fn started(home: &Path, kills: u32, moments: &mut Moments) -> Count {
    let mut count = Count::default();
    let ask = |folder: &str| -> Vec<String> {
        [
            "new",
            folder,
            "--motion",
            "sliding",
            "--name",
            "Gate",
            "--no-papers",
        ]
        .map(str::to_owned)
        .into()
    };
    let arguments = ask("new-whole");
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let usual = run(home, &arguments);
    let whole = files(&home.join("new-whole"));
    for number in 0..kills {
        let folder = format!("new-{number}");
        let arguments = ask(&folder);
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        kill(home, &arguments, usual, moments, &mut count);
        let found = files(&home.join(&folder));
        if !found
            .iter()
            .all(|(name, bytes)| whole.get(name) == Some(bytes))
        {
            count.torn += 1;
        }
        // The gate file is written last: without it nothing was started.
        if found != whole && found.contains_key("gate.toml") {
            count.untold += 1;
        }
        let _ = fs::remove_dir_all(home.join(&folder));
    }
    count
}

fn archived(home: &Path, kills: u32, moments: &mut Moments) -> Count {
    let mut count = Count::default();
    let ask = |out: &'static str| ["archive", "tree", "--out", out, "--today", "2026-11-25"];
    let usual = run(home, &ask("whole"));
    let outputs = |out: &str| -> Files {
        let mut found = files(&home.join(out));
        found.remove("archive.journal");
        found
    };
    let whole = outputs("whole");
    for _ in 0..kills {
        kill(home, &ask("out"), usual, moments, &mut count);
        let found = outputs("out");
        if !found
            .iter()
            .all(|(name, bytes)| whole.get(name) == Some(bytes))
        {
            count.torn += 1;
        }
        if found != whole && found.contains_key("archive.json") {
            count.untold += 1;
        }
        // What was interrupted ends in the same bytes.
        if moments.next() < 0.2 {
            run(home, &ask("out"));
            if outputs("out") != whole {
                count.torn += 1;
            }
            let _ = fs::remove_dir_all(home.join("out"));
        }
    }
    count
}

fn watched(home: &Path, kills: u32, moments: &mut Moments) -> Count {
    let mut count = Count::default();
    let before = [files(&home.join("gate")), files(&home.join("gate/logs"))];
    for _ in 0..kills {
        let arguments = ["watch", "gate", "--every", "20", "--serve"];
        kill(
            home,
            &arguments,
            Duration::from_millis(400),
            moments,
            &mut count,
        );
        if before != [files(&home.join("gate")), files(&home.join("gate/logs"))] {
            count.torn += 1;
        }
    }
    count
}

fn main() {
    let mut numbers = std::env::args().filter_map(|argument| argument.parse::<u32>().ok());
    let kills = numbers.next().unwrap_or(200);
    let seed = numbers.next().unwrap_or(1);
    let home = std::env::temp_dir().join(format!("relent-kills-{}", std::process::id()));
    gate(&home.join("gate"), "visit-1");
    for (name, visit) in [("a", "visit-1"), ("b", "visit-2")] {
        gate(&home.join("tree").join(name), visit);
    }
    let mut moments = Moments(u64::from(seed));
    println!(
        "| command | killed | ended before | torn or half files | mixed, told by the list | mixed, not told |"
    );
    println!("|---|---|---|---|---|---|");
    type Kills = fn(&Path, u32, &mut Moments) -> Count;
    let commands: [(&str, Kills); 5] = [
        ("`assess --seal`, a new folder", sealed_anew),
        ("`assess`, over another report", written_over),
        ("`new --no-papers`", started),
        ("`archive`", archived),
        ("`watch --serve`", watched),
    ];
    for (name, command) in commands {
        let Count {
            killed,
            ended,
            torn,
            told,
            untold,
        } = command(&home, kills, &mut moments);
        println!("| {name} | {killed} | {ended} | {torn} | {told} | {untold} |");
    }
    let _ = fs::remove_dir_all(&home);
}
