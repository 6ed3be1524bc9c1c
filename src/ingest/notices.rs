//! Notices in bounded number: the first ones of each kind, and how many more there were.

use crate::ingest::{Kind, Notice, Noticed};

/// Most notices of one kind.
const MOST: usize = 20;

/// Collects notices.
#[derive(Clone, Debug, Default)]
pub(super) struct Notices {
    kept: Vec<Notice>,
    counts: Vec<(Kind, usize)>,
}

impl Notices {
    /// Adds a notice; the fact is made only if it is kept.
    pub(super) fn add(&mut self, kind: Kind, line: Option<u64>, fact: impl FnOnce() -> Noticed) {
        let at = self
            .counts
            .iter()
            .position(|(known, _)| *known == kind)
            .unwrap_or_else(|| {
                self.counts.push((kind, 0));
                self.counts.len() - 1
            });
        let count = &mut self.counts[at].1;
        *count += 1;
        if *count <= MOST {
            self.kept.push(Notice {
                kind,
                line,
                fact: fact(),
            });
        }
    }

    /// Adds finished notices.
    pub(super) fn extend(&mut self, notices: Vec<Notice>) {
        for notice in notices {
            self.add(notice.kind, notice.line, || notice.fact);
        }
    }

    /// The notices in the order of the log, with a line for those that were left out.
    pub(super) fn finish(mut self) -> Vec<Notice> {
        self.kept.sort_by_key(|notice| notice.line);
        for (kind, count) in self.counts {
            if count > MOST {
                self.kept.push(Notice {
                    kind,
                    line: None,
                    fact: Noticed::AndMore {
                        count: count - MOST,
                    },
                });
            }
        }
        self.kept
    }
}
