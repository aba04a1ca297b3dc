//! A desk with a home of its own, and the sittings of a person at its terminal.

use std::path::PathBuf;
use std::process::Command;

use rexpect::process::Signal;
use rexpect::session::{Options, PtySession, spawn_with_options};
use tempfile::TempDir;

/// How long the person waits for the program (ms); generous, for a busy machine.
const PATIENCE: u64 = 60_000;

/// A folder that is home, and holds the rules.
pub struct Desk {
    folder: TempDir,
}

/// One run of the program with a person in front of it.
pub struct Sitting {
    session: PtySession,
}

impl Desk {
    /// A desk without rules of its own.
    pub fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    /// A desk with a handbook in the folder `rules`.
    pub fn with_rules(text: &str) -> Self {
        let desk = Self::new();
        std::fs::create_dir(desk.path("rules")).unwrap();
        std::fs::write(desk.path("rules/handbook.yaml"), text).unwrap();
        desk
    }

    /// A path in the folder.
    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// The program with these arguments, as it runs at this desk.
    pub fn program(&self, arguments: &[&str]) -> Command {
        let mut program = Command::new(env!("CARGO_BIN_EXE_dryhold"));
        program.args(arguments).current_dir(self.folder.path()).env_clear();
        program.env("HOME", self.folder.path()).env("XDG_DATA_HOME", self.path("data"));
        program.env("TERM", "xterm-256color").env("NO_COLOR", "1");
        program
    }

    /// Sits down at the program with these arguments, apart by blanks.
    pub fn sit(&self, arguments: &str) -> Sitting {
        self.sit_before(arguments, true)
    }

    /// The same with all that the program sends to the terminal left in.
    pub fn sit_raw(&self, arguments: &str) -> Sitting {
        self.sit_before(arguments, false)
    }

    /// Sits down at a terminal that a program which was killed has left reading single keys.
    pub fn sit_at_a_raw_terminal(&self, arguments: &str) -> Sitting {
        let program = self.program(&[]);
        let mut shell = Command::new("/bin/sh");
        let command = format!("stty raw -echo; exec {} {arguments}", env!("CARGO_BIN_EXE_dryhold"));
        shell.args(["-c", &command]).current_dir(self.folder.path()).env_clear();
        shell.env("PATH", "/usr/bin:/bin");
        for (name, value) in program.get_envs() {
            shell.env(name, value.unwrap_or_default());
        }
        let options = Options::new().timeout_ms(Some(PATIENCE)).strip_ansi_escape_codes(true);
        Sitting { session: spawn_with_options(shell, options).unwrap() }
    }

    /// Sits down with other variables.
    pub fn sit_as(&self, arguments: &str, variables: &[(&str, &str)]) -> Sitting {
        let arguments: Vec<&str> = arguments.split_whitespace().collect();
        let mut program = self.program(&arguments);
        program.envs(variables.iter().copied());
        let options = Options::new().timeout_ms(Some(PATIENCE)).strip_ansi_escape_codes(true);
        Sitting { session: spawn_with_options(program, options).unwrap() }
    }

    fn sit_before(&self, arguments: &str, is_stripped: bool) -> Sitting {
        let arguments: Vec<&str> = arguments.split_whitespace().collect();
        let options = Options::new().timeout_ms(Some(PATIENCE));
        let options = options.strip_ansi_escape_codes(is_stripped);
        Sitting { session: spawn_with_options(self.program(&arguments), options).unwrap() }
    }

    /// The case files, in the order of their names.
    pub fn cases(&self) -> Vec<PathBuf> {
        let Ok(entries) = std::fs::read_dir(self.path("data/dryhold/cases")) else {
            return Vec::new();
        };
        let paths = entries.map(|entry| entry.unwrap().path());
        let mut cases: Vec<PathBuf> =
            paths.filter(|path| path.extension().is_some_and(|ending| ending == "jsonl")).collect();
        cases.sort();
        cases
    }
}

impl Sitting {
    /// Waits for a text, wherever its rows are broken; what came before it, with single blanks.
    pub fn sees(&mut self, text: &str) -> String {
        let words: Vec<String> = text.split_whitespace().map(escaped).collect();
        self.matches(&words.join(r"\s+"))
    }

    /// Waits for a pattern; what came before it, with single blanks.
    pub fn matches(&mut self, pattern: &str) -> String {
        match self.session.exp_regex(pattern) {
            Ok((before, _)) => one_line(&before),
            Err(error) => panic!("waited for `{pattern}`: {error}"),
        }
    }

    /// Waits until the plain prompt wants an answer; what was said since the last one.
    pub fn wants(&mut self) -> String {
        self.matches("Answer: ")
    }

    /// At a plain prompt: waits for it and types a line; what was said before it.
    pub fn answers(&mut self, line: &str) -> String {
        let said = self.wants();
        self.session.send_line(line).unwrap();
        said
    }

    /// Presses keys.
    pub fn presses(&mut self, keys: &str) {
        self.session.send(keys).unwrap();
        self.session.flush().unwrap();
    }

    /// At a list or field: waits for it and types; what was said before it.
    pub fn picks(&mut self, keys: &str) -> String {
        let said = self.matches(r"Esc\s+(for\s+more|leaves)");
        self.presses(&format!("{keys}\r"));
        said
    }

    /// Makes the terminal wide, so that no row of a prompt is broken.
    pub fn widened(self) -> Self {
        self.sized(50, 400)
    }

    /// Gives the terminal so many rows and columns.
    pub fn sized(self, rows: u16, columns: u16) -> Self {
        let terminal = self.session.process().get_file_handle().unwrap();
        let status = Command::new("stty")
            .args(["rows", &rows.to_string(), "cols", &columns.to_string()])
            .stdin(terminal)
            .status()
            .unwrap();
        assert!(status.success());
        self
    }

    /// Presses Ctrl with a letter.
    pub fn control(&mut self, letter: char) {
        self.session.send_control(letter).unwrap();
        self.session.flush().unwrap();
    }

    /// Whether the terminal hands on whole lines, as it does unless a program reads single keys.
    pub fn is_cooked(&mut self) -> bool {
        let terminal = self.session.process().get_file_handle().unwrap();
        let output = Command::new("stty").arg("-a").stdin(terminal).output().unwrap();
        let modes = String::from_utf8(output.stdout).unwrap();
        let modes: Vec<&str> = modes.split([' ', ';', '\n']).collect();
        modes.contains(&"icanon")
    }

    /// Asks the program to end, as a system that goes down does.
    pub fn terminate(&mut self) {
        self.session.process_mut().signal(Signal::SIGTERM).unwrap();
    }

    /// Ends the program without asking it.
    pub fn kill(mut self) {
        self.session.process_mut().kill(Signal::SIGKILL).unwrap();
    }

    /// The program ends with this status; what was said last.
    pub fn ends(mut self, status: i32) -> String {
        let rest = one_line(&self.session.exp_eof().unwrap());
        // The status has no public type; it shows itself as `Exited(Pid(123), 3)`.
        let ending = format!("{:?}", self.session.process().wait().unwrap());
        let expected = format!(", {status})");
        assert!(ending.starts_with("Exited") && ending.ends_with(&expected), "{ending}: {rest}");
        rest
    }
}

/// The text with single blanks instead of its row breaks.
pub fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The text as a pattern that matches nothing else.
pub fn escaped(text: &str) -> String {
    text.chars()
        .flat_map(|c| if c.is_ascii_punctuation() { vec!['\\', c] } else { vec![c] })
        .collect()
}
