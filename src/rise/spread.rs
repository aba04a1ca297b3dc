//! The columns of a hold: a constant, a slope and settling parts of many time constants.

use super::condense::Points;
use super::nonnegative::dot;

/// Shortest time constant in s (`estimate`: faster ones are over before the first readings).
const SHORTEST: f64 = 15.0;
/// How many time constants, equal steps in the logarithm.
const COUNT: usize = 18;

/// Columns divided by the noise, the constant taken out, so that plain dot products compare.
pub(super) struct Columns {
    /// Time constants in s, rising.
    pub time_constants: Vec<f64>,
    /// One settling part `1 − exp(−t/τ)` for each time constant.
    pub settling: Vec<Vec<f64>>,
    /// The slope: seconds.
    pub slope: Vec<f64>,
    /// The pressures.
    pub target: Vec<f64>,
}

/// Builds the columns with time constants up to `longest` s. `bends` are disturbances of known
/// size (one standard deviation in Pa at each point) that may have either sign.
pub(super) fn columns(points: &Points, longest: f64, bends: &[Vec<f64>]) -> Columns {
    let time_constants = time_constants(longest);
    let whitening = Whitening::new(&points.noise, bends);
    let constant = whitening.apply(&vec![1.0; points.times.len()]);
    let ready = |column: &[f64]| without(&constant, whitening.apply(column));
    let settling = time_constants
        .iter()
        .map(|tau| ready(&points.times.iter().map(|t| -libm::expm1(-t / tau)).collect::<Vec<_>>()))
        .collect();
    let slope = ready(&points.times);
    let target = ready(&points.pressures);
    Columns { time_constants, settling, slope, target }
}

fn time_constants(longest: f64) -> Vec<f64> {
    let shortest = SHORTEST.min(0.1 * longest);
    let step = libm::log(longest / shortest) / (COUNT - 1) as f64;
    (0..COUNT).map(|k| shortest * libm::exp(step * k as f64)).collect()
}

fn without(constant: &[f64], mut column: Vec<f64>) -> Vec<f64> {
    let share = dot(constant, &column) / dot(constant, constant);
    for (entry, one) in column.iter_mut().zip(constant) {
        *entry -= share * one;
    }
    column
}

/// The lower Cholesky factor of the noise's covariance: its inverse makes noise white.
struct Whitening {
    lower: Vec<f64>,
    size: usize,
}

impl Whitening {
    fn new(noise: &[f64], bends: &[Vec<f64>]) -> Self {
        let size = noise.len();
        let mut lower = vec![0.0; size * size];
        for row in 0..size {
            for column in 0..=row {
                let mut entry: f64 = bends.iter().map(|bend| bend[row] * bend[column]).sum();
                if row == column {
                    entry += noise[row] * noise[row];
                }
                let (before, current) = (column * size, row * size);
                entry -= dot(&lower[before..before + column], &lower[current..current + column]);
                lower[current + column] = if row == column {
                    libm::sqrt(entry.max(f64::MIN_POSITIVE))
                } else {
                    entry / lower[before + column]
                };
            }
        }
        Self { lower, size }
    }

    fn apply(&self, column: &[f64]) -> Vec<f64> {
        let mut white: Vec<f64> = Vec::with_capacity(self.size);
        for (row, entry) in column.iter().enumerate() {
            let start = row * self.size;
            let known = dot(&self.lower[start..start + row], &white);
            white.push((entry - known) / self.lower[start + row]);
        }
        white
    }
}

/// Rise in Pa over the hold of the parts slower than the step.
pub(super) fn settled(columns: &Columns, amounts: &[f64], duration: f64, step_time: f64) -> f64 {
    let parts = columns.time_constants.iter().zip(amounts);
    let slow = parts.filter(|(tau, _)| **tau > step_time / 3.0);
    slow.map(|(tau, amount)| -amount * libm::expm1(-duration / tau)).sum()
}
