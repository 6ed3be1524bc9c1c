//! The page and the tables: well-formed, harmless, complete, quick, in the words agreed upon.

use relent::report::{Budgets, RecordDigest, assessment_json, html, terminal};
use relent::view::findings_csv;

use crate::report_gate::{assessment, english};

/// A name that would do harm wherever it is not escaped.
const HOSTILE: &str = "</title><script>alert('&\"')</script>";

fn page(name: &str) -> String {
    String::from_utf8(
        html(
            english(),
            &assessment(name),
            &RecordDigest::assessment("ab".repeat(32)),
            Budgets::Nearest,
        )
        .unwrap(),
    )
    .unwrap()
}

/// Elements without an end tag.
const VOID: [&str; 5] = ["meta", "link", "br", "img", "hr"];

/// Walks through all tags: what opens is closed in order, and every attribute is quoted. Out: the number of elements.
fn well_formed(page: &str) -> usize {
    let body = page.strip_prefix("<!DOCTYPE html>").expect("a doctype");
    let (mut open, mut count, mut rest): (Vec<&str>, usize, &str) = (Vec::new(), 0, body);
    while let Some((_, after)) = rest.split_once('<') {
        let (tag, next) = after.split_once('>').expect("a tag ends");
        rest = next;
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name), "after {count} elements");
            continue;
        }
        count += 1;
        assert_eq!(tag.matches('"').count() % 2, 0, "quotes of <{tag}>");
        let name = tag.split([' ', '/']).next().unwrap();
        assert!(
            name.chars().all(|letter| letter.is_ascii_alphanumeric()),
            "<{tag}>"
        );
        if tag.ends_with('/') || VOID.contains(&name) {
            continue;
        }
        open.push(name);
        if name == "style" {
            rest = &rest[rest.find("</style>").expect("the sheet ends")..];
        }
    }
    assert_eq!(open, Vec::<&str>::new());
    count
}

#[test]
fn the_page_is_well_formed() {
    assert!(well_formed(&page("Yard gate north")) > 1000);
}

#[test]
fn a_page_with_a_hostile_name_is_well_formed_and_holds_no_script() {
    let page = page(HOSTILE);
    assert!(well_formed(&page) > 1000);
    assert!(!page.contains("<script"));
    assert!(page.contains("&lt;script&gt;alert("));
}

#[test]
fn the_page_asks_the_network_for_nothing() {
    let page = page("Yard gate north");
    for link in ["src=", "href=\"http", "url(", "@import", "<link", "<iframe"] {
        assert!(!page.contains(link), "{link}");
    }
    assert!(page.contains("default-src 'none'"));
}

#[test]
fn a_digest_that_is_none_cannot_get_into_the_style_sheet() {
    let page = String::from_utf8(
        html(
            english(),
            &assessment("gate"),
            &RecordDigest::assessment("\"; } body { display: none"),
            Budgets::Nearest,
        )
        .unwrap(),
    )
    .unwrap();
    let sheet = page
        .split_once("<style>")
        .unwrap()
        .1
        .split_once("</style>")
        .unwrap()
        .0;
    assert!(!sheet.contains("body { display: none"));
    assert!(sheet.contains("content: \"assessment.json bdd"));
}

#[test]
fn the_page_has_its_parts_in_order_and_says_how_every_point_stands() {
    let page = page("Yard gate north");
    let mut from = 0;
    for id in [
        "elevation",
        "next",
        "findings",
        "hits",
        "limitations",
        "limits",
        "gate",
        "hazards",
    ] {
        let at = page[from..]
            .find(&format!("<section id=\"{id}\""))
            .unwrap_or_else(|| panic!("{id} in order"));
        from += at;
    }
    assert!(page.contains("<strong>over the limit</strong>"));
    assert!(
        page.contains(
            "9 test points: 1 over the limit, 1 undecided, 1 not tested, 6 within the limit."
        ),
        "{}",
        &page[page.find("class=\"sentence\"").unwrap()..][..400]
    );
    assert!(page.contains("– undecided: "));
}

#[test]
fn no_output_claims_more_than_was_measured() {
    let assessment = assessment("Yard gate north");
    let page = page("Yard gate north");
    let text = page.split("</style>").nth(1).unwrap().to_lowercase();
    let terminal = terminal(english(), &assessment, Some(100)).to_lowercase();
    for claim in [
        "safe",
        "compliant",
        "compliance",
        "complies",
        "passed",
        "passes",
    ] {
        for words in [&text, &terminal] {
            let mut words = words.split(|letter: char| !letter.is_alphabetic());
            assert!(!words.any(|word| word == claim), "{claim}");
        }
    }
}

#[test]
fn every_drawing_has_a_text_alternative() {
    let page = page("Yard gate north");
    let (mut drawings, mut told) = (0, 0);
    for start in page.match_indices("<svg ").map(|(at, _)| at) {
        let tag = &page[start..start + page[start..].find('>').unwrap()];
        drawings += 1;
        told += usize::from(
            tag.contains("aria-hidden=\"true\"")
                || (tag.contains("role=\"img\"") && tag.contains("aria-label=\"")),
        );
    }
    assert!(drawings > 30);
    assert_eq!(told, drawings);
}

#[test]
fn a_spreadsheet_finds_no_formula_in_the_findings() {
    let bytes = findings_csv(english(), &assessment("=cmd()|' /C calc'!A0")).unwrap();
    let mut reader = csv::Reader::from_reader(bytes.as_slice());
    let headings = reader.headers().unwrap().clone();
    let (mut rows, mut named) = (0, 0);
    for row in reader.records() {
        rows += 1;
        for (heading, cell) in headings.iter().zip(row.unwrap().iter()) {
            let formula = cell.starts_with(['=', '+', '@', '\t', '\r'])
                || (cell.starts_with('-') && cell.parse::<f64>().is_err());
            assert!(!formula, "{heading}: {cell}");
            // A missing point has no logs.
            if heading == "logs" && !cell.is_empty() {
                named += 1;
                assert!(cell.starts_with("'=cmd()"), "{cell}");
            }
        }
    }
    let assessment = assessment("gate");
    let points = assessment.missing.len() + assessment.without_limit.len();
    // The last row is the visit as a whole.
    assert_eq!(rows, assessment.findings.len() + points + 1);
    assert_eq!(named, assessment.findings.len());
}

#[test]
fn the_csv_holds_unrounded_values() {
    let assessment = assessment("gate");
    let bytes = findings_csv(english(), &assessment).unwrap();
    let mut reader = csv::Reader::from_reader(bytes.as_slice());
    let place = reader
        .headers()
        .unwrap()
        .iter()
        .position(|heading| heading == "value")
        .unwrap();
    for (row, finding) in reader.records().zip(&assessment.findings) {
        let cell = row.unwrap()[place].to_owned();
        assert_eq!(cell.parse().ok(), finding.value().ok());
    }
}

#[test]
fn the_json_says_what_the_findings_say() {
    let assessment = assessment("Yard \"gate\"");
    let value: serde_json::Value =
        serde_json::from_slice(&assessment_json(english(), &assessment).unwrap()).unwrap();
    assert_eq!(value["schema"], "relent.assessment/1");
    assert_eq!(value["verdict"], "over");
    assert_eq!(value["decision"], "guarded");
    assert_eq!(value["profile"]["confirmed"], false);
    assert_eq!(value["missing"][0]["hits_recorded"], 0);
    let findings = value["findings"].as_array().unwrap();
    assert_eq!(findings.len(), assessment.findings.len());
    for (line, finding) in findings.iter().zip(&assessment.findings) {
        assert_eq!(line["value"].as_f64(), finding.value().ok());
        assert_eq!(
            line["hit_values"]
                .as_array()
                .unwrap()
                .iter()
                .filter(|it| it.is_null())
                .count(),
            line["readings"]
                .as_array()
                .unwrap()
                .iter()
                .filter(|one| one.get("value").is_none())
                .count()
        );
        assert_eq!(
            line["verdict"],
            serde_json::to_value(finding.verdict()).unwrap()
        );
    }
    assert_eq!(value["logs"].as_array().unwrap().len(), 24);
}

#[test]
fn the_terminal_keeps_to_its_width_and_tells_states_without_colour() {
    let assessment = assessment("Yard gate north");
    for width in [40, 60, 80, 120] {
        let text = anstream::adapter::strip_str(&terminal(english(), &assessment, Some(width)))
            .to_string();
        for line in text.lines() {
            assert!(line.chars().count() <= width, "{width}: {line}");
        }
        assert!(text.contains("over the limit"));
        assert!(text.contains("▲ closing"));
        assert!(text.contains("◆ closing"));
        assert!(text.contains("□ closing"));
        assert_eq!(text.contains("gap 500 mm   gap 300 mm"), width >= 60);
    }
}

#[test]
fn a_report_of_27_hits_stays_small_enough_to_send() {
    let bytes = html(
        english(),
        &assessment("gate"),
        &RecordDigest::assessment("0".repeat(64)),
        Budgets::Nearest,
    )
    .unwrap();
    assert!(bytes.len() < 2_000_000, "{} bytes", bytes.len());
}
