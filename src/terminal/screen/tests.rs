//! The screen console with its widgets, its keys and its clock played from a script.

use std::cell::{Cell, RefCell};
use std::collections::VecDeque;
use std::io;
use std::rc::Rc;
use std::time::Duration;

use super::console::ScreenConsole;
use super::keys::{Key, Keys};
use super::widgets::{Field, Left, PickList, Picked, Presence, Widgets, score};
use crate::terminal::{
    Action, Checked, Clock, ConfirmPrompt, Confirmation, Console, Menu, MenuOption, Paper, Reply,
    ValuePrompt, WaitPrompt,
};
use crate::text::Line;

/// What a person does at a widget.
#[derive(Clone, Debug)]
enum Does {
    /// Picks the entry of this label.
    Picks(&'static str),
    /// Types this into the filter and presses Enter.
    Filters(&'static str),
    /// Types this and presses Enter.
    Types(&'static str),
    /// Has typed this and presses Esc or Ctrl-D.
    Escapes(&'static str),
    /// Presses Ctrl-C.
    Interrupts,
}

/// Plays a script; keeps what the widgets showed.
struct Script {
    does: VecDeque<Does>,
    seen: Rc<RefCell<Vec<String>>>,
}

impl Script {
    fn next<T>(&mut self, seen: String) -> Result<Does, Left<T>> {
        self.seen.borrow_mut().push(seen);
        match self.does.pop_front() {
            None => Err(Left::Broken),
            Some(Does::Interrupts) => Err(Left::Interrupted),
            Some(Does::Escapes(typed)) => Err(Left::Escaped(typed.to_owned())),
            Some(does) => Ok(does),
        }
    }
}

impl Widgets for Script {
    fn pick(&mut self, list: &PickList) -> Left<Picked> {
        let is_shown = |p| matches!(p, Presence::Filtered | Presence::Lasting);
        let shown = list.entries.iter().filter(|entry| is_shown(entry.presence));
        let labels: Vec<&str> = shown.map(|entry| entry.label.as_str()).collect();
        match self.next(format!("{} [{}] {}", list.message, labels.join("|"), list.filter)) {
            Err(left) => left,
            Ok(Does::Picks(label)) => {
                let place = list.entries.iter().position(|entry| entry.label == label);
                Left::Answered(Picked { place: place.expect(label), filter: String::new() })
            }
            Ok(Does::Filters(filter)) => {
                let scores = list.entries.iter().enumerate().map(|(i, e)| score(filter, e, i));
                let best = scores.enumerate().filter_map(|(i, s)| Some((s?, i))).max();
                Left::Answered(Picked { place: best.unwrap().1, filter: filter.to_owned() })
            }
            Ok(does) => panic!("a list cannot {does:?}"),
        }
    }

    fn type_text(&mut self, field: &Field) -> Left<String> {
        match self.next(format!("{} [{}] {}", field.message, field.help, field.text)) {
            Err(left) => left,
            Ok(Does::Types(text)) => Left::Answered(text.to_owned()),
            Ok(does) => panic!("a field cannot {does:?}"),
        }
    }
}

/// Plays keys, `None` for a second without one; counts how often the terminal is held.
struct ScriptedKeys {
    keys: VecDeque<Option<Key>>,
    now: Rc<Cell<Duration>>,
    held: Rc<Cell<i32>>,
}

impl Keys for ScriptedKeys {
    fn hold(&mut self) -> io::Result<()> {
        self.held.set(self.held.get() + 1);
        Ok(())
    }

    fn release(&mut self) {
        self.held.set(self.held.get() - 1);
    }

    fn next(&mut self, limit: Option<Duration>) -> io::Result<Option<Key>> {
        assert_eq!(self.held.get(), 1, "a key is read from a terminal that is not held");
        match self.keys.pop_front() {
            Some(None) => {
                self.now.set(self.now.get() + limit.expect("a wait without end"));
                Ok(None)
            }
            Some(key) => Ok(key),
            None => Err(io::ErrorKind::UnexpectedEof.into()),
        }
    }
}

struct SharedClock(Rc<Cell<Duration>>);

impl Clock for SharedClock {
    fn now(&self) -> Duration {
        self.0.get()
    }
}

/// A writer that others can look into.
#[derive(Clone, Default)]
struct Shared(Rc<RefCell<Vec<u8>>>);

impl io::Write for Shared {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.borrow_mut().write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// What came of a prompt: the reply, what the widgets showed, what was written.
struct Outcome {
    reply: Reply,
    seen: Vec<String>,
    written: String,
}

fn run(
    does: &[Does],
    keys: &[Option<Key>],
    prompt: impl FnOnce(&mut ScreenConsole<'_>) -> Reply,
) -> Outcome {
    let (now, held) = (Rc::new(Cell::new(Duration::ZERO)), Rc::new(Cell::new(0)));
    let (seen, written) = (Rc::new(RefCell::new(Vec::new())), Shared::default());
    let mut console = ScreenConsole {
        out: Box::new(written.clone()),
        keys: Box::new(ScriptedKeys {
            keys: keys.iter().copied().collect(),
            now: Rc::clone(&now),
            held: Rc::clone(&held),
        }),
        widgets: Box::new(Script { does: does.iter().cloned().collect(), seen: Rc::clone(&seen) }),
        clock: Box::new(SharedClock(now)),
        paper: Paper::new(80, false),

        chosen_by: None,
    };
    let reply = prompt(&mut console);
    assert_eq!(held.get(), 0, "the terminal was not given back");
    let written = String::from_utf8(written.0.take()).unwrap();
    Outcome { reply, seen: seen.take(), written }
}

/// The keys of a word, with Enter.
fn word(word: &str) -> Vec<Option<Key>> {
    word.chars().map(|c| Some(Key::Character(c))).chain([Some(Key::Enter)]).collect()
}

fn oil() -> Menu {
    Menu {
        title: vec![Line::plain("Look at the sight glass."), Line::strong("How is the oil?")],
        options: vec![MenuOption::new("clear"), MenuOption::new("cloudy")],
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

#[test]
fn a_menu_is_a_list_that_ends_in_not_sure_and_more() {
    let outcome = run(&[Does::Picks("cloudy")], &[], |console| console.choose(&oil()));
    assert_eq!(outcome.reply, Reply::Chosen(1));
    assert_eq!(outcome.seen, ["How is the oil? [clear|cloudy|not sure|more] "]);
    assert_eq!(outcome.written, "Look at the sight glass.\n");
}

#[test]
fn words_of_actions_are_replies() {
    for (label, action) in [("not sure", Action::NotSure), ("why", Action::Why)] {
        let outcome = run(&[Does::Picks(label)], &[], |console| console.choose(&oil()));
        assert_eq!(outcome.reply, Reply::Act(action));
    }
}

#[test]
fn more_and_escape_open_the_same_menu_of_words() {
    let expected = "\
Look at the sight glass.
What would you rather do? Type its word, then Enter.
  not sure: you cannot tell
  why: see why this is asked
  stop: stop here; a case keeps everything, an exercise begins anew
Enter alone or Esc goes on with the question; Ctrl-D ends; a case is kept.
stob\u{8} \u{8}x
\"stox\" is not one of the answers. Did you mean stop?
WHY
";
    for does in [Does::Picks("more"), Does::Escapes("")] {
        let mut keys = word("stob");
        keys.insert(4, Some(Key::Backspace));
        keys.insert(5, Some(Key::Character('x')));
        keys.extend(word("WHY"));
        let outcome = run(&[does], &keys, |console| console.choose(&oil()));
        assert_eq!(outcome.reply, Reply::Act(Action::Why));
        assert_eq!(outcome.written.replace("\r\n", "\n"), expected);
    }
    let does = [Does::Escapes(""), Does::Filters("2")];
    let outcome = run(&does, &word("2"), |console| console.choose(&oil()));
    assert_eq!(outcome.reply, Reply::Chosen(1));
    assert!(
        outcome.seen[1].ends_with("] 2"),
        "a number is for the list behind: {:?}",
        outcome.seen
    );
    let outcome = run(&[Does::Escapes("")], &word("st"), |console| console.choose(&oil()));
    assert_eq!(outcome.reply, Reply::Act(Action::Stop), "a beginning will do");
}

#[test]
fn enter_alone_answers_no_question_of_fact() {
    let does = [Does::Filters(""), Does::Picks("clear")];
    let outcome = run(&does, &[], |console| console.choose(&oil()));
    assert_eq!(outcome.reply, Reply::Chosen(0));
    let said = "Nothing is chosen yet. Walk to an answer, or type its number.\n";
    assert!(outcome.written.ends_with(said), "{}", outcome.written);
}

#[test]
fn what_answers_to_nothing_is_said_and_asked_again() {
    let does = [Does::Filters("clody"), Does::Filters("9"), Does::Filters("clou")];
    let outcome = run(&does, &[], |console| console.choose(&oil()));
    assert_eq!(outcome.reply, Reply::Chosen(1));
    assert!(outcome.seen[1].ends_with("|more] "), "the filter is empty again: {:?}", outcome.seen);
    assert_eq!(
        outcome.written,
        "Look at the sight glass.\n\
         \"clody\" is not one of the answers. Did you mean cloudy?\n\
         There is no 9 in the list; its last number is 4.\n"
    );
    let does = [Does::Types("40000"), Does::Filters(""), Does::Filters("more"), Does::Filters("2")];
    let outcome = run(&does, &[], |console| console.value(&gauge()));
    assert_eq!(outcome.reply, Reply::Typed("400 micron".to_owned()));
}

#[test]
fn the_menu_of_words_can_be_left_for_the_question_with_nothing_lost() {
    for left in [Key::Escape, Key::Enter] {
        let does = [Does::Escapes("clo"), Does::Picks("cloudy")];
        let outcome = run(&does, &[Some(left)], |console| console.choose(&oil()));
        assert_eq!(outcome.reply, Reply::Chosen(1));
        assert!(outcome.seen[1].ends_with("] clo"), "{:?}", outcome.seen);
        let does = [Does::Escapes("4"), Does::Types("45")];
        let outcome = run(&does, &[Some(left)], |console| console.value(&gauge()));
        assert_eq!(outcome.reply, Reply::Typed("45".to_owned()));
        assert!(outcome.seen[1].ends_with("] 4"), "{:?}", outcome.seen);
    }
}

#[test]
fn a_second_end_of_input_ends_and_an_interrupt_interrupts() {
    for (second, reply) in [(Key::End, Reply::EndOfInput), (Key::Interrupt, Reply::Interrupted)] {
        let outcome = run(&[Does::Escapes("")], &[Some(second)], |console| console.choose(&oil()));
        assert_eq!(outcome.reply, reply);
        let outcome = run(&[Does::Escapes("")], &[Some(second)], |console| console.value(&gauge()));
        assert_eq!(outcome.reply, reply);
    }
    let interrupted = |outcome: Outcome| assert_eq!(outcome.reply, Reply::Interrupted);
    interrupted(run(&[Does::Interrupts], &[], |console| console.choose(&oil())));
    interrupted(run(&[Does::Interrupts], &[], |console| console.value(&gauge())));
    interrupted(run(&[Does::Types("40000"), Does::Interrupts], &[], |c| c.value(&gauge())));
}

#[test]
fn a_terminal_that_is_gone_is_the_end_of_input() {
    let ended = |outcome: Outcome| assert_eq!(outcome.reply, Reply::EndOfInput);
    ended(run(&[], &[], |console| console.choose(&oil())));
    ended(run(&[], &[], |console| console.value(&gauge())));
    ended(run(&[Does::Escapes("")], &[], |console| console.choose(&oil())));
    ended(run(&[], &[], |console| console.wait(&ten_seconds())));
    ended(run(&[], &[], |console| console.choose(&Menu::default())));
}

#[test]
fn help_is_shown_and_the_question_asked_again() {
    let does = [Does::Picks("?"), Does::Picks("clear")];
    let outcome = run(&does, &[], |console| console.choose(&oil()));
    assert_eq!(outcome.reply, Reply::Chosen(0));
    assert!(outcome.written.contains("  why: see why this is asked\n"), "{}", outcome.written);
    let does = [Does::Types("?"), Does::Types("45")];
    let outcome = run(&does, &[], |console| console.value(&gauge()));
    assert_eq!(outcome.reply, Reply::Typed("45".to_owned()));
    assert!(outcome.seen[1].ends_with("] "), "the word is not left in the field");
}

#[test]
fn a_refused_value_leaves_an_empty_field_and_a_good_one_is_echoed_as_read() {
    let does = [Does::Types("fourty"), Does::Types(""), Does::Types("skip"), Does::Types("45")];
    let outcome = run(&does, &[], |console| console.value(&gauge()));
    assert_eq!(outcome.reply, Reply::Typed("45".to_owned()));
    let empty =
        "What does the gauge read? [a pressure, such as 45 micron, or not sure; Esc for more] ";
    assert_eq!(outcome.seen, [empty; 4]);
    assert_eq!(
        outcome.written,
        "\"fourty\" is not a pressure. Or type not sure.\nNothing was typed.\nskip is not offered here.\n\
         Read as 45 micron.\n"
    );
    let outcome = run(&[Does::Types("back")], &[], |console| console.value(&gauge()));
    assert_eq!(outcome.reply, Reply::Act(Action::Back));
}

#[test]
fn a_doubtful_value_is_asked_back() {
    let ask = |does: &[Does]| run(does, &[], |console| console.value(&gauge()));
    let outcome = ask(&[Does::Types("40000"), Does::Picks("keep 40000 micron")]);
    assert_eq!(outcome.reply, Reply::Typed("40000".to_owned()));
    assert_eq!(outcome.written, "25000 micron is the top of that gauge.\n");
    let outcome = ask(&[Does::Types("40000"), Does::Picks("use 400 micron")]);
    assert_eq!(outcome.reply, Reply::Typed("400 micron".to_owned()));
    for again in [Does::Picks("type it again"), Does::Escapes("")] {
        let outcome = ask(&[Does::Types("40000"), again, Does::Types("45")]);
        assert_eq!(outcome.reply, Reply::Typed("45".to_owned()));
        assert!(outcome.seen[2].ends_with("] "), "{:?}", outcome.seen);
    }
}

#[test]
fn a_step_is_done_by_a_plain_yes_too() {
    let step = ConfirmPrompt {
        title: vec![Line::plain("Cap the inlet.")],
        by: Confirmation::Done,
        actions: vec![Action::Skip, Action::Note, Action::Stop],
    };
    for typed in ["yes", "Y", "ok", "go on", "next"] {
        let outcome = run(&[Does::Filters(typed)], &[], |console| console.confirm(&step));
        assert_eq!(outcome.reply, Reply::Done, "{typed}");
    }
    for typed in ["no", "not sure", "I can't"] {
        let does = [Does::Filters(typed), Does::Picks("done")];
        let outcome = run(&does, &[], |console| console.confirm(&step));
        assert_eq!(outcome.seen.len(), 2, "{typed} is neither done nor a note: {:?}", outcome.seen);
        let said = "Nothing is ticked off. Type done when it is done. If it can't be done: skip";
        assert!(outcome.written.contains(said), "{}", outcome.written);
        assert_eq!(outcome.reply, Reply::Done);
    }
}

#[test]
fn a_step_with_a_wait_is_started_and_not_asked_whether_it_is_done() {
    let step = ConfirmPrompt {
        title: vec![Line::plain("Run the pump until it is warm.")],
        by: Confirmation::Started(Duration::from_secs(300)),
        actions: vec![Action::Skip, Action::Note],
    };
    for typed in ["start", "st", "done", "y"] {
        let outcome = run(&[Does::Filters(typed)], &[], |console| console.confirm(&step));
        let past = typed == "done";
        let expected = if past { Reply::Typed("done".to_owned()) } else { Reply::Done };
        assert_eq!(outcome.reply, expected, "{typed}");
        let shown = "Run the pump until it is warm. [start the wait of 5 min|it has passed \
                     already|more] ";
        assert_eq!(outcome.seen, [shown]);
    }
    let does = [Does::Filters("no"), Does::Picks("start the wait of 5 min")];
    let outcome = run(&does, &[], |console| console.confirm(&step));
    assert!(outcome.written.contains("The wait has not begun."), "{}", outcome.written);
}

#[test]
fn a_list_that_hands_back_gives_what_answers_to_nothing_in_it() {
    for hands_back in [true, false] {
        let menu = Menu { actions: Vec::new(), hands_back, ..oil() };
        for typed in ["45 micron", "45", "purple"] {
            let does = [Does::Filters(typed), Does::Picks("clear")];
            let outcome = run(&does, &[], |console| console.choose(&menu));
            let expected =
                if hands_back { Reply::Elsewhere(typed.to_owned()) } else { Reply::Chosen(0) };
            assert_eq!(outcome.reply, expected, "{typed}");
        }
    }
    let menu = Menu { hands_back: true, ..oil() };
    let outcome = run(&[Does::Filters("cloudy")], &[], |console| console.choose(&menu));
    assert_eq!(outcome.reply, Reply::Chosen(1));
}

#[test]
fn a_word_that_fits_several_is_asked_about_where_the_list_asks() {
    let options = ["an open or leaking ballast", "leak in the system", "leak at the rig", "oil"];
    let options = options.into_iter().zip(["ballast", "leak_in", "leak_at", "oil"]);
    let options = options.map(|(label, id)| MenuOption::new(label).with_id(id)).collect();
    let menu = Menu { options, actions: vec![Action::Back], asks_which: true, ..Menu::default() };
    let chosen = |menu: &Menu, does: &[Does]| run(does, &[], |console| console.choose(menu));
    let asked = chosen(&menu, &[Does::Filters("leak"), Does::Picks("leak at the rig")]);
    assert_eq!(asked.reply, Reply::Chosen(2));
    assert!(asked.written.contains("fits several: "), "{}", asked.written);
    assert!(asked.seen[1].ends_with("] leak"), "what was typed stays: {:?}", asked.seen);
    // Asked once, the first of them is taken; what fits one alone is never asked about.
    let twice = chosen(&menu, &[Does::Filters("leak"), Does::Filters("leak")]);
    assert_eq!(twice.reply, Reply::Chosen(1));
    for (typed, place) in
        [("oil", 3), ("leak_at", 2), ("leaking", 0), ("2", 1), ("leak at the rig", 2)]
    {
        let outcome = chosen(&menu, &[Does::Filters(typed)]);
        assert_eq!(outcome.reply, Reply::Chosen(place), "{typed}");
    }
    let silent = Menu { asks_which: false, ..menu };
    assert_eq!(chosen(&silent, &[Does::Filters("leak")]).reply, Reply::Chosen(1));
}

#[test]
fn what_may_belong_to_another_question_is_handed_on_where_others_can_be_answered() {
    let mut menu = oil();
    menu.actions.push(Action::Another);
    let outcome = run(&[Does::Filters("it smells of smoke")], &[], |console| console.choose(&menu));
    assert_eq!(outcome.reply, Reply::Elsewhere("it smells of smoke".to_owned()));
    let step = ConfirmPrompt {
        title: vec![Line::plain("Cap the inlet.")],
        by: Confirmation::Done,
        actions: vec![Action::Another, Action::Stop],
    };
    let does = [Does::Filters("it smells of smoke")];
    let outcome = run(&does, &[], |console| console.confirm(&step));
    assert_eq!(outcome.reply, Reply::Elsewhere("it smells of smoke".to_owned()));
}

#[test]
fn the_question_and_not_the_hint_behind_it_stands_before_the_answer() {
    let mut menu = oil();
    menu.title.push(Line::plain("Milky is water."));
    let outcome = run(&[Does::Picks("clear")], &[], |console| console.choose(&menu));
    assert!(outcome.seen[0].starts_with("How is the oil?"), "{:?}", outcome.seen);
    assert_eq!(outcome.written, "Look at the sight glass.\nMilky is water.\n");
}

#[test]
fn a_step_is_done_and_a_caution_takes_a_name() {
    let prompt = |by| ConfirmPrompt {
        title: vec![Line::warning("The pump is hot.")],
        by,
        actions: vec![Action::Skip],
    };
    let step = prompt(Confirmation::Done);
    let outcome = run(&[Does::Picks("done")], &[], |console| console.confirm(&step));
    assert_eq!(outcome.reply, Reply::Done);
    assert_eq!(outcome.written, "CAUTION: The pump is hot.\n");
    assert_eq!(outcome.seen, ["Done? [done|skip] "]);
    let caution = prompt(Confirmation::Acknowledged);
    let does = [Does::Types("ok"), Does::Types("A.  Berg")];
    let outcome = run(&does, &[], |console| console.confirm(&caution));
    assert_eq!(outcome.reply, Reply::Typed("A. Berg".to_owned()));
    assert!(outcome.written.contains("Type the name"), "{:?}", outcome.written);
    let outcome = run(&[Does::Types("skip")], &[], |console| console.confirm(&caution));
    assert_eq!(outcome.reply, Reply::Act(Action::Skip));
}

#[test]
fn a_long_question_stands_above_the_place_to_answer() {
    let long = "word ".repeat(30);
    let menu = Menu { title: vec![Line::plain(long.as_str())], ..oil() };
    let outcome = run(&[Does::Picks("clear")], &[], |console| console.choose(&menu));
    assert_eq!(outcome.seen, ["Answer [clear|cloudy|not sure|more] "]);
    assert_eq!(outcome.written.split_whitespace().count(), 30);
}

fn ten_seconds() -> WaitPrompt {
    WaitPrompt {
        title: vec![Line::plain("Let the gauge settle.")],
        length: Duration::from_secs(10),
        actions: vec![Action::Why],
    }
}

#[test]
fn a_wait_counts_down_to_its_end() {
    let outcome = run(&[], &[None; 10], |console| console.wait(&ten_seconds()));
    assert_eq!(outcome.reply, Reply::Done);
    let written = outcome.written;
    assert!(written.contains("\r10 s left\r9 s left "), "{written:?}");
    assert!(written.ends_with("\r1 s left \n\u{7}10 s have passed.\n"), "{written:?}");
}

#[test]
fn a_wait_may_be_left_at_any_moment() {
    let wait = |keys: &[Option<Key>]| run(&[], keys, |console| console.wait(&ten_seconds()));
    let outcome = wait(&[None, None, Some(Key::Enter)]);
    assert_eq!(outcome.reply, Reply::Done);
    assert!(outcome.written.ends_with("2 s of 10 s have passed.\n"), "{:?}", outcome.written);
    // Words are taken without Esc too; what is none ends no wait.
    let outcome = wait(&[vec![None], word("why")].concat());
    assert_eq!(outcome.reply, Reply::Act(Action::Why));
    assert!(outcome.written.contains("\r9 s left  why"), "{:?}", outcome.written);
    let outcome = wait(&[word("x"), vec![None, Some(Key::Enter)]].concat());
    assert_eq!(outcome.reply, Reply::Done);
    assert!(outcome.written.contains("\"x\" is no word here"), "{:?}", outcome.written);
    assert_eq!(wait(&[None, Some(Key::End)]).reply, Reply::EndOfInput);
    assert_eq!(wait(&[None, Some(Key::Interrupt)]).reply, Reply::Interrupted);
    assert_eq!(
        wait(&[vec![Some(Key::Escape)], word("why")].concat()).reply,
        Reply::Act(Action::Why)
    );
    let keys = [None, Some(Key::Escape), Some(Key::Escape), None, Some(Key::Enter)];
    let outcome = wait(&keys);
    assert_eq!(outcome.reply, Reply::Done);
    assert!(outcome.written.ends_with("2 s of 10 s have passed.\n"), "{:?}", outcome.written);
    let none = WaitPrompt { length: Duration::ZERO, ..ten_seconds() };
    assert_eq!(run(&[], &[], |console| console.wait(&none)).reply, Reply::Done);
    let endless = WaitPrompt { length: Duration::MAX, ..ten_seconds() };
    let outcome = run(&[], &[None, Some(Key::Enter)], |console| console.wait(&endless));
    assert_eq!(outcome.reply, Reply::Done);
}

fn ten_seconds_beside_which_is_told() -> WaitPrompt {
    WaitPrompt { actions: vec![Action::Note, Action::Another, Action::Stop], ..ten_seconds() }
}

#[test]
fn a_letter_beside_a_wait_does_nothing_and_words_are_handed_on() {
    let wait = |keys: &[Option<Key>]| {
        run(&[], keys, |console| console.wait(&ten_seconds_beside_which_is_told()))
    };
    let outcome = wait(&[word("s"), word("stop")].concat());
    assert_eq!(outcome.reply, Reply::Act(Action::Stop));
    assert!(outcome.written.contains("\"s\" is no word here; the wait goes on."));
    for typed in ["480 micron", "hello", "it smells of burning"] {
        let outcome = wait(&[vec![None], word(typed)].concat());
        assert_eq!(outcome.reply, Reply::Elsewhere(typed.to_owned()));
    }
    let long = "what the caller tells is longer than a row of this terminal, so its end is shown";
    let outcome = wait(&word(long));
    assert_eq!(outcome.reply, Reply::Elsewhere(long.to_owned()));
    assert!(outcome.written.contains("its end is shown"), "{}", outcome.written);
}

#[test]
fn a_line_begun_before_the_wait_is_over_is_waited_for() {
    let letters = "480".chars().map(|c| Some(Key::Character(c)));
    let keys: Vec<Option<Key>> =
        letters.chain([None; 10]).chain([Some(Key::Character('5')), Some(Key::Enter)]).collect();
    let outcome = run(&[], &keys, |console| console.wait(&ten_seconds_beside_which_is_told()));
    assert_eq!(outcome.reply, Reply::Elsewhere("4805".to_owned()));
    assert_eq!(outcome.written.matches('\u{7}').count(), 1, "the end is heard once");
    let erased: Vec<Option<Key>> = [Some(Key::Character('4'))]
        .into_iter()
        .chain([None; 10])
        .chain([Some(Key::Backspace)])
        .collect();
    let outcome = run(&[], &erased, |console| console.wait(&ten_seconds_beside_which_is_told()));
    assert_eq!(outcome.reply, Reply::Done);
}
