//! The exit status, everywhere.

use std::process::ExitCode;

use crate::verdict::Verdict;

/// How a command ended, from best to worst.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    /// Done, and within the limits where limits were assessed.
    #[default]
    Done,
    /// Undecided, incomplete, or a question must be answered first.
    Undecided,
    /// At least one value is over its limit.
    Over,
    /// The command failed: usage, file or gate file. Do not rely on its standard output.
    Failed,
}

impl Exit {
    /// The number that the shell sees.
    ///
    /// ```
    /// use relent::cli::exit::Exit;
    /// assert_eq!(Exit::Over.code(), 1);
    /// ```
    #[must_use]
    pub const fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::Over => 1,
            Self::Failed => 2,
            Self::Undecided => 3,
        }
    }

    /// The worst of several: 2, 1, 3, 0. Of none it is 0.
    ///
    /// ```
    /// use relent::cli::exit::Exit;
    /// assert_eq!(Exit::worst([Exit::Done, Exit::Undecided, Exit::Over]), Exit::Over);
    /// ```
    #[must_use]
    pub fn worst(of: impl IntoIterator<Item = Self>) -> Self {
        of.into_iter().max().unwrap_or_default()
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit.code())
    }
}

impl From<Verdict> for Exit {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Within => Self::Done,
            Verdict::Over => Self::Over,
            Verdict::Undecided => Self::Undecided,
        }
    }
}
