//! Tells a release build which commit it is made from: sealed records and `relent --version` name it.
//!
//! Other builds name none, so that a test run does not depend on the commit, and a commit does not build everything anew.

use std::path::Path;
use std::process::Command;

fn main() {
    println!("cargo:rerun-if-changed=src/build.rs");
    if std::env::var("PROFILE").as_deref() != Ok("release") {
        return;
    }
    // Git notes every commit and checkout here; without git there is nothing to look at.
    if let Some(journal) = git(&["rev-parse", "--git-path", "logs/HEAD"])
        && Path::new(&journal).exists()
    {
        for changes_with in [journal.as_str(), "src", "Cargo.toml", "Cargo.lock"] {
            println!("cargo:rerun-if-changed={changes_with}");
        }
    }
    let Some(commit) = git(&["rev-parse", "--short=12", "HEAD"]) else {
        return;
    };
    let changed = git(&[
        "status",
        "--porcelain",
        "--",
        "src",
        "Cargo.toml",
        "Cargo.lock",
    ]);
    let mark = if changed.is_some_and(|it| !it.is_empty()) {
        "-changed"
    } else {
        ""
    };
    println!("cargo:rustc-env=RELENT_COMMIT={commit}{mark}");
}

/// What a git command prints, without the end of the line; `None` if it fails or there is no git.
fn git(arguments: &[&str]) -> Option<String> {
    let output = Command::new("git").args(arguments).output().ok()?;
    let text = String::from_utf8(output.stdout).ok()?;
    output.status.success().then(|| text.trim_end().to_owned())
}
