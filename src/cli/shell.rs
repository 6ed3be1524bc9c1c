//! `relent completions` and `relent man`: what a shell and a manual reader want.

use clap::{Args, CommandFactory};
use clap_complete::Shell;

use crate::cli::Relent;
use crate::cli::exit::Exit;
use crate::cli::screen;
use crate::cli::stop::Stop;

/// Options of `relent completions`.
#[derive(Args, Debug)]
pub struct CompletionsArgs {
    /// The shell
    shell: Shell,
}

/// Prints the completions for one shell.
pub fn completions(args: &CompletionsArgs) -> Result<Exit, Stop> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Relent::command(), "relent", &mut script);
    screen::data(&String::from_utf8_lossy(&script));
    Ok(Exit::Done)
}

/// Prints the manual page: the program, then each of its commands.
pub fn man() -> Result<Exit, Stop> {
    let command = Relent::command();
    let parts = command.get_subcommands().cloned();
    let mut pages = Vec::new();
    for page in std::iter::once(command.clone()).chain(parts) {
        clap_mangen::Man::new(page)
            .render(&mut pages)
            .map_err(Stop::fault)?;
    }
    screen::data(&String::from_utf8_lossy(&pages));
    Ok(Exit::Done)
}
