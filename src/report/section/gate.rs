//! Gate, drive, gauge and visit as the gate file names them, and what it leaves open.

use maud::{Markup, html};

use crate::limits::VisitKind;
use crate::report::page::Subject;
use crate::words::{Language, Words};

type Line = (&'static str, Option<String>);

pub(in crate::report) fn section(subject: &Subject<'_>) -> Markup {
    html! {
        h3 { "Gate" } (list(&gate(subject)))
        h3 { "Drive" } (list(&drive(subject)))
        h3 { "Gauge" } (list(&gauge(subject)))
        h3 { "Visit" } (list(&visit(subject)))
        (open(subject))
    }
}

/// Names and values; what is not known is left to the list of what is open.
fn list(lines: &[Line]) -> Markup {
    let known: Vec<(&str, &String)> = lines
        .iter()
        .filter_map(|(name, value)| Some((*name, value.as_ref()?)))
        .collect();
    html! {
        @if known.is_empty() { p.soft { "Nothing is said of it." } }
        @else { dl { @for (name, value) in known { dt { (name) } dd { (value) } } } }
    }
}

fn unit<T: ToString>(value: Option<T>) -> Option<String> {
    value.map(|value| value.to_string())
}

fn gate(subject: &Subject<'_>) -> Vec<Line> {
    let gate = &subject.assessment.gate.gate;
    let edge = subject.assessment.gate.edge.as_ref();
    vec![
        ("name", Some(gate.name.clone())),
        ("place", gate.place.clone()),
        ("motion", Some(gate.motion.to_string())),
        ("leaf mass", unit(gate.leaf_mass)),
        ("leaf height", unit(gate.leaf_height)),
        ("leaf width", unit(gate.leaf_width)),
        ("clear opening", unit(gate.clear_opening)),
        ("ground clearance", unit(gate.ground_clearance)),
        ("closes against", gate.counter_edge.clone()),
        ("edge", edge.and_then(|edge| edge.words.clone())),
        (
            "travel of the edge",
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
        ("model", drive.model.clone()),
        ("firmware", drive.firmware.clone()),
        ("rated for", unit(drive.rated_mass)),
        ("closing speed", unit(drive.closing_speed)),
        ("opening speed", unit(drive.opening_speed)),
        (
            "settings",
            (!settings.is_empty()).then(|| settings.join("; ")),
        ),
    ]
}

fn gauge(subject: &Subject<'_>) -> Vec<Line> {
    let Some(gauge) = &subject.assessment.gate.gauge else {
        return Vec::new();
    };
    let accuracy = [
        gauge
            .accuracy_percent
            .map(|percent| format!("{percent} % of the reading")),
        unit(gauge.accuracy),
    ];
    let accuracy: Vec<String> = accuracy.into_iter().flatten().collect();
    let zero = gauge.zeroes_itself.map(|it| {
        if it {
            "by itself before each hit"
        } else {
            "not by itself"
        }
        .to_owned()
    });
    let certificate = gauge.certificate.as_ref().map(|certificate| {
        let laboratory = certificate
            .laboratory
            .as_ref()
            .map(|name| format!(", {name}"))
            .unwrap_or_default();
        format!(
            "{}{laboratory}, k = {}",
            certificate.number, certificate.coverage_factor
        )
    });
    vec![
        ("serial number", gauge.serial.clone()),
        ("spring rate", unit(gauge.spring_rate)),
        ("capacity", unit(gauge.capacity)),
        ("face", gauge.face.clone()),
        (
            "accuracy",
            (!accuracy.is_empty()).then(|| format!("± {}", accuracy.join(" ± "))),
        ),
        ("resolution", unit(gauge.resolution)),
        ("calibrated on", unit(gauge.calibrated_on)),
        ("calibration holds until", unit(gauge.calibration_due)),
        ("zero", zero),
        ("certificate", certificate),
    ]
}

fn visit(subject: &Subject<'_>) -> Vec<Line> {
    let Some(visit) = &subject.assessment.gate.visit else {
        return Vec::new();
    };
    let kind = match visit.kind {
        VisitKind::First => "before first use",
        VisitKind::Recurring => "recurring",
        VisitKind::AfterChange => "after a change",
    };
    vec![
        ("date", Some(visit.date.to_string())),
        ("kind", Some(kind.to_owned())),
        ("tested by", visit.tested_by.clone()),
        (
            "temperature",
            visit.temperature_c.map(|degrees| format!("{degrees} °C")),
        ),
        ("wind", visit.wind.clone()),
        ("supply", visit.supply_v.map(|volts| format!("{volts} V"))),
        ("notes", visit.notes.clone()),
    ]
}

fn open(subject: &Subject<'_>) -> Markup {
    let words = Words::of(Language::English);
    let gaps = subject.assessment.gaps();
    html! {
        @if !gaps.is_empty() {
            h3 { "What the gate file leaves open" }
            ul { @for gap in gaps { li { (words.fact(&gap)) span.soft { " (" (gap.key()) ")" } } } }
        }
    }
}
