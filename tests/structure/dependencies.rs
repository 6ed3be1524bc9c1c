//! What relent is built from: licences, sources and versions of every crate, as cargo knows them without a network.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::process::Command;

use serde_json::Value;

use crate::ROOT;

/// Licences under which a crate may come. Of alternatives one must be here; of licences that hold together all.
const LICENCES: [&str; 8] = [
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-3-Clause",
    "BSL-1.0",
    "MIT",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// The one place that crates come from.
const REGISTRY: &str = "registry+https://github.com/rust-lang/crates.io-index";

/// Crates of which two versions are built, since crates that use them do not agree.
const TWICE: [&str; 2] = ["glam", "syn"];

/// The crates of an ordinary build and its tests, but for relent itself.
fn crates() -> Vec<Value> {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--offline", "--locked"])
        .args(["--filter-platform", "x86_64-unknown-linux-gnu"])
        .current_dir(ROOT)
        .output()
        .unwrap();
    let told = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{told}");
    let metadata: Value = serde_json::from_slice(&output.stdout).unwrap();
    let all = metadata["packages"].as_array().unwrap();
    let crates = all.iter().filter(|it| it["name"] != "relent");
    crates.cloned().collect()
}

fn text<'a>(of: &'a Value, key: &str) -> &'a str {
    of[key].as_str().unwrap_or_default()
}

fn is_allowed(licence: &str) -> bool {
    let one = |alternatives: &str| {
        let alternatives = alternatives.trim_matches(['(', ')']).replace('/', " OR ");
        alternatives
            .split(" OR ")
            .any(|it| LICENCES.contains(&it.trim()))
    };
    licence.split(" AND ").all(one)
}

#[test]
fn every_crate_has_a_licence_that_is_allowed_and_comes_from_the_registry() {
    for found in crates() {
        let (name, licence) = (text(&found, "name"), text(&found, "license"));
        assert!(is_allowed(licence), "{name}: {licence}");
        assert_eq!(text(&found, "source"), REGISTRY, "{name}");
    }
}

#[test]
fn no_other_crate_is_built_in_two_versions() {
    let mut versions: BTreeMap<String, usize> = BTreeMap::new();
    for found in crates() {
        *versions.entry(text(&found, "name").to_owned()).or_default() += 1;
    }
    let twice = versions.iter().filter(|(_, count)| **count > 1);
    let twice: Vec<&str> = twice.map(|(name, _)| name.as_str()).collect();
    assert_eq!(twice, TWICE);
}

#[test]
fn the_list_of_third_party_crates_is_fresh() {
    let mut list = String::from(
        "# Third-party crates\n\n\
        What an ordinary build of relent and its tests take from others, on Linux; each crate's own files have the full text of its licence. Written by\n\
        `RELENT_BLESS=1 cargo test --test structure dependencies`; the test fails when this file is stale.\n\n\
        | crate | version | licence | source |\n|---|---|---|---|\n",
    );
    let mut crates = crates();
    crates.sort_by_key(|found| {
        (
            text(found, "name").to_owned(),
            text(found, "version").to_owned(),
        )
    });
    for found in crates {
        let cells = ["name", "version", "license", "repository"].map(|key| text(&found, key));
        writeln!(list, "| {} |", cells.join(" | ")).unwrap();
    }
    let path = format!("{ROOT}/reports/third-party.md");
    if std::env::var_os("RELENT_BLESS").is_some() {
        fs::write(&path, &list).unwrap();
    }
    assert!(
        fs::read_to_string(&path).is_ok_and(|kept| kept == list),
        "reports/third-party.md is stale: run RELENT_BLESS=1 cargo test --test structure dependencies"
    );
}
