//! The reader alone, from bytes in memory to a record, with and without the digest.

use std::fmt::Write as _;

use divan::Bencher;
use divan::counter::BytesCount;
use relent::ingest::{Answers, DigestOf, read_with};

/// A hit at 1 kHz over 6 s, as a logger writes it: `0.5310,431.8`.
fn plain() -> String {
    let mut log = String::from("time_s,force_N\n");
    for row in 0..6000_i32 {
        let hit = match row - 500 {
            at @ 0..63 => 2000.0 * (f64::from(at) / 20.0).sin(),
            63..1000 => 80.0,
            _ => 0.0,
        };
        let ripple = f64::from(row * 7919 % 17 - 8) / 10.0;
        let _ = writeln!(log, "{:.4},{:.1}", f64::from(row) / 1000.0, hit + ripple);
    }
    log
}

fn bench(bencher: Bencher<'_, '_>, log: &str, digest: DigestOf) {
    bencher.counter(BytesCount::of_str(log)).bench(|| {
        read_with(
            divan::black_box(log.as_bytes()),
            &Answers::default(),
            digest,
        )
    });
}

#[divan::bench]
fn read_plain_rows(bencher: Bencher<'_, '_>) {
    bench(bencher, &plain(), DigestOf::Bytes);
}

#[divan::bench]
fn read_plain_rows_without_digest(bencher: Bencher<'_, '_>) {
    bench(bencher, &plain(), DigestOf::Nothing);
}

#[divan::bench]
fn read_german_rows(bencher: Bencher<'_, '_>) {
    let log = plain()
        .replace(',', ";")
        .replace('.', ",")
        .replace("time_s;force_N", "Zeit [s];Kraft [N]");
    bench(bencher, &log, DigestOf::Nothing);
}

#[divan::bench]
fn read_quoted_rows(bencher: Bencher<'_, '_>) {
    let log: String = plain()
        .lines()
        .map(|line| format!("\"{}\"\n", line.replace(',', "\",\"")))
        .collect();
    bench(bencher, &log, DigestOf::Nothing);
}
