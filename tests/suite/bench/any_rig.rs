//! Made-up rigs with any faults, and any deeds at them: nothing gets stuck, nothing is lost, and
//! no pressure falls below nothing.

use dryhold::bench::hookup::GaugePlace;
use dryhold::bench::leak::Hole;
use dryhold::bench::liquid_water::Puddle;
use dryhold::bench::oil::Oil;
use dryhold::bench::operation::{Operation, Refusal};
use dryhold::bench::rig::{Leak, Opening, Part, Place, Pocket, Rig, Valve};
use dryhold::bench::session::Session;
use dryhold::bench::wall_water::{Store, Walls};
use dryhold::physics::leak::LeakPath;

/// A stream of numbers for made-up rigs.
struct Stream(u64);

impl Stream {
    fn even(&mut self) -> f64 {
        // Knuth's linear congruential generator, of which the upper bits are even enough.
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Evenly over the decades.
    fn between(&mut self, low: f64, high: f64) -> f64 {
        low * libm::pow(high / low, self.even())
    }

    fn is(&mut self, share: f64) -> bool {
        self.even() < share
    }

    fn below(&mut self, count: usize) -> usize {
        (self.even() * count as f64) as usize
    }
}

fn part(stream: &mut Stream) -> Part {
    let mut part = if stream.is(0.6) {
        Part::hose(stream.between(4e-3, 20e-3), stream.between(0.4, 4.0))
    } else {
        Part::tool()
    };
    part.pocket = stream.is(0.3).then(|| Pocket {
        volume: stream.between(1e-7, 1e-6),
        conductance: stream.between(1e-10, 1e-6),
    });
    part
}

fn place(stream: &mut Stream) -> Place {
    match stream.below(3) {
        0 => Place::PumpInlet,
        1 => Place::Part(stream.below(3)),
        _ => Place::Section(stream.below(5)),
    }
}

fn leak(stream: &mut Stream) -> Leak {
    Leak {
        place: place(stream),
        hole: Hole { size: stream.between(1e-7, 10.0), path: LeakPath::ALL[stream.below(3)] },
        opening: [
            Opening::Always,
            Opening::WhileShut(Valve::System),
            Opening::WhileOpen(Valve::Pump),
        ][stream.below(3)],
        is_joint: stream.is(0.5),
    }
}

fn puddle(stream: &mut Stream) -> Puddle {
    Puddle {
        mass: stream.between(1e-6, 0.2),
        offset: 5.0 - 20.0 * stream.even(),
        openness: stream.between(1e-4, 0.2),
        heat_capacity: stream.between(5.0, 2000.0),
        heat_inflow: stream.between(0.01, 20.0),
    }
}

fn rig(stream: &mut Stream) -> Rig {
    let mut rig = Rig::sound();
    rig.pump.speed = stream.between(7e-4, 6e-3);
    rig.pump.worn = if stream.is(0.3) { stream.between(5.0, 300.0) } else { 0.0 };
    rig.pump.back_flow = if stream.is(0.3) { stream.between(1e-9, 1e-3) } else { 0.0 };
    rig.oil = Oil {
        water: stream.between(1e-6, 2e-2),
        refrigerant: stream.between(1e-6, 5e-3),
        is_low: stream.is(0.1),
        is_dark: stream.is(0.2),
    };
    rig.parts = (0..3).map(|_| part(stream)).collect();
    rig.core = stream.is(0.5).then_some(1.5e-3);
    for section in &mut rig.sections {
        section.volume *= stream.between(0.2, 8.0);
        section.walls =
            Walls { capacity: stream.between(1e-5, 0.3), level: stream.between(10.0, 2000.0) };
    }
    let oil = Store::in_compressor_oil(stream.between(1e-3, 5e-2), stream.between(100.0, 3e4));
    rig.sections[2].stores.extend(oil);
    rig.leaks = (0..stream.below(3)).map(|_| leak(stream)).collect();
    rig.puddles = (0..stream.below(3)).map(|_| (stream.below(5), puddle(stream))).collect();
    rig.ambient.temperature = stream.between(258.0, 313.0);
    rig.ambient.drift = (stream.even() - 0.5) * 4e-3;
    rig
}

fn operation(stream: &mut Stream) -> Operation {
    let time = stream.between(1.0, 7200.0);
    let gauge = [GaugePlace::PumpInlet, GaugePlace::FarEnd, GaugePlace::System][stream.below(3)];
    let place = place(stream);
    match stream.below(24) {
        0 => Operation::CapPump,
        1 => Operation::PutInLine(stream.below(3)),
        2 | 3 => Operation::ConnectSystem(gauge),
        4 => Operation::VentRig,
        5 | 6 => Operation::Open(Valve::System),
        7 => Operation::Open(Valve::Pump),
        8 => Operation::Shut(Valve::System),
        9 => Operation::Shut(Valve::Pump),
        10..=12 => Operation::Pull(time),
        13 => Operation::Wait(time),
        14 => Operation::Touch(place),
        15 => Operation::ChangeOil,
        16 => Operation::OpenBallast,
        17 => Operation::WarmSystem(25.0 * stream.even()),
        18 => Operation::Sweep { to: stream.between(1e3, 1.1e5), dwell: time.min(1200.0) },
        19 => Operation::Pressurise(stream.between(1e4, 4e6)),
        20 => Operation::ReleaseNitrogen,
        21 => Operation::MendLeaks(place),
        22 => Operation::SwapRig,
        _ => Operation::StopPump,
    }
}

#[test]
fn any_deeds_at_any_rig_are_followed() {
    let mut done = 0;
    for seed in 0..12 {
        let mut stream = Stream(seed);
        let mut session = Session::new(rig(&mut stream), seed).unwrap();
        session.perform(Operation::LockOut).unwrap();
        for _ in 0..25 {
            let operation = operation(&mut stream);
            match session.perform(operation) {
                Ok(_) => done += 1,
                Err(refusal) => {
                    assert!(!matches!(refusal, Refusal::Stuck(_) | Refusal::Misbuilt(_)));
                }
            }
            for section in 0..5 {
                // A step may be off by a hundredth of a micron where almost nothing is left.
                let pressures = session.pressures(Place::Section(section));
                assert!(pressures.iter().all(|gas| *gas > -0.05), "{seed} {operation:?}");
            }
        }
        let worst = session.worst_imbalance();
        assert!(worst.into_iter().all(|share| share < 1e-6), "{seed}: {worst:?}");
    }
    assert!(done > 120, "only {done} deeds were done");
}
