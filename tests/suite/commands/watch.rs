//! `dryhold watch` on a pipe: a line at a time, kept before it counts, whatever ends it.

use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, ChildStdout, Stdio};

use super::stand::{Ran, Stand};
use super::transcript::replays;

/// A watch with its pipes in hand.
struct Piped {
    child: Child,
    input: Option<ChildStdin>,
    output: BufReader<ChildStdout>,
}

impl Piped {
    fn start(stand: &Stand, arguments: &[&str]) -> Self {
        let mut command = stand.command(&[&["watch"], arguments].concat());
        let piped = command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = piped.spawn().unwrap();
        let output = BufReader::new(child.stdout.take().unwrap());
        Self { input: child.stdin.take(), child, output }
    }

    /// Writes a line and reads what is said of it.
    fn says(&mut self, line: &str) -> String {
        self.writes(line);
        let mut said = String::new();
        self.output.read_line(&mut said).unwrap();
        said.trim_end().to_owned()
    }

    fn writes(&mut self, line: &str) {
        let input = self.input.as_mut().unwrap();
        writeln!(input, "{line}").unwrap();
        input.flush().unwrap();
    }

    /// Ends the input and waits; what was printed since.
    fn ends(mut self) -> Ran {
        self.input = None;
        let mut stdout = Vec::new();
        std::io::copy(&mut self.output, &mut stdout).unwrap();
        let mut ran = Ran::of(self.child.wait_with_output().unwrap());
        ran.stdout = String::from_utf8(stdout).unwrap();
        ran
    }
}

/// A leak of 40 micron a minute, a reading a minute.
fn leak(minutes: std::ops::Range<u32>) -> impl Iterator<Item = String> {
    minutes.map(|minute| format!("{minute} min {}", 300 + 40 * minute))
}

#[test]
fn a_session_prints_what_it_should() {
    replays("watch");
}

#[test]
fn a_plan_is_told_and_nothing_is_made() {
    let stand = Stand::new();
    let ran = stand.run(&["watch", "--plan", "--matters", "2 micron/min"]);
    assert_eq!((ran.status, ran.stderr.as_str()), (Some(0), ""));
    assert!(ran.stdout.contains("of 10 micron/min: after "), "{}", ran.stdout);
    assert!(!stand.path("data").exists());
}

#[test]
fn each_line_is_answered_as_it_comes() {
    let stand = Stand::new();
    let mut watch = Piped::start(&stand, &["--log", "hold.csv"]);
    let said: Vec<String> = leak(0..25).map(|line| watch.says(&line)).collect();
    assert_eq!(said[0], "1 reading, 0 s: too early to tell, 5 readings are needed");
    assert!(said[24].starts_with("25 readings, 24 min: straight, "), "{}", said[24]);
    assert!(said[24].ends_with("; this is enough"), "{}", said[24]);
    let ran = watch.ends();
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert!(ran.stdout.contains("Straight. A steady rise above 5 micron/min"), "{ran:?}");
    assert!(ran.stderr.contains("shut the valve at the system"), "{}", ran.stderr);
    assert!(ran.stderr.contains("How long it is likely to take"), "{}", ran.stderr);
    assert!(ran.stderr.contains("dryhold watch --log hold.csv"), "{}", ran.stderr);
    let read = stand.run(&["rise", "hold.csv"]);
    assert_eq!(read.stdout, ran.stdout.trim_start(), "the log says what the watch said");
}

#[test]
fn what_counts_survives_a_kill_and_is_gone_on_with() {
    let stand = Stand::new();
    let mut watch = Piped::start(&stand, &["--log", "hold.csv"]);
    for line in leak(0..9) {
        watch.says(&line);
    }
    watch.child.kill().unwrap();
    watch.child.wait().unwrap();
    // A machine that dies may leave half a line.
    let mut log = fs::OpenOptions::new().append(true).open(stand.path("hold.csv")).unwrap();
    log.write_all(b" 2026-11-25T10:").unwrap();
    drop(log);
    let mut watch = Piped::start(&stand, &["--log", "hold.csv"]);
    let said: Vec<String> = leak(9..25).map(|line| watch.says(&line)).collect();
    assert!(said[0].starts_with("10 readings, 9 min: "), "{}", said[0]);
    let ran = watch.ends();
    assert!(ran.stderr.contains("not written to its end"), "{}", ran.stderr);
    let mut unbroken = Piped::start(&stand, &["--log", "unbroken.csv"]);
    let all: Vec<String> = leak(0..25).map(|line| unbroken.says(&line)).collect();
    assert_eq!(said, all[9..], "as if it had never stopped");
    assert_eq!(ran.stdout, unbroken.ends().stdout);
}

/// The time between runs counts: bare readings have the clock's time.
#[test]
fn the_clock_runs_on_while_nobody_watches() {
    let stand = Stand::new();
    let log = "# dryhold watch, format 1: readings of a hold test, one a line as they came\n\
               time,pressure [micron]\n 2020-03-31T10:00:00Z,300\n 2020-03-31T10:05:00Z,340\n";
    stand.write("hold.csv", log);
    let mut watch = Piped::start(&stand, &["--log", "hold.csv"]);
    let said = watch.says("500");
    assert!(said.starts_with("3 readings, ") && !said.contains(" 5 min"), "{said}");
    watch.ends();
    let rows = fs::read_to_string(stand.path("hold.csv")).unwrap();
    assert!(rows.starts_with(log) && rows.ends_with("Z,500\n"), "{rows}");
}

#[test]
fn json_is_an_object_a_line_as_of_rise() {
    let stand = Stand::new();
    let mut watch = Piped::start(&stand, &["--log", "hold.csv", "--json"]);
    let mut last = String::new();
    for line in leak(0..12) {
        last = watch.says(&line);
        let object: serde_json::Value = serde_json::from_str(&last).unwrap();
        assert_eq!(object["format"], 1);
    }
    assert_eq!(watch.ends().stdout, "", "nothing but the lines");
    assert_eq!(stand.run(&["rise", "hold.csv", "--json"]).stdout.trim_end(), last);
}

#[test]
fn without_a_place_to_keep_them_the_readings_are_printed() {
    let stand = Stand::new();
    stand.write("file", "");
    let mut watch = Piped::start(&stand, &["--log", "file/hold.csv"]);
    for line in leak(0..6) {
        watch.says(&line);
    }
    let ran = watch.ends();
    assert!(ran.stderr.contains("CAUTION: The log `file/hold.csv` can't be made"), "{ran:?}");
    let (_, readings) = ran.stdout.split_once("kept nowhere else:\n").unwrap();
    stand.write("saved.csv", readings);
    let again = stand.run(&["rise", "saved.csv"]);
    assert!(again.stdout.contains("6 readings over 5 min"), "{again:?}");
}

#[test]
fn the_log_of_a_day_stands_beside_the_book() {
    let stand = Stand::new();
    for _ in 0..2 {
        let mut watch = Piped::start(&stand, &[]);
        watch.says("420");
        watch.ends();
    }
    Piped::start(&stand, &[]).ends();
    let folder = stand.path("data/dryhold/holds");
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(names.len(), 2, "a watch without a reading leaves no log: {names:?}");
    assert!(names[0].ends_with("-1.csv") && names[1].ends_with("-2.csv"), "{names:?}");
}

#[test]
fn a_log_is_written_by_one_watch_only_and_others_are_left_alone() {
    let stand = Stand::new();
    let mut first = Piped::start(&stand, &["--log", "hold.csv"]);
    first.says("420");
    let second = stand.run(&["watch", "--log", "hold.csv"]);
    assert_eq!(second.status, Some(2));
    assert!(second.stderr.contains("is open in another terminal"), "{}", second.stderr);
    first.ends();
    let other = stand.run(&["watch", "--log", "parlour.csv"]);
    assert_eq!(other.status, Some(2));
    assert!(other.stderr.contains("was not written by a watch"), "{}", other.stderr);
}

#[test]
fn lines_that_are_no_readings_are_told_and_passed_over() {
    let stand = Stand::new();
    let mut watch = Piped::start(&stand, &["--log", "hold.csv"]);
    watch.writes("# pump off");
    watch.writes("");
    watch.writes("dozens");
    watch.writes("0 min 420, 1 min 430");
    assert!(watch.says("0 min 420").starts_with("1 reading"));
    assert!(watch.says("1 min 0.43").starts_with("2 readings"));
    let ran = watch.ends();
    assert_eq!(ran.status, Some(3));
    assert!(ran.stderr.contains("dryhold: line 3: `dozens` is no reading"), "{}", ran.stderr);
    let several = "dryhold: line 4: `0 min 420, 1 min 430` holds several values";
    assert!(ran.stderr.contains(several), "{}", ran.stderr);
    let odd = "dryhold: line 6, `1 min 0.43`, is kept as it stands, but looks like a slip: \
               0.43 micron is lower than a service gauge shows: 0.43 mmHg is 430 micron. \
               A line `back` right after it removes it\n";
    assert!(ran.stderr.contains(odd), "{}", ran.stderr);
    let mut nothing = Piped::start(&stand, &["--log", "none.csv"]);
    nothing.writes("dozens");
    assert_eq!(nothing.ends().status, Some(2), "not a line could be used");
    assert!(!stand.path("none.csv").exists());
}
