//! Laws of the reader on generated logs.

use std::fmt::Write as _;

use proptest::collection::vec;
use proptest::prelude::*;
use relent::ingest::{Answers, Kind, Outcome, Sign, read};
use relent::quantity::{ForceUnit, TimeUnit};

use crate::ingest_case::record;

/// A plain decimal of any length that a logger may write.
fn decimal() -> impl Strategy<Value = String> {
    (any::<bool>(), "[0-9]{1,17}", "[0-9]{0,17}").prop_map(|(negative, whole, decimals)| {
        let sign = if negative { "-" } else { "" };
        let mark = if decimals.is_empty() { "" } else { "." };
        format!("{sign}{whole}{mark}{decimals}")
    })
}

/// What is said about every generated log, so that only its numbers are at stake.
fn said() -> Answers {
    Answers {
        sign: Some(Sign::PushIsPositive),
        decimal_mark: Some('.'),
        ..Answers::default()
    }
}

/// Forces as the csv crate and the parser of the standard library read them.
fn by_csv_and_std(log: &str, delimiter: u8) -> Vec<f64> {
    csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .from_reader(log.as_bytes())
        .records()
        .map(|row| row.unwrap()[1].parse().unwrap())
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn every_number_is_read_bit_for_bit_as_by_csv_and_std(
        forces in vec(decimal(), 1..40),
        delimiter in prop::sample::select(vec![b',', b';', b'\t', b'|']),
        end in prop::sample::select(vec!["\n", "\r\n"]),
        columns in 0_usize..3,
    ) {
        let part = char::from(delimiter);
        let mut log = format!("time_s{part}force_N{}{end}", format!("{part}other").repeat(columns));
        for (row, force) in forces.iter().enumerate() {
            let _ = write!(log, "{:.3}{part}{force}{}{end}", row as f64 / 1000.0, format!("{part}7.25").repeat(columns));
        }
        let expected = by_csv_and_std(&log, delimiter);
        let trace = record(log.as_bytes(), &said());
        let bits = |values: &[f64]| values.iter().map(|value| value.to_bits()).collect::<Vec<_>>();
        prop_assert_eq!(bits(&trace.forces().to_vec()), bits(&expected));
    }

    #[test]
    fn rows_that_look_alike_but_for_some_are_read_bit_for_bit_as_by_csv_and_std(
        forces in vec((any::<bool>(), "[0-9]{1,6}", "[0-9]{6}", 0_usize..40), 2..300),
        decimals in 0_usize..6,
        places in 0_usize..6,
        end in prop::sample::select(vec!["\n", "\r\n"]),
    ) {
        let mut log = format!("time_s;force_N{end}");
        for (row, (negative, whole, after, odd)) in forces.iter().enumerate() {
            let time = row as f64 / 10_f64.powi(places as i32);
            let sign = if *negative { "-" } else { "" };
            // One row in twenty has another number of decimals.
            let decimals = if *odd < 2 { (decimals + odd + 1) % 6 } else { decimals };
            let mark = if decimals > 0 { "." } else { "" };
            let _ = write!(log, "{time:.places$};{sign}{whole}{mark}{}{end}", &after[..decimals]);
        }
        let trace = record(log.as_bytes(), &said());
        let cells = |column: usize| {
            let rows = log.lines().skip(1).map(move |row| row.split(';').nth(column).unwrap());
            rows.map(|cell| cell.parse::<f64>().unwrap().to_bits()).collect::<Vec<_>>()
        };
        let bits = |values: Vec<f64>| values.into_iter().map(f64::to_bits).collect::<Vec<_>>();
        prop_assert_eq!(bits(trace.times().to_vec()), cells(0));
        prop_assert_eq!(bits(trace.forces().to_vec()), cells(1));
    }

    #[test]
    fn the_same_forces_come_out_of_every_dialect(
        tenths in vec(-4000_i32..40_000, 2..60),
        dialect in 0_usize..8,
        quoted in any::<bool>(),
        unit in prop::sample::select(ForceUnit::ALL.to_vec()),
    ) {
        let (part, mark, wide) = [
            (",", '.', false), (";", ',', false), ("\t", ',', false), ("\t", '.', false),
            ("|", '.', false), ("  ", '.', false), (";", ',', true), ("\t", '.', true),
        ][dialect];
        let quote = if quoted && part != "  " { "\"" } else { "" };
        let mut log = format!("{quote}Zeit [ms]{quote}{part}{quote}Kraft [{}]{quote}\n", unit.symbol());
        if part == "  " {
            log = format!("Zeit_ms{part}Kraft_{}\n", unit.symbol());
        }
        for (row, tenth) in tenths.iter().enumerate() {
            let force = format!("{:.1}", f64::from(*tenth) / 10.0).replace('.', &mark.to_string());
            let _ = writeln!(log, "{quote}{:.1}{quote}{part}{quote}{force}{quote}", row as f64);
        }
        let log = if mark == ',' { log.replace(".0", ",0") } else { log };
        let bytes: Vec<u8> = if wide {
            log.encode_utf16().flat_map(u16::to_le_bytes).collect()
        } else {
            log.into_bytes()
        };
        let answers = Answers { sign: Some(Sign::PushIsPositive), ..Answers::default() };
        let trace = record(&bytes, &answers);
        let expected: Vec<f64> = tenths.iter().map(|tenth| f64::from(*tenth) / 10.0 * unit.newtons()).collect();
        prop_assert_eq!(trace.forces().to_vec(), expected);
        let instants: Vec<f64> = (0..tenths.len()).map(|row| TimeUnit::Millisecond.to_seconds(row as f64)).collect();
        prop_assert_eq!(trace.times().to_vec(), instants);
    }

    #[test]
    fn any_bytes_end_in_a_record_a_question_or_an_error(bytes in vec(any::<u8>(), 0..3000)) {
        lawful(&bytes)?;
    }

    #[test]
    fn any_text_of_the_signs_of_logs_ends_lawfully(text in "[0-9.,;:\t \"\\-+eENnskm\\[\\]#\n\r']{0,600}") {
        lawful(text.as_bytes())?;
    }

    #[test]
    fn a_damaged_log_ends_lawfully(
        damage in vec((0_usize..2000, any::<u8>(), 0_u8..4), 1..12),
        which in 0_usize..GOOD.len(),
    ) {
        let mut log = good(which);
        for (at, byte, kind) in damage {
            let at = at % log.len().max(1);
            match kind {
                0 => log[at] = byte,
                1 => log.insert(at, byte),
                2 => { log.drain(at..(at + usize::from(byte) % 30).min(log.len())); }
                _ => {
                    let piece = log[at..(at + usize::from(byte)).min(log.len())].to_vec();
                    log.splice(at..at, piece);
                }
            }
            if log.is_empty() {
                break;
            }
        }
        lawful(&log)?;
    }
}

/// Logs to damage: a preamble and heads, and a row with `{t}` and `{f}`.
const GOOD: [(&str, &str); 5] = [
    ("time_s,force_N\n", "{t},{f}\n"),
    (
        "\u{feff}# gate 3\r\nSampling rate: 1000 Hz\r\n\r\n\"Zeit\";\"Kraft\"\r\n\"s\";\"N\"\r\n",
        "\"{t}\";\"{f}\"\r\n",
    ),
    ("Time (s)   Force (N)\n", "  {t}   {f}\n"),
    (
        "Datum\tZeit\tKraft [kN]\tStatus\n",
        "01.03.2024\t10:15:{t}\t{f}\tOK\n",
    ),
    ("Samples\t80\nDelta_X\t0.001\nForce [lbf]\n", "{f}\n"),
];

fn good(which: usize) -> Vec<u8> {
    let (head, row) = GOOD[which];
    let rows = (0..80).map(|i| {
        let force = if i == 40 { "1,204.5" } else { "12.5" };
        row.replace("{t}", &format!("{:06.3}", f64::from(i) / 1000.0))
            .replace("{f}", force)
    });
    std::iter::once(head.to_owned())
        .chain(rows)
        .collect::<String>()
        .into_bytes()
}

/// What holds for whatever comes out of whatever goes in.
fn lawful(bytes: &[u8]) -> Result<(), TestCaseError> {
    let reading = match read(bytes, &Answers::default()) {
        Ok(reading) => reading,
        Err(error) => {
            prop_assert!(error.to_string().starts_with("line "), "{}", error);
            return Ok(());
        }
    };
    prop_assert!(reading.notices.len() < 600);
    match reading.outcome {
        Outcome::Asks(questions) => prop_assert!(!questions.is_empty()),
        Outcome::Read(trace) => {
            let run = &reading.runs[0];
            prop_assert_eq!(trace.len() + run.missing, run.samples);
            prop_assert!(
                trace
                    .lost
                    .iter()
                    .all(|lost| lost.after.is_none_or(|after| after < trace.len()))
            );
        }
    }
    Ok(())
}

/// Cut off anywhere, a log gives the forces of its whole rows and no torn one; where a number cannot be seen to be torn, the
/// reader says so.
#[test]
fn a_log_cut_anywhere_never_gives_a_torn_force_in_silence() {
    let forces: Vec<f64> = (0..60)
        .map(|i| f64::from(1000 + i * i * 7 % 3000) / 10.0)
        .collect();
    let mut log = String::from("time_s,force_N\n");
    for (row, force) in forces.iter().enumerate() {
        let _ = writeln!(log, "{:.3},{force:.1}", row as f64 / 1000.0);
    }
    let mut read_at_all = 0;
    for cut in 0..log.len() {
        let Ok(reading) = read(&log.as_bytes()[..cut], &Answers::default()) else {
            continue;
        };
        let Outcome::Read(trace) = reading.outcome else {
            continue;
        };
        read_at_all += 1;
        let found = trace.forces().to_vec();
        let told = reading
            .notices
            .iter()
            .any(|notice| notice.kind == Kind::LastLine);
        let whole = log[..cut].lines().count() - 1;
        assert!(
            found == forces[..found.len()] || told,
            "cut at {cut}: {found:?}"
        );
        assert!(
            found.len() + 1 >= whole,
            "cut at {cut}: {} of {whole} rows",
            found.len()
        );
    }
    assert!(
        read_at_all > log.len() - 30,
        "{read_at_all} of {}",
        log.len()
    );
}
