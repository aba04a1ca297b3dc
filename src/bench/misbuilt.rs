//! Whether a rig can be at all: figures in their ranges, places that are there.

use super::ambient::Ambient;
use super::assembly::{Assembly, Held};
use super::gauge::Gauge;
use super::liquid_water::Puddle;
use super::passage::Passage;
use super::pump::Pump;
use super::rig::{Part, Pocket, Rig};
use super::wall_water::Store;

/// Why a rig can't be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Misbuilt {
    /// It has no chamber, or a system without a section.
    Empty,
    /// Something leads to, or lies at, a place that is not there.
    NoSuchPlace,
    /// What is held does not fit the chambers, stores and puddles.
    DoesNotFit,
    /// A figure of something is not a number or out of its range.
    Figure(&'static str),
}

impl std::fmt::Display for Misbuilt {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Empty => f.write_str("the rig has nothing to pump on"),
            Self::NoSuchPlace => f.write_str("something is at a place that the rig does not have"),
            Self::DoesNotFit => f.write_str("what is held does not fit the rig"),
            Self::Figure(what) => write!(f, "a figure of the {what} is out of its range"),
        }
    }
}

impl std::error::Error for Misbuilt {}

/// From a figure above 0 to the largest that a rig may have in SI units.
fn is_positive(figure: f64) -> bool {
    figure > 0.0 && figure <= 1e9
}

/// 0 or positive.
fn is_amount(figure: f64) -> bool {
    (0.0..=1e9).contains(&figure)
}

impl Assembly {
    /// Why this assembly with what it holds can't be followed, if it can't.
    #[must_use]
    pub fn fault(&self, held: &Held) -> Option<Misbuilt> {
        let is_there = |chamber: usize| chamber < self.chambers.len();
        let fits = self.chambers.len() == held.chambers.len()
            && self.puddles.len() == held.puddles.len()
            && self
                .chambers
                .iter()
                .zip(&held.chambers)
                .all(|(chamber, contents)| chamber.stores.len() == contents.stores.len());
        let places = [self.gauge.0]
            .into_iter()
            .chain(self.ways.iter().flat_map(|way| [way.near, way.far]))
            .chain(self.holes.iter().map(|(chamber, _)| *chamber))
            .chain(self.puddles.iter().map(|(chamber, _)| *chamber));
        if self.chambers.is_empty() {
            Some(Misbuilt::Empty)
        } else if !places.into_iter().all(is_there) || self.ways.iter().any(|w| w.near == w.far) {
            Some(Misbuilt::NoSuchPlace)
        } else if fits {
            self.figure_out_of_range().map(Misbuilt::Figure)
        } else {
            Some(Misbuilt::DoesNotFit)
        }
    }

    fn figure_out_of_range(&self) -> Option<&'static str> {
        let checks = [
            ("chambers", self.chambers.iter().all(|chamber| is_positive(chamber.volume))),
            ("stores", self.chambers.iter().flat_map(|c| &c.stores).all(is_sound_store)),
            ("ways", self.ways.iter().all(|way| is_sound_passage(way.passage))),
            ("leaks", self.holes.iter().all(|(_, hole)| is_amount(hole.size))),
            ("puddles", self.puddles.iter().all(|(_, puddle)| is_sound_puddle(puddle))),
            ("pump", is_sound_pump(&self.pump.0)),
            ("gauge", is_sound_gauge(&self.gauge.1)),
            ("air around", is_sound_air(&self.ambient)),
        ];
        checks.into_iter().find(|(_, is_sound)| !is_sound).map(|(what, _)| what)
    }
}

impl Rig {
    /// Why this rig can't be, if it can't.
    #[must_use]
    pub fn fault(&self) -> Option<Misbuilt> {
        let sections = self.sections.len();
        let is_section = |section: usize| section < sections;
        let are_there =
            self.pipes.iter().all(|(near, far, _)| is_section(*near) && is_section(*far))
                && self.puddles.iter().all(|(section, _)| is_section(*section))
                && self.leaks.iter().all(|leak| self.has(leak.place));
        if sections == 0 {
            Some(Misbuilt::Empty)
        } else if are_there {
            self.figure_out_of_range().map(Misbuilt::Figure)
        } else {
            Some(Misbuilt::NoSuchPlace)
        }
    }

    fn figure_out_of_range(&self) -> Option<&'static str> {
        let mut walls = self.sections.iter().map(|section| section.walls);
        let core = self.core.is_none_or(|bore| is_sound_passage(Passage::Hole { bore }));
        let checks = [
            ("parts", self.parts.iter().all(is_sound_part)),
            ("walls", walls.all(|wall| is_amount(wall.capacity) && is_amount(wall.level))),
            ("core", core),
            ("seats", self.seats.into_iter().all(is_amount)),
            ("leaks", self.leaks.iter().all(|leak| is_amount(leak.hole.size))),
            ("oil", is_amount(self.oil.water) && is_amount(self.oil.refrigerant)),
            ("nameplate", is_amount(self.nameplate)),
        ];
        checks.into_iter().find(|(_, is_sound)| !is_sound).map(|(what, _)| what)
    }
}

fn is_sound_part(part: &Part) -> bool {
    let figures = [part.body, part.permeation, part.walls.capacity, part.walls.level];
    let is_sound_pocket =
        |pocket: Pocket| is_positive(pocket.volume) && is_positive(pocket.conductance);
    is_sound_passage(part.passage())
        && figures.into_iter().all(is_amount)
        && part.pocket.is_none_or(is_sound_pocket)
}

fn is_sound_store(store: &Store) -> bool {
    is_positive(store.capacity)
        && is_positive(store.time)
        && (0.0..=2e5).contains(&store.binding)
        && is_amount(store.level)
}

fn is_sound_passage(passage: Passage) -> bool {
    match passage {
        Passage::Tube { bore, length } => is_positive(bore) && is_positive(length),
        Passage::Hole { bore } => is_positive(bore),
        Passage::Gap { conductance } => is_positive(conductance),
    }
}

fn is_sound_puddle(puddle: &Puddle) -> bool {
    is_amount(puddle.mass)
        && (-40.0..=40.0).contains(&puddle.offset)
        && is_positive(puddle.openness)
        && is_positive(puddle.heat_capacity)
        && is_amount(puddle.heat_inflow)
}

fn is_sound_pump(pump: &Pump) -> bool {
    let amounts = [pump.ultimate, pump.worn, pump.cold, pump.ballast, pump.back_flow];
    is_positive(pump.speed)
        && is_positive(pump.left)
        && is_positive(pump.warm_up)
        && amounts.into_iter().all(is_amount)
}

fn is_sound_gauge(gauge: &Gauge) -> bool {
    let amounts = [gauge.noise, gauge.dirt, gauge.full_scale];
    gauge.response.into_iter().all(is_amount)
        && gauge.scale_error.abs() < 1.0
        && gauge.offset.abs() < 1e6
        && is_positive(gauge.resolution)
        && is_positive(gauge.lag)
        && amounts.into_iter().all(is_amount)
}

fn is_sound_air(air: &Ambient) -> bool {
    (250.0..=320.0).contains(&air.temperature)
        && air.drift.abs() <= 0.01
        && (2e4..=2e5).contains(&air.barometer)
        && (0.0..=1.0).contains(&air.humidity)
}

#[cfg(test)]
mod tests {
    use super::super::assembly::Way;
    use super::super::oil::Oil;
    use super::super::rig::{Leak, Opening, Place};
    use super::*;
    use crate::bench::leak::Hole;
    use crate::physics::leak::LeakPath;

    #[test]
    fn a_sound_rig_has_no_fault_and_one_bad_figure_is_named() {
        assert_eq!(Rig::sound().fault(), None);
        let with = |change: fn(&mut Rig)| {
            let mut rig = Rig::sound();
            change(&mut rig);
            rig.fault()
        };
        assert_eq!(with(|rig| rig.sections.clear()), Some(Misbuilt::Empty));
        assert_eq!(with(|rig| rig.pipes[0].1 = 9), Some(Misbuilt::NoSuchPlace));
        assert_eq!(with(|rig| rig.parts[0].bore = f64::NAN), Some(Misbuilt::Figure("parts")));
        assert_eq!(with(|rig| rig.seats[1] = -1.0), Some(Misbuilt::Figure("seats")));
        assert_eq!(with(|rig| rig.core = Some(0.0)), Some(Misbuilt::Figure("core")));
        let leak = Leak {
            place: Place::Part(2),
            hole: Hole { size: 1e-3, path: LeakPath::Choked },
            opening: Opening::Always,
            is_joint: true,
        };
        let mut rig = Rig::sound();
        rig.leaks.push(leak);
        assert_eq!(rig.fault(), Some(Misbuilt::NoSuchPlace));
    }

    #[test]
    fn an_assembly_is_held_against_what_it_holds() {
        let bare = || Assembly::bare(Pump::default(), 0.01);
        let held = bare().filled([1e5, 0.0, 0.0], Oil::default());
        assert_eq!(bare().fault(&held), None);
        let with = |change: fn(&mut Assembly)| {
            let mut assembly = bare();
            change(&mut assembly);
            assembly.fault(&held)
        };
        assert_eq!(with(|a| a.chambers.clear()), Some(Misbuilt::Empty));
        assert_eq!(with(|a| a.gauge.0 = 1), Some(Misbuilt::NoSuchPlace));
        assert_eq!(with(|a| a.chambers[0].volume = 0.0), Some(Misbuilt::Figure("chambers")));
        assert_eq!(with(|a| a.pump.0.warm_up = 0.0), Some(Misbuilt::Figure("pump")));
        assert_eq!(with(|a| a.gauge.1.lag = f64::NAN), Some(Misbuilt::Figure("gauge")));
        assert_eq!(with(|a| a.ambient.humidity = 2.0), Some(Misbuilt::Figure("air around")));
        assert_eq!(
            with(|a| {
                let passage = Passage::Hole { bore: 1e-3 };
                a.ways.push(Way { near: 0, far: 0, passage });
            }),
            Some(Misbuilt::NoSuchPlace)
        );
        let mut more = held.clone();
        more.chambers[0].stores.push(1.0);
        assert_eq!(bare().fault(&more), Some(Misbuilt::DoesNotFit));
    }
}
