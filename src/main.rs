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
    if a.cmd == "bench" {
        use rayon::prelude::*;
        let files: Vec<_> = std::fs::read_dir(&a.file)
            .unwrap()
            .map(|e| e.unwrap().path())
            .collect();
        for _ in 0..3 {
            let t = std::time::Instant::now();
            let n: usize = files
                .par_iter()
                .map(|f| {
                    let b = std::fs::read(f).unwrap();
                    match read(&b, &Answers::default()).unwrap().outcome {
                        Outcome::Read(t) => t.len(),
                        Outcome::Asks(q) => panic!("{q:?}"),
                    }
                })
                .sum();
            println!("par all {n} {:?}", t.elapsed());
        }
        let all: Vec<Vec<u8>> = files.iter().map(|f| std::fs::read(f).unwrap()).collect();
        let bytes: usize = all.iter().map(|b| b.len()).sum();
        for d in [DigestOf::Bytes, DigestOf::Nothing] {
            for _ in 0..2 {
                let t = std::time::Instant::now();
                for b in &all {
                    let _ = std::hint::black_box(read_with(b, &Answers::default(), d).unwrap());
                }
                let s = t.elapsed().as_secs_f64();
                println!(
                    "one thread in memory {d:?}: {:.3} s {:.0} MB/s",
                    s,
                    bytes as f64 / s / 1e6
                );
            }
        }
        return;
    }
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
