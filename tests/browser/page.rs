//! The whole page in a real browser: on a desk, on a phone, on paper.

use relent::report::{Budgets, RecordDigest, html};

use crate::chromium::{OVERLAPS, look, print};
use crate::report_gate::{assessment, english};

fn page() -> String {
    let digest = "0123456789abcdef".repeat(4);
    String::from_utf8(
        html(
            english(),
            &assessment("Yard gate north"),
            &RecordDigest::assessment(digest),
            Budgets::Nearest,
        )
        .unwrap(),
    )
    .unwrap()
}

const WIDTHS: &str = "
    const root = page.documentElement;
    return [`${view.innerWidth}`, `${root.scrollWidth}`, `${page.body.scrollWidth}`];";

#[test]
fn a_phone_never_has_to_scroll_sideways() {
    let seen = look(&page(), 390, WIDTHS);
    assert_eq!(seen.lines, ["390", "390", "390"]);
    assert_eq!(seen.console, Vec::<String>::new());
}

#[test]
fn no_label_of_the_page_lies_on_another() {
    for width in [390, 1280] {
        let seen = look(&page(), width, OVERLAPS);
        assert_eq!(seen.lines, Vec::<String>::new());
        assert_eq!(seen.console, Vec::<String>::new());
    }
}

#[test]
fn lines_of_running_text_stay_under_75_characters() {
    let script = "
const lines = [];
        for (const p of page.querySelectorAll('p, li, dd, figcaption')) {
            if (p.querySelector('ul') || p.closest('nav, footer, .key') || p.textContent.length < 75) continue;
            const one = p.cloneNode(true);
            one.style.cssText = 'position: absolute; white-space: nowrap; max-width: none; width: max-content';
            p.after(one);
            const letter = one.getBoundingClientRect().width / one.textContent.length;
            one.remove();
            const measure = p.getBoundingClientRect().width / letter;
            if (measure >= 75) lines.push(`${measure.toFixed(1)} characters: ${p.textContent.slice(0, 60)}`);
        }
        return lines;";
    assert_eq!(look(&page(), 1280, script).lines, Vec::<String>::new());
}

#[test]
fn the_outline_of_headings_has_no_hole() {
    let script = "
        let last = 0; const lines = [];
        for (const h of page.querySelectorAll('h1, h2, h3, h4')) {
            const level = Number(h.tagName[1]);
            if (level > last + 1) lines.push(`${h.tagName} after H${last}: ${h.textContent}`);
            last = level;
        }
        for (const t of page.querySelectorAll('table')) if (!t.querySelector('thead th[scope=col]')) lines.push('table without a head');
        if (page.querySelectorAll('main').length !== 1) lines.push('not one main');
        return lines;";
    assert_eq!(look(&page(), 1280, script).lines, Vec::<String>::new());
}

#[test]
fn paper_has_several_sheets_with_number_and_digest_on_each() {
    let sheets = print(&page());
    assert!(sheets.len() > 3, "{} sheets", sheets.len());
    for (index, sheet) in sheets.iter().enumerate() {
        assert!(
            sheet.contains("0123456789abcdef0123456789abcdef"),
            "digest on sheet {}",
            index + 1
        );
        assert!(
            sheet.contains(&format!("{} / {}", index + 1, sheets.len())),
            "number on sheet {}",
            index + 1
        );
    }
}
