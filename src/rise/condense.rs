//! At most 120 points of a hold, with the noise of each.

use super::input::Hold;
use super::resolution::found_resolution;

/// More points would add time and no information about parts slower than a step.
const MOST_POINTS: usize = 120;

/// Scatter of a reading in steps of its display, where nobody knows it (`estimate`: a last digit
/// that wavers evenly by some .6 of a step to either side, .6 / √3). It is what the sensor does and
/// comes beside the rounding, which is the display's: ISO/IEC Guide 98-3 (GUM), F.2.2.1, gives
/// .29 of a step for the rounding alone.
pub(super) const SCATTER: f64 = 0.35;

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
    let repeats = hold.gauge.repeatability.unwrap_or(SCATTER * resolution);
    let group = hold.times.len().div_ceil(MOST_POINTS);
    let start = hold.times[0];
    let mut points = Points {
        times: Vec::new(),
        pressures: Vec::new(),
        noise: Vec::new(),
        resolution,
        duration: hold.times[hold.times.len() - 1] - start,
    };
    for first in (0..hold.times.len()).step_by(group) {
        let range = first..(first + group).min(hold.times.len());
        let weight = |k: usize| hold.weights.get(k).map_or(1.0, |rows| *rows as f64).max(1.0);
        let rows: f64 = range.clone().map(weight).sum();
        let mean = |of: &[f64]| range.clone().map(|k| weight(k) * of[k]).sum::<f64>() / rows;
        let pressure = mean(&hold.pressures);
        points.times.push(mean(&hold.times) - start);
        points.pressures.push(pressure);
        points.noise.push(noise(resolution, repeats, rows, pressure));
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rise::Gauge;

    #[test]
    fn a_mean_of_many_rows_is_as_quiet_as_the_rows_themselves() {
        let gauge = Gauge { resolution: Some(0.1), repeatability: Some(0.5), ..Gauge::default() };
        let times: Vec<f64> = (0..600).map(f64::from).collect();
        let rows = condense(&Hold::new(times.clone(), vec![40.0; 600], gauge, 0.01));
        let middles = times.chunks(5).map(|bin| bin.iter().sum::<f64>() / 5.0).collect();
        let mut thinned = Hold::new(middles, vec![40.0; 120], gauge, 0.01);
        thinned.weights = vec![5; 120];
        let bins = condense(&thinned);
        assert_eq!(rows.noise.len(), bins.noise.len());
        for (one, other) in rows.noise.iter().zip(&bins.noise) {
            assert!((one / other - 1.0).abs() < 1e-12, "{one} against {other}");
        }
        thinned.weights.clear();
        assert!(condense(&thinned).noise[0] > 2.0 * rows.noise[0], "single readings scatter more");
    }

    /// By hand after ISO/IEC Guide 98-3 (GUM), F.2.2.1: a step of 1 has a standard deviation of
    /// 1/√12 = .288675 for its rounding. Beside it .35 for the scatter make
    /// √(.083333 + .1225) = .453689.
    #[test]
    fn rounding_and_scatter_of_a_step_are_two_things() {
        let rounded = Gauge { resolution: Some(1.0), repeatability: Some(0.0), ..Gauge::default() };
        let unknown = Gauge { resolution: Some(1.0), ..Gauge::default() };
        let noise = |gauge: Gauge| {
            let hold = Hold::new(vec![0.0, 60.0, 120.0], vec![0.0; 3], gauge, 0.01);
            condense(&hold).noise[0]
        };
        assert!((noise(rounded) - 0.288_675).abs() < 1e-6);
        assert!((noise(unknown) - 0.453_689).abs() < 1e-6);
    }

    #[test]
    fn the_mean_of_a_group_leans_to_the_bin_with_more_rows() {
        let times: Vec<f64> = (0..240).map(f64::from).collect();
        let pressures = (0..240).map(|k| if k % 2 == 0 { 40.0 } else { 44.0 }).collect();
        let mut hold = Hold::new(times, pressures, Gauge::default(), 0.01);
        hold.weights = (0..240).map(|k| if k % 2 == 0 { 3 } else { 1 }).collect();
        let points = condense(&hold);
        assert!(
            (points.pressures[7] - 41.0).abs() < 1e-12 && (points.times[7] - 14.25).abs() < 1e-12
        );
    }
}
