//! Talk: what is typed at the plain prompts, and the lines of another program.

use std::cell::RefCell;
use std::io::Write;
use std::rc::Rc;

use dryhold::case::{Case, KeepNothing, interview};
use dryhold::terminal::{Audience, Paper, Person, PipedLines, PlainConsole, Program, SystemClock};

use super::{fuzz, steers};
use crate::commands::built_in;

/// What was written, to be looked at afterwards.
#[derive(Clone, Default)]
struct Shown(Rc<RefCell<Vec<u8>>>);

impl Write for Shown {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        self.0.borrow_mut().write(bytes)
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

impl Shown {
    fn text(&self) -> String {
        String::from_utf8_lossy(&self.0.borrow()).into_owned()
    }
}

const TYPED: &str = "\
yes|A. B.|no|no|aired|yes|r410a|500 micron|900 micron|milky|back|why|stop
no|won't go below 2000|yes|no|pump alone 900|not sure|not sure|skip|board|finish
no|1|2|3|more|note|smells of gas|no|file|a.jpg|take back|ranking|explain|leave
no|2|300, 420, 510 every 5 min|done|start||40 micron in 10 min|900 +- 5 micron|1|2
yes|kim|no|yes|stop";

const SAID: &[&str] = &[
    "\n",
    "yes",
    "no",
    "not sure",
    "skip",
    "back",
    "why",
    "more",
    "?",
    "note",
    "other",
    "stop",
    "done",
    "start",
    "1",
    "2",
    "3",
    "99999999999999999999",
    "-1",
    "45 micron",
    "0.06 mbar",
    "900",
    "1e400",
    "half an hour",
    "every 5 min",
    "300, 420, 510",
    "milky",
    "smells of gas",
    "he is dizzy",
    "no more",
    "\u{1b}[A",
    "\u{202e}",
    "\0",
    "@/etc/passwd",
    "@hold.csv",
    "about ",
    "it was 90 not 900",
    "the blue hose",
    ",",
    ". ",
];

#[test]
fn anything_may_be_typed_at_the_plain_prompts() {
    let typed: Vec<Vec<u8>> =
        TYPED.lines().map(|line| line.replace('|', "\n").into_bytes()).collect();
    let (handbook, engine) = built_in();
    for (name, audience, tree) in [
        ("typed on site", Audience::Site, "pump_alone"),
        ("typed on the phone", Audience::Phone, "start"),
    ] {
        let tree = handbook.find_tree(tree).unwrap();
        fuzz(name, &typed, SAID, |bytes| {
            let shown = Shown::default();
            let mut console = PlainConsole::new(
                Box::new(PipedLines::new(bytes)),
                Box::new(shown.clone()),
                Box::new(SystemClock::new()),
                Paper::new(60, false),
            );
            let mut case = Case::open(handbook, engine, tree);
            interview(&mut case, &mut Person::new(&mut console, audience), &mut KeepNothing);
            steers(&shown.text())
        });
    }
}

const SENT: &str = r#"{"do":"answer","typed":"no"}|{"do":"back"}|{"do":"verdict"}
{"do":"answer","question":"blank_off","typed":"900 micron","meant":true}|{"do":"acknowledge","caution":"system_open","by":"A"}
{"do":"correct","answer":1,"typed":"yes"}|{"do":"take_back","order":1}|{"do":"mind","question":"system_charged","by":"A"}
{"do":"note","text":"smells of gas"}|{"do":"attach","name":"a.jpg"}|{"do":"go_on","tree":"hold_test"}
{"do":"worked","action":"change_oil"}|{"do":"no_more"}|{"do":"done"}|{"do":"wait"}|{"do":"skip"}
{"do":"close","fixed_by":{"cause":"pump_oil"},"proved":true,"note":"x"}|{"do":"leave"}"#;

#[test]
fn any_line_of_another_program_is_answered() {
    let sent: Vec<Vec<u8>> =
        SENT.lines().map(|line| line.replace('|', "\n").into_bytes()).collect();
    let words = [
        "\n",
        "{",
        "}",
        "[",
        "\"",
        ":",
        ",",
        "null",
        "true",
        "1e999",
        "-1",
        "\"do\":\"answer\"",
        "\"typed\":",
        "\"meant\":true",
        "\"question\":\"oil_look\"",
        "milky",
        "\\u001b",
        "\\ud800",
        "\0",
        "\u{202e}",
        "99999999999999999999",
    ];
    let (handbook, engine) = built_in();
    let tree = handbook.find_tree("pump_alone").unwrap();
    fuzz("lines of JSON", &sent, &words, |bytes| {
        let mut out = Vec::new();
        let mut case = Case::open(handbook, engine, tree);
        let mut lines = PipedLines::new(bytes);
        interview(&mut case, &mut Program::new(&mut lines, &mut out), &mut KeepNothing);
        let told = String::from_utf8(out).ok()?;
        let is_json = |line: &str| serde_json::from_str::<serde_json::Value>(line).is_ok();
        let odd = told.lines().find(|line| !is_json(line)).map(|line| format!("no JSON: {line}"));
        odd.or_else(|| steers(&told))
    });
}
