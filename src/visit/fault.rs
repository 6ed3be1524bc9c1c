//! A fault of relent itself, kept to the log or the folder with which it came.

use std::panic::{AssertUnwindSafe, catch_unwind};

/// The program failed where no input should make it fail.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("internal error on this {on}: please report it")]
pub struct Fault {
    /// What it was at work on: "log", "folder" …
    pub on: &'static str,
}

/// What the work gives. A panic ends this one piece of work and nothing else: one log must not take the others with it. What the
/// panic says is on standard error by then.
///
/// # Errors
/// [`Fault`] if the work panicked; whatever it was changing must not be used any more.
pub fn caught<T>(on: &'static str, work: impl FnOnce() -> T) -> Result<T, Fault> {
    catch_unwind(AssertUnwindSafe(work)).map_err(|_| Fault { on })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_panic_ends_one_piece_of_work_and_is_told_as_an_internal_error() {
        let logs = [1_usize, 7, 2];
        let found: Vec<Result<i32, Fault>> = logs
            .iter()
            .map(|log| caught("log", || [10, 20, 30][*log]))
            .collect();
        assert_eq!(found, [Ok(20), Err(Fault { on: "log" }), Ok(30)]);
        assert_eq!(
            Fault { on: "log" }.to_string(),
            "internal error on this log: please report it"
        );
    }
}
