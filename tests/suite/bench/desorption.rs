//! Water that comes out of walls, out of a drier and out of oil.

use dryhold::bench::assembly::{Assembly, Chamber, Held};
use dryhold::bench::oil::Oil;
use dryhold::bench::simulation::Simulation;
use dryhold::bench::wall_water::{Store, Walls};

use super::{after, pressure, run, shut, steady_pump};

fn wet(volume: f64, walls: Walls) -> Chamber {
    Chamber { stores: walls.stores().collect(), ..Chamber::dry(volume) }
}

fn held_water(held: &Held, chamber: usize) -> f64 {
    held.chambers[chamber].stores.iter().sum()
}

/// Source: the well-known law of unbaked surfaces under pumping, outgassing as `1 / t`.
#[test]
fn walls_under_pumping_dry_as_one_over_the_time() {
    let mut assembly = Assembly::bare(steady_pump(0.0), 0.01);
    assembly.chambers[0] = wet(0.01, Walls { capacity: 1e-3, level: 1000.0 });
    let mut held = assembly.filled([101_325.0, 0.0, 0.0], Oil::default());
    let mut simulation = Simulation::new(&assembly, &held, 0.0).unwrap();
    let mut time = 0.0;
    let mut points = Vec::new();
    // Two decades, from 200 s to 20 000 s.
    for place in 0..=20 {
        let next = 200.0 * libm::exp10(f64::from(place) / 10.0);
        simulation.run(&mut held, next - time).unwrap();
        let before = held_water(&held, 0);
        simulation.run(&mut held, 0.02 * next).unwrap();
        time = 1.02 * next;
        // What comes out of the walls; the pressure also shows what got into the pump's oil.
        let rate = (before - held_water(&held, 0)) / (0.02 * next);
        points.push((libm::log(1.01 * next), libm::log(rate)));
    }
    let count = points.len() as f64;
    let mean = |pick: fn(&(f64, f64)) -> f64| points.iter().map(pick).sum::<f64>() / count;
    let (x, y) = (mean(|point| point.0), mean(|point| point.1));
    let over: f64 = points.iter().map(|point| (point.0 - x) * (point.1 - y)).sum();
    let under: f64 = points.iter().map(|point| (point.0 - x) * (point.0 - x)).sum();
    let exponent = over / under;
    assert!((exponent + 1.0).abs() < 0.1, "{exponent}");
    // Nowhere is it an exponential: over three tenths of a decade the slope keeps near -1 too.
    for pair in points.windows(4) {
        let slope = (pair[3].1 - pair[0].1) / (pair[3].0 - pair[0].0);
        assert!((slope + 1.0).abs() < 0.2, "{slope}");
    }
}

/// Source: balance of amounts between gas and stores, both linear in the pressure.
#[test]
fn walls_shut_off_level_where_gas_and_stores_agree() {
    let walls = Walls { capacity: 2e-3, level: 300.0 };
    let mut assembly = shut(0.01);
    assembly.chambers[1] = wet(0.01, walls);
    let held = after(&assembly, 1.0, 1e7);
    let expected = walls.capacity * walls.level / (walls.capacity + 0.01);
    assert!((held.chambers[1].gas[1] / expected - 1.0).abs() < 1e-3, "{held:?}");
}

/// The bend of bound water: the second half of a hold rises less than half as much.
#[test]
fn a_hold_over_wet_walls_bends() {
    let mut assembly = Assembly::bare(steady_pump(3.0), 0.01);
    assembly.chambers[0] = wet(0.01, Walls { capacity: 5e-3, level: 1000.0 });
    let mut held = after(&assembly, 101_325.0, 1800.0);
    assembly.pump.1.is_running = false;
    let start = pressure(&held, 0);
    run(&assembly, &mut held, 450.0);
    let middle = pressure(&held, 0);
    run(&assembly, &mut held, 450.0);
    let end = pressure(&held, 0);
    assert!(middle > start + 5.0 && end > middle, "{start} {middle} {end}");
    assert!((end - middle) < 0.75 * (middle - start), "{start} {middle} {end}");
}

#[test]
fn warmth_drives_more_out_and_leaves_less() {
    let mut cold = Assembly::bare(steady_pump(3.0), 0.01);
    cold.chambers[0] = wet(0.01, Walls { capacity: 5e-3, level: 1000.0 });
    let mut warm = cold.clone();
    warm.chambers[0].warming.start = 20.0;
    warm.chambers[0].warming.goal = 20.0;
    let (cold, warm) = (after(&cold, 101_325.0, 3600.0), after(&warm, 101_325.0, 3600.0));
    assert!(held_water(&warm, 0) < 0.85 * held_water(&cold, 0));
}

#[test]
fn refrigerant_leaves_a_compressor_s_oil_in_minutes_and_the_rest_in_an_hour() {
    let mut assembly = Assembly::bare(steady_pump(3.0), 0.01);
    assembly.chambers[0].stores = Store::in_compressor_oil(0.01, 5000.0).to_vec();
    let held = after(&assembly, 101_325.0, 1800.0);
    let [shallow, deep] = [0, 1].map(|store| held.chambers[0].stores[store]);
    assert!(shallow < 0.05 * 33.3 && deep > 0.5 * 16.7, "{shallow} {deep}");
}
