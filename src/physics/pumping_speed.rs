//! What is left of a pump's speed behind a hose and valve cores.
//!
//! Steady flow through pump, hose and cores fixes all pressures along the way. With the mean
//! pressure in the hose as the known one everything else follows without solving; from the
//! pressure at the system the mean is found by Newton's method.

use super::conductance::Tube;
use super::root::rising_root;

/// A step of Newton's method as small as this share of a pressure ends it (limit of ours: the error is
/// then about its square).
const NEAR: f64 = 1e-8;

/// The speed in m³/s that a pump of a speed in m³/s keeps behind a conductance in m³/s:
/// `S C / (S + C)`. Source: pumping speed and conductance in series.
#[must_use]
pub fn effective_speed(speed: f64, conductance: f64) -> f64 {
    1.0 / (1.0 / speed + 1.0 / conductance)
}

/// A pump with what lies between it and the system: `system - cores - hose - pump`.
///
/// The flow is steady and the gas is air of one temperature. Cores sit at the system's end.
///
/// ```
/// use dryhold::physics::conductance::Tube;
/// use dryhold::physics::gas::{Gas, REFERENCE_TEMPERATURE};
/// use dryhold::physics::pumping_speed::PumpingLine;
/// let hose = Tube::new(Gas::Air, 9.5e-3, 1.5, REFERENCE_TEMPERATURE);
/// let line = PumpingLine { hose: Some(hose), ..PumpingLine::bare(2.36e-3) };
/// let flow = line.at_system_pressure(66.66);
/// assert!((flow.throughput / flow.system_pressure - 0.29e-3).abs() < 0.01e-3);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PumpingLine {
    /// The speed of the pump in m³/s, above 0.
    pub speed: f64,
    /// The pressure in Pa below which the pump takes nothing more; 0 for an ideal pump.
    pub floor: f64,
    /// The hose, if there is one.
    pub hose: Option<Tube>,
    /// The conductance of all cores together in m³/s, the same at every pressure; infinite
    /// without any.
    pub cores: f64,
}

/// A steady flow through a pumping line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteadyFlow {
    /// The pressure at the system in Pa.
    pub system_pressure: f64,
    /// The pressure at the pump's inlet in Pa.
    pub pump_end_pressure: f64,
    /// What flows, in Pa m³/s.
    pub throughput: f64,
}

/// Values that belong to one mean pressure in the hose, and how they grow with it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Along {
    /// The pressure at the system above the floor, in Pa.
    pub(super) system: f64,
    /// Its slope, a number.
    pub(super) system_slope: f64,
    /// The pressure at the pump's inlet above the floor, in Pa.
    pub(super) pump_end: f64,
    /// What flows, in Pa m³/s.
    pub(super) throughput: f64,
    /// Its slope in m³/s.
    pub(super) throughput_slope: f64,
}

impl PumpingLine {
    /// An ideal pump right at the system, without a floor.
    #[must_use]
    pub fn bare(speed: f64) -> Self {
        Self { speed, floor: 0.0, hose: None, cores: f64::INFINITY }
    }

    /// The flow while the system has a pressure in Pa. At or below the floor nothing flows, and
    /// the pressure is the same all along.
    #[must_use]
    pub fn at_system_pressure(&self, pressure: f64) -> SteadyFlow {
        if pressure <= self.floor {
            return SteadyFlow {
                system_pressure: pressure,
                pump_end_pressure: pressure,
                throughput: 0.0,
            };
        }
        SteadyFlow {
            system_pressure: pressure,
            ..self.flow(self.mean_for_system(pressure - self.floor))
        }
    }

    /// The flow while a load in Pa m³/s keeps coming: where the pressure stops falling. Without
    /// a load that is the floor.
    #[must_use]
    pub fn at_throughput(&self, load: f64) -> SteadyFlow {
        self.flow(self.mean_for_throughput(load))
    }

    /// The speed in m³/s that is left at the system at a pressure in Pa: the throughput over the
    /// pressure above the floor. 0 at or below the floor.
    #[must_use]
    pub fn system_speed(&self, pressure: f64) -> f64 {
        if pressure <= self.floor {
            return 0.0;
        }
        self.at_system_pressure(pressure).throughput / (pressure - self.floor)
    }

    /// Everything along the line from the mean pressure in the hose above the floor, in Pa.
    ///
    /// Pump and hose pass the same: `S (p2 - floor) = 2 C (mean - p2)`, so the pump's end lies
    /// `w = 2 C / (S + 2 C)` of the way from the floor to the mean.
    pub(super) fn along(&self, mean: f64) -> Along {
        let (w, w_slope) = self.hose.map_or((1.0, 0.0), |hose| {
            let (conductance, slope) = hose.with_slope(self.floor + mean);
            let over = 1.0 / (self.speed + 2.0 * conductance);
            (2.0 * conductance * over, 2.0 * slope * self.speed * over * over)
        });
        let (pump_end, pump_end_slope) = (w * mean, w + w_slope * mean);
        // The hose's far end lies as far above the mean as its near end below it; cores add the
        // throughput over their conductance.
        let cores = self.speed / self.cores - 1.0;
        Along {
            system: 2.0 * mean + cores * pump_end,
            system_slope: 2.0 + cores * pump_end_slope,
            pump_end,
            throughput: self.speed * pump_end,
            throughput_slope: self.speed * pump_end_slope,
        }
    }

    /// The mean pressure in the hose above the floor for a pressure at the system above the
    /// floor, both in Pa and above 0.
    ///
    /// The system's pressure rises with the mean to a power between 1 and 2, so that a guess in
    /// proportion lies near enough for Newton's method.
    pub(super) fn mean_for_system(&self, system: f64) -> f64 {
        let cores = self.speed / self.cores;
        let gap = |mean: f64| {
            let along = self.along(mean);
            (along.system - system, along.system_slope)
        };
        let guess = 0.7 * system;
        let start = guess * (system / self.along(guess).system);
        let least = system / (2.0 + cores);
        rising_root(gap, (least, system), start, NEAR * least)
    }

    /// The mean pressure in the hose above the floor at which a throughput in Pa m³/s flows.
    pub(super) fn mean_for_throughput(&self, throughput: f64) -> f64 {
        let least = throughput / self.speed;
        let Some(hose) = self.hose.filter(|_| throughput > 0.0) else { return least.max(0.0) };
        let gap = |logarithm: f64| {
            let mean = libm::exp(logarithm);
            let along = self.along(mean);
            (
                libm::log(along.throughput / throughput),
                mean * along.throughput_slope / along.throughput,
            )
        };
        // Knudsen's bend takes less than a fifth from the molecular conductance.
        let most = least + throughput / (2.0 * 0.8 * hose.molecular());
        let bracket = (libm::log(least), libm::log(most));
        libm::exp(rising_root(gap, bracket, 0.5 * (bracket.0 + bracket.1), NEAR))
    }

    fn flow(&self, mean: f64) -> SteadyFlow {
        let along = self.along(mean);
        SteadyFlow {
            system_pressure: self.floor + along.system,
            pump_end_pressure: self.floor + along.pump_end,
            throughput: along.throughput,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::gas::{Gas, REFERENCE_TEMPERATURE};
    use super::*;

    fn line(bore: f64, cores: f64) -> PumpingLine {
        let hose = Tube::new(Gas::Air, bore, 1.5, REFERENCE_TEMPERATURE);
        PumpingLine { floor: 2.0, hose: Some(hose), cores, ..PumpingLine::bare(2.36e-3) }
    }

    #[test]
    fn pump_hose_and_cores_pass_the_same() {
        for (bore, cores) in [(4.8e-3, f64::INFINITY), (9.5e-3, 0.3e-3), (0.7e-3, 0.1e-3)] {
            let line = line(bore, cores);
            for pressure in [2.1, 5.0, 66.7, 1e3, 1e5] {
                let flow = line.at_system_pressure(pressure);
                let hose_end = pressure - flow.throughput / cores;
                let mean = 0.5 * (hose_end + flow.pump_end_pressure);
                let hose = line.hose.unwrap().conductance(mean);
                let through_hose = hose * (hose_end - flow.pump_end_pressure);
                let into_pump = line.speed * (flow.pump_end_pressure - line.floor);
                assert!((into_pump / flow.throughput - 1.0).abs() < 1e-9, "{flow:?}");
                assert!((through_hose / flow.throughput - 1.0).abs() < 1e-6, "{flow:?}");
            }
        }
    }

    #[test]
    fn the_flow_at_a_load_is_the_flow_at_its_pressure() {
        let line = line(4.8e-3, 0.3e-3);
        for load in [1e-9, 1e-5, 1e-3, 0.1, 100.0] {
            let stopped = line.at_throughput(load);
            let flow = line.at_system_pressure(stopped.system_pressure);
            assert!((flow.throughput / load - 1.0).abs() < 1e-6, "{load} {stopped:?}");
        }
        assert_eq!(line.at_throughput(0.0).system_pressure, line.floor);
    }

    #[test]
    fn the_slopes_are_those_of_the_values() {
        let line = line(4.8e-3, 0.3e-3);
        for mean in [0.1, 3.0, 50.0, 2e4] {
            let step = 1e-5 * mean;
            let (below, at, above) =
                (line.along(mean - step), line.along(mean), line.along(mean + step));
            let system = (above.system - below.system) / (2.0 * step);
            let throughput = (above.throughput - below.throughput) / (2.0 * step);
            assert!((system / at.system_slope - 1.0).abs() < 1e-6);
            assert!((throughput / at.throughput_slope - 1.0).abs() < 1e-6);
        }
    }

    #[test]
    fn at_the_floor_nothing_flows() {
        let line = line(9.5e-3, 0.3e-3);
        let flow = line.at_system_pressure(1.5);
        assert_eq!((flow.throughput, flow.pump_end_pressure), (0.0, 1.5));
        assert_eq!(line.system_speed(1.0), 0.0);
    }
}
