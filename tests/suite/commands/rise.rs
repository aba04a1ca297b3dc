//! `dryhold rise`: logs of hold tests, told and as JSON.

use super::stand::Stand;
use super::transcript::replays;

#[test]
fn a_session_prints_what_it_should() {
    replays("rise");
}

/// A block that was dictated says the same from a file and from standard input.
#[test]
fn a_log_may_come_from_standard_input() {
    let stand = Stand::new();
    let block = std::fs::read(stand.path("damp-call.txt")).unwrap();
    let ran = stand.run_fed(&["rise", "-"], &block);
    assert_eq!(ran, stand.run(&["rise", "damp-call.txt"]));
    assert!(ran.stdout.contains("Levelling off"), "{}", ran.stdout);
}

#[test]
fn a_limit_takes_no_half_width() {
    for limit in ["500 +- 100 micron", "500 ± 100 micron"] {
        let asked = ["rise", "damp-call.txt", "--limit", limit, "--within", "10 min"];
        let ran = Stand::new().run(&asked);
        assert!(ran.stderr.contains("a limit is exact"), "{limit}: {ran:?}");
        assert_eq!(ran.stdout, "", "{limit}");
    }
}

#[test]
fn a_limit_goes_with_its_time() {
    let alone = [
        (["--limit", "500 micron"], "--limit 500 micron says nothing without its time"),
        (["--within", "10 min"], "--within 10 min says nothing without its limit"),
    ];
    for (option, why) in alone {
        let ran = Stand::new().run(&[&["rise", "damp-call.txt"][..], &option].concat());
        assert_eq!((ran.status, ran.stdout.as_str()), (Some(2), ""), "{ran:?}");
        assert!(ran.stderr.contains(why) && ran.stderr.contains("such as --"), "{ran:?}");
    }
}

/// All that is missing is said at once, with how a line looks.
#[test]
fn without_a_log_it_says_what_one_is() {
    let stand = Stand::new();
    let ran = stand.run(&["rise", "--limit", "500"]);
    assert_eq!((ran.status, ran.stdout.as_str()), (Some(2), ""), "{ran:?}");
    for said in [
        "give its FILE, or `-` for readings that are typed or piped",
        "\n  0 min 420 micron\n  5 min 455 micron\nor\n",
        "\n--limit 500 says nothing without its time",
    ] {
        assert!(ran.stderr.contains(said), "{said}: {ran:?}");
    }
    let alone = stand.run(&["rise"]);
    assert!(!alone.stderr.contains("--limit"), "{alone:?}");
    let line = "420 micron, 455 micron, 480 micron every 5 min";
    assert!(alone.stderr.ends_with(&format!("{line}\n")), "{alone:?}");
    assert_eq!(stand.run_fed(&["rise", "-"], line.as_bytes()).status, Some(3));
    let other = stand.run(&["rise", "--limit"]);
    assert!(other.stderr.contains("a value is required"), "{other:?}");
}

/// Whoever named a limit asks for it first.
#[test]
fn the_limit_is_told_before_the_rest() {
    let stand = Stand::new();
    let asked = ["--limit", "500 micron", "--within", "10 min"];
    std::fs::write(stand.path("few.txt"), "0 min 420 micron\n10 min 530\n").unwrap();
    for log in ["damp-call.txt", "few.txt"] {
        let told = stand.run(&[&["rise", log][..], &asked].concat()).stdout;
        assert!(told.starts_with("The criterion\nNot above 500 micron within 10 min: "), "{told}");
        assert_eq!(told.matches("The criterion").count(), 1, "{told}");
    }
}

/// A limit within the doubt says what was taken for the gauge.
#[test]
fn too_close_a_limit_tells_the_gauge_s_doubt() {
    let stand = Stand::new();
    let log = "0 min 420 micron\n5 min 455\n10 min 480\n15 min 498\n20 min 511\n25 min 520\n";
    std::fs::write(stand.path("close.txt"), log).unwrap();
    let asked = ["rise", "close.txt", "--limit", "500 micron", "--within", "25 min"];
    let plain = stand.run(&asked).stdout.replace('\n', " ");
    assert!(plain.contains("for a gauge true to 10 % (19 in 20), as taken here"), "{plain}");
    let told = [&asked[..], &["--gauge-scale", "4 %", "--gauge-offset", "20 micron"]].concat();
    let told = stand.run(&told).stdout.replace('\n', " ");
    assert!(told.contains("true to 4.6 % and 23.1 micron (19 in 20)"), "{told}");
}

/// The guided case and `rise` say the same of the same numbers.
#[test]
fn a_rise_is_told_as_in_the_guided_case() {
    let stand = Stand::new();
    let rows = [
        (
            "0 min 500, 5 min 600, 10 min 700, 15 min 800, 20 min 900, 25 min 1000, 30 min 1100",
            "Straight. A steady rise",
            "it rises steadily by",
        ),
        (
            "0 min 1500, 10 min 1900, 15 min 1900, 20 min 1900, 25 min 1900, 30 min 1900",
            "Levelling off, as far as it was read",
            "it levels off towards 1900 micron",
        ),
        (
            "0 min 400, 5 min 600, 10 min 700, 15 min 800, 20 min 900, 25 min 1000, 30 min 1100",
            "Cannot tell. A steady rise",
            "That doesn't tell whether it rises steadily",
        ),
    ];
    for (row, alone, guided) in rows {
        std::fs::write(stand.path("row.txt"), row.replace(", ", " micron\n") + " micron\n")
            .unwrap();
        let told = stand.run(&["rise", "row.txt"]).stdout.replace('\n', " ");
        assert!(told.contains(alone) && !told.contains("Nothing to chase"), "{told}");
        let mut asked = vec!["diagnose".to_owned(), "hold_test".to_owned()];
        let readings = format!("hold_readings={row} micron");
        for set in [
            "system_charged=no",
            "oxygen_offered=no",
            "confined_space=aired",
            "locked_out=yes",
            "refrigerant=R-410A",
            "refrigerant_class=a1",
            "criterion_source=nobody",
            "target=500 micron",
            "gauge_unit=shows_micron",
            "gauge_place=system_far",
            "gauge_scale=10 %",
            "gauge_offset=5 micron",
            "system_volume=4 L",
            "coldest_temperature=12 degC",
            "valve_closed_at=at_system",
            "readings_at_hand=many",
            "hold_temperature=steady",
            &readings,
        ] {
            asked.extend(["--set".to_owned(), set.to_owned()]);
        }
        asked.extend(["--acknowledge".to_owned(), "system_open".to_owned()]);
        let asked: Vec<&str> = asked.iter().map(String::as_str).collect();
        let told = stand.run(&asked).stdout.replace('\n', " ");
        assert!(told.contains(guided), "{told}");
    }
}
