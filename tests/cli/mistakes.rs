//! What a user is told after a mistake with `archive`, `history`, `certificate`, `recheck`, `assess --seal` and `watch`: each beside
//! its complaint under `complaints/`. Those of a record that was damaged or of a key that cannot sign are in `recheck` and `signature`.

use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

use relent::cli::complaint::{Colours, Complaint};
use tempfile::TempDir;

use crate::archive::gate;
use crate::run::{edit, relent, sealed, snapshot};

/// A folder with a tree of two gate folders, `tree/good` and `tree/bad`, whose gate file has a fault; and an empty folder.
fn yard() -> (TempDir, PathBuf) {
    let home = tempfile::tempdir().unwrap();
    let tree = home.path().join("tree");
    gate(&tree.join("good"), "visit-2", "closing-50-900");
    gate(&tree.join("bad"), "visit-2", "closing-50-900-1");
    edit(&tree.join("bad/gate.toml"), "leaf_mass_kg", "leaf_mas_kg");
    fs::create_dir(home.path().join("empty")).unwrap();
    let yard = home.path().to_owned();
    (home, yard)
}

/// Runs a mistake and holds what is told of it, on both streams, against its snapshot.
fn told(folder: &Path, name: &str, arguments: &str, status: i32) {
    let arguments: Vec<&str> = arguments.split(' ').collect();
    let ran = relent(folder, &arguments);
    assert_eq!(ran.status, status, "{name}: {}{}", ran.out, ran.err);
    let here = folder.display().to_string();
    snapshot(
        name,
        &format!("{}{}", ran.err, ran.out).replace(&here, "<here>"),
    );
}

#[test]
fn a_mistake_with_an_archive_is_told_before_anything_is_written() {
    let (_home, yard) = yard();
    for (name, arguments) in [
        ("archive-no-gate-folder", "archive empty --out out"),
        ("archive-no-tree", "archive away --out out"),
        (
            "archive-tree-is-a-file",
            "archive tree/good/gate.toml --out out",
        ),
        (
            "archive-out-is-a-file",
            "archive tree --out tree/good/gate.toml",
        ),
        (
            "archive-out-below-a-file",
            "archive tree --out tree/good/gate.toml/out",
        ),
        (
            "archive-no-such-profile",
            "archive tree --out out --profile en12453",
        ),
        (
            "archive-no-such-day",
            "archive tree --out out --today 25.11.2026",
        ),
    ] {
        told(&yard, name, arguments, 2);
        assert!(!yard.join("out").exists(), "{name}");
    }
    #[cfg(not(feature = "parquet"))]
    told(
        &yard,
        "archive-parquet-not-in-this-build",
        "archive tree --out out --parquet",
        2,
    );
}

#[cfg(unix)]
#[test]
fn a_second_archive_at_the_same_time_is_told_to_wait() {
    let (_home, yard) = yard();
    fs::create_dir(yard.join("out")).unwrap();
    let held = File::open(yard.join("out")).unwrap();
    held.lock().unwrap();
    told(&yard, "archive-two-at-once", "archive tree --out out", 2);
}

#[test]
fn a_broken_gate_file_in_a_tree_is_told_with_the_command_that_shows_it_in_full() {
    let (_home, yard) = yard();
    told(
        &yard,
        "archive-broken-gate-file",
        "archive tree --out out --today 2026-11-25",
        2,
    );
}

/// The texts of the system are those of Linux.
#[cfg(target_os = "linux")]
#[test]
fn a_place_that_the_system_refuses_is_told_with_what_helps() {
    let mut text = String::new();
    for (doing, code) in [
        ("write", 13),
        ("read", 13),
        ("write", 17),
        ("write", 20),
        ("read", 21),
        ("write", 27),
        ("write", 28),
        ("write", 30),
        ("read", 2),
        ("read", 5),
    ] {
        let error = io::Error::from_raw_os_error(code);
        text += &Complaint::of_file(doing, "folder/file", &error).render(Colours::Plain);
    }
    snapshot("places", &text);
}

#[test]
fn a_mistake_with_a_history_is_told_with_what_helps() {
    let (_home, yard) = yard();
    for (name, arguments, status) in [
        ("history-not-there", "history away", 2),
        ("history-no-gate-folder", "history empty", 2),
        ("history-broken-gate-file", "history tree/bad", 2),
        ("history-no-such-gate", "history tree --gate Kiln", 2),
    ] {
        told(&yard, name, arguments, status);
    }
    gate(&yard.join("tree/other"), "visit-2", "closing-50-900-1");
    edit(
        &yard.join("tree/other/gate.toml"),
        "Packing yard gate",
        "Tool shed gate",
    );
    told(&yard, "history-two-gates", "history tree", 3);
    let file = yard.join("tree/good/gate.toml");
    let text = fs::read_to_string(&file).unwrap();
    let (before, visit) = text.split_once("[visit]").unwrap();
    let (_, after) = visit.split_once("\n[").unwrap();
    fs::write(&file, format!("{before}[{after}")).unwrap();
    told(&yard, "history-no-day", "history tree/good", 2);
}

#[test]
fn a_mistake_with_a_certificate_is_told_with_what_the_gate_files_name() {
    let (_home, yard) = yard();
    for (name, arguments, status) in [
        ("certificate-not-there", "certificate K-1 away", 2),
        ("certificate-no-gate-folder", "certificate K-1 empty", 2),
        ("certificate-broken-gate-file", "certificate K-1 tree", 2),
        (
            "certificate-nobody-names-it",
            "certificate K-1 tree/good",
            0,
        ),
    ] {
        told(&yard, name, arguments, status);
    }
}

#[test]
fn a_mistake_with_a_recheck_is_told_with_what_helps() {
    let (home, gate) = sealed("visit-2");
    let record = gate.join("report/record.json");
    for kept in ["kept.json", "second.json"] {
        fs::copy(&record, home.path().join(kept)).unwrap();
    }
    for (name, arguments, status) in [
        ("recheck-not-there", "recheck away", 2),
        (
            "recheck-gate-for-two-records",
            "recheck kept.json second.json --gate gate",
            2,
        ),
        ("recheck-gate-not-there", "recheck kept.json --gate away", 2),
        ("recheck-gate-elsewhere", "recheck kept.json", 3),
        (
            "recheck-no-such-profile",
            "recheck gate --profile en16005",
            2,
        ),
    ] {
        told(home.path(), name, arguments, status);
    }
    let signature = gate.join("report/record.json.sig");
    fs::create_dir(&signature).unwrap();
    told(
        home.path(),
        "recheck-signature-unreadable",
        "recheck gate",
        3,
    );
    fs::remove_dir(&signature).unwrap();
    fs::write(&signature, "no signature").unwrap();
    #[cfg(feature = "sign")]
    {
        told(home.path(), "recheck-signature-of-junk", "recheck gate", 3);
        told(
            home.path(),
            "recheck-signers-not-there",
            "recheck gate --signers away",
            2,
        );
    }
    #[cfg(not(feature = "sign"))]
    told(
        home.path(),
        "recheck-signature-not-checked",
        "recheck gate",
        0,
    );
    fs::remove_file(&record).unwrap();
    fs::write(gate.join("gate.toml"), "[gate\n").unwrap();
    told(home.path(), "recheck-broken-gate-file", "recheck gate", 2);
}

#[test]
fn a_mistake_with_a_seal_leaves_no_record() {
    let (_home, yard) = yard();
    for (name, arguments) in [
        ("seal-not-there", "assess away --seal"),
        ("seal-no-gate-folder", "assess empty --seal"),
        ("seal-broken-gate-file", "assess tree/bad --seal"),
        ("sign-without-seal", "assess tree/good --sign key"),
        (
            "seal-report-is-a-file",
            "assess tree/good --seal --report tree/good/gate.toml",
        ),
    ] {
        told(&yard, name, arguments, 2);
    }
    for gate in ["good", "bad"] {
        assert!(
            !yard
                .join("tree")
                .join(gate)
                .join("report/record.json")
                .exists()
        );
    }
}

#[test]
fn a_mistake_with_a_watch_is_told_at_once() {
    let (_home, yard) = yard();
    for (name, arguments) in [
        ("watch-not-there", "watch away"),
        ("watch-no-gate-file", "watch empty"),
        ("watch-broken-gate-file", "watch tree/bad"),
        ("watch-no-such-profile", "watch tree/good --profile en16005"),
        ("watch-every-too-often", "watch tree/good --every 5"),
        ("watch-no-such-port", "watch tree/good --serve 99999"),
        ("watch-earlier-not-there", "watch tree/good --earlier away"),
        (
            "watch-until-complete-without-an-end",
            "watch tree/good --until-complete --profile bs7036-4-1996",
        ),
    ] {
        told(&yard, name, arguments, 2);
    }
    let taken = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let port = taken.local_addr().unwrap().port().to_string();
    let ran = relent(&yard, &["watch", "tree/good", "--serve", &port]);
    assert_eq!(ran.status, 2);
    snapshot("watch-port-taken", &ran.err.replace(&port, "<port>"));
}
