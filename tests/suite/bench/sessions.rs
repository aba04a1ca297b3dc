//! Whole sessions: what a gauge shows of hidden faults, and what is mended by which repair.

use dryhold::bench::gauge::{Gauge, MICRON, Reading};
use dryhold::bench::hookup::GaugePlace;
use dryhold::bench::leak::Hole;
use dryhold::bench::liquid_water::Puddle;
use dryhold::bench::oil::{Look, Oil};
use dryhold::bench::operation::{Operation, Outcome};
use dryhold::bench::rig::{Leak, Opening, Part, Place, Pocket, Rig, Valve};
use dryhold::bench::session::Session;
use dryhold::bench::wall_water::{Store, Walls};
use dryhold::physics::leak::LeakPath;

const MINUTE: f64 = 60.0;

fn begin(rig: Rig) -> Session {
    let mut session = Session::new(rig, 11).unwrap();
    all(&mut session, &[Operation::LockOut]);
    session
}

fn all(session: &mut Session, operations: &[Operation]) {
    for operation in operations {
        session.perform(*operation).unwrap_or_else(|refusal| panic!("{operation:?}: {refusal}"));
    }
}

/// What the gauge shows in micron, full scale where it is over its range.
fn read(session: &mut Session) -> f64 {
    match session.perform(Operation::Read).unwrap() {
        Outcome::Shown(Reading::Pressure(pressure)) => pressure / MICRON,
        Outcome::Shown(Reading::OverRange) => 25_000.0,
        other => panic!("{other:?}"),
    }
}

/// The pump's floor in micron, its gauge on it, after so many minutes.
fn floor(session: &mut Session, minutes: f64) -> f64 {
    all(session, &[Operation::CapPump, Operation::Pull(minutes * MINUTE)]);
    let floor = read(session);
    all(session, &[Operation::VentRig]);
    floor
}

/// Connects everything and pulls for so many minutes.
fn pull(session: &mut Session, minutes: f64) {
    all(
        session,
        &[
            Operation::ConnectSystem(GaugePlace::System),
            Operation::Pull(2.0 * MINUTE),
            Operation::Open(Valve::System),
            Operation::Pull(minutes * MINUTE),
        ],
    );
}

/// Shuts the system off and gives what the gauge shows every so many minutes.
fn hold(session: &mut Session, every: f64, count: usize) -> Vec<f64> {
    all(session, &[Operation::Shut(Valve::System)]);
    let mut shown = vec![read(session)];
    for _ in 0..count {
        all(session, &[Operation::Wait(every * MINUTE)]);
        shown.push(read(session));
    }
    shown
}

fn leak(place: Place, size: f64) -> Leak {
    let hole = Hole { size, path: LeakPath::Laminar };
    Leak { place, hole, opening: Opening::Always, is_joint: true }
}

#[test]
fn a_sound_rig_pulls_deep_and_holds() {
    let mut session = begin(Rig::sound());
    assert!(floor(&mut session, 10.0) < 50.0);
    pull(&mut session, 30.0);
    let shown = hold(&mut session, 5.0, 3);
    assert!(shown[0] < 200.0 && shown[3] < 500.0, "{shown:?}");
    assert!(session.worst_imbalance().into_iter().all(|share| share < 1e-9));
}

#[test]
fn nothing_is_lost_over_a_pull_a_hold_a_sweep_and_a_pull() {
    let mut rig = Rig::sound();
    rig.oil = Oil { water: 1e-3, refrigerant: 1e-3, ..Oil::default() };
    rig.leaks.push(leak(Place::Section(1), 1e-3));
    rig.sections[2].stores.extend(Store::in_compressor_oil(0.01, 3000.0));
    let puddle =
        Puddle { mass: 3e-3, offset: -5.0, openness: 0.02, heat_capacity: 60.0, heat_inflow: 0.5 };
    rig.puddles.push((3, puddle));
    rig.ambient.drift = 1e-3;
    let mut session = begin(rig);
    pull(&mut session, 30.0);
    hold(&mut session, 5.0, 3);
    all(
        &mut session,
        &[
            Operation::Open(Valve::System),
            Operation::Sweep { to: 1e5, dwell: 10.0 * MINUTE },
            Operation::Open(Valve::Pump),
            Operation::OpenBallast,
            Operation::Pull(30.0 * MINUTE),
            Operation::Warm(3, 20.0),
            Operation::Pull(60.0 * MINUTE),
        ],
    );
    let worst = session.worst_imbalance();
    assert!(worst.into_iter().all(|share| share < 1e-6), "{worst:?}");
}

#[test]
fn milky_oil_sets_the_floor_until_it_is_changed_twice() {
    let mut rig = Rig::sound();
    rig.oil.water = 6e-3;
    let mut session = begin(rig);
    assert_eq!(session.perform(Operation::LookAtOil), Ok(Outcome::Oil(Look::Milky)));
    let wet = floor(&mut session, 5.0);
    all(&mut session, &[Operation::ChangeOil]);
    let once = floor(&mut session, 5.0);
    all(&mut session, &[Operation::ChangeOil]);
    let twice = floor(&mut session, 10.0);
    assert!(wet > 2000.0 && once < 0.5 * wet && twice < 0.3 * once, "{wet} {once} {twice}");
    assert!(twice < 200.0);
}

#[test]
fn a_pump_on_a_thin_lead_comes_down_once_it_stands_in_the_warm() {
    let mut rig = Rig::sound();
    rig.pump.cold = 800.0 * MICRON;
    rig.pump.warm_up = 2400.0;
    let mut session = begin(rig);
    let (cold, later) = (floor(&mut session, 10.0), floor(&mut session, 10.0));
    assert!(cold > 500.0 && later > 300.0, "{cold} {later}");
    all(&mut session, &[Operation::WarmPump]);
    let warm = floor(&mut session, 15.0);
    assert!(warm < 0.15 * later, "{later} {warm}");
}

#[test]
fn an_open_ballast_is_a_step_and_clears_damp_oil_slowly() {
    let mut rig = Rig::sound();
    rig.oil.water = 8e-4;
    let mut session = begin(rig);
    all(&mut session, &[Operation::CapPump, Operation::OpenBallast]);
    all(&mut session, &[Operation::Pull(10.0 * MINUTE)]);
    let open = read(&mut session);
    all(&mut session, &[Operation::Pull(40.0 * MINUTE), Operation::ShutBallast]);
    all(&mut session, &[Operation::Pull(3.0 * MINUTE)]);
    let shut = read(&mut session);
    assert!(open > 700.0 && shut < 0.5 * open, "{open} {shut}");
    assert!(session.oil().water < 3e-4 && session.rig().oil.water == 8e-4);
}

#[test]
fn a_loose_joint_rises_straight_jumps_when_touched_and_is_made_anew() {
    let mut rig = Rig::sound();
    rig.leaks.push(leak(Place::Section(0), 2e-3));
    let mut session = begin(rig);
    pull(&mut session, 30.0);
    let shown = hold(&mut session, 5.0, 3);
    let (early, late) = (shown[2] - shown[1], shown[3] - shown[2]);
    // 2e-3 Pa m³/s into 9 L are 99 micron a minute.
    assert!((late / 5.0 - 99.0).abs() < 12.0 && (late / early - 1.0).abs() < 0.1, "{shown:?}");
    let touched = session.perform(Operation::Touch(Place::Section(0))).unwrap();
    let Outcome::Touched { before, during } = touched else { panic!("{touched:?}") };
    let jump = (during.pressure().unwrap() - before.pressure().unwrap()) / MICRON;
    assert!(jump > 80.0, "{jump}");
    all(
        &mut session,
        &[
            Operation::Open(Valve::System),
            Operation::Sweep { to: 101_325.0, dwell: MINUTE },
            Operation::RemakeJoints(Place::Section(0)),
            Operation::Open(Valve::Pump),
            Operation::Pull(30.0 * MINUTE),
        ],
    );
    let again = hold(&mut session, 5.0, 3);
    assert!(again[3] - again[1] < 60.0, "{again:?}");
}

#[test]
fn a_leak_in_a_hose_stalls_the_pull_and_a_hold_behind_the_valve_is_good() {
    let mut rig = Rig::sound();
    rig.leaks.push(leak(Place::Part(0), 0.05));
    let mut session = begin(rig);
    let floor = floor(&mut session, 10.0);
    all(&mut session, &[Operation::ConnectRig, Operation::Pull(10.0 * MINUTE)]);
    let with_rig = read(&mut session);
    assert!(with_rig > floor + 100.0, "{floor} {with_rig}");
    all(&mut session, &[Operation::VentRig]);
    pull(&mut session, 40.0);
    let shown = hold(&mut session, 5.0, 2);
    assert!(shown[2] - shown[1] < 100.0 && shown[0] > 150.0, "{shown:?}");
    all(&mut session, &[Operation::VentRig, Operation::SwapRig, Operation::ConnectRig]);
    all(&mut session, &[Operation::Pull(10.0 * MINUTE)]);
    assert!(read(&mut session) < with_rig - 80.0);
}

#[test]
fn a_leak_of_the_system_shows_under_nitrogen() {
    let mut rig = Rig::sound();
    rig.leaks.push(leak(Place::Section(1), 1e-3));
    rig.ambient.drift = 2.0 / 3600.0;
    let mut session = begin(rig.clone());
    all(&mut session, &[Operation::Pressurise(20e5)]);
    let standing = |session: &mut Session| match session.perform(Operation::ReadStanding) {
        Ok(Outcome::Standing { pressure, temperature }) => (pressure + 101_325.0) / temperature,
        other => panic!("{other:?}"),
    };
    let before = standing(&mut session);
    let found = session.perform(Operation::BubbleTest(Place::Section(1)));
    let sound = session.perform(Operation::BubbleTest(Place::Section(2)));
    assert_eq!((found, sound), (Ok(Outcome::Bubbles(true)), Ok(Outcome::Bubbles(false))));
    all(&mut session, &[Operation::Wait(3600.0)]);
    // 1e-3 Pa m³/s of air into vacuum is 430 times as much out of 21 bar, 1.7 bar an hour.
    let lost = (1.0 - standing(&mut session) / before) * 21.0;
    assert!((1.3..2.0).contains(&lost), "{lost} bar");
    rig.leaks.clear();
    let mut tight = begin(rig);
    all(&mut tight, &[Operation::Pressurise(20e5)]);
    let before = standing(&mut tight);
    all(&mut tight, &[Operation::Wait(3600.0)]);
    assert!((standing(&mut tight) / before - 1.0).abs() < 1e-3, "warmth alone is corrected away");
}

#[test]
fn a_thin_hose_and_a_core_make_a_pull_slow() {
    let mut rig = Rig::sound();
    rig.parts[0] = Part::hose(4.8e-3, 1.5);
    rig.core = Some(1.5e-3);
    let mut session = begin(rig);
    pull(&mut session, 8.0);
    let slow = read(&mut session);
    all(&mut session, &[Operation::Shut(Valve::System), Operation::VentRig]);
    all(&mut session, &[Operation::TakeCoreOut, Operation::UseWideHoses(12.7e-3)]);
    pull(&mut session, 8.0);
    let fast = read(&mut session);
    assert!(slow > 3.0 * fast, "{slow} {fast}");
}

#[test]
fn liquid_water_stands_at_the_saturation_of_its_spot_and_rises_when_it_is_warmed() {
    let mut rig = Rig::sound();
    rig.gauge.response = [1.0; 3];
    let puddle = Puddle {
        mass: 30e-3,
        offset: -8.0,
        openness: 0.05,
        heat_capacity: 400.0,
        heat_inflow: 2.0,
    };
    rig.puddles.push((3, puddle));
    let mut session = begin(rig);
    pull(&mut session, 10.0);
    all(&mut session, &[Operation::Shut(Valve::System), Operation::Wait(20.0 * MINUTE)]);
    let level = read(&mut session);
    let spot = session.coldest();
    assert!((281.0..285.2).contains(&spot), "{spot} K, 12 °C once the water cools it no more");
    // 12 °C: 10 520 micron, a little less while the spot still warms.
    assert!((8000.0..10_700.0).contains(&level), "{level}");
    all(&mut session, &[Operation::Open(Valve::System), Operation::Pull(MINUTE)]);
    all(&mut session, &[Operation::Warm(3, 20.0), Operation::Pull(10.0 * MINUTE)]);
    all(&mut session, &[Operation::Shut(Valve::System), Operation::Wait(20.0 * MINUTE)]);
    assert!(read(&mut session) > 1.5 * level);
}

#[test]
fn a_pocket_of_a_valve_spills_into_a_capped_rig_alone() {
    let rise = |pocket| {
        let mut rig = Rig::sound();
        rig.parts[1].pocket = pocket;
        let mut session = begin(rig);
        all(&mut session, &[Operation::ConnectRig, Operation::Pull(5.0 * MINUTE)]);
        all(&mut session, &[Operation::Shut(Valve::Pump)]);
        let start = read(&mut session);
        all(&mut session, &[Operation::Wait(5.0 * MINUTE)]);
        read(&mut session) - start
    };
    let sound = rise(None);
    // Half a millilitre of air of the atmosphere in .125 L are 3040 micron. With 500 s for 63 %
    // of it, 55 % is left after the pull and 46 % of that comes out in the hold.
    let spilt = rise(Some(Pocket { volume: 5e-7, conductance: 1e-9 })) - sound;
    assert!((650.0..850.0).contains(&spilt), "{spilt} beside {sound}");
}

#[test]
fn a_dirty_gauge_reads_high_until_it_is_cleaned() {
    let mut rig = Rig::sound();
    rig.gauge.dirt = 0.8;
    let mut session = begin(rig);
    let dirty = floor(&mut session, 10.0);
    all(&mut session, &[Operation::CleanGauge]);
    let clean = floor(&mut session, 10.0);
    assert!(dirty > clean + 200.0 && clean < 60.0, "{dirty} {clean}");
}

#[test]
fn wet_walls_bend_and_a_sweep_with_warmth_makes_the_next_hold_better() {
    let mut rig = Rig::sound();
    for section in &mut rig.sections {
        section.walls = Walls { capacity: 4e-3, level: 900.0 };
    }
    let mut session = begin(rig);
    pull(&mut session, 20.0);
    let first = hold(&mut session, 5.0, 4);
    assert!(first[4] - first[3] < 0.8 * (first[2] - first[1]), "{first:?}");
    all(
        &mut session,
        &[
            Operation::Open(Valve::System),
            Operation::Warm(1, 20.0),
            Operation::Warm(3, 20.0),
            Operation::Sweep { to: 1e5, dwell: 10.0 * MINUTE },
            Operation::Open(Valve::Pump),
            Operation::Pull(40.0 * MINUTE),
        ],
    );
    let second = hold(&mut session, 5.0, 4);
    assert!(second[4] - second[0] < 0.75 * (first[4] - first[0]), "{first:?} {second:?}");
}

#[test]
fn the_same_seed_gives_the_same_readings_to_the_bit() {
    let readings = |seed| {
        let mut rig = Rig::sound();
        rig.gauge = Gauge { noise: 0.02, ..Gauge::default() };
        let mut session = Session::new(rig, seed).unwrap();
        all(&mut session, &[Operation::LockOut]);
        pull(&mut session, 10.0);
        hold(&mut session, 2.0, 5)
    };
    let bits = |shown: Vec<f64>| shown.into_iter().map(f64::to_bits).collect::<Vec<_>>();
    assert_eq!(bits(readings(5)), bits(readings(5)));
    assert_ne!(bits(readings(5)), bits(readings(6)));
}
