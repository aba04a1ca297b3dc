//! Questions that a technician asks, answered by `dryhold eval`, against figures found another way.

use serde_json::Value;

use super::stand::Stand;

/// The answer as JSON.
fn asked(formula: &str) -> Value {
    let ran = Stand::new().run(&["eval", formula, "--json"]);
    assert_eq!(ran.status, Some(0), "{formula}: {}", ran.stderr);
    serde_json::from_str(&ran.stdout).unwrap()
}

fn assert_near(answer: &Value, key: &str, wanted: f64, tolerance: f64) {
    let found = answer[key].as_f64().unwrap();
    assert!((found / wanted - 1.0).abs() <= tolerance, "{key}: {found}, not {wanted}");
}

/// `computed` with Python 3.11 and scipy 1.17.1: the pressure at the pump's end by `brentq`, the
/// time by `quad` over the logarithm of the pressure, with the conductance of a core at the 2.5th,
/// 50th and 97.5th of 100 places between its two bounds on a logarithmic scale. More conductance
/// always means less time, so these are the middle and the ends of the interval.
#[test]
fn how_long_fourteen_litres_take_through_a_hose_with_the_cores_in() {
    for (cores, middle, low, high) in [
        (0, 1.294_158_040, 1.294_158_040, 1.294_158_040),
        (1, 8.683_544_889, 7.078_431_205, 10.734_743_762),
        (2, 15.624_079_137, 12.505_582_922, 19.617_598_234),
    ] {
        let answer = asked(&format!(
            "pump_down_time(14 L, 6 cfm, 760000 micron, 500 micron, bore = 3/8 in, \
             length = 1.5 m, cores = {cores}) as min"
        ));
        assert_near(&answer, "value", middle, 5e-4);
        assert_near(&answer, "low", low, 5e-4);
        assert_near(&answer, "high", high, 5e-4);
    }
}

/// `computed` with iapws 1.5.5: its sublimation pressure (IAPWS R14-08) inverted by `brentq`.
#[test]
fn at_what_temperature_water_boils_at_a_thousand_micron() {
    let answer = asked("saturation_temperature(1000 micron)");
    assert_eq!(answer["unit"], "degC");
    assert_near(&answer, "value", -17.307_133_817, 1e-8);
}

/// `computed` with Python 3.11: `Q = V dp/dt`, and `sqrt(4 Q / (pi p v))` with the speed of choked
/// air in volume, 198.631 m/s (isentropic flow, 1.4, 20 degC, 101325 Pa). As R-32 of 14.7 bara, by
/// CoolProp 8.0.0 (52.024 g/mol, 1.3139e-5 Pa s, ratio of the heat capacities 1.2428): the ratio
/// of the throughputs is 10.382 for a hole and 290.16 for a capillary, drawn evenly in the
/// logarithm between them.
#[test]
fn what_ten_micron_a_minute_in_twelve_litres_mean() {
    let load = "gas_load(12 L, 10 micron/min)";
    assert_near(&asked(&format!("{load} as Pa m3/s")), "value", 2.666_447_75e-4, 1e-8);
    assert_near(&asked(&format!("hole_diameter({load}) as um")), "value", 4.107_138_9, 1e-6);
    let lost = |path: &str| {
        asked(&format!("leak_per_year(leak_at_pressure({load}, 14.7 bara, r32{path}), r32)"))
    };
    for (path, grams) in [("molecular", 1944.24), ("choked", 1864.68), ("laminar", 52_114.4)] {
        let answer = lost(&format!(", path = {path}"));
        assert_eq!(answer["unit"], "g/year");
        assert_near(&answer, "value", grams, 2e-3);
    }
    let open = lost("");
    for (key, grams) in [("low", 2026.58), ("value", 9857.82), ("high", 47_951.2)] {
        assert_near(&open, key, grams, 5e-3);
    }
}
