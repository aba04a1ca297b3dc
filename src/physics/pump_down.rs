//! How long a dry system takes to be pumped down, and how far it gets.
//!
//! The flow is taken as steady at every moment: `V dp/dt = load - throughput(p)`. The time is the
//! integral of `V dp / (throughput - load)`, taken over the logarithm of how far the mean
//! pressure in the hose lies above where it stops; in that variable the integrand is smooth and
//! changes slowly from dense to thin gas, so that Gauss-Legendre panels need few points.

use std::iter::successors;

use super::pumping_speed::PumpingLine;
use super::root::rising_root;

/// The width of a panel in the logarithm; keeps the error of the time below 1e-8.
const PANEL: f64 = 6.0;
/// The most panels that [`PumpDown::pressure_after`] goes down: below them a pressure is nothing.
const MOST_PANELS: usize = 180;
/// Places and weights of Gauss-Legendre's rule with 10 points, of the half above the middle.
/// Source: Abramowitz and Stegun, table 25.4.
const POINTS: [(f64, f64); 5] = [
    (0.148_874_338_981_631_2, 0.295_524_224_714_752_9),
    (0.433_395_394_129_247_2, 0.269_266_719_309_996_3),
    (0.679_409_568_299_024_4, 0.219_086_362_515_982),
    (0.865_063_366_688_984_5, 0.149_451_349_150_580_6),
    (0.973_906_528_517_171_7, 0.066_671_344_308_688_1),
];

/// A dry system being pumped down.
///
/// ```
/// use dryhold::physics::pump_down::PumpDown;
/// use dryhold::physics::pumping_speed::PumpingLine;
/// let bare = PumpDown::new(PumpingLine::bare(2e-3), 0.01, 0.0);
/// let constant_speed = 0.01 / 2e-3 * (101_325.0_f64 / 100.0).ln();
/// assert!((bare.time(101_325.0, 100.0) / constant_speed - 1.0).abs() < 1e-9);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PumpDown {
    line: PumpingLine,
    volume: f64,
    load: f64,
    /// The mean pressure in the hose above the floor where the pressure stops, in Pa.
    stop: f64,
}

impl PumpDown {
    /// A system of a volume in m³ behind a pumping line, with a steady load in Pa m³/s: air that
    /// leaks in, or vapour that keeps coming.
    #[must_use]
    pub fn new(line: PumpingLine, volume: f64, load: f64) -> Self {
        Self { line, volume, load, stop: line.mean_for_throughput(load) }
    }

    /// The pressure in Pa at the system that is never passed: the floor, raised by the load.
    #[must_use]
    pub fn stopping_pressure(&self) -> f64 {
        self.line.floor + self.line.along(self.stop).system
    }

    /// The time in s from one pressure to another in Pa. 0 where the start already lies at or
    /// below the target; infinite where the target lies at or below the stopping pressure.
    #[must_use]
    pub fn time(&self, start: f64, target: f64) -> f64 {
        if start <= target {
            return 0.0;
        }
        if target <= self.stopping_pressure() {
            return f64::INFINITY;
        }
        let (high, low) = (self.place(start), self.place(target));
        if !(high - low).is_finite() {
            return f64::INFINITY;
        }
        let panels = libm::ceil((high - low) / PANEL).max(1.0);
        let panel = Panel::of_width((high - low) / panels);
        let first = libm::exp(low + panel.half);
        let middles = successors(Some(first), |middle| Some(middle * panel.ratio));
        middles.take(panels as usize).map(|middle| self.time_over(&panel, middle)).sum()
    }

    /// The pressure in Pa at the system a time in s after it was at the start. A start at or
    /// below the stopping pressure stays.
    #[must_use]
    pub fn pressure_after(&self, start: f64, time: f64) -> f64 {
        if start <= self.stopping_pressure() || time <= 0.0 {
            return start;
        }
        let mut high = self.place(start);
        let mut left = time;
        for _ in 0..MOST_PANELS {
            let low = high - PANEL;
            let panel = self.time_between(low, high);
            // Also ends where the place is so near to the stop that no time can be told.
            if left <= panel || !panel.is_finite() {
                let gap = |place: f64| (left - self.time_between(place, high), self.pace(place));
                return self.system_at(rising_root(gap, (low, high), 0.5 * (low + high), 1e-9));
            }
            left -= panel;
            high = low;
        }
        self.stopping_pressure()
    }

    /// Where a pressure in Pa lies: the logarithm of the mean above its stop.
    fn place(&self, pressure: f64) -> f64 {
        libm::log(self.line.mean_for_system(pressure - self.line.floor) - self.stop)
    }

    /// The pressure in Pa at a place.
    fn system_at(&self, place: f64) -> f64 {
        self.line.floor + self.line.along(self.stop + libm::exp(place)).system
    }

    /// The time in s per unit of place.
    fn pace(&self, place: f64) -> f64 {
        self.pace_above(libm::exp(place))
    }

    /// The time in s per unit of place, so many Pa above the stop.
    fn pace_above(&self, above: f64) -> f64 {
        let along = self.line.along(self.stop + above);
        self.volume * above * along.system_slope / (along.throughput - self.load)
    }

    /// The time in s between two places at most a panel apart.
    fn time_between(&self, low: f64, high: f64) -> f64 {
        self.time_over(&Panel::of_width(high - low), libm::exp(0.5 * (low + high)))
    }

    /// The time in s over a panel whose middle lies so many Pa above the stop.
    fn time_over(&self, panel: &Panel, middle: f64) -> f64 {
        let both = |away: f64| self.pace_above(middle * away) + self.pace_above(middle / away);
        let pairs = panel.away.iter().zip(&POINTS);
        panel.half * pairs.fold(0.0, |sum, (away, (_, weight))| sum + weight * both(*away))
    }
}

/// A panel in the logarithm, wherever it lies.
struct Panel {
    /// Half of its width.
    half: f64,
    /// The pressure at its upper end over that at its lower end, both counted from the stop.
    ratio: f64,
    /// The same for each of [`POINTS`] over its middle.
    away: [f64; POINTS.len()],
}

impl Panel {
    fn of_width(width: f64) -> Self {
        let half = 0.5 * width;
        let away = POINTS.map(|(point, _)| libm::exp(half * point));
        Self { half, ratio: libm::exp(width), away }
    }
}

#[cfg(test)]
mod tests {
    use super::super::conductance::Tube;
    use super::super::gas::{Gas, REFERENCE_TEMPERATURE};
    use super::*;

    fn pump_down(bore: f64, cores: f64, floor: f64, load: f64) -> PumpDown {
        let hose = Some(Tube::new(Gas::Air, bore, 1.5, REFERENCE_TEMPERATURE));
        PumpDown::new(PumpingLine { speed: 2.36e-3, floor, hose, cores }, 0.01, load)
    }

    /// The integral over pressure by halving panels until nothing changes, without the
    /// parameter of the law.
    fn reference(down: &PumpDown, low: f64, high: f64) -> f64 {
        let pace = |logarithm: f64| {
            let above = libm::exp(logarithm);
            let pressure = down.stopping_pressure() + above;
            let flow = down.line.at_system_pressure(pressure).throughput;
            down.volume * above / (flow - down.load)
        };
        let simpson = |panels: usize| {
            let width = (high - low) / panels as f64;
            let sum: f64 = (0..panels)
                .map(|panel| {
                    let from = low + width * panel as f64;
                    pace(from) + 4.0 * pace(from + 0.5 * width) + pace(from + width)
                })
                .sum();
            sum * width / 6.0
        };
        let mut last = simpson(64);
        for doubling in 7..16 {
            let next = simpson(1 << doubling);
            if (next / last - 1.0).abs() < 1e-11 {
                return next;
            }
            last = next;
        }
        last
    }

    #[test]
    fn the_time_is_that_of_a_far_finer_integral() {
        let mut worst: f64 = 0.0;
        for bore in [0.7e-3, 4.8e-3, 9.5e-3, 19e-3] {
            for cores in [f64::INFINITY, 0.3e-3, 0.05e-3] {
                for (floor, load) in [(0.0, 0.0), (2.7, 0.0), (2.7, 1e-4), (0.0, 1e-2)] {
                    let down = pump_down(bore, cores, floor, load);
                    for target in [1.001, 1.1, 3.0, 1000.0] {
                        let target = (down.stopping_pressure() * target).max(1e-2);
                        let low = libm::log(target - down.stopping_pressure());
                        let high = libm::log(101_325.0 - down.stopping_pressure());
                        if low < high {
                            let time = down.time(101_325.0, target);
                            worst = worst.max((time / reference(&down, low, high) - 1.0).abs());
                        }
                    }
                }
            }
        }
        assert!(worst < 1e-8, "{worst:e}");
    }

    #[test]
    fn a_target_below_the_stop_is_never_reached() {
        let down = pump_down(4.8e-3, 0.3e-3, 2.7, 1e-3);
        let stop = down.stopping_pressure();
        assert_eq!(down.time(101_325.0, stop), f64::INFINITY);
        assert!(down.time(101_325.0, 1.000_001 * stop).is_finite());
        assert_eq!(pump_down(4.8e-3, 0.3e-3, 2.7, 0.0).stopping_pressure(), 2.7);
        assert_eq!(down.time(50.0, 60.0), 0.0);
    }

    #[test]
    fn the_pressure_after_the_time_to_a_pressure_is_that_pressure() {
        for (floor, load) in [(0.0, 0.0), (2.7, 0.0), (2.7, 1e-4)] {
            let down = pump_down(4.8e-3, 0.3e-3, floor, load);
            for target in [1.2, 3.0, 30.0, 1000.0] {
                let target = down.stopping_pressure() * target + 0.1;
                let found = down.pressure_after(101_325.0, down.time(101_325.0, target));
                assert!((found / target - 1.0).abs() < 1e-8, "{found} for {target}");
            }
        }
    }

    #[test]
    fn after_a_very_long_time_the_pressure_is_where_it_stops() {
        for (floor, load) in [(0.0, 0.0), (2.7, 0.0), (2.7, 1e-4)] {
            let down = pump_down(4.8e-3, 0.3e-3, floor, load);
            let found = down.pressure_after(101_325.0, 1e9);
            assert!((found - down.stopping_pressure()).abs() < 1e-6, "{found}");
            assert_eq!(down.pressure_after(101_325.0, 0.0), 101_325.0);
        }
    }
}
