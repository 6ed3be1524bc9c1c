//! What the lines of a log say of how it was taken: filter, range, day and gauge, in the words of five languages.

use jiff::civil::Date;

use super::words::{self, Named};
use crate::ingest::tokens::{stamp, units};

/// Words for what lowers short peaks, in lower case; two words stand for two that follow each other.
const FILTER: &str = "low pass|lowpass|lpf|cut off|cutoff|filter|filters|filtered|filtering|smooth|smoothed|smoothing|average|averages|averaged|averaging|avg|\
moving mean|running mean|mean of|bessel|butterworth|resampled|resampling|interpolated|interpolation|\
tiefpass|tiefpassfilter|gefiltert|gefilterte|filterung|filterfrequenz|grenzfrequenz|geglättet|geglättete|glättung|gemittelt|gemittelte|mittelung|mittelwert|\
mittelwertbildung|gleitend|gleitender|interpoliert|\
passe bas|filtre|filtré|filtrée|filtrage|lissé|lissée|lissage|moyenne|moyenné|moyennée|interpolé|interpolée|\
passa basso|passabasso|filtro|filtrato|filtrata|filtraggio|media mobile|mediato|mediata|interpolato|interpolata|\
paso bajo|filtrado|filtrada|media móvil|promedio|promediado|promediada|suavizado|suavizada|interpolado|interpolada";
/// Those that name a filter without saying that there is one: what follows says it.
const NOUNS: &str = "filter|filters|filtering|smoothing|average|averages|averaging|avg|cut off|cutoff|resampling|interpolation|filterung|glättung|mittelung|\
mittelwert|mittelwertbildung|filtre|filtrage|lissage|moyenne|filtro|filtraggio|promedio|low pass|lowpass|lpf|tiefpass|tiefpassfilter|passe bas|passa basso|paso bajo";
/// Those that name a number as well: of a force it is no filter.
const STATISTICS: &str = "average|averages|avg|mean of|mittelwert|moyenne|promedio";
/// After a word for a filter: there is none.
const OFF: &str = "off|none|no|not|0|1|disabled|false|inactive|raw|n a|aus|nein|kein|keine|ohne|inaktiv|non|aucun|aucune|sans|désactivé|désactivée|inactif|spento|nessuno|nessuna|\
senza|disattivato|sin|ninguno|ninguna|desactivado|apagado|inactivo";
/// Before it.
const WITHOUT: &str = "no|without|not|un|kein|keine|ohne|nicht|sans|aucun|aucune|pas|non|senza|nessun|nessuno|nessuna|sin|ningún|ninguna";
/// Between it and what says so.
const BETWEEN: &str = "type|typ|tipo|mode|modus|modo|status|état|stato|estado|setting|einstellung|frequency|frequenz|fréquence|frequenza|frecuencia|order|ordnung|is|ist|est|window|fenster";
/// Words for the greatest force that a logger was set to show.
const RANGE: &str = "range|full scale|fullscale|capacity|max load|messbereich|nennkraft|endwert|kraftbereich|étendue|plage|pleine échelle|capacité|portata|fondo scala|campo di misura|\
alcance|rango|fondo de escala|capacidad";
/// Words of a key whose value is the day of the test.
const DAY: &str =
    "date|day|datum|tag|messdatum|prüfdatum|aufnahmedatum|jour|data|giorno|fecha|día|datetime";
/// Words that may stand beside them.
const OF_DAY: &str = "time|test|tested|measured|measurement|recorded|recording|record|start|started|acquisition|of|on|am|der|und|zeit|uhrzeit|messung|prüfung|de|du|la|le|et|heure|mesure|\
essai|di|del|della|e|ora|misura|prova|y|hora|ensayo|medición|medida";
/// Keys whose value is the serial number of the gauge, once words for a gauge are taken off.
const SERIAL: &str = "serial|serial no|serial number|serial nr|s n|sn|seriennummer|seriennr|serien nr|numéro de série|n de série|no de série|matricola|numero di serie|n di serie|\
número de serie|n de serie|nº de serie|num serie";
const OF_GAUGE: &str = "gauge|force|sensor|cell|load|meter|instrument|capteur|dynamomètre|kraftsensor|kraftaufnehmer|messgerät|sensore|strumento|dinamometro|medidor|dinamómetro|of|the";
/// Words between one for a range and its number.
const NEAR: usize = 8;
/// Rows one after the other from which upwards nothing is below the last row.
const ROWS: usize = 8;
/// Bytes at the end of a log in which remarks are looked for.
const REMARKS: usize = 4096;

/// What the lines of a log say.
#[derive(Clone, Debug, Default)]
pub(in crate::ingest) struct Says {
    /// A filter, a mean, a resampling, in the words of the log.
    pub(in crate::ingest) filter: Option<String>,
    /// Greatest force that the logger was set to show (N).
    pub(in crate::ingest) range_n: Option<f64>,
    /// The day of the test; two where the order of day and month is open.
    pub(in crate::ingest) days: Vec<Date>,
    /// Serial numbers of the gauge.
    pub(in crate::ingest) serials: Vec<String>,
}

impl Says {
    /// A line above the rows or below them, without comment marks, with its key and value.
    pub(in crate::ingest) fn line(&mut self, plain: &str, key: &str, value: &str) {
        let words = Words::of(plain);
        if self.filter.is_none() && words.declare_a_filter() && !are_heads(plain) {
            self.filter = Some(plain.trim().to_owned());
        }
        self.range_n = self.range_n.or_else(|| words.range());
        let key = Words::of(key);
        if key.any(DAY) && key.each(&[DAY, OF_DAY]) {
            self.days.extend(stamp::dates(value));
        }
        let first = value
            .split([';', ',', '\t'])
            .find(|cell| !cell.trim().is_empty());
        if let Some(serial) = first
            .map(str::trim)
            .filter(|_| key.without(OF_GAUGE).is_one_of(SERIAL))
        {
            self.serials.push(serial.trim_matches('"').to_owned());
        }
    }

    /// Remarks below the last row.
    pub(in crate::ingest) fn remarks(&mut self, text: &[u8]) {
        let from = text.len().saturating_sub(REMARKS);
        let mut rows = 0;
        for line in text[from..].rsplit(|byte| *byte == b'\n') {
            let blank = |byte: &&u8| matches!(byte, b' ' | b'\t' | b'"' | b'\r');
            let first = line.iter().find(|byte| !blank(byte));
            if first.is_some_and(|first| first.is_ascii_digit() || matches!(first, b'-' | b'+')) {
                rows += 1;
                if rows == ROWS {
                    return;
                }
                continue;
            }
            rows = 0;
            let line = String::from_utf8_lossy(line);
            let plain = line.trim_start_matches(['#', '%', '!', '*', '/', ' ', '"']);
            let remark = plain.starts_with(char::is_alphabetic);
            if remark && self.filter.is_none() && Words::of(plain).declare_a_filter() {
                self.filter = Some(plain.trim().to_owned());
            }
        }
    }

    /// Whether a head says that its column is filtered.
    pub(in crate::ingest) fn head(&mut self, head: &str) {
        let words = Words::of(head);
        if self.filter.is_none() && words.declare_a_filter() {
            self.filter = Some(head.to_owned());
        }
    }
}

/// Whether a line has the heads of columns: of each its own column says whether it is filtered.
fn are_heads(line: &str) -> bool {
    let cells = line.split([';', ',', '\t']).map(|cell| {
        let bare = cell.split(['(', '[']).next().unwrap_or_default();
        words::named(bare.trim_matches(['"', ' ']))
    });
    cells.filter(|named| *named != Named::Unknown).count() > 1
}

/// The words of a line.
struct Words {
    /// As they stand; numbers with their decimals.
    as_written: Vec<String>,
    /// In lower case.
    lower: Vec<String>,
    /// Whether nothing follows the mark after its key.
    ends_open: bool,
}

impl Words {
    fn of(line: &str) -> Self {
        let mut as_written: Vec<String> = Vec::new();
        let mut inside = false;
        let all: Vec<char> = line.chars().collect();
        for (at, c) in all.iter().enumerate() {
            let digit = |at: Option<usize>| {
                at.and_then(|at| all.get(at))
                    .is_some_and(char::is_ascii_digit)
            };
            let mark = matches!(c, '.' | ',') && digit(at.checked_sub(1)) && digit(Some(at + 1));
            let unit = c.is_alphabetic() && inside && digit(at.checked_sub(1));
            if !c.is_alphanumeric() && !mark {
                inside = false;
                continue;
            }
            match as_written.last_mut() {
                Some(word) if inside && !unit => word.push(*c),
                _ => as_written.push(c.to_string()),
            }
            inside = true;
        }
        Self {
            lower: as_written.iter().map(|word| word.to_lowercase()).collect(),
            as_written,
            ends_open: line.trim_end().ends_with([':', '=', ';', ',', '\t']),
        }
    }

    /// The places at which one of the phrases ends, each with the phrase and its first place.
    fn find<'a>(&'a self, phrases: &'a str) -> impl Iterator<Item = (&'a str, usize, usize)> + 'a {
        (0..self.lower.len()).flat_map(move |at| {
            phrases.split('|').filter_map(move |phrase| {
                let count = phrase.split(' ').count();
                let here = self.lower.get(at..at + count)?;
                let same = here.iter().map(String::as_str).eq(phrase.split(' '));
                same.then_some((phrase, at, at + count))
            })
        })
    }

    fn any(&self, phrases: &str) -> bool {
        self.find(phrases).next().is_some()
    }

    fn each(&self, lists: &[&str]) -> bool {
        let known = |word: &String| lists.iter().any(|list| holds(list, word));
        self.lower.iter().all(known)
    }

    fn without(&self, phrases: &str) -> Self {
        let kept = |word: &&String| !holds(phrases, word);
        Self {
            as_written: Vec::new(),
            lower: self.lower.iter().filter(kept).cloned().collect(),
            ends_open: false,
        }
    }

    fn is_one_of(&self, phrases: &str) -> bool {
        holds(phrases, &self.lower.join(" "))
    }

    fn declare_a_filter(&self) -> bool {
        self.find(FILTER).any(|(phrase, from, to)| {
            let before = from.checked_sub(1).map(|at| &self.lower[at]);
            let after = &self.lower[to..];
            let passed = |word: &String| holds(BETWEEN, word) || holds(FILTER, word);
            let next = after.iter().position(|word| !passed(word));
            let off = match next.map(|at| &after[at..]) {
                // The mean of so many values is written with the word for off.
                Some([word, number, ..]) if word == "aus" => number.parse::<f64>().is_err(),
                Some(words) => holds(OFF, &words[0]),
                None => holds(NOUNS, phrase) && self.ends_open,
            };
            let denied = before.is_some_and(|word| holds(WITHOUT, word));
            let result = holds(STATISTICS, phrase) && self.tells_a_force(to);
            !(off || denied || result)
        })
    }

    /// Whether a number with decimals or a unit of force follows: then a mean is a result.
    fn tells_a_force(&self, from: usize) -> bool {
        let rest = &self.as_written[from..];
        rest.iter().any(|word| {
            let decimals =
                word.contains(['.', ',']) && word.starts_with(|c: char| c.is_ascii_digit());
            decimals || units::force_unit(word).is_some()
        })
    }

    /// A number and a unit of force after a word for a range.
    fn range(&self) -> Option<f64> {
        let (_, _, from) = self.find(RANGE).next()?;
        let mut greatest = None;
        for word in self.as_written[from..].iter().take(NEAR) {
            if let Some(unit) = units::force_unit(word) {
                return greatest.map(|number: f64| number * unit.newtons());
            }
            let plain = word.parse().ok().filter(|number: &f64| *number > 0.0);
            greatest = plain.or(greatest);
        }
        None
    }
}

fn holds(phrases: &str, phrase: &str) -> bool {
    phrases.split('|').any(|one| one == phrase)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn says(line: &str) -> Says {
        let mut says = Says::default();
        let (key, value) = line.split_once([':', ';', '=']).unwrap_or((line, ""));
        says.line(line, key, value);
        says
    }

    #[test]
    fn a_filter_is_known_in_five_languages_and_one_that_is_off_is_none() {
        for line in [
            "Low-pass: 20 Hz",
            "LPF 20 Hz",
            "Cut-off frequency: 10 Hz",
            "Filter: Butterworth, 4th order",
            "smoothed over 5 samples",
            "moving average: 5",
            "Averaging = 8",
            "mean of 4",
            "Bessel 2nd order",
            "resampled to 1000 Hz",
            "Tiefpass;20 Hz",
            "gefiltert mit 20 Hz",
            "Glättung: 5",
            "Mittelwert aus 4 Werten",
            "passe-bas 20 Hz",
            "Signal filtré",
            "lissé sur 5 points",
            "moyenne mobile : 5",
            "filtro passa-basso: 20 Hz",
            "media mobile 5",
            "Filtro: paso bajo 20 Hz",
            "media móvil 5",
            "señal filtrada",
            "Filter type: low-pass",
        ] {
            assert!(says(line).filter.is_some(), "{line}");
        }
        for line in [
            "Filter: off",
            "Filter: none",
            "Filter = 0",
            "Filter:",
            "Low-pass: off",
            "Filter type: none",
            "Cut-off frequency: 0 Hz",
            "no filter",
            "Tiefpass: aus",
            "ohne Filter",
            "Filtre : aucun",
            "sans filtre",
            "Filtro: nessuno",
            "sin filtro",
            "unfiltered",
            "ungefiltert",
            "Average force: 123.4 N",
            "Mittelwert;45,2",
            "Averaging: 1",
            "Operator: A. Fennimore",
        ] {
            assert_eq!(says(line).filter, None, "{line}");
        }
    }

    #[test]
    fn range_day_and_serial_are_read_from_their_words() {
        assert_eq!(says("yard, gap 50 mm; range 2000 N").range_n, Some(2000.0));
        assert_eq!(says("Messbereich: 0 ... 0,5 kN").range_n, None);
        assert_eq!(says("Messbereich: 0 - 500N").range_n, Some(500.0));
        assert_eq!(says("Range: 50 Hz").range_n, None);
        assert_eq!(
            says("Datum; 31.03.2026").days,
            [jiff::civil::date(2026, 3, 31)]
        );
        assert_eq!(says("Date/Time: 2026-03-31 10:15").days.len(), 1);
        assert_eq!(says("Test date: 3/4/2026").days.len(), 2);
        assert!(says("Calibration date: 2025-03-31").days.is_empty());
        assert_eq!(says("Gauge S/N: QO-7").serials, ["QO-7"]);
        assert_eq!(says("Seriennummer; 12 345").serials, ["12 345"]);
        assert!(says("Logger serial: 7").serials.is_empty());
    }
}
