//! A headless Chromium of one call each: what a page says of itself, and the page on paper.

use std::path::{Path, PathBuf};
use std::process::Command;

use tempfile::TempDir;

/// What a page answered.
pub(crate) struct Seen {
    /// The lines that the script wrote.
    pub(crate) lines: Vec<String>,
    /// What the page wrote to the console.
    pub(crate) console: Vec<String>,
}

fn browser(profile: &TempDir) -> Command {
    let mut command = Command::new("chromium");
    command.args([
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--enable-logging=stderr",
    ]);
    command.arg(format!("--user-data-dir={}", profile.path().display()));
    command
}

/// Opens a page in a frame of a width and runs a script in it; the script sees the page as `page` and its window as `view`,
/// and returns an array of lines.
pub(crate) fn look(html: &str, width: u32, script: &str) -> Seen {
    let folder = tempfile::tempdir().unwrap();
    let wrapper = folder.path().join("wrapper.html");
    let attribute = html.replace('&', "&amp;").replace('"', "&quot;");
    let text = format!(
        "<!doctype html><meta charset=utf-8><iframe id=f width={width} height=30000 style='border:0' srcdoc=\"{attribute}\"></iframe>\
         <pre id=lines></pre><script>f.onload = () => {{ const view = f.contentWindow, page = f.contentDocument; \
         lines.textContent = (() => {{ {script} }})().join('\\n') + '\\nend of lines'; }}</script>"
    );
    std::fs::write(&wrapper, text).unwrap();
    let output = browser(&folder)
        .args([
            "--virtual-time-budget=10000",
            "--window-size=1400,1000",
            "--dump-dom",
        ])
        .arg(format!("file://{}", wrapper.display()))
        .output()
        .expect("chromium is installed");
    let dom = String::from_utf8_lossy(&output.stdout).into_owned();
    let inner = dom
        .split_once("<pre id=\"lines\">")
        .and_then(|(_, rest)| rest.split_once("end of lines</pre>"))
        .map(|(inner, _)| inner.to_owned());
    let errors = String::from_utf8_lossy(&output.stderr).into_owned();
    let inner = inner.unwrap_or_else(|| panic!("the page never answered: {errors}"));
    Seen {
        lines: inner
            .lines()
            .filter(|line| !line.is_empty())
            .map(str::to_owned)
            .collect(),
        console: errors
            .lines()
            .filter(|line| line.contains("CONSOLE"))
            .map(str::to_owned)
            .collect(),
    }
}

/// The text of each page when the file is printed.
pub(crate) fn print(html: &str) -> Vec<String> {
    let folder = tempfile::tempdir().unwrap();
    let (page, paper) = (
        folder.path().join("page.html"),
        folder.path().join("page.pdf"),
    );
    std::fs::write(&page, html).unwrap();
    let done = browser(&folder)
        .arg("--no-pdf-header-footer")
        .arg(format!("--print-to-pdf={}", paper.display()))
        .arg(format!("file://{}", page.display()))
        .output()
        .expect("chromium is installed");
    assert!(
        done.status.success(),
        "{}",
        String::from_utf8_lossy(&done.stderr)
    );
    pages(&paper)
}

fn pages(paper: &Path) -> Vec<String> {
    let text: PathBuf = paper.with_extension("txt");
    let done = Command::new("pdftotext")
        .arg("-layout")
        .args([paper, &text])
        .status();
    assert!(done.expect("poppler-utils is installed").success());
    let all = std::fs::read_to_string(text).unwrap();
    all.split('\u{c}')
        .map(str::to_owned)
        .filter(|page| !page.trim().is_empty())
        .collect()
}

/// A script: pairs of texts of one drawing that lie on each other by more than half a unit.
pub(crate) const OVERLAPS: &str = "
    const lines = [];
    for (const svg of page.querySelectorAll('svg')) {
        const texts = [...svg.querySelectorAll('text')].map(t => [t.textContent.trim(), t.getBoundingClientRect()]);
        const room = svg.getBoundingClientRect();
        texts.forEach(([a, p], i) => {
            if (p.left < room.left - 1 || p.right > room.right + 1 || p.top < room.top - 1 || p.bottom > room.bottom + 1)
                lines.push(`outside ${svg.querySelector('title')?.textContent}: ${a}`);
            for (const [b, q] of texts.slice(i + 1)) {
                const across = Math.min(p.right, q.right) - Math.max(p.left, q.left);
                const down = Math.min(p.bottom, q.bottom) - Math.max(p.top, q.top);
                if (across > 0.5 && down > 2.5) lines.push(`overlap ${svg.querySelector('title')?.textContent}: ${a} / ${b}`);
            }
        });
    }
    return lines;";
