//! Gate, drive, gauge and visit as the gate file names them, and what it leaves open.

use maud::{Markup, html};

use crate::report::page::Subject;
use crate::words::Words;

/// The message of a name, and the value.
type Line = (&'static str, Option<String>);

pub(in crate::report) fn section(subject: &Subject<'_>) -> Markup {
    let words = subject.words;
    html! {
        h3 { (words.say("report-gate")) } (list(words, &gate(subject)))
        h3 { (words.say("report-drive")) } (list(words, &drive(subject)))
        h3 { (words.say("report-gauge")) } (list(words, &gauge(subject)))
        h3 { (words.say("report-visit")) } (list(words, &visit(subject)))
        (open(subject))
    }
}

/// Names and values; what is not known is left to the list of what is open.
fn list(words: &Words, lines: &[Line]) -> Markup {
    let known: Vec<(&str, &String)> = lines
        .iter()
        .filter_map(|(name, value)| Some((*name, value.as_ref()?)))
        .collect();
    html! {
        @if known.is_empty() { p.soft { (words.say("report-not-stated")) } }
        @else { dl { @for (name, value) in known { dt { (words.say(name)) } dd { (value) } } } }
    }
}

fn unit<T: ToString>(value: Option<T>) -> Option<String> {
    value.map(|value| value.to_string())
}

fn gate(subject: &Subject<'_>) -> Vec<Line> {
    let gate = &subject.assessment.gate.gate;
    let edge = subject.assessment.gate.edge.as_ref();
    vec![
        ("report-gate-name", Some(gate.name.clone())),
        ("report-gate-place", gate.place.clone()),
        ("report-gate-motion", Some(subject.words.fact(&gate.motion))),
        ("report-gate-leaf-mass", unit(gate.leaf_mass)),
        ("report-gate-leaf-height", unit(gate.leaf_height)),
        ("report-gate-leaf-width", unit(gate.leaf_width)),
        ("report-gate-opening", unit(gate.clear_opening)),
        ("report-gate-clearance", unit(gate.ground_clearance)),
        ("report-gate-closes-against", gate.counter_edge.clone()),
        ("report-gate-edge", edge.and_then(|edge| edge.words.clone())),
        (
            "report-gate-edge-travel",
            edge.and_then(|edge| unit(edge.travel)),
        ),
    ]
}

fn drive(subject: &Subject<'_>) -> Vec<Line> {
    let Some(drive) = &subject.assessment.gate.drive else {
        return Vec::new();
    };
    let settings: Vec<String> = drive
        .settings
        .iter()
        .map(|(name, value)| format!("{name}: {value}"))
        .collect();
    vec![
        ("report-drive-model", drive.model.clone()),
        ("report-drive-firmware", drive.firmware.clone()),
        ("report-drive-rated", unit(drive.rated_mass)),
        ("report-drive-closing", unit(drive.closing_speed)),
        ("report-drive-opening", unit(drive.opening_speed)),
        (
            "report-drive-settings",
            (!settings.is_empty()).then(|| settings.join("; ")),
        ),
    ]
}

fn gauge(subject: &Subject<'_>) -> Vec<Line> {
    let Some(gauge) = &subject.assessment.gate.gauge else {
        return Vec::new();
    };
    let words = subject.words;
    let accuracy = [
        gauge
            .accuracy_percent
            .map(|percent| words.with("report-gauge-percent", &[("percent", percent.into())])),
        unit(gauge.accuracy),
    ];
    let accuracy: Vec<String> = accuracy.into_iter().flatten().collect();
    let zero = gauge.zeroes_itself.map(|it| {
        if it {
            words.say("report-gauge-zeroes")
        } else {
            words.say("report-gauge-keeps-zero")
        }
        .into_owned()
    });
    let certificate = gauge.certificate.as_ref().map(|certificate| {
        let mut variables = vec![
            ("number", certificate.number.as_str().into()),
            ("factor", certificate.coverage_factor.into()),
        ];
        match &certificate.laboratory {
            None => words.with("report-gauge-certified", &variables),
            Some(laboratory) => {
                variables.push(("laboratory", laboratory.as_str().into()));
                words.with("report-gauge-certified-by", &variables)
            }
        }
    });
    vec![
        ("report-gauge-serial", gauge.serial.clone()),
        ("report-gauge-spring", unit(gauge.spring_rate)),
        ("report-gauge-capacity", unit(gauge.capacity)),
        ("report-gauge-face", gauge.face.clone()),
        (
            "report-gauge-accuracy",
            (!accuracy.is_empty()).then(|| format!("± {}", accuracy.join(" ± "))),
        ),
        ("report-gauge-resolution", unit(gauge.resolution)),
        ("report-gauge-calibrated", unit(gauge.calibrated_on)),
        ("report-gauge-due", unit(gauge.calibration_due)),
        ("report-gauge-zero", zero),
        ("report-gauge-certificate", certificate),
    ]
}

fn visit(subject: &Subject<'_>) -> Vec<Line> {
    let Some(visit) = &subject.assessment.gate.visit else {
        return Vec::new();
    };
    vec![
        ("report-visit-date", Some(visit.date.to_string())),
        ("report-visit-kind", Some(subject.words.fact(&visit.kind))),
        ("report-visit-tested-by", visit.tested_by.clone()),
        (
            "report-visit-temperature",
            visit.temperature_c.map(|degrees| format!("{degrees} °C")),
        ),
        ("report-visit-wind", visit.wind.clone()),
        (
            "report-visit-supply",
            visit.supply_v.map(|volts| format!("{volts} V")),
        ),
        ("report-visit-notes", visit.notes.clone()),
    ]
}

fn open(subject: &Subject<'_>) -> Markup {
    let words = subject.words;
    let gaps = subject.assessment.gaps();
    html! {
        @if !gaps.is_empty() {
            h3 { (words.say("report-open")) }
            ul { @for gap in gaps { li { (words.fact(&gap)) span.soft { " (" (gap.key()) ")" } } } }
        }
    }
}
