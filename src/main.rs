//! The command line of relent: arguments in, exit status out.

use std::hint::black_box;
use std::process::ExitCode;

/// Freed memory that is kept for the next log, in bytes.
const KEPT: usize = 8 << 20;

fn main() -> ExitCode {
    keep_freed_memory();
    relent::cli::run(std::env::args_os()).into()
}

/// Spares a run over many logs to give their memory back to the system after each and to fetch it again: a tenth of the time.
///
/// The allocator of glibc learns it from one large block that is freed, which is never touched (mallopt(3), M_MMAP_THRESHOLD
/// and M_TRIM_THRESHOLD). Other allocators take no notice.
fn keep_freed_memory() {
    drop(black_box(Vec::<u8>::with_capacity(KEPT)));
}
