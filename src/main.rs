use clap::Parser;
use relent::ingest::*;
#[derive(Parser)]
struct A {
    cmd: String,
    file: String,
    #[arg(long)]
    json: bool,
    #[arg(long)]
    force: Option<String>,
    #[arg(long)]
    force_unit: Option<String>,
    #[arg(long)]
    time: Option<String>,
    #[arg(long)]
    time_unit: Option<String>,
    #[arg(long)]
    rate: Option<f64>,
    #[arg(long)]
    run: Option<usize>,
    #[arg(long)]
    invert: bool,
    #[arg(long)]
    decimal_mark: Option<char>,
    #[arg(long)]
    delimiter: Option<char>,
}
fn main() {
    let a = A::parse();
    let bytes = std::fs::read(&a.file).unwrap();
    let ans = Answers {
        force: a.force,
        force_unit: a.force_unit.map(|u| force_unit(&u).unwrap()),
        time: a.time,
        time_unit: a.time_unit.map(|u| time_unit(&u).unwrap()),
        rate: a.rate.map(relent::quantity::Hertz),
        run: a.run,
        sign: a.invert.then_some(Sign::PushIsNegative),
        decimal_mark: a.decimal_mark,
        delimiter: a.delimiter,
        recipe: None,
    };
    match read(&bytes, &ans) {
        Ok(r) => {
            println!("{}", serde_json::to_string(&document(&a.file, &r)).unwrap());
            std::process::exit(if matches!(r.outcome, Outcome::Read(_)) {
                0
            } else {
                3
            });
        }
        Err(e) => {
            eprintln!("{}: {e}", a.file);
            std::process::exit(2)
        }
    }
}
