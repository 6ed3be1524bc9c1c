//! `relent watch`: the visit as it is made. Each log is assessed as it lands, and what comes next is named.

mod disk;
mod looks;
mod serve;
mod visit;

use std::path::PathBuf;
use std::thread;
use std::time::Duration;

use clap::Args;

use crate::cli::exit::Exit;
use crate::cli::screen;
use crate::cli::stop::Stop;
use crate::cli::visible::{self, on_one_line};
use crate::report::live::{self, Live};
use crate::visit::{Planned, plan};
use crate::words::{Language, Words};
use serve::Server;
use visit::{Asked, Visit};

/// Options of `relent watch`.
#[derive(Args, Debug)]
pub struct WatchArgs {
    /// Gate folder, or a gate file
    #[arg(value_name = "GATE")]
    gate: PathBuf,
    /// Time between two looks at the folder of the logs, in ms
    #[arg(long, value_name = "MS", default_value_t = 500, value_parser = every)]
    every: u64,
    /// End once nothing is missing and no hit has to be made again, with the exit status of the verdict
    #[arg(long)]
    until_complete: bool,
    /// Serve a page that shows the visit to browsers on this machine, and print its address. The default port is a free one
    #[arg(long, value_name = "PORT", num_args = 0..=1, default_missing_value = "0", value_parser = port)]
    serve: Option<u16>,
    /// Assess against another limit profile than the gate file names
    #[arg(long, value_name = "PROFILE")]
    profile: Option<String>,
    /// Folder of an earlier visit to this gate, as `visit.earlier` in the gate file: a log that is a copy of one of its
    /// logs is named, and its reading is not valid. May be given several times
    #[arg(long, value_name = "FOLDER")]
    earlier: Vec<PathBuf>,
}

/// What is said after the options.
pub const LOOKS: &str = "\
A log is read once two looks, one after the other, saw it with the same size and the same time of change, and
not empty: one that is still being written is not assessed by half. A log that is replaced is assessed again, one
that is gone no longer counts, and a gate file that is changed is read again; while it has a fault, the hits
are assessed by what stood there before. On a terminal the view is drawn anew at each change; into a pipe goes
one line an event. Ctrl-C ends it. Nothing is written: `relent assess` writes the report.

The page of --serve is for this machine alone (127.0.0.1) and says so when the program no longer answers. To see
it on a phone, let the phone's own means carry the port over: a cable with port forwarding, or ssh.

Exit status: that of the verdict where --until-complete ends it; 2 the work could not be started.

A force test within its limits does not make a gate safe. Local codes and licensed practice come first.
Testing a moving gate is itself dangerous: work in pairs, hold the gauge in a fixed support, isolate the
power while setting up.";

/// Watches until the visit is complete, if that is asked for, or for as long as somebody follows.
pub fn run(args: &WatchArgs) -> Result<Exit, Stop> {
    let mut visit = Visit::open(Asked {
        gate: args.gate.clone(),
        profile: args.profile.clone(),
        earlier: args.earlier.clone(),
    })?;
    if args.until_complete {
        can_be_complete(&visit)?;
    }
    let every = Duration::from_millis(args.every);
    let server = args
        .serve
        .map(|port| Server::start(port, every))
        .transpose()?;
    let end = if args.until_complete {
        End::Complete
    } else {
        End::Never
    };
    let mut screen = Screen::new(&visit, server.as_ref().map(Server::address), end);
    // One look more before anything is told, so that the logs that are there lie still.
    let mut live = visit.look();
    thread::sleep(every);
    loop {
        live = visit.look().or(live);
        if let Some(live) = live.take() {
            if let Some(server) = &server {
                server.show(&live);
            }
            let followed = screen.show(live);
            if !followed || screen.has_ended() {
                return Ok(screen.overall());
            }
        }
        if let Some(server) = &server {
            server.looked();
        }
        thread::sleep(every);
    }
}

fn every(text: &str) -> Result<u64, String> {
    let looked = text.parse().ok().filter(|ms| (20..=60_000).contains(ms));
    looked.ok_or_else(|| "expected a whole number of milliseconds from 20 to 60000".to_owned())
}

fn port(text: &str) -> Result<u16, String> {
    let none =
        |_| "expected the number of a port, from 1 to 65535, or none for a free one".to_owned();
    text.parse().map_err(none)
}

/// Waiting for the end makes sense only where it is known what is wanted.
fn can_be_complete(visit: &Visit) -> Result<(), Stop> {
    let folder = visit.folder();
    let listed = folder
        .gate
        .logs
        .as_ref()
        .is_some_and(|logs| !logs.list.is_empty());
    let words = Words::of(Language::English);
    match plan(&folder.gate, &folder.profile) {
        Planned::Known(_) => Ok(()),
        Planned::NotPrescribed(_) if listed => Ok(()),
        Planned::NotPrescribed(why) => Err(Stop::because(
            format_args!("--until-complete would never end: {}", words.fact(&why)),
            "list the logs of the visit in [[logs.list]] of the gate file, or watch without it and end with Ctrl-C",
        )),
        Planned::InPart(_, why) | Planned::Unknown(why) => Err(Stop::because(
            format_args!("--until-complete would never end: {}", words.fact(&why)),
            "write it into the gate file, or watch without it and end with Ctrl-C",
        )),
    }
}

/// What ends a watch, beside Ctrl-C and a reader that goes away.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum End {
    /// Nothing.
    Never,
    /// That nothing is missing any more and no hit has to be made again.
    Complete,
}

/// What the user sees: a view that is drawn anew, or a line an event.
struct Screen {
    end: End,
    before: Option<Live>,
    address: Option<String>,
    gate: String,
}

impl Screen {
    fn new(visit: &Visit, address: Option<&str>, end: End) -> Self {
        let gate = visible::name(&visit.folder().path);
        if screen::width().is_none() {
            let logs = visit.folder().logs_folder();
            screen::print(&line(&format!("watching {}", visible::name(&logs))));
            if let Some(address) = address {
                screen::print(&line(&format!("page: {address}")));
            }
        }
        Self {
            end,
            before: None,
            address: address.map(str::to_owned),
            gate,
        }
    }

    /// Shows how the visit stands now; false once nobody follows any more.
    fn show(&mut self, live: Live) -> bool {
        let followed = match screen::width() {
            Some(width) => screen::drawn_anew(&self.view(&live, width)),
            None => {
                let words = Words::of(Language::English);
                let news = live::news(words, self.before.as_ref(), &live);
                let mut told: String = news.iter().map(|news| line(news)).collect();
                if self.ends_with(&live) {
                    told.push_str(&line(&self.farewell()));
                }
                told.is_empty() || screen::goes_on(&told)
            }
        };
        self.before = Some(live);
        followed
    }

    /// The view.
    fn view(&self, live: &Live, width: usize) -> String {
        let mut text = live::terminal(Words::of(Language::English), live, width);
        text.push('\n');
        if self.ends_with(live) {
            text.push_str(&format!("{}\n", self.farewell()));
            return text;
        }
        if let Some(address) = &self.address {
            text.push_str(&format!("Page: {address}\n"));
        }
        text.push_str(&format!(
            "Ctrl-C ends; `relent assess {}` writes the report.\n",
            self.gate
        ));
        text
    }

    /// Said last, below the verdict: nothing is written yet.
    fn farewell(&self) -> String {
        format!(
            "The watch has ended. `relent assess {}` writes the report.",
            self.gate
        )
    }

    fn ends_with(&self, live: &Live) -> bool {
        self.end == End::Complete && live.complete()
    }

    fn has_ended(&self) -> bool {
        self.before
            .as_ref()
            .is_some_and(|live| self.ends_with(live))
    }

    /// The exit status of what was assessed.
    fn overall(&self) -> Exit {
        let verdict = self
            .before
            .as_ref()
            .map(|live| live.assessment.overall().verdict);
        verdict.map_or(Exit::Undecided, Exit::from)
    }
}

/// One line of an event: a name of a file may hold anything, a line may not.
fn line(text: &str) -> String {
    format!("{}\n", on_one_line(text))
}
