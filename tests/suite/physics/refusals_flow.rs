//! What the functions of flow and pump-down refuse, and what they draw.

use dryhold::formula::{NoNames, Value, check, evaluate, parse};
use dryhold::source::Sources;

/// What a formula shows, or why it is unknown or refused.
pub fn shown(text: &str) -> String {
    let mut sources = Sources::default();
    let id = sources.add("formula", text);
    let checked = parse(text, &|range| sources.span(id, range.start, range.end))
        .and_then(|syntax| check(&syntax, &NoNames, "formula"));
    match checked {
        Err(faults) => faults.iter().map(|f| f.title.as_str()).collect::<Vec<_>>().join("; "),
        Ok(formula) => match evaluate(&formula, &NoNames) {
            Value::Unknown(why) => why.to_string(),
            value => formula.show(&value, &NoNames),
        },
    }
}

#[test]
fn half_a_hose_is_refused_with_both_sides() {
    let start = "pump_down_time(10 L, 2 L/s, 760000 micron, 500 micron";
    for (there, missing) in [("bore", "length"), ("length", "bore")] {
        let said = shown(&format!("{start}, {there} = 9 mm)"));
        assert!(said.contains(&format!("its {there} was given without its {missing}")), "{said}");
    }
}

#[test]
fn values_beyond_the_law_are_refused_with_the_range() {
    for (formula, named) in [
        ("saturation_pressure(20 K)", "`temperature` from -133.1 degC to 373.9 degC"),
        ("saturation_temperature(0 micron)", "`pressure` from"),
        ("tube_conductance(0 mm, 1 m, 500 micron)", "`bore` from"),
        ("pump_down_time(10 L, 2 L/s, 760000 micron, 0 micron)", "`target` from"),
        ("system_speed(2 L/s, 9 mm, 1 m, -1, 500 micron)", "`cores` from 0 to 10"),
        ("pump_down_pressure(10 L, 2 L/s, 760000 micron, -1 min)", "`after` from"),
        ("in_series(2 L/s, -3 L/s)", "`conductances` from 0 L/s"),
    ] {
        let said = shown(formula);
        assert!(said.contains(named) && said.contains("was given"), "{said}");
    }
    assert!(shown("in_parallel(2 micron, 3 micron)").contains("can't take"));
}

#[test]
fn the_ends_of_a_range_are_within_it_in_every_unit() {
    for (formula, gives) in [
        ("mean_free_path(500 micron, -100 degC)", "49.29 um"),
        ("mean_free_path(500 micron, -148 degF)", "49.29 um"),
        ("mean_free_path(500 micron, 200 degC) as mm", "0.1788 mm"),
    ] {
        assert_eq!(shown(formula), gives);
    }
}

#[test]
fn values_are_told_in_units_of_their_size() {
    for (formula, gives) in [
        ("working_pressure(r32, 20 degC)", "14.74 bara"),
        ("absolute(0 barg, 1 atm)", "760000 micron"),
        ("standing_loss(40 barg, 20 degC, 39.2 barg, 18 degC)", "0.5202 bar"),
        ("3 barg - 2.95 barg", "37500 micron"),
        ("tube_bore(3/8 in, drawn)", "8.001 mm"),
        ("2 * 0.3 m", "0.6 m"),
    ] {
        assert_eq!(shown(formula), gives, "{formula}");
    }
}

#[test]
fn all_cores_are_one_draw() {
    // In every draw, not only in the middle.
    let same = "effective_speed(1000 L/s, core_conductance()) / core_conductance()";
    let apart = format!("abs({same} - 1) < 0.1 %");
    assert_eq!(shown(&apart), "yes");
    let with = |cores| {
        format!("system_speed(2 L/s, 50 mm, 0.1 m, {cores}, 1000 micron) / core_conductance()")
    };
    assert_eq!(shown(&format!("{} < 1", with(1))), "yes");
    assert_eq!(shown(&format!("0.45 < {} < 0.5", with(2))), "yes");
}

#[test]
fn the_regime_may_be_compared_as_a_word() {
    assert_eq!(shown("flow_regime(1 micron, 3/8 in) is molecular"), "yes");
    assert_eq!(shown("flow_regime(1 micron, 3/8 in) is viscous"), "no");
    assert!(shown("flow_regime(1 micron, 3/8 in) is laminar").contains("laminar"));
}

#[test]
fn a_load_stops_the_pump_down_for_good() {
    let time = |load: &str| {
        shown(&format!(
            "pump_down_time(10 L, 2 L/s, 760000 micron, 500 micron, load = {load} Pa m3/s)"
        ))
    };
    assert_eq!(time("0.134"), "never");
    assert!(time("0.133").ends_with("min"), "{}", time("0.133"));
    assert_eq!(shown("pump_down_time(10 L, 2 L/s, 400 micron, 500 micron)"), "0 min");
}
