//! The visit in progress, whichever hits are there: what is told of it agrees with the assessment of the same logs.

use std::sync::OnceLock;

use proptest::prelude::*;
use relent::fact::Fact;
use relent::gate::{self, GateFile, names};
use relent::impact::demo;
use relent::ingest::Answers;
use relent::limitation::{EarlierLog, Original};
use relent::limits::{Profile, profile};
use relent::readiness::{built_in, readiness};
use relent::report::assessment_json;
use relent::report::live::{self, Live, Repeat, Todo};
use relent::verdict::Verdict;
use relent::visit::{self, Hit, Log};

use crate::report_gate::english;

struct Visit {
    gate: GateFile,
    profile: Profile,
    logs: Vec<Log>,
    hits: Vec<Hit>,
}

/// The demo's first visit, which has a place over the limit and poor records, each log measured once.
fn visit() -> &'static Visit {
    static VISIT: OnceLock<Visit> = OnceLock::new();
    VISIT.get_or_init(|| {
        let files = demo::files().unwrap();
        let of = |path: &str| files.iter().find(|file| file.path == path).unwrap();
        let gate = gate::read(&of("visit-1/gate.toml").bytes).unwrap().file;
        let profile = profile(&gate.assessment.profile).unwrap();
        let inner = files
            .iter()
            .filter_map(|file| file.path.strip_prefix("visit-1/logs/"));
        let names: Vec<&str> = inner.collect();
        let placed = names::place(&names, gate.logs.as_ref().unwrap(), &gate.gate).unwrap();
        let logs: Vec<Log> = placed
            .hits
            .into_iter()
            .map(|hit| Log {
                bytes: Ok(of(&format!("visit-1/logs/{}", hit.file)).bytes.clone()),
                file: hit.file,
                point: hit.point,
                repeat: hit.repeat,
            })
            .collect();
        let measure = |log: &Log| visit::measure(log.clone(), &gate, &profile, &Answers::default());
        let hits = logs.iter().map(measure).collect();
        Visit {
            gate,
            profile,
            logs,
            hits,
        }
    })
}

fn live(hits: Vec<Hit>, earlier: &[EarlierLog]) -> Live {
    let visit = visit();
    let last = hits.last().map(|hit| hit.file.clone());
    Live {
        assessment: visit::of_hits(
            visit.gate.clone(),
            visit.profile.clone(),
            hits,
            earlier,
            readiness(&visit.gate, built_in()),
        ),
        coming: Vec::new(),
        listed: Vec::new(),
        unplaced: Vec::new(),
        faults: Vec::new(),
        remarks: Vec::new(),
        last,
    }
}

/// The hits of a mask, the first of them copied under the name of the second where a copy is asked for.
fn some(mask: u32, copied: Option<usize>) -> Vec<Hit> {
    let hits = &visit().hits;
    let mut kept: Vec<Hit> = (0..hits.len())
        .filter(|at| mask & (1 << at) != 0)
        .map(|at| hits[at].clone())
        .collect();
    if let (Some(to), Some(first)) = (copied, kept.first().cloned())
        && to > 0
        && to < kept.len()
    {
        kept[to].measurement = first.measurement;
        kept[to].sha256 = first.sha256;
    }
    kept
}

#[test]
fn hits_measured_one_by_one_are_assessed_as_the_logs_at_once() {
    let visit = visit();
    let answers = Answers::default();
    let whole = visit::assess(
        visit.gate.clone(),
        visit.profile.clone(),
        visit.logs.clone(),
        &answers,
        &[],
        readiness(&visit.gate, built_in()),
    );
    let one_by_one = live(visit.hits.clone(), &[]).assessment;
    assert_eq!(
        assessment_json(english(), &whole).unwrap(),
        assessment_json(english(), &one_by_one).unwrap()
    );
}

#[test]
fn the_demo_has_its_poor_records_to_make_again_and_its_forgotten_place_to_make() {
    let live = live(visit().hits.clone(), &[]);
    let again: Vec<(String, String)> = live
        .todo()
        .into_iter()
        .filter_map(|todo| match todo {
            Todo::Again { file, why, .. } => match &why[0] {
                Repeat::Limited { limitation } => Some((file, limitation.code())),
                other @ Repeat::Unread { .. } => panic!("{other:?}"),
            },
            Todo::Make { .. } => None,
        })
        .collect();
    let expected = [
        ("closing-50-1500-3.txt", "ends-early"),
        ("closing-300-900-2.csv", "flat-top"),
    ];
    assert_eq!(
        again,
        expected.map(|(file, code)| (file.to_owned(), code.to_owned()))
    );
    let names: Vec<String> = live
        .todo()
        .into_iter()
        .filter_map(|todo| match todo {
            Todo::Make { save_as, .. } => save_as,
            Todo::Again { .. } => None,
        })
        .collect();
    assert_eq!(
        names,
        [1, 2, 3].map(|hit| format!("closing-500-1500-{hit}.csv"))
    );
    assert_eq!(live.progress(), (22, 27));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn what_stands_and_what_is_to_do_make_up_what_is_wanted(mask in 0u32..(1 << 24), copied in proptest::option::of(1usize..6)) {
        let live = live(some(mask, copied), &[]);
        let (standing, wanted) = live.progress();
        prop_assert_eq!(standing + live.todo().len(), wanted);
        prop_assert_eq!(wanted, 27);
        let missing: usize = live.assessment.missing.iter().map(|one| one.wanted - one.found).sum();
        let make = live.todo().iter().filter(|todo| matches!(todo, Todo::Make { .. })).count();
        prop_assert_eq!(make, missing);
        prop_assert!(!live.complete());
        prop_assert!(live.assessment.overall().verdict != Verdict::Within);
        prop_assert_eq!(live.next().is_some(), !live.todo().is_empty());
    }

    #[test]
    fn nothing_is_news_twice_and_every_hit_is_told_once_in_plain_words(mask in 1u32..(1 << 24), copied in proptest::option::of(1usize..6)) {
        let hits = some(mask, copied);
        let files: Vec<String> = hits.iter().map(|hit| hit.file.clone()).collect();
        let now = live(hits, &[]);
        let news = live::news(english(), None, &now);
        for file in &files {
            let told = news.iter().filter(|line| line.starts_with(&format!("{file}: "))).count();
            prop_assert_eq!(told, 1, "{}", file);
        }
        prop_assert_eq!(live::news(english(), Some(&now), &now), Vec::<String>::new());
        let page = String::from_utf8(live::page(english(), &now)).unwrap();
        prop_assert!(page.contains(&live::fragment(english(), &now)));
        for text in [news.join("\n"), live::terminal(english(), &now, 100), live::terminal(english(), &now, 30)] {
            for word in ["safe", "complian", "passed"] {
                prop_assert!(!text.contains(word), "{}: {}", word, text);
            }
        }
        for line in news {
            prop_assert!(!line.contains('\n'), "{}", line);
        }
    }

    #[test]
    fn a_log_of_an_earlier_visit_is_always_to_be_made_again(mask in 1u32..(1 << 24), which in 0usize..24) {
        let hits = some(mask, None);
        let hit = &hits[which % hits.len()];
        let earlier = EarlierLog { log: Original { log: "earlier.csv".to_owned(), visited_on: None, folder: Some("../visit-1".to_owned()), alike: None }, print: hit.print.clone().unwrap() };
        let file = hit.file.clone();
        let live = live(hits, &[earlier]);
        let again = live.todo().into_iter().any(|todo| matches!(todo, Todo::Again { file: poor, .. } if poor == file));
        prop_assert!(again, "{}", file);
    }
}
