//! How long `dryhold diagnose` takes from its start to its first prompt, beside a program that
//! only says hello.
//!
//! Both are built with the same options by the same compiler, and run by turns, so that what else
//! the machine does slows both. A run is timed from the call that starts the process until the
//! words waited for have been read through a pipe. The case file is synced to the disk before the
//! first prompt, so the program is timed with its book on the disk and, where there is one, in a
//! folder that lives in memory.

use std::error::Error;
use std::ffi::OsString;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Turns that are timed, after a few that are not.
const TURNS: usize = 200;
const WARM_UP: usize = 10;

/// A folder whose files are kept in memory, on most Linux systems.
const MEMORY: &str = "/dev/shm";

/// The options of the release profile, for a program of one file.
const PROFILE: [&str; 8] =
    ["-C", "opt-level=3", "-C", "lto=thin", "-C", "codegen-units=1", "-C", "strip=symbols"];

fn main() -> Result<(), Box<dyn Error>> {
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR"))?;
    let mut racers = vec![hello(folder.path())?, diagnose("book on the disk", folder.path())];
    let memory = Path::new(MEMORY).is_dir().then(|| tempfile::tempdir_in(MEMORY)).transpose()?;
    racers.extend(memory.as_ref().map(|memory| diagnose("book in memory", memory.path())));
    for turn in 0..WARM_UP + TURNS {
        for racer in &mut racers {
            let taken = racer.run()?;
            if turn >= WARM_UP {
                racer.times.push(taken);
            }
        }
    }
    report(&mut racers)
}

/// A program and the words that it is timed to.
struct Racer {
    name: String,
    program: OsString,
    arguments: Vec<OsString>,
    /// What it says when it is ready.
    words: &'static str,
    /// The book that it keeps its case in; emptied after each run.
    book: Option<PathBuf>,
    times: Vec<Duration>,
}

/// The bare program, compiled into the folder.
fn hello(folder: &Path) -> Result<Racer, Box<dyn Error>> {
    let (source, program) = (folder.join("hello.rs"), folder.join("hello"));
    std::fs::write(&source, "fn main() { eprintln!(\"hello\"); }\n")?;
    let compiler = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    let mut build = Command::new(compiler);
    build.args(["--edition", "2024"]).args(PROFILE).arg(&source).arg("-o").arg(&program);
    if !build.status()?.success() {
        return Err("the bare program does not compile".into());
    }
    Ok(Racer {
        name: "hello".to_owned(),
        program: program.into(),
        arguments: Vec::new(),
        words: "hello",
        book: None,
        times: Vec::new(),
    })
}

fn diagnose(name: &str, folder: &Path) -> Racer {
    let book = folder.join("book");
    let arguments = ["diagnose", "--plain", "--book"].map(OsString::from);
    Racer {
        name: format!("diagnose, {name}"),
        program: env!("CARGO_BIN_EXE_dryhold").into(),
        arguments: arguments.into_iter().chain([book.clone().into()]).collect(),
        words: "Answer: ",
        book: Some(book),
        times: Vec::new(),
    }
}

impl Racer {
    /// Starts the program, waits for its words on standard error, and lets it end.
    fn run(&self) -> Result<Duration, Box<dyn Error>> {
        let start = Instant::now();
        let mut child = Command::new(&self.program)
            .args(&self.arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .stderr(Stdio::piped())
            .spawn()?;
        let mut talk = child.stderr.take().ok_or("standard error is not piped")?;
        let mut heard = Vec::new();
        while !heard.windows(self.words.len()).any(|window| window == self.words.as_bytes()) {
            let mut buffer = [0; 4096];
            let read = talk.read(&mut buffer)?;
            if read == 0 {
                return Err(format!("{} never says `{}`", self.name, self.words).into());
            }
            heard.extend_from_slice(&buffer[..read]);
        }
        let taken = start.elapsed();
        drop(child.stdin.take());
        talk.read_to_end(&mut heard)?;
        child.wait()?;
        self.book.iter().try_for_each(std::fs::remove_dir_all)?;
        Ok(taken)
    }
}

fn report(racers: &mut [Racer]) -> Result<(), Box<dyn Error>> {
    let mut out = std::io::stdout();
    writeln!(out, "{TURNS} turns; milliseconds to the first words")?;
    writeln!(out, "| program | fastest | median | 95 in 100 | median beside hello |")?;
    writeln!(out, "| --- | --- | --- | --- | --- |")?;
    let mut bare = None;
    for racer in racers {
        racer.times.sort_unstable();
        let at = |share: usize| racer.times[(TURNS - 1) * share / 100].as_secs_f64() * 1e3;
        let beside = at(50) / *bare.get_or_insert(at(50));
        let (fastest, median, slow) = (at(0), at(50), at(95));
        let name = &racer.name;
        writeln!(out, "| {name} | {fastest:.2} | {median:.2} | {slow:.2} | {beside:.1} |")?;
    }
    Ok(())
}
