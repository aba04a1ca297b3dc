//! The prompts at a real terminal: each test plays the person and, as a second process of its
//! own, the program.

use std::process::{Command, Stdio};
use std::time::Duration;

use dryhold::terminal::{
    Action, Checked, ConfirmPrompt, Confirmation, Console, Dialogue, Menu, MenuOption, Reply,
    ValuePrompt, WaitPrompt, open,
};
use dryhold::text::Line;
use rexpect::session::{Options, PtySession, spawn_with_options};

/// Names the prompt that the second process is to put.
const PROMPT: &str = "DRYHOLD_TEST_PROMPT";

/// How long the person waits for the program (ms); generous, for a busy machine.
const PATIENCE: u64 = 30_000;

const UP: &str = "\u{1b}[A";
const DOWN: &str = "\u{1b}[B";
const ESCAPE: &str = "\u{1b}";

/// In the second process puts the prompt and shows its reply; in the first plays the person.
fn at_a_terminal(
    name: &str,
    dialogue: Dialogue,
    prompt: impl Fn(&mut dyn Console) -> Reply,
    person: impl Fn(&mut PtySession),
) {
    if std::env::var(PROMPT).as_deref() == Ok(name) {
        let mut console = open(dialogue, false).unwrap();
        let reply = prompt(console.as_mut());
        console.show(&[Line::plain(format!("reply {reply:?}"))]);
        return;
    }
    let mut program = Command::new(std::env::current_exe().unwrap());
    program.args(["--exact", "--nocapture", &format!("prompts::{name}")]);
    program.env(PROMPT, name).env("TERM", "xterm-256color");
    let options = Options::new().timeout_ms(Some(PATIENCE)).strip_ansi_escape_codes(true);
    let mut session = spawn_with_options(program, options).unwrap();
    person(&mut session);
}

fn send(session: &mut PtySession, keys: &str) {
    session.send(keys).unwrap();
    session.flush().unwrap();
}

fn sees(session: &mut PtySession, text: &str) -> String {
    session.exp_string(text).unwrap()
}

/// The reply comes, and the terminal is as before: it gathers lines again.
fn gets(session: &mut PtySession, reply: &Reply) {
    sees(session, &format!("reply {reply:?}"));
    assert!(gathers_lines(session), "the terminal was left in raw mode");
}

fn gathers_lines(session: &PtySession) -> bool {
    let terminal = session.process().get_file_handle().unwrap();
    let stty = Command::new("stty").arg("-a").stdin(Stdio::from(terminal)).output().unwrap();
    let modes = String::from_utf8(stty.stdout).unwrap();
    assert!(modes.contains("icanon"), "{modes}");
    !modes.contains("-icanon")
}

fn oil(console: &mut dyn Console) -> Reply {
    console.choose(&Menu {
        title: vec![Line::plain("Look at the sight glass."), Line::plain("How is the oil?")],
        options: vec![
            MenuOption::new("clear"),
            MenuOption::new("cloudy").with_hint("white or milky"),
            MenuOption::new("dark"),
        ],
        actions: vec![Action::NotSure, Action::Why, Action::Stop],
        ..Menu::default()
    })
}

fn gauge(console: &mut dyn Console) -> Reply {
    console.value(&ValuePrompt {
        title: vec![Line::plain("What does the gauge read?")],
        hint: "a pressure, such as 45 micron".to_owned(),
        actions: vec![Action::NotSure, Action::Back],
        check: &|typed| match typed.parse::<u32>() {
            Ok(read) => Checked::Accepted { echo: Line::plain(format!("Read as {read} micron.")) },
            Err(_) => Checked::Refused(Line::plain("That is not a pressure.")),
        },
    })
}

fn settle(console: &mut dyn Console) -> Reply {
    console.wait(&WaitPrompt {
        title: vec![Line::plain("Let the gauge settle.")],
        length: Duration::from_secs(3600),
        actions: vec![Action::Skip],
    })
}

#[test]
fn a_list_is_walked() {
    at_a_terminal("a_list_is_walked", Dialogue::Screen, oil, |session| {
        let above = sees(session, "How is the oil?");
        assert!(above.contains("Look at the sight glass."), "{above}");
        sees(session, "2. cloudy (white or milky)");
        sees(session, "5. more");
        sees(session, "Esc for more");
        send(session, "\r");
        sees(session, "Nothing is chosen yet.");
        sees(session, "Esc for more");
        send(session, &format!("{DOWN}{DOWN}{DOWN}{UP}\r"));
        gets(session, &Reply::Chosen(1));
    });
}

#[test]
fn a_list_is_filtered_by_letters_and_by_number() {
    let name = "a_list_is_filtered_by_letters_and_by_number";
    let both = |console: &mut dyn Console| match (oil(console), oil(console)) {
        (Reply::Chosen(2), last) => last,
        (first, _) => first,
    };
    at_a_terminal(name, Dialogue::Screen, both, |session| {
        sees(session, "Esc for more");
        send(session, "da\r");
        sees(session, "How is the oil? dark");
        sees(session, "Esc for more");
        send(session, "2\r");
        gets(session, &Reply::Chosen(1));
    });
}

#[test]
fn a_word_that_is_not_in_the_list_can_be_typed() {
    let name = "a_word_that_is_not_in_the_list_can_be_typed";
    at_a_terminal(name, Dialogue::Screen, oil, |session| {
        sees(session, "Esc for more");
        send(session, "stop\r");
        gets(session, &Reply::Act(Action::Stop));
    });
}

#[test]
fn escape_opens_the_menu_of_actions() {
    at_a_terminal("escape_opens_the_menu_of_actions", Dialogue::Screen, oil, |session| {
        sees(session, "Esc for more");
        send(session, ESCAPE);
        sees(session, "  why: see why this is asked");
        sees(session, "Ctrl-D ends; a case is kept.");
        send(session, ESCAPE);
        sees(session, "Esc for more");
        send(session, ESCAPE);
        sees(session, "Ctrl-D ends; a case is kept.");
        send(session, "wha\r");
        sees(session, "\"wha\" is not one of the answers.");
        send(session, "why\r");
        gets(session, &Reply::Act(Action::Why));
    });
}

#[test]
fn an_end_of_input_ends_a_list_at_once() {
    at_a_terminal("an_end_of_input_ends_a_list_at_once", Dialogue::Screen, oil, |session| {
        sees(session, "Esc for more");
        session.send_control('d').unwrap();
        gets(session, &Reply::EndOfInput);
    });
}

#[test]
fn an_end_of_input_ends_an_empty_field_at_once() {
    let name = "an_end_of_input_ends_an_empty_field_at_once";
    at_a_terminal(name, Dialogue::Screen, gauge, |session| {
        sees(session, "Esc for more");
        send(session, "4");
        sees(session, "What does the gauge read? 4");
        session.send_control('d').unwrap();
        send(session, "\u{7f}");
        session.send_control('d').unwrap();
        gets(session, &Reply::EndOfInput);
    });
}

#[test]
fn keys_with_ctrl_edit_a_field_and_type_nothing() {
    let name = "keys_with_ctrl_edit_a_field_and_type_nothing";
    at_a_terminal(name, Dialogue::Screen, gauge, |session| {
        sees(session, "Esc for more");
        for letter in "uwkgtyrxqz".chars() {
            session.send_control(letter).unwrap();
        }
        send(session, "300 bananas");
        session.send_control('w').unwrap();
        send(session, "torr");
        session.send_control('u').unwrap();
        send(session, "5x");
        session.send_control('b').unwrap();
        session.send_control('k').unwrap();
        session.send_control('a').unwrap();
        send(session, "4\r");
        gets(session, &Reply::Typed("45".to_owned()));
    });
}

#[test]
fn line_breaks_of_a_paste_enter_nothing() {
    let name = "line_breaks_of_a_paste_enter_nothing";
    at_a_terminal(name, Dialogue::Screen, gauge, |session| {
        sees(session, "Esc for more");
        send(session, "\u{1b}[200~x\r\ny\n\u{1b}[201~");
        session.send_control('u').unwrap();
        send(session, "45\r");
        gets(session, &Reply::Typed("45".to_owned()));
    });
}

#[test]
fn an_interrupt_leaves_a_list() {
    at_a_terminal("an_interrupt_leaves_a_list", Dialogue::Screen, oil, |session| {
        sees(session, "Esc for more");
        session.send_control('c').unwrap();
        gets(session, &Reply::Interrupted);
    });
}

#[test]
fn a_refused_value_is_gone_and_a_begun_one_survives_the_menu() {
    let name = "a_refused_value_is_gone_and_a_begun_one_survives_the_menu";
    at_a_terminal(name, Dialogue::Screen, gauge, |session| {
        sees(session, ", or not sure; Esc for more");
        send(session, "4x\r");
        sees(session, "That is not a pressure. Or type not sure.");
        sees(session, ", or not sure; Esc for more");
        send(session, "4y");
        sees(session, "What does the gauge read? 4y");
        send(session, ESCAPE);
        sees(session, "Ctrl-D ends; a case is kept.");
        send(session, "\r");
        sees(session, "What does the gauge read? 4y");
        send(session, "\u{7f}5\r");
        sees(session, "Read as 45 micron.");
        gets(session, &Reply::Typed("45".to_owned()));
    });
}

#[test]
fn a_word_can_be_typed_for_a_value() {
    at_a_terminal("a_word_can_be_typed_for_a_value", Dialogue::Screen, gauge, |session| {
        sees(session, "Esc for more");
        send(session, "not sure\r");
        gets(session, &Reply::Act(Action::NotSure));
    });
}

#[test]
fn a_countdown_is_left_by_enter() {
    at_a_terminal("a_countdown_is_left_by_enter", Dialogue::Screen, settle, |session| {
        sees(session, "Wait 1 h. Enter goes on sooner, Esc for more.");
        sees(session, "59 min 59 s left");
        send(session, "\r");
        sees(session, "of 1 h have passed.");
        gets(session, &Reply::Done);
    });
}

#[test]
fn a_countdown_tells_the_end_of_input_at_once() {
    let name = "a_countdown_tells_the_end_of_input_at_once";
    at_a_terminal(name, Dialogue::Screen, settle, |session| {
        sees(session, " left");
        session.send_control('d').unwrap();
        gets(session, &Reply::EndOfInput);
    });
}

#[test]
fn a_signal_to_stop_gives_the_terminal_back() {
    at_a_terminal("a_signal_to_stop_gives_the_terminal_back", Dialogue::Screen, oil, |session| {
        sees(session, "Esc for more");
        assert!(!gathers_lines(session), "a list reads keys one by one");
        session.process_mut().exit().unwrap();
        assert!(gathers_lines(session), "the terminal was left in raw mode");
    });
}

#[test]
fn a_plain_list_is_answered_in_a_line() {
    at_a_terminal("a_plain_list_is_answered_in_a_line", Dialogue::Plain, oil, |session| {
        sees(session, "  2. cloudy");
        sees(session, "Answer: ");
        session.send_line("purple").unwrap();
        sees(session, "\"purple\" is not one of the answers.");
        sees(session, "Answer: ");
        session.send_line("2").unwrap();
        sees(session, "Chosen: cloudy");
        gets(session, &Reply::Chosen(1));
    });
}

#[test]
fn a_plain_prompt_tells_an_interrupt_from_the_end_of_input() {
    let name = "a_plain_prompt_tells_an_interrupt_from_the_end_of_input";
    let thrice = |console: &mut dyn Console| {
        assert_eq!(gauge(console), Reply::Interrupted);
        assert_eq!(gauge(console), Reply::Typed("45".to_owned()));
        gauge(console)
    };
    at_a_terminal(name, Dialogue::Plain, thrice, |session| {
        sees(session, "Answer: ");
        session.send_control('c').unwrap();
        sees(session, "Answer: ");
        session.send_line("45").unwrap();
        sees(session, "Read as 45 micron.");
        sees(session, "Answer: ");
        session.send_control('d').unwrap();
        gets(session, &Reply::EndOfInput);
    });
}

#[test]
fn a_plain_caution_is_acknowledged_by_name() {
    let caution = |console: &mut dyn Console| {
        console.confirm(&ConfirmPrompt {
            title: vec![Line::warning("The system is under pressure.")],
            by: Confirmation::Acknowledged,
            actions: vec![Action::Stop],
        })
    };
    let name = "a_plain_caution_is_acknowledged_by_name";
    at_a_terminal(name, Dialogue::Plain, caution, |session| {
        sees(session, "CAUTION: The system is under pressure.");
        sees(session, "Answer: ");
        session.send_line("yes").unwrap();
        sees(session, "the name or the initials");
        session.send_line("A. B.").unwrap();
        gets(session, &Reply::Typed("A. B.".to_owned()));
    });
}
