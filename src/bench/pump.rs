//! A rotary-vane pump: how fast it takes in, and the pressure below which it takes no more.
//!
//! That floor is a sum, gas by gas: what a clean warm pump keeps, air past worn or cold vanes, air
//! of an open ballast, and what evaporates from its oil.

use super::mixture::{Each, SPECIES, Species};
use super::oil::{Oil, PRESSURE_OF_REFRIGERANT, PRESSURE_OF_WATER};

/// A pump.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pump {
    /// The rated speed in m³/s; 2.36e-3 is 5 cfm.
    pub speed: f64,
    /// The share of the rated speed that is left, above 0 to 1.
    pub left: f64,
    /// The floor in Pa of the clean warm pump; 2 to 7 Pa is what two stages are rated at
    /// (memory).
    pub ultimate: f64,
    /// What worn vanes and seals add to the floor in Pa.
    pub worn: f64,
    /// What a cold start adds to the floor in Pa; it goes as the pump warms.
    pub cold: f64,
    /// How long in s the pump takes for 63 % of its way to warm; 150 to 600.
    pub warm_up: f64,
    /// What an open ballast adds to the floor in Pa; 13 to 130 (common practice: 100 to 1000
    /// micron on service pumps).
    pub ballast: f64,
    /// How easily air comes back through the stopped pump, in m³/s of air of the barometer;
    /// 0 with a valve at its inlet that shuts by itself.
    pub back_flow: f64,
}

impl Default for Pump {
    /// A sound two-stage pump of 5 cfm. Mark: estimate.
    fn default() -> Self {
        Self {
            speed: 2.36e-3,
            left: 1.0,
            ultimate: 3.0,
            worn: 0.0,
            cold: 15.0,
            warm_up: 240.0,
            ballast: 40.0,
            back_flow: 0.0,
        }
    }
}

/// How a pump is set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Setting {
    /// Whether it runs.
    pub is_running: bool,
    /// Whether its gas ballast is open.
    pub is_ballast_open: bool,
}

/// What happens at a pump, in Pa m³/s.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Exchange {
    /// What leaves the inlet, of each gas.
    pub intake: Each,
    /// What of it stays in the oil.
    pub captured: Each,
    /// What leaves the oil through the exhaust.
    pub cleaned: Each,
    /// How the warmth changes, in 1/s.
    pub warming: f64,
}

/// What too little oil adds to the floor in Pa, as gas slips back. Mark: estimate.
const LOW_OIL: f64 = 60.0;
/// What dark oil adds to the floor in Pa. Mark: estimate.
const DARK_OIL: f64 = 15.0;
/// How much of the vapour taken in stays in the oil while the ballast is shut, and open. Mark:
/// estimate.
const CAPTURED: (f64, f64) = (0.3, 0.02);
/// How long in s warm oil takes to lose 63 % of its water with the ballast open. Mark: estimate;
/// 20 to 60 minutes of running are common practice.
const WATER_CLEARS: f64 = 1500.0;
/// The same for refrigerant. Mark: estimate.
const REFRIGERANT_CLEARS: f64 = 400.0;
/// How much longer it takes with the ballast shut. Mark: estimate.
const WITHOUT_BALLAST: f64 = 12.0;
/// How long in s a stopped pump takes to lose 63 % of its warmth. Mark: estimate.
const COOLS_IN: f64 = 1800.0;

impl Pump {
    /// The floor in Pa of each gas, for oil with masses in kg in it and a warmth from 0, cold, to
    /// 1, warm.
    #[must_use]
    pub fn floor(&self, oil: &Oil, warmth: f64, is_ballast_open: bool) -> Each {
        let sum = |parts: [(bool, f64); 3]| {
            parts.iter().filter(|(is_there, _)| *is_there).map(|(_, part)| part).sum::<f64>()
        };
        let air = self.ultimate
            + self.worn
            + self.cold * (1.0 - warmth)
            + sum([
                (is_ballast_open, self.ballast),
                (oil.is_low, LOW_OIL),
                (oil.is_dark, DARK_OIL),
            ]);
        let [_, water, refrigerant] = Self::vapour_over(oil);
        [air, water, refrigerant]
    }

    /// What is in the oil adds so much in Pa of each gas to the floor.
    #[must_use]
    pub fn vapour_over(oil: &Oil) -> Each {
        [0.0, PRESSURE_OF_WATER * oil.water, PRESSURE_OF_REFRIGERANT * oil.refrigerant]
    }

    /// What is left of a warmth after a time in s without running.
    #[must_use]
    pub fn cooled(warmth: f64, time: f64) -> f64 {
        warmth * libm::exp(-time / COOLS_IN)
    }

    /// The pump's exchange for partial pressures in Pa at its inlet, oil, a warmth and the
    /// pressures of the air around in Pa. `per_mass` turns kg of each gas into Pa m³.
    pub(super) fn exchange(
        &self,
        setting: Setting,
        (inlet, oil, warmth): (&Each, &Oil, f64),
        outside: &Each,
        per_mass: &Each,
    ) -> Exchange {
        if !setting.is_running {
            // Air alone drives itself in; a difference of vapours does not open a valve.
            let open = (outside.iter().sum::<f64>() - inlet.iter().sum::<f64>()).max(0.0);
            let barometer: f64 = outside.iter().sum();
            let intake = outside.map(|gas| -self.back_flow * open * gas / barometer);
            return Exchange { intake, warming: -warmth / COOLS_IN, ..Exchange::default() };
        }
        let floor = self.floor(oil, warmth, setting.is_ballast_open);
        let speed = self.speed * self.left;
        let intake: Each = std::array::from_fn(|species| speed * (inlet[species] - floor[species]));
        let share = if setting.is_ballast_open { CAPTURED.1 } else { CAPTURED.0 };
        let slower = if setting.is_ballast_open { 1.0 } else { WITHOUT_BALLAST };
        let held = [0.0, oil.water * per_mass[1], oil.refrigerant * per_mass[2]];
        let clears = [f64::INFINITY, WATER_CLEARS, REFRIGERANT_CLEARS];
        let mut exchange =
            Exchange { intake, warming: (1.0 - warmth) / self.warm_up, ..Exchange::default() };
        for species in (0..SPECIES).filter(|species| *species != Species::Air.index()) {
            let taken = intake[species];
            exchange.captured[species] = if taken > 0.0 { share * taken } else { taken };
            exchange.cleaned[species] = held[species] * warmth / (clears[species] * slower);
        }
        exchange
    }
}

#[cfg(test)]
mod tests {
    use super::super::oil::LEFT_BY_CHANGE;
    use super::*;

    const ROOM: Each = [1e5, 1000.0, 0.0];
    const PER_MASS: Each = [8.4e4, 1.353e5, 4.7e4];

    fn running(is_ballast_open: bool) -> Setting {
        Setting { is_running: true, is_ballast_open }
    }

    #[test]
    fn the_floor_is_the_sum_of_its_parts() {
        let pump = Pump { worn: 20.0, ..Pump::default() };
        let wet = Oil { water: 4e-3, is_low: true, ..Oil::default() };
        assert_eq!(pump.floor(&Oil::default(), 1.0, false), [23.0, 0.0, 0.0]);
        let worst = pump.floor(&wet, 0.0, true);
        assert_eq!(worst, [23.0 + 15.0 + 40.0 + LOW_OIL, 400.0, 0.0]);
        let changed = pump.floor(&wet.changed(), 1.0, false);
        assert!((changed[1] - 400.0 * LEFT_BY_CHANGE).abs() < 1e-9 && changed[0] == 23.0);
    }

    #[test]
    fn at_its_floor_it_takes_nothing_and_below_it_gives() {
        let pump = Pump::default();
        let oil = Oil { water: 1e-3, ..Oil::default() };
        let at = |air, water| {
            pump.exchange(running(false), (&[air, water, 0.0], &oil, 1.0), &ROOM, &PER_MASS)
        };
        assert_eq!(at(3.0, 100.0).intake, [0.0; 3]);
        let below = at(3.0, 50.0);
        assert!(below.intake[1] < 0.0);
        assert_eq!(below.captured[1], below.intake[1], "what comes back comes out of the oil");
        let above = at(3.0, 200.0);
        assert!((above.captured[1] / above.intake[1] - CAPTURED.0).abs() < 1e-12);
    }

    #[test]
    fn an_open_ballast_clears_the_oil_of_a_warm_pump() {
        let oil = Oil { water: 1e-3, ..Oil::default() };
        let cleaned = |warmth, is_open| {
            let at = (&[3.0, 100.0, 0.0], &oil, warmth);
            Pump::default().exchange(running(is_open), at, &ROOM, &PER_MASS).cleaned[1]
        };
        assert!(cleaned(1.0, true) > 10.0 * cleaned(1.0, false));
        assert_eq!(cleaned(0.0, true), 0.0);
    }

    #[test]
    fn a_stopped_pump_lets_back_only_what_its_valve_passes() {
        let pump = Pump { back_flow: 1e-6, ..Pump::default() };
        let at = (&[100.0, 0.0, 0.0], &Oil::default(), 1.0);
        let back = pump.exchange(Setting::default(), at, &ROOM, &PER_MASS);
        assert!((back.intake.iter().sum::<f64>() / -0.1009 - 1.0).abs() < 1e-9, "{back:?}");
        let shut = Pump::default().exchange(Setting::default(), at, &ROOM, &PER_MASS);
        assert_eq!(shut.intake.map(f64::abs), [0.0; 3]);
    }
}
