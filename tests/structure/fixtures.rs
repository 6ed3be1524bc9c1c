//! `fixtures/manifest.toml`: every fixture with its purpose, its origin and its digest.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

/// The whole manifest: one entry a folder.
#[derive(Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct Manifest {
    folder: Vec<Folder>,
}

/// The files that lie directly in one folder.
#[derive(Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct Folder {
    /// From `fixtures/`; empty for `fixtures/` itself.
    path: String,
    purpose: String,
    /// `computed`, `written by hand`, `recorded` or `transcribed`.
    origin: String,
    /// Generator, or source and licence.
    from: String,
    /// SHA-256 of each file by its name.
    files: BTreeMap<String, String>,
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures")
}

/// The digests of the files directly in each folder, by the folder's path from `fixtures/`.
fn found(folder: &Path, into: &mut BTreeMap<String, BTreeMap<String, String>>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if path.is_dir() {
            found(&path, into);
        } else if !(folder == root() && name == "manifest.toml") {
            let inner = folder.strip_prefix(root()).unwrap().display().to_string();
            let digest = relent::ingest::sha256(&fs::read(&path).unwrap());
            into.entry(inner).or_default().insert(name, digest);
        }
    }
}

#[test]
fn every_fixture_is_listed_with_its_origin_and_is_the_file_that_was_listed() {
    let path = root().join("manifest.toml");
    let mut manifest: Manifest = toml::from_str(&fs::read_to_string(&path).unwrap()).unwrap();
    let mut lying = BTreeMap::new();
    found(&root(), &mut lying);
    for folder in &manifest.folder {
        for (what, text) in [
            ("purpose", &folder.purpose),
            ("origin", &folder.origin),
            ("from", &folder.from),
        ] {
            assert!(!text.is_empty(), "fixtures/{}: no {what}", folder.path);
        }
    }
    if std::env::var_os("RELENT_BLESS").is_some() {
        for folder in &mut manifest.folder {
            folder.files = lying.get(&folder.path).cloned().unwrap_or_default();
        }
        fs::write(&path, toml::to_string(&manifest).unwrap()).unwrap();
    }
    let listed: BTreeMap<String, BTreeMap<String, String>> = manifest
        .folder
        .into_iter()
        .map(|folder| (folder.path, folder.files))
        .collect();
    assert_eq!(
        listed, lying,
        "fixtures/manifest.toml: name a new folder by hand, then run RELENT_BLESS=1 cargo test --test structure"
    );
}
