//! Any bytes and any answers end in a record, in questions or in an error. The first byte chooses the answers.
#![no_main]

use libfuzzer_sys::fuzz_target;
use relent::ingest::{Answers, DigestOf, Outcome, Sign, read_with};
use relent::quantity::{ForceUnit, Hertz, TimeUnit};

fuzz_target!(|data: &[u8]| {
    let Some((choice, log)) = data.split_first() else {
        return;
    };
    let is = |bit: u8| choice & (1 << bit) != 0;
    let answers = Answers {
        force: is(0).then(|| if is(7) { "1+2".to_owned() } else { "2".to_owned() }),
        force_unit: is(1).then_some(ForceUnit::Newton),
        time: is(2).then(|| if is(7) { "3".to_owned() } else { "1".to_owned() }),
        time_unit: is(2).then_some(TimeUnit::Millisecond),
        rate: is(3).then_some(Hertz(1000.0)),
        run: is(4).then_some(1),
        sign: is(4).then_some(Sign::PushIsNegative),
        decimal_mark: is(5).then_some(if is(7) { ',' } else { '.' }),
        delimiter: is(6).then_some(if is(7) { ';' } else { ',' }),
        recipe: None,
    };
    let Ok(reading) = read_with(log, &answers, DigestOf::Nothing) else {
        return;
    };
    match reading.outcome {
        Outcome::Read(trace) => {
            let run = &reading.runs[0];
            assert_eq!(trace.len() + run.missing, run.samples);
            assert!(trace.times().iter().zip(trace.times().iter().skip(1)).all(|(a, b)| a < b));
            assert!(trace.forces().iter().all(|force| force.is_finite()));
            let beside = [&trace.position_mm, &trace.speed_mm_s, &trace.current_a];
            assert!(beside.into_iter().flatten().all(|it| it.len() == trace.len()));
            assert!(trace.lost.iter().all(|lost| lost.after.is_none_or(|after| after < trace.len())));
        }
        Outcome::Asks(questions) => assert!(!questions.is_empty()),
    }
    assert!(reading.notices.len() < 600);
});
