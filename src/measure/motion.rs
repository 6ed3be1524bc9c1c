//! The position and speed channels of the leaf, where a log has them.

use ndarray::Array1;

/// Time for which a leaf must go on moving away, or must not go further, to count as reversed or stopped.
pub(super) const STEADY_S: f64 = 0.020;

/// The instants and values of a channel where something was logged.
pub(super) fn logged(times: &[f64], channel: Option<&Array1<f64>>) -> Vec<(f64, f64)> {
    channel.map_or_else(Vec::new, |values| {
        let pairs = times.iter().copied().zip(values.iter().copied());
        pairs.filter(|(_, value)| value.is_finite()).collect()
    })
}

/// The part of a channel from an instant on.
pub(super) fn from(channel: &[(f64, f64)], instant: f64) -> &[(f64, f64)] {
    &channel[channel.partition_point(|(t, _)| *t < instant)..]
}

/// The value of a channel at an instant, on the straight line between its neighbours; beyond its ends, the end's value.
pub(super) fn at(channel: &[(f64, f64)], instant: f64) -> Option<f64> {
    let next = channel.partition_point(|(t, _)| *t < instant);
    let (left, right) = match next {
        0 => return channel.first().map(|(_, value)| *value),
        _ => (channel[next - 1], channel.get(next)),
    };
    let Some(right) = right else {
        return Some(left.1);
    };
    let share = (instant - left.0) / (right.0 - left.0);
    Some(left.1 + share * (right.1 - left.1))
}
