//! Running the program as a user does, in a folder of its own.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

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

/// A copy of one visit of the demo gate, in a folder that goes away with the test.
pub fn visit(name: &str) -> (TempDir, PathBuf) {
    let home = tempfile::tempdir().unwrap();
    for file in relent::impact::demo::files().unwrap() {
        if let Some(inner) = file.path.strip_prefix(&format!("{name}/")) {
            let path = home.path().join("gate").join(inner);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, file.bytes).unwrap();
        }
    }
    let folder = home.path().join("gate");
    (home, folder)
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
