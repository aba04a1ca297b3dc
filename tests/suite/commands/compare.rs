//! `dryhold compare`.

use super::stand::{Ran, Stand};

/// A stand with a later version of the barrel's handbook in `later`: these texts replaced.
fn stand(replaced: &[(&str, &str)]) -> Stand {
    let stand = Stand::new();
    let mut folders = vec![String::new()];
    let mut changes = 0;
    while let Some(folder) = folders.pop() {
        std::fs::create_dir_all(stand.path(&format!("later{folder}"))).unwrap();
        for entry in std::fs::read_dir(stand.path(&format!("barrel{folder}"))).unwrap() {
            let entry = entry.unwrap();
            let name = format!("{folder}/{}", entry.file_name().into_string().unwrap());
            if entry.path().is_dir() {
                folders.push(name);
                continue;
            }
            let mut text = std::fs::read_to_string(entry.path()).unwrap();
            for (old, new) in replaced {
                changes += text.matches(old).count();
                text = text.replace(old, new);
            }
            stand.write(&format!("later{name}"), &text);
        }
    }
    assert!(replaced.is_empty() || changes > 0);
    stand
}

fn compare(stand: &Stand, more: &[&str]) -> Ran {
    stand.run(
        &[&["compare", "barrel", "later", "--scenarios", "scenarios/found.yaml"], more].concat(),
    )
}

#[test]
fn the_same_rules_in_another_folder_end_alike() {
    let ran = compare(&stand(&[]), &[]);
    let nothing = "0 entries differ; 1 case, 0 end differently\n";
    assert_eq!((ran.status, ran.stdout.as_str(), ran.stderr.as_str()), (Some(0), nothing, ""));
}

/// A strength turned round is named, with every word that moved and what moved it.
#[test]
fn a_changed_strength_is_told_with_what_it_does() {
    let (old, new) = (
        "crack: {nowhere: 0.2, under_tap: 0.1, all_round: 0.7}",
        "crack: {nowhere: 0.05, under_tap: 0.9, all_round: 0.05}",
    );
    let stand = stand(&[(old, new), ("how_common: 0.05", "how_common: 0.5")]);
    let ran = compare(&stand, &[]);
    assert_eq!(ran.status, Some(1), "{ran:?}");
    for row in [
        "  changed  crack",
        "    how_common: 0.05 -> 0.5",
        "    shown_by.crack.under_tap: 0.1 -> 0.9",
        "differently  scenarios/found.yaml: A tap that drips all night",
        "               since findings.wet_spot.shown_by.crack.under_tap: 0.1 -> 0.9",
        "2 entries differ; 1 case, 1 ends differently",
    ] {
        assert!(ran.stdout.lines().any(|line| line == row), "no {row} in\n{}", ran.stdout);
    }
    let leader = ran.stdout.lines().find_map(|row| row.trim().strip_prefix("leader: ")).unwrap();
    let (old, new) = leader.split_once(" -> ").unwrap();
    assert!(old.starts_with("nothing_wrong, ") && new.starts_with("crack, "), "{leader}");
    assert!([old, new].iter().all(|side| side.ends_with(')') && side.contains(" (0.")), "{leader}");
    let told = compare(&stand, &["--format", "json"]).json();
    assert_eq!((&told["format"], &told["differently"]), (&1.into(), &1.into()));
    assert_eq!(told["cases"][0]["old"]["leader"], "nothing_wrong");
    assert_eq!(told["cases"][0]["new"]["leader"], "crack");
}

/// Words that decide nothing are a difference, and no case ends differently by them.
#[test]
fn a_changed_word_ends_no_case_differently() {
    let ran = compare(&stand(&[("A crack in the wall", "A split in the wall")]), &[]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert!(ran.stdout.contains("name: A crack in the wall -> A split in the wall"), "{ran:?}");
}

/// A scenario follows a renamed cause and question, so that nothing ends differently.
#[test]
fn renamed_entries_are_followed() {
    let stand = stand(&[
        ("  rain:\n    name", "  drizzle:\n    was: rain\n    name"),
        ("rain: often", "drizzle: often"),
    ]);
    let ran = compare(&stand, &[]);
    let told = "causes:\n  renamed  rain -> drizzle\n1 entry differs; 1 case, 0 end differently\n";
    assert_eq!((ran.status, ran.stdout.as_str()), (Some(0), told), "{ran:?}");
}

/// Steps that only have other names are told as such, and no case ends differently by them.
#[test]
fn renamed_steps_are_followed() {
    let stand = stand(&[
        (": given_up", ": left_off"),
        ("      given_up:\n", "      left_off:\n"),
        (": done", ": over"),
        ("      done:\n", "      over:\n"),
        ("next: shut", "next: close"),
        (": shut\n", ": close\n"),
        ("      shut:\n", "      close:\n"),
    ]);
    let kept =
        stand.run(&["--plain", "--book", "book", "--only-rules", "barrel", "diagnose", "barrel"]);
    assert_eq!(kept.status, Some(3), "{kept:?}");
    let ran = compare(&stand, &["--cases", "book"]);
    let told = "trees:\n  changed  barrel\n    steps: done -> over\n    steps: given_up -> left_off\n    \
                steps: shut -> close\n1 entry differs; 2 cases, 0 end differently\n";
    assert_eq!((ran.status, ran.stdout.as_str()), (Some(0), told), "{ran:?}");
}

/// A recorded case is replayed under both.
#[test]
fn recorded_cases_are_replayed() {
    let stand = stand(&[("how_common: 0.05", "how_common: 0.6")]);
    let kept =
        stand.run(&["--plain", "--book", "book", "--only-rules", "barrel", "diagnose", "barrel"]);
    assert_eq!(kept.status, Some(3), "{kept:?}");
    let ran = stand.run(&[
        "compare",
        "barrel",
        "later",
        "--cases",
        "book",
        "--scenarios",
        "scenarios/found.yaml",
    ]);
    assert_eq!(ran.status, Some(1), "{ran:?}");
    assert!(ran.stdout.contains("; 2 cases, "), "{ran:?}");
    let case = std::fs::read_dir(stand.path("book")).unwrap().next().unwrap().unwrap();
    let name = case.path().file_stem().unwrap().to_str().unwrap().to_owned();
    assert!(ran.stdout.contains(&format!("differently  {name}\n")), "{ran:?}");
}

#[test]
fn a_faulty_handbook_is_told_and_gives_five() {
    let stand = Stand::new();
    let ran = stand.run(&["compare", "barrel", "broken"]);
    assert_eq!(ran.status, Some(5), "{ran:?}");
    assert!(ran.stderr.contains("error[") && ran.stdout.is_empty(), "{ran:?}");
    assert_eq!(stand.run(&["compare", "barrel", "nowhere"]).status, Some(2));
}

#[test]
fn the_built_in_handbook_goes_by_its_word() {
    let ran = Stand::new().run(&["compare", "built_in", "built_in", "--scenarios", "hollow"]);
    assert_eq!(ran.status, Some(2), "{ran:?}");
    let ran = stand(&[]).run(&["compare", "built_in", "barrel"]);
    assert!(ran.stdout.contains("  removed  pump_oil\n"), "{ran:?}");
    assert!(ran.stdout.contains("  added    crack\n"), "{ran:?}");
}

/// A folder without a header is put onto the built-in handbook.
#[test]
fn an_added_folder_is_put_onto_the_built_in_handbook() {
    let stand = Stand::new();
    stand.write("one.yaml", "scenario: A\ntree: history\nanswers: {wet_history: no}\n");
    let ran = stand.run(&["compare", "built_in", "more", "--scenarios", "one.yaml"]);
    let rows: Vec<&str> = ran.stdout.lines().collect();
    assert_eq!(rows[0], "more is put onto the built-in handbook.", "{ran:?}");
    assert!(rows.contains(&"  added    exhaust_hose"), "{ran:?}");
    assert_eq!(rows.last(), Some(&"2 entries differ; 1 case, 0 end differently"), "{ran:?}");
    let refused = stand.run(&["--rules", "more", "compare", "built_in", "built_in"]);
    assert_eq!(refused.status, Some(2));
    assert!(refused.stderr.contains("dryhold compare built_in more"), "{refused:?}");
}

/// What ends elsewhere comes first; a word that another hair would turn back is only counted.
#[test]
fn the_gravest_difference_comes_first_and_the_least_is_counted() {
    let stand = stand(&[("how_common: 0.05", "how_common: 0.0501")]);
    let ran = compare(&stand, &[]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    // `crack` stands at a hair below 0.05, which is the border of a word.
    let border = crack_at_the_border(&stand);
    let ran = compare(&border, &[]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let counted = "1 entry differs; 1 case, 0 end differently\n1 more has another word for a cause, \
                   which moved by no more than 0.01 (--all lists them)\n";
    assert!(ran.stdout.ends_with(counted), "{ran:?}");
    assert!(!ran.stdout.contains("differently  scenarios"), "{ran:?}");
    let all = compare(&border, &["--all"]);
    assert!(all.stdout.contains("differently  scenarios/found.yaml"), "{all:?}");
    assert_eq!(all.status, Some(0), "{all:?}");
    let told = compare(&border, &["--format", "json"]).json();
    assert_eq!(told["differently"], 0);
    let one = &told["cases"][0];
    assert_eq!((&one["is_different"], &one["by_a_hair"]), (&false.into(), &true.into()));
    let by = told["cases"][0]["differences"][0]["by"].as_f64().unwrap();
    assert!(by > 0.0 && by <= 0.01, "{by}");
}

/// The later handbook with a prior of `crack` that takes it just over the border of its word.
fn crack_at_the_border(stand: &Stand) -> Stand {
    let told = compare(stand, &["--format", "json"]).json();
    let p = told["cases"][0]["old"]["probabilities"]["crack"].as_f64().unwrap();
    assert!(p < 0.05 && p > 0.042, "{p}");
    // Odds follow the prior's: from p to 0.052.
    let odds = |p: f64| p / (1.0 - p);
    let prior = odds(0.05) * odds(0.052) / odds(p);
    let later = format!("how_common: {:.4}", prior / (1.0 + prior));
    self::stand(&[("how_common: 0.05", &later)])
}
