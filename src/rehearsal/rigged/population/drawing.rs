//! One rig of a population: drawn from a seed and its number alone.

use super::super::fault::{Fault, Making};
use super::super::kit::{FACES, Past, Slips};
use super::ranges::{Ranges, Unknown, Way};
use crate::bench::chance::Chance;
use crate::bench::gauge::Gauge;
use crate::bench::rig::{Part, Rig};
use crate::handbook::{CauseId, Handbook};

/// A rig that was drawn.
#[derive(Clone, Debug)]
pub struct Drawn {
    /// The rig with who stands at it.
    pub making: Making,
    /// The same without anything wrong.
    pub sound: Making,
    /// What is wrong with it; nothing for a sound one.
    pub causes: Vec<CauseId>,
    /// How that shows at this rig, each with its size in SI units.
    pub faults: Vec<(Fault, f64)>,
    /// What chance begins with at this rig.
    pub seed: u64,
}

/// How the flow through a part goes with its bore: between the third power, molecular, and the
/// fourth, laminar.
const BORE_POWER: f64 = 3.5;
/// At how many occasions a slip may happen: at the first of them or one of the next.
const OCCASIONS: f64 = 4.0;
/// How long old and other oil have run, in s.
const OIL_AGES: [f64; 2] = [30.0 * 3600.0, 4.0 * 3600.0];

/// Draws a rig from ranges, the causes from the base rates of a handbook.
#[must_use]
pub fn draw(ranges: &Ranges, handbook: &Handbook, seed: u64, number: u64) -> Drawn {
    // Mixed twice, so that neighbouring numbers have nothing in common.
    let once = Chance::new(seed).even().to_bits() ^ number.wrapping_mul(0xd134_2543_de82_ef95);
    let mut chance = Chance::new(Chance::new(once).even().to_bits());
    let causes = causes(handbook, &mut chance);
    let mut making = Making::of(sound(ranges, &mut chance));
    fill_kit(&mut making, ranges, &causes, &mut chance);
    let sound = making.clone();
    let mut faults = Vec::new();
    for cause in &causes {
        let ways = ranges.ways.iter().find(|(known, _)| known == cause);
        if let Some((fault, _, size)) = ways.and_then(|(_, ways)| one_of(ways, &mut chance)) {
            let size = spread(*size, &mut chance);
            making.spoil(*fault, size);
            faults.push((*fault, size));
        }
    }
    let seed = chance.even().to_bits();
    Drawn { making, sound, causes, faults, seed }
}

/// The causes that are there: each by its base rate, and what they bring.
fn causes(handbook: &Handbook, chance: &mut Chance) -> Vec<CauseId> {
    let ids = || (0..handbook.causes().len()).map(CauseId::at);
    let mut there: Vec<CauseId> =
        ids().filter(|id| chance.even() < handbook.cause(*id).how_common).collect();
    for id in there.clone() {
        for (brought, how_often) in &handbook.cause(id).brings {
            if chance.even() < *how_often && !there.contains(brought) {
                there.push(*brought);
            }
        }
    }
    there
}

fn one_of<'w>(ways: &'w [Way], chance: &mut Chance) -> Option<&'w Way> {
    let all: f64 = ways.iter().map(|(_, share, _)| share).sum();
    let mut left = chance.even() * all;
    ways.iter().find(|(_, share, _)| {
        left -= share;
        left <= 0.0
    })
}

/// Evenly over the logarithm of a range above 0.
fn spread((low, high): (f64, f64), chance: &mut Chance) -> f64 {
    let share = chance.even();
    if low >= high {
        return low;
    }
    libm::exp(libm::log(low) + share * (libm::log(high) - libm::log(low))).clamp(low, high)
}

impl Ranges {
    /// Evenly over a range; factors evenly over their logarithm.
    fn drawn(&self, unknown: Unknown, chance: &mut Chance) -> f64 {
        let (low, high) = self.unknowns.get(&unknown).copied().unwrap_or((0.0, 0.0));
        let is_factor = low > 0.0 && unknown.is_factor();
        if is_factor { spread((low, high), chance) } else { low + chance.even() * (high - low) }
    }

    /// How often something of the past is told with these causes.
    fn told(&self, word: &str, causes: &[CauseId]) -> f64 {
        let Some((anyway, with)) = self.past.get(word) else { return 0.0 };
        let shares = with.iter().filter(|(cause, _)| causes.contains(cause));
        // The share furthest from what is so anyway.
        shares
            .map(|(_, share)| *share)
            .max_by(|a, b| (a - anyway).abs().total_cmp(&(b - anyway).abs()))
            .unwrap_or(*anyway)
    }
}

impl Unknown {
    fn is_factor(self) -> bool {
        matches!(
            self,
            Self::Conductance
                | Self::Speed
                | Self::Volume
                | Self::VolumeTold
                | Self::Walls
                | Self::HoseWalls
                | Self::RatedSpeed
        )
    }
}

/// A sound rig, of its own size and in its own air.
fn sound(ranges: &Ranges, chance: &mut Chance) -> Rig {
    let mut rig = Rig::sound();
    let mut of = |unknown| ranges.drawn(unknown, chance);
    rig.parts[0] = Part::hose(of(Unknown::HoseBore), of(Unknown::HoseLength));
    rig.parts[0].walls.capacity *= of(Unknown::HoseWalls);
    let larger = of(Unknown::Volume) / rig.system_volume();
    let wetter = of(Unknown::Walls);
    for section in &mut rig.sections {
        section.volume *= larger;
        section.walls.capacity *= larger * wetter;
    }
    rig.pump.ultimate = of(Unknown::Ultimate);
    rig.pump.speed = of(Unknown::RatedSpeed);
    rig.pump.left = of(Unknown::Speed);
    rig.gauge = Gauge {
        response: [1.0, of(Unknown::WaterResponse), rig.gauge.response[2]],
        scale_error: of(Unknown::GaugeScale),
        offset: of(Unknown::GaugeOffset),
        noise: of(Unknown::GaugeNoise),
        lag: of(Unknown::GaugeLag),
        ..rig.gauge
    };
    rig.ambient.temperature = of(Unknown::Temperature);
    rig.ambient.humidity = of(Unknown::Humidity);
    rig.ambient.drift = of(Unknown::Drift) / 3600.0;
    rig
}

/// What whoever stands at it has and knows; afterwards the parts are not as wide as they look.
fn fill_kit(making: &mut Making, ranges: &Ranges, causes: &[CauseId], chance: &mut Chance) {
    let kit = &mut making.kit;
    kit.target = ranges.drawn(Unknown::Target, chance);
    kit.said.volume *= ranges.drawn(Unknown::VolumeTold, chance);
    if chance.even() < ranges.drawn(Unknown::SecondGauge, chance) {
        let scale_error = ranges.drawn(Unknown::GaugeScale, chance);
        let response = making.rig.gauge.response;
        kit.second = Some(Gauge { scale_error, response, ..Gauge::default() });
    }
    if chance.even() < ranges.drawn(Unknown::OtherFace, chance) {
        kit.face = 1 + ((chance.even() * 3.0) as usize).min(2);
        making.rig.gauge.resolution = FACES[kit.face].step();
    }
    let mut is_told = |word| chance.even() < ranges.told(word, causes);
    kit.past = Past {
        wet: Some(is_told("wet")),
        new_joints: Some(is_told("new_joints")),
        held_nitrogen: Some(is_told("held_nitrogen")),
        oily_gauge: Some(is_told("oily_gauge")),
        never_charged: Some(is_told("never_charged")),
        oil_age: Some(if is_told("old_oil") { OIL_AGES[0] } else { OIL_AGES[1] }),
    };
    let mut slip = |word: &str| {
        let share = ranges.slips.get(word).copied().unwrap_or(0.0);
        (chance.even() < share).then(|| (chance.even() * OCCASIONS) as usize)
    };
    kit.slips = Slips { unit: slip("unit"), valve: slip("valve"), early: slip("early") };
    let wider = libm::pow(ranges.drawn(Unknown::Conductance, chance), 1.0 / BORE_POWER);
    making.rig.parts.iter_mut().for_each(|part| part.bore *= wider);
}
