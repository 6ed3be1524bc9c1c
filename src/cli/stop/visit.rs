//! A visit that cannot be opened or worked out, and what helps.

use super::Stop;
use crate::cli::complaint::{Complaint, gate_file};
use crate::visit::VisitError;
use crate::words::{Language, Words};

impl From<VisitError> for Stop {
    fn from(error: VisitError) -> Self {
        match error {
            VisitError::Unreadable { path, source } => Self::unreadable(&path, &source),
            VisitError::Gate { file, source } => {
                Self(gate_file(&file.display().to_string(), &source))
            }
            VisitError::Profile(error) => error.into(),
            VisitError::Pattern(error) => Complaint::of(&error).into(),
            VisitError::Answers { file, errors } => {
                let words = Words::of(Language::English);
                let one = |text: String| {
                    Complaint::error(format_args!("{}: {text}", file.display()))
                        .help("`relent ready` lists the checks of this leaf with their names")
                };
                Self(words.facts(&errors).into_iter().map(one).collect())
            }
            error => {
                let help = help(&error);
                Self::because(error, help)
            }
        }
    }
}

const fn help(error: &VisitError) -> &'static str {
    match error {
        VisitError::NoGateFile { .. } => {
            "`relent measure` takes loose logs; `relent demo` writes an example of a gate folder to start from"
        }
        VisitError::Recipe(_) => {
            "`relent read LOG … --save-recipe FILE` writes a recipe from answers that worked"
        }
        VisitError::Checks(_) => {
            "a check is a [[check]] with name, question, reference and source; a measured one has a unit and a limit too"
        }
        VisitError::NoVisit => "add [visit] with its date to the gate file",
        VisitError::EarlierIsItself { .. } => "name the folders of earlier visits only",
        _ => "",
    }
}
