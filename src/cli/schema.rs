//! `relent schema`: the JSON Schema of the gate file, so that editors complete it.

use crate::cli::exit::Exit;
use crate::cli::screen;
use crate::cli::stop::Stop;
use crate::gate;

/// Prints the schema.
pub fn run() -> Result<Exit, Stop> {
    screen::data(&format!("{:#}\n", gate::schema()));
    Ok(Exit::Done)
}
