//! `relent plan`: which test points this gate needs at this visit, and what of them is there.

use std::path::PathBuf;

use clap::Args;

use crate::cli::complaint;
use crate::cli::exit::Exit;
use crate::cli::output::{self, Kind};
use crate::cli::stop::Stop;
use crate::cli::visible;
use crate::cli::{new, screen};
use crate::limits::VisitKind;
use crate::report::PlanSheet;
use crate::visit::Visit;
use crate::visit::{self, Planned};
use crate::words::{Language, Words};

/// Options of `relent plan`.
#[derive(Args, Debug)]
pub struct PlanArgs {
    /// Gate folder, or a gate file
    #[arg(value_name = "GATE")]
    gate: PathBuf,
    /// Plan by another limit profile than the gate file names
    #[arg(long, value_name = "PROFILE")]
    profile: Option<String>,
    /// Plan by this scheme of the profile. The default is that of the gate file, else the first for this kind of visit
    #[arg(long, value_name = "NAME")]
    scheme: Option<String>,
    /// Plan a visit of this kind: first, recurring or after-change. The default is that of the gate file
    #[arg(long, value_name = "KIND", value_parser = new::visit)]
    visit: Option<VisitKind>,
    /// Print the plan as JSON
    #[arg(long, conflicts_with = "names")]
    json: bool,
    /// Print only the file names under which to save the missing hits, one a line
    #[arg(long)]
    names: bool,
    /// Write a sheet to print and take along, as HTML
    #[arg(long, value_name = "FILE")]
    sheet: Option<PathBuf>,
}

/// Shows the plan of a visit. The exit status is 3 while hits are missing.
pub fn run(args: &PlanArgs) -> Result<Exit, Stop> {
    let mut folder = Visit::open_under(&args.gate, args.profile.as_deref())?;
    if let Some(scheme) = &args.scheme {
        let visit = folder.gate.visit.as_mut();
        let visit = visit.ok_or_else(|| {
            Stop::because(
                "--scheme needs a [visit] in the gate file",
                "add a [visit] with its date and kind",
            )
        })?;
        visit.scheme = Some(scheme.clone());
    }
    screen::complain(&complaint::odd(&folder));
    let planned = match args.visit {
        Some(kind) => visit::plan_for(&folder.gate, &folder.profile, kind),
        None => visit::plan(&folder.gate, &folder.profile),
    };
    let words = Words::of(Language::English);
    let (plan, open) = match &planned {
        Planned::Known(plan) => (plan, None),
        Planned::InPart(plan, why) => (plan, Some(why)),
        Planned::NotPrescribed(why) => {
            return Err(Stop::because(
                words.fact(why),
                "name the test points yourself, in [[logs.list]] or by the names of the logs; the report will say that none is prescribed",
            ));
        }
        Planned::Unknown(why) => {
            return Err(Stop::because(
                words.fact(why),
                "write it into the gate file, or give --visit or --scheme; `relent limits show` lists the schemes of a profile",
            ));
        }
    };
    // A folder of logs that is not there yet holds no logs.
    let logs = if folder.logs_folder().is_dir() {
        folder.placed()?.hits
    } else {
        Vec::new()
    };
    let sheet = PlanSheet::new(&folder.gate, &folder.profile.title, plan, open, &logs);
    if let Some(path) = &args.sheet {
        output::write_whole(path, Kind::Page, &sheet.html(words))?;
    }
    if args.json {
        let text = sheet.json(words).map_err(Stop::fault)?;
        screen::data(&format!("{text}\n"));
    } else if args.names {
        screen::data(&sheet.names());
    } else {
        screen::print(&sheet.terminal(words));
        if let Some(path) = &args.sheet {
            screen::print(&format!("\nSheet: {}\n", visible::name(path)));
        }
    }
    Ok(if sheet.missing() == 0 {
        Exit::Done
    } else {
        Exit::Undecided
    })
}
