//! The rig that `tests/cross_check/rig.py` has too.

use dryhold::bench::ambient::Ambient;
use dryhold::bench::assembly::{Assembly, Chamber, Held, Way};
use dryhold::bench::leak::Hole;
use dryhold::bench::liquid_water::Puddle;
use dryhold::bench::oil::Oil;
use dryhold::bench::passage::Passage;
use dryhold::bench::pump::Pump;
use dryhold::bench::wall_water::{Store, Walls};
use dryhold::physics::conductance::CORE_BORE;
use dryhold::physics::leak::LeakPath;

/// The rig of the script.
pub fn rig() -> Assembly {
    let pump = Pump { left: 0.9, worn: 2.0, ..Pump::default() };
    let mut rig = Assembly::bare(pump, 1e-4);
    rig.ambient = Ambient { temperature: 295.15, drift: 5.0 / 3600.0, ..Ambient::default() };
    let mut system = Chamber::dry(8e-3);
    system.stores.extend(Walls { capacity: 2e-3, level: 800.0 }.stores());
    system.stores.extend(Store::in_compressor_oil(0.01, 1500.0));
    rig.chambers.extend([Chamber::dry(1.2e-4), system]);
    let hose = Passage::Tube { bore: 9.5e-3, length: 1.5 };
    rig.ways.push(Way { near: 0, far: 1, passage: hose });
    rig.ways.push(Way { near: 1, far: 2, passage: Passage::Hole { bore: CORE_BORE } });
    rig.holes.push((2, Hole { size: 3e-4, path: LeakPath::Choked }));
    let puddle =
        Puddle { mass: 2e-3, offset: -6.0, openness: 0.02, heat_capacity: 80.0, heat_inflow: 0.8 };
    rig.puddles.push((2, puddle));
    rig
}

/// What it holds before the pull.
pub fn start(rig: &Assembly) -> Held {
    rig.filled([1e5, 1000.0, 0.0], Oil { water: 3e-4, refrigerant: 1e-4, ..Oil::default() })
}
