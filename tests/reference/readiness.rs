//! What is permitted before a gate is driven: the trade's figures and those of public law.

use relent::gate::{self, GateFile};
use relent::limits::{Motion, SourceKind};
use relent::quantity::STANDARD_GRAVITY_M_S2;
use relent::readiness::{Checked, Readiness, built_in, rated_pull, readiness};
use relent::words::{Language, Words};

use crate::check::{Check, Tolerance, hold};

const TRADE: &str = "common practice, no source";
const GUIDANCE: &str = "trade guidance (second-hand)";
const FRANCE: &str = "France, arrêté of 21 December 1993 (read)";

fn gate(rated_mass_kg: f64) -> GateFile {
    let text = format!(
        "schema = 'relent.gate/1'\n[gate]\nname = 'yard'\nmotion = 'sliding'\n[drive]\nrated_mass_kg = {rated_mass_kg:?}\n\
         [assessment]\nprofile = 'en12453-2017'\ndecision = 'simple'\n"
    );
    gate::read(text.as_bytes()).unwrap().file
}

fn found<'a>(readiness: &'a Readiness, name: &str) -> &'a Checked {
    let mut checks = readiness.checks.iter();
    checks
        .find(|checked| checked.check.name == name)
        .expect(name)
}

pub fn checks() -> Vec<Check> {
    let mut out: Vec<Check> = [(300.0, 12.0), (500.0, 20.0)]
        .into_iter()
        .map(|(rated, kgf)| Check {
            what: format!("pull by hand that a drive rated {rated} kg takes"),
            source: TRADE,
            expected: kgf,
            computed: rated_pull(&gate(rated)).unwrap().0.get() / STANDARD_GRAVITY_M_S2,
            unit: "kgf",
            tolerance: Tolerance::Relative(1e-12),
        })
        .collect();
    let all = readiness(&gate(500.0), built_in());
    let least = |name: &str| found(&all, name).check.at_least.unwrap();
    let most = |name: &str| found(&all, name).check.at_most.unwrap();
    let rows = [
        (
            "greatest lift of the closed leaf",
            TRADE,
            5.0,
            most("lift-of-closed-leaf"),
            "mm",
        ),
        (
            "least clearance of the rack",
            TRADE,
            2.0,
            least("rack-clearance-least"),
            "mm",
        ),
        (
            "greatest clearance of the rack",
            TRADE,
            3.0,
            most("rack-clearance-greatest"),
            "mm",
        ),
        (
            "greatest distance of the fixings of the rack",
            TRADE,
            300.0,
            most("rack-fixings"),
            "mm",
        ),
        (
            "greatest distance of the isolator",
            TRADE,
            1.0,
            most("isolator-within-reach"),
            "m",
        ),
        (
            "least height of a light beam",
            GUIDANCE,
            300.0,
            least("beam-height"),
            "mm",
        ),
        (
            "greatest height of a light beam",
            GUIDANCE,
            700.0,
            most("beam-height"),
            "mm",
        ),
        (
            "greatest distance of a light beam from the leaf",
            GUIDANCE,
            200.0,
            most("beam-distance"),
            "mm",
        ),
        (
            "least lighting where the public passes",
            FRANCE,
            50.0,
            least("lighting"),
            "lux",
        ),
        (
            "least flash before motion",
            FRANCE,
            2.0,
            least("flash-before-motion"),
            "s",
        ),
    ];
    out.extend(rows.map(|(what, source, expected, computed, unit)| Check {
        what: what.to_owned(),
        source,
        expected,
        computed,
        unit,
        tolerance: Tolerance::Absolute(0.0),
    }));
    out
}

#[test]
fn the_permitted_values_are_those_of_the_trade_and_of_the_law() {
    hold(&checks(), 12);
}

#[test]
fn every_check_says_how_it_is_known() {
    let all = built_in();
    assert_eq!(all.len(), 31, "the number of built-in checks changed");
    for check in &all {
        let trade = check.reference.starts_with("practice");
        assert_eq!(trade, check.source == SourceKind::Chosen, "{}", check.name);
        let words = Words::of(Language::English);
        assert!(
            words.knows(&format!("check-{}", check.name)),
            "{}",
            check.name
        );
        assert!(
            words.knows(&format!("reference-{}", check.reference)),
            "{}",
            check.reference
        );
        assert!(words.part(check, "why").is_some(), "{}", check.name);
    }
    for motion in Motion::ALL {
        let of = all.iter().filter(|check| check.motions.contains(&motion));
        assert!(of.count() >= 15, "{motion:?}");
    }
}
