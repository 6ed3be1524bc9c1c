//! `relent limits`: the limit profiles, every value with its source.

use std::path::Path;

use clap::{Args, Subcommand};

use crate::cli::exit::Exit;
use crate::cli::screen;
use crate::cli::stop::Stop;
use crate::limits;
use crate::report::profiles;
use crate::visit::profile;
use crate::words::{Language, Words};

/// Options of `relent limits`.
#[derive(Args, Debug)]
pub struct LimitsArgs {
    #[command(subcommand)]
    what: Option<What>,
}

#[derive(Debug, Subcommand)]
enum What {
    /// List the built-in profiles
    List,
    /// Show a profile in full: limits, levels, gauge, test points, where sources disagree
    Show {
        /// Name of a built-in profile, or a file of your own ending in .toml
        profile: String,
        /// Print the profile's file, as a pattern for one of your own
        #[arg(long)]
        toml: bool,
    },
    /// Lay two profiles side by side
    Compare {
        /// The first profile
        first: String,
        /// The second profile
        second: String,
    },
}

/// Lists, shows or compares.
pub fn run(args: &LimitsArgs) -> Result<Exit, Stop> {
    let here = Path::new(".");
    let words = Words::of(Language::English);
    let text = match &args.what {
        None | Some(What::List) => profiles::built_in(words)?.text(),
        Some(What::Show {
            profile,
            toml: true,
        }) => limits::source(profile)?.to_owned(),
        Some(What::Show {
            profile,
            toml: false,
        }) => {
            let profile = profile::find(profile, here)?;
            profiles::show(&profile, words)
                .iter()
                .map(profiles::Table::text)
                .collect::<Vec<_>>()
                .join("\n")
        }
        Some(What::Compare { first, second }) => {
            let (first, second) = (profile::find(first, here)?, profile::find(second, here)?);
            profiles::compare(&first, &second, words).text()
        }
    };
    screen::data(&text);
    Ok(Exit::Done)
}
