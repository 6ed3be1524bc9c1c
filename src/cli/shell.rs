//! `relent completions` and `relent man`: what a shell and a manual reader want.

use clap::{Args, CommandFactory};
use clap_complete::Shell;

use crate::cli::Relent;
use crate::cli::complaint::Complaint;
use crate::cli::exit::Exit;
use crate::cli::screen;

/// Options of `relent completions`.
#[derive(Args, Debug)]
pub struct CompletionsArgs {
    /// The shell
    shell: Shell,
}

/// Prints the completions for one shell.
pub fn completions(args: &CompletionsArgs) -> Result<Exit, Complaint> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Relent::command(), "relent", &mut script);
    screen::print(&String::from_utf8_lossy(&script));
    Ok(Exit::Done)
}

/// Prints the manual page: the program and each of its commands.
pub fn man() -> Result<Exit, Complaint> {
    let mut page = Vec::new();
    let command = Relent::command();
    let rendered = clap_mangen::Man::new(command.clone()).render(&mut page);
    let parts = command.get_subcommands().try_fold(rendered, |done, part| {
        let named = part.clone().name(format!("relent-{}", part.get_name()));
        done.map(|()| clap_mangen::Man::new(named).render(&mut page))
    });
    match parts {
        Ok(Ok(())) => {
            screen::print(&String::from_utf8_lossy(&page));
            Ok(Exit::Done)
        }
        Ok(Err(error)) | Err(error) => Err(Complaint::from(error)),
    }
}
