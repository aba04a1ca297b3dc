//! At most 120 points of a hold, with the noise of each.

use super::input::Hold;
use super::resolution::found_resolution;

/// More points would add time and no information about parts slower than a step.
const MOST_POINTS: usize = 120;

/// The readings averaged in equal groups.
pub(super) struct Points {
    /// Seconds since the first reading.
    pub times: Vec<f64>,
    /// Pressures in Pa.
    pub pressures: Vec<f64>,
    /// Noise of each point in Pa.
    pub noise: Vec<f64>,
    /// Resolution in Pa, zero if none was found.
    pub resolution: f64,
    /// Seconds from the first to the last reading.
    pub duration: f64,
}

impl Points {
    /// Twice the steepest rise between distant points, in Pa/s: beyond any slope that could fit.
    pub fn steepest(&self) -> f64 {
        let range = self.pressures.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |range, p| {
            (range.0.min(*p), range.1.max(*p))
        });
        let noise = self.noise.iter().fold(0.0, |most: f64, noise| most.max(*noise));
        2.0 * (range.1 - range.0 + 10.0 * noise) / self.duration
    }
}

/// Averages `hold` into points.
pub(super) fn condense(hold: &Hold) -> Points {
    let found = hold.gauge.resolution.or_else(|| found_resolution(&hold.pressures));
    let resolution = found.unwrap_or(0.0);
    let repeats = hold.gauge.repeatability.unwrap_or(0.35 * resolution);
    let group = hold.times.len().div_ceil(MOST_POINTS);
    let start = hold.times[0];
    let mut points = Points {
        times: Vec::new(),
        pressures: Vec::new(),
        noise: Vec::new(),
        resolution,
        duration: hold.times[hold.times.len() - 1] - start,
    };
    for (times, pressures) in hold.times.chunks(group).zip(hold.pressures.chunks(group)) {
        let count = times.len() as f64;
        let pressure = pressures.iter().sum::<f64>() / count;
        points.times.push(times.iter().map(|time| time - start).sum::<f64>() / count);
        points.pressures.push(pressure);
        points.noise.push(noise(resolution, repeats, count, pressure));
    }
    points
}

/// A display's rounding is uniform, of variance q²/12. Scatter shrinks with the root of the
/// count; rounding is taken not to, as equal readings round alike. A part in ten thousand
/// of the pressure stands for what no display shows.
fn noise(resolution: f64, repeats: f64, count: f64, pressure: f64) -> f64 {
    let hidden = 1e-4 * pressure.abs() + 1e-6;
    libm::sqrt(resolution * resolution / 12.0 + repeats * repeats / count + hidden * hidden)
}
