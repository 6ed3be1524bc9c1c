//! The served page of `relent watch` in a real browser: it changes by itself, fits a phone, and tells when nobody keeps it up to date.

use std::fs;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread;

use tempfile::TempDir;

use crate::chromium::OVERLAPS;
use crate::devtools::Browser;

/// A watch that serves its page; it ends with the test.
struct Served {
    child: Child,
    address: String,
    gate: PathBuf,
    home: TempDir,
}

impl Served {
    /// The demo's second visit, none of its logs in place yet.
    fn start() -> Self {
        let home = tempfile::tempdir().unwrap();
        for file in relent::impact::demo::files().unwrap() {
            let path = home.path().join(&file.path);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, file.bytes).unwrap();
        }
        let gate = home.path().join("gate");
        fs::create_dir_all(gate.join("logs")).unwrap();
        fs::copy(
            home.path().join("visit-2/gate.toml"),
            gate.join("gate.toml"),
        )
        .unwrap();
        let mut child = Command::new(env!("CARGO_BIN_EXE_relent"))
            .args(["watch", ".", "--every", "40", "--serve"])
            .current_dir(&gate)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap())
            .lines()
            .map(Result::unwrap);
        let address = lines
            .find_map(|line| line.strip_prefix("page: ").map(str::to_owned))
            .unwrap();
        lines.find(|line| line.contains("Next:")).unwrap();
        thread::spawn(move || lines.count());
        Self {
            child,
            address,
            gate,
            home,
        }
    }

    fn drop_in(&self, visit: &str, stem: &str) {
        let folder = self.home.path().join(visit).join("logs");
        let mut files = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().path());
        let is_it = |path: &PathBuf| {
            path.file_name()
                .unwrap()
                .to_string_lossy()
                .starts_with(&format!("{stem}."))
        };
        let from = files.find(is_it).unwrap();
        fs::copy(&from, self.logs().join(from.file_name().unwrap())).unwrap();
    }

    fn drop_all(&self, visit: &str) {
        for entry in fs::read_dir(self.home.path().join(visit).join("logs")).unwrap() {
            let from = entry.unwrap().path();
            fs::copy(&from, self.logs().join(from.file_name().unwrap())).unwrap();
        }
    }

    fn logs(&self) -> PathBuf {
        Path::new(&self.gate).join("logs")
    }

    fn stop(&mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// An expression: the words of the page hold a text.
fn says(text: &str) -> String {
    format!("document.body.innerText.includes({text:?})")
}

const WIDTHS: &str =
    "[innerWidth, document.documentElement.scrollWidth, document.body.scrollWidth].join()";

/// What a script of the other browser tests returns, in this page.
fn lines(browser: &mut Browser, script: &str) -> String {
    let expression =
        format!("(() => {{ const page = document, view = window; {script} }})().join('\\n')");
    browser.value(&expression).as_str().unwrap().to_owned()
}

#[test]
fn the_page_follows_the_visit_by_itself_and_fits_a_phone_all_the_way() {
    let served = Served::start();
    let mut browser = Browser::start();
    browser.open(&served.address, 390);
    browser.value("window.opened = 'once'");
    browser.wait(&says("closing-50-50-1.csv"));
    assert_eq!(browser.value(WIDTHS), "390,390,390");
    served.drop_in("visit-2", "closing-50-50-1");
    browser.wait(&says("Hit 2 of 3"));
    browser.wait(&says("closing-50-50-2.csv"));
    assert_eq!(
        browser.value("document.querySelectorAll('.last figure svg').length"),
        1
    );
    served.drop_in("visit-1", "closing-300-900-2");
    browser.wait(&says("Top of the hit clipped"));
    browser.wait(&says("Repeat hit 2"));
    let spoken =
        browser.value("document.querySelector('[role=status][aria-live=polite]').textContent");
    assert!(spoken.as_str().unwrap().contains("to repeat"), "{spoken}");
    assert_eq!(browser.value(WIDTHS), "390,390,390");
    fs::write(
        served.logs().join(
            "strange-name-without-a-single-place-to-break-it-that-is-far-too-long-for-a-phone.csv",
        ),
        "1",
    )
    .unwrap();
    browser.wait(&says("To correct"));
    for hit in 1..=3 {
        served.drop_in("visit-1", &format!("closing-500-50-{hit}"));
    }
    browser.wait(&says("keep people away from the moving leaf"));
    assert_eq!(browser.value(WIDTHS), "390,390,390");
    assert_eq!(lines(&mut browser, OVERLAPS), "");
    assert_eq!(
        browser.value("window.opened"),
        "once",
        "the page was never loaded again"
    );
    assert_eq!(browser.complaints, Vec::<String>::new());
}

#[test]
fn the_next_hit_can_be_read_at_arms_length() {
    let served = Served::start();
    let mut browser = Browser::start();
    for (width, least) in [(390, 32.0), (1280, 60.0)] {
        browser.open(&served.address, width);
        let size =
            browser.value("parseFloat(getComputedStyle(document.querySelector('.big')).fontSize)");
        assert!(
            size.as_f64().unwrap() >= least,
            "{size} px at a width of {width}"
        );
        let bottom =
            browser.value("document.querySelector('.save').getBoundingClientRect().bottom");
        assert!(
            bottom.as_f64().unwrap() < 844.0,
            "without scrolling: {bottom}"
        );
    }
}

#[test]
fn the_finished_visit_is_told_and_a_page_that_nobody_keeps_up_says_so() {
    let mut served = Served::start();
    let mut browser = Browser::start();
    browser.open(&served.address, 1280);
    served.drop_all("visit-2");
    browser.wait(&says("All hits recorded"));
    browser.wait(&says("within the limits assessed"));
    let outline = "
        let last = 0; const lines = [];
        for (const h of page.querySelectorAll('h1, h2, h3, h4')) {
            const level = Number(h.tagName[1]);
            if (level > last + 1) lines.push(`${h.tagName} after H${last}: ${h.textContent}`);
            last = level;
        }
        if (page.querySelectorAll('main').length !== 1) lines.push('not one main');
        return lines;";
    assert_eq!(lines(&mut browser, outline), "");
    assert_eq!(lines(&mut browser, OVERLAPS), "");
    assert_eq!(browser.complaints, Vec::<String>::new());
    assert_eq!(
        browser.value("document.getElementById('lost').hidden"),
        true
    );
    served.stop();
    browser.wait(&says("Connection to the watch lost"));
    assert_eq!(
        browser.value("document.body.classList.contains('stale')"),
        true
    );
}

#[test]
fn without_scripts_the_page_loads_itself_again() {
    let served = Served::start();
    let mut browser = Browser::start();
    browser.without_scripts();
    browser.open(&served.address, 390);
    assert_eq!(browser.value(&says("closing-50-50-1.csv")), true);
    served.drop_in("visit-2", "closing-50-50-1");
    browser.wait(&says("closing-50-50-2.csv"));
    assert_eq!(browser.value(&says("do not trust it")), true);
}
