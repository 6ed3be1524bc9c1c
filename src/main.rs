//! The command line of relent: arguments in, exit status out.

fn main() {}
