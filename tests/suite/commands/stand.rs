//! A folder to run the program in, and what comes of running it.

use std::fs;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use tempfile::TempDir;

/// A temporary folder with the files of `tests/fixtures/commands/files`, the miniature handbook as
/// `barrel`, a folder `hollow` and a file `hollow.yaml` with nothing in them, and a handbook
/// `latin` that is not UTF-8.
pub struct Stand {
    folder: TempDir,
}

/// What the program printed, and its exit status.
#[derive(Debug, PartialEq, Eq)]
pub struct Ran {
    pub stdout: String,
    pub stderr: String,
    pub status: Option<i32>,
}

impl Stand {
    pub fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        copy(&fixtures().join("commands/files"), folder.path());
        copy(&fixtures().join("miniature/rules"), &at("barrel"));
        fs::create_dir(at("hollow")).unwrap();
        fs::write(at("hollow.yaml"), "").unwrap();
        fs::create_dir(at("latin")).unwrap();
        fs::write(at("latin/rules.yaml"), b"questions: {w\xe4rme: {}}\n").unwrap();
        Self { folder }
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn write(&self, name: &str, text: &str) {
        fs::write(self.path(name), text).unwrap();
    }

    /// The program with these arguments: nobody at its terminal, no settings of the user's own, and
    /// asked for back traces, which no message may show.
    pub fn command<S: AsRef<std::ffi::OsStr>>(&self, arguments: &[S]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_dryhold"));
        command.args(arguments).current_dir(self.folder.path()).stdin(Stdio::null());
        command.env_clear().env("RUST_BACKTRACE", "1");
        command.env("HOME", self.path("home")).env("XDG_DATA_HOME", self.path("data"));
        command
    }

    /// Runs with so much on standard input. A program that has what it wants may end before it has read
    /// all: what is left over is lost, as in a pipe.
    pub fn run_fed<S: AsRef<std::ffi::OsStr>>(&self, arguments: &[S], input: &[u8]) -> Ran {
        let mut command = self.command(arguments);
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().unwrap();
        let fed = child.stdin.take().unwrap().write_all(input);
        let fault = fed.err().filter(|error| error.kind() != ErrorKind::BrokenPipe);
        assert!(fault.is_none(), "{fault:?}");
        Ran::of(child.wait_with_output().unwrap())
    }

    pub fn run<S: AsRef<std::ffi::OsStr>>(&self, arguments: &[S]) -> Ran {
        Ran::of(self.command(arguments).output().unwrap())
    }
}

impl Ran {
    pub fn of(output: Output) -> Self {
        Self {
            stdout: String::from_utf8(output.stdout).unwrap(),
            stderr: String::from_utf8(output.stderr).unwrap(),
            status: output.status.code(),
        }
    }

    /// Standard output as one JSON value.
    pub fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.stdout).unwrap_or_else(|error| panic!("{error}: {self:?}"))
    }
}

pub fn fixtures() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures")
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let (path, to) = {
            let entry = entry.unwrap();
            (entry.path(), to.join(entry.file_name()))
        };
        if path.is_dir() {
            copy(&path, &to);
        } else {
            fs::write(to, fs::read(path).unwrap()).unwrap();
        }
    }
}
