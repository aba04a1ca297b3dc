//! `dryhold config`: settings by option, environment and file, and what a fault in them says.

use super::case_book::{BookStand, scenario_events};
use super::stand::{Ran, Stand};

/// Runs with a configuration file and variables.
fn run(stand: &Stand, file: &str, variables: &[(&str, &str)], arguments: &[&str]) -> Ran {
    stand.write("own.yaml", file);
    let mut command = stand.command(arguments);
    command.env("DRYHOLD_CONFIG", stand.path("own.yaml")).envs(variables.iter().copied());
    Ran::of(command.output().unwrap())
}

/// The value of a setting and where it is from.
fn setting(ran: &Ran, name: &str) -> (String, String) {
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let row = ran.json().as_array().unwrap().iter().find(|row| row["setting"] == name).cloned();
    let row = row.unwrap_or_else(|| panic!("no {name}: {ran:?}"));
    (row["value"].as_str().unwrap().to_owned(), row["from"].as_str().unwrap().to_owned())
}

#[test]
fn without_a_file_every_setting_is_the_program_s_own() {
    let stand = Stand::new();
    let ran = stand.run(&["config"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let rows: Vec<&str> = ran.stdout.lines().collect();
    assert_eq!(rows.len(), 10, "{ran:?}");
    assert!(rows[0].contains("home/.config/dryhold/config.yaml, which is not there"), "{ran:?}");
    assert!(rows[1].contains("data/dryhold/cases"), "{ran:?}");
    assert!(rows.iter().all(|row| row.ends_with("(default)")), "{ran:?}");
}

#[test]
fn an_option_comes_before_the_environment_and_that_before_the_file() {
    let stand = Stand::new();
    let file = "book: of-file\ncolor: never\nfor: phone\nplain: true\nunits: {vacuum: Pa}\n";
    let variables = [("DRYHOLD_BOOK", "of-environment"), ("DRYHOLD_UNITS", "mbar,degF")];
    let by_file = run(&stand, file, &[], &["config", "--json"]);
    let own = stand.path("own.yaml").display().to_string();
    let book = stand.path("of-file").display().to_string();
    assert_eq!(setting(&by_file, "book"), (book, own.clone()));
    assert_eq!(setting(&by_file, "color"), ("never".to_owned(), own.clone()));
    assert_eq!(setting(&by_file, "for"), ("phone".to_owned(), own.clone()));
    assert_eq!(setting(&by_file, "plain"), ("yes".to_owned(), own.clone()));
    assert_eq!(setting(&by_file, "vacuum"), ("Pa".to_owned(), own.clone()));
    let by_environment = run(&stand, file, &variables, &["config", "--json"]);
    let told = |value: &str, from: &str| (value.to_owned(), from.to_owned());
    assert_eq!(setting(&by_environment, "book"), told("of-environment", "DRYHOLD_BOOK"));
    assert_eq!(setting(&by_environment, "vacuum"), told("mbar", "DRYHOLD_UNITS"));
    assert_eq!(setting(&by_environment, "temperature"), told("degF", "DRYHOLD_UNITS"));
    assert_eq!(setting(&by_environment, "length"), told("m", "default"));
    for (name, value, when) in
        [("NO_COLOR", "1", "never"), ("CLICOLOR_FORCE", "1", "always"), ("CLICOLOR", "0", "never")]
    {
        let ran = run(&stand, "color: auto", &[(name, value)], &["config", "--json"]);
        assert_eq!(setting(&ran, "color"), told(when, name));
    }
    let coloured = |variables: &[(&str, &str)]| {
        let arguments = ["diagnose", "pump_alone", "--set", "blank_off=900 micron"];
        run(&stand, "color: always", variables, &arguments).stdout.contains('\u{1b}')
    };
    assert!(coloured(&[]) && !coloured(&[("NO_COLOR", "1")]));
    let typed = ["--book", "typed", "--color", "always", "config", "--json"];
    let by_option = run(&stand, file, &variables, &typed);
    assert_eq!(setting(&by_option, "book"), told("typed", "--book"));
    assert_eq!(setting(&by_option, "color"), told("always", "--color"));
}

#[test]
fn rules_named_nearer_to_the_command_count_alone() {
    let stand = Stand::new();
    let file = "only_rules: barrel\n";
    let listed = run(&stand, file, &[], &["diagnose", "barrel", "--set", "steady=leans"]);
    assert_eq!(listed.status, Some(4), "{listed:?}");
    let variables = [("DRYHOLD_RULES", "")];
    let kept = run(&stand, file, &variables, &["config", "--json"]);
    assert!(setting(&kept, "only_rules").0.ends_with("barrel"));
    let variables = [("DRYHOLD_ONLY_RULES", "hollow")];
    let instead = run(&stand, file, &variables, &["config", "--json"]);
    assert_eq!(setting(&instead, "only_rules").1, "DRYHOLD_ONLY_RULES");
    let added = run(&stand, file, &[], &["--rules", "more", "config", "--json"]);
    assert_eq!(setting(&added, "rules"), ("more".to_owned(), "--rules".to_owned()));
    assert_eq!(setting(&added, "only_rules").1, "default");
}

#[test]
fn the_example_is_a_file_that_is_taken_and_changes_nothing() {
    let stand = Stand::new();
    let example = stand.run(&["config", "--example"]);
    assert_eq!(example.status, Some(0), "{example:?}");
    let ran = run(&stand, &example.stdout, &[], &["config", "--json"]);
    for (name, value) in [("plain", "no"), ("color", "auto"), ("for", "site"), ("vacuum", "micron")]
    {
        assert_eq!(setting(&ran, name).0, value);
    }
    // Its lines that are left out are keys, too.
    let all = example.stdout.replace("# book", "book").replace("# rules", "rules");
    assert_eq!(run(&stand, &all, &[], &["config"]).status, Some(0), "{all}");
}

#[test]
fn what_can_t_be_used_is_said_with_a_way_on() {
    let stand = Stand::new();
    let wrong = [
        ("colr: never", "unknown field `colr`"),
        ("color: blue", "unknown variant `blue`"),
        ("units: {vacuum: degF}", "vacuum: `degF` can't be chosen"),
        ("units: {vacum: Pa}", "unknown field `vacum`"),
        ("vacuum: Pa", "`vacuum` stands below `units:`"),
        ("rules: [a]\nonly_rules: b", "keep one"),
        ("- a", "the configuration"),
        ("a: [", "the configuration"),
    ];
    for (file, said) in wrong {
        let ran = run(&stand, file, &[], &["units", "pressure"]);
        assert_eq!((ran.status, ran.stdout.as_str()), (Some(2), ""), "{file}: {ran:?}");
        assert!(ran.stderr.contains(said) && ran.stderr.contains("own.yaml"), "{file}: {ran:?}");
    }
    let ran = run(&stand, "colr: never", &[("DRYHOLD_CONFIG", "")], &["units", "pressure"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let by_environment = [("DRYHOLD_FOR", "home"), ("DRYHOLD_UNITS", "mbr")];
    for (name, value) in by_environment {
        let ran = run(&stand, "", &[(name, value)], &["config"]);
        assert_eq!(ran.status, Some(2), "{ran:?}");
        assert!(ran.stderr.contains(name) && ran.stderr.contains(value), "{ran:?}");
    }
    let large = format!("# {}\n", "x".repeat(70_000));
    assert!(run(&stand, &large, &[], &["config"]).stderr.contains("larger than 64 KiB"));
}

#[test]
fn a_report_is_in_the_units_chosen_and_for_a_program_in_the_handbook_s() {
    let book = BookStand::new();
    book.keep("2026-03-31-1", "2026-03-31", &scenario_events("pump_alone/worn"));
    let report = |format: &str, units: &str| {
        let arguments = ["--book", "book", "report", "2026-03-31-1", "--format", format];
        let ran = run(&book.stand, "", &[("DRYHOLD_UNITS", units)], &arguments);
        assert_eq!(ran.status, Some(0), "{ran:?}");
        ran.stdout
    };
    let (microns, pascals) = (report("text", ""), report("text", "Pa"));
    assert!(microns.contains(" micron above") && !microns.contains(" Pa above"), "{microns}");
    assert!(pascals.contains(" Pa above") && !pascals.contains(" micron above"), "{pascals}");
    assert_eq!(report("json", "Pa"), report("json", ""));
}

/// What a rise says and draws is for a person; its JSON is for a program.
#[test]
fn a_rise_is_told_and_drawn_in_the_units_chosen() {
    let stand = Stand::new();
    let rise = |units: &str, further: &[&str]| {
        let asked = ["rise", "damp-call.txt", "--limit", "500 micron", "--within", "10 min"];
        let arguments = [&asked[..], &["--temperature", "2 K"], further].concat();
        let ran = run(&stand, "", &[("DRYHOLD_UNITS", units)], &arguments);
        assert!(!ran.stdout.is_empty(), "{ran:?}");
        ran.stdout
    };
    let usual = rise("", &["--plot"]);
    assert!(usual.contains("Not above 500 micron") && usual.contains("warming by 2 K"), "{usual}");
    let own = rise("Pa,degF", &["--plot", "--svg", "own.svg"]);
    assert!(own.contains("Not above 66.7 Pa") && !own.contains("micron"), "{own}");
    assert!(own.contains("warming by 3.6 degF (19 in 20: within 1.8 degF)"), "{own}");
    let drawn = std::fs::read_to_string(stand.path("own.svg")).unwrap();
    assert!(drawn.contains(">Pa</text>") && !drawn.contains("micron"), "{drawn}");
    assert_eq!(rise("Pa,degF", &["--json"]), rise("", &["--json"]));
    let plan = run(&stand, "", &[("DRYHOLD_UNITS", "Pa")], &["watch", "--plan"]).stdout;
    assert!(plan.contains(" Pa/min") && !plan.contains("micron"), "{plan}");
}

/// A number alone might be in either unit.
#[test]
fn a_bare_number_beside_units_of_one_s_own_is_asked_back() {
    let stand = Stand::new();
    let limit = ["--limit", "133", "--within", "10 min"];
    let rows: [(&[&str], &str); 7] = [
        (&limit, "in Pa or in micron? Give the unit, as in '133 Pa'"),
        (&["--gauge-offset", "5"], "in Pa or in micron? Give the unit, as in '5 Pa'"),
        (&["--matters", "3"], "in Pa/min or in micron/min? Give the unit, as in '3 Pa/min'"),
        (
            &["--volume", "4 L", "--refrigerant", "r32", "--working-pressure", "9"],
            "in Pa or in bara? Give the unit, as in '9 bara'",
        ),
        (&["--coldest=-10"], "in degF or in degC? Give the unit, as in '-10 degF'"),
        (&["--coldest", "4 +- 2"], "in degF or in degC? Give the unit, as in '4 +- 2 degF'"),
        (
            &["--temperature", "70 to 73"],
            "in degF or in degC? Give the unit, as in '70 to 73 degF'",
        ),
    ];
    for (options, why) in rows {
        for command in [&["rise", "damp-call.txt"][..], &["watch", "--plan"]] {
            let arguments = [command, options].concat();
            let refused = run(&stand, "", &[("DRYHOLD_UNITS", "Pa,degF")], &arguments);
            assert_eq!((refused.status, refused.stdout.as_str()), (Some(2), ""), "{refused:?}");
            assert!(refused.stderr.contains(why), "{refused:?}");
            let usual = run(&stand, "", &[], &arguments);
            assert_eq!(usual.status, Some(0), "{usual:?}");
        }
    }
    for units in ["Pa", "degF"] {
        let other = if units == "Pa" { ["--coldest", "4"] } else { ["--matters", "3"] };
        let arguments = [&["rise", "damp-call.txt"][..], &other].concat();
        let ran = run(&stand, "", &[("DRYHOLD_UNITS", units)], &arguments);
        assert_eq!(ran.status, Some(0), "{ran:?}");
    }
}

#[test]
fn examples_of_readings_are_in_the_unit_chosen() {
    let stand = Stand::new();
    std::fs::write(stand.path("bare.txt"), "0 min 56, 5 min 60, 10 min 64").unwrap();
    std::fs::write(stand.path("bare.csv"), "time_min,pressure\n0,56\n5,60\n10,64\n").unwrap();
    for (units, log, why) in [
        ("", "bare.txt", "say it once, such as `420 micron`"),
        ("Pa", "bare.txt", "say it once, such as `56 Pa`"),
        ("mbar", "bare.txt", "say it once, such as `0.56 mbar`"),
        ("Pa", "bare.csv", "such as `pressure_Pa`"),
    ] {
        let ran = run(&stand, "", &[("DRYHOLD_UNITS", units)], &["rise", log]);
        assert!(ran.status == Some(2) && ran.stderr.contains(why), "{ran:?}");
    }
    let ran = run(&stand, "", &[("DRYHOLD_UNITS", "Pa")], &["rise", "--limit", "70"]);
    assert!(ran.stderr.contains("  0 min 56 Pa\n"), "{ran:?}");
}
