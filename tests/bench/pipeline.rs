//! Benchmarks of the stages, apart: read, measure, assess, report.

fn main() {
    divan::main();
}
