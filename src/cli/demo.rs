//! `relent demo`: an invented gate with two visits and three firmware versions, and the assessment of the first.

use std::path::PathBuf;

use clap::Args;

use crate::cli::exit::Exit;
use crate::cli::folder::GateFolder;
use crate::cli::seal::{self, Standing};
use crate::cli::stop::Stop;
use crate::cli::{assess, output, screen};
use crate::impact::demo;
use crate::report::{self, Budgets};

/// Options of `relent demo`.
#[derive(Args, Debug)]
pub struct DemoArgs {
    /// Folder to write the demo gate to; files of the same names are written anew
    #[arg(value_name = "FOLDER", default_value = "relent-demo")]
    folder: PathBuf,
}

/// Writes the demo gate, assesses its first visit and tells what to try next.
///
/// The exit status is that of the work, not of the invented verdict: a demo that was written and judged is done.
pub fn run(args: &DemoArgs) -> Result<Exit, Stop> {
    let files = demo::files().map_err(Stop::fault)?;
    for file in files {
        let path = args.folder.join(&file.path);
        if let Some(parent) = path.parent() {
            output::make_folder(parent)?;
        }
        output::write_whole(&path, &file.bytes)?;
    }
    let visit = args.folder.join("visit-1");
    let folder = GateFolder::open(&visit, None)?;
    let place = visit.join("report");
    output::make_folder(&place)?;
    let judged = assess::judge_with_sources(folder)?;
    let assessment = judged.assessment;
    let record = assess::record(&assessment, judged.sources, &visit, &place)?;
    seal::write(&place, &record, None, Standing::Replaced)?;
    let page = assess::write_report(&assessment, &place, Budgets::Nearest, Some(&record))?;
    screen::print(&report::terminal(&assessment, screen::width()));
    screen::print(&format!(
        "\nReport: {}\n\nAn invented gate: open the report, then try\n  relent assess {}\n  relent read {}\n  \
         relent compare {} --series 2.3.1 --series 2.4.0 --series 2.5.0 --margin-force 20 --margin-time 20\n",
        page.display(),
        args.folder.join("visit-2").display(),
        visit.join("logs").join("closing-300-900-1.csv").display(),
        args.folder.join(demo::FIRMWARE_FOLDER).display(),
    ));
    Ok(Exit::Done)
}
