//! Every question about a log, and what becomes of it when it is answered as the question itself suggests.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::fs;
use std::io::Write as _;

use relent::ingest::Doubt;
use serde_json::Value;
use strum::VariantNames;

use crate::run::relent;

/// A recipe that says another unit than a log.
const RECIPE: &str = "force_unit = \"N\"\n";

/// A log that leaves a doubt, and answers to it, each as the options of one run.
struct Case {
    doubt: &'static str,
    log: Vec<u8>,
    answers: &'static [&'static [&'static str]],
}

fn case(
    doubt: &'static str,
    log: impl Into<Vec<u8>>,
    answers: &'static [&'static [&'static str]],
) -> Case {
    Case {
        doubt,
        log: log.into(),
        answers,
    }
}

/// The rows of a log below its heads.
fn rows(heads: &str, row: impl Fn(usize, &str, f64) -> String) -> String {
    let mut log = heads.to_owned();
    for at in 0..30 {
        let force = if at == 10 {
            412.5
        } else {
            1.0 + (at % 7) as f64 / 10.0
        };
        log += &row(at, &format!("{:.3}", at as f64 / 1e3), force);
        log.push('\n');
    }
    log
}

fn comma(number: f64) -> String {
    format!("{number:.1}").replace('.', ",")
}

fn columns() -> Vec<Case> {
    let bare = || rows("", |_, t, f| format!("{t};{f};3"));
    let two = |heads: &str| rows(heads, |_, t, f| format!("{t};{f}"));
    let three = |heads: &str| rows(heads, |_, t, f| format!("{t};{f};3"));
    let one = |heads: &str| rows(heads, |_, _, f| f.to_string());
    vec![
        case("no-heads", bare(), &[&["--force", "2"]]),
        case(
            "unit-contradicted",
            two("time (s);force (daN)\n"),
            &[&["--force-unit", "daN"]],
        ),
        case(
            "heads-do-not-fit",
            three("Time [s];Force [N]\n"),
            &[&["--force", "2"]],
        ),
        case(
            "no-force-named",
            two("Time [s];Foo\n"),
            &[&["--force", "Foo"]],
        ),
        case(
            "head-says-too-little",
            two("Time [s];F\n"),
            &[&["--force", "F"]],
        ),
        case(
            "several-forces",
            three("Time [s];Force A [N];Force B [N]\n"),
            &[&["--force", "2"], &["--force", "2+3"]],
        ),
        case(
            "short-rows",
            rows("Time [s]  Gap [mm]  Force [N]\n", |at, t, f| match at % 3 {
                0 => format!("{t} {f}"),
                _ => format!("{t} 5 {f}"),
            }),
            &[&["--force", "3"]],
        ),
        case(
            "wide-rows",
            rows("Time [s];Force [N]\n", |at, t, f| match at % 3 {
                2 => format!("{t};{f};7;8"),
                _ => format!("{t};{f}"),
            }),
            &[&["--force", "2"]],
        ),
        case(
            "no-force-unit",
            three("Time [s];Foo;Bar\n"),
            &[&["--force-unit", "N"]],
        ),
        case(
            "force-unit-unclear",
            two("Time [s];Force [g]\n"),
            &[&["--force-unit", "gf"]],
        ),
        case(
            "factor-beside-unit",
            two("Time [s];Force [N] x0.1\n"),
            &[&["--scale", "0.1"]],
        ),
        case(
            "several-times",
            rows("Time [s];Zeit [s];Force [N]\n", |_, t, f| {
                format!("{t};1{t};{f}")
            }),
            &[&["--time", "1"]],
        ),
        case(
            "no-time-named",
            bare(),
            &[&["--time", "1"], &["--rate", "1000"]],
        ),
        case(
            "instants-unreadable",
            rows("Time [s];Force [N]\n", |at, t, f| match at % 3 {
                0 => format!("then;{f}"),
                _ => format!("{t};{f}"),
            }),
            &[&["--time", "1"]],
        ),
        case(
            "no-time-unit",
            rows("Time;Force [N]\n", |at, _, f| format!("{at};{f}")),
            &[&["--time-unit", "ms"]],
        ),
        case(
            "one-column-without-rate",
            one("Force [N]\n"),
            &[&["--rate", "1000"]],
        ),
        case(
            "no-clock",
            rows("Gap [mm];Force [N]\n", |at, _, f| {
                format!("{};{f}", 50 - at)
            }),
            &[&["--rate", "1000"], &["--time", "1"]],
        ),
        case(
            "two-rates",
            one("Sampling rate: 1000 Hz\nSample rate: 500 Hz\nForce [N]\n"),
            &[&["--rate", "1000"], &["--rate", "500"]],
        ),
        case(
            "count-rises-by",
            rows("Sampling rate: 1000 Hz\nSample;Force [N]\n", |at, _, f| {
                format!("{};{f}", 2 * at)
            }),
            &[&["--rate", "1000"], &["--rate", "500"]],
        ),
        case(
            "clock-too-coarse",
            rows("Time [s];Force [N]\n", |at, _, f| format!("{};{f}", at / 4)),
            &[&["--rate", "4"]],
        ),
    ]
}

fn cells() -> Vec<Case> {
    vec![
        case(
            "clock-mark-open",
            rows("Time [s];Force [N]\n", |at, _, f| {
                format!("1.{at:03};{}", comma(f))
            }),
            &[&["--time-decimal-mark", "."], &["--time-decimal-mark", ","]],
        ),
        case(
            "two-marks",
            rows("Time [s];Force [N]\n", |at, _, _| {
                format!("{at};{}", ["1.25", "2,25"][at % 2])
            }),
            &[&["--decimal-mark", "."], &["--decimal-mark", ","]],
        ),
        case(
            "mark-open",
            rows("Time [ms];Force [N]\n", |at, _, _| {
                format!("{at};1.{}", 204 + at)
            }),
            &[&["--decimal-mark", "."], &["--decimal-mark", ","]],
        ),
        case(
            "mark-contradicted",
            rows("Decimal mark: ,\nTime [s];Force [N]\n", |_, t, f| {
                format!("{t};{f}")
            }),
            &[&["--decimal-mark", "."]],
        ),
        case(
            "commas-may-be-marks",
            rows("Time [s],Force [N]\n", |_, t, f| {
                format!("{},{}", t.replace('.', ","), comma(f))
            }),
            &[&["--decimal-mark", "."], &["--decimal-mark", ","]],
        ),
        case(
            "thousands-or-decimals",
            rows("Time [s];Force [N]\n", |at, t, f| match at {
                10 => format!("{t};1,204"),
                _ => format!("{t};{f:.1}"),
            }),
            &[&["--decimal-mark", "."]],
        ),
        case(
            "too-many-cells",
            rows("Time [s],Force [N],Gap [mm]\n", |at, t, f| match at {
                10 => format!("{t},1,408.5,50"),
                _ => format!("{t},{f},50"),
            }),
            &[&["--decimal-mark", "."]],
        ),
        case(
            "number-or-cells",
            rows("Sampling rate: 100 Hz\nForce, daN\n", |_, _, f| comma(f)),
            &[
                &["--delimiter", ","],
                &["--delimiter", ";", "--decimal-mark", ","],
            ],
        ),
        case(
            "several-delimiters",
            rows("", |at, _, _| format!("1,2{} 305,7", 10 + at)),
            &[&["--delimiter", "space"], &["--delimiter", ","]],
        ),
    ]
}

fn rows_and_runs() -> Vec<Case> {
    let log = |heads: &str| rows(heads, |_, t, f| format!("{t};{f}"));
    vec![
        case(
            "sign-in-column",
            rows("Time [s];Direction;Force [N]\n", |_, t, f| {
                format!("{t};Push;{f}")
            }),
            &[&["--sign", "push-positive"], &["--sign", "push-negative"]],
        ),
        case(
            "unit-between",
            rows("Time [s];Force [N]\n", |at, t, f| match at {
                20 => format!("*** range change: kN ***\n{t};{f}"),
                _ => format!("{t};{f}"),
            }),
            &[&["--force-unit", "N"]],
        ),
        case(
            "push-may-be-negative",
            rows("Time [s];Force [N]\n", |_, t, f| format!("{t};-{f}")),
            &[&["--sign", "push-positive"], &["--sign", "push-negative"]],
        ),
        case(
            "several-runs",
            format!(
                "{}\n{}",
                log("Time [s];Force [N]\n"),
                rows("", |_, t, f| format!("1{t};{f}"))
            ),
            &[&["--run", "2"], &["--run", "all"]],
        ),
        case(
            "other-heads",
            format!(
                "{}{}",
                log("Time [s];Force [N]\n"),
                log("Time [s];Gap [mm]\n")
            ),
            &[&["--run", "1"]],
        ),
        case("several-logs", archive(), &[&["--file", "b.csv"]]),
    ]
}

/// A zip archive of two logs and a text, as they are.
fn archive() -> Vec<u8> {
    let mut archive = rawzip::ZipArchiveWriter::new(Vec::new());
    let log = |greatest: &str| format!("time_s;force_N\n0.000;1.5\n0.001;{greatest}\n0.002;2.5\n");
    for (name, text) in [
        ("a.csv", log("380.5")),
        ("b.csv", log("412.5")),
        ("read-me.txt", "Two hits.\n".to_owned()),
    ] {
        let stored = rawzip::CompressionMethod::STORE;
        let new = archive.new_file(name).compression_method(stored);
        let (mut entry, config) = new.start().unwrap();
        let mut counted = config.wrap(std::io::sink());
        counted.write_all(text.as_bytes()).unwrap();
        let (_, descriptor) = counted.finish().unwrap();
        entry.write_all(text.as_bytes()).unwrap();
        entry.finish(descriptor).unwrap();
    }
    archive.finish().unwrap()
}

#[test]
fn every_log_of_an_archive_is_measured() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("hits.zip"), archive()).unwrap();
    let ran = relent(folder.path(), &["measure", "hits.zip", "--json"]);
    let lines: Vec<Value> = ran
        .out
        .lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect();
    let files: Vec<&str> = lines
        .iter()
        .map(|line| line["file"].as_str().unwrap())
        .collect();
    assert_eq!(
        (ran.status, files),
        (0, vec!["hits.zip/a.csv", "hits.zip/b.csv"])
    );
    let ran = relent(
        folder.path(),
        &["measure", "hits.zip", "--json", "--file", "b.csv"],
    );
    assert_eq!((ran.status, ran.out.lines().count()), (0, 1));
    let ran = relent(folder.path(), &["read", "hits.zip", "--file", "c.csv"]);
    assert!(
        ran.status == 2 && ran.err.contains("expected `c.csv` among them"),
        "{}",
        ran.err
    );
}

/// The questions about a log: code and suggested answer of each.
fn asked(options: &[&str], log: &[u8]) -> (i32, Vec<(String, String)>, String) {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("hit.csv"), log).unwrap();
    fs::write(folder.path().join("recipe.toml"), RECIPE).unwrap();
    let ran = relent(
        folder.path(),
        &[&["read", "hit.csv", "--json"], options].concat(),
    );
    let document: Value = serde_json::from_str(&ran.out).unwrap_or_default();
    let questions = document["questions"]
        .as_array()
        .cloned()
        .unwrap_or_default();
    let text = |question: &Value, key: &str| question[key].as_str().unwrap().to_owned();
    let questions = questions
        .iter()
        .map(|question| (text(question, "code"), text(question, "answer_with")))
        .collect();
    (ran.status, questions, ran.err)
}

#[test]
fn every_question_is_answered_by_what_it_suggests() {
    let mut report = String::from(
        "# Questions about logs and their answers\n\n\
        Each question of `relent read`, put by a log made to leave that doubt alone or first, and what became of the log when it was answered\n\
        as the question suggests. Written by `RELENT_BLESS=1 cargo test --test cli questions`; the test fails when this file is stale.\n\n\
        | question | suggested answer | tried | then |\n|---|---|---|---|\n",
    );
    let mut tried = BTreeSet::new();
    let cases = [columns(), cells(), rows_and_runs()].into_iter().flatten();
    for case in cases {
        let given: &[&str] = match case.doubt {
            "unit-contradicted" => &["--recipe", "recipe.toml"],
            _ => &[],
        };
        let (status, questions, err) = asked(given, &case.log);
        let suggested = questions.iter().find(|(code, _)| code == case.doubt);
        let Some((_, suggested)) = suggested.filter(|_| status == 3) else {
            panic!("{} is not asked: {status} {questions:?} {err}", case.doubt);
        };
        tried.insert(case.doubt);
        for answer in case.answers {
            assert!(suggested.contains(answer[0]), "{}: {suggested}", case.doubt);
            let (status, left, err) = asked(&[given, answer].concat(), &case.log);
            let answered = left.iter().all(|(code, _)| code != case.doubt);
            assert!(
                answered && (status == 0 && left.is_empty() || status == 3),
                "{} {answer:?}: {status} {left:?} {err}",
                case.doubt
            );
            let next: Vec<&str> = left.iter().map(|(code, _)| code.as_str()).collect();
            let then = match next.as_slice() {
                [] => "read".to_owned(),
                next => format!("asks {}", next.join(", ")),
            };
            let cells = [case.doubt, suggested, &answer.join(" "), &then];
            let cells = cells.map(|cell| cell.replace('|', "\\|"));
            writeln!(report, "| {} |", cells.join(" | ")).unwrap();
        }
    }
    let all: BTreeSet<&str> = Doubt::VARIANTS.iter().copied().collect();
    assert_eq!(tried, all);
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/reports/questions.md");
    if std::env::var_os("RELENT_BLESS").is_some() {
        fs::write(path, &report).unwrap();
    }
    assert!(
        fs::read_to_string(path).is_ok_and(|kept| kept == report),
        "reports/questions.md is stale: run RELENT_BLESS=1 cargo test --test cli questions"
    );
}
