//! What was likely meant: a word near the one written, a number in another unit than its key's.

use serde::Serialize;

use crate::fact::Fact;

/// A number that was likely written in another unit than its key.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Slip {
    /// The number as it is written.
    pub value: f64,
    /// The unit that was likely meant.
    pub meant: &'static str,
    /// The same in the unit of the key.
    pub write: f64,
}

impl Fact for Slip {
    const FAMILY: &'static str = "slip";
}

/// The unit of a key, by its ending.
pub(super) fn unit(key: &str) -> Option<&'static str> {
    const ENDINGS: [(&str, &str); 8] = [
        ("_n_per_mm", "N/mm"),
        ("_mm_s", "mm/s"),
        ("_mm", "mm"),
        ("_kg", "kg"),
        ("_n", "N"),
        ("_v", "V"),
        ("_c", "°C"),
        ("_percent", "%"),
    ];
    let known = ENDINGS.iter().find(|(ending, _)| key.ends_with(ending));
    known.map(|(_, unit)| *unit)
}

/// The unit that was likely meant by a number far from what its key usually is.
pub(super) fn slip(unit: Option<&str>, value: f64, usual: (f64, f64)) -> Option<Slip> {
    let others: &[(&str, f64)] = match unit? {
        "mm" => &[("m", 1000.0), ("cm", 10.0)],
        "mm/s" => &[("m/s", 1000.0), ("cm/s", 10.0)],
        "kg" => &[("t", 1000.0), ("g", 0.001)],
        "N" => &[("kN", 1000.0), ("daN", 10.0)],
        "N/mm" => &[("N/m", 0.001), ("kN/mm", 1000.0)],
        "V" => &[("mV", 0.001)],
        _ => &[],
    };
    others.iter().find_map(|(meant, factor)| {
        let write = value * factor;
        (usual.0..=usual.1).contains(&write).then_some(Slip {
            value,
            meant,
            write,
        })
    })
}

/// The known word most like the one found, if it is like it at all.
pub(super) fn nearest(found: &str, known: &[String]) -> Option<String> {
    let found = found.to_ascii_lowercase().replace([' ', '-'], "_");
    let like = |word: &String| {
        let plain = word.to_ascii_lowercase().replace('-', "_");
        let stem = plain.starts_with(&found) || found.starts_with(&plain);
        let alike = strsim::jaro_winkler(&found, &plain);
        if stem { alike.max(0.9) } else { alike }
    };
    let (word, alike) = known
        .iter()
        .map(|word| (word, like(word)))
        .max_by(|a, b| a.1.total_cmp(&b.1))?;
    (alike >= 0.85 && !found.is_empty()).then(|| word.clone())
}
