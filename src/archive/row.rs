//! The rows of one gate folder: what an archive keeps of an assessment.

use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::verdict::{Finding, OpenItem, Verdict};
use crate::view::column::{Cell, Column, Columns, Kind, columns, row};
use crate::view::{FindingRow, Found, VisitRow};
use crate::visit::Assessment;
use crate::words::{Said, Words};

/// How a gate folder stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum GateState {
    Within,
    Undecided,
    Over,
    NotAssessed,
}

impl GateState {
    /// All states, the worst first.
    pub const ALL: [Self; 4] = [Self::NotAssessed, Self::Over, Self::Undecided, Self::Within];

    /// The word of the tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Within => "within",
            Self::Undecided => "undecided",
            Self::Over => "over",
            Self::NotAssessed => "not-assessed",
        }
    }
}

impl Fact for GateState {
    const FAMILY: &'static str = "gate-state";
}

row! {
    /// One gate folder.
    pub struct GateRow {
        /// the gate folder, from the tree
        folder: String,
        /// within, over, undecided or not-assessed: the verdict on the whole folder
        state: GateState,
        /// what the gate file says of the visit
        visit: #[serde(flatten)] VisitRow,
        /// logs that were read as hits
        logs: usize,
        /// findings that decide
        findings: usize,
        /// of these over the limit
        findings_over: usize,
        /// of these undecided
        findings_undecided: usize,
        /// required test points without all hits
        points_missing: usize,
        /// tested points at which no limit decides
        points_not_assessed: usize,
        /// greatest value of a finding that decides, as a share of its limit
        greatest_share?: f64,
        /// limit and test point of that value
        greatest_share_at?: String,
        /// why the folder is not within although nothing is over
        reasons: Vec<Said<OpenItem>>,
        /// what must be told whatever the verdict
        remarks: Vec<String>,
        /// why the folder could not be assessed
        complaint?: String,
        /// SHA-256 of the assessment.json that `relent assess` writes for this folder
        record_sha256?: String,
    }
}

impl Columns for GateState {
    fn columns(name: &'static str, meaning: &'static str) -> Vec<Column> {
        let kind = Kind::Text;
        vec![Column {
            name,
            kind,
            meaning,
        }]
    }

    fn cells<'a>(it: Option<&'a Self>, to: &mut Vec<Cell<'a>>) {
        to.push(Cell::Text(it.map(|it| it.word().into())));
    }
}

/// Everything that an archive keeps of one gate folder.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct AssessedGate {
    /// The folder.
    pub gate: GateRow,
    /// Its findings in the order of the assessment, then missing points, then points without a limit.
    pub findings: Vec<FindingRow>,
}

/// A row of the table of findings: the folder, the visit and the finding.
pub struct FoundAt<'a> {
    /// The folder with its visit.
    pub gate: &'a GateRow,
    /// The visit and the finding.
    pub finding: &'a FindingRow,
}

impl Columns for FoundAt<'_> {
    fn columns(_: &'static str, _: &'static str) -> Vec<Column> {
        let folder = String::columns("folder", "the gate folder, from the tree");
        [folder, columns::<Found<'_>>()].concat()
    }

    fn cells<'a>(it: Option<&'a Self>, to: &mut Vec<Cell<'a>>) {
        String::cells(it.map(|it| &it.gate.folder), to);
        VisitRow::cells(it.map(|it| &it.gate.visit), to);
        FindingRow::cells(it.map(|it| it.finding), to);
    }
}

impl GateRow {
    /// A folder that could not be assessed, and why.
    #[must_use]
    pub fn not_assessed(folder: &str, complaint: String) -> Self {
        Self {
            folder: folder.to_owned(),
            state: GateState::NotAssessed,
            visit: VisitRow::default(),
            logs: 0,
            findings: 0,
            findings_over: 0,
            findings_undecided: 0,
            points_missing: 0,
            points_not_assessed: 0,
            greatest_share: None,
            greatest_share_at: None,
            reasons: Vec::new(),
            remarks: Vec::new(),
            complaint: Some(complaint),
            record_sha256: None,
        }
    }

    /// What tells one gate from another in an archive: its name and its place. `None` where its gate file could not be read.
    #[must_use]
    pub fn identity(&self) -> Option<(&str, Option<&str>)> {
        Some((self.visit.gate.as_deref()?, self.visit.place.as_deref()))
    }
}

impl AssessedGate {
    /// The rows of an assessment. `record_sha256`: digest of its `assessment.json`; `odd`: what looks odd in the gate file.
    #[must_use]
    pub fn new(
        words: &Words,
        folder: &str,
        assessment: &Assessment,
        record_sha256: String,
        odd: Vec<String>,
    ) -> Self {
        let overall = assessment.overall();
        let months = assessment.profile.gauge.calibration_months;
        let decide = || assessment.findings.iter().filter(|one| one.counts());
        let share = |finding: &Finding| finding.share_of_limit().filter(|it| it.is_finite());
        let worst = decide()
            .filter_map(|finding| Some((share(finding)?, finding)))
            .max_by(|(one, _), (other, _)| one.total_cmp(other));
        let gate = GateRow {
            folder: folder.to_owned(),
            state: match overall.verdict {
                Verdict::Within => GateState::Within,
                Verdict::Over => GateState::Over,
                Verdict::Undecided => GateState::Undecided,
            },
            visit: VisitRow::of(&assessment.gate, months),
            logs: assessment.hits.len(),
            findings: decide().count(),
            findings_over: overall.over.len(),
            findings_undecided: overall.undecided.len(),
            points_missing: assessment.missing.len(),
            points_not_assessed: assessment.without_limit.len(),
            greatest_share: worst.map(|(share, _)| share),
            greatest_share_at: worst.map(|(_, finding)| place(words, finding)),
            reasons: words.all_said(overall.reasons),
            remarks: words
                .facts(&assessment.told())
                .into_iter()
                .chain(odd)
                .collect(),
            complaint: None,
            record_sha256: Some(record_sha256),
        };
        Self {
            gate,
            findings: FindingRow::all(words, assessment),
        }
    }

    /// The rows of the table of findings.
    pub fn rows(&self) -> impl Iterator<Item = FoundAt<'_>> {
        let gate = &self.gate;
        self.findings
            .iter()
            .map(move |finding| FoundAt { gate, finding })
    }
}

/// Limit and test point.
fn place(words: &Words, finding: &Finding) -> String {
    match &finding.test_point {
        Some(point) => format!("{}: {}", finding.limit.name, words.fact(point)),
        None => finding.limit.name.clone(),
    }
}
