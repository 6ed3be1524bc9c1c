//! Laws of the gate file and of the names of its logs.

use proptest::prelude::*;
use relent::cli::complaint::{self, Colours};
use relent::gate::names::{PlaceProblem, place};
use relent::gate::{self, GateSection, LogsSection, Pattern};

/// Every problem says something and stands at a place that is in the text.
fn is_clear(bytes: &[u8]) {
    let Err(error) = gate::read(bytes) else {
        return;
    };
    assert!(!error.problems.is_empty(), "an error without a problem");
    assert!(error.problems.len() <= gate::MOST_PROBLEMS);
    let text = String::from_utf8_lossy(bytes);
    let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
    let lines = text.matches('\n').count() + 1;
    for complaint in complaint::gate_file("gate.toml", &error) {
        assert!(complaint.render(Colours::Plain).starts_with("error: "));
    }
    for problem in &error.problems {
        let said = problem.to_string();
        assert!(!problem.kind.to_string().is_empty(), "{problem:?}");
        assert!(!said.contains('\n'), "{said}");
        assert!((1..=lines).contains(&problem.spot.line), "{said}");
        assert!(text.get(problem.spot.span.clone()).is_some(), "{said}");
        assert!(text.contains(&problem.line), "{said}");
        assert!(problem.line.len() <= 4096, "{said}");
    }
}

/// Lines of the template with some of them changed: near enough to a gate file to reach every check.
fn mangled() -> impl Strategy<Value = String> {
    let lines: Vec<String> = gate::TEMPLATE.lines().map(str::to_owned).collect();
    let odd = prop::sample::select(vec![
        "nan",
        "-inf",
        "1e400",
        "0",
        "-1",
        "'x'",
        "[]",
        "{}",
        "{a = 1}",
        "true",
        "2026-02-30",
        "2026-02-03",
        "2026-02-03T10:00:00Z",
        "\"\"",
        "99999999999999999999",
        "0x7fffffffffffffff",
        "[[1]]",
        "'{gap'",
        "\"\\u00e9{gap}-{height}-{direction}{repeat}\"",
        "",
    ]);
    let edit = (any::<prop::sample::Index>(), odd, any::<bool>());
    prop::collection::vec(edit, 0..6).prop_map(move |edits| {
        let mut lines = lines.clone();
        for (at, value, drop) in edits {
            let at = at.index(lines.len());
            if drop {
                lines.remove(at);
            } else if let Some((key, _)) = lines[at].clone().split_once('=') {
                lines[at] = format!("{key}= {value}");
            }
        }
        lines.join("\n")
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_are_a_gate_file_or_a_clear_error(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        is_clear(&bytes);
    }

    #[test]
    fn any_text_is_a_gate_file_or_a_clear_error(text in "[a-z_.=\\[\\]{}\"'0-9 \n#é-]{0,200}") {
        is_clear(text.as_bytes());
    }

    #[test]
    fn a_changed_template_is_a_gate_file_or_a_clear_error(text in mangled()) {
        is_clear(text.as_bytes());
    }

    #[test]
    fn what_is_read_is_written_and_read_again_alike(text in mangled()) {
        if let Ok(read) = gate::read(text.as_bytes()) {
            let written = toml::to_string(&read.file).unwrap();
            prop_assert_eq!(gate::read(written.as_bytes()).unwrap().file, read.file);
        }
    }

    #[test]
    fn any_text_is_a_pattern_or_an_error_with_its_place(text in "(\\{(gap|height|direction|repeat|hazard|é)\\}|[-é{}/.]|\\PC){0,8}") {
        match Pattern::parse(&text) {
            Ok(pattern) => prop_assert_eq!(pattern.to_string(), text),
            Err(error) => {
                prop_assert!(!error.to_string().is_empty());
                prop_assert!(error.at().is_none_or(|at| text.get(at..).is_some_and(|rest| !rest.is_empty())));
            }
        }
    }

    #[test]
    fn every_file_is_a_hit_or_ignored_or_a_problem(
        files in prop::collection::btree_set("(closing|opening|Closing|x)?-?(50|050|50,0|300)?-(low|half|50|9)?-?[0-9]?(\\.csv|\\.md|\\.txt|)", 0..12),
        pattern in prop::sample::select(vec!["{direction}-{gap}-{height}-{repeat}", "{direction}-{gap}-{height}", "{direction}-{gap}-{height}.csv"]),
    ) {
        let files: Vec<String> = files.into_iter().collect();
        let gate: GateSection = toml::from_str("name='g'\nmotion='sliding'\nleaf_height_mm=1800").unwrap();
        let logs = LogsSection { names: Some(pattern.to_owned()), ..LogsSection::default() };
        let placed = place(&files, &logs, &gate).unwrap();
        let said: Vec<&str> = placed.problems.iter().flat_map(PlaceProblem::files).collect();
        for file in &files {
            let hits = placed.hits.iter().filter(|hit| hit.file == *file).count();
            let ignored = placed.ignored.iter().filter(|name| *name == file).count();
            prop_assert!(hits + ignored <= 1);
            prop_assert!(hits + ignored == 1 || said.contains(&file.as_str()), "{} was passed over", file);
        }
        for pair in placed.hits.windows(2) {
            prop_assert!((pair[0].point, pair[0].repeat) != (pair[1].point, pair[1].repeat));
        }
    }
}
