//! `dryhold completions` and `dryhold manual`: what a shell and `man` make of them.

use std::process::Command;

use super::stand::{Ran, Stand};

/// What zsh is offered behind these words, the last of which is being typed.
fn offered(stand: &Stand, words: &[&str]) -> Vec<String> {
    offered_to(stand, "zsh", words)
}

fn offered_to(stand: &Stand, shell: &str, words: &[&str]) -> Vec<String> {
    let mut command = stand.command(&[&["--"], words].concat());
    command.env("DRYHOLD_COMPLETE", shell);
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

/// bash takes the sign for a word of its own, and replaces only what stands behind it.
#[test]
fn behind_the_sign_the_answers_of_the_question_are_offered() {
    let stand = Stand::new();
    let set = |id: &str, behind: &[&str]| {
        let words = [&["dryhold", "diagnose", "--set", id][..], behind].concat();
        offered_to(&stand, "bash", &words)
    };
    let looks = ["clear", "low", "dark", "foaming", "cloudy", "not-sure"];
    assert_eq!(set("oil_look", &["="]), looks);
    assert_eq!(set("oil_look", &["=", ""]), looks);
    assert_eq!(set("oil_look", &["=", "c"]), ["clear", "cloudy"]);
    assert_eq!(set("still_falling", &["="]), ["yes", "no", "not-sure"]);
    // A figure can't be offered, and what is no question has no answers.
    for (id, behind) in [("blank_off", "4"), ("blank_off", ""), ("nothing", ""), ("oil_look", "-")]
    {
        assert_eq!(set(id, &["=", behind]), Vec::<String>::new(), "{id}={behind}");
    }
    let whole = offered(&stand, &["dryhold", "diagnose", "--set", "oil_look=cl"]);
    assert_eq!(whole.len(), 2, "{whole:?}");
    assert!(whole[0].starts_with("oil_look=clear:"), "{whole:?}");
    let taken = stand.run(&["try", "pump_alone", "--set", "oil_look=not-sure"]);
    assert!(!taken.stderr.contains("oil_look="), "{taken:?}");
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
    for (words, typed, offered) in [
        ("pull_d", "pull_d", "pull_down"),
        // As bash divides the words, and gives nothing as the word where only the sign was typed.
        ("--set still_falling =", "", "yes no not-sure"),
        ("--set still_falling = y", "y", "yes"),
        ("--set blank_off =", "", ""),
    ] {
        let place = 1 + words.split(' ').count();
        let asks = format!(
            "source ./script; COMP_WORDS=(dryhold diagnose {words}); COMP_CWORD={place}; \
             _clap_complete_dryhold dryhold '{typed}' diagnose; echo \"${{COMPREPLY[*]}}\""
        );
        let Some(ran) = in_bash(&stand, &asks) else {
            println!("skipped: there is no bash here");
            return;
        };
        assert_eq!(ran.stdout.trim(), offered, "{words}: {}", ran.stderr);
    }
}

/// What bash makes of a line, with the program on its path; none where there is no bash.
fn in_bash(stand: &Stand, line: &str) -> Option<Ran> {
    let program = stand.command::<&str>(&[]).get_program().to_owned();
    let folder = std::path::Path::new(&program).parent().unwrap().to_owned();
    let path = format!("{}:{}", folder.display(), std::env::var("PATH").unwrap_or_default());
    let mut bash = Command::new("bash");
    bash.args(["--norc", "-c", line]).current_dir(stand.path("")).env("PATH", path);
    bash.output().ok().map(Ran::of)
}

#[test]
fn every_command_has_a_manual_page_with_its_exit_status() {
    let stand = Stand::new();
    let ran = stand.run(&["manual", "--folder", "man"]);
    assert!(ran.stderr.contains("pages are written to man"), "{}", ran.stderr);
    assert!(ran.stderr.contains("To read them: man -l man/dryhold.1\n"), "{}", ran.stderr);
    let ran = stand.run(&["manual", "--folder", "own pages/man1"]);
    assert!(ran.stderr.contains("To read them: man -M 'own pages' dryhold\n"), "{}", ran.stderr);
    let read = |name: &str| std::fs::read_to_string(stand.path(&format!("man/{name}.1"))).unwrap();
    let program = read("dryhold");
    for row in [".SH NAME", ".SH SUBCOMMANDS", ".SH EXAMPLES", ".SH \"EXIT STATUS\""] {
        assert!(program.lines().any(|line| line == row), "{row}: {program}");
    }
    assert!(program.contains("\n.TP 5\n130\ninterrupted; the case is kept\n"), "{program}");
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
