//! What is refused, and that nothing changes then.

use dryhold::bench::Misbuilt;
use dryhold::bench::hookup::GaugePlace;
use dryhold::bench::operation::{Operation, Refusal};
use dryhold::bench::rig::{Place, Rig, Valve};
use dryhold::bench::session::Session;

fn session(operations: &[Operation]) -> Session {
    let mut session = Session::new(Rig::sound(), 3).unwrap();
    for operation in operations {
        session.perform(*operation).unwrap_or_else(|refusal| panic!("{operation:?}: {refusal}"));
    }
    session
}

/// Asserts that each of some operations is refused for a reason, and takes no time.
fn refuses(session: &mut Session, reason: Refusal, operations: &[Operation]) {
    let clock = session.clock();
    let configuration = session.configuration();
    for operation in operations {
        assert_eq!(session.perform(*operation), Err(reason), "{operation:?}");
    }
    assert_eq!((session.clock(), session.configuration()), (clock, configuration));
}

const CONNECTED: [Operation; 3] = [
    Operation::LockOut,
    Operation::ConnectSystem(GaugePlace::System),
    Operation::Open(Valve::System),
];

#[test]
fn no_pump_runs_on_a_system_that_might_start() {
    let mut found = session(&CONNECTED[1..]);
    refuses(&mut found, Refusal::NotLockedOut, &[Operation::Pull(60.0)]);
    refuses(&mut session(&[]), Refusal::NotLockedOut, &[Operation::Pressurise(5e5)]);
    found.perform(Operation::LockOut).unwrap();
    found.perform(Operation::Pull(60.0)).unwrap();
    let mut running = session(&CONNECTED[1..2]);
    running.perform(Operation::Pull(60.0)).unwrap();
    refuses(&mut running, Refusal::NotLockedOut, &[Operation::Open(Valve::System)]);
}

#[test]
fn the_lock_stays_while_the_pump_is_on_the_system_and_counts_no_more_once_it_is_off() {
    let mut pulled = session(&CONNECTED);
    pulled.perform(Operation::Pull(60.0)).unwrap();
    refuses(&mut pulled, Refusal::NotLockedOut, &[Operation::TakeLockOff]);
    pulled.perform(Operation::Shut(Valve::System)).unwrap();
    pulled.perform(Operation::TakeLockOff).unwrap();
    refuses(&mut pulled, Refusal::NotLockedOut, &[Operation::Open(Valve::System)]);
    let mut standing = session(&[Operation::LockOut, Operation::Pressurise(5e5)]);
    refuses(&mut standing, Refusal::NotLockedOut, &[Operation::TakeLockOff]);
}

#[test]
fn nothing_under_vacuum_is_unscrewed_without_venting() {
    let mut capped = session(&[Operation::CapPump, Operation::Pull(60.0)]);
    refuses(
        &mut capped,
        Refusal::UnderVacuum,
        &[Operation::ConnectRig, Operation::SwapRig, Operation::PutInLine(0)],
    );
    let mut pulled = session(&CONNECTED);
    pulled.perform(Operation::Pull(600.0)).unwrap();
    refuses(
        &mut pulled,
        Refusal::UnderVacuum,
        &[
            Operation::Disconnect,
            Operation::ReplacePart(0),
            Operation::RemakeJoints(Place::Part(0)),
            Operation::RemakeJoints(Place::Section(1)),
            Operation::MendLeaks(Place::Section(0)),
        ],
    );
    refuses(&mut pulled, Refusal::SystemOpen, &[Operation::VentRig, Operation::ChangeOil]);
    for precaution in [Operation::Shut(Valve::System), Operation::VentRig, Operation::SwapRig] {
        pulled.perform(precaution).unwrap();
    }
}

#[test]
fn nitrogen_meets_no_vacuum_part_and_no_more_than_the_nameplate() {
    let mut connected = session(&CONNECTED);
    refuses(
        &mut connected,
        Refusal::VacuumPartsOn,
        &[Operation::Pressurise(5e5), Operation::Sweep { to: 2e5, dwell: 60.0 }],
    );
    let mut alone = session(&CONNECTED[..1]);
    refuses(&mut alone, Refusal::AboveNameplate, &[Operation::Pressurise(41e5)]);
    refuses(&mut alone, Refusal::NoSystem, &[Operation::Sweep { to: 1e5, dwell: 60.0 }]);
    refuses(
        &mut alone,
        Refusal::NoNitrogen,
        &[Operation::ReadStanding, Operation::BubbleTest(Place::Section(0))],
    );
    alone.perform(Operation::Pressurise(10e5)).unwrap();
    refuses(
        &mut alone,
        Refusal::UnderPressure,
        &[
            Operation::ConnectSystem(GaugePlace::System),
            Operation::RemakeJoints(Place::Section(0)),
            Operation::MendLeaks(Place::Section(1)),
        ],
    );
    refuses(&mut alone, Refusal::NoNitrogen, &[Operation::BubbleTest(Place::Part(0))]);
    alone.perform(Operation::ReleaseNitrogen).unwrap();
    alone.perform(Operation::MendLeaks(Place::Section(1))).unwrap();
}

#[test]
fn warmth_needs_a_pump_that_takes_what_it_drives_out() {
    let mut found = session(&CONNECTED);
    refuses(&mut found, Refusal::NotOpenToPump, &[Operation::Warm(1, 20.0)]);
    found.perform(Operation::Pull(600.0)).unwrap();
    refuses(&mut found, Refusal::TooWarm, &[Operation::WarmSystem(60.0)]);
    found.perform(Operation::WarmSystem(20.0)).unwrap();
    found.perform(Operation::Wait(1800.0)).unwrap();
    let warmed = found.temperature(Place::Section(4));
    assert!((warmed - 313.1).abs() < 0.2, "{warmed} K");
    found.perform(Operation::Shut(Valve::System)).unwrap();
    refuses(&mut found, Refusal::NotOpenToPump, &[Operation::Warm(2, 20.0)]);
    found.perform(Operation::Warm(1, 0.0)).unwrap();
}

#[test]
fn what_is_not_there_is_refused_and_so_is_what_is_no_figure() {
    refuses(
        &mut session(&CONNECTED),
        Refusal::NotThere,
        &[
            Operation::PutInLine(9),
            Operation::ReplacePart(2),
            Operation::Warm(17, 5.0),
            Operation::Warm(1, f64::NAN),
            Operation::Touch(Place::Part(4)),
            Operation::Pull(f64::NAN),
            Operation::Wait(-1.0),
            Operation::Pull(1e9),
            Operation::Pressurise(f64::NAN),
            Operation::Sweep { to: f64::NAN, dwell: 60.0 },
            Operation::Sweep { to: 1e5, dwell: f64::INFINITY },
            Operation::UseWideHoses(f64::NAN),
        ],
    );
    refuses(
        &mut session(&[]),
        Refusal::NoSystem,
        &[Operation::Disconnect, Operation::Open(Valve::System)],
    );
}

#[test]
fn a_rig_that_can_t_be_makes_no_session() {
    let mut rig = Rig::sound();
    rig.gauge.lag = 0.0;
    assert_eq!(Session::new(rig, 1).unwrap_err(), Misbuilt::Figure("gauge"));
    let mut rig = Rig::sound();
    rig.pipes[2].0 = 7;
    assert_eq!(Session::new(rig, 1).unwrap_err(), Misbuilt::NoSuchPlace);
}
