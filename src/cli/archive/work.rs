//! The work on an archive: gates side by side, one journal.

use std::collections::HashMap;
use std::fs::{File, OpenOptions};
use std::io::{self, BufRead, BufReader, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread::ScopedJoinHandle;
use std::time::{Duration, Instant};

use rayon::ThreadPoolBuilder;

use super::folder::{Setting, assess};
use super::walk::Place;
use crate::archive::inputs::Inputs;
use crate::archive::journal::{self, Entry};
use crate::archive::{AssessedGate, GateRow};
use crate::cli::complaint::Complaint;
use crate::cli::output::{Draft, Kind, WriteError};
use crate::cli::screen;
use crate::cli::stop::Stop;
use crate::visit::Fault;

/// Name of the journal in the folder of the outputs.
const JOURNAL: &str = "archive.journal";

/// Longest time for which a finished gate may be lost when the power fails: it would be assessed again.
const SYNC: Duration = Duration::from_secs(1);

/// A line of the journal.
#[derive(Clone, Copy)]
struct Line {
    at: u64,
    length: usize,
}

/// What an earlier run left.
struct Known {
    line: Line,
    inputs: Inputs,
}

/// The work before it is done.
pub(super) struct Work {
    path: PathBuf,
    known: HashMap<String, Known>,
    journal: Mutex<Journal>,
}

/// The work when it is done.
pub(super) struct Done {
    path: PathBuf,
    /// Every folder in the order of their names.
    found: Vec<Found>,
    /// How many folders were assessed in this run.
    pub(super) assessed_now: usize,
    /// Whether the journal holds lines that nobody needs any more.
    stale: bool,
}

enum Found {
    Line(Line),
    NotAssessed(Box<GateRow>),
}

/// The journal, open at its end.
struct Journal {
    file: File,
    end: u64,
    synced: Instant,
}

impl Work {
    /// Opens the journal and reads what an earlier run left that was assessed under the same setting; with `anew` nothing of it.
    ///
    /// # Errors
    /// [`Stop`] if the journal cannot be read or written.
    pub(super) fn begin(out: &Path, setting: &Setting, anew: bool) -> Result<Self, Stop> {
        let path = out.join(JOURNAL);
        let failed = |source| Stop::from(WriteError::new(&path, source));
        Kind::Journal.may_be(&path).map_err(failed)?;
        let file = OpenOptions::new()
            .read(true)
            .write(true)
            .create(true)
            .truncate(anew)
            .open(&path)
            .map_err(failed)?;
        let (known, end) = read(&file, &setting.under).map_err(failed)?;
        // A torn last line is taken away, so that the next one starts a line of its own.
        file.set_len(end).map_err(failed)?;
        let journal = Journal {
            file,
            end,
            synced: Instant::now(),
        };
        Ok(Self {
            path,
            known,
            journal: Mutex::new(journal),
        })
    }

    /// Assesses the folders that are not known or whose files changed, as many at once as there are cores.
    ///
    /// # Errors
    /// [`Stop`] if the journal cannot be written, or no thread can be had.
    pub(super) fn assess(self, folders: Vec<Place>, setting: &Setting) -> Result<Done, Stop> {
        let cores = rayon::current_num_threads();
        let workers = cores.min(folders.len()).max(1);
        let progress = screen::progress(folders.len(), "gates");
        let (next, stopped) = (AtomicUsize::new(0), AtomicBool::new(false));
        let worker = || -> Result<Vec<(usize, Found, bool)>, Stop> {
            // A pool of its own for each gate at work: a shared one would start further gates while it waits for the logs of
            // one, and hold the logs of all of them.
            let pool = ThreadPoolBuilder::new()
                .num_threads((cores / workers).max(1))
                .build()
                .map_err(Stop::fault)?;
            let mut done = Vec::new();
            while !stopped.load(Ordering::Relaxed) {
                let place = next.fetch_add(1, Ordering::Relaxed);
                let Some(folder) = folders.get(place) else {
                    break;
                };
                let (found, now) = pool
                    .install(|| self.one(folder, setting))
                    .inspect_err(|_| stopped.store(true, Ordering::Relaxed))?;
                done.push((place, found, now));
                progress.inc(1);
            }
            Ok(done)
        };
        let parts: Vec<_> = std::thread::scope(|scope| {
            let handles: Vec<_> = (0..workers).map(|_| scope.spawn(worker)).collect();
            handles.into_iter().map(ScopedJoinHandle::join).collect()
        });
        progress.finish_and_clear();
        let mut found = Vec::with_capacity(folders.len());
        for part in parts {
            let part = part.map_err(|_| Complaint::error(Fault { on: "archive" }))?;
            found.extend(part?);
        }
        found.sort_by_key(|(place, _, _)| *place);
        self.finish(found)
    }

    /// The result for one folder: from the journal of an earlier run, or assessed now.
    fn one(&self, folder: &Place, setting: &Setting) -> Result<(Found, bool), Stop> {
        if let Some(known) = self.known.get(&folder.name)
            && folder.trouble.is_none()
            && known.inputs.hold(&folder.path)
        {
            return Ok((Found::Line(known.line), false));
        }
        let (assessed, inputs) = match assess(folder, setting) {
            Ok(found) => found,
            // Not kept: the cause may have gone by the next run.
            Err(row) => return Ok((Found::NotAssessed(row), true)),
        };
        let entry = Entry {
            under: setting.under.clone(),
            inputs,
            assessed,
        };
        let bytes = journal::line(&entry).map_err(Stop::fault)?;
        let failed = |source| WriteError::new(&self.path, source);
        let mut journal = self
            .journal
            .lock()
            .map_err(|_| failed(io::Error::other("the journal was left by a failed worker")))?;
        Ok((Found::Line(journal.append(&bytes).map_err(failed)?), true))
    }

    fn finish(self, found: Vec<(usize, Found, bool)>) -> Result<Done, Stop> {
        let failed = |source| WriteError::new(&self.path, source);
        let journal = self
            .journal
            .into_inner()
            .map_err(|_| failed(io::Error::other("the journal was left by a failed worker")))?;
        journal.file.sync_data().map_err(failed)?;
        let assessed_now = found.iter().filter(|(_, _, now)| *now).count();
        let found: Vec<Found> = found.into_iter().map(|(_, found, _)| found).collect();
        let used: u64 = found
            .iter()
            .map(|found| match found {
                Found::Line(line) => line.length as u64,
                Found::NotAssessed(_) => 0,
            })
            .sum();
        Ok(Done {
            stale: used < journal.end,
            path: self.path,
            found,
            assessed_now,
        })
    }
}

impl Journal {
    /// Adds a whole line; one that could not be written whole is taken away again.
    fn append(&mut self, bytes: &[u8]) -> io::Result<Line> {
        self.file.seek(SeekFrom::Start(self.end))?;
        if let Err(error) = self.file.write_all(bytes) {
            let _ = self.file.set_len(self.end);
            return Err(error);
        }
        let line = Line {
            at: self.end,
            length: bytes.len(),
        };
        self.end += bytes.len() as u64;
        if self.synced.elapsed() >= SYNC {
            self.file.sync_data()?;
            self.synced = Instant::now();
        }
        Ok(line)
    }
}

/// The entries of a journal under this setting, the last of each folder, and where its last whole line ends.
fn read(file: &File, under: &str) -> io::Result<(HashMap<String, Known>, u64)> {
    let mut reader = BufReader::new(file);
    let (mut known, mut end, mut line) = (HashMap::new(), 0, Vec::new());
    loop {
        line.clear();
        let length = reader.read_until(b'\n', &mut line)?;
        if !line.ends_with(b"\n") {
            return Ok((known, end));
        }
        if let Some(entry) = journal::entry(&line).filter(|entry| entry.under == under) {
            let at = Line { at: end, length };
            let inputs = entry.inputs;
            known.insert(entry.assessed.gate.folder, Known { line: at, inputs });
        }
        end += length as u64;
    }
}

impl Done {
    /// Gives every folder in the order of their names, one at a time, to `take`.
    ///
    /// # Errors
    /// [`Stop`] if the journal cannot be read again, and those of `take`.
    pub(super) fn each(
        &self,
        mut take: impl FnMut(&AssessedGate) -> Result<(), Stop>,
    ) -> Result<(), Stop> {
        let failed = |error: io::Error| Stop::unreadable(&self.path, &error);
        let mut file = File::open(&self.path).map_err(failed)?;
        for found in &self.found {
            match found {
                Found::NotAssessed(row) => take(&AssessedGate {
                    gate: GateRow::clone(row),
                    findings: Vec::new(),
                })?,
                Found::Line(line) => {
                    let bytes = bytes(&mut file, *line).map_err(failed)?;
                    let entry = journal::entry(&bytes).ok_or_else(|| {
                        failed(io::Error::other("it changed while it was being read"))
                    })?;
                    take(&entry.assessed)?;
                }
            }
        }
        Ok(())
    }

    /// Writes the journal anew without the lines that nobody needs any more.
    ///
    /// # Errors
    /// [`Stop`] if that fails; the old journal is then still there.
    pub(super) fn tidy(&self) -> Result<(), Stop> {
        if !self.stale {
            return Ok(());
        }
        let failed = |error| WriteError::new(&self.path, error);
        let mut file = File::open(&self.path).map_err(failed)?;
        let mut draft = Draft::create(&self.path, Kind::Journal)?;
        for found in &self.found {
            if let Found::Line(line) = found {
                let bytes = bytes(&mut file, *line).map_err(failed)?;
                draft.write_all(&bytes).map_err(failed)?;
            }
        }
        Ok(draft.publish()?)
    }
}

fn bytes(file: &mut File, line: Line) -> io::Result<Vec<u8>> {
    let mut bytes = vec![0; line.length];
    file.seek(SeekFrom::Start(line.at))?;
    file.read_exact(&mut bytes)?;
    Ok(bytes)
}
