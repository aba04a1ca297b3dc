//! Somebody at a plain console, who types what was responded in another run.

use std::cell::{Cell, RefCell};
use std::collections::VecDeque;
use std::rc::Rc;

use dryhold::case::{Answerer, Case, Ending, KeepNothing, Now, Objection, Response, interview};
use dryhold::terminal::{
    Action, Audience, Checked, ConfirmPrompt, Confirmation, Console, Heard, LineSource, Menu,
    Paper, Person, PlainConsole, Reply, SystemClock, ValuePrompt, WaitPrompt,
};
use dryhold::text::Line;

use super::given::Turn;

/// What is typed next, in the order in which it is read. Where nothing is left, the input has ended.
type Typed = Rc<RefCell<VecDeque<String>>>;

struct Lines(Typed);

impl LineSource for Lines {
    fn next_line(&mut self) -> Heard {
        self.0.borrow_mut().pop_front().map_or(Heard::End, Heard::Line)
    }

    fn is_echoed(&self) -> bool {
        false
    }
}

/// What is meant to come of the next prompts.
#[derive(Clone, Debug)]
struct Meant {
    response: Response,
    /// The words of the question, where it is answered out of turn and still to be found.
    to_find: Option<String>,
}

/// A plain console before which somebody sits who knows what they mean, reads the prompt and types.
struct Typing {
    plain: PlainConsole<'static>,
    typed: Typed,
    meant: Rc<RefCell<Option<Meant>>>,
    /// Whether a prompt didn't take what an answers file may say, such as a number of a unit that nobody
    /// knows.
    is_apart: Rc<Cell<bool>>,
}

impl Typing {
    fn type_these(&self, lines: impl IntoIterator<Item = impl Into<String>>) {
        *self.typed.borrow_mut() = lines.into_iter().map(Into::into).collect();
    }

    fn meant(&self) -> Option<Meant> {
        self.meant.borrow().clone()
    }

    /// Whether an answer out of turn has to be begun here. Where it may be begun and nothing may be
    /// noted, its question has been found and is put.
    fn turns_aside(&self, actions: &[Action]) -> bool {
        let to_find = self.meant().is_some_and(|meant| meant.to_find.is_some());
        let may_begin = actions.contains(&Action::Another);
        if may_begin && !actions.contains(&Action::Note) {
            self.found();
            return false;
        }
        to_find && may_begin
    }

    /// What is typed at a list.
    fn at_a_list(&self, menu: &Menu) -> String {
        let turns_aside = self.turns_aside(&menu.actions);
        let Some(meant) = self.meant() else { return String::new() };
        let number = |place: usize| (place + 1).to_string();
        let at = |wanted: &dyn Fn(&str, &str) -> bool| {
            menu.options.iter().position(|option| wanted(&option.id, &option.label))
        };
        if turns_aside {
            return "another".to_owned();
        }
        if let Some(asked) = meant.to_find {
            let found = at(&|_, label| label.starts_with(asked.as_str()));
            if let Some(place) = found {
                self.found();
                return number(place);
            }
            return number(menu.options.len() - 1);
        }
        match meant.response {
            Response::Answer(answer) | Response::Volunteer(_, answer) => {
                let own = at(&|id, _| id == answer.trim()).map(number);
                // Beside the answer before, which stays.
                let beside = at(&|_, label| label.starts_with("A correction: ")).map(|_| number(1));
                own.or(beside).unwrap_or(answer)
            }
            Response::NoMore => "no more".to_owned(),
            Response::Leave => "stop".to_owned(),
            Response::Done => at(&|id, _| id == "verdict").map_or("done".to_owned(), number),
            other => panic!("{other:?} at a list: {:?}", menu.options),
        }
    }

    /// The question to be answered out of turn has been found.
    fn found(&self) {
        if let Some(meant) = self.meant.borrow_mut().as_mut() {
            meant.to_find = None;
        }
    }
}

impl Console for Typing {
    fn show(&mut self, lines: &[Line]) {
        self.plain.show(lines);
    }

    fn choose(&mut self, menu: &Menu) -> Reply {
        self.type_these([self.at_a_list(menu)]);
        self.plain.choose(menu)
    }

    fn value(&mut self, prompt: &ValuePrompt<'_>) -> Reply {
        let turns_aside = self.turns_aside(&prompt.actions);
        let typed = match self.meant() {
            _ if turns_aside => "another".to_owned(),
            Some(Meant { to_find: Some(asked), .. }) => asked,
            Some(Meant { response: Response::Answer(answer), .. })
            | Some(Meant { response: Response::Volunteer(_, answer), .. }) => answer,
            Some(Meant { response: Response::NoMore, .. }) => "no more".to_owned(),
            Some(Meant { response: Response::Leave, .. }) => "stop".to_owned(),
            other => panic!("{other:?} where a value is asked for: {prompt:?}"),
        };
        let checked = (prompt.check)(&typed);
        if matches!(checked, Checked::Refused(_)) {
            self.is_apart.set(true);
            return Reply::EndOfInput;
        }
        // What looks like a slip is kept: it is what was meant.
        let doubt = matches!(checked, Checked::Doubtful { .. }).then_some("1");
        self.type_these([Some(typed.as_str()), doubt].into_iter().flatten());
        self.plain.value(prompt)
    }

    fn confirm(&mut self, prompt: &ConfirmPrompt) -> Reply {
        let name = match self.meant() {
            Some(Meant { response: Response::Acknowledge(_, name), .. }) => Some(name),
            _ => None,
        };
        let leaves = matches!(self.meant(), Some(Meant { response: Response::Leave, .. }));
        let acknowledges = !matches!(prompt.by, Confirmation::Done | Confirmation::Started(_));
        // A caution is not stepped around, as an answers file may do that tells something else then.
        if acknowledges && name.is_none() && !leaves {
            self.is_apart.set(true);
            return Reply::EndOfInput;
        }
        let typed = match prompt.by {
            _ if self.turns_aside(&prompt.actions) => "another",
            _ if leaves => "stop",
            Confirmation::Done => "done",
            Confirmation::Started(_) => "start",
            Confirmation::Acknowledged | Confirmation::AcknowledgedByCaller => {
                name.as_deref().unwrap_or_default()
            }
        };
        self.type_these([typed]);
        self.plain.confirm(prompt)
    }

    fn wait(&mut self, prompt: &WaitPrompt) -> Reply {
        self.type_these(["done"]);
        self.plain.wait(prompt)
    }

    fn words_of_choice(&mut self) -> Option<String> {
        self.plain.words_of_choice()
    }
}

/// Somebody who types what was responded in another run, turn by turn.
struct Typist<'c> {
    turns: VecDeque<Turn>,
    person: Person<'c>,
    meant: Rc<RefCell<Option<Meant>>>,
    is_apart: Rc<Cell<bool>>,
}

impl Typist<'_> {
    /// Whether a prompt doesn't ask for what is meant, since another answer tells it and tells it
    /// otherwise.
    fn is_passed_over(&self, case: &Case<'_>) -> bool {
        let (Now::Ask { question, .. }, Some(meant)) = (case.now(), self.meant.borrow().clone())
        else {
            return false;
        };
        let known = case.known_by_another(*question);
        known.is_some_and(|known| meant.response != Response::Answer(known.answer))
    }

    /// The words of the question that is answered out of turn. A caution that nothing wants acknowledged
    /// yet is put once the question is chosen that it bars.
    fn out_of_turn(&self, case: &Case<'_>, turn: Option<Turn>) -> Option<String> {
        let question = |response: &Response| match response {
            Response::Volunteer(question, _) => Some(*question),
            _ => None,
        };
        let Turn { response, wanted } = turn?;
        let barred = match response {
            Response::Acknowledge(caution, _) if wanted != Some(caution) => {
                self.turns.iter().find_map(|turn| question(&turn.response))
            }
            _ => None,
        };
        let question = question(&response).or(barred)?;
        Some(case.question_view(question).ask.to_text())
    }
}

impl Answerer for Typist<'_> {
    fn respond(&mut self, case: &Case<'_>) -> Response {
        if self.meant.borrow().is_none() {
            let turn = self.turns.pop_front();
            let response = turn.as_ref().map_or(Response::EndOfInput, |turn| turn.response.clone());
            let to_find = self.out_of_turn(case, turn);
            *self.meant.borrow_mut() = Some(Meant { response, to_find });
        }
        if self.is_passed_over(case) {
            self.is_apart.set(true);
            return Response::Leave;
        }
        let response = self.person.respond(case);
        // What is told of a wait, and the beginning of one, come before what is meant.
        if !matches!(response, Response::Wait | Response::Note(_)) {
            *self.meant.borrow_mut() = None;
        }
        response
    }

    fn hear(&mut self, case: &Case<'_>) {
        self.person.hear(case);
    }

    fn object(&mut self, case: &Case<'_>, objection: &Objection) -> bool {
        self.person.object(case, objection)
    }
}

/// Goes through a case as these turns went, typed at a plain console. None where a prompt asks or takes
/// something else than an answers file does.
pub fn run_typed(turns: Vec<Turn>, case: &mut Case<'_>) -> Option<Ending> {
    let typed = Typed::default();
    let (meant, is_apart) = (Rc::new(RefCell::new(None)), Rc::new(Cell::new(false)));
    let lines = Box::new(Lines(Rc::clone(&typed)));
    let clock = Box::new(SystemClock::new());
    let plain = PlainConsole::new(lines, Box::new(std::io::sink()), clock, Paper::new(80, false));
    let (said, apart) = (Rc::clone(&meant), Rc::clone(&is_apart));
    let mut console = Typing { plain, typed, meant: said, is_apart: apart };
    let person = Person::new(&mut console, Audience::Site);
    let mut typist = Typist { turns: turns.into(), person, meant, is_apart: Rc::clone(&is_apart) };
    let ending = interview(case, &mut typist, &mut KeepNothing);
    (!is_apart.get()).then_some(ending)
}
