//! Whether a common effect may be chance, by exchanging the labels "before" and "after" within each test point.

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64;
use serde::Serialize;

use super::sample::checked;
use super::{Block, StatisticsError};

/// How many arrangements are looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Counting {
    /// All of them, if they are no more than this.
    pub most_exact: u64,
    /// Otherwise this many, drawn at random.
    pub draws: u64,
    /// Seed of the generator PCG XSL RR 128/64 (`rand_pcg::Pcg64`).
    pub seed: u64,
}

/// The outcome of a permutation test: numbers only, no verdict.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PermutationTest {
    /// The effect over all blocks, after − before, weighted as in the additive model.
    pub effect: f64,
    /// Arrangements that were looked at.
    pub looked_at: u64,
    /// Whether these are all there are.
    pub exact: bool,
    /// Probability of an effect as small or smaller if the labels meant nothing.
    pub p_less: f64,
    /// Probability of an effect as great or greater.
    pub p_greater: f64,
    /// Twice the smaller of the two, at most 1.
    pub p_two_sided: f64,
}

/// One block ready for exchange: its values about their least one, and the factor that turns their sum over the after side
/// into its share of the effect.
struct Exchange {
    values: Vec<f64>,
    after: usize,
    weight: f64,
    shift: f64,
}

/// The effect and what exchanging labels within blocks makes of it: a stratified permutation test.
///
/// T = Σ w_b d_b / Σ w_b with w_b = n_x n_y/(n_x + n_y). Within a block each choice of n_y values as "after" is alike likely.
/// All arrangements: p = (those at least as extreme) / (all). Drawn: p = (those at least as extreme + 1) / (drawn + 1).
/// Effects that agree to twelve digits of the blocks' ranges count as equal, hence as extreme.
///
/// # Quantities
/// Blocks with at least one value a side; one unit.
///
/// # Holds when
/// Under the null hypothesis the values of a block are exchangeable. Nothing is assumed about their distribution, nor that blocks
/// are alike. The same seed gives the same p on every machine.
///
/// # Errors
/// No block, an empty side, a value that is not finite, no draws where draws are needed, or blocks without any spread.
///
/// # Source
/// Pitman, J. Royal Statistical Society Supplement 4 (1937) 119–130; Phipson & Smyth, Statistical Applications in Genetics and
/// Molecular Biology 9 (2010) 39, for the added one.
///
/// # Example
/// ```
/// use relent::compare::{Block, Counting, permutation_test};
/// let blocks = [Block { before: &[1.0, 2.0], after: &[3.0, 4.0] }, Block { before: &[5.0], after: &[9.0] }];
/// let test = permutation_test(&blocks, Counting { most_exact: 1000, draws: 999, seed: 1 })?;
/// // 6 × 2 arrangements, of which the one observed is the greatest.
/// assert_eq!((test.looked_at, test.p_greater), (12, 1.0 / 12.0));
/// # Ok::<(), relent::compare::StatisticsError>(())
/// ```
pub fn permutation_test(
    blocks: &[Block<'_>],
    counting: Counting,
) -> Result<PermutationTest, StatisticsError> {
    let exchanges = prepared(blocks)?;
    let weights: f64 = exchanges.iter().map(|block| block.weight).sum();
    let observed: f64 = blocks
        .iter()
        .zip(&exchanges)
        .map(|(block, exchange)| {
            exchange.effect(block.after.iter().map(|y| y - exchange.shift).sum())
        })
        .sum();
    let range: f64 = exchanges.iter().map(Exchange::range).sum();
    if range <= 0.0 {
        return Err(StatisticsError::NoSpread {
            what: "the values of each block",
        });
    }
    let slack = 1e-12 * range;
    let (extreme, exact) = match arrangements(&exchanges, counting.most_exact) {
        Some(_) => (every(&exchanges, observed, slack), true),
        None => (drawn(&exchanges, observed, slack, counting)?, false),
    };
    let added = if exact { 0.0 } else { 1.0 };
    let share = |count: u64| (count as f64 + added) / (extreme.all as f64 + added);
    let (p_less, p_greater) = (share(extreme.less), share(extreme.greater));
    Ok(PermutationTest {
        effect: observed / weights,
        looked_at: extreme.all,
        exact,
        p_less,
        p_greater,
        p_two_sided: (2.0 * p_less.min(p_greater)).min(1.0),
    })
}

impl Exchange {
    /// w·(mean after − mean before), from the sum of the values on the after side.
    fn effect(&self, after_sum: f64) -> f64 {
        let all: f64 = self.values.iter().sum();
        let before = (self.values.len() - self.after) as f64;
        self.weight * (after_sum / self.after as f64 - (all - after_sum) / before)
    }

    fn range(&self) -> f64 {
        self.weight
            * self
                .values
                .iter()
                .fold(0.0_f64, |most, value| most.max(*value))
    }

    /// The effects of every choice of the after side.
    fn effects(&self) -> Vec<f64> {
        let mut found = Vec::new();
        self.choose(0, self.after, 0.0, &mut found);
        found
    }

    fn choose(&self, from: usize, left: usize, after_sum: f64, found: &mut Vec<f64>) {
        if left == 0 {
            found.push(self.effect(after_sum));
            return;
        }
        for next in from..=self.values.len() - left {
            self.choose(next + 1, left - 1, after_sum + self.values[next], found);
        }
    }
}

/// How many arrangements there are, and how many lie at least as far out as the one observed.
#[derive(Clone, Copy, Default)]
struct Extreme {
    all: u64,
    less: u64,
    greater: u64,
}

impl Extreme {
    fn count(&mut self, effect: f64, observed: f64, slack: f64) {
        self.all += 1;
        self.less += u64::from(effect <= observed + slack);
        self.greater += u64::from(effect >= observed - slack);
    }
}

fn prepared(blocks: &[Block<'_>]) -> Result<Vec<Exchange>, StatisticsError> {
    checked("the blocks", &vec![0.0; blocks.len()], 1)?;
    blocks
        .iter()
        .map(|block| {
            checked("the values before, at one block", block.before, 1)?;
            checked("the values after, at one block", block.after, 1)?;
            let all = || block.before.iter().chain(block.after);
            let shift = all().copied().fold(f64::INFINITY, f64::min);
            let (x, y) = (block.before.len() as f64, block.after.len() as f64);
            Ok(Exchange {
                values: all().map(|value| value - shift).collect(),
                after: block.after.len(),
                weight: x * y / (x + y),
                shift,
            })
        })
        .collect()
}

/// The number of arrangements if it is at most `most`.
fn arrangements(exchanges: &[Exchange], most: u64) -> Option<u64> {
    exchanges.iter().try_fold(1_u64, |product, block| {
        let ways = choices(block.values.len() as u64, block.after as u64, most)?;
        product.checked_mul(ways).filter(|all| *all <= most)
    })
}

/// The binomial coefficient, if it is at most `most`.
fn choices(from: u64, chosen: u64, most: u64) -> Option<u64> {
    let chosen = chosen.min(from - chosen);
    (1..=chosen).try_fold(1_u64, |ways, k| {
        let next = u128::from(ways) * u128::from(from - chosen + k) / u128::from(k);
        u64::try_from(next).ok().filter(|ways| *ways <= most)
    })
}

fn every(exchanges: &[Exchange], observed: f64, slack: f64) -> Extreme {
    let effects: Vec<Vec<f64>> = exchanges.iter().map(Exchange::effects).collect();
    let mut extreme = Extreme::default();
    combine(&effects, 0.0, &mut |effect| {
        extreme.count(effect, observed, slack);
    });
    extreme
}

/// Calls `found` with each sum of one effect a block.
fn combine(effects: &[Vec<f64>], so_far: f64, found: &mut impl FnMut(f64)) {
    match effects.split_first() {
        None => found(so_far),
        Some((first, rest)) => first
            .iter()
            .for_each(|effect| combine(rest, so_far + effect, found)),
    }
}

fn drawn(
    exchanges: &[Exchange],
    observed: f64,
    slack: f64,
    counting: Counting,
) -> Result<Extreme, StatisticsError> {
    if counting.draws == 0 {
        return Err(StatisticsError::TooFew {
            what: "the arrangements to be drawn",
            found: 0,
            least: 1,
        });
    }
    let mut generator = Pcg64::seed_from_u64(counting.seed);
    let mut values: Vec<Vec<f64>> = exchanges.iter().map(|block| block.values.clone()).collect();
    let mut extreme = Extreme::default();
    for _ in 0..counting.draws {
        let mut effect = 0.0;
        for (block, mixed) in exchanges.iter().zip(&mut values) {
            for place in 0..block.after {
                let other = place + below(&mut generator, (mixed.len() - place) as u64) as usize;
                mixed.swap(place, other);
            }
            effect += block.effect(mixed[..block.after].iter().sum());
        }
        extreme.count(effect, observed, slack);
    }
    Ok(extreme)
}

/// A whole number under `bound`, each alike likely: draws from the incomplete last cycle are thrown back.
fn below(generator: &mut impl Rng, bound: u64) -> u64 {
    let whole_cycles = u64::MAX - u64::MAX % bound;
    loop {
        let draw = generator.next_u64();
        if draw < whole_cycles {
            return draw % bound;
        }
    }
}
