//! What the functions of leaks, water, tubes and holds refuse, and what they draw.

use super::refusals_flow::shown;

#[test]
fn values_beyond_a_law_are_refused_with_name_value_and_range() {
    for (formula, named) in [
        ("gas_load(0 L, 1 micron/min)", "`volume` from"),
        ("rise_from_leak(-1 Pa m3/s, 1 L)", "`leak` from 0"),
        ("stall_pressure(20 micron, 1 Pa m3/s, 0 L/s)", "`speed` from"),
        ("stall_ratio(300 micron, 20 micron, 10 L, 0 micron/min, 1 L/s)", "`rise_rate` from"),
        ("rise_per_kelvin(500 micron, 510 micron, 0.1 K)", "`warmed_by` from 0.5 K to 100 K"),
        ("water_vapour_mass(1000 micron, 10 L, 90 degC)", "`temperature` from -40 degC to 80 degC"),
        ("sweep_dilution(1000 micron, 1 atm, -1)", "`sweeps` from 0 to 20"),
        ("leak_at_pressure(1e-6 Pa m3/s, 1 bar, r32)", "`inside` from"),
        ("working_pressure(r134a, 61 degC)", "`temperature` from -40 degC to 60 degC"),
        ("working_pressure(r744, 31 degC)", "`temperature` from -40 degC to 30 degC"),
        ("tube_volume(3/8 in, -1 m, drawn)", "`length` from 0 m to 1000 m"),
        ("barometer(12000 m)", "`altitude` from -500 m to 11000 m"),
        ("absolute(10 barg, 2 bar)", "`barometer` from"),
        ("standing_pressure(40 barg, 20 degC, 200 degC)", "`t2` from -50 degC to 100 degC"),
    ] {
        let said = shown(formula);
        assert!(said.contains(named) && said.contains("was given"), "{formula}: {said}");
    }
}

#[test]
fn the_ends_of_a_range_belong_to_it() {
    assert_eq!(shown("working_pressure(r290, -40 degC) as bara"), "1.111 bara");
    assert_eq!(shown("working_pressure(r744, 30 degC) as bara"), "72.1 bara");
    assert_eq!(shown("standing_pressure(0 barg, -50 degC, -50 degC)"), "0 barg");
}

#[test]
fn values_that_do_not_go_together_are_refused_with_both_sides() {
    for (formula, named) in [
        (
            "volume_by_expansion(2 L, 4 bar, 1 bar, 5 bar)",
            "does not lie between that of the system",
        ),
        ("volume_by_pull_down(1 L/s, 50 mbar, 300 mbar, 10 s)", "does not lie below"),
        ("sweep_dilution(1.4 atm, 1 atm, 3)", "lies above the break pressure"),
        (
            "drying_time(1 g, 6000 micron, 1 L/s, 0 degC)",
            "at 0 degC water gives vapour of 4584 micron",
        ),
        (
            "tube_bore(11 mm, drawn)",
            "11.00 mm outside is listed; the nearest sizes are 3/8 in and 1/2 in",
        ),
        ("tube_bore(80 mm, annealed)", "the nearest size is 1-5/8 in"),
    ] {
        let said = shown(formula);
        assert!(said.contains(named), "{formula}: {said}");
    }
}

#[test]
fn kinds_and_words_that_do_not_fit_are_refused() {
    for (formula, named) in [
        ("standing_pressure(40 bar, 20 degC, 10 degC)", "gauge pressure"),
        ("absolute(500 micron, 1 atm)", "gauge pressure"),
        ("gas_load(10 L, 10 micron)", "rise rate"),
        ("leak_per_year(1e-6 Pa m3/s, r22)", "is not a word that `leak_per_year` takes"),
        ("tube_bore(3/8 in, hard)", "is not a word that `tube_bore` takes"),
        ("tube_bore(3/8 in)", "without `temper`"),
    ] {
        let said = shown(formula);
        assert!(said.contains(named), "{formula}: {said}");
    }
}

#[test]
fn a_path_that_is_not_known_is_drawn_between_the_laws() {
    let ratio = |path: &str| {
        format!("leak_at_pressure(1e-6 Pa m3/s, 14.746 bar, r32{path}) / 1e-6 Pa m3/s")
    };
    let (drawn, low, high) = (ratio(""), ratio(", path = choked"), ratio(", path = laminar"));
    assert_eq!(shown(&format!("{low} < {}", ratio(", path = molecular"))), "yes");
    assert_eq!(shown(&format!("{low} <= {drawn} <= {high}")), "yes");
    // As many draws lie below the geometric mean of the bounds as above, and some near each end.
    assert_eq!(shown(&format!("{drawn} < sqrt({low} * {high})")), "too close to tell");
    assert_eq!(shown(&format!("{drawn} < 1.8 * {low}")), "too close to tell");
    assert_eq!(shown(&format!("{drawn} > {high} / 1.8")), "too close to tell");
    // One leak has one path: the same draw in both.
    assert_eq!(shown(&format!("abs({drawn} / ({drawn}) - 1) < 0.1 %")), "yes");
}

#[test]
fn a_hold_that_only_cooled_has_lost_nothing() {
    let cooled = |air: &str| format!("standing_pressure(40 barg, 20 degC, 7 degC, {air})");
    let loss = |air: &str, at: &str| {
        let seen = cooled(air);
        shown(&format!("abs(standing_loss(40 barg, 20 degC, {seen}, {at}, {air})) < 1 Pa"))
    };
    assert_eq!(loss("barometer(2000 m)", "7 degC"), "yes");
    assert_eq!(loss("1 atm", "7 degC"), "yes");
    assert_eq!(loss("1 atm", "8 degC"), "no");
}

#[test]
fn more_heat_than_the_vapour_needs_changes_nothing() {
    let time = |heat: &str| shown(&format!("drying_time(1 g, 500 micron, 2 L/s{heat})"));
    assert_eq!(time(", heat = 50 W"), time(""));
    assert_ne!(time(", heat = 1 W"), time(""));
    assert_eq!(time(", heat = 1 W"), "40.89 min");
}
