//! Logs in other forms than a table in rising order of its instants: the right answer first, then the reader.

use std::fmt::Write as _;

use relent::ingest::Ask::{DecimalMark, ForceColumn, Run, SamplingRate};
use relent::ingest::{Answers, ChosenRun, Kind, Outcome, read};

use crate::ingest_case::{Case, asks, judge, reads, refused};

/// Rows of a hit of 412.5 N on the row 10 of 40.
fn rows(row: impl Fn(usize, f64) -> String) -> String {
    (0..40).fold(String::new(), |mut text, at| {
        let force = if at == 10 { 412.5 } else { at as f64 / 10.0 };
        writeln!(text, "{}", row(at, force)).unwrap();
        text
    })
}

fn log(heads: &str, row: impl Fn(usize, f64) -> String) -> String {
    format!("{heads}\n{}", rows(row))
}

fn comma(number: f64) -> String {
    number.to_string().replace('.', ",")
}

fn clocks() -> Vec<Case> {
    let falling = log("time_s;force_N", |at, _| {
        let force = if at == 29 { 412.5 } else { 1.5 };
        format!("{:.3};{force}", (40 - at) as f64 / 1e3)
    });
    // Half of the rows before the change of the hour, half of them after it.
    let stamps = |before: &'static str, after: &'static str| {
        log("timestamp;force_N", move |at, force| match at {
            0..20 => format!(
                "{};{force}",
                before.replace("SS", &format!("59.{:02}", 80 + at))
            ),
            _ => format!(
                "{};{force}",
                after.replace("SS", &format!("00.{:02}", at - 20))
            ),
        })
    };
    vec![
        reads("the newest row first", falling, 40, 412.5)
            .at(0.01)
            .rate(1000.0)
            .notice("clock"),
        reads(
            "the newest row first, in stamps",
            log("time;force_N", |at, f| {
                format!("10:15:{:06.3};{f}", 10.0 - at as f64 / 100.0)
            }),
            40,
            412.5,
        )
        .at(0.29)
        .notice("clock"),
        reads(
            "an hour is left out where summer begins",
            stamps("2025-03-30T01:59:SS+01:00", "2025-03-30T03:00:SS+02:00"),
            40,
            412.5,
        )
        .rate(100.0),
        reads(
            "an hour comes twice where summer ends",
            stamps("2025-10-26 02:59:SS CEST", "2025-10-26 02:00:SS CET"),
            40,
            412.5,
        )
        .rate(100.0),
        reads(
            "seconds and milliseconds in two columns",
            log("Time;ms;Force [N]", |at, f| {
                format!("10:15:{:02};{};{f}", 2 + at / 20, at % 20 * 50)
            }),
            40,
            412.5,
        )
        .at(0.5)
        .rate(20.0)
        .notice("clock"),
        reads(
            "whole seconds and milliseconds",
            log("Time [s];Millis [ms];Force [N]", |at, f| {
                format!("{};{};{f}", at / 20, at % 20 * 50)
            }),
            40,
            412.5,
        )
        .at(0.5)
        .rate(20.0),
        reads(
            "milliseconds of their own beside the time of day",
            log("Time;Elapsed [ms];Force [N]", |at, f| {
                format!("10:15:{:02};{};{f}", 2 + at / 20, at * 50)
            }),
            40,
            412.5,
        )
        .at(0.5)
        .rate(20.0),
        reads(
            "a rate that the clock rounds",
            log("Time [ms];Force [N]", |at, f| {
                format!("{};{f}", at * 125 / 10)
            }),
            40,
            412.5,
        )
        .rate(80.08),
    ]
}

fn marks() -> Vec<Case> {
    vec![
        reads(
            "a clock with a point beside a force with a comma",
            log("t [s];F [N]", |at, f| {
                format!("0.{at:03}5;{}", comma(f + 0.25))
            }),
            40,
            412.75,
        )
        .notice("unit"),
        asks(
            "a clock of three decimals beside a force with a comma",
            log("t [s];F [N]", |at, f| {
                format!("1.{at:03};{}", comma(f + 0.25))
            }),
            &[DecimalMark],
        ),
        reads(
            "the same, the mark of the force said",
            log("t [s];F [N]", |at, f| {
                format!("1.{at:03};{}", comma(f + 0.25))
            }),
            40,
            412.75,
        )
        .rate(1000.0)
        .said(|a| a.decimal_mark = Some(',')),
        reads(
            "the same, the mark of the time said",
            log("t [s];F [N]", |at, f| {
                format!("1.{at:03};{}", comma(f + 0.25))
            }),
            40,
            412.75,
        )
        .rate(1000.0)
        .said(|a| a.time_decimal_mark = Some('.')),
        asks(
            "a force of three decimals beside a clock with a point",
            log("t [s];F [N]", |at, _| {
                format!("0.{at:03}5;1,{:03}", at + 100)
            }),
            &[DecimalMark],
        ),
        reads(
            "the same, answered",
            log("t [s];F [N]", |at, _| {
                format!("0.{at:03}5;1,{:03}", at + 100)
            }),
            40,
            1.139,
        )
        .said(|a| a.decimal_mark = Some(',')),
    ]
}

fn spoken() -> Vec<Case> {
    vec![
        asks(
            "a label in front of every force",
            rows(|_, f| format!("Load: {f} N")),
            &[SamplingRate],
        ),
        reads(
            "the same with the rate",
            rows(|_, f| format!("Load: {f} N")),
            40,
            412.5,
        )
        .said(|a| a.rate = Some(relent::quantity::Hertz(80.0))),
        reads(
            "labels in front of both",
            rows(|at, f| format!("Time: {:.3} s, Force: {f} N", at as f64 / 1e3)),
            40,
            412.5,
        )
        .rate(1000.0)
        .notice("encoding"),
        reads(
            "labels parted by blanks",
            rows(|at, f| format!("time={}ms force={f}N", at * 10)),
            40,
            412.5,
        )
        .rate(100.0),
        asks(
            "letters for labels",
            rows(|at, f| format!("t={:.3}\tF={f}", at as f64 / 1e3)),
            &[ForceColumn],
        ),
        reads(
            "a clock stamp of the terminal in front",
            rows(|at, f| format!("10:15:{:06.3} -> Load: {f} N", at as f64 / 100.0)),
            40,
            412.5,
        )
        .rate(100.0),
        reads(
            "lines of another kind between them",
            rows(|at, f| match at {
                5 => "Sensor ready".to_owned(),
                _ => format!("Time: {at} ms, Force: {f} N"),
            }),
            39,
            412.5,
        ),
    ]
}

fn json() -> Vec<Case> {
    let object = |at: usize, f: f64| {
        format!(
            "{{\"time_s\":{},\"force_N\":{f},\"state\":\"ok\"}}",
            at as f64 / 1e3
        )
    };
    vec![
        reads("an object a line", rows(object), 40, 412.5).rate(1000.0),
        reads(
            "the last object torn off",
            rows(object).trim_end().trim_end_matches('}'),
            39,
            412.5,
        ),
        reads(
            "an array of objects",
            format!("[{}]", rows(object).trim().replace('\n', ",\n")),
            40,
            412.5,
        )
        .rate(1000.0),
        reads(
            "a member that is missing",
            rows(|at, f| match at {
                7 => "{\"time_s\":0.007}".to_owned(),
                _ => object(at, f),
            }),
            40,
            412.5,
        )
        .missing(1),
        refused(
            "objects inside objects",
            rows(|at, f| format!("{{\"at\":{at},\"load\":{{\"N\":{f}}}}}")),
            "JSON",
        ),
    ]
}

fn scripts() -> Vec<Case> {
    let other = |zero: u32, mark: char| {
        let digit = |letter: char| match letter.to_digit(10) {
            Some(digit) => char::from_u32(zero + digit).unwrap(),
            None if letter == '.' => mark,
            None => letter,
        };
        let body = rows(|at, f| format!("{:.3};{f:.1}", at as f64 / 1e3));
        format!(
            "time_s;force_N\n{}",
            body.chars().map(digit).collect::<String>()
        )
    };
    vec![
        reads("Arabic digits", other(0x660, '٫'), 40, 412.5).notice("encoding"),
        reads("Persian digits", other(0x6f0, '٫'), 40, 412.5).rate(1000.0),
        reads("Devanagari digits", other(0x966, '.'), 40, 412.5).rate(1000.0),
        reads("full-width digits", other(0xff10, '．'), 40, 412.5).rate(1000.0),
    ]
}

fn runs() -> Vec<Case> {
    let two = |mark: &str| {
        let later = rows(|at, f| format!("{:.3};{f}", (at + 40) as f64 / 1e3));
        format!(
            "time_s;force_N\nPoint;1\n{}{mark}\n{later}",
            rows(|at, f| format!("{:.3};{f}", at as f64 / 1e3))
        )
    };
    vec![
        asks("a label with another number while the clock goes on", two("Point;2"), &[Run]),
        reads("the same, the first run", two("Point;2"), 40, 412.5).said(|a| a.run = Some(1.into())),
        reads("the same, all rows", two("Point;2"), 80, 412.5).said(|a| a.run = Some(ChosenRun::ALL)),
        refused("all rows where the clock runs back", format!("{}{}", log("time_s;force_N", |at, f| format!("{at};{f}")), rows(|at, f| format!("{at};{f}"))), "runs back").said(|a| a.run = Some(ChosenRun::ALL)),
        reads("heads again in another unit while the clock goes on", log("time_s;force_N", |at, f| match at { 20 => "time_s;force_kN\n0.020;0.002".to_owned(), 21.. => format!("0.{at:03};{}", f / 1e3), _ => format!("0.{at:03};{f}") }), 40, 412.5).notice("unit"),
        reads("rows that begin with an empty cell", format!("X_Columns\tNo\nSampling rate\t500 Hz\nSamples\t40\t40\t\nDelta_X\t2.0E-3\t2.0E-3\t\nX_Value\tForce [N]\tPosition [mm]\tComment\n{}", rows(|at, f| format!("\t{f}\t{at}\t"))), 40, 412.5).rate(500.0),
    ]
}

fn declared_counts() -> Vec<Case> {
    let declaring = |rows_declared: usize| {
        log(
            &format!("Samples: {rows_declared}\nTime [s];Force [N]"),
            |at, f| format!("0.{at:03};{f}"),
        )
    };
    vec![
        reads("as many rows as declared", declaring(40), 40, 412.5),
        reads("fewer rows than declared", declaring(1000), 40, 412.5).notice("count"),
        reads("more rows than declared", declaring(30), 40, 412.5).notice("count"),
    ]
}

fn foreign() -> Vec<Case> {
    vec![
        refused("a TDMS file", "TDSm\u{e}rest", "TDMS"),
        refused("a MAT file", "MATLAB 5.0 MAT-file, Platform", "MAT file"),
        refused("an MDF file", "MDF     4.10    ", "MDF"),
        refused("an HDF5 file", b"\x89HDF\r\n\x1a\nrest".to_vec(), "HDF5"),
        refused(
            "a binary workbook",
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1rest".to_vec(),
            "(.xls)",
        ),
    ]
}

#[test]
fn fewer_rows_than_declared_are_told_and_blocks_of_them_are_not() {
    judge(&declared_counts(), 3);
    let blocks = log("Samples: 10\nTime [s];Force [N]", |at, f| {
        format!("0.{at:03};{f}")
    });
    let reading = read(blocks.as_bytes(), &Answers::default()).unwrap();
    assert!(
        reading
            .notices
            .iter()
            .all(|notice| notice.kind != Kind::Count)
    );
}

#[test]
fn files_to_export_from_are_refused_by_their_form() {
    judge(&foreign(), 5);
}

#[test]
fn a_clock_that_jumps_at_every_row_is_told_in_few_words() {
    let text = log("time_s;force_N", |at, f| {
        format!("{};{f}", [5, 1, 9, 3][at % 4])
    })
    .repeat(200);
    let reading = read(text.as_bytes(), &Answers::default()).unwrap();
    let Outcome::Asks(questions) = reading.outcome else {
        panic!("read")
    };
    assert!(questions.iter().any(|question| question.ask == Run));
    assert!(reading.runs.len() <= 100);
}

#[test]
fn clocks_that_fall_or_stand_in_two_columns_are_put_in_order() {
    judge(&clocks(), 8);
}

#[test]
fn each_column_keeps_its_own_decimal_mark() {
    judge(&marks(), 6);
}

#[test]
fn values_with_labels_are_read_as_a_table() {
    judge(&spoken(), 7);
}

#[test]
fn objects_are_read_as_rows() {
    judge(&json(), 5);
}

#[test]
fn digits_of_other_scripts_are_read() {
    judge(&scripts(), 4);
}

#[test]
fn rows_are_one_run_only_where_it_is_sure_or_said() {
    judge(&runs(), 6);
}
