//! `dryhold rehearse`.

use super::stand::Stand;
use super::transcript::replays;

#[test]
fn a_session_prints_what_it_should() {
    replays("rehearse");
}

const HOPED: &str = "\
# What was hoped for; ranking: {crack: almost certain}
scenario: \"A tap: that drips\"
tree: barrel
answers:
  which_barrel: the green one
  steady: firm
  rod_scale: 1 %
  old_barrel: no
  level: [900 mm, 820 mm]
  night: yes
  spot: under_tap
acknowledge: [heavy_barrel]
expect:
  ranking:
    crack: 'almost certain'   # by far
    tap: at least likely
  next: [old_barrel]
  settled: true # and done
  findings: {level_falls: false, wet_spot: nowhere}
";

#[test]
fn blessing_changes_the_values_that_fell_short_and_no_other_byte() {
    let stand = Stand::new();
    // A file with the line ends of another system keeps them.
    for ends in ["\n", "\r\n"] {
        let hoped = HOPED.replace('\n', ends);
        stand.write("wet.yaml", &hoped);
        let ran = stand.run(&["--only-rules", "barrel", "rehearse", "wet.yaml", "--bless"]);
        assert_eq!((ran.status, ran.stderr.as_str()), (Some(0), ""), "{}", ran.stdout);
        let expected = hoped
            .replace("'almost certain'   # by far", "almost no chance   # by far")
            .replace("at least likely", "almost no chance")
            .replace("[old_barrel]", "[]")
            .replace("true # and", "false # and")
            .replace(
                "{level_falls: false, wet_spot: nowhere}",
                "{level_falls: true, wet_spot: under_tap}",
            );
        assert_eq!(std::fs::read_to_string(stand.path("wet.yaml")).unwrap(), expected);
        let told = "line 15: ranking.crack: 'almost certain' -> almost no chance";
        assert!(ran.stdout.contains(told), "{}", ran.stdout);
        let again = stand.run(&["--only-rules", "barrel", "rehearse", "wet.yaml", "--bless"]);
        assert_eq!(again.stdout, "1 scenario, 0 rewritten, 0 still short\n");
        assert_eq!(std::fs::read_to_string(stand.path("wet.yaml")).unwrap(), expected);
    }
}

/// A bound stays one, as long as it still rules something out.
#[test]
fn blessing_keeps_the_form_of_a_likelihood() {
    let stand = Stand::new();
    let text = "scenario: A wet patch\ntree: barrel\nanswers: {which_barrel: a, steady: firm, \
                rod_scale: 1 %, old_barrel: no, level: [900 mm, 820 mm], night: yes, spot: nowhere}\n\
                acknowledge: [heavy_barrel]\nexpect:\n  ranking:\n    crack: at least almost certain\n    \
                rain: \"At least likely\"\n    tap: almost certain\n    nothing_wrong: at most unlikely\n";
    stand.write("patch.yaml", text);
    let ran = stand.run(&["--only-rules", "barrel", "rehearse", "patch.yaml", "--bless"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let expected = text
        .replace("at least almost certain", "at least very unlikely")
        .replace("\"At least likely\"", "at least very unlikely")
        .replace("tap: almost certain", "tap: unlikely")
        .replace("at most unlikely", "at most likely");
    assert_eq!(std::fs::read_to_string(stand.path("patch.yaml")).unwrap(), expected, "{ran:?}");
}

/// Without names, for a folder, or with a fault in any file, nothing is written.
#[test]
fn blessing_rewrites_only_what_was_named() {
    let stand = Stand::new();
    let short = || std::fs::read_to_string(stand.path("scenarios/short.yaml")).unwrap();
    let before = short();
    let bless = |named: &[&str]| {
        let words = [&["--only-rules", "barrel", "rehearse", "--bless"], named].concat();
        stand.run(&words).status
    };
    assert_eq!(bless(&[]), Some(2));
    assert_eq!(bless(&["scenarios"]), Some(2));
    assert_eq!(bless(&["scenarios/short.yaml", "faulty-answers.yaml"]), Some(2));
    assert_eq!(short(), before);
    assert_eq!(bless(&["--all"]), Some(0));
    assert!(
        short().ends_with("findings: {level_falls: true}\n  ranking: {crack: almost no chance}\n")
    );
}

/// What a scenario does not speak of is not added: the stop stays for the author.
#[test]
fn blessing_adds_no_expectation() {
    let stand = Stand::new();
    let text = "scenario: S\ntree: barrel\nanswers: {which_barrel: a, steady: firm, level: 900 mm}\n\
                expect: {settled: true}\n";
    stand.write("stop.yaml", text);
    let ran = stand.run(&["--only-rules", "barrel", "rehearse", "stop.yaml", "--bless"]);
    let after = std::fs::read_to_string(stand.path("stop.yaml")).unwrap();
    assert_eq!(after, text.replace("settled: true", "settled: false"), "{}", ran.stdout);
}

#[test]
fn json_tells_outcomes_and_coverage() {
    let ran = Stand::new().run(&[
        "--only-rules",
        "barrel",
        "rehearse",
        "scenarios",
        "unfilled.yaml",
        "--format",
        "json",
    ]);
    let told = ran.json();
    assert_eq!((ran.status, told["format"].as_u64()), (Some(1), Some(1)));
    let word = |place: usize| told["outcomes"][place]["outcome"].as_str().unwrap().to_owned();
    assert_eq!([word(0), word(1), word(2)], ["found", "missed", "not judged"]);
    let miss = &told["outcomes"][1]["misses"][0];
    assert_eq!(miss["about"], "ranking.crack");
    assert_eq!(
        (&miss["expected"], &miss["found"]),
        (&"almost certain".into(), &"almost no chance".into())
    );
    assert!(miss["probability"].as_f64().unwrap() < 0.05);
    let measures: Vec<&str> = told["coverage"]
        .as_array()
        .unwrap()
        .iter()
        .map(|m| m["measure"].as_str().unwrap())
        .collect();
    assert_eq!(measures, ["steps", "branches", "findings", "thresholds", "causes", "cautions"]);
}

/// What is written is run again as it stands: it closes gaps, expects nothing, and is kept.
#[test]
fn missing_scenarios_are_written_once_and_close_the_gaps() {
    let stand = Stand::new();
    let covered = |named: &[&str], measure: usize| {
        let words = [&["--only-rules", "barrel", "rehearse", "--format", "json"], named].concat();
        let told = stand.run(&words).json();
        assert_eq!(told["outcomes"][0]["outcome"], "found");
        (
            told["coverage"][measure]["covered"].as_u64().unwrap(),
            told["not_judged"].as_u64().unwrap(),
        )
    };
    let fill =
        ["--only-rules", "barrel", "rehearse", "scenarios/found.yaml", "--write-missing", "new"];
    let ran = stand.run(&fill);
    assert_eq!((ran.status, ran.stderr.as_str()), (Some(0), ""), "{}", ran.stdout);
    let written = std::fs::read_dir(stand.path("new")).unwrap().count();
    assert!(written > 0 && ran.stdout.contains("written      new/"), "{}", ran.stdout);
    // Steps, branches and outcomes of findings.
    for measure in 0..3 {
        let before = covered(&["scenarios/found.yaml"], measure).0;
        let after = covered(&["scenarios/found.yaml", "new"], measure).0;
        assert!(after > before, "{after} of {before} by {measure}: {}", ran.stdout);
    }
    let (_, not_judged) = covered(&["scenarios/found.yaml", "new"], 0);
    assert_eq!(not_judged as usize, written);
    for entry in std::fs::read_dir(stand.path("new")).unwrap() {
        std::fs::write(entry.unwrap().path(), "mine").unwrap();
    }
    let again = stand.run(&fill);
    assert!(again.stdout.contains("0 scenarios written"), "{}", again.stdout);
    for entry in std::fs::read_dir(stand.path("new")).unwrap() {
        assert_eq!(std::fs::read_to_string(entry.unwrap().path()).unwrap(), "mine");
    }
}

#[test]
fn a_population_is_the_same_by_its_seed_and_is_told_drawn_and_written_for_programs() {
    let stand = Stand::new();
    let told = |seed: &str| {
        let ran = stand.run(&["rehearse", "--population", "3", "--seed", seed]);
        assert_eq!((ran.status, ran.stderr.as_str()), (Some(0), ""), "{}", ran.stdout);
        ran.stdout
    };
    let first = told("3");
    assert!(first.starts_with("Small split systems, by judgement: 3 rigs, seed 3\n"), "{first}");
    for told in [
        "leading group right",
        "base rates",
        "faults that don't show in the job",
        "wet tight systems called a leak",
        "hard to tell apart by the handbook",
    ] {
        assert!(first.contains(told), "{told}: {first}");
    }
    assert_eq!(first, told("3"));
    let arguments =
        ["rehearse", "--population", "3", "--seed", "3", "--format", "json", "--svg", "held.svg"];
    let ran = stand.run(&arguments);
    let json: serde_json::Value = serde_json::from_str(&ran.stdout).unwrap();
    assert_eq!((json["rigs"].as_u64(), json["plays"].as_array().unwrap().len()), (Some(3), 3));
    let hard = json["hard_to_tell_apart"].as_array().unwrap();
    assert!(hard.iter().all(|pair| (0.0..0.2).contains(&pair["nats"].as_f64().unwrap())));
    assert!(json["for_the_job"]["leading_group_right"]["value"].is_number());
    // A sound rig has no fault that could show.
    let plays = json["plays"].as_array().unwrap().iter();
    let is_sound = |play: &&serde_json::Value| {
        play["is_there"].as_array().unwrap().iter().all(|is_there| is_there == false)
    };
    assert!(plays.filter(is_sound).all(|play| play["shows"] == false));
    let picture = std::fs::read_to_string(stand.path("held.svg")).unwrap();
    assert!(picture.starts_with("<svg ") && picture.contains("3 rigs"), "{picture}");
    let again = stand.run(&arguments);
    assert!(again.stderr.contains("--force replaces it"), "{}", again.stderr);
}

#[test]
fn shares_are_fitted_to_a_population_only_where_it_is_large_enough() {
    let stand = Stand::new();
    let fitted = ["rehearse", "--population", "3", "--seed", "3", "--fit"];
    let told = stand.run(&fitted);
    assert!(
        told.stdout.contains("of the handbook, 0 of them seen in 20 plays or more, 0 clearly off")
    );
    let ran = stand.run(&[&fitted[..], &["--format", "json"]].concat());
    let json: serde_json::Value = serde_json::from_str(&ran.stdout).unwrap();
    let shares = json["fit"].as_array().unwrap();
    assert!(!shares.is_empty());
    for share in shares {
        let of: f64 = share["counts"].as_array().unwrap().iter().map(|n| n.as_f64().unwrap()).sum();
        assert!((of - share["plays"].as_f64().unwrap()).abs() < 1e-9, "{share}");
        assert!(of <= 3.0 && share["proposed"].is_null(), "too few plays: {share}");
    }
}

#[test]
fn ranges_with_a_fault_are_told_and_nothing_is_played() {
    let stand = Stand::new();
    let ranges = include_str!("../../../src/rehearsal/rigged/population/ranges.yaml")
        .replace("oil_wet:", "oil_wett:");
    stand.write("ranges.yaml", &ranges);
    let ran = stand.run(&["rehearse", "--population", "3", "--ranges", "ranges.yaml"]);
    assert_eq!((ran.status, ran.stdout.as_str()), (Some(2), ""));
    assert!(ran.stderr.contains("did you mean `oil_wet`?"), "{}", ran.stderr);
}

#[test]
fn one_rig_of_a_population_tells_its_whole_course() {
    let stand = Stand::new();
    let population = ["rehearse", "--population", "40", "--seed", "3"];
    let one = |rig: &str, format: &str| {
        stand.run(&[&population[..], &["--rig", rig, "--format", format]].concat())
    };
    let all = stand.run(&[&population[..], &["--format", "json"]].concat()).json();
    let plays = all["plays"].as_array().unwrap();
    let is_there = |play: &serde_json::Value| {
        play["is_there"].as_array().unwrap().iter().any(|is_there| is_there == true)
    };
    for is_faulty in [false, true] {
        let play = plays.iter().find(|play| is_there(play) == is_faulty).unwrap();
        let rig = play["number"].as_u64().unwrap().to_string();
        let told = one(&rig, "json").json();
        assert_eq!(told["hidden"].as_array().unwrap().is_empty(), !is_faulty, "{rig}");
        assert_eq!(told["minutes"], play["minutes"], "{rig}");
        let text = one(&rig, "text").stdout;
        assert!(text.starts_with("Hidden in this rig\n"), "{text}");
        assert_eq!(text.contains("Nothing is wrong with it."), !is_faulty, "{text}");
        assert!(text.contains("What was asked and answered"), "{text}");
    }
    let ran = one("40", "text");
    assert_eq!((ran.status, ran.stdout.as_str()), (Some(2), ""), "{ran:?}");
    assert!(ran.stderr.contains("the rigs of a population of 40 are 0 to 39"), "{ran:?}");
}
