//! Laws of the checks before a gate is driven and of the pull by hand: nothing unanswered is ever good, and a doubtful record
//! never shows that a rating was kept.

use proptest::prelude::*;
use relent::gate::{self, GateFile};
use relent::limits::{Direction, Hazard, TestPoint};
use relent::readiness::{
    Answer, CheckState, Checked, PullError, PullSettings, Readiness, Unit, built_in, parse, pull,
    readiness,
};
use relent::trace::{Lost, Trace};

fn gate(answers: &str) -> GateFile {
    let text = format!(
        "schema = 'relent.gate/1'\n[gate]\nname = 'yard'\nmotion = 'sliding'\nleaf_mass_kg = 320\n[drive]\nrated_mass_kg = 500\n\
         [assessment]\nprofile = 'en12453-2017'\ndecision = 'simple'\n[readiness.answers]\n{answers}"
    );
    gate::read(text.as_bytes()).unwrap().file
}

fn held(answers: &str) -> Readiness {
    readiness(&gate(answers), built_in())
}

fn state(answers: &str, name: &str) -> CheckState {
    let readiness = held(answers);
    assert!(readiness.errors.is_empty(), "{:?}", readiness.errors);
    find(&readiness, name).state()
}

fn find<'a>(readiness: &'a Readiness, name: &str) -> &'a Checked {
    let mut checks = readiness.checks.iter();
    checks
        .find(|checked| checked.check.name == name)
        .expect(name)
}

#[test]
fn a_check_without_an_answer_is_not_checked_and_the_whole_never_in_order() {
    let readiness = held("");
    assert_eq!(readiness.overall(), CheckState::NotChecked);
    for checked in &readiness.checks {
        let given = checked.check.name == "leaf-mass";
        let expected = if given {
            CheckState::InOrder
        } else {
            CheckState::NotChecked
        };
        assert_eq!(checked.state(), expected, "{}", checked.check.name);
    }
    assert_eq!(Readiness::default().overall(), CheckState::NotChecked);
}

#[test]
fn all_answered_is_in_order_and_a_single_wrong_one_decides() {
    let all = held("");
    let good: Vec<(String, String)> = all
        .checks
        .iter()
        .filter(|checked| checked.check.given_by.is_none())
        .map(|checked| {
            let check = &checked.check;
            let value = check.at_least.or(check.at_most).unwrap_or(1.0);
            let answer = check
                .unit
                .map_or_else(|| "true".to_owned(), |unit| format!("'{value} {unit}'"));
            (check.name.clone(), answer)
        })
        .collect();
    let text = |changed: Option<usize>| -> String {
        let lines = good.iter().enumerate().map(|(index, (name, answer))| {
            let answer = match changed {
                Some(at) if at == index && answer == "true" => "false",
                Some(at) if at == index => "'9999999 X'",
                _ => answer,
            };
            format!("{name} = {}\n", answer.replace('X', "mm"))
        });
        lines.collect()
    };
    assert_eq!(held(&text(None)).overall(), CheckState::InOrder);
    let mut wrong = 0;
    for (index, (_, answer)) in good.iter().enumerate() {
        let overall = held(&text(Some(index))).overall();
        assert_ne!(overall, CheckState::InOrder);
        if answer == "true" {
            assert_eq!(overall, CheckState::NotInOrder);
            wrong += 1;
        }
    }
    assert!(wrong > 15, "{wrong}");
}

#[test]
fn values_are_held_against_what_is_permitted_in_any_unit_of_their_kind() {
    let cases = [
        ("pull-to-start", "19.999 kgf", CheckState::InOrder),
        ("pull-to-start", "20 kgf", CheckState::NotInOrder), // below the rating, not at it
        ("pull-to-start", "196 N", CheckState::InOrder),     // 19.986 kgf
        ("pull-to-start", "197 N", CheckState::NotInOrder),
        ("lift-of-closed-leaf", "5 mm", CheckState::InOrder), // at most
        ("lift-of-closed-leaf", "5.0001 mm", CheckState::NotInOrder),
        ("lift-of-closed-leaf", "0,4 cm", CheckState::InOrder),
        ("rack-clearance-least", "1.9 mm", CheckState::NotInOrder),
        ("rack-clearance-greatest", "2.5 mm", CheckState::InOrder),
        ("isolator-within-reach", "900 mm", CheckState::InOrder),
        ("isolator-within-reach", "1.2 m", CheckState::NotInOrder),
        ("beam-height", "250 mm", CheckState::NotInOrder),
        ("lighting", "50 lux", CheckState::InOrder),
        (
            "lighting",
            "not applicable: no public",
            CheckState::NotApplicable,
        ),
        (
            "guide-rollers",
            "no: lower one loose",
            CheckState::NotInOrder,
        ),
        ("guide-rollers", "yes", CheckState::InOrder),
        ("leaf-mass", "501 kg", CheckState::NotInOrder),
    ];
    for (name, answer, expected) in cases {
        assert_eq!(
            state(&format!("{name} = '{answer}'"), name),
            expected,
            "{name} = {answer}"
        );
    }
}

#[test]
fn an_answer_that_is_none_is_named_and_counts_as_not_given() {
    let cases = [
        ("pull-to-start", "9.5"),
        ("pull-to-start", "'9.5'"),
        ("pull-to-start", "'9.5 mm'"),
        ("pull-to-start", "'-3 kgf'"),
        ("pull-to-start", "'1.234,5 N'"),
        ("pull-to-start", "'… kgf'"),
        ("pull-to-start", "true"),
        ("pull-to-start", "'not applicable'"), // without a reason
        ("guide-rollers", "'yes or no'"),
        ("guide-rollers", "'fine'"),
        ("guide-rollers", "1"),
    ];
    for (name, answer) in cases {
        let readiness = held(&format!("{name} = {answer}"));
        assert_eq!(readiness.errors.len(), 1, "{name} = {answer}");
        assert_eq!(
            find(&readiness, name).answer,
            Answer::None,
            "{name} = {answer}"
        );
        assert_ne!(readiness.overall(), CheckState::InOrder);
    }
    assert_eq!(held("guide-roller = true").errors.len(), 1, "no such check");
    assert_eq!(
        held("hinges = true").errors.len(),
        1,
        "not for a sliding leaf"
    );
}

#[test]
fn a_rating_that_nobody_gave_leaves_the_check_open() {
    let text = "schema = 'relent.gate/1'\n[gate]\nname = 'yard'\nmotion = 'sliding'\nleaf_mass_kg = 320\n[assessment]\nprofile = 'en12453-2017'\n\
        decision = 'simple'\n[readiness.answers]\npull-to-start = '1 kgf'\n";
    let readiness = readiness(&gate::read(text.as_bytes()).unwrap().file, built_in());
    for name in ["pull-to-start", "leaf-mass"] {
        assert_eq!(
            find(&readiness, name).state(),
            CheckState::NotChecked,
            "{name}"
        );
    }
}

#[test]
fn checks_of_ones_own_come_after_the_built_in_ones_and_faults_are_named() {
    let own = "[[check]]\nname = 'loop'\nquestion = 'Does the loop in the ground act?'\nreference = 'our own'\nsource = 'chosen'\n";
    let all = parse("checks.toml", own, built_in()).unwrap();
    assert_eq!(all.len(), built_in().len() + 1);
    let faults = [
        (format!("{own}unit = 'mm'\n"), "needs a unit and a limit"),
        (format!("{own}at_most = 3\n"), "needs a unit and a limit"),
        (
            format!("{own}unit = 'mm'\nat_most = nan\n"),
            "no finite number",
        ),
        (format!("{own}{own}"), "two checks are named"),
        (own.replace("loop'", "slope'"), "two checks are named"),
        (format!("{own}at_mots = 3\n"), "at_mots"),
        (
            own.replace("question = 'Does the loop in the ground act?'\n", ""),
            "has no question",
        ),
    ];
    for (text, expected) in faults {
        let error = parse("checks.toml", &text, built_in())
            .unwrap_err()
            .to_string();
        assert!(
            error.starts_with("checks.toml: ") && error.contains(expected),
            "{error}"
        );
        assert!(!error.contains('\n'), "{error}");
    }
}

/// 40 samples a second: quiet, a start of 180 N, then 100 N with a place of 170 N between 3 m and 3.5 m of 5 m.
fn pulled() -> Trace {
    let count = 401;
    let times: Vec<f64> = (0..count).map(|k| f64::from(k) / 40.0).collect();
    let position: Vec<f64> = (0..count)
        .map(|k| f64::from((k - 20).max(0)) / 380.0 * 5000.0)
        .collect();
    let forces: Vec<f64> = (0..count)
        .map(|k| match (k, position[k as usize]) {
            (0..20, _) => 0.0,
            (20..24, _) => 180.0,
            (_, at) if (3000.0..=3500.0).contains(&at) => 170.0,
            _ => 100.0,
        })
        .collect();
    let mut trace = Trace::new(times, forces).unwrap();
    trace.position_mm = Some(position.into());
    trace
}

const SETTINGS: PullSettings = PullSettings {
    start: 100.0,
    binds_above: 1.5,
};

#[test]
fn a_pull_shows_its_start_its_steady_force_and_where_it_binds() {
    let found = pull(&pulled(), SETTINGS).unwrap();
    assert_eq!(found.break_away.get(), 180.0);
    assert_eq!(found.steady.get(), 100.0);
    assert_eq!(found.greatest.get(), 170.0);
    let [bind] = &found.binds[..] else {
        panic!("{:?}", found.binds)
    };
    assert!((3000.0..3014.0).contains(&bind.along.start), "{bind:?}");
    assert!((3486.0..=3500.0).contains(&bind.along.end), "{bind:?}");
    assert!(found.lower_bound.is_empty());
}

#[test]
fn a_pull_that_misses_its_start_or_rows_says_so() {
    let whole = pulled();
    let (times, forces) = (whole.times().to_vec(), whole.forces().to_vec());
    let late = Trace::new(times[22..].to_vec(), forces[22..].to_vec()).unwrap();
    let settings = PullSettings {
        start: 0.2,
        ..SETTINGS
    };
    assert_eq!(pull(&late, settings).unwrap().lower_bound.len(), 1);
    let mut holed = pulled();
    holed.lost.push(Lost {
        after: Some(30),
        line: 32,
        text: "-".to_owned(),
    });
    assert_eq!(pull(&holed, SETTINGS).unwrap().lower_bound.len(), 1);
    let flat = Trace::new(vec![0.0, 1.0, 2.0], vec![0.0, -5.0, 0.0]).unwrap();
    assert_eq!(pull(&flat, settings), Err(PullError::NoPull));
    let short = PullSettings {
        start: 6000.0,
        ..SETTINGS
    };
    assert!(matches!(
        pull(&pulled(), short),
        Err(PullError::TooShort { .. })
    ));
    for bad in [
        PullSettings {
            start: f64::NAN,
            ..SETTINGS
        },
        PullSettings {
            binds_above: 1.0,
            ..SETTINGS
        },
    ] {
        assert!(matches!(
            pull(&pulled(), bad),
            Err(PullError::BadSetting { .. })
        ));
    }
}

proptest! {
    #[test]
    fn no_text_becomes_a_value_without_a_unit(text in "[0-9.,+-]{0,8}") {
        prop_assert_eq!(Unit::read(&text), None);
    }

    #[test]
    fn a_value_is_read_as_it_is_written(value in 0.0_f64..1e6, unit in prop::sample::select(Unit::ALL.to_vec())) {
        prop_assert_eq!(Unit::read(&format!("{value} {unit}")), Some((value, unit)));
        prop_assert_eq!(Unit::read(&format!("{}{unit}", value.to_string().replace('.', ","))), Some((value, unit)));
    }

    #[test]
    fn the_name_of_a_hit_is_read_back_as_that_hit(
        gap_mm in 1.0_f64..4000.0, height_mm in 1.0_f64..4000.0, repeat in 1_u32..200,
        pattern in prop::sample::select(vec!["{direction}-{hazard}-{gap}-{height}-{repeat}", "t_{repeat}_{gap} x {height} {direction}.csv", "{direction}-{gap}-{height}"]),
        hazard in prop::sample::select(Hazard::ALL.to_vec()), direction in prop::sample::select(Direction::ALL.to_vec()),
    ) {
        let point = TestPoint { direction, hazard, gap_mm, height_mm };
        let named = gate::Pattern::parse(pattern).unwrap().name_of(&point, repeat);
        let can_say = (hazard == Hazard::ClosingEdge || pattern.contains("{hazard}")) && (repeat == 1 || pattern.contains("{repeat}"));
        prop_assert_eq!(named.is_some(), can_say);
        if let Some(name) = named {
            let logs = gate::LogsSection { names: Some(pattern.to_owned()), ..Default::default() };
            let placed = gate::names::place(&[name], &logs, &gate("").gate).unwrap();
            prop_assert_eq!((placed.hits[0].point, placed.hits[0].repeat), (point, repeat));
        }
    }
}
