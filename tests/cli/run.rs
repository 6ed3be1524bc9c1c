//! Running the program as a user does, in a folder of its own.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::{Mutex, OnceLock};

use relent::impact::demo::DemoFile;
use tempfile::TempDir;

/// What a run left behind.
pub struct Ran {
    pub status: i32,
    pub out: String,
    pub err: String,
}

/// Runs `relent` with these arguments in a folder, not on a terminal.
pub fn relent(folder: &Path, arguments: &[&str]) -> Ran {
    let output = Command::new(env!("CARGO_BIN_EXE_relent"))
        .args(arguments)
        .current_dir(folder)
        .output()
        .unwrap();
    Ran {
        status: output.status.code().unwrap(),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

/// The files of the demo gate, computed once.
pub fn demo() -> &'static [DemoFile] {
    static FILES: OnceLock<Vec<DemoFile>> = OnceLock::new();
    FILES.get_or_init(|| relent::impact::demo::files().unwrap())
}

/// A copy of one visit of the demo gate, in a folder that goes away with the test.
pub fn visit(name: &str) -> (TempDir, PathBuf) {
    let home = tempfile::tempdir().unwrap();
    for file in demo() {
        if let Some(inner) = file.path.strip_prefix(&format!("{name}/")) {
            let path = home.path().join("gate").join(inner);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, &file.bytes).unwrap();
        }
    }
    let folder = home.path().join("gate");
    (home, folder)
}

/// Files of a folder with what is in them.
type Files = Vec<(PathBuf, Vec<u8>)>;

/// A copy of a visit with its sealed record, which is made once.
pub fn sealed(name: &str) -> (TempDir, PathBuf) {
    static VISITS: Mutex<BTreeMap<String, Files>> = Mutex::new(BTreeMap::new());
    let mut visits = VISITS.lock().unwrap();
    let files = visits.entry(name.to_owned()).or_insert_with(|| {
        let (_home, gate) = visit(name);
        let ran = relent(&gate, &["assess", ".", "--seal"]);
        assert!(ran.status <= 1, "{}", ran.err);
        below(&gate)
            .into_iter()
            .map(|inner| (inner.clone(), fs::read(gate.join(inner)).unwrap()))
            .collect()
    });
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("gate");
    for (inner, bytes) in files {
        let path = folder.join(inner);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }
    (home, folder)
}

/// The files below a folder, from it.
fn below(folder: &Path) -> Vec<PathBuf> {
    let entries = walkdir::WalkDir::new(folder).into_iter();
    entries
        .map(Result::unwrap)
        .filter(|entry| entry.file_type().is_file())
        .map(|entry| entry.path().strip_prefix(folder).unwrap().to_owned())
        .collect()
}

/// Changes the text of a file; the old text must be there.
pub fn edit(path: &Path, old: &str, new: &str) {
    let text = fs::read_to_string(path).unwrap();
    assert!(
        text.contains(old),
        "{} does not contain {old:?}",
        path.display()
    );
    fs::write(path, text.replacen(old, new, 1)).unwrap();
}

/// The names in a folder, in order.
pub fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

/// Holds what a user is told against `complaints/<name>.snap`; digests, which depend on the machine, are written as `<digest>`.
pub fn snapshot(name: &str, text: &str) {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("complaints");
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    let text = without_digests(text);
    settings.bind(|| insta::assert_snapshot!(name, text.trim_end()));
}

fn without_digests(text: &str) -> String {
    let is_digest = |word: &str| word.len() == 64 && word.bytes().all(|it| it.is_ascii_hexdigit());
    let mut out = String::new();
    for part in text.split_inclusive(|letter: char| !letter.is_ascii_alphanumeric()) {
        let word = part.trim_end_matches(|letter: char| !letter.is_ascii_alphanumeric());
        if is_digest(word) {
            out += "<digest>";
            out += &part[word.len()..];
        } else {
            out += part;
        }
    }
    out
}
