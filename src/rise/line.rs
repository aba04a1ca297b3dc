//! The least-squares line, with standard errors.

/// A line `intercept + slope x` with its doubts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// At x = 0, in the unit of y.
    pub intercept: f64,
    /// In the unit of y over that of x.
    pub slope: f64,
    /// Standard error of the intercept.
    pub intercept_error: f64,
    /// Standard error of the slope.
    pub slope_error: f64,
    /// Sum of the squared residuals.
    pub squares: f64,
}

/// Fits a line; `None` below three points, at one place only, or if something is not finite.
/// Sums are centred, so that a large offset costs no digits.
pub fn fit(x: &[f64], y: &[f64]) -> Option<Line> {
    let count = x.len();
    if count < 3 || y.len() != count {
        return None;
    }
    let n = count as f64;
    let (mean_x, mean_y) = (x.iter().sum::<f64>() / n, y.iter().sum::<f64>() / n);
    let spread: f64 = x.iter().map(|x| (x - mean_x) * (x - mean_x)).sum();
    let common: f64 = x.iter().zip(y).map(|(x, y)| (x - mean_x) * (y - mean_y)).sum();
    let slope = common / spread;
    let rest = |(x, y): (&f64, &f64)| (y - mean_y) - slope * (x - mean_x);
    let squares: f64 = x.iter().zip(y).map(rest).map(|r| r * r).sum();
    let variance = squares / (n - 2.0);
    let line = Line {
        intercept: mean_y - slope * mean_x,
        slope,
        intercept_error: libm::sqrt(variance * (1.0 / n + mean_x * mean_x / spread)),
        slope_error: libm::sqrt(variance / spread),
        squares,
    };
    (line.slope.is_finite() && line.squares.is_finite()).then_some(line)
}
