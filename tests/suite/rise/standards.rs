//! Published fits through the blocks of the reading.
//!
//! Certified values: NIST Statistical Reference Datasets, Misra1a and BoxBOD (nonlinear) and
//! Norris (linear regression), second-hand as distributed with fitting libraries.

use dryhold::rise::{line, single};

fn rows(text: &str) -> (Vec<f64>, Vec<f64>) {
    let pairs = text.lines().skip(1).map(|row| {
        let (y, x) = row.split_once(',').unwrap();
        (x.parse::<f64>().unwrap(), y.parse::<f64>().unwrap())
    });
    pairs.unzip()
}

fn is_near(found: f64, certified: f64, tolerance: f64) {
    assert!(((found - certified) / certified).abs() < tolerance, "{found} against {certified}");
}

#[test]
fn misra1a_is_one_settling_part() {
    let (x, y) = rows(include_str!("../../data/rise/nist-misra1a.csv"));
    let fit = single::fit(&x, &y, Some(0.0), 10.0, 1e5).unwrap();
    is_near(fit.height, 238.942_129_18, 1e-6);
    is_near(1.0 / fit.time_constant, 5.501_564_318_1e-4, 1e-6);
    is_near(fit.squares, 0.124_551_388_94, 1e-8);
}

#[test]
fn boxbod_is_one_settling_part() {
    let (x, y) = rows(include_str!("../../data/rise/nist-boxbod.csv"));
    let fit = single::fit(&x, &y, Some(0.0), 0.01, 1e3).unwrap();
    is_near(fit.height, 213.809_408_89, 1e-6);
    is_near(1.0 / fit.time_constant, 0.547_237_485_42, 1e-6);
    is_near(fit.squares, 1_168.008_876_6, 1e-8);
}

#[test]
fn norris_is_a_line() {
    let (x, y) = rows(include_str!("../../data/rise/nist-norris.csv"));
    let line = line::fit(&x, &y).unwrap();
    is_near(line.intercept, -0.262_323_073_774_029, 1e-9);
    is_near(line.slope, 1.002_116_818_020_45, 1e-11);
    is_near(line.intercept_error, 0.232_818_234_301_152, 1e-9);
    is_near(line.slope_error, 4.297_968_481_999_37e-4, 1e-9);
    is_near(line.squares, 26.617_398_529_422_4, 1e-9);
}

/// Closed forms: the second half of a rise over its first half is 1 for a leak and
/// `exp(−T/2τ)` for one settling part; 20 min and τ of 8 min give 0.28650479686.
#[test]
fn the_halves_of_a_settling_rise_have_their_ratio() {
    use dryhold::rise::three_readings::{Shape, shape};
    let at = |t: f64| 400.0 - 1400.0 * libm::expm1(-t / 480.0);
    let [start, middle, end] = [at(0.0), at(600.0), at(1200.0)];
    is_near((end - middle) / (middle - start), 0.286_504_796_86, 1e-9);
    let Shape::Curved { time_constant, level } = shape([start, middle, end], 1200.0, 1.0) else {
        panic!("a clear curve")
    };
    is_near(time_constant, 480.0, 1e-9);
    is_near(level, 1800.0, 1e-9);
}

/// Readings made up by another program (scipy 1.17.1 `curve_fit` gives the values).
#[test]
fn a_made_up_settling_rise_gives_its_three_numbers() {
    let (x, y) = rows(include_str!("../../data/rise/made-up-settling.csv"));
    let fit = single::fit(&x, &y, None, 0.1, 1e3).unwrap();
    is_near(fit.start, 413.562_688_914, 1e-6);
    is_near(fit.start + fit.height, 1_650.834_969_91, 1e-6);
    is_near(fit.time_constant, 5.515_243_177_38, 1e-6);
    is_near(fit.squares, 443.020_139_253, 1e-8);
}

/// The leak check of 40 CFR 1065.644, worked example: 2.0000 L from 25.300 to 50.600 kPa within
/// 70 s at 293.15 K (inputs as printed; the answer, 2.96573e-4 mol/s, computed from them with R of
/// 8.314472 J/(mol K)). A reading every 10 s on the straight line between both pressures.
#[test]
fn a_vacuum_decay_test_gives_its_molar_leak_rate() {
    use dryhold::rise::{Doubted, GasResponse, Gauge, Hold, read};
    let times: Vec<f64> = (0..=7).map(|k| 10.0 * f64::from(k)).collect();
    let pressures: Vec<f64> = times.iter().map(|t| 25_300.0 + 25_300.0 / 70.0 * t).collect();
    let moles = |throughput: f64| throughput / (8.314_472 * 293.15);
    let fit = line::fit(&times, &pressures).unwrap();
    is_near(moles(2e-3 * fit.slope), 2.965_73e-4, 1e-5);

    let gauge = Gauge {
        resolution: Some(1.0),
        scale_doubt: 0.0,
        response: GasResponse::Independent,
        ..Gauge::default()
    };
    let mut hold = Hold::new(times, pressures, gauge, 1.0);
    hold.step_time = 5.0;
    hold.surroundings.drift = 0.0;
    hold.surroundings.volume = Some(Doubted { value: 2e-3, doubt: 0.0 });
    let load = read(&hold).unwrap().throughput.unwrap().load;
    is_near(moles(load.value), 2.965_73e-4, 2e-3);
    assert!(moles(load.low) < 2.965_73e-4 && 2.965_73e-4 < moles(load.high), "{load:?}");
}
