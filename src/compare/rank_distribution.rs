//! Exact null distributions of rank sums, by counting; tied ranks are counted as they are.

/// P(sum = s) for s = 0, 1, …, of the sum of `chosen` ranks drawn from `ranks` without replacement, each choice alike likely.
///
/// Drawing goes through the ranks one by one: way[k][s] = way[k][s] + way[k − 1][s − r]. All terms are positive, so the relative
/// error stays within some n rounding steps. The counts stay below the largest double for up to 1000 ranks.
pub(super) fn choose_distribution(ranks: &[usize], chosen: usize) -> Vec<f64> {
    let mut largest: Vec<usize> = ranks.to_vec();
    largest.sort_unstable_by(|a, b| b.cmp(a));
    let top: usize = largest.iter().take(chosen).sum();
    let mut ways = vec![vec![0.0_f64; top + 1]; chosen + 1];
    ways[0][0] = 1.0;
    let mut reached = 0;
    for (drawn, &rank) in ranks.iter().enumerate() {
        reached = (reached + rank).min(top);
        for k in (1..=chosen.min(drawn + 1)).rev() {
            let (fewer, this) = ways.split_at_mut(k);
            for sum in rank..=reached {
                this[0][sum] += fewer[k - 1][sum - rank];
            }
        }
    }
    normalised(ways.swap_remove(chosen))
}

/// P(sum = s) for s = 0, 1, …, of the sum of those `ranks` whose sign is positive, every sign being a fair coin.
pub(super) fn sign_distribution(ranks: &[usize]) -> Vec<f64> {
    let top: usize = ranks.iter().sum();
    let mut shares = vec![0.0_f64; top + 1];
    shares[0] = 1.0;
    let mut reached = 0;
    for &rank in ranks {
        reached += rank;
        for sum in (0..=reached).rev() {
            let with = if sum >= rank { shares[sum - rank] } else { 0.0 };
            shares[sum] = 0.5 * (shares[sum] + with);
        }
    }
    normalised(shares)
}

/// P(sum ≤ at) and P(sum ≥ at).
pub(super) fn tails(distribution: &[f64], at: usize) -> (f64, f64) {
    let below: f64 = distribution.iter().take(at + 1).sum();
    let above: f64 = distribution.iter().skip(at).sum();
    (below.min(1.0), above.min(1.0))
}

/// The greatest k with P(sum < k) ≤ `tail`, and that probability. The distribution counts from its least value.
pub(super) fn left_out(distribution: &[f64], tail: f64) -> (usize, f64) {
    let mut below = 0.0;
    for (k, share) in distribution.iter().enumerate() {
        // A tail that equals the limit but for rounding is within it.
        if below + share > tail * (1.0 + 1e-12) {
            return (k, below);
        }
        below += share;
    }
    (distribution.len(), below)
}

fn normalised(mut counts: Vec<f64>) -> Vec<f64> {
    let all: f64 = counts.iter().sum();
    for count in &mut counts {
        *count /= all;
    }
    counts
}
