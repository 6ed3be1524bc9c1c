//! A visit while it is made: what is there, what must be made again and why, what is still to do, and in which order.
//!
//! Everything is a function of the hits judged so far and of what lies in the folder beside them.

mod news;
mod page;
mod terminal;
mod told;

pub use news::news;
pub use page::{PROGRAM, fragment, page, style};
pub use terminal::terminal;

use super::place::gap_and_height;
use crate::gate::Pattern;
use crate::gate::names::PlacedLog;
use crate::limits::TestPoint;
use crate::visit::{Assessment, Hit};
use crate::words::{Language, Words};

/// A visit as far as it has come.
#[derive(Clone, Debug)]
pub struct Live {
    /// The hits that were read, judged.
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
    /// What is told of it, where it takes longer than a log should.
    pub words: Option<String>,
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
        /// Why, in plain words; at least one reason.
        why: Vec<String>,
    },
}

impl Todo {
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
    pub fn open(&self) -> Option<String> {
        let planned = &self.assessment.planned;
        let listed = self.assessment.gate.logs.as_ref();
        let nothing_wanted =
            planned.plan().is_none() && listed.is_none_or(|logs| logs.list.is_empty());
        if let Some(why) = planned.open() {
            Some(Words::of(Language::English).fact(why))
        } else if nothing_wanted {
            Some("no test points are prescribed and no logs are listed: which hits are wanted is not known".to_owned())
        } else if !self.faults.is_empty() {
            Some("not everything can be seen".to_owned())
        } else if !self.unplaced.is_empty() {
            Some("not every file in the folder of the logs has a place".to_owned())
        } else if !self.coming.is_empty() {
            Some("a log is still being written".to_owned())
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

    /// A place in words, as the gauge is set up: direction, gap and height.
    fn place(&self, point: &TestPoint) -> String {
        let part = if point.hazard == crate::limits::Hazard::ClosingEdge {
            String::new()
        } else {
            format!(", {}", point.hazard)
        };
        let motion = self.assessment.gate.gate.motion;
        format!(
            "{}{part}, {}",
            point.direction,
            gap_and_height(Words::of(Language::English), point, motion)
        )
    }

    /// A thing to do in one line.
    fn todo_words(&self, todo: &Todo) -> String {
        let place = self.place(todo.point());
        match todo {
            Todo::Make {
                repeat,
                wanted,
                save_as,
                ..
            } => {
                let name = save_as.as_ref().map_or_else(
                    || " (the gate file has no pattern of names that says this hit)".to_owned(),
                    |name| format!(": save it as {name}"),
                );
                format!("{place}, hit {repeat} of {wanted}{name}")
            }
            Todo::Again { repeat, file, .. } => {
                format!("{place}, hit {repeat} again: {}", again_under(file))
            }
        }
    }

    /// How far the visit has come, in a sentence.
    fn standing(&self) -> String {
        let todo = self.todo();
        let again = todo
            .iter()
            .filter(|one| matches!(one, Todo::Again { .. }))
            .count();
        let make = todo.len() - again;
        let (stand, wanted) = self.progress();
        if wanted == 0 {
            let hits = self.assessment.hits.len();
            let why = self
                .open()
                .map(|why| format!("; {why}"))
                .unwrap_or_default();
            return format!(
                "{}{why}.",
                Words::of(Language::English).with("hits", &[("count", hits.into())])
            );
        }
        match (make, again) {
            (0, 0) => format!("{stand} of {wanted} hits are there."),
            (_, 0) => format!("{stand} of {wanted} hits are there, {make} to make."),
            (0, _) => format!("{stand} of {wanted} hits stand, {again} to make again."),
            (_, _) => {
                format!("{stand} of {wanted} hits stand, {make} to make, {again} to make again.")
            }
        }
    }
}

/// How a hit is made again without two logs for one hit.
fn again_under(file: &str) -> String {
    format!("save it as {file}, and keep the poor log outside the folder of the logs")
}
