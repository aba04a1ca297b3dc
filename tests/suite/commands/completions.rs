//! `dryhold completions` and `dryhold manual`: what a shell and `man` make of them.

use std::process::Command;

use super::stand::{Ran, Stand};

/// What is offered behind these words, the last of which is being typed.
fn offered(stand: &Stand, words: &[&str]) -> Vec<String> {
    let mut command = stand.command(&[&["--"], words].concat());
    command.env("DRYHOLD_COMPLETE", "zsh");
    command.env("_CLAP_COMPLETE_INDEX", (words.len() - 1).to_string());
    command.env("_CLAP_IFS", "\n");
    let ran = Ran::of(command.output().unwrap());
    assert_eq!((ran.status, ran.stderr.as_str()), (Some(0), ""));
    ran.stdout.lines().map(str::to_owned).collect()
}

#[test]
fn trees_questions_and_cases_are_offered_as_the_line_names_them() {
    let stand = Stand::new();
    let trees = offered(&stand, &["dryhold", "diagnose", "pump_a"]);
    assert_eq!(trees, ["pump_alone:The pump on its own"]);
    assert_eq!(offered(&stand, &["dryhold", "diagnose", "--set", "blank_o"]), ["blank_off="]);
    // bash takes the sign for a word of its own.
    let nothing = Vec::<String>::new();
    for behind in [&["="][..], &["=", ""], &["=", "sh"]] {
        let words = [&["dryhold", "diagnose", "--set", "ballast_state"][..], behind].concat();
        assert_eq!(offered(&stand, &words), nothing, "{behind:?}");
    }
    let ran = stand.run_fed(&["--plain", "diagnose", "--book", "van"], b"");
    assert_eq!(ran.status, Some(3), "{}", ran.stderr);
    let cases = offered(&stand, &["dryhold", "--book", "van", "report", ""]);
    let is_case = |case: &String| case.starts_with("20") && case.ends_with("-1");
    assert_eq!(cases.iter().filter(|case| is_case(case)).count(), 1, "{cases:?}");
    std::fs::create_dir(stand.path("own")).unwrap();
    stand.write("own/own.yaml", OWN);
    let own = offered(&stand, &["dryhold", "--only-rules", "own", "diagnose", ""]);
    assert!(own.contains(&"look:A look".to_owned()), "{own:?}");
    assert!(!own.iter().any(|tree| tree.starts_with("pump")), "{own:?}");
}

const OWN: &str = "\
format: 1
name: A look
version: 1
trees:
  look: {title: A look, start: end, steps: {end: {end: Nothing more.}}}
";

#[test]
fn what_is_no_shell_is_said() {
    let stand = Stand::new();
    let mut command = stand.command(&["--", "dryhold", ""]);
    let ran = Ran::of(command.env("DRYHOLD_COMPLETE", "abacus").output().unwrap());
    assert_eq!(ran.status, Some(2));
    assert!(ran.stderr.contains("no shell `abacus` is known; there are bash,"), "{}", ran.stderr);
}

/// Skipped with a notice where no such shell is.
#[test]
fn bash_completes_by_the_script() {
    let stand = Stand::new();
    stand.write("script", &stand.run(&["completions", "bash"]).stdout);
    let program = stand.command::<&str>(&[]).get_program().to_owned();
    let folder = std::path::Path::new(&program).parent().unwrap().to_owned();
    let asks = "source ./script; COMP_WORDS=(dryhold diagnose pull_d); COMP_CWORD=2; \
                _clap_complete_dryhold dryhold pull_d diagnose; echo \"${COMPREPLY[*]}\"";
    let path = format!("{}:{}", folder.display(), std::env::var("PATH").unwrap_or_default());
    let mut bash = Command::new("bash");
    bash.args(["--norc", "-c", asks]).current_dir(stand.path("")).env("PATH", path);
    let Ok(output) = bash.output() else {
        println!("skipped: there is no bash here");
        return;
    };
    let ran = Ran::of(output);
    assert_eq!(ran.stdout.trim(), "pull_down", "{}", ran.stderr);
}

#[test]
fn every_command_has_a_manual_page_with_its_exit_status() {
    let stand = Stand::new();
    let ran = stand.run(&["manual", "--folder", "man"]);
    assert!(ran.stderr.contains("pages are written to man"), "{}", ran.stderr);
    let read = |name: &str| std::fs::read_to_string(stand.path(&format!("man/{name}.1"))).unwrap();
    let program = read("dryhold");
    for row in [".SH NAME", ".SH SUBCOMMANDS", ".SH EXAMPLES", ".SH \"EXIT STATUS\""] {
        assert!(program.lines().any(|line| line == row), "{row}: {program}");
    }
    assert!(program.contains("130  interrupted; the case is kept"), "{program}");
    let diagnose = read("dryhold-diagnose");
    assert!(diagnose.contains("dryhold\\-diagnose \\- Runs one case"), "{diagnose}");
    for name in ["rise", "watch", "check", "rehearse", "practice", "completions"] {
        assert!(read(&format!("dryhold-{name}")).contains(".SH OPTIONS"), "{name}");
    }
    assert_eq!(stand.run(&["manual", "rise"]).stdout, read("dryhold-rise"));
    let ran = stand.run(&["manual", "ris"]);
    assert_eq!(ran.status, Some(2));
    assert!(ran.stderr.contains("did you mean `rise`?"), "{}", ran.stderr);
}
