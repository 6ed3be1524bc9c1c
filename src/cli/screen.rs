//! Standard output and standard error: a closed pipe ends the program quietly, colours only where they are wanted.

use std::io::{self, Write};

use crate::cli::complaint::Complaint;

/// Writes to standard output. A reader that closed the pipe has seen enough: that is not an error.
pub fn print(text: &str) {
    let mut out = anstream::stdout().lock();
    let _ = out.write_all(text.as_bytes()).and_then(|()| out.flush());
}

/// Writes a line to standard error.
pub fn tell(text: &str) {
    let mut err = anstream::stderr().lock();
    let _ = writeln!(err, "{text}");
}

/// Shows what went wrong on standard error.
pub fn complain(complaint: &Complaint) {
    tell(&complaint.to_string());
}

/// Columns of the terminal on standard output; `None` when it is not a terminal.
#[must_use]
pub fn width() -> Option<usize> {
    if !io::IsTerminal::is_terminal(&io::stdout()) {
        return None;
    }
    let columns = console::Term::stdout().size_checked().map(|(_, columns)| usize::from(columns));
    Some(columns.unwrap_or(80))
}
