//! What a hold brings: readings, gauge and surroundings, each with its doubt.

use thiserror::Error;

use super::odd::odd;

/// A reading as it was perhaps meant is no further from the one before than this share of it
/// (`estimate`).
const NEAR: f64 = 0.5;

/// From the half-width of an even spread to its standard deviation: one over the root of three.
pub const OF_HALF_WIDTH: f64 = 0.577_350_269_189_625_8;

/// A value with one standard deviation of doubt, both in the same unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Doubted {
    /// The value.
    pub value: f64,
    /// One standard deviation, not negative.
    pub doubt: f64,
}

/// How a gauge answers to the kind of gas.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum GasResponse {
    /// Reads heat loss: water vapour reads up to twice too high (estimate).
    HeatLoss,
    /// Reads force on an area, the same in every gas.
    Independent,
    /// Not known: taken as heat loss.
    #[default]
    Unknown,
}

impl GasResponse {
    /// By which factor water vapour may read too high at most.
    #[must_use]
    pub fn most_over_read(self) -> f64 {
        match self {
            Self::HeatLoss | Self::Unknown => 2.0,
            Self::Independent => 1.0,
        }
    }
}

/// The gauge that gave the readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gauge {
    /// Step of the display in Pa; found in the readings if `None`.
    pub resolution: Option<f64>,
    /// Doubt of the scale, relative (0.1 is 10 %, one standard deviation).
    pub scale_doubt: f64,
    /// Doubt of the offset in Pa, one standard deviation; it moves a reading against a limit, and
    /// drops out of every part.
    pub offset_doubt: f64,
    /// Scatter from reading to reading in Pa, one standard deviation; if `None`, half the
    /// resolution (estimate), and more where the misfit asks for it.
    pub repeatability: Option<f64>,
    /// How it answers to the kind of gas.
    pub response: GasResponse,
}

impl Default for Gauge {
    /// Nothing known: resolution from the readings, scale to 5 % (estimate).
    fn default() -> Self {
        Self {
            resolution: None,
            scale_doubt: 0.05,
            offset_doubt: 0.0,
            repeatability: None,
            response: GasResponse::Unknown,
        }
    }
}

/// What is known around the vessel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surroundings {
    /// By how much the vessel is known to have become warmer over the hold, in K, below zero if
    /// colder, within 100 K; the readings are corrected for it.
    pub warmed_by: f64,
    /// Doubt of that change in K, one standard deviation.
    pub drift: f64,
    /// Temperature of the coldest spot in K.
    pub coldest: Option<Doubted>,
    /// Volume of the vessel in m³, above zero.
    pub volume: Option<Doubted>,
}

impl Default for Surroundings {
    /// A change of none, to half a kelvin (estimate), nothing else known.
    fn default() -> Self {
        Self { warmed_by: 0.0, drift: 0.5, coldest: None, volume: None }
    }
}

/// A hold: the readings since isolation and what is known about them.
#[derive(Debug, Clone, PartialEq)]
pub struct Hold {
    /// Seconds, rising; the origin is free.
    pub times: Vec<f64>,
    /// Pressures in Pa, one for each time.
    pub pressures: Vec<f64>,
    /// How many readings each pressure is the mean of; empty where each is one.
    pub weights: Vec<u64>,
    /// The gauge.
    pub gauge: Gauge,
    /// The surroundings.
    pub surroundings: Surroundings,
    /// The rate that matters in Pa/s, above zero: [`Reading`](super::Reading) says how likely the
    /// straight part is larger.
    pub rate_that_matters: f64,
    /// What settles within this time in s is a step (equalisation); 120 s if unknown (estimate).
    pub step_time: f64,
}

impl Hold {
    /// A hold in unknown surroundings.
    pub fn new(times: Vec<f64>, pressures: Vec<f64>, gauge: Gauge, rate_that_matters: f64) -> Self {
        Self {
            times,
            pressures,
            weights: Vec::new(),
            gauge,
            surroundings: Surroundings::default(),
            rate_that_matters,
            step_time: 120.0,
        }
    }

    /// Checks that the hold can be read at all.
    ///
    /// # Errors
    /// What is missing, see [`Missing`].
    pub fn check(&self) -> Result<(), Missing> {
        let are_weighed = self.weights.is_empty() || self.weights.len() == self.times.len();
        let are_paired = are_weighed && self.times.len() == self.pressures.len();
        let mut numbers = self.times.iter().chain(&self.pressures);
        if !are_paired || numbers.any(|number| !number.is_finite() || number.abs() > 1e12) {
            return Err(Missing::Numbers);
        }
        if self.times.windows(2).any(|pair| pair[0] >= pair[1]) {
            return Err(Missing::Order);
        }
        if !(self.rate_that_matters > 0.0 && self.rate_that_matters.is_finite()) {
            return Err(Missing::RateThatMatters);
        }
        let around = &self.surroundings;
        if [around.warmed_by, around.drift].iter().any(|kelvin| !(-100.0..=100.0).contains(kelvin))
        {
            return Err(Missing::Temperature);
        }
        if self.times.len() < Missing::FEWEST {
            return Err(Missing::Readings { found: self.times.len() });
        }
        let duration = self.times[self.times.len() - 1] - self.times[0];
        if duration.is_nan() || duration <= self.step_time {
            return Err(Missing::Time { found: duration, needed: self.step_time });
        }
        odd(self).map_or(Ok(()), Err)
    }
}

/// Why a hold says nothing about its parts.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum Missing {
    /// A time or pressure is not a finite number up to 1e12, or one has no partner; neither has a
    /// weight.
    #[error("every reading needs a finite time and a finite pressure")]
    Numbers,
    /// Times do not rise.
    #[error("the times of the readings must rise")]
    Order,
    /// The rate that matters is not above zero.
    #[error("the rate that matters must be above zero")]
    RateThatMatters,
    /// A change of temperature, or its doubt, is not within 100 K.
    #[error("a change of the temperature must be within 100 K")]
    Temperature,
    /// Too few readings.
    #[error(
        "{found} readings don't tell how it rises, only by how much; {} or more, each with its \
         minute, do",
        Missing::FEWEST
    )]
    Readings {
        /// How many there are.
        found: usize,
    },
    /// The hold is no longer than the step.
    #[error("the hold lasted {found:.0} s, and the first {needed:.0} s belong to equalisation")]
    Time {
        /// Seconds of the hold.
        found: f64,
        /// Seconds that the step may take.
        needed: f64,
    },
    /// The pressure falls.
    #[error("the pressure falls by {fall:.3} Pa: pumping, a cooling vessel or a drifting gauge")]
    Falling {
        /// From the first third to the last third of the hold, in Pa.
        fall: f64,
    },
    /// A reading contradicts those beside it, as a slip of unit or digit does.
    #[error(
        "reading {number}, {pressure:.3} Pa after {time:.0} s, contradicts the {before:.3} Pa before \
         it; correct it or leave it out, and ask again"
    )]
    Odd {
        /// Its place, from 1.
        number: usize,
        /// Seconds after the first reading.
        time: f64,
        /// Its pressure in Pa.
        pressure: f64,
        /// The pressure in Pa of the reading before.
        before: f64,
    },
}

impl Missing {
    /// Fewest readings that tell straight from curved with one to spare.
    pub const FEWEST: usize = 5;

    /// By which factor a reading that contradicts the one before was perhaps slipped: times 1000
    /// where Torr was said for micron (or one over it), times 10 where a digit was dropped (or
    /// one over it). None where no such factor brings it near the reading before.
    #[must_use]
    pub fn slip(&self) -> Option<f64> {
        let Self::Odd { pressure, before, .. } = *self else { return None };
        [1000.0, 10.0, 0.1, 0.001].into_iter().find(|factor| {
            let share = factor * pressure / before;
            (NEAR..=1.0 / NEAR).contains(&share)
        })
    }
}
