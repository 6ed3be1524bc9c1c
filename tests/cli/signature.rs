//! Signatures of sealed records, against OpenSSH's ssh-keygen where this build signs; else what a build says that does not.

use std::path::Path;

use crate::run::{relent, snapshot, visit};

/// A signature that is there and that this build may or may not check.
#[cfg(not(feature = "sign"))]
#[test]
fn a_build_that_does_not_sign_tells_the_command_that_does() {
    let (_home, gate) = visit("visit-1");
    let ran = relent(&gate, &["assess", ".", "--seal", "--sign", "key"]);
    assert_eq!(ran.status, 2);
    snapshot("sign-not-in-this-build", &ran.err);
    relent(&gate, &["assess", ".", "--seal"]);
    std::fs::write(gate.join("report/record.json.sig"), "a signature").unwrap();
    let ran = relent(&gate, &["recheck", "report/record.json"]);
    assert_eq!(ran.status, 0, "{}", ran.out);
    assert!(
        ran.out
            .contains("a signature is there and was not checked by this build")
    );
    assert!(ran.out.contains("ssh-keygen -Y verify -n relent-record -f ALLOWED_SIGNERS -I NAME -s report/record.json.sig < report/record.json"));
    let ran = relent(
        &gate,
        &["recheck", "report/record.json", "--signers", "allowed"],
    );
    assert_eq!(ran.status, 2);
    snapshot("signers-not-in-this-build", &ran.err);
}

#[test]
fn signing_without_sealing_is_refused() {
    let ran = relent(Path::new("."), &["assess", ".", "--sign", "key"]);
    assert_eq!(ran.status, 2);
    assert!(ran.err.contains("--seal"), "{}", ran.err);
    let (_home, gate) = visit("visit-2");
    let both = relent(&gate, &["assess", ".", "--seal", "--no-report"]);
    assert_eq!(both.status, 2);
    snapshot("seal-without-report", &both.err);
}

#[cfg(feature = "sign")]
mod with_openssh {
    use std::fs;
    use std::path::{Path, PathBuf};
    use std::process::{Command, Stdio};

    use tempfile::TempDir;

    use crate::run::{relent, sealed, snapshot, visit};

    /// ssh-keygen must be there: a build that signs is checked against it, or not at all.
    fn ssh_keygen(folder: &Path, arguments: &[&str]) -> std::process::Output {
        Command::new("ssh-keygen")
            .args(arguments)
            .current_dir(folder)
            .stdin(Stdio::null())
            .output()
            .expect("ssh-keygen of OpenSSH, Debian's openssh-client, is needed by this test")
    }

    fn make_key(folder: &Path, name: &str, kind: &str, passphrase: &str) {
        let made = ssh_keygen(
            folder,
            &["-q", "-t", kind, "-N", passphrase, "-C", "", "-f", name],
        );
        assert!(
            made.status.success(),
            "{}",
            String::from_utf8_lossy(&made.stderr)
        );
    }

    fn allowed(folder: &Path, name: &str, who: &str, key: &str) {
        let key = fs::read_to_string(folder.join(format!("{key}.pub"))).unwrap();
        fs::write(folder.join(name), format!("# who may sign\n{who} {key}")).unwrap();
    }

    fn verify(folder: &Path, signers: &str, who: &str) -> bool {
        let record = fs::File::open(folder.join("report/record.json")).unwrap();
        let verified = Command::new("ssh-keygen")
            .args([
                "-Y",
                "verify",
                "-n",
                "relent-record",
                "-f",
                signers,
                "-I",
                who,
            ])
            .args(["-s", "report/record.json.sig"])
            .current_dir(folder)
            .stdin(record)
            .output()
            .expect("ssh-keygen of OpenSSH, Debian's openssh-client, is needed by this test");
        verified.status.success()
    }

    fn signed() -> (TempDir, PathBuf) {
        let (home, gate) = visit("visit-2");
        make_key(&gate, "key", "ed25519", "");
        allowed(&gate, "allowed", "anna@example.org", "key");
        let ran = relent(&gate, &["assess", ".", "--seal", "--sign", "key"]);
        assert_eq!(ran.status, 0, "{}", ran.err);
        (home, gate)
    }

    #[test]
    fn ssh_keygen_verifies_what_relent_signs() {
        let (_home, gate) = signed();
        assert!(verify(&gate, "allowed", "anna@example.org"));
        assert!(!verify(&gate, "allowed", "bert@example.org"));
        let record = gate.join("report/record.json");
        let mut bytes = fs::read(&record).unwrap();
        bytes[1000] ^= 1;
        fs::write(record, bytes).unwrap();
        assert!(!verify(&gate, "allowed", "anna@example.org"));
    }

    #[test]
    fn relent_checks_what_ssh_keygen_signs() {
        let (_home, gate) = sealed("visit-2");
        make_key(&gate, "key", "ed25519", "");
        allowed(&gate, "allowed", "anna@example.org", "key");
        let sign = [
            "-Y",
            "sign",
            "-n",
            "relent-record",
            "-f",
            "key",
            "report/record.json",
        ];
        assert!(ssh_keygen(&gate, &sign).status.success());
        let ran = relent(&gate, &["recheck", "report", "--signers", "allowed"]);
        assert_eq!(ran.status, 0, "{}{}", ran.out, ran.err);
        assert!(
            ran.out
                .contains("signature: made by anna@example.org, key SHA256:"),
            "{}",
            ran.out
        );
        let fingerprint = ssh_keygen(&gate, &["-l", "-f", "key.pub"]);
        let fingerprint = String::from_utf8(fingerprint.stdout).unwrap();
        let fingerprint = fingerprint.split_whitespace().nth(1).unwrap();
        assert!(ran.out.contains(fingerprint));
    }

    #[test]
    fn a_signature_is_never_trusted_without_a_list_of_signers() {
        let (_home, gate) = signed();
        let ran = relent(&gate, &["recheck", "report"]);
        assert_eq!(ran.status, 0);
        assert!(
            ran.out.contains(", whose owner was not checked"),
            "{}",
            ran.out
        );
    }

    #[test]
    fn with_a_list_of_signers_another_key_another_purpose_another_record_and_none_do_not_hold() {
        let (_home, gate) = signed();
        let record = gate.join("report/record.json.sig");
        let good = fs::read(&record).unwrap();
        make_key(&gate, "other", "ed25519", "");
        allowed(&gate, "others", "bert@example.org", "other");
        let state = |status: i32, words: &str| {
            let ran = relent(&gate, &["recheck", "report", "--signers", "allowed"]);
            assert_eq!(ran.status, status, "{}", ran.out);
            assert!(ran.out.contains(words), "{}", ran.out);
        };
        let ran = relent(&gate, &["recheck", "report", "--signers", "others"]);
        assert_eq!(ran.status, 1);
        assert!(
            ran.out.contains("which is not in the list of signers"),
            "{}",
            ran.out
        );
        let sign = |purpose: &str, file: &str| {
            let made = ssh_keygen(&gate, &["-Y", "sign", "-n", purpose, "-f", "key", file]);
            assert!(made.status.success());
        };
        fs::remove_file(&record).unwrap();
        sign("file", "report/record.json");
        state(3, "it was made for `file`, not for `relent-record`");
        sign("relent-record", "gate.toml");
        fs::rename(gate.join("gate.toml.sig"), &record).unwrap();
        state(1, "it was not made for this record");
        fs::write(&record, "no signature").unwrap();
        state(3, "signature: cannot be checked");
        fs::remove_file(&record).unwrap();
        state(3, "none; one by a listed signer is required");
        fs::write(&record, good).unwrap();
        state(0, "made by anna@example.org");
    }

    #[test]
    fn a_list_of_signers_is_read_as_openssh_reads_it_or_refused() {
        let (_home, gate) = signed();
        let key = fs::read_to_string(gate.join("key.pub")).unwrap();
        for (line, status) in [
            (
                format!("\"anna b\" namespaces=\"file,relent-record\" {key}"),
                0,
            ),
            (format!("anna namespaces=\"file\" {key}"), 1),
        ] {
            fs::write(gate.join("list"), line).unwrap();
            let ran = relent(&gate, &["recheck", "report", "--signers", "list"]);
            assert_eq!(ran.status, status, "{}{}", ran.out, ran.err);
        }
        for (name, line) in [
            ("option", format!("anna valid-before=\"20300101\" {key}")),
            ("no-key", "anna is trusted".to_owned()),
        ] {
            fs::write(gate.join("list"), line).unwrap();
            let ran = relent(&gate, &["recheck", "report", "--signers", "list"]);
            assert_eq!(ran.status, 2, "{}", ran.out);
            // The key in the line is made anew on every run.
            snapshot(
                &format!("signers-{name}"),
                &ran.err.replace(key.trim(), "<key>"),
            );
        }
    }

    #[test]
    fn a_key_that_cannot_sign_is_refused_with_what_helps_and_nothing_is_written() {
        let (_home, gate) = visit("visit-2");
        make_key(&gate, "key", "ed25519", "");
        make_key(&gate, "locked", "ed25519", "a passphrase");
        make_key(&gate, "rsa", "rsa", "");
        fs::write(gate.join("text"), "no key").unwrap();
        for (name, key) in [
            ("public", "key.pub"),
            ("locked", "locked"),
            ("rsa", "rsa"),
            ("no-key", "text"),
            ("not-there", "away"),
        ] {
            let ran = relent(&gate, &["assess", ".", "--seal", "--sign", key]);
            assert_eq!(ran.status, 2, "{name}");
            assert!(!gate.join("report/record.json").exists());
            snapshot(&format!("sign-key-{name}"), &ran.err);
        }
    }
}
