//! `relent ready`: is the gate ready to be driven?

use std::path::PathBuf;

use clap::Args;

use crate::cli::complaint;
use crate::cli::exit::Exit;
use crate::cli::screen;
use crate::cli::stop::Stop;
use crate::readiness::CheckState;
use crate::report;
use crate::visit::Visit;
use crate::words::{Language, Words};

/// Options of `relent ready`.
#[derive(Args, Debug)]
pub struct ReadyArgs {
    /// Gate folder, or a gate file
    #[arg(value_name = "GATE")]
    gate: PathBuf,
    /// Print the checks as JSON
    #[arg(long)]
    json: bool,
}

/// Lists open and unchecked items.
pub fn run(args: &ReadyArgs) -> Result<Exit, Stop> {
    let visit = Visit::open(&args.gate)?;
    screen::complain(&complaint::odd(&visit));
    let readiness = visit.readiness()?;
    let words = Words::of(Language::English);
    if args.json {
        let text = report::readiness_json(words, &visit.gate.gate.name, &readiness)
            .map_err(Stop::fault)?;
        screen::data(&format!("{text}\n"));
    } else {
        screen::print(&report::readiness_terminal(
            words,
            &visit.gate.gate.name,
            &readiness,
        ));
    }
    Ok(match readiness.overall() {
        CheckState::InOrder | CheckState::NotApplicable => Exit::Done,
        CheckState::NotInOrder => Exit::Over,
        CheckState::NotChecked => Exit::Undecided,
    })
}
