//! Standard output and standard error: a closed pipe ends the program quietly, colours only where they are wanted.

use std::io::{self, IsTerminal, Write};
use std::sync::Mutex;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use crate::cli::complaint::{self, Complaint};
use crate::cli::exit::Exit;
use crate::cli::visible::{on_one_line, visible};
use crate::report::STYLES;

/// Why standard output could not be written, once that has happened.
static LOST: Mutex<Option<io::Error>> = Mutex::new(None);

/// Writes text for people to standard output; what acts on a terminal is shown as its number. A reader that closed the pipe has
/// seen enough: that is not an error. Any other is kept for [`lost`].
pub fn print(text: &str) {
    write(&mut anstream::stdout().lock(), &shown(text));
}

/// What acts on a terminal as its number, but for the styles that relent writes itself: a colour hides nothing and moves nothing.
fn shown(text: &str) -> String {
    let (mut shown, mut rest) = (String::with_capacity(text.len()), text);
    while let Some((at, style)) = STYLES
        .iter()
        .filter_map(|style| Some((rest.find(style)?, *style)))
        .min()
    {
        shown.push_str(&visible(&rest[..at]));
        shown.push_str(style);
        rest = &rest[at + style.len()..];
    }
    shown.push_str(&visible(rest));
    shown
}

/// Writes what programs read, as [`print`] does on a terminal and to the byte elsewhere.
pub fn data(text: &str) {
    if io::stdout().is_terminal() {
        print(text);
    } else {
        write(&mut io::stdout().lock(), text);
    }
}

fn write(out: &mut impl Write, text: &str) {
    let written = out.write_all(text.as_bytes()).and_then(|()| out.flush());
    if let Err(error) = written
        && error.kind() != io::ErrorKind::BrokenPipe
        && let Ok(mut lost) = LOST.lock()
    {
        lost.get_or_insert(error);
    }
}

/// Why standard output is not whole; `None` where it is, or where its reader had seen enough.
#[must_use]
pub fn lost() -> Option<io::Error> {
    LOST.lock().ok()?.take()
}

/// Writes to standard output for somebody who follows it; false once nobody does.
pub fn goes_on(text: &str) -> bool {
    followed(&shown(text))
}

/// The same on a window that is cleared first.
pub fn drawn_anew(text: &str) -> bool {
    followed(&format!("\x1b[H\x1b[2J\x1b[3J{}", shown(text)))
}

fn followed(text: &str) -> bool {
    let mut out = anstream::stdout().lock();
    out.write_all(text.as_bytes())
        .and_then(|()| out.flush())
        .is_ok()
}

/// Writes a line to standard error.
pub fn tell(text: &str) {
    let mut err = anstream::stderr().lock();
    let _ = writeln!(err, "{}", on_one_line(text));
}

/// Shows complaints on standard error; returns the exit status they ask for.
pub fn complain(complaints: &[Complaint]) -> Exit {
    let mut err = anstream::stderr().lock();
    complaint::tell(complaints, &mut err)
        .unwrap_or_else(|_| Exit::worst(complaints.iter().map(Complaint::exit)))
}

/// Columns of the terminal on standard output; `None` when it is not a terminal.
#[must_use]
pub fn width() -> Option<usize> {
    if !io::stdout().is_terminal() {
        return None;
    }
    let size = console::Term::stdout().size_checked();
    Some(size.map_or(80, |(_, columns)| usize::from(columns)))
}

/// Whether a person can be asked: both ends are a terminal.
#[must_use]
pub fn can_ask() -> bool {
    io::stdin().is_terminal() && io::stderr().is_terminal()
}

/// A bar with the time that remains; hidden where standard error is no terminal. `what` are counted.
pub fn progress(count: usize, what: &str) -> ProgressBar {
    let bar = ProgressBar::with_draw_target(Some(count as u64), ProgressDrawTarget::stderr());
    let template = format!("{{bar:30}} {{pos}}/{{len}} {what}, {{eta}} left");
    if let Ok(style) = ProgressStyle::with_template(&template) {
        bar.set_style(style);
    }
    bar
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn styles_of_relent_stay_and_everything_else_that_acts_is_shown() {
        let [over, _, end] = STYLES;
        let text = format!("{over}▲{end} a\u{1b}[2Jb\n");
        assert_eq!(shown(&text), format!("{over}▲{end} a\\u001b[2Jb\n"));
    }
}
