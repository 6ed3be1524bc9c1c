//! What a log says of itself: filter, range, day, gauge, unit.

use relent::quantity::ForceUnit;

use super::site::Site;
use super::{Row, row};

const CLASS: &str = "Declared in the log";
const LOG: &str = "closing-50-50-1.csv";

/// The visit with a line above, or below, the rows of a log.
fn said(line: &str) -> Site {
    let mut site = Site::honest();
    let log = site.log(LOG);
    *log = [format!("{line}\n").as_bytes(), log].concat();
    site
}

fn filters() -> Vec<Row> {
    let by = |site: &Site| site.outcome_by("averaging");
    let mut below = Site::honest();
    below.log(LOG).extend(b"# smoothed over 5 samples\n");
    let mut head = Site::honest();
    head.alter(LOG, |_, force| force);
    let text = String::from_utf8(head.log(LOG).clone()).unwrap();
    *head.log(LOG) = text
        .replacen("force (N)", "force, filtered (N)", 1)
        .replacen("force, ", "force ", 1)
        .into_bytes();
    let mut rows = vec![
        row(
            CLASS,
            "a remark below the rows: smoothed over 5 samples",
            "undecided: averaging",
            by(&below),
        ),
        row(
            CLASS,
            "the head of the force: force filtered (N)",
            "undecided: averaging",
            by(&head),
        ),
    ];
    let lines = [
        ("# LPF 20 Hz", "undecided: averaging"),
        ("# Tiefpass; 20 Hz", "undecided: averaging"),
        ("# Signal lissé sur 5 points", "undecided: averaging"),
        ("# Filtro passa-basso: 20 Hz", "undecided: averaging"),
        ("# Media móvil: 5", "undecided: averaging"),
        ("# Filter: off", "within"),
        ("# Filtre : aucun", "within"),
        ("# Average force: 120.4 N", "within"),
    ];
    rows.extend(lines.map(|(line, expected)| {
        row(
            CLASS,
            line.trim_start_matches("# "),
            expected,
            by(&said(line)),
        )
    }));
    rows
}

pub(super) fn rows() -> Vec<Row> {
    let range = |line: &str| said(line).outcome_by("at-capacity");
    let day = |line: &str| said(line).outcome_by("other-day");
    let gauge = |line: &str| said(line).outcome_by("other-gauge");
    let mut accepted = said("Date: 2026-03-30");
    accepted.declare("[logs]", "[logs]\ndays = [2026-03-30]");
    let mut own = said("Gauge serial: AX-9");
    own.declare("[logs]", "[logs]\ngauges = [\"AX-9\"]");
    let recipe = |unit: ForceUnit| {
        let mut site = Site::honest();
        site.alter(LOG, |_, force| force / 10.0);
        let text = String::from_utf8(site.log(LOG).clone()).unwrap();
        *site.log(LOG) = text.replacen("force (N)", "force (daN)", 1).into_bytes();
        site.answers.recipe = Some("logger.toml".to_owned());
        site.answers.force_unit = Some(unit);
        site.outcome_by("none")
    };
    let mut rows = filters();
    let row = |attack, expected, actual| row(CLASS, attack, expected, actual);
    rows.extend([
        row(
            "a range of 213 N, which the hit reaches",
            "undecided: at-capacity",
            range("Messbereich: 213 N"),
        ),
        row(
            "honest twin: a range of 500 N",
            "within",
            range("Messbereich: 500 N"),
        ),
        row(
            "dated the day before the visit",
            "undecided: other-day",
            day("Date: 2026-03-30"),
        ),
        row(
            "honest twin: that day is accepted by the gate file",
            "within",
            accepted.outcome_by("other-day"),
        ),
        row(
            "honest twin: dated 3/4/2026 or 31.03.2026",
            "within",
            day("Datum; 31.03.2026"),
        ),
        row(
            "another gauge",
            "undecided: other-gauge",
            gauge("Gauge serial: AX-9"),
        ),
        row(
            "honest twin: the gauge of the gate file",
            "within",
            gauge("S/N: QO 0007"),
        ),
        row(
            "honest twin: that gauge is accepted by the gate file",
            "within",
            own.outcome_by("other-gauge"),
        ),
        row(
            "a recipe in N over a log in daN",
            "undecided",
            recipe(ForceUnit::Newton),
        ),
    ]);
    rows
}
