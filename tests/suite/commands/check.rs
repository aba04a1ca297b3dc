//! `dryhold check`, and handbooks that are added to the built-in one.

use std::io::{BufRead, BufReader};
use std::process::Stdio;

use super::stand::Stand;
use super::transcript::replays;

#[test]
fn a_session_prints_what_it_should() {
    replays("check");
}

/// `53 questions` in the row that says that it is sound.
fn questions(stdout: &str) -> usize {
    let row = stdout.lines().find(|row| row.contains(" is sound: ")).unwrap();
    let words: Vec<&str> = row.split_whitespace().collect();
    let place = words.iter().position(|word| word.starts_with("question")).unwrap();
    words[place - 1].parse().unwrap()
}

#[test]
fn the_built_in_handbook_is_sound() {
    let ran = Stand::new().run(&["check"]);
    assert_eq!((ran.status, ran.stderr.as_str()), (Some(0), ""), "{ran:?}");
    assert!(questions(&ran.stdout) > 10, "{ran:?}");
}

#[test]
fn a_folder_adds_entries_and_replaces_them() {
    let stand = Stand::new();
    let alone = stand.run(&["check"]);
    let more = stand.run(&["--rules", "more", "check"]);
    assert_eq!((more.status, more.stderr.as_str()), (Some(0), ""), "{more:?}");
    assert_eq!(questions(&more.stdout), questions(&alone.stdout) + 1);
}

/// Of very many faults the first are shown and the others counted; programs get all.
#[test]
fn very_many_faults_are_counted() {
    let stand = Stand::new();
    std::fs::create_dir(stand.path("many")).unwrap();
    stand.write("many/handbook.yaml", "format: 1\nname: Many\nversion: 1\n");
    for file in 0..60 {
        let text = format!("findings:\n  f{file}: {{when: nope_{file}, sow: x}}\n");
        stand.write(&format!("many/{file}.yaml"), &text);
    }
    let ran = stand.run(&["check", "many"]);
    assert_eq!(ran.status, Some(5), "{ran:?}");
    assert_eq!(ran.stdout.matches("error[").count(), 100, "{}", ran.stdout);
    let end = "20 more are not shown, in 10 files: 10 of H201, 10 of H206\n120 errors\n\
               `--format json` lists all of them.\n";
    assert!(ran.stdout.ends_with(end), "{}", &ran.stdout[ran.stdout.len() - 400..]);
    let told = stand.run(&["check", "many", "--format", "json"]).json();
    assert_eq!(told["faults"].as_array().map(Vec::len), Some(120));
}

#[test]
fn what_replaces_nothing_is_a_fault() {
    let ran = Stand::new().run(&["--rules", "orphan", "check"]);
    assert_eq!((ran.status, ran.stderr.as_str()), (Some(5), ""), "{ran:?}");
    let message = "error[H208]: question `oil_song` replaces a built-in one, and there is none\n \
                   --> orphan/rules.yaml:2:3\n";
    assert!(ran.stdout.contains(message), "{}", ran.stdout);
}

#[test]
fn warnings_do_not_hold_up_a_case() {
    let stand = Stand::new();
    let ran = stand.run(&["--rules", "orphan", "diagnose", "--set", "oil_look=cloudy"]);
    assert_eq!((ran.status, ran.stdout.as_str()), (Some(5), ""), "{ran:?}");
    assert!(!ran.stderr.contains("warning["), "{}", ran.stderr);
}

#[test]
fn every_code_is_listed_and_has_its_page() {
    let stand = Stand::new();
    let list = stand.run(&["check", "--explain"]);
    assert_eq!(list.status, Some(0), "{list:?}");
    let codes: Vec<&str> = list.stdout.lines().map(|row| &row[..4]).collect();
    assert!(codes.len() > 60, "{codes:?}");
    for code in codes {
        let page = stand.run(&["check", "--explain", code]);
        assert!(page.stdout.starts_with(&format!("# {code}: ")), "{page:?}");
    }
}

/// The members that SARIF 2.1.0 requires (3.13, 3.14, 3.18, 3.19, 3.27), and the places of two
/// faults.
#[test]
fn sarif_names_each_fault_with_its_place() {
    let ran = Stand::new().run(&["check", "broken", "--format", "sarif"]);
    assert_eq!(ran.status, Some(5));
    let log = ran.json();
    assert_eq!(log["version"], "2.1.0");
    let run = &log["runs"][0];
    let rules = run["tool"]["driver"]["rules"].as_array().unwrap();
    assert_eq!(run["tool"]["driver"]["name"], "dryhold");
    let results = run["results"].as_array().unwrap();
    assert_eq!(results.len(), 2);
    for (result, (code, line, column)) in results.iter().zip([("H206", 9, 11), ("H601", 19, 15)]) {
        assert_eq!((&result["ruleId"], &result["level"]), (&code.into(), &"error".into()));
        let rule = &rules[usize::try_from(result["ruleIndex"].as_u64().unwrap()).unwrap()];
        assert_eq!(rule["id"], code);
        assert!(rule["help"]["text"].as_str().unwrap().contains("## Right"));
        assert!(!result["message"]["text"].as_str().unwrap().is_empty());
        let place = &result["locations"][0]["physicalLocation"];
        assert_eq!(place["artifactLocation"]["uri"], "broken/rules.yaml");
        assert_eq!(place["region"]["startLine"], line);
        assert_eq!(place["region"]["startColumn"], column);
    }
}

#[test]
fn a_watch_checks_and_rehearses_after_every_save() {
    let stand = Stand::new();
    let mut command = stand.command(&["check", "barrel", "--watch"]);
    let mut watch = command.stdout(Stdio::piped()).spawn().unwrap();
    let mut rows = BufReader::new(watch.stdout.take().unwrap()).lines();
    let mut round = || -> Vec<String> {
        rows.by_ref().map(Result::unwrap).take_while(|row| !row.starts_with("Waiting")).collect()
    };
    let first = round();
    assert!(first.iter().any(|row| row.contains("is sound")), "{first:?}");
    assert!(first.iter().any(|row| row.contains("as expected")), "{first:?}");
    let file = stand.path("barrel/values.yaml");
    let whole = std::fs::read_to_string(&file).unwrap();
    std::fs::write(&file, whole.replacen("ask:", "aks:", 1)).unwrap();
    let second = round();
    assert!(second.iter().any(|row| row.contains("did you mean `ask`?")), "{second:?}");
    std::fs::write(&file, &whole).unwrap();
    let third = round();
    assert!(third.iter().any(|row| row.contains("is sound")), "{third:?}");
    watch.kill().unwrap();
    watch.wait().unwrap();
}

/// A file that can't be read, one that is too large and one in another encoding hide nothing of
/// the others; a pipe is not waited for.
#[test]
fn one_bad_file_hides_no_fault_of_another() {
    let stand = Stand::new();
    let file = |name: &str| stand.path(&format!("broken/{name}"));
    std::fs::write(file("latin.yaml"), b"questions: {w\xe4rme: {}}\n").unwrap();
    std::fs::write(file("large.yaml"), vec![b'#'; 50 << 20]).unwrap();
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(file("nowhere"), file("gone.yaml")).unwrap();
        std::os::unix::fs::symlink(stand.path("broken"), file("loop")).unwrap();
        let made = std::process::Command::new("mkfifo").arg(file("pipe.yaml")).status().unwrap();
        assert!(made.success());
    }
    let ran = stand.run(&["check", "broken"]);
    assert_eq!((ran.status, ran.stderr.as_str()), (Some(5), ""), "{ran:?}");
    let told = [
        "`broken/latin.yaml` is not a UTF-8 text: line 1 holds the byte E4",
        "`broken/large.yaml` is larger than the 1024 KiB",
        "tree `well` has no step `finish`",
    ];
    for message in told {
        assert!(ran.stdout.contains(message), "{message}: {}", ran.stdout);
    }
    #[cfg(unix)]
    for message in ["`broken/gone.yaml` can't be read", "`broken/pipe.yaml` can't be read"] {
        assert!(ran.stdout.contains(message), "{message}: {}", ran.stdout);
    }
}

/// Conditions that compare several answers are named, and those of one answer are not.
#[test]
fn what_is_not_proved_is_named_for_programs() {
    let told = Stand::new().run(&["check", "--format", "json"]).json();
    let trees = told["not_proved"].as_array().unwrap();
    assert!(!trees.is_empty() && trees.iter().all(|tree| tree["ways_taken_together"] == false));
    let conditions = |id: &str| -> Vec<String> {
        let tree = trees.iter().filter(|tree| tree["tree"] == id);
        let conditions = tree.flat_map(|tree| tree["conditions"].as_array().unwrap());
        conditions.map(|condition| format!("{}: {}", condition["step"], condition["if"])).collect()
    };
    let again = conditions("hold_again");
    assert!(
        again.contains(&"\"second\": \"a_hold_was_few or not holds_alike\"".to_owned()),
        "{again:?}"
    );
    let alone = conditions("pump_alone");
    assert!(!alone.iter().any(|one| one.contains("pump_is_capped")), "{alone:?}");
}

/// Simple editors save `more.yaml.txt` and hide the ending.
#[test]
fn a_file_that_only_looks_like_rules_is_named() {
    let stand = Stand::new();
    stand.write("barrel/more.yaml.txt", "causes:\n  frost: {name: Frost}\n");
    let ran = stand.run(&["check", "--only-rules", "barrel"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let told = "advice[H112]: `barrel/more.yaml.txt` is not read\n";
    assert!(ran.stdout.contains(told), "{}", ran.stdout);
    assert!(ran.stdout.contains("if it holds rules, call it `more.yaml`"), "{}", ran.stdout);
    let ran = stand.run(&["rehearse", "--only-rules", "barrel"]);
    assert!(!ran.stdout.contains("H112") && !ran.stderr.contains("H112"), "{ran:?}");
}
