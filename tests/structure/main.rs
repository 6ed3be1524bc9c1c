//! Is the house in order? The order of the modules, the top level, test files that nothing reaches, and words that do not
//! belong.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    unreachable_pub
)]

mod circles;
#[cfg(target_os = "linux")]
mod dependencies;
mod fixtures;
mod source;
mod words;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

const ROOT: &str = env!("CARGO_MANIFEST_DIR");

/// What may stand at the top level of the repository; `target` and `.git` come and go with the work.
const TOP_LEVEL: [&str; 11] = [
    ".ci",
    ".gitignore",
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "fixtures",
    "reports",
    "src",
    "tests",
];

fn files_below(folder: &Path, extension: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files_below(&path, extension));
        } else if path.extension().is_some_and(|it| it == extension) {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// The modules of `src/lib.rs`, in the order in which it declares them: the order of the pipeline.
fn pipeline() -> Vec<String> {
    let library = fs::read_to_string(Path::new(ROOT).join("src/lib.rs")).unwrap();
    library
        .lines()
        .filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';'))
        .map(str::to_owned)
        .collect()
}

fn code_of(path: &Path) -> String {
    let text = fs::read_to_string(path).unwrap();
    text.lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .collect::<Vec<_>>()
        .join("\n")
}

#[test]
fn a_module_uses_only_those_above_it() {
    let order = pipeline();
    assert!(order.len() >= 14, "lib.rs declares {} modules", order.len());
    let mut wrong = Vec::new();
    for (place, module) in order.iter().enumerate() {
        let source = Path::new(ROOT).join("src");
        let folder = source.join(module);
        let files = if folder.is_dir() {
            files_below(&folder, "rs")
        } else {
            vec![source.join(format!("{module}.rs"))]
        };
        for file in files {
            let code = code_of(&file);
            for below in &order[place + 1..] {
                if code.contains(&format!("crate::{below}::"))
                    || code.contains(&format!("crate::{{{below}"))
                {
                    wrong.push(format!(
                        "{} uses {below}, which stands below {module}",
                        file.display()
                    ));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn only_the_edges_open_files_read_the_clock_or_print() {
    let edges = ["archive", "cli", "record", "visit"];
    let forbidden = [
        "std::fs",
        "File::open",
        "println!",
        "eprintln!",
        "SystemTime",
        "Zoned::now",
        "std::env",
    ];
    let mut wrong = Vec::new();
    for file in files_below(&Path::new(ROOT).join("src"), "rs") {
        let inner = file.strip_prefix(Path::new(ROOT).join("src")).unwrap();
        let module = inner
            .components()
            .next()
            .unwrap()
            .as_os_str()
            .to_string_lossy()
            .replace(".rs", "");
        if edges.contains(&module.as_str()) || ["main", "build"].contains(&module.as_str()) {
            continue;
        }
        let code = code_of(&file);
        wrong.extend(
            forbidden
                .iter()
                .filter(|it| code.contains(**it))
                .map(|it| format!("{}: {it}", inner.display())),
        );
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_top_level_holds_what_it_should_and_nothing_else() {
    // What the commands of the README leave behind is not kept, and says so here.
    let ignored = fs::read_to_string(Path::new(ROOT).join(".gitignore")).unwrap();
    let passing =
        |name: &String| name == ".git" || ignored.lines().any(|line| line == format!("/{name}"));
    let found: BTreeSet<String> = fs::read_dir(ROOT)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .filter(|name| !passing(name))
        .collect();
    let expected: BTreeSet<String> = TOP_LEVEL.iter().map(|name| (*name).to_owned()).collect();
    assert_eq!(found, expected);
}

#[test]
fn every_test_file_is_reached_by_a_mod() {
    let mut lost = Vec::new();
    for file in files_below(&Path::new(ROOT).join("tests"), "rs") {
        let name = file.file_stem().unwrap().to_string_lossy().into_owned();
        let folder = file.parent().unwrap();
        if name == "main"
            || file
                .components()
                .any(|part| ["bench", "fuzz"].contains(&&*part.as_os_str().to_string_lossy()))
        {
            continue;
        }
        let parents = [
            folder.join("main.rs"),
            folder.join("mod.rs"),
            folder.with_extension("rs"),
        ];
        let declaration = format!("mod {name};");
        let is_folder_module = name == "mod";
        let reached = is_folder_module
            || parents.iter().any(|parent| {
                fs::read_to_string(parent).is_ok_and(|text| text.contains(&declaration))
            });
        if !reached {
            lost.push(file.display().to_string());
        }
    }
    assert!(lost.is_empty(), "no `mod` reaches {}", lost.join(", "));
}

#[test]
fn no_module_is_a_drawer() {
    let drawers = [
        "util", "utils", "helper", "helpers", "common", "misc", "manager", "types",
    ];
    let source = Path::new(ROOT).join("src");
    let named: Vec<String> = files_below(&source, "rs")
        .into_iter()
        .flat_map(|file| {
            let inner = file.strip_prefix(&source).unwrap().with_extension("");
            inner
                .components()
                .map(|part| part.as_os_str().to_string_lossy().into_owned())
                .collect::<Vec<_>>()
        })
        .filter(|part| drawers.contains(&part.as_str()))
        .collect();
    assert!(named.is_empty(), "{}", named.join(", "));
}

#[test]
fn no_test_is_ignored() {
    let marker = concat!("#[", "ignore");
    let ignored: Vec<String> = files_below(&Path::new(ROOT).join("tests"), "rs")
        .into_iter()
        .filter(|file| fs::read_to_string(file).unwrap().contains(marker))
        .map(|file| file.display().to_string())
        .collect();
    assert!(ignored.is_empty(), "{}", ignored.join(", "));
}
