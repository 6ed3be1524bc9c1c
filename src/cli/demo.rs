//! `relent demo`: an invented gate with two visits and three firmware versions, and the assessment of the first.

use std::path::{Path, PathBuf};

use clap::Args;

use crate::cli::assess;
use crate::cli::exit::Exit;
use crate::cli::output::{self, Kind, WriteError};
use crate::cli::screen;
use crate::cli::seal::{Sealed, Standing};
use crate::cli::stop::Stop;
use crate::cli::visible;
use crate::impact::demo::{self, DemoFile};
use crate::report::{self, Budgets};
use crate::visit::{Visit, input};
use crate::words::{Language, Words};

/// Options of `relent demo`.
#[derive(Args, Debug)]
pub struct DemoArgs {
    /// Folder to write the demo gate to; a file that was changed since, or is another, is not written over
    #[arg(value_name = "FOLDER", default_value = "relent-demo")]
    folder: PathBuf,
}

/// Writes the demo gate, assesses its first visit and tells what to try next.
///
/// The exit status is that of the work, not of the invented verdict: a demo that was written and assessed is done.
pub fn run(args: &DemoArgs) -> Result<Exit, Stop> {
    write(&args.folder, &demo::files().map_err(Stop::fault)?)?;
    let mut visit = Visit::open(args.folder.join("visit-1"))?;
    let place = visit.path.join("report");
    output::make_folder(&place)?;
    let assessment = assess::assess(&mut visit)?;
    let record = assess::record(&assessment, &visit, &place)?;
    let sealed = Sealed::new(record, None, Standing::Replaced)?;
    let page = assess::write_report(&assessment, &place, Budgets::Nearest, Some(&sealed))?;
    let words = Words::of(Language::English);
    screen::print(&report::terminal(words, &assessment, screen::width()));
    screen::print(&format!(
        "\nReport: {}\n\nAn invented gate: open the report, then try\n  relent assess {}\n  relent read {}\n  \
         relent compare {} --series 2.3.1 --series 2.4.0 --series 2.5.0 --margin-force 20 --margin-time 20\n",
        visible::name(&page),
        visible::name(&args.folder.join("visit-2")),
        visible::name(&visit.logs_folder().join("closing-300-900-1.csv")),
        visible::name(&args.folder.join(demo::FIRMWARE_FOLDER)),
    ));
    Ok(Exit::Done)
}

/// Writes the files that are not there yet; none, if one of them is there and another.
fn write(folder: &Path, files: &[DemoFile]) -> Result<(), Stop> {
    let mut new = Vec::new();
    for file in files {
        let path = folder.join(&file.path);
        let most = file.bytes.len() as u64 + 1;
        if input::start(&path, most).is_ok_and(|there| there == file.bytes) {
            continue;
        }
        let may_be = Kind::Once.may_be(&path);
        may_be.map_err(|source| WriteError::new(&path, source))?;
        new.push((path, file));
    }
    for (path, file) in new {
        output::make_folder(path.parent().unwrap_or(folder))?;
        output::write_whole(&path, Kind::Once, &file.bytes)?;
    }
    Ok(())
}
