//! Long runs of exact steps: what tells two hits apart in a log without noise.

/// Runs that are kept.
pub(super) const RUNS: usize = 4;
/// Steps of a run that are neither 0 nor as the step before: the shape of a hit alone does not settle so many.
const TELLING: usize = 28;
/// The same for what is left at the end of the record.
const LAST_TELLING: usize = 16;

/// Digests of the steps around the sample at which the force passes half of its peak: three runs forwards, each after the other, and one
/// backwards.
pub(super) fn runs(forces: &[f64], half: usize, resolution: f64) -> [Option<u64>; RUNS] {
    let step = |at: usize| ((forces[at] - forces[at - 1]) / resolution).round() as i64;
    let mut forwards = (half..forces.len()).map(step);
    let mut backwards = (1..half).rev().map(step);
    [
        run(&mut forwards),
        run(&mut forwards),
        run(&mut forwards),
        run(&mut backwards),
    ]
}

/// The digest of the steps until enough of them tell something; `None` if too few do.
///
/// # Source
/// FNV-1a of 64 bits, over whole numbers in place of bytes; from memory of its authors' description. A clash deceives no one but who
/// made it, and needs a second one.
fn run(steps: &mut impl Iterator<Item = i64>) -> Option<u64> {
    let mut digest = 0xcbf2_9ce4_8422_2325_u64;
    let (mut telling, mut before, mut still) = (0, 0, 0_u64);
    for step in steps {
        if step == 0 {
            // Stillness counts when it ends: how long the record runs on in it says nothing of the hit.
            still += 1;
        } else {
            for part in [still, step as u64] {
                digest = (digest ^ part).wrapping_mul(0x0000_0100_0000_01b3);
            }
            telling += usize::from(step != before);
            still = 0;
        }
        before = step;
        if telling == TELLING {
            return Some(digest);
        }
    }
    (telling >= LAST_TELLING).then_some(digest)
}
