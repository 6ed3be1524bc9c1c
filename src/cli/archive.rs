//! `relent archive`: every gate folder below a folder is assessed, and what was found becomes tables, an overview and a record.

mod folder;
mod walk;
mod work;
mod write;

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use clap::Args;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use crate::archive::{FoundAt, GateRow, GateState, Summary};
use crate::cli::complaint::Complaint;
use crate::cli::exit::Exit;
use crate::cli::output::{self, Claim};
use crate::cli::screen;
use crate::cli::stop::Stop;
use crate::cli::visible;
use crate::view::column::{Column, columns};
use crate::visit::profile;
use crate::words::{Language, Words};
use folder::Setting;
use work::Work;

/// Options of `relent archive`.
#[derive(Args, Debug)]
pub struct ArchiveArgs {
    /// Folder below which every folder with a gate.toml is assessed as `relent assess` would
    #[arg(value_name = "TREE")]
    tree: PathBuf,
    /// Folder of the tables, the overview and the journal. A run that was interrupted goes on where it was
    #[arg(long, value_name = "FOLDER")]
    out: PathBuf,
    /// Assess against another limit profile than the gate files name; every row says so
    #[arg(long, value_name = "PROFILE")]
    profile: Option<String>,
    /// Assess every gate from its logs, also those whose files look unchanged since an earlier run
    #[arg(long)]
    anew: bool,
    /// Write the tables as Parquet too: findings.parquet and gates.parquet
    #[arg(long)]
    parquet: bool,
    /// Day from which overdue and expired are counted, as 2026-11-25. The default is today (UTC)
    #[arg(long, value_name = "DAY", value_parser = day)]
    today: Option<Date>,
    /// Print archive.json instead of the summary
    #[arg(long)]
    json: bool,
}

/// How many gates of a kind the summary on the terminal names.
const NAMED: usize = 10;

/// Assesses every gate folder below the tree; the exit status is that of the worst.
pub fn run(args: &ArchiveArgs) -> Result<Exit, Stop> {
    if args.parquet && cfg!(not(feature = "parquet")) {
        return Err(Stop::because(
            "--parquet: this relent was built without Parquet",
            "build it with `cargo build --release --features parquet`; findings.csv and gates.csv hold the same rows",
        ));
    }
    if let Some(name) = &args.profile {
        profile::find(name, Path::new("."))?;
    }
    let folders = walk::gate_folders(&args.tree, &args.out)?;
    if folders.is_empty() {
        return Err(Stop::because(
            format_args!(
                "{}: no folder with a gate.toml below it",
                args.tree.display()
            ),
            "`relent new` starts a gate folder; `relent measure` takes loose logs",
        ));
    }
    output::make_folder(&args.out)?;
    let Some(claim) = Claim::take(&args.out) else {
        return Err(Stop::because(
            format_args!(
                "another `relent archive` is writing to {}",
                args.out.display()
            ),
            "wait until it is done, or give another folder with --out",
        ));
    };
    let setting = Setting::new(&args.tree, args.profile.as_deref());
    let work = Work::begin(&args.out, &setting, args.anew)?;
    let done = work.assess(folders, &setting)?;
    let today = args.today.unwrap_or_else(today);
    let written = write::outputs(&done, &args.out, claim, &write::Wishes::new(args, today))?;
    let summary = &written.summary;
    complain(summary, &args.tree);
    if args.json {
        screen::data(&String::from_utf8_lossy(&written.json));
    } else {
        screen::print(&text(summary, done.assessed_now, &args.out));
    }
    Ok(Exit::worst(summary.gates.iter().map(|row| exit(row.state))))
}

fn day(text: &str) -> Result<Date, String> {
    text.parse().map_err(|_| {
        "expected a day of the calendar, the year first, such as 2026-11-25".to_owned()
    })
}

/// Today in UTC.
fn today() -> Date {
    Timestamp::now().to_zoned_datetime(TimeZone::UTC).date()
}

const fn exit(state: GateState) -> Exit {
    match state {
        GateState::Within => Exit::Done,
        GateState::Undecided => Exit::Undecided,
        GateState::Over => Exit::Over,
        GateState::NotAssessed => Exit::Failed,
    }
}

/// Tells of the folders that could not be assessed, of many the first.
fn complain(summary: &Summary, tree: &Path) {
    let broken = || {
        let rows = summary.gates.iter();
        rows.filter_map(|row| Some((&row.folder, row.complaint.as_ref()?)))
    };
    let told: Vec<Complaint> = broken()
        .take(NAMED)
        .map(|(folder, why)| {
            let gate = match folder.as_str() {
                "." => tree.to_owned(),
                folder => tree.join(folder),
            };
            Complaint::error(format_args!("{folder}: not assessed: {why}")).help(format!(
                "`relent assess {}` shows what is wrong, where, and what helps",
                gate.display()
            ))
        })
        .collect();
    screen::complain(&told);
    let more = broken().count().saturating_sub(NAMED);
    if more > 0 {
        screen::tell(&format!(
            "{more} more could not be assessed: gates.csv and overview.html name them"
        ));
    }
}

/// The summary on the terminal.
fn text(summary: &Summary, assessed_now: usize, out: &Path) -> String {
    let words = Words::of(Language::English);
    let all = summary.gates.len();
    let counts = [
        ("folders", all.into()),
        ("states", summary.totals().text(words).into()),
    ];
    let mut text = format!("{}\n", words.with("archive-counts", &counts));
    if assessed_now < all {
        let runs = [
            ("now", assessed_now.into()),
            ("kept", (all - assessed_now).into()),
        ];
        let _ = writeln!(text, "{}", words.with("archive-runs", &runs));
    }
    let mut over: Vec<_> = summary
        .gates
        .iter()
        .filter(|row| row.state == GateState::Over)
        .collect();
    over.sort_by(|one, other| {
        let share = |value: Option<f64>| value.unwrap_or(0.0);
        share(other.greatest_share).total_cmp(&share(one.greatest_share))
    });
    let over = over.iter().map(|row| {
        let at = row.greatest_share_at.as_deref().unwrap_or_default();
        let share = row.greatest_share;
        let share = share.map_or_else(|| "none".into(), |share| (share * 100.0).into());
        let fields = [
            ("folder", row.folder.as_str().into()),
            ("share", share),
            ("at", at.into()),
        ];
        words.with("archive-over-at", &fields)
    });
    list(&mut text, &words.say("archive-farthest-over"), over);
    let offences = summary.offences();
    let offences = offences.iter().map(|one| {
        let point = one.test_point.map(|point| words.fact(&point));
        let fields = [
            ("gate", one.gate.as_str().into()),
            ("limit", one.limit.as_str().into()),
            ("point", point.unwrap_or_default().into()),
            ("visits", one.listed().into()),
        ];
        words.with("archive-offence", &fields)
    });
    list(&mut text, &words.say("archive-offences"), offences);
    let overdue = summary.overdue();
    let overdue = overdue
        .iter()
        .map(|(row, due)| format!("{due}  {}", row.folder));
    list(&mut text, &words.say("archive-overdue"), overdue);
    let expired = summary.expired();
    let expired = expired.iter().map(|gauge| {
        let fields = [
            ("serial", gauge.serial.as_str().into()),
            ("due", gauge.calibration_due.to_string().into()),
        ];
        words.with("archive-expired-since", &fields)
    });
    list(&mut text, &words.say("archive-expired"), expired);
    let overview = visible::name(&out.join(write::OVERVIEW));
    let fields = [("file", overview.into())];
    let _ = writeln!(text, "\n{}", words.with("archive-overview", &fields));
    text
}

/// A heading and the first of many lines; nothing where there are none.
fn list(text: &mut String, heading: &str, lines: impl Iterator<Item = String>) {
    let lines: Vec<String> = lines.collect();
    if lines.is_empty() {
        return;
    }
    let _ = writeln!(text, "\n{heading}:");
    for line in lines.iter().take(NAMED) {
        let _ = writeln!(text, "  {line}");
    }
    if lines.len() > NAMED {
        let more = [("count", (lines.len() - NAMED).into())];
        let more = Words::of(Language::English).with("archive-more", &more);
        let _ = writeln!(text, "  {more}");
    }
}

/// What the long help says after the options: files, columns, exit status.
pub fn after_help() -> String {
    let mut text = String::from(
        "Files in FOLDER, each whole or not at all:\n  \
         findings.csv    one row a finding, a wanted point without all hits, a point without a limit\n  \
         gates.csv       one row a gate folder, also one that could not be assessed\n  \
         overview.html   gates by state, overdue visits, expired gauges, points over more than once\n  \
         archive.json    the same for programs, and the SHA-256 of every other file; written last\n  \
         archive.journal what was assessed so far; a killed run goes on from it\n\n\
         A gate is assessed again when the size or a time of one of its files changed, when relent is another build, or when\n\
         --profile is another. A gate that could not be assessed is tried again each time.\n\n\
         An empty cell is a value that does not exist. Numbers are unrounded, days are written as 2026-11-25.\n",
    );
    let tables = [
        ("gates.csv", columns::<GateRow>()),
        ("findings.csv", columns::<FoundAt<'_>>()),
    ];
    for (file, columns) in tables {
        let _ = writeln!(text, "\nColumns of {file}:");
        for Column {
            name,
            kind,
            meaning,
        } in columns
        {
            let _ = writeln!(text, "  {name:<26} {:<13} {meaning}", kind.word());
        }
    }
    text.push_str(
        "\nExit status: that of the worst gate. 2 at least one could not be assessed (the others were); 1 at least one over a limit;\n\
         3 at least one undecided; 0 all within the limits that were assessed.\n\n\
         A force test within its limits does not make a gate safe. Local codes and licensed practice come first.",
    );
    text
}
