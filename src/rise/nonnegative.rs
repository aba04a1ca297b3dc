//! Least squares with non-negative amounts, from the normal equations of a few columns.
//!
//! The active-set method of Lawson and Hanson (Solving Least Squares Problems, 1974, chapter 23;
//! from memory) on `G x ≈ b`, started from the set that served the neighbouring problem: along a
//! profile the set hardly changes, so that one small Cholesky solve is most of the work.

/// A least-squares problem by its normal equations: minimise `xᵀG x − 2 bᵀx` with `x ≥ 0`.
#[derive(Debug, Clone)]
pub struct NonNegative {
    gram: Vec<f64>,
    size: usize,
}

impl NonNegative {
    /// From columns of equal length; a ridge of 1e-12 of each diagonal keeps near-equal columns
    /// solvable.
    pub fn new(columns: &[Vec<f64>]) -> Self {
        let size = columns.len();
        let mut gram = vec![0.0; size * size];
        for row in 0..size {
            for column in 0..=row {
                let product = dot(&columns[row], &columns[column]);
                gram[row * size + column] = product;
                gram[column * size + row] = product;
            }
            gram[row * size + row] *= 1.0 + 1e-12;
        }
        Self { gram, size }
    }

    /// The amounts `x ≥ 0` for the products `b` of the columns with the target, starting from
    /// the positive entries of `start` (any length; too short counts as zero).
    pub fn solve(&self, products: &[f64], start: &[f64]) -> Vec<f64> {
        let mut amounts = vec![0.0; self.size];
        let mut is_free: Vec<bool> =
            (0..self.size).map(|k| start.get(k).is_some_and(|amount| *amount > 0.0)).collect();
        if is_free.contains(&true) {
            for (amount, begun) in amounts.iter_mut().zip(start) {
                *amount = begun.max(0.0);
            }
            self.settle(products, &mut amounts, &mut is_free);
        }
        for _ in 0..3 * self.size {
            let Some(entering) = self.steepest(products, &amounts, &is_free) else { break };
            is_free[entering] = true;
            self.settle(products, &mut amounts, &mut is_free);
            if amounts[entering] <= 0.0 {
                break;
            }
        }
        amounts
    }

    /// The fixed amount whose growth lowers the misfit most, if any does beyond rounding.
    fn steepest(&self, products: &[f64], amounts: &[f64], is_free: &[bool]) -> Option<usize> {
        let mut best = None;
        let mut most = 0.0;
        for k in (0..self.size).filter(|k| !is_free[*k]) {
            let row = &self.gram[k * self.size..(k + 1) * self.size];
            let gain = products[k] - dot(row, amounts);
            let scaled = gain / libm::sqrt(row[k].max(f64::MIN_POSITIVE));
            let floor = 1e-11 * products[k].abs() / libm::sqrt(row[k].max(f64::MIN_POSITIVE));
            if scaled > floor && scaled > most {
                most = scaled;
                best = Some(k);
            }
        }
        best
    }

    /// Solves on the free set, dropping what would turn negative.
    fn settle(&self, products: &[f64], amounts: &mut [f64], is_free: &mut [bool]) {
        for _ in 0..=self.size {
            let free: Vec<usize> = (0..self.size).filter(|k| is_free[*k]).collect();
            let wanted = self.solve_free(products, &free);
            let share = (free.iter().zip(&wanted))
                .filter(|(_, want)| **want <= 0.0)
                .map(|(k, want)| amounts[*k] / (amounts[*k] - want).max(f64::MIN_POSITIVE))
                .fold(1.0, f64::min);
            let is_inside = wanted.iter().all(|want| *want > 0.0);
            for (k, want) in free.iter().zip(&wanted) {
                amounts[*k] +=
                    if is_inside { want - amounts[*k] } else { share * (want - amounts[*k]) };
                if !is_inside && *want <= 0.0 && amounts[*k] <= 1e-14 * want.abs() {
                    amounts[*k] = 0.0;
                    is_free[*k] = false;
                }
            }
            if is_inside {
                return;
            }
        }
    }

    /// Cholesky on the free rows and columns.
    fn solve_free(&self, products: &[f64], free: &[usize]) -> Vec<f64> {
        let size = free.len();
        let mut lower = vec![0.0; size * size];
        let mut answer: Vec<f64> = free.iter().map(|k| products[*k]).collect();
        for row in 0..size {
            for column in 0..=row {
                let (before, current) = (column * size, row * size);
                let inner = dot(&lower[before..before + column], &lower[current..current + column]);
                let entry = self.gram[free[row] * self.size + free[column]] - inner;
                lower[current + column] = if row == column {
                    let least = 1e-15 * self.gram[free[row] * self.size + free[row]];
                    libm::sqrt(entry.max(least).max(f64::MIN_POSITIVE))
                } else {
                    entry / lower[before + column]
                };
            }
            let known = dot(&lower[row * size..row * size + row], &answer[..row]);
            answer[row] = (answer[row] - known) / lower[row * size + row];
        }
        for row in (0..size).rev() {
            let known: f64 = (row + 1..size).map(|k| lower[k * size + row] * answer[k]).sum();
            answer[row] = (answer[row] - known) / lower[row * size + row];
        }
        answer
    }

    /// `xᵀG x`, the part of the misfit that the amounts bring.
    pub fn energy(&self, amounts: &[f64]) -> f64 {
        let rows = self.gram.chunks(self.size.max(1));
        rows.zip(amounts).map(|(row, amount)| amount * dot(row, amounts)).sum()
    }
}

/// Sum of the products of two rows of numbers.
pub(super) fn dot(left: &[f64], right: &[f64]) -> f64 {
    left.iter().zip(right).map(|(a, b)| a * b).sum()
}
