//! The plain console driven whole: what is typed, what is written, what comes back.

use std::cell::Cell;
use std::io::{self, Write};
use std::rc::Rc;
use std::time::Duration;

use super::PlainConsole;
use crate::terminal::{
    Action, Checked, Clock, ConfirmPrompt, Confirmation, Console, Heard, LineSource, Menu,
    MenuOption, Paper, PipedLines, Reply, ValuePrompt, WaitPrompt,
};
use crate::text::Line;

/// A clock that stands until it is asked, and then moves by a fixed step.
struct StepClock {
    now: Cell<Duration>,
    step: Duration,
}

impl Clock for StepClock {
    fn now(&self) -> Duration {
        let now = self.now.get();
        self.now.set(now + self.step);
        now
    }
}

fn clock(seconds: u64) -> Box<StepClock> {
    Box::new(StepClock { now: Cell::default(), step: Duration::from_secs(seconds) })
}

/// Runs one prompt with these lines typed; gives the reply and everything written.
fn run(typed: &str, prompt: impl FnOnce(&mut PlainConsole<'_>) -> Reply) -> (Reply, String) {
    let mut written = Vec::new();
    let mut console = PlainConsole::new(
        Box::new(PipedLines::new(typed.as_bytes())),
        Box::new(&mut written),
        clock(90),
        Paper::new(80, false),
    );
    let reply = prompt(&mut console);
    drop(console);
    (reply, String::from_utf8(written).unwrap())
}

fn oil() -> Menu {
    Menu {
        title: vec![Line::plain("Look at the sight glass."), Line::strong("How is the oil?")],
        options: vec![
            MenuOption::new("clear"),
            MenuOption::new("cloudy").with_hint("white or milky: water"),
        ],
        actions: vec![Action::NotSure, Action::Why, Action::Stop],
        ..Menu::default()
    }
}

fn pressure(typed: &str) -> Checked {
    match typed.trim_end_matches(" micron").parse::<f64>() {
        Ok(value) if value > 25_000.0 => Checked::Doubtful {
            message: Line::plain("25000 micron is the top of that gauge."),
            read: format!("{value} micron"),
            suggestion: Some(format!("{} micron", value / 100.0)),
        },
        Ok(value) => Checked::Accepted { echo: Line::plain(format!("Read as {value} micron.")) },
        Err(_) => Checked::Refused(Line::plain(format!("\"{typed}\" is not a pressure."))),
    }
}

fn gauge() -> ValuePrompt<'static> {
    ValuePrompt {
        title: vec![Line::plain("What does the gauge read?")],
        hint: "a pressure, such as 45 micron".to_owned(),
        actions: vec![Action::NotSure, Action::Back, Action::Why],
        check: &pressure,
    }
}

fn caution() -> ConfirmPrompt {
    ConfirmPrompt {
        title: vec![Line::warning("The system is under pressure.")],
        by: Confirmation::Acknowledged,
        actions: vec![Action::Stop],
    }
}

#[test]
fn a_menu_is_written_and_answered_by_number() {
    let (reply, written) = run("2\n", |console| console.choose(&oil()));
    assert_eq!(reply, Reply::Chosen(1));
    let expected = "\
Look at the sight glass.
How is the oil?
  1. clear
  2. cloudy
     white or milky: water
  3. not sure
  4. more
Type a number or the first letters of an answer. Type ? for help.
Answer: 2
Chosen: cloudy
";
    assert_eq!(written, expected);
}

#[test]
fn nonsense_is_answered_with_what_is_accepted_and_asked_again() {
    let (reply, written) = run("purple\n\n9\nskip\ncl\nclea\n", |console| console.choose(&oil()));
    assert_eq!(reply, Reply::Chosen(0));
    for said in [
        "\"purple\" is not one of the answers. Type a number or the first letters of an",
        "Nothing was typed.",
        "There is no 9 in the list",
        "skip is not offered here.",
        "\"cl\" may mean clear or cloudy.",
    ] {
        assert!(written.contains(said), "`{said}` was not said:\n{written}");
    }
}

#[test]
fn words_and_numbers_of_actions_are_replies() {
    for (typed, action) in [
        ("3\n", Action::NotSure),
        ("not sure\n", Action::NotSure),
        ("WHY\n", Action::Why),
        ("quit\n", Action::Stop),
        ("more\n2\n", Action::Why),
        ("4\nsto\n", Action::Stop),
        ("?\nwhy\n", Action::Why),
    ] {
        let (reply, written) = run(typed, |console| console.choose(&oil()));
        assert_eq!(reply, Reply::Act(action), "{typed:?}:\n{written}");
    }
}

#[test]
fn the_menu_of_actions_can_be_left_for_the_question() {
    let (reply, written) = run("more\n\n1\n", |console| console.choose(&oil()));
    assert_eq!(reply, Reply::Chosen(0));
    assert_eq!(written.matches("How is the oil?").count(), 2, "{written}");
    assert!(
        written
            .contains("3. stop\n     stop here; a case keeps everything, an exercise begins anew"),
        "{written}"
    );
}

#[test]
fn help_lists_the_words_offered_and_no_others() {
    let (_, written) = run("?\n", |console| console.choose(&oil()));
    assert!(written.contains("  why: see why this is asked\n"), "{written}");
    assert!(!written.contains("ranking"), "{written}");
}

#[test]
fn a_value_is_echoed_as_read() {
    let (reply, written) = run("45\n", |console| console.value(&gauge()));
    assert_eq!(reply, Reply::Typed("45".to_owned()));
    let expected = "\
What does the gauge read?
Type a pressure, such as 45 micron. Or: not sure, more.
Answer: 45
Read as 45 micron.
";
    assert_eq!(written, expected);
}

#[test]
fn a_refused_value_is_answered_with_the_reason() {
    let (reply, written) = run("fourty\n\nskip\nback\n", |console| console.value(&gauge()));
    assert_eq!(reply, Reply::Act(Action::Back));
    assert!(written.contains("\"fourty\" is not a pressure.\nType a pressure"), "{written}");
    assert!(written.contains("Nothing was typed."), "{written}");
    assert!(written.contains("skip is not offered here."), "{written}");
}

#[test]
fn a_doubtful_value_is_asked_back() {
    let ask = |typed| run(typed, |console| console.value(&gauge()));
    let (kept, written) = ask("40000\n1\n");
    assert_eq!(kept, Reply::Typed("40000".to_owned()));
    assert!(written.contains("  1. keep 40000 micron\n  2. use 400 micron\n  3. type it again\n"));
    let (meant, written) = ask("40000\nuse\n");
    assert_eq!(meant, Reply::Typed("400 micron".to_owned()));
    assert!(written.contains("Read as 400 micron."), "{written}");
    assert_eq!(ask("40000\n3\n45\n").0, Reply::Typed("45".to_owned()));
    assert_eq!(ask("40000\n\n45\n").0, Reply::Typed("45".to_owned()));
    assert_eq!(ask("40000\n").0, Reply::EndOfInput);
}

#[test]
fn a_word_that_is_not_offered_may_be_the_value() {
    let any = |_: &str| Checked::Accepted { echo: Line::plain("Kept.") };
    let note = ValuePrompt { actions: Vec::new(), check: &any, ..gauge() };
    let (reply, _) = run("back\n", |console| console.value(&note));
    assert_eq!(reply, Reply::Typed("back".to_owned()));
}

#[test]
fn a_step_is_confirmed_in_words_and_not_by_enter_alone() {
    let step = ConfirmPrompt {
        title: vec![Line::plain("Cap the pump.")],
        by: Confirmation::Done,
        actions: vec![Action::Skip],
    };
    let (reply, written) = run("\nmaybe\ndone\n", |console| console.confirm(&step));
    assert_eq!(reply, Reply::Done);
    assert!(written.starts_with("Cap the pump.\nType done when it is done. Or: skip.\n"));
    assert_eq!(written.matches("Type done when it is done.").count(), 3, "{written}");
    let (skipped, _) = run("skip\n", |console| console.confirm(&step));
    assert_eq!(skipped, Reply::Act(Action::Skip));
}

#[test]
fn a_step_with_a_wait_is_started_and_not_asked_whether_it_is_done() {
    let step = ConfirmPrompt {
        title: vec![Line::plain("Run the pump until it is warm.")],
        by: Confirmation::Started(Duration::from_secs(300)),
        actions: vec![Action::Skip],
    };
    let past = Reply::Typed("done".to_owned());
    for (typed, expected) in [("start", Reply::Done), ("yes", Reply::Done), ("done", past)] {
        let typed = format!("\nnot yet\n{typed}\n");
        let (reply, written) = run(&typed, |console| console.confirm(&step));
        assert_eq!(reply, expected);
        let asked = "until it is warm.\nType start to begin the wait of 5 min, or done if it has \
                     passed. Or: skip.\n";
        assert!(written.contains(asked), "{written}");
        assert_eq!(written.matches("The wait has not begun.").count(), 2, "{written}");
        assert!(!written.contains("is done"), "{written}");
    }
}

#[test]
fn a_caution_takes_a_name_and_not_a_nod() {
    let (reply, written) = run("\nok\ny\n A. Berg\n", |console| console.confirm(&caution()));
    assert_eq!(reply, Reply::Typed("A. Berg".to_owned()));
    assert!(written.starts_with("CAUTION: The system is under pressure.\n"), "{written}");
    assert_eq!(written.matches("Type the name or the initials").count(), 3, "{written}");
    let (stopped, _) = run("stop\n", |console| console.confirm(&caution()));
    assert_eq!(stopped, Reply::Act(Action::Stop));
}

fn ten_minutes() -> WaitPrompt {
    WaitPrompt {
        title: vec![Line::plain("Let the gauge settle.")],
        length: Duration::from_secs(600),
        actions: vec![Action::Stop],
    }
}

#[test]
fn a_wait_says_its_minutes_and_may_be_left_early() {
    let (reply, written) = run("\n", |console| console.wait(&ten_minutes()));
    assert_eq!(reply, Reply::Done);
    assert!(written.contains("Wait 10 min, then press Enter; sooner if you must."), "{written}");
    assert!(written.ends_with("1 min 30 s of 10 min have passed.\n"), "{written}");
}

#[test]
fn a_wait_knows_when_it_is_over() {
    // Each question to the clock moves it 90 s: the eighth is past 10 min.
    let (reply, written) = run("x\nx\nx\nx\nx\nx\ndone\n", |console| console.wait(&ten_minutes()));
    assert_eq!(reply, Reply::Done);
    assert!(written.contains("8 min 30 s left. Press Enter to go on."), "{written}");
    assert!(written.ends_with("10 min have passed.\n"), "{written}");
    let none = WaitPrompt { length: Duration::ZERO, ..ten_minutes() };
    assert_eq!(run("", |console| console.wait(&none)), (Reply::Done, String::new()));
}

#[test]
fn the_end_of_input_ends_every_prompt() {
    let ended = [
        run("", |console| console.choose(&oil())),
        run("more\n", |console| console.choose(&oil())),
        run("", |console| console.value(&gauge())),
        run("", |console| console.confirm(&caution())),
        run("", |console| console.wait(&ten_minutes())),
        run("", |console| console.choose(&Menu::default())),
    ];
    for (reply, written) in ended {
        assert_eq!(reply, Reply::EndOfInput, "{written}");
        assert!(written.is_empty() || written.ends_with('\n'), "{written}");
    }
}

#[test]
fn an_endless_pipe_ends_too() {
    for line in ["purple\n", "?\n", "more\n", "\n"] {
        let endless = line.repeat(20_000);
        let (reply, _) = run(&endless, |console| console.choose(&oil()));
        assert_eq!(reply, Reply::EndOfInput, "{line:?}");
        let (reply, _) = run(&endless, |console| console.value(&gauge()));
        assert_eq!(reply, Reply::EndOfInput, "{line:?}");
    }
}

/// A source on which Ctrl-C is pressed at once, as at a terminal.
struct CtrlC;

impl LineSource for CtrlC {
    fn next_line(&mut self) -> Heard {
        Heard::Interrupt
    }

    fn is_echoed(&self) -> bool {
        true
    }
}

#[test]
fn an_interrupt_is_told_from_the_end_of_input() {
    let mut written = Vec::new();
    let mut console =
        PlainConsole::new(Box::new(CtrlC), Box::new(&mut written), clock(1), Paper::new(80, false));
    assert_eq!(console.choose(&oil()), Reply::Interrupted);
    assert_eq!(console.value(&gauge()), Reply::Interrupted);
    assert_eq!(console.confirm(&caution()), Reply::Interrupted);
    assert_eq!(console.wait(&ten_minutes()), Reply::Interrupted);
}

/// A writer whose reader is gone.
struct Closed(Rc<Cell<usize>>);

impl Write for Closed {
    fn write(&mut self, _: &[u8]) -> io::Result<usize> {
        self.0.set(self.0.get() + 1);
        Err(io::ErrorKind::BrokenPipe.into())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn nothing_is_asked_where_nothing_is_seen() {
    let tries = Rc::new(Cell::new(0));
    let mut console = PlainConsole::new(
        Box::new(PipedLines::new(&b"1\n"[..])),
        Box::new(Closed(Rc::clone(&tries))),
        clock(1),
        Paper::new(80, false),
    );
    assert_eq!(console.choose(&oil()), Reply::EndOfInput);
    assert!(tries.get() > 0);
}

#[test]
fn what_was_typed_cannot_steer_the_terminal() {
    let (_, written) = run("\u{1b}[2J\n", |console| console.choose(&oil()));
    assert!(!written.contains('\u{1b}'), "{written:?}");
}
