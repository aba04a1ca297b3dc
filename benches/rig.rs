//! How long a simulated rig takes: a pull, a hold, a whole job, and the rig that
//! `rig_against_scipy.py` has scipy follow too.

#![expect(clippy::unwrap_used, reason = "a benchmark's own input may stop it")]

#[path = "../tests/suite/bench/scipy_rig.rs"]
mod scipy_rig;

use divan::{Bencher, black_box};
use dryhold::bench::hookup::GaugePlace;
use dryhold::bench::leak::Hole;
use dryhold::bench::operation::Operation;
use dryhold::bench::rig::{Leak, Opening, Part, Place, Pocket, Rig, Valve};
use dryhold::bench::session::Session;
use dryhold::bench::simulation::Simulation;
use dryhold::bench::wall_water::Store;
use dryhold::physics::leak::LeakPath;

const MINUTE: f64 = 60.0;

fn main() {
    divan::main();
}

/// A rig with a little of everything: damp oil and walls, a pocket, refrigerant, a small leak.
fn typical() -> Rig {
    let mut rig = Rig::sound();
    rig.oil.water = 2e-4;
    rig.parts
        .push(Part { pocket: Some(Pocket { volume: 5e-7, conductance: 1e-9 }), ..Part::tool() });
    rig.core = Some(1.5e-3);
    rig.sections[2].stores.extend(Store::in_compressor_oil(0.01, 2000.0));
    rig.leaks.push(Leak {
        place: Place::Section(1),
        hole: Hole { size: 2e-4, path: LeakPath::Laminar },
        opening: Opening::Always,
        is_joint: true,
    });
    rig
}

fn all(session: &mut Session, operations: &[Operation]) {
    for operation in operations {
        session.perform(*operation).unwrap();
    }
}

/// A session at a rig, connected and open.
fn open(rig: Rig) -> Session {
    let mut session = Session::new(rig, 1).unwrap();
    let system = Operation::ConnectSystem(GaugePlace::System);
    all(&mut session, &[Operation::LockOut, system, Operation::Open(Valve::System)]);
    session
}

fn pull(session: &mut Session) {
    all(session, &[Operation::Pull(30.0 * MINUTE), Operation::Read]);
}

fn hold(session: &mut Session) {
    all(session, &[Operation::Shut(Valve::System)]);
    for _ in 0..15 {
        all(session, &[Operation::Wait(MINUTE - 6.0), Operation::Read]);
    }
}

#[divan::bench]
fn pull_of_thirty_minutes(bencher: Bencher<'_, '_>) {
    bencher.with_inputs(|| open(typical())).bench_local_values(|mut session| {
        pull(&mut session);
        session
    });
}

#[divan::bench]
fn hold_of_fifteen_minutes_read_each_minute(bencher: Bencher<'_, '_>) {
    let mut pulled = open(typical());
    pull(&mut pulled);
    bencher.with_inputs(|| pulled.clone()).bench_local_values(|mut session| {
        hold(&mut session);
        session
    });
}

/// Capped pump, capped rig, five times a pull and a hold with sweeps between.
#[divan::bench]
fn whole_job(bencher: Bencher<'_, '_>) {
    bencher.with_inputs(|| Session::new(typical(), 1).unwrap()).bench_local_values(
        |mut session| {
            all(&mut session, &[Operation::LockOut]);
            for capped in [Operation::CapPump, Operation::ConnectRig] {
                all(&mut session, &[capped, Operation::Pull(10.0 * MINUTE), Operation::Read]);
                all(&mut session, &[Operation::VentRig]);
            }
            let system = Operation::ConnectSystem(GaugePlace::System);
            all(&mut session, &[system, Operation::Open(Valve::System)]);
            for _ in 0..5 {
                pull(&mut session);
                all(&mut session, &[Operation::Shut(Valve::System)]);
                for _ in 0..3 {
                    all(&mut session, &[Operation::Wait(5.0 * MINUTE), Operation::Read]);
                }
                let sweep = Operation::Sweep { to: 1e5, dwell: 5.0 * MINUTE };
                all(&mut session, &[Operation::Open(Valve::System), sweep]);
                all(&mut session, &[Operation::Open(Valve::Pump)]);
            }
            session
        },
    );
}

#[divan::bench]
fn scipy_s_rig_for_an_hour(bencher: Bencher<'_, '_>) {
    let rig = scipy_rig::rig();
    bencher.bench_local(|| {
        let mut held = scipy_rig::start(&rig);
        Simulation::new(&rig, &held, 0.0).unwrap().run(&mut held, black_box(3600.0)).unwrap();
        held
    });
}
