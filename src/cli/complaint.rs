//! Errors and warnings as a user sees them: what happened, where, and what helps.
//!
//! The library's errors say what was found and what was expected. The advice is added here, in one place for each kind
//! of error, and so is the exit status.

mod gate_file;
mod visit;

use std::fmt;
use std::io::{self, Write};
use std::ops::Range;

use annotate_snippets::{
    AnnotationKind, Group, Level, Origin, Renderer, Snippet, renderer::DecorStyle,
};

use super::exit::Exit;
use super::visible::on_one_line;
use crate::toml_tree::Spot;

pub use gate_file::{gate_file, gate_warnings, place_problem};
pub use visit::{blind, odd, unplaced};

/// What a user is told: one thing that went wrong, or looks odd, or must be answered.
#[derive(Clone, Debug, PartialEq)]
pub struct Complaint {
    weight: Weight,
    what: String,
    excerpt: Option<Excerpt>,
    help: Vec<String>,
}

/// How much a complaint weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// The work could not be done.
    Error,
    /// Something must be answered first.
    Question,
    /// The work was done; something looks odd.
    Warning,
}

/// A file, or a part of it, that a complaint points at.
#[derive(Clone, Debug, PartialEq)]
pub struct Excerpt {
    path: String,
    part: Option<Part>,
}

#[derive(Clone, Debug, PartialEq)]
struct Part {
    text: String,
    first_line: usize,
    span: Range<usize>,
}

/// Whether a complaint is written with colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Colours {
    Plain,
    Coloured,
}

/// An error that knows what helps against it.
pub trait Advice {
    /// What a user can do, one line each; empty where nothing is known to help.
    fn advice(&self) -> Vec<String>;
}

impl Excerpt {
    /// A whole file.
    #[must_use]
    pub fn of_file(path: &str) -> Self {
        Self {
            path: on_one_line(path).into_owned(),
            part: None,
        }
    }

    /// A stretch of a text, of which the line is given on which it begins.
    #[must_use]
    pub fn of_spot(path: &str, spot: &Spot, line: &str) -> Self {
        let span = spot.in_its_line(line);
        Self::of_line(path, spot.line as u64, line, span)
    }

    /// A stretch of bytes of one line of a file, for files too long to keep: `number` is the line's, from 1.
    #[must_use]
    pub fn of_line(path: &str, number: u64, line: &str, span: Range<usize>) -> Self {
        let line = line.trim_end_matches(['\r', '\n']);
        Self::new(
            path,
            line,
            usize::try_from(number).unwrap_or(usize::MAX),
            span,
        )
    }

    /// Path and line, before what is said of them.
    fn place(&self) -> String {
        match self.line() {
            Some(line) => format!("{}, line {line}: ", self.path),
            None => format!("{}: ", self.path),
        }
    }

    /// The line on which what is shown starts, from 1.
    fn line(&self) -> Option<usize> {
        self.part.as_ref().map(|part| {
            let before = part.text.get(..part.span.start).unwrap_or_default();
            part.first_line + before.matches('\n').count()
        })
    }

    fn new(path: &str, text: &str, first_line: usize, span: Range<usize>) -> Self {
        let start = text.floor_char_boundary(span.start.min(text.len()));
        let end = text.ceil_char_boundary(span.end.clamp(start, text.len()));
        Self {
            path: on_one_line(path).into_owned(),
            part: Some(Part {
                text: text.to_owned(),
                first_line,
                span: start..end,
            }),
        }
    }
}

impl Complaint {
    /// The work could not be done.
    #[must_use]
    pub fn error(what: impl fmt::Display) -> Self {
        Self::new(Weight::Error, what)
    }

    /// Something must be answered first.
    #[must_use]
    pub fn question(what: impl fmt::Display) -> Self {
        Self::new(Weight::Question, what)
    }

    /// The work was done; something looks odd.
    #[must_use]
    pub fn warning(what: impl fmt::Display) -> Self {
        Self::new(Weight::Warning, what)
    }

    /// An error of the library with the errors behind it, and the advice against it.
    #[must_use]
    pub fn of<E: std::error::Error + Advice>(error: &E) -> Self {
        Self::error(chain(error)).helped_by(error.advice())
    }

    /// A file that could not be read or written; `doing` is "read", "write" …
    #[must_use]
    pub fn of_file(doing: &str, path: &str, error: &io::Error) -> Self {
        let advice = match error.kind() {
            io::ErrorKind::NotFound => "check the spelling, and the folder it is looked for in",
            io::ErrorKind::PermissionDenied if doing == "write" => {
                "you are not permitted to write there: write elsewhere, or ask whoever owns it"
            }
            io::ErrorKind::PermissionDenied => {
                "you are not permitted to read it: ask whoever owns it"
            }
            io::ErrorKind::AlreadyExists => {
                "there is one of this name already: give another name, or move that one away"
            }
            io::ErrorKind::NotADirectory => "a part of the path is a file, not a folder",
            io::ErrorKind::ReadOnlyFilesystem => "nothing can be written there: write elsewhere",
            io::ErrorKind::IsADirectory => "it is a folder: give a file in it",
            io::ErrorKind::InvalidInput => "give the name of a file",
            io::ErrorKind::FileTooLarge if doing == "read" => "give a file that is smaller",
            io::ErrorKind::FileTooLarge => {
                "the system permits no file of this size here: raise that limit, or write elsewhere"
            }
            io::ErrorKind::StorageFull => "make room on the disk, or write elsewhere",
            _ => return Self::error(format_args!("cannot {doing} {path}: {error}")),
        };
        Self::error(format_args!("cannot {doing} {path}: {error}")).help(advice)
    }

    fn new(weight: Weight, what: impl fmt::Display) -> Self {
        Self {
            weight,
            what: on_one_line(&what.to_string()).into_owned(),
            excerpt: None,
            help: Vec::new(),
        }
    }

    /// Where it went wrong.
    #[must_use]
    pub fn at(mut self, excerpt: Excerpt) -> Self {
        self.excerpt = Some(excerpt);
        self
    }

    /// What helps.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help.push(on_one_line(&help.into()).into_owned());
        self
    }

    /// What helps, several lines.
    #[must_use]
    pub fn helped_by(self, help: impl IntoIterator<Item = String>) -> Self {
        help.into_iter().fold(self, Self::help)
    }

    /// What happened and where, in one line, without advice.
    #[must_use]
    pub fn in_one_line(&self) -> String {
        let Some(excerpt) = &self.excerpt else {
            return self.what.clone();
        };
        match excerpt.line() {
            None => format!("{}: {}", excerpt.path, self.what),
            Some(line) => format!("{}:{line}: {}", excerpt.path, self.what),
        }
    }

    /// What happened, without its place and what helps.
    #[must_use]
    pub fn what(&self) -> &str {
        &self.what
    }

    /// How much it weighs.
    #[must_use]
    pub const fn weight(&self) -> Weight {
        self.weight
    }

    /// The exit status that it asks for.
    #[must_use]
    pub const fn exit(&self) -> Exit {
        match self.weight {
            Weight::Error => Exit::Failed,
            Weight::Question => Exit::Undecided,
            Weight::Warning => Exit::Done,
        }
    }

    /// The complaint in one line without an excerpt: where it can be said, what happened, and what helps in brackets.
    #[must_use]
    pub fn line(&self) -> String {
        let place = self
            .excerpt
            .as_ref()
            .map_or_else(String::new, Excerpt::place);
        let help = match self.help.as_slice() {
            [] => String::new(),
            help => format!(" ({})", help.join("; ")),
        };
        format!("{place}{}{help}", self.what)
    }

    /// The complaint as text, with an empty line after its last one.
    #[must_use]
    pub fn render(&self, colours: Colours) -> String {
        let renderer = match colours {
            Colours::Plain => Renderer::plain(),
            Colours::Coloured => Renderer::styled(),
        };
        let renderer = renderer.decor_style(DecorStyle::Ascii);
        let mut group = self.group();
        let shows_source = matches!(&self.excerpt, Some(Excerpt { part: Some(_), .. }));
        let mut below = String::new();
        for help in self.help.iter().map(String::as_str) {
            if shows_source {
                group = group.element(Level::HELP.message(help));
            } else {
                let title = Level::HELP.secondary_title(help);
                below += "\n";
                below += &renderer.render(&[Group::with_title(title)]);
            }
        }
        let text = renderer.render(&[group]);
        format!("{}{below}\n\n", text.trim_end())
    }

    /// What happened and where.
    fn group(&self) -> Group<'_> {
        let (level, name) = match self.weight {
            Weight::Error => (Level::ERROR, "error"),
            Weight::Question => (Level::WARNING, "question"),
            Weight::Warning => (Level::WARNING, "warning"),
        };
        let title = level.with_name(name).primary_title(self.what.as_str());
        let group = Group::with_title(title);
        match &self.excerpt {
            None => group,
            Some(Excerpt { path, part: None }) => group.element(Origin::path(path.as_str())),
            Some(Excerpt {
                path,
                part: Some(part),
            }) => group.element(
                Snippet::source(part.text.as_str())
                    .path(path.as_str())
                    .line_start(part.first_line)
                    .annotation(AnnotationKind::Primary.span(part.span.clone())),
            ),
        }
    }
}

/// Writes complaints, coloured; `to` is a stream that takes colours out where they are not wanted, such as
/// `anstream::stderr()`. Returns the exit status they ask for.
///
/// # Errors
/// Those of the stream.
pub fn tell(complaints: &[Complaint], to: &mut impl Write) -> io::Result<Exit> {
    for complaint in complaints {
        to.write_all(complaint.render(Colours::Coloured).as_bytes())?;
    }
    Ok(Exit::worst(complaints.iter().map(Complaint::exit)))
}

/// An error and the errors behind it, without saying twice what the outer one already says.
fn chain(error: &dyn std::error::Error) -> String {
    let mut said = error.to_string();
    let mut next = error.source();
    while let Some(inner) = next {
        let text = inner.to_string();
        if !said.contains(&text) {
            said = format!("{said}: {text}");
        }
        next = inner.source();
    }
    said
}
