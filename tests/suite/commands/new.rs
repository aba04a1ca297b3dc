//! `dryhold new`: what it writes passes, and what it can't write it says.

use std::fs;
use std::path::Path;

use super::stand::{Ran, Stand};

/// Every file below a folder.
fn files(folder: &Path) -> Vec<std::path::PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() { found.extend(files(&path)) } else { found.push(path) }
    }
    found.sort();
    found
}

/// The handbook with a folder is sound, and nothing is told of what `new` has written below these
/// folders, not even advice.
fn assert_silent(stand: &Stand, options: &[&str]) {
    assert_silent_about(stand, options, options.last().unwrap());
}

fn assert_silent_about(stand: &Stand, options: &[&str], written: &str) {
    assert_advised(stand, options, written, &[]);
}

/// The handbook is sound, and of what stands below a folder this advice is told alone.
fn assert_advised(stand: &Stand, options: &[&str], written: &str, advice: &[&str]) {
    let mut arguments = vec!["check"];
    arguments.extend(options);
    let ran = stand.run(&arguments);
    assert_eq!((ran.status, ran.stderr.as_str()), (Some(0), ""), "{ran:?}");
    for told in ["error[", "warning["] {
        assert!(!ran.stdout.contains(told), "{told}: {}", ran.stdout);
    }
    let lines: Vec<&str> = ran.stdout.lines().collect();
    let place = format!("--> {written}/");
    let is_there = |pair: &&[&str]| pair[1].contains(&place);
    let told: Vec<&str> = lines.windows(2).filter(is_there).map(|pair| pair[0]).collect();
    assert_eq!(told, advice, "{}", ran.stdout);
    assert!(ran.stdout.contains(" is sound: "), "{ran:?}");
}

fn entry<'a>(word: &'a str, id: &'a str, title: &'a str, into: &'a str) -> Vec<&'a str> {
    vec!["new", word, "--id", id, "--title", title, "--into", into]
}

fn typed(stand: &Stand, arguments: &[&str], lines: &str) -> Ran {
    stand.run_fed(arguments, lines.as_bytes())
}

#[test]
fn what_is_written_passes_beside_the_built_in_handbook() {
    let stand = Stand::new();
    for (word, id) in [("tree", "each_hose"), ("cause", "flat_gasket")] {
        let ran = stand.run(&entry(word, id, "A: \"first\" #1 {look}", "mine"));
        assert_eq!(ran.status, Some(0), "{ran:?}");
        assert!(ran.stdout.starts_with("written: mine/"), "{ran:?}");
    }
    // The built-in handbook can't know of them.
    let left_out = "advice[H516]: finding `symptom_seen` names every cause but `flat_gasket`";
    let unoffered = "advice[H622]: no tree leads to tree `each_hose` or offers it";
    assert_advised(&stand, &["--rules", "mine"], "mine", &[left_out, unoffered]);
    let mut unasked = Vec::new();
    for kind in ["yes/no", "choice", "pressure", "temperature", "time", "length", "volume", "ratio"]
    {
        let id = format!("asked_{}", kind.replace('/', "_"));
        let mut arguments = entry("question", &id, "Who has used {this} hose: when?", "mine");
        arguments.extend(["--kind", kind]);
        let ran = stand.run(&arguments);
        assert_eq!(ran.status, Some(0), "{ran:?}");
        unasked.push(format!("advice[H213]: nothing uses question `{id}`"));
    }
    // No tree asks them yet.
    unasked.sort();
    let mut told: Vec<&str> = vec![left_out];
    told.extend(unasked.iter().map(|t| &**t));
    told.push(unoffered);
    assert_advised(&stand, &["--rules", "mine"], "mine", &told);
    let asked = fs::read_to_string(stand.path("mine/questions/asked_time.yaml")).unwrap();
    assert!(asked.contains("    ask: >\n      Who has used {{this}} hose: when?\n"), "{asked}");
}

#[test]
fn a_new_cause_is_weighed_by_its_look() {
    let stand = Stand::new();
    stand.run(&entry("cause", "flat_gasket", "A flat gasket", "mine"));
    let set = ["--set", "flat_gasket_look=faulty"];
    let mut arguments = vec!["diagnose", "--rules", "mine", "--json"];
    arguments.extend(set);
    let verdict = stand.run(&arguments).json();
    let first = &verdict["ranking"][0];
    assert_eq!(first["cause"], "flat_gasket", "{first}");
    assert!(first["probability"].as_f64().unwrap() > 0.25, "{first}");
}

#[test]
fn a_handbook_of_its_own_passes_with_its_scenario() {
    let stand = Stand::new();
    let ran = stand.run(&["new", "handbook", "Parts & seals", "--into", "parts"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert_eq!(ran.stdout.lines().count(), 6, "{ran:?}");
    assert_silent(&stand, &["parts"]);
    let ran = stand.run(&["rehearse", "--only-rules", "parts", "parts-scenarios"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert!(ran.stdout.ends_with("1 scenario, 1 as expected\n"), "{}", ran.stdout);
    // Entries join it, and it stays sound without the built-in handbook.
    for (word, id) in [("tree", "second"), ("cause", "bad_luck"), ("question", "weather")] {
        let ran = stand.run(&entry(word, id, "Another", "parts"));
        assert_eq!(ran.status, Some(0), "{ran:?}");
        assert!(ran.stderr.contains("dryhold check --only-rules parts"), "{ran:?}");
    }
    let unasked = "advice[H213]: nothing uses question `weather`";
    let unoffered = "advice[H622]: no tree leads to tree `second` or offers it";
    assert_advised(&stand, &["parts"], "parts", &[unasked, unoffered]);
}

#[test]
fn a_tree_in_an_empty_folder_offers_a_handbook() {
    let stand = Stand::new();
    let ran = stand.run(&entry("tree", "vans", "Vans", "hollow"));
    assert!(ran.stderr.contains("--handbook writes a whole small one"), "{ran:?}");
    let mut arguments = entry("tree", "vans", "Vans", "whole");
    arguments.push("--handbook");
    let ran = stand.run(&arguments);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert!(stand.path("whole/trees/vans.yaml").exists(), "{ran:?}");
    assert_silent(&stand, &["whole"]);
    let again = stand.run(&arguments);
    assert_eq!(again.status, Some(2), "{again:?}");
    assert!(again.stderr.contains("whole holds rules already"), "{again:?}");
}

#[test]
fn a_gauge_is_brought_where_there_is_none() {
    let stand = Stand::new();
    fs::create_dir(stand.path("bare")).unwrap();
    stand.write("bare/handbook.yaml", "format: 1\nname: Bare\nversion: 1\n");
    stand.run(&entry("tree", "second", "A second look", "bare"));
    let text = fs::read_to_string(stand.path("bare/trees/second.yaml")).unwrap();
    assert!(text.contains("\ninstruments:\n"), "{text}");
    assert_silent(&stand, &["bare"]);
    // The gauge of the rain barrel is a thermometer.
    stand.run(&entry("tree", "second", "A second look", "barrel"));
    let text = fs::read_to_string(stand.path("barrel/trees/second.yaml")).unwrap();
    assert!(!text.contains("instrument"), "{text}");
    assert_silent_about(&stand, &["barrel"], "barrel/trees");
}

#[test]
fn a_scenario_runs_and_says_what_is_to_be_filled_in() {
    let stand = Stand::new();
    for tree in ["pump_alone", "part_in_line", "start", "safety", "hold_test"] {
        let mut arguments = entry("scenario", tree, "A: first", "try-outs");
        arguments.extend(["--tree", tree]);
        let ran = stand.run(&arguments);
        assert_eq!(ran.status, Some(0), "{ran:?}");
        let told = ran.stderr.replace('\n', " ");
        assert!(told.contains("its expectation is to be filled in"), "{ran:?}");
        let file = format!("try-outs/{tree}.yaml");
        let text = fs::read_to_string(stand.path(&file)).unwrap();
        assert!(text.contains("# To be filled in") && text.contains("# expect:\n"), "{text}");
        // What is proposed under `expect` is of that tree.
        if tree == "pump_alone" {
            let proposed = "#   ranking:\n#     pump_oil: at least likely\n#   findings:\n#     \
                            blank_off_high: true\n";
            assert!(text.contains(proposed), "{text}");
            assert!(!text.contains("system_leak"), "{text}");
            let stops = "acknowledge: [system_open, flammable_residue, swap_parts]\n";
            assert!(text.contains(stops), "{text}");
        }
        let ran = stand.run(&["rehearse", &file]);
        assert_eq!(ran.status, Some(0), "{}", ran.stdout.lines().next().unwrap());
        assert!(ran.stdout.starts_with("not judged "), "{tree}: {}", ran.stdout);
    }
}

/// Every starter, and the scenario of a tree, fits into sixty columns.
#[test]
fn what_is_written_is_narrow() {
    let stand = Stand::new();
    stand.run(&["new", "handbook", "Parts", "--into", "parts"]);
    stand.run(&entry("tree", "a_b", "Look", "mine"));
    stand.run(&entry("cause", "a_c", "Look", "mine"));
    for kind in ["yes/no", "choice", "time"] {
        let id = format!("q_{}", &kind[..1]);
        let mut arguments = entry("question", &id, "How old?", "mine");
        arguments.extend(["--kind", kind]);
        stand.run(&arguments);
    }
    let mut arguments = entry("scenario", "s", "S", "mine-scenarios");
    arguments.extend(["--tree", "pump_alone"]);
    stand.run(&arguments);
    let mut rows = 0;
    for folder in ["parts", "parts-scenarios", "mine", "mine-scenarios"] {
        for file in files(&stand.path(folder)) {
            for (number, row) in fs::read_to_string(&file).unwrap().lines().enumerate() {
                rows += 1;
                let is_command = row.contains("#   dryhold ");
                let fits = row.chars().count() <= 60 || is_command;
                assert!(fits, "{}:{}: {row}", file.display(), number + 1);
                assert!(!row.contains('@'), "{}:{}: {row}", file.display(), number + 1);
            }
        }
    }
    assert!(rows > 400, "only {rows} rows were looked at");
}

#[test]
fn nothing_is_ever_overwritten() {
    let stand = Stand::new();
    fs::create_dir_all(stand.path("mine/causes")).unwrap();
    stand.write("mine/causes/dust.yaml", "# kept\n");
    let ran = stand.run(&entry("cause", "dust", "Dust", "mine"));
    assert_eq!((ran.status, ran.stdout.as_str()), (Some(2), ""), "{ran:?}");
    assert!(ran.stderr.contains("mine/causes/dust.yaml is there already"), "{ran:?}");
    assert_eq!(fs::read_to_string(stand.path("mine/causes/dust.yaml")).unwrap(), "# kept\n");
    // Of a handbook nothing is written if its scenario can't be.
    fs::create_dir_all(stand.path("parts-scenarios/start")).unwrap();
    stand.write("parts-scenarios/start/torn_seal.yaml", "# kept\n");
    let ran = stand.run(&["new", "handbook", "Parts", "--into", "parts"]);
    assert_eq!(ran.status, Some(2), "{ran:?}");
    assert!(!stand.path("parts").exists());
}

#[test]
fn what_is_missing_is_named_and_what_is_wrong_is_refused() {
    let stand = Stand::new();
    stand.write("a_file", "");
    stand.run(&entry("tree", "each_hose", "T", "mine"));
    let refused = [
        (vec!["new", "tree"], "`new tree` needs --id ID, --title TEXT and --into FOLDER; "),
        (vec!["new", "tree", "--id", "x", "--into", "y"], "`new tree` needs --title TEXT; "),
        (vec!["new", "handbook"], "`new handbook` needs NAME and --into FOLDER; "),
        (vec!["new", "scenario", "--id", "x"], "needs --title TEXT, --tree TREE and --into FOLDER"),
        (entry("tree", "each_hose", "T", "mine"), "a tree `each_hose` already, in mine/trees/"),
        (entry("question", "oil_look", "T", "mine"), "a question `oil_look` already, in rules/"),
        (entry("question", "blank_off_high", "T", "mine"), "there is a finding `blank_off_high`"),
        (entry("question", "micron", "T", "mine"), "`micron` is a unit; choose another id"),
        (entry("question", "else", "T", "mine"), "`else` is a word of the formula language"),
        (entry("tree", "Each Part", "T", "mine"), "`Each Part` is no id"),
        (entry("tree", "Each Part", "T", "mine"), "write `each_part`"),
        (entry("tree", "x", "", "mine"), "the text is empty"),
        (entry("tree", "x", "\u{1b}[2J", "mine"), "a character that can't be seen"),
        (entry("tree", "x", "T", " "), "this is no name of a folder"),
        (entry("tree", "x", "T", "a_file"), "a_file can't be read: it is not a folder"),
        (entry("tree", "x", "T", "a_file/below"), "a_file"),
        (
            [entry("scenario", "x", "T", "s"), vec!["--tree", "pump_alon"]].concat(),
            "did you mean `pump_alone`?",
        ),
        (
            [entry("scenario", "x", "T", "barrel"), vec!["--tree", "a", "--only-rules", "barrel"]]
                .concat(),
            "there is no tree `a`; the trees are ",
        ),
        (
            [
                entry("scenario", "x", "T", "barrel/s"),
                vec!["--tree", "barrel", "--only-rules", "barrel"],
            ]
            .concat(),
            "barrel/s lies in the rules barrel",
        ),
        (
            [entry("question", "x", "T", "mine"), vec!["--kind", "presure"]].concat(),
            "did you mean `pressure`?",
        ),
        // An id that the starter makes of it is taken.
        (entry("question", "each_hose_limit", "T", "mine"), "a question `each_hose_limit` already"),
    ];
    for (arguments, said) in refused {
        let ran = stand.run(&arguments);
        assert_eq!((ran.status, ran.stdout.as_str()), (Some(2), ""), "{arguments:?}: {ran:?}");
        assert!(ran.stderr.contains(said), "{arguments:?}: {}", ran.stderr);
    }
}

#[test]
fn an_id_made_by_the_starter_that_is_taken_is_told_with_its_place() {
    let stand = Stand::new();
    stand.run(&entry("question", "dust_look", "Is it dusty?", "mine"));
    let ran = stand.run(&entry("cause", "dust", "Dust", "mine"));
    assert_eq!(ran.status, Some(2), "{ran:?}");
    assert!(ran.stderr.contains("two questions are called `dust_look`"), "{}", ran.stderr);
    assert!(!stand.path("mine/causes").exists());
}

#[test]
fn a_near_id_is_told_and_taken() {
    let stand = Stand::new();
    let ran = stand.run(&entry("question", "oil_lok", "T?", "mine"));
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert!(
        ran.stderr.contains("`oil_lok` is near to a question `oil_look`, in rules/"),
        "{ran:?}"
    );
}

/// A handbook that has faults of its own does not keep an author from going on.
#[test]
fn other_faults_are_counted_and_do_not_hold_it_up() {
    let stand = Stand::new();
    let ran = stand.run(&entry("question", "weather", "Does it rain?", "broken"));
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert!(ran.stderr.contains("the handbook has 2 faults besides"), "{ran:?}");
}

#[cfg(unix)]
#[test]
fn a_folder_without_permission_is_told() {
    use std::os::unix::fs::PermissionsExt;
    let stand = Stand::new();
    let locked = stand.path("locked");
    fs::create_dir(&locked).unwrap();
    fs::set_permissions(&locked, fs::Permissions::from_mode(0o555)).unwrap();
    if fs::write(locked.join("probe"), "").is_ok() {
        // Whoever may do everything is refused nothing.
        return;
    }
    let ran = stand.run(&entry("tree", "x", "T", "locked"));
    assert_eq!(ran.status, Some(2), "{ran:?}");
    assert!(ran.stderr.contains("locked/trees can't be made: you have no permission"), "{ran:?}");
}

#[test]
fn at_a_terminal_it_asks_for_what_is_missing() {
    let stand = Stand::new();
    let lines = "mine\nEach hose\nEach hose\neach_hose\n2\n";
    let ran = typed(&stand, &["--plain", "new", "tree"], lines);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    for said in
        ["Nothing is written before the last", "Which folder", "called?", "write `each_hose`"]
    {
        assert!(ran.stderr.contains(said), "{said}: {}", ran.stderr);
    }
    let unoffered = "advice[H622]: no tree leads to tree `each_hose` or offers it";
    assert_advised(&stand, &["--rules", "mine"], "mine", &[unoffered]);
    let ran = typed(&stand, &["--plain", "new", "tree", "--into", "whole"], "Vans\nvans\n1\n");
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert_silent(&stand, &["whole"]);
    let ran = typed(&stand, &["--plain", "new", "question"], "mine\nHow old?\nhow_old\n5\n");
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let text = fs::read_to_string(stand.path("mine/questions/how_old.yaml")).unwrap();
    assert!(text.contains("kind: time\n"), "{text}");
    let lines = "pump_alone\nscen\nThe van\nvan\n";
    let ran = typed(&stand, &["--plain", "new", "scenario"], lines);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert!(stand.path("scen/van.yaml").exists());
}

#[test]
fn leaving_early_writes_nothing() {
    let stand = Stand::new();
    let ran = typed(&stand, &["--plain", "new", "cause"], "mine\nDust\n");
    assert_eq!((ran.status, ran.stdout.as_str()), (Some(3), ""), "{ran:?}");
    assert!(ran.stderr.ends_with("dryhold: nothing is written\n"), "{ran:?}");
    assert!(!stand.path("mine").exists());
}
