//! Integrals of smooth functions.

/// Nodes and weights of Gauss and Legendre on −1 … 1.
pub(super) struct Quadrature {
    nodes: Vec<(f64, f64)>,
}

impl Quadrature {
    /// The rule with `order` nodes: the zeros of the Legendre polynomial, by Newton's method from the usual cosine.
    pub(super) fn new(order: u32) -> Self {
        let nodes = (0..order).map(|i| node(i, order)).collect();
        Self { nodes }
    }

    /// ∫ f from `lower` to `upper`, the range cut into `panels` equal parts; 0 for an empty range.
    pub(super) fn integral(
        &self,
        lower: f64,
        upper: f64,
        panels: u32,
        f: impl Fn(f64) -> f64,
    ) -> f64 {
        if upper <= lower {
            return 0.0;
        }
        let half = (upper - lower) / f64::from(panels) / 2.0;
        let mut total = 0.0;
        for panel in 0..panels {
            let middle = lower + half * f64::from(2 * panel + 1);
            total += self
                .nodes
                .iter()
                .map(|(x, w)| w * f(middle + half * x))
                .sum::<f64>();
        }
        half * total
    }
}

fn node(i: u32, order: u32) -> (f64, f64) {
    let n = f64::from(order);
    let mut x = (std::f64::consts::PI * (f64::from(i) + 0.75) / (n + 0.5)).cos();
    let mut slope = 1.0;
    for _ in 0..50 {
        let (value, before) = legendre(x, order);
        slope = n * (x * value - before) / (x * x - 1.0);
        let step = value / slope;
        x -= step;
        if step.abs() < 1e-16 {
            break;
        }
    }
    (x, 2.0 / ((1.0 - x * x) * slope * slope))
}

/// Pₙ(x) and Pₙ₋₁(x).
fn legendre(x: f64, order: u32) -> (f64, f64) {
    let (mut value, mut before) = (x, 1.0);
    for k in 2..=order {
        let k = f64::from(k);
        (value, before) = (
            ((2.0 * k - 1.0) * x * value - (k - 1.0) * before) / k,
            value,
        );
    }
    (value, before)
}
