//! The command line of relent: arguments in, exit status out.

use std::process::ExitCode;

fn main() -> ExitCode {
    relent::cli::run(std::env::args_os()).into()
}
