//! A visit while it is made: what is there, what must be made again and why, what is still to do, and in which order.
//!
//! Everything is a function of the hits assessed so far and of what lies in the folder beside them.

mod news;
mod page;
mod terminal;
mod told;

pub use news::news;
pub use page::{PROGRAM, fragment, page, style};
pub use terminal::terminal;

use fluent_bundle::FluentValue;
use serde::{Deserialize, Serialize};

use super::terminal::place_text;
use crate::fact::Fact;
use crate::gate::Pattern;
use crate::gate::names::PlacedLog;
use crate::limitation::Limitation;
use crate::limits::{PlanError, TestPoint};
use crate::visit::{Assessment, Hit, NotMeasured};
use crate::words::Words;

/// A visit as far as it has come.
#[derive(Clone, Debug)]
pub struct Live {
    /// The hits that were read, assessed.
    pub assessment: Assessment,
    /// Logs that are there and are not read yet, because they are still being written.
    pub coming: Vec<Coming>,
    /// Logs that the gate file lists and that are not there yet.
    pub listed: Vec<PlacedLog>,
    /// Files in the folder of the logs that hold no hit of a known place: one line each, with what helps.
    pub unplaced: Vec<String>,
    /// What keeps the watching program from seeing all: a fault in the gate file, a folder that cannot be read.
    pub faults: Vec<String>,
    /// What should be known and stops nothing: warnings of the gate file, checks that are not in order.
    pub remarks: Vec<String>,
    /// The log that was read last.
    pub last: Option<String>,
}

/// A log that is still being written.
#[derive(Clone, Debug, PartialEq)]
pub struct Coming {
    /// Its name.
    pub file: String,
    /// The hit that its name promises, if it promises one.
    pub hit: Option<(TestPoint, u32)>,
    /// What keeps it, where it takes longer than a log should.
    pub slow: Option<Slow>,
}

impl Coming {
    /// How it stands, in a line.
    fn text(&self, words: &Words) -> String {
        let slow = self.slow.as_ref();
        let state = slow.map_or_else(
            || words.say("live-being-written").into_owned(),
            |slow| words.fact(slow),
        );
        let fields = [("file", self.file.as_str().into()), ("state", state.into())];
        words.with("live-coming", &fields)
    }
}

/// Why a log is not read yet although it is there for some time.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Slow {
    Empty,
    BeingWritten,
    Unreadable { error: String },
}

impl Fact for Slow {
    const FAMILY: &'static str = "slow";
}

/// Why nothing can be called complete although nothing is left to do.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum NotComplete {
    PointsUnknown { no_plan: PlanError },
    NothingRequired,
    Faults,
    FileWithoutPlace,
    BeingWritten,
}

impl Fact for NotComplete {
    const FAMILY: &'static str = "not-complete";
}

/// One thing that is still to do.
#[derive(Clone, Debug, PartialEq)]
pub enum Todo {
    /// A hit that was not made yet.
    Make {
        /// Where.
        point: TestPoint,
        /// Which hit there, from 1.
        repeat: u32,
        /// How many are wanted there.
        wanted: usize,
        /// The name to save its log under; `None` where the pattern of names cannot say it.
        save_as: Option<String>,
    },
    /// A hit that was made and cannot show what it should.
    Again {
        /// Where.
        point: TestPoint,
        /// Which hit there.
        repeat: u32,
        /// Its log.
        file: String,
        /// Why; at least one reason.
        why: Vec<Repeat>,
    },
}

/// Why a hit must be made again.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum Repeat {
    /// Its log gave no measurement.
    Unread {
        log: String,
        not_measured: NotMeasured,
    },
    /// Its record cannot show a value that decides.
    Limited { limitation: Limitation },
}

impl Fact for Repeat {
    const FAMILY: &'static str = "repeat";
}

impl Repeat {
    /// The reason, and what helps.
    fn text(&self, words: &Words) -> String {
        match self {
            Self::Limited { limitation } => words.said(limitation).whole(),
            Self::Unread { .. } => words.fact(self),
        }
    }
}

/// The reasons as parts of one sentence.
fn because(words: &Words, why: &[Repeat]) -> String {
    told::joined(&why.iter().map(|why| why.text(words)).collect::<Vec<_>>())
}

impl Todo {
    /// What its messages tell.
    fn fields(&self) -> Vec<(&'static str, FluentValue<'_>)> {
        match self {
            Self::Make {
                repeat,
                wanted,
                save_as,
                ..
            } => vec![
                ("repeat", (*repeat).into()),
                ("wanted", (*wanted).into()),
                ("file", save_as.as_deref().unwrap_or("none").into()),
            ],
            Self::Again { repeat, file, .. } => {
                vec![("repeat", (*repeat).into()), ("file", file.as_str().into())]
            }
        }
    }

    /// Where.
    #[must_use]
    pub const fn point(&self) -> &TestPoint {
        match self {
            Self::Make { point, .. } | Self::Again { point, .. } => point,
        }
    }
}

impl Live {
    /// Everything that is still to do: the wanted points in the order of the plan, then what lies beside it.
    #[must_use]
    pub fn todo(&self) -> Vec<Todo> {
        let mut todo = Vec::new();
        for wanted in self
            .assessment
            .plan()
            .into_iter()
            .flat_map(|plan| &plan.points)
        {
            todo.extend(self.again_at(&wanted.point));
            todo.extend(self.to_make(&wanted.point, wanted.repeats));
        }
        let beside = |point: &TestPoint| self.assessment.planned.repeats_at(point).is_none();
        let poor = self.assessment.hits.iter().filter(|hit| beside(&hit.point));
        todo.extend(poor.filter_map(|hit| self.again(hit)));
        let listed = self.listed.iter().filter(|log| beside(&log.point));
        todo.extend(listed.map(|log| Todo::Make {
            point: log.point,
            repeat: log.repeat,
            wanted: 1,
            save_as: Some(log.file.clone()),
        }));
        todo
    }

    /// What comes next, with the least moving of the gauge: the last hit again if it must be, then the rest of its place,
    /// then the plan from its beginning.
    #[must_use]
    pub fn next(&self) -> Option<Todo> {
        let todo = self.todo();
        let last = self.last_hit();
        let is_last = |one: &&Todo| match one {
            Todo::Again { file, .. } => last.is_some_and(|hit| hit.file == *file),
            Todo::Make { .. } => false,
        };
        let is_here = |one: &&Todo| last.is_some_and(|hit| hit.point == *one.point());
        let first = todo.iter().find(is_last).or(todo.iter().find(is_here));
        first.or(todo.first()).cloned()
    }

    /// The hit that was read last, if its log is still there.
    #[must_use]
    pub fn last_hit(&self) -> Option<&Hit> {
        let last = self.last.as_deref()?;
        self.assessment.hits.iter().find(|hit| hit.file == last)
    }

    /// Whether a hit is to be made again before anything else.
    fn is_next(&self, hit: &Hit) -> bool {
        matches!(self.next(), Some(Todo::Again { file, .. }) if file == hit.file)
    }

    /// Whether nothing is missing any more: every wanted hit is there, none must be made again, and nothing lies in the folder
    /// that was not taken. The verdict can still be any of the three.
    #[must_use]
    pub fn complete(&self) -> bool {
        self.todo().is_empty() && self.open().is_none()
    }

    /// Why nothing can be called complete although nothing is left to do; `None` where it can.
    #[must_use]
    pub fn open(&self) -> Option<NotComplete> {
        let planned = &self.assessment.planned;
        let listed = self.assessment.gate.logs.as_ref();
        let nothing_wanted =
            planned.plan().is_none() && listed.is_none_or(|logs| logs.list.is_empty());
        if let Some(why) = planned.open() {
            let no_plan = why.clone();
            Some(NotComplete::PointsUnknown { no_plan })
        } else if nothing_wanted {
            Some(NotComplete::NothingRequired)
        } else if !self.faults.is_empty() {
            Some(NotComplete::Faults)
        } else if !self.unplaced.is_empty() {
            Some(NotComplete::FileWithoutPlace)
        } else if !self.coming.is_empty() {
            Some(NotComplete::BeingWritten)
        } else {
            None
        }
    }

    /// Wanted hits, and those of them that are there and need not be made again.
    #[must_use]
    pub fn progress(&self) -> (usize, usize) {
        let points = self
            .assessment
            .plan()
            .into_iter()
            .flat_map(|plan| &plan.points);
        points.fold((0, 0), |(standing, wanted), one| {
            let here = self
                .assessment
                .hits
                .iter()
                .filter(|hit| hit.point == one.point);
            let good = here.filter(|hit| told::again(&self.assessment, hit).is_empty());
            (
                standing + good.count().min(one.repeats),
                wanted + one.repeats,
            )
        })
    }

    fn again_at(&self, point: &TestPoint) -> Vec<Todo> {
        let here = self
            .assessment
            .hits
            .iter()
            .filter(|hit| hit.point == *point);
        here.filter_map(|hit| self.again(hit)).collect()
    }

    fn again(&self, hit: &Hit) -> Option<Todo> {
        let why = told::again(&self.assessment, hit);
        (!why.is_empty()).then(|| Todo::Again {
            point: hit.point,
            repeat: hit.repeat,
            file: hit.file.clone(),
            why,
        })
    }

    /// The hits of a wanted point that nobody made yet. A log that could not be read, or is still being written, holds its place.
    fn to_make(&self, point: &TestPoint, wanted: usize) -> Vec<Todo> {
        let logs = self.assessment.gate.logs.as_ref();
        let pattern = logs.and_then(|logs| Pattern::parse(logs.names.as_deref()?).ok());
        let hits = self
            .assessment
            .hits
            .iter()
            .filter(|hit| hit.point == *point);
        let coming = self.coming.iter().filter_map(|one| one.hit);
        let coming = coming
            .filter(|(at, _)| at == point)
            .map(|(_, repeat)| repeat);
        let taken: Vec<u32> = hits.map(|hit| hit.repeat).chain(coming).collect();
        let free = (1..).filter(|repeat| !taken.contains(repeat));
        let left = wanted.saturating_sub(taken.len());
        let name = |repeat: u32| {
            let listed = self
                .listed
                .iter()
                .find(|log| log.point == *point && log.repeat == repeat);
            let by_list = listed.map(|log| log.file.clone());
            by_list.or_else(|| pattern.as_ref()?.name_of(point, repeat))
        };
        free.take(left)
            .map(|repeat| Todo::Make {
                point: *point,
                repeat,
                wanted,
                save_as: name(repeat),
            })
            .collect()
    }

    /// A place as the gauge is set up.
    fn place(&self, words: &Words, point: &TestPoint) -> String {
        place_text(words, point, self.assessment.gate.gate.motion)
    }

    /// A thing to do in one line.
    fn todo_text(&self, words: &Words, todo: &Todo) -> String {
        let mut fields = todo.fields();
        fields.push(("place", self.place(words, todo.point()).into()));
        words.with(
            match todo {
                Todo::Make { .. } => "live-make",
                Todo::Again { .. } => "live-again",
            },
            &fields,
        )
    }

    /// How far the visit has come, in a sentence.
    fn standing(&self, words: &Words) -> String {
        let todo = self.todo();
        let again = |one: &&Todo| matches!(one, Todo::Again { .. });
        let again = todo.iter().filter(again).count();
        let (done, required) = self.progress();
        if required == 0 {
            let why = self.open();
            let why = why.map_or_else(|| "none".to_owned(), |why| words.fact(&why));
            let hits = self.assessment.hits.len();
            let fields = [("hits", hits.into()), ("why", why.into())];
            return words.with("live-standing-unplanned", &fields);
        }
        let fields = [
            ("done", done.into()),
            ("required", required.into()),
            ("make", (todo.len() - again).into()),
            ("again", again.into()),
        ];
        words.with("live-standing", &fields)
    }
}
