//! Logs with one kind of trouble in their layout each: preambles, heads, units, clocks, runs, columns, answers, containers.
//! The right answer was decided before the reader was run on them.

use std::io::Write as _;

use rawzip::CompressionMethod;
use relent::ingest::Ask::{File, ForceColumn, ForceUnit, Run, SamplingRate, TimeColumn, TimeUnit};
use relent::ingest::{Answers, Noticed};
use relent::quantity::{ForceUnit as Unit, Hertz, TimeUnit as Time};
use serde_json::json;

use crate::ingest_case::{Case, asks, error, judge, reads, record, refused};

/// Rows of a hit: `n` rows, `dt` s apart, with `peak` N at the third.
fn hit(start: f64, dt: f64, peak: f64, n: usize, join: &str) -> String {
    (0..n)
        .map(|i| {
            let force = if i == 2 {
                peak
            } else {
                1.0 + (i % 3) as f64 / 2.0
            };
            format!("{:.4}{join}{force:.1}\n", start + dt * i as f64)
        })
        .collect()
}

fn preambles() -> Vec<Case> {
    let bare = "1.5\n2.5\n380.5\n2.0\n";
    vec![
        reads("a word in a bare column keeps its place in time", "Rate: 100 Hz\nForce [N]\n1.5\noverload\n2.5\n380.5\n2.5\n", 5, 380.5).missing(1).at(0.03),
        reads("a footer under a position and a clock", "Position_mm;time_s;force_N\n500.0;0.000;1.5\n499.9;0.001;380.5\n499.8;0.002;2.5\nMax;412\n", 3, 380.5).notice("footer"),
        reads("a footer under a position and no clock", "Rate: 100 Hz\nPosition_mm;force_N\n500.0;1.5\n499.9;380.5\n499.8;2.5\nMax;412\n", 3, 380.5).notice("footer"),
        reads("bad cells beside a status and no clock", "Sampling rate: 100 Hz\nForce [N]  Status\n1.5  OK\nNaN  OK\n380.5  OK\noverload  OK\n2.5  OK\n", 5, 380.5).missing(2).at(0.02),
        reads(
            "a rate with a colon",
            format!("Device: bench 4\nSampling rate: 500 Hz\n\nForce [N]\n{bare}"),
            4,
            380.5,
        )
        .rate(500.0)
        .at(0.004),
        reads(
            "a rate in a cell of its own",
            format!("Abtastrate;1000;Hz\nGerät;Prüfstand\nKraft [N]\n{bare}"),
            4,
            380.5,
        )
        .rate(1000.0),
        reads(
            "a rate in kilohertz",
            format!("# Sample frequency = 2 kHz\n# force in newtons\nForce [N]\n{bare}"),
            4,
            380.5,
        )
        .rate(2000.0),
        reads(
            "a step in milliseconds",
            format!("Sampling interval: 2 ms\nForce [N]\n{bare}"),
            4,
            380.5,
        )
        .rate(500.0),
        reads(
            "dt = …",
            format!("dt = 0.002 s\nForce [N]\n{bare}"),
            4,
            380.5,
        )
        .rate(500.0),
        asks(
            "a baud rate is no sampling rate",
            format!("Baud rate: 9600\nForce [N]\n{bare}"),
            &[SamplingRate],
        ),
        asks(
            "a filter frequency is no sampling rate",
            format!("Filter frequency: 50 Hz\nForce [N]\n{bare}"),
            &[SamplingRate],
        ),
        asks(
            "a rate with a mark in doubt",
            format!("Sampling rate: 1.000 Hz\nForce [N]\n{bare}"),
            &[SamplingRate],
        ),
        asks(
            "two rates",
            format!("Sampling rate: 1000 Hz\nSampling rate: 500 Hz\nForce [N]\n{bare}"),
            &[SamplingRate],
        ),
        reads(
            "the unit in the preamble",
            format!("Unit: kN\nSampling rate: 500 Hz\nForce\n{bare}"),
            4,
            380_500.0,
        )
        .notice("unit"),
        reads(
            "a count that agrees",
            format!("Samples: 4\nRate: 100 Hz\nForce [N]\n{bare}"),
            4,
            380.5,
        )
        .rate(100.0),
        reads(
            "a count that differs",
            format!("Samples: 400\nRate: 100 Hz\nForce [N]\n{bare}"),
            4,
            380.5,
        )
        .notice("count"),
        reads(
            "three hundred lines before the heads",
            format!(
                "{}time_s,force_N\n{}",
                (0..300)
                    .map(|i| format!("note {i}: nothing to see\n"))
                    .collect::<String>(),
                hit(0.0, 0.001, 380.5, 40, ",")
            ),
            40,
            380.5,
        )
        .at(0.002),
        reads(
            "a preamble with numbers and the same delimiter",
            format!(
                "Operator;7\nGap;500\nTemperature;20.5\nTime [s];Force [N]\n{}",
                hit(0.0, 0.001, 380.5, 40, ";")
            ),
            40,
            380.5,
        ),
        reads(
            "a preamble padded to the width of the table",
            format!(
                "Report,,\nversion=1,,\nendheader,,\ntime_s,force_N,temp\n{}",
                hit(0.0, 0.001, 380.5, 40, ",").replace('\n', ",20\n")
            ),
            40,
            380.5,
        ),
        reads(
            "a footer with a summary",
            format!(
                "time_s;force_N\n{}\nMax;380.5\nMean;12.5\n",
                hit(0.0, 0.001, 380.5, 40, ";")
            ),
            40,
            380.5,
        )
        .notice("footer"),
        reads(
            "remarks between rows",
            format!(
                "time_s,force_N\n{}# leaf touched\n{}",
                hit(0.0, 0.001, 380.5, 20, ","),
                hit(0.02, 0.001, 1.0, 20, ",")
            ),
            40,
            380.5,
        )
        .notice("remark"),
        reads(
            "text between rows",
            format!(
                "time_s,force_N\n{}leaf touched\n{}",
                hit(0.0, 0.001, 380.5, 20, ","),
                hit(0.02, 0.001, 1.0, 20, ",")
            ),
            40,
            380.5,
        )
        .notice("remark"),
        refused(
            "a web page",
            "<!DOCTYPE html>\n<html><body>\n<p>404 not found</p>\n</body></html>\n",
            "a page or a drawing",
        ),
    ]
}

fn heads() -> Vec<Case> {
    let rows = "0.000;1.5\n0.001;380.5\n0.002;2.0\n";
    let mut cases: Vec<Case> = vec![
        ("Kraft [N]", 380.5),
        ("KRAFT [n]", 380.5),
        ("Force (N)", 380.5),
        ("Force/N", 380.5),
        ("Force in N", 380.5),
        ("Force, N", 380.5),
        ("force_n", 380.5),
        ("ForceN", 380.5),
        ("Load [NEWTON]", 380.5),
        ("Last [kN]", 380_500.0),
        ("Last [KN]", 380_500.0),
        ("GRF [N]", 380.5),
        ("Effort (daN)", 3805.0),
        ("Fuerza (kgf)", 380.5 * 9.806_65),
        ("Forza [kp]", 380.5 * 9.806_65),
        ("Load [lbf]", 380.5 * 4.448_221_615_260_5),
        ("Load [LBF]", 380.5 * 4.448_221_615_260_5),
        ("Load [ozf]", 380.5 * 4.448_221_615_260_5 / 16.0),
        ("F [N]", 380.5),
        ("N", 380.5),
        ("Channel 1 [mN]", 0.3805),
    ]
    .into_iter()
    .map(|(head, max)| reads(head, format!("Time [s];{head}\n{rows}"), 3, max).at(0.001))
    .collect();
    for (head, asked) in [
        ("Force", &[ForceUnit] as &'static [_]),
        ("F", &[ForceColumn]),
        ("Force [MN]", &[ForceUnit]),
        ("Force [g]", &[ForceUnit]),
        ("Force [x10 N]", &[ForceUnit]),
        ("Force [V]", &[ForceColumn]),
        ("Force [mV/V]", &[ForceColumn]),
        ("Torque [Nm]", &[ForceColumn]),
        ("Mass [kg]", &[ForceColumn]),
        ("Force limit [N]", &[ForceColumn]),
        ("Channel 1", &[ForceColumn]),
        ("Pressure [N/mm²]", &[ForceColumn]),
        ("Spring rate [N/mm]", &[ForceColumn]),
    ] {
        cases.push(asks(head, format!("Time [s];{head}\n{rows}"), asked));
    }
    let two = "0.000;1.5;7\n0.001;380.5;8\n0.002;2.0;9\n";
    cases.extend([
        asks("two force columns", format!("Time [s];Force left [N];Force right [N]\n{two}"), &[ForceColumn]),
        asks("two force columns of one name", format!("Time [s];Force [N];Force [N]\n{two}"), &[ForceColumn]),
        asks("a force with its unit and one without", format!("Time [s];Force [N];Load\n{two}"), &[ForceColumn]),
        reads("a force beside volts", format!("Time [s];Force [N];Force raw [V]\n{two}"), 3, 380.5),
        reads("a force beside its set value", format!("Time [s];Force [N];Force setpoint [N]\n{two}"), 3, 380.5),
        reads("a force beside a torque", format!("Time [s];Force [N];Torque [Nm]\n{two}"), 3, 380.5),
        reads("force before time", "Force [N];Time [s]\n1.5;0.000\n380.5;0.001\n2.0;0.002\n", 3, 380.5).at(0.001),
        reads("units in a row of their own, in brackets", format!("Zeit;Kraft\n[ms];[kN]\n{rows}"), 3, 380_500.0).at(1e-6),
        reads("units in a row above the names", format!("s;N\nZeit;Kraft\n{rows}"), 3, 380.5),
        reads("a row of units alone", format!("ms;N\n{rows}"), 3, 380.5).at(1e-6),
        reads("names, numbers of the sensors, units", format!("Zeit;Kraft\nA 17;B 18\ns;N\n{rows}"), 3, 380.5),
        asks("names under a row of groups", "Gauge 1;;Gauge 2;\nTime [s];Force [N];Time [s];Force [N]\n0.000;1.5;0.000;7\n0.001;380.5;0.001;8\n", &[ForceColumn]),
        reads("names under a row of groups, answered", "Gauge 1;;Gauge 2;\nTime [s];Force [N];Time [s];Force [N]\n0.000;1.5;0.000;7\n0.002;380.5;0.001;8\n", 2, 8.0)
            .said(|a| { a.force = Some("4".into()); a.time = Some("3".into()); }).at(0.001),
        asks("more columns than heads", "Time [s];Force [N]\n0.000;1.5;7\n0.001;380.5;8\n0.002;2.0;9\n", &[ForceColumn]),
        asks("more heads than columns", "Time [s];Force;left [N]\n0.000;1.5\n0.001;380.5\n", &[ForceColumn]),
        reads("heads in a remark", format!("# Time [s];Force [N]\n{rows}"), 3, 380.5),
        reads("Spanish heads", format!("Tiempo (s);Fuerza (N)\n{rows}"), 3, 380.5),
        reads("kilograms are told", format!("Time [s];Load [kg]\n{rows}"), 3, 380.5 * 9.806_65).notice("unit"),
        reads("pounds are told", format!("Time [s];Load [lbs]\n{rows}"), 3, 380.5 * 4.448_221_615_260_5).notice("unit"),
        reads("a quality column", "Time [s];Force [N];Status\n0.000;1.5;OK\n0.001;380.5;OVERLOAD\n0.002;2.0;OK\n", 3, 380.5).notice("quality"),
    ]);
    cases
}

fn clocks() -> Vec<Case> {
    let of = |stamps: [&str; 4]| {
        let forces = ["1.5", "2.5", "380.5", "2.0"];
        let rows: String = stamps
            .iter()
            .zip(forces)
            .map(|(stamp, force)| format!("{stamp};{force}\n"))
            .collect();
        format!("time;force_N\n{rows}")
    };
    let ticks = |ticks: [i64; 6], head: &str| {
        let forces = ["1.5", "2.5", "380.5", "2.0", "1.0", "1.5"];
        let rows: String = ticks
            .iter()
            .zip(forces)
            .map(|(tick, force)| format!("{tick};{force}\n"))
            .collect();
        format!("{head};force_N\n{rows}")
    };
    vec![
        reads("ISO stamps", of(["2024-03-01T10:15:02.480Z", "2024-03-01T10:15:02.490Z", "2024-03-01T10:15:02.500Z", "2024-03-01T10:15:02.510Z"]), 4, 380.5).rate(100.0).at(0.02),
        reads("German stamps", of(["01.03.2024 10:15:02,480", "01.03.2024 10:15:02,490", "01.03.2024 10:15:02,500", "01.03.2024 10:15:02,510"]), 4, 380.5).rate(100.0).at(0.02),
        reads("stamps with PM", of(["3/1/2024 11:59:59.98 AM", "3/1/2024 11:59:59.99 AM", "3/1/2024 12:00:00.00 PM", "3/1/2024 12:00:00.01 PM"]), 4, 380.5).rate(100.0).at(0.02),
        reads("stamps over midnight without a date", of(["23:59:59.980", "23:59:59.990", "00:00:00.000", "00:00:00.010"]), 4, 380.5).rate(100.0).at(0.02).notice("wrap"),
        reads("stamps over the end of a month", of(["2024-02-29 23:59:59.98", "2024-02-29 23:59:59.99", "2024-03-01 00:00:00.00", "2024-03-01 00:00:00.01"]), 4, 380.5).rate(100.0).at(0.02),
        reads("milliseconds after a colon", of(["10:15:02:480", "10:15:02:490", "10:15:02:500", "10:15:02:510"]), 4, 380.5).rate(100.0),
        reads("minutes and seconds", of(["15:02.480", "15:02.490", "15:02.500", "15:02.510"]), 4, 380.5).rate(100.0),
        reads("date and time in two columns", "Date;Time;Force [N]\n01.03.2024;10:15:02,480;1,5\n01.03.2024;10:15:02,490;380,5\n01.03.2024;10:15:02,500;2,0\n", 3, 380.5).rate(100.0),
        reads("seconds since 1970", "epoch_s,force_N\n1709284502.480,1.5\n1709284502.490,2.5\n1709284502.500,380.5\n1709284502.510,2.0\n", 4, 380.5).rate(100.0).at(0.02),
        reads("milliseconds since 1970", "timestamp_ms,force_N\n1709284502480,1.5\n1709284502490,2.5\n1709284502500,380.5\n", 3, 380.5).rate(100.0).at(0.02),
        asks("microseconds since 1970 without a unit", "timestamp,force_N\n1709284502480000,1.5\n1709284502481000,2.5\n1709284502482000,380.5\n", &[TimeUnit]),
        asks("whole seconds, many rows in each", format!("time;force_N\n{}", (0..60).map(|i| format!("10:15:{:02};{}\n", 2 + i / 20, i % 7)).collect::<String>()), &[SamplingRate]),
        reads("the same, answered", format!("time;force_N\n{}", (0..60).map(|i| format!("10:15:{:02};{}\n", 2 + i / 20, i % 7)).collect::<String>()), 60, 6.0).said(|a| a.rate = Some(Hertz(20.0))).rate(20.0).at(0.3),
        refused("the same, answered against the stamps", format!("time;force_N\n{}", (0..60).map(|i| format!("10:15:{:02};{}\n", 2 + i / 20, i % 7)).collect::<String>()), "does not agree").said(|a| a.rate = Some(Hertz(1000.0))),
        reads("a counter of 16 bits wraps", ticks([65_500, 65_510, 65_520, 65_530, 4, 14], "time_ms"), 6, 380.5).rate(100.0).notice("wrap"),
        reads("a signed counter of 16 bits wraps", ticks([32_740, 32_750, 32_760, -32_766, -32_756, -32_746], "time_ms"), 6, 380.5).rate(100.0).notice("wrap"),
        reads("a counter of 32 bits wraps", ticks([4_294_966_000, 4_294_966_500, 4_294_967_000, 204, 704, 1204], "time_us"), 6, 380.5).rate(2000.0).notice("wrap"),
        asks("a clock that only looks like a wrap", ticks([500, 510, 520, 530, 4, 14], "time_ms"), &[Run]),
        reads("minutes", "time [min];force [N]\n0.000;1.5\n0.001;380.5\n0.002;2.0\n", 3, 380.5).at(0.06),
        reads("microseconds", "time [µs];force [N]\n0;1.5\n1000;380.5\n2000;2.0\n", 3, 380.5).at(0.001),
        reads("microseconds spelt with u", "time [us];force [N]\n0;1.5\n1000;380.5\n2000;2.0\n", 3, 380.5).at(0.001),
        reads("seconds without a unit, seen by their step", "Zeit;Kraft [N]\n0,000;1,5\n0,001;380,5\n0,002;2,0\n", 3, 380.5).at(0.001).notice("unit"),
        asks("whole numbers without a unit", "time,force [N]\n0,1.5\n1,380.5\n2,2.0\n", &[TimeUnit]),
        asks("tenths without a unit", "time,force [N]\n0.0,1.5\n0.1,380.5\n0.2,2.0\n", &[TimeUnit]),
        reads("whole numbers and a declared rate", "Sampling rate: 1000 Hz\ntime,force [N]\n0,1.5\n1,380.5\n2,2.0\n", 3, 380.5).at(0.001),
        asks("two clocks", "time [s];time [ms];force [N]\n0.000;0;1.5\n0.001;1;380.5\n", &[TimeColumn]),
        reads("a count of samples with a gap", "sample;force [N]\n1;1.5\n2;2.5\n3;1.5\n7;380.5\n8;2.0\n", 5, 380.5).said(|a| a.rate = Some(Hertz(1000.0))).at(0.006).notice("clock-gap"),
        reads("a repeated instant", "time_s,force_N\n0.000,1.5\n0.001,2.5\n0.001,380.5\n0.002,2.0\n0.003,2.0\n", 5, 380.5).notice("repeated-instant"),
        reads("a gap in the clock", format!("time_s,force_N\n{}{}", hit(0.0, 0.001, 380.5, 20, ","), hit(0.5, 0.001, 1.0, 20, ",")), 40, 380.5).notice("clock-gap"),
        reads("an instant that is no number", "time_s,force_N\n0.000,1.5\n0.0x1,9.5\n0.002,380.5\n0.003,1.0\n", 3, 380.5).notice("cell"),
        reads("an empty instant", "time_s,force_N\n0.000,1.5\n,9.5\n0.002,380.5\n0.003,1.0\n", 3, 380.5).notice("cell"),
    ]
}

fn runs() -> Vec<Case> {
    let one = hit(0.0, 0.001, 380.5, 30, ",");
    let two = hit(0.0, 0.001, 210.5, 20, ",");
    let both = format!("time_s,force_N\n{one}time_s,force_N\n{two}");
    let going_on = format!(
        "time_s,force_N\n{one}time_s,force_N\n{}",
        hit(0.03, 0.001, 1.0, 20, ",")
    );
    vec![
        asks(
            "another table after the first",
            format!("time_s,force_N\n{one}force_N,time_s\n5.0,0.0\n900.0,0.001\n"),
            &[Run],
        ),
        reads(
            "another table after the first, answered",
            format!("time_s,force_N\n{one}force_N,time_s\n5.0,0.0\n900.0,0.001\n"),
            30,
            380.5,
        )
        .said(|a| a.run = Some(1.into())),
        asks("two runs", format!("time_s,force_N\n{one}{two}"), &[Run]),
        asks("two runs with heads between", both.clone(), &[Run]),
        reads("two runs, the second asked for", both.clone(), 20, 210.5)
            .said(|a| a.run = Some(2.into()))
            .at(0.002),
        reads("two runs, the first asked for", both.clone(), 30, 380.5)
            .said(|a| a.run = Some(1.into())),
        refused("a third run of two", both, "no run 3").said(|a| a.run = Some(3.into())),
        reads("heads again while the clock goes on", going_on, 50, 380.5).notice("head"),
        asks(
            "heads again and a later clock",
            format!(
                "time_s,force_N\n{one}time_s,force_N\n{}",
                hit(9.0, 0.001, 210.5, 20, ",")
            ),
            &[Run],
        ),
        asks(
            "runs side by side",
            "t1 [s];F1 [N];t2 [s];F2 [N]\n0.000;1.5;0.000;7\n0.001;380.5;0.001;8\n",
            &[ForceColumn],
        ),
        reads(
            "runs side by side, the shorter one answered",
            "t1 [s];F1 [N];t2 [s];F2 [N]\n0.000;1.5;0.000;7\n0.001;380.5;0.001;8\n0.002;2.0;;\n",
            2,
            8.0,
        )
        .said(|a| {
            a.force = Some("F2 [N]".into());
            a.time = Some("t2 [s]".into());
        }),
        reads(
            "slow channels that end the row early",
            "time_s,force_N,temp\n0.000,1.5\n0.001,380.5,20.5\n0.002,2.0\n0.003,2.0\n",
            4,
            380.5,
        ),
        reads("one row", "time_s,force_N\n0.000,380.5\n", 1, 380.5),
        reads(
            "a spike of one sample is kept",
            format!("time_s,force_N\n{}", hit(0.0, 0.001, 1380.5, 40, ",")),
            40,
            1380.5,
        )
        .notice("outlier"),
        reads(
            "the number of a sensor below the heads is told as a sample far from the next ones",
            format!(
                "time_s;force_N\n0;88123\n{}",
                hit(0.001, 0.001, 380.5, 40, ";")
            ),
            41,
            88123.0,
        )
        .notice("outlier"),
        reads(
            "a greatest value below the rows is told as a sample far from those before",
            format!(
                "time_s;force_N\n{}0.040;380.5\n",
                hit(0.0, 0.001, 90.5, 40, ";")
            ),
            41,
            380.5,
        )
        .notice("outlier"),
        reads(
            "a channel that freezes",
            format!(
                "time_s,force_N\n{}{}",
                hit(0.0, 0.001, 380.5, 100, ","),
                (0..30)
                    .map(|i| format!("{:.3},55.5\n", 0.1 + f64::from(i) / 1000.0))
                    .collect::<String>()
            ),
            130,
            380.5,
        )
        .notice("frozen"),
        reads(
            "nothing but zeros",
            (0..40)
                .map(|i| format!("{:.3},0.0\n", f64::from(i) / 1000.0))
                .fold("time_s,force_N\n".to_owned(), |log, row| log + &row),
            40,
            0.0,
        )
        .notice("zero"),
        reads(
            "one force throughout",
            (0..40)
                .map(|i| format!("{:.3},5.0\n", f64::from(i) / 1000.0))
                .fold("time_s,force_N\n".to_owned(), |log, row| log + &row),
            40,
            5.0,
        )
        .notice("frozen"),
        refused(
            "no force in any row",
            "time_s,force_N\n0.000,\n0.001,\n0.002,\n",
            "no row",
        ),
    ]
}

fn answers() -> Vec<Case> {
    let log = "Time [s];Left [N];Right [N];Temp\n0.000;1.5;2.5;20\n0.001;380.5;100.5;20\n0.002;2.0;1.0;20\n";
    let force = |answer: &'static str| move |a: &mut Answers| a.force = Some(answer.into());
    vec![
        reads("a column by its head", log, 3, 380.5).said(force("Left [N]")),
        reads("a column by its name", log, 3, 380.5).said(force("Left")),
        reads("a column by its name in another case", log, 3, 380.5).said(force("LEFT")),
        reads("a column by its number", log, 3, 100.5).said(force("3")),
        reads("two columns added", log, 3, 481.0).said(force("Left+Right")),
        reads("two columns added by number", log, 3, 481.0).said(force("2+3")),
        refused(
            "a column that is not there",
            log,
            "expected one of 1 `Time [s]`, 2 `Left [N]`",
        )
        .said(force("Middle")),
        refused("a column number that is not there", log, "no column `9`").said(force("9")),
        refused("a column added to itself", log, "named twice").said(force("2+2")),
        refused("the clock as force", log, "named twice").said(|a| {
            a.force = Some("1".into());
            a.time = Some("1".into());
        }),
        refused("a rate that the clock contradicts", PLAIN, "does not agree")
            .said(|a| a.rate = Some(Hertz(500.0))),
        reads("a rate that the clock bears out", PLAIN, 3, 380.5)
            .said(|a| a.rate = Some(Hertz(1000.0)))
            .rate(1000.0),
        reads("a unit against the head's is told", PLAIN, 3, 380_500.0)
            .said(|a| a.force_unit = Some(Unit::Kilonewton))
            .notice("unit"),
        reads(
            "a push logged as negative, answered",
            "time_s,force_N\n0.000,-1.5\n0.001,-380.5\n0.002,-2.5\n",
            3,
            380.5,
        )
        .said(|a| a.sign = Some(relent::ingest::Sign::PushIsNegative))
        .min(1.5),
        reads(
            "two columns without heads, all answered",
            "0;1.5\n1;380.5\n2;2.0\n",
            3,
            380.5,
        )
        .said(|a| {
            a.force = Some("2".into());
            a.force_unit = Some(Unit::Newton);
            a.time = Some("1".into());
            a.time_unit = Some(Time::Millisecond);
        })
        .at(0.001),
    ]
}

const PLAIN: &str = "time_s,force_N\n0.000,1.5\n0.001,380.5\n0.002,12.5\n";

fn gzip(text: &[u8]) -> Vec<u8> {
    let mut packed = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::fast());
    packed.write_all(text).unwrap();
    packed.finish().unwrap()
}

fn deflated(text: &[u8]) -> Vec<u8> {
    let mut packed = flate2::write::DeflateEncoder::new(Vec::new(), flate2::Compression::fast());
    packed.write_all(text).unwrap();
    packed.finish().unwrap()
}

/// A zip archive of files, with what holds for one after it has been packed.
fn zip_by(method: CompressionMethod, files: &[(&str, &[u8])]) -> Vec<u8> {
    let mut archive = rawzip::ZipArchiveWriter::new(Vec::new());
    for (name, text) in files {
        let new = archive.new_file(name).compression_method(method);
        let (mut entry, config) = new.start().unwrap();
        let packed = match method {
            CompressionMethod::DEFLATE => deflated(text),
            _ => text.to_vec(),
        };
        let mut counted = config.wrap(std::io::sink());
        counted.write_all(text).unwrap();
        let (_, descriptor) = counted.finish().unwrap();
        entry.write_all(&packed).unwrap();
        entry.finish(descriptor).unwrap();
    }
    archive.finish().unwrap()
}

fn zip(files: &[(&str, &[u8])]) -> Vec<u8> {
    zip_by(CompressionMethod::DEFLATE, files)
}

/// `bytes` with the one place of `old` written over.
fn with(mut bytes: Vec<u8>, old: &[u8], new: &[u8]) -> Vec<u8> {
    let at = bytes.windows(old.len()).position(|it| it == old).unwrap();
    bytes[at..at + new.len()].copy_from_slice(new);
    bytes
}

fn containers() -> Vec<Case> {
    let plain = PLAIN.as_bytes();
    let packed = gzip(plain);
    vec![
        reads("gzip", packed.clone(), 3, 380.5).at(0.001),
        refused(
            "gzip, torn off",
            packed[..packed.len() - 12].to_vec(),
            "gzip",
        ),
        refused("gzip with nothing in it", gzip(b""), "empty"),
        refused(
            "gzip that unpacks to far too much",
            gzip(&vec![b'1'; 300 << 20]),
            "unpacks to more than",
        ),
        reads("zip with one log", zip(&[("log.csv", plain)]), 3, 380.5),
        reads(
            "zip with one log, stored in a folder",
            zip_by(
                CompressionMethod::STORE,
                &[("a/log.csv", plain), ("__MACOSX/a/._log.csv", b"\0")],
            ),
            3,
            380.5,
        ),
        refused(
            "zip whose log does not have the checksum it was packed with",
            with(
                zip_by(CompressionMethod::STORE, &[("log.csv", plain)]),
                b"380.5",
                b"280.5",
            ),
            "checksum",
        ),
        refused(
            "zip packed by a method of its own",
            zip_by(CompressionMethod::ZSTD, &[("log.csv", plain)]),
            "expected stored or deflated",
        ),
        asks(
            "zip with two logs",
            zip(&[("a.csv", plain), ("b.csv", plain)]),
            &[File],
        ),
        reads(
            "zip with a log and a readme",
            zip(&[
                ("readme.txt", b"How to read this\n"),
                ("log.csv", plain),
                (".DS_Store", b"\0"),
            ]),
            3,
            380.5,
        )
        .notice("archive"),
        refused(
            "zip with a readme alone",
            zip(&[("readme.txt", b"How to read this\n")]),
            "no rows of numbers",
        ),
        refused(
            "zip that is a workbook of the OpenDocument form",
            zip_by(
                CompressionMethod::STORE,
                &[
                    (
                        "mimetype",
                        b"application/vnd.oasis.opendocument.spreadsheet",
                    ),
                    ("content.xml", b"<x/>"),
                ],
            ),
            "(.ods)",
        ),
        refused("zip with nothing in it", zip(&[]), "0 files"),
        refused(
            "zip, torn off",
            zip(&[("log.csv", plain)])[..40].to_vec(),
            "zip archive",
        ),
        refused(
            "a line beyond all measure",
            vec![b'7'; 3 << 20],
            "bytes in one line",
        ),
        refused(
            "a line beyond all measure further down",
            format!("{PLAIN}0.003,{}\n", "7".repeat(3 << 20)),
            "bytes in one line",
        ),
        refused(
            "columns beyond all measure",
            "1,".repeat(200_000),
            "cells in one row",
        ),
    ]
}

/// A workbook with one sheet: heads as inline strings, rows of numbers, one of them empty.
fn workbook() -> Vec<u8> {
    let head = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>";
    let main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    let rels = "http://schemas.openxmlformats.org/package/2006/relationships";
    let office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    let text = |cell: &str, text: &str| {
        format!("<c r=\"{cell}\" t=\"inlineStr\"><is><t>{text}</t></is></c>")
    };
    let number = |cell: &str, value: &str| format!("<c r=\"{cell}\"><v>{value}</v></c>");
    let rows = format!(
        "<row r=\"1\">{}{}</row><row r=\"2\">{}{}</row><row r=\"3\">{}{}</row><row r=\"4\">{}</row>",
        text("A1", "Zeit [ms]"),
        text("B1", "Kraft [N]"),
        number("A2", "0"),
        number("B2", "1.5"),
        number("A3", "1"),
        number("B3", "380.5"),
        number("A4", "2"),
    );
    let files = [
        (
            "[Content_Types].xml",
            format!(
                "{head}<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"/>"
            ),
        ),
        (
            "_rels/.rels",
            format!(
                "{head}<Relationships xmlns=\"{rels}\"><Relationship Id=\"r1\" Type=\"{office}/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>"
            ),
        ),
        (
            "xl/workbook.xml",
            format!(
                "{head}<workbook xmlns=\"{main}\" xmlns:r=\"{office}\"><sheets><sheet name=\"Hit 1\" sheetId=\"1\" r:id=\"r1\"/></sheets></workbook>"
            ),
        ),
        (
            "xl/_rels/workbook.xml.rels",
            format!(
                "{head}<Relationships xmlns=\"{rels}\"><Relationship Id=\"r1\" Type=\"{office}/worksheet\" Target=\"worksheets/sheet1.xml\"/></Relationships>"
            ),
        ),
        (
            "xl/worksheets/sheet1.xml",
            format!("{head}<worksheet xmlns=\"{main}\"><sheetData>{rows}</sheetData></worksheet>"),
        ),
    ];
    let files: Vec<(&str, &[u8])> = files
        .iter()
        .map(|(name, text)| (*name, text.as_bytes()))
        .collect();
    zip(&files)
}

#[cfg(feature = "xlsx")]
#[test]
fn a_workbook_is_read_as_its_one_sheet() {
    judge(
        &[reads("workbook", workbook(), 3, 380.5).missing(1).at(0.001)],
        1,
    );
}

#[cfg(not(feature = "xlsx"))]
#[test]
fn a_workbook_is_refused_with_what_would_read_it() {
    judge(&[refused("workbook", workbook(), "feature `xlsx`")], 1);
}

#[test]
fn every_preamble_is_read_or_asked() {
    judge(&preambles(), 23);
}

#[test]
fn every_head_is_read_or_asked() {
    judge(&heads(), 54);
}

#[test]
fn every_clock_is_read_or_asked() {
    judge(&clocks(), 31);
}

#[test]
fn every_run_is_read_or_asked() {
    judge(&runs(), 20);
}

#[test]
fn every_answer_is_held_against_the_log() {
    judge(&answers(), 15);
}

#[test]
fn every_container_is_unpacked_within_bounds() {
    judge(&containers(), 17);
}

#[test]
fn channels_beside_the_force_are_read_by_their_heads() {
    let log = b"t [s];F [N];Weg [cm];Geschwindigkeit [m/s];Motorstrom [mA]\n0.000;1.5;0;0.2;1500\n0.001;380.5;1.5;0.1;\n";
    let trace = record(log, &Answers::default());
    assert_eq!(trace.position_mm.map(|v| v.to_vec()), Some(vec![0.0, 15.0]));
    assert_eq!(
        trace.speed_mm_s.map(|v| v.to_vec()),
        Some(vec![200.0, 100.0])
    );
    let current = trace.current_a.unwrap();
    assert_eq!(current[0], 1.5);
    assert!(current[1].is_nan());
}

#[test]
fn averaging_that_the_log_declares_is_kept_in_its_words() {
    let log = b"Averaging: 10 samples\ntime_s,force_N\n0.000,1.5\n0.001,380.5\n";
    let trace = record(log, &Answers::default());
    assert_eq!(trace.averaging.as_deref(), Some("Averaging: 10 samples"));
}

#[test]
fn a_lost_row_knows_the_sample_before_it() {
    let log = b"time_s,force_N\n0.000,OL\n0.001,1.5\n0.002,overload\n0.003,2.5\n";
    let lost = record(log, &Answers::default()).lost;
    let found: Vec<_> = lost
        .iter()
        .map(|row| (row.after, row.line, row.text.as_str()))
        .collect();
    assert_eq!(found, [(None, 2, "OL"), (Some(0), 4, "overload")]);
    let bare = b"Rate: 10 Hz\nForce [N]\n1.5\n2.5\noverload\n380.5\n2.5\n1.5\n";
    let trace = record(bare, &Answers::default());
    assert_eq!(trace.lost[0].after, Some(1));
    assert_eq!(trace.times().to_vec(), [0.0, 0.1, 0.3, 0.4, 0.5]);
}

#[test]
fn a_record_completed_by_hand_says_so() {
    let answers = relent::ingest::from_recipe(
        "old-logger",
        "force = \"2\"\nforce_unit = \"N\"\nrate_hz = 100.0\n",
    )
    .unwrap();
    let provenance = record(b"1;1.5\n2;380.5\n3;2.5\n", &answers).provenance;
    let provenance = serde_json::to_value(provenance.unwrap()).unwrap();
    assert_eq!(
        provenance["answers"],
        json!({ "recipe": "old-logger", "force": "2", "force_unit": "N", "rate_hz": 100.0 })
    );
    assert_eq!(
        provenance["clock"],
        json!({ "code": "answered", "rate_hz": 100.0 })
    );
    assert_eq!(
        provenance["forces"],
        json!([{ "column": { "number": 2, "name": null }, "unit": "N", "unit_n": 1.0 }])
    );
}

#[test]
fn an_unknown_key_in_a_recipe_is_refused() {
    let error = relent::ingest::from_recipe("old-logger", "force_units = \"N\"\n").unwrap_err();
    assert!(
        error.to_string().contains("unknown field `force_units`"),
        "{error}"
    );
}

#[test]
fn many_notices_of_one_kind_are_counted_not_kept() {
    let rows: String = (0..5000)
        .map(|i| {
            format!(
                "{:.3},{}\n",
                f64::from(i) / 1000.0,
                if i % 2 == 0 { "1.5" } else { "x" }
            )
        })
        .collect();
    let reading = relent::ingest::read(
        format!("time_s,force_N\n{rows}").as_bytes(),
        &Answers::default(),
    )
    .unwrap();
    assert!(reading.notices.len() < 30);
    assert!(
        reading
            .notices
            .iter()
            .any(|notice| notice.fact == (Noticed::AndMore { count: 2480 }))
    );
    assert_eq!(
        error(b"", &Answers::default()).to_string(),
        "line 1: the log is empty: expected rows of numbers"
    );
}
