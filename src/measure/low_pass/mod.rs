//! Low-pass filters that a limit profile may prescribe for peak values, never for times.

pub mod butterworth;
pub mod cfc;
mod section;

pub use section::{Section, forward, two_pass};

use super::method::LowPass;
use super::zeroed::Zeroed;
use super::{Measured, Unmeasured};
use crate::quantity::{Hertz, Newton};

/// Greatest spread of the sampling steps, as a share of their mean, that still counts as an even rate.
const EVEN_SHARE: f64 = 0.1;

/// The greatest force (N) from sample `first` on after a low-pass.
///
/// # Errors
/// [`Unmeasured`] if the record is not sampled evenly, samples are missing, or its rate is too low for the filter.
pub fn filtered_peak(record: &Zeroed<'_>, first: usize, filter: LowPass) -> Measured<Newton> {
    let rate = even_rate(record)?;
    let filtered = match filter {
        LowPass::ChannelFrequencyClass { class } => {
            two_pass(&[cfc::section(class, rate)?], record.forces())?
        }
        LowPass::Butterworth { corner_hz, order } => forward(
            &butterworth::sections(order, Hertz(corner_hz), rate)?,
            record.forces(),
        ),
    };
    let most = filtered[first..]
        .iter()
        .copied()
        .fold(f64::NEG_INFINITY, f64::max);
    super::finite(most).map(Newton)
}

fn even_rate(record: &Zeroed<'_>) -> Measured<Hertz> {
    let times = record.times();
    let steps = times.windows(2).map(|pair| pair[1] - pair[0]);
    let (least, most) = steps.fold((f64::INFINITY, 0.0_f64), |(least, most), step| {
        (least.min(step), most.max(step))
    });
    let mean = record.end() / (times.len() - 1).max(1) as f64;
    if !record.gaps().is_empty() || most - least > EVEN_SHARE * mean || times.len() < 2 {
        return Err(Unmeasured::LowPassUnevenRate);
    }
    Ok(Hertz(1.0 / mean))
}
