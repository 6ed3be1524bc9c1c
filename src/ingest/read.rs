//! The reader on one page: bytes → text → dialect → columns → rows → instants → record or questions.

use crate::ingest::clock::instants::{self, Clocked};
use crate::ingest::clock::steps::Steps;
use crate::ingest::decode;
use crate::ingest::digest::sha256;
use crate::ingest::doubt::forces;
use crate::ingest::layout::columns::{self, Plan};
use crate::ingest::layout::propose::{self, Proposal};
use crate::ingest::notices::Notices;
use crate::ingest::rows::table::{LostRow, Table, Why};
use crate::ingest::unpack::{Opened, container};
use crate::ingest::{
    Answers, Ask, ChosenRun, Doubt, Foreign, Kind, Notice, Noticed, Outcome, Question, ReadError,
    Reading, Role, Run, Sign,
};
use crate::ingest::{doubt, rows};
use crate::quantity::{Hertz, Newton, Second};
use crate::trace::{Container, Lost, Outline, Outlined, Provenance, Trace};

/// Whether the digest of the log's bytes is computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DigestOf {
    /// SHA-256 of the bytes as they lie in the file.
    Bytes,
    /// None: `Reading::sha256` stays empty, for a caller that has it already.
    Nothing,
}

/// Reads one log from its bytes, with what a person said about it.
///
/// # Errors
/// [`ReadError`] where the bytes cannot be a log, or an answer contradicts it.
///
/// # Example
/// ```
/// use relent::ingest::{Answers, Outcome, read};
/// let reading = read(b"time_s,force_N\n0.000,1.5\n0.001,380.0\n0.002,12.0\n", &Answers::default())?;
/// let Outcome::Read(trace) = reading.outcome else { panic!("asked") };
/// assert_eq!(trace.forces().to_vec(), [1.5, 380.0, 12.0]);
/// # Ok::<(), relent::ingest::ReadError>(())
/// ```
pub fn read(bytes: &[u8], answers: &Answers) -> Result<Reading, ReadError> {
    read_with(bytes, answers, DigestOf::Bytes)
}

/// As [`read`], with the choice whether to compute the digest.
///
/// # Errors
/// As [`read`].
pub fn read_with(bytes: &[u8], answers: &Answers, digest: DigestOf) -> Result<Reading, ReadError> {
    let digest = match digest {
        DigestOf::Bytes => sha256(bytes),
        DigestOf::Nothing => String::new(),
    };
    if let Some(format) = Foreign::of(bytes) {
        return Err(ReadError::Foreign { format });
    }
    let unpacked = match container::unpack(bytes, is_log, answers.file.as_deref())? {
        Opened::Log(unpacked) => unpacked,
        Opened::Several(files) => return Ok(which_log(files, digest)),
    };
    let decoded = decode::decode(&unpacked.bytes);
    let proposal = propose::propose(&decoded.text, decoded.first_line, answers)?;
    let plan = columns::assign(&proposal.dialect, &proposal.preamble, answers)?;
    let mut reading = Reading {
        sha256: digest,
        encoding: decoded.name.to_owned(),
        delimiter: proposal.dialect.delimiter.char(),
        decimal_mark: proposal.dialect.mark.char(),
        channels: plan.channels.clone(),
        runs: Vec::new(),
        notices: Vec::new(),
        outcome: Outcome::Asks(Vec::new()),
    };
    let json = decoded.json.then_some(Container::Json);
    let mut log = Log::new(proposal, plan, unpacked.from.or(json));
    for remark in decoded.remarks {
        log.table.notices.add(Kind::Encoding, None, || remark);
    }
    for file in unpacked.left_out {
        let fact = || Noticed::FileLeftOut { file };
        log.table.notices.add(Kind::Archive, None, fact);
    }
    log.read(&decoded.text, answers, &mut reading)?;
    Ok(reading)
}

/// Asks which of several logs is meant.
fn which_log(mut files: Vec<String>, sha256: String) -> Reading {
    const SHOWN: usize = 20;
    let more = files.len().saturating_sub(SHOWN);
    files.truncate(SHOWN);
    Reading {
        sha256,
        encoding: String::new(),
        delimiter: None,
        decimal_mark: '.',
        channels: Vec::new(),
        runs: Vec::new(),
        notices: Vec::new(),
        outcome: Outcome::Asks(vec![Question {
            ask: Ask::File,
            doubt: Doubt::SeveralLogs { files, more },
        }]),
    }
}

/// The names of the logs in a zip archive; none for any other file, nor for an archive of one log.
///
/// # Errors
/// [`ReadError`] for an archive that cannot be read or holds no log.
pub fn logs_within(bytes: &[u8]) -> Result<Vec<String>, ReadError> {
    Ok(match container::unpack(bytes, is_log, None)? {
        Opened::Log(_) => Vec::new(),
        Opened::Several(files) => files,
    })
}

/// Whether bytes are text with rows of numbers.
fn is_log(bytes: &[u8]) -> bool {
    let decoded = decode::decode(bytes);
    propose::propose(&decoded.text, decoded.first_line, &Answers::default()).is_ok()
}

/// Most runs that are told one by one.
const MOST_RUNS: usize = 100;

/// What the instants and the forces of a run show at a glance.
struct Glance {
    steps: Steps,
    outline: Outline,
}

impl Glance {
    fn of(clocked: &Clocked, run: usize, table: &Table) -> Self {
        let (from, to) = (clocked.bounds[run], clocked.bounds[run + 1]);
        Self {
            steps: clocked.steps(&clocked.times[from..to]),
            outline: Outline::of(&table.forces[from..to]),
        }
    }
}

/// A log on its way through the stages.
struct Log {
    proposal: Proposal,
    plan: Plan,
    table: Table,
    questions: Vec<Question>,
    container: Option<Container>,
}

impl Log {
    fn new(mut proposal: Proposal, mut plan: Plan, container: Option<Container>) -> Self {
        let mut questions = std::mem::take(&mut proposal.questions);
        questions.append(&mut plan.questions);
        let mut notices = Notices::default();
        notices.extend(std::mem::take(&mut proposal.notices));
        for fact in std::mem::take(&mut plan.units) {
            notices.add(Kind::Unit, None, || fact);
        }
        Self {
            proposal,
            plan,
            table: Table::with_notices(notices),
            questions,
            container,
        }
    }

    fn read(
        mut self,
        text: &[u8],
        answers: &Answers,
        reading: &mut Reading,
    ) -> Result<(), ReadError> {
        if self.plan.forces.is_empty() {
            return self.ask(reading);
        }
        let notices = std::mem::take(&mut self.table.notices);
        self.table = rows::read::read(text, &self.proposal.dialect, &self.plan, notices)?;
        self.questions.append(&mut self.table.questions);
        let width = self.proposal.dialect.width;
        let doubts = doubt::rows::of_rows(&mut self.table, width, answers);
        self.questions.extend(doubts);
        if self.table.times.is_empty() {
            if !self.questions.is_empty() {
                return self.ask(reading);
            }
            return Err(ReadError::NoSample {
                line: self.proposal.dialect.first_line,
                column: self.name_of_force(),
            });
        }
        self.turn(answers);
        let mut clocked = instants::instants(
            &mut self.table,
            &self.plan,
            &self.proposal.preamble,
            answers,
        )?;
        self.questions.append(&mut clocked.questions);
        if let Some(declared) = &self.proposal.preamble.rows {
            doubt::rows::count(declared, &clocked, &mut self.table);
        }
        if answers.run == Some(ChosenRun::ALL) {
            doubt::rows::join_runs(&mut clocked, &self.table)?;
        }
        let runs = clocked.bounds.len() - 1;
        let several = doubt::rows::several_runs(&clocked.bounds, &self.table);
        let chosen = match (answers.run, several) {
            (Some(ChosenRun::Number(asked)), _) => {
                let first_line = self.proposal.dialect.first_line;
                Some(doubt::rows::chosen_run(asked, runs, first_line)?)
            }
            (_, Some(question)) => {
                self.questions.push(question);
                None
            }
            (_, None) => Some(0),
        };
        let mut seen = None;
        if clocked.clock.is_some() {
            for run in chosen.map_or(0..runs.min(MOST_RUNS), |run| run..run + 1) {
                let glance = Glance::of(&clocked, run, &self.table);
                reading.runs.push(self.run(&clocked, run, &glance));
                seen = Some(glance);
            }
        }
        let Some(run) = chosen.filter(|_| self.questions.is_empty()) else {
            return self.ask(reading);
        };
        if let (None, [seen]) = (answers.sign, reading.runs.as_slice()) {
            let forces = &self.table.forces[clocked.bounds[run]..clocked.bounds[run + 1]];
            self.questions
                .extend(forces::sign(forces, seen.min.get(), seen.max.get()));
        }
        if !self.questions.is_empty() {
            return self.ask(reading);
        }
        let glance = seen.unwrap_or_else(|| Glance::of(&clocked, run, &self.table));
        let clock = clocked.clock.take();
        let mut trace = self.trace(clocked, run, glance)?;
        let forces = self.plan.force_columns();
        let mut says = std::mem::take(&mut self.proposal.preamble.says);
        says.remarks(text);
        for name in forces.iter().filter_map(|force| force.column.name.as_ref()) {
            says.head(name);
        }
        trace.averaging = says.filter;
        trace.provenance = clock.map(|clock| Provenance {
            container: self.container.take(),
            encoding: reading.encoding.clone(),
            delimiter: self.proposal.dialect.delimiter.code(),
            decimal_mark: reading.decimal_mark,
            forces,
            push: answers.sign.unwrap_or_default(),
            clock,
            rate_hz: reading.runs.first().and_then(|run| run.rate),
            run: run + 1,
            runs,
            rows_lost: trace.lost.len(),
            answers: answers.clone(),
            range_n: says.range_n.map(Newton),
            days: says.days,
            serials: says.serials,
        });
        reading.notices = self.notices();
        reading.outcome = Outcome::Read(Box::new(trace));
        Ok(())
    }

    fn ask(mut self, reading: &mut Reading) -> Result<(), ReadError> {
        reading.notices = self.notices();
        reading.outcome = Outcome::Asks(self.questions);
        Ok(())
    }

    fn notices(&mut self) -> Vec<Notice> {
        std::mem::take(&mut self.table.notices).finish()
    }

    fn name_of_force(&self) -> String {
        self.plan.forces.first().map_or_else(String::new, |force| {
            let name = &self.plan.channels[force.column].name;
            if name.is_empty() {
                (force.column + 1).to_string()
            } else {
                name.clone()
            }
        })
    }

    /// Turns the forces round where a push is negative in the log.
    fn turn(&mut self, answers: &Answers) {
        if answers.sign == Some(Sign::PushIsNegative) {
            for force in &mut self.table.forces {
                *force = -*force;
            }
        }
    }

    /// The numbers of one run, with a notice for each thing that looks odd in it.
    fn run(&mut self, clocked: &Clocked, run: usize, glance: &Glance) -> Run {
        let (from, to) = (clocked.bounds[run], clocked.bounds[run + 1]);
        let times = &clocked.times[from..to];
        let Glance { steps, outline } = glance;
        let usual = steps.usual(times);
        if let Some(usual) = usual {
            instants::tell_gaps(times, from, steps, usual, &mut self.table);
        }
        let forces = std::mem::take(&mut self.table.forces);
        forces::look(&forces[from..to], from, outline, &mut self.table);
        let outlined = Outlined::new(&forces[from..to], outline.spans());
        let max_at = outlined.greatest(0..to - from).unwrap_or(0);
        self.table.forces = forces;
        let missing = self
            .lost(from, to)
            .filter(|row| row.why == Why::Force)
            .count();
        Run {
            samples: to - from + missing,
            missing,
            rate: usual.map(|usual| Hertz(1.0 / usual)),
            step: usual.map(|usual| {
                [
                    Second(steps.smallest),
                    Second(usual),
                    Second(steps.greatest),
                ]
            }),
            max: Newton(outline.whole().most),
            max_at: Second(times[max_at] - times[0]),
            min: Newton(outline.whole().least),
        }
    }

    /// The lost rows of a run: those before its first sample belong to it only in the first run.
    fn lost(&self, from: usize, to: usize) -> impl Iterator<Item = &LostRow> {
        self.table
            .lost
            .iter()
            .filter(move |row| (row.samples_before > from || from == 0) && row.samples_before <= to)
    }

    /// The record of the chosen run.
    fn trace(&mut self, clocked: Clocked, run: usize, glance: Glance) -> Result<Trace, ReadError> {
        let (from, to) = (clocked.bounds[run], clocked.bounds[run + 1]);
        let lost = self
            .lost(from, to)
            .map(|row| Lost {
                after: (row.samples_before - from).checked_sub(1),
                line: row.line,
                text: row.text.clone(),
            })
            .collect();
        let whole = from == 0 && to == clocked.times.len();
        let cut = |values: Vec<f64>| {
            if whole {
                values
            } else {
                values[from..to].to_vec()
            }
        };
        let times = cut(clocked.times);
        let forces = cut(std::mem::take(&mut self.table.forces));
        let Glance { steps, outline } = glance;
        let steps = (steps.smallest, steps.greatest);
        let trace = Trace::outlined(times.into(), forces.into(), steps, outline);
        let mut trace = trace.map_err(|source| ReadError::Record {
            line: self.table.line(from),
            source,
        })?;
        trace.lost = lost;
        for (extra, values) in self
            .plan
            .extras
            .iter()
            .zip(std::mem::take(&mut self.table.extras))
        {
            let values = Some(cut(values).into());
            match extra.role {
                Role::Position => trace.position_mm = values,
                Role::Speed => trace.speed_mm_s = values,
                Role::Current => trace.current_a = values,
                _ => {}
            }
        }
        Ok(trace)
    }
}
