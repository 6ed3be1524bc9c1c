//! The words by which heads name their columns, in the languages in which loggers write.

use super::Role;

/// What a head's words make of a column, apart from its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Named {
    /// A word for that role.
    Role(Role),
    /// The bare letter `F`: a force, or something else.
    LetterF,
    /// A force that was set, kept or computed, not measured sample by sample: a limit, a set value, a greatest value.
    Derived,
    /// A torque or a moment.
    Torque,
    /// A count of samples or rows.
    Index,
    /// A calendar date.
    Date,
    /// Nothing that relent knows.
    Unknown,
}

const TIME: &[&str] = &[
    "time",
    "times",
    "timestamp",
    "timestamps",
    "datetime",
    "elapsed",
    "clock",
    "zeit",
    "zeiten",
    "uhrzeit",
    "zeitstempel",
    "messzeit",
    "temps",
    "heure",
    "tiempo",
    "hora",
    "tempo",
    "tijd",
    "aika",
    "tid",
    "czas",
    "čas",
    "время",
    "idő",
    "t",
    "x_value",
    "sec",
    "seconds",
    "secs",
    "millis",
    "micros",
    "msec",
    "epoch",
    "ticks",
    "tick",
    "runtime",
    "laufzeit",
    "ts",
];
const FORCE: &[&str] = &[
    "force",
    "forces",
    "kraft",
    "kräfte",
    "load",
    "loads",
    "last",
    "grf",
    "grfv",
    "vgrf",
    "effort",
    "kracht",
    "fuerza",
    "forza",
    "força",
    "thrust",
    "schub",
    "loadcell",
    "síla",
    "siła",
    "voima",
    "erő",
    "сила",
    "carga",
    "carico",
    "belastung",
    "fx",
    "fy",
    "fz",
    "fn",
    "fres",
    "newton",
    "newtons",
    "nyomóerő",
    "push",
    "impact",
];
const POSITION: &[&str] = &[
    "position",
    "pos",
    "weg",
    "displacement",
    "travel",
    "stroke",
    "hub",
    "course",
    "déplacement",
    "deplacement",
    "distance",
    "strecke",
    "verfahrweg",
    "positie",
    "posición",
    "posizione",
    "torweg",
    "leafposition",
];
const SPEED: &[&str] = &[
    "speed",
    "velocity",
    "geschwindigkeit",
    "vitesse",
    "velocidad",
    "velocità",
    "snelheid",
    "v",
    "leafspeed",
];
const CURRENT: &[&str] = &[
    "current",
    "strom",
    "motorstrom",
    "courant",
    "corriente",
    "corrente",
    "stroom",
    "motorcurrent",
    "i",
    "amps",
];
const QUALITY: &[&str] = &[
    "quality",
    "status",
    "valid",
    "flag",
    "flags",
    "state",
    "comment",
    "comments",
    "remark",
    "remarks",
    "bemerkung",
    "kommentar",
    "note",
    "notes",
    "event",
    "ereignis",
    "qualität",
    "zustand",
    "error",
    "fehler",
    "ok",
    "message",
    "meldung",
    "marker",
];
const DERIVED: &[&str] = &[
    "setpoint",
    "set",
    "limit",
    "max",
    "maximum",
    "min",
    "minimum",
    "peak",
    "soll",
    "sollwert",
    "target",
    "threshold",
    "grenze",
    "grenzwert",
    "offset",
    "tara",
    "tare",
    "zero",
    "spitze",
    "spitzenwert",
    "mean",
    "average",
    "avg",
    "mittelwert",
    "capacity",
    "nennlast",
    "reference",
    "command",
    "commanded",
    "demand",
    "expected",
    "error",
    "sollkraft",
    "maxkraft",
    "grenzkraft",
    "simulated",
    "predicted",
    "limitforce",
    "peakforce",
    "maximal",
    "maximalwert",
    "minimal",
    "minimalwert",
    "maximale",
    "massima",
    "massimo",
    "minima",
    "minimo",
    "máxima",
    "máximo",
    "mínima",
    "mínimo",
    "maxi",
    "mini",
    "maks",
    "maksimi",
    "maximaal",
    "crête",
    "picco",
    "pico",
    "topp",
    "moyenne",
    "media",
    "médio",
    "medel",
    "gemiddelde",
    "średnia",
    "mittel",
    "median",
    "rms",
    "std",
    "stdev",
    "deviation",
    "standardabweichung",
    "uncertainty",
    "unsicherheit",
    "tolerance",
    "toleranz",
    "grenswaarde",
    "limite",
    "límite",
    "seuil",
    "schwelle",
    "static",
    "statisch",
    "statische",
    "statique",
    "residual",
    "messbereich",
    "hold",
    "fmax",
    "fmin",
    "fpeak",
    "fmean",
    "fsoll",
    "flim",
    "fset",
];

/// Words that make a compound with a word of force one of a force that was not measured sample by sample: `Spitzenkraft`.
const DERIVED_BEFORE: &[&str] = &[
    "spitzen", "maximal", "max", "minimal", "min", "soll", "grenz", "nenn", "mittel", "rest",
    "peak", "limit", "static",
];
const TORQUE: &[&str] = &["torque", "moment", "drehmoment", "couple", "momento", "par"];
const INDEX: &[&str] = &[
    "sample",
    "samples",
    "index",
    "idx",
    "nr",
    "no",
    "n",
    "count",
    "counter",
    "row",
    "scan",
    "lfd",
    "number",
    "nummer",
    "messpunkt",
    "point",
    "record",
    "id",
    "#",
    "frame",
    "unnamed",
];
const RUN: &[&str] = &[
    "run",
    "hit",
    "trial",
    "test",
    "shot",
    "repeat",
    "measurement",
    "messung",
    "versuch",
    "lauf",
    "schlag",
    "aufnahme",
    "essai",
    "mesure",
    "prueba",
    "ensayo",
    "prova",
    "próba",
    "pomiar",
    "meting",
    "mätning",
    "měření",
];
const NUMBER: &[&str] = &["no", "nr", "number", "nummer", "id", "index", "of", "von"];
const DATE: &[&str] = &["date", "datum", "fecha", "data", "dato", "päivä"];

/// What the words of a head say. `name` has no unit any more.
pub(super) fn named(name: &str) -> Named {
    let trimmed = name.trim();
    let lower = trimmed.to_lowercase();
    let tokens = tokens(trimmed);
    let has = |words: &[&str]| {
        words.contains(&lower.as_str())
            || tokens.iter().any(|token| words.contains(&token.as_str()))
    };
    if has(TORQUE) {
        return Named::Torque;
    }
    let within = ["force", "kraft", "loadcell"]
        .iter()
        .any(|word| tokens.iter().any(|token| token.contains(word)));
    let whole_t = tokens.len() == 1;
    let force = within || has(FORCE);
    if force {
        let compound = tokens
            .iter()
            .any(|token| DERIVED_BEFORE.iter().any(|word| token.starts_with(word)));
        return if has(DERIVED) || compound {
            Named::Derived
        } else {
            Named::Role(Role::Force)
        };
    }
    if lower == "f" {
        return Named::LetterF;
    }
    let single = |words: &[&str]| {
        tokens
            .iter()
            .any(|token| words.contains(&token.as_str()) && (token.chars().count() > 1 || whole_t))
            || words.contains(&lower.as_str())
    };
    for (words, role) in [
        (QUALITY, Role::Quality),
        (POSITION, Role::Position),
        (SPEED, Role::Speed),
        (CURRENT, Role::Current),
        (TIME, Role::Time),
    ] {
        if single(words) {
            return Named::Role(role);
        }
    }
    if has(DERIVED) {
        return Named::Derived;
    }
    if single(INDEX) || lower == "#" {
        return Named::Index;
    }
    if has(DATE) {
        return Named::Date;
    }
    Named::Unknown
}

/// Whether a head names the units of another column.
pub(super) fn names_unit(text: &str) -> bool {
    const UNIT: [&str; 11] = [
        "unit",
        "units",
        "einheit",
        "unité",
        "unidad",
        "unidade",
        "unità",
        "eenheid",
        "enhet",
        "jednostka",
        "jednotka",
    ];
    tokens(text)
        .iter()
        .any(|token| UNIT.contains(&token.as_str()))
}

/// Whether a text names a run, or the column of their numbers: `Run 2`, `=== Hit 1 of 3 ===`, `Messung Nr. 4`.
pub(super) fn names_run(text: &str) -> bool {
    let tokens = tokens(text);
    let known = |words: &[&str], token: &String| words.contains(&token.as_str());
    tokens.first().is_some_and(|first| known(RUN, first))
        && tokens[1..].iter().all(|token| known(NUMBER, token))
}

/// The words of a head in lower case, parted at signs, digits and at a capital after a small letter.
pub(super) fn tokens(name: &str) -> Vec<String> {
    let mut tokens = Vec::new();
    let mut token = String::new();
    let mut small_before = false;
    for letter in name.chars() {
        let capital_after_small = small_before && letter.is_uppercase();
        if (!letter.is_alphabetic() || capital_after_small) && !token.is_empty() {
            tokens.push(std::mem::take(&mut token));
        }
        if letter.is_alphabetic() {
            token.extend(letter.to_lowercase());
        }
        small_before = letter.is_lowercase();
    }
    if !token.is_empty() {
        tokens.push(token);
    }
    tokens
}
