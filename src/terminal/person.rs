//! A person at a console as the one who answers.

use super::console::{Console, Reply};
use super::prompt::{
    Checked, ConfirmPrompt, Confirmation, Menu, MenuOption, ValuePrompt, WaitPrompt,
};
use super::words::Action;
use crate::case::{
    Answerer, Case, CautionId, CautionSeverity, CautionView, News, Now, Objection, QuestionId,
    Refusal, Response, TreeId, ends_rounds, read_answer,
};
use crate::report::ranking_line;
use crate::text::{Line, Role};

/// Whom the questions are worded for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Audience {
    /// Somebody at the rig.
    Site,
    /// Somebody on the phone, who reads aloud and types for a caller.
    Phone,
}

/// What may be done instead of answering, everywhere.
const ALWAYS: [Action; 6] =
    [Action::Back, Action::Note, Action::Another, Action::TakeBack, Action::Ranking, Action::Stop];

/// A person at a console.
pub struct Person<'c> {
    console: &'c mut dyn Console,
    audience: Audience,
    /// Something that must be said before the next prompt, such as a deed that an objection asks
    /// for.
    queued: Option<Response>,
    /// Who acknowledged last; offered again.
    last_name: Option<String>,
}

impl std::fmt::Debug for Person<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Person").field("audience", &self.audience).finish_non_exhaustive()
    }
}

impl<'c> Person<'c> {
    /// A person at a console, with questions worded for an audience.
    pub fn new(console: &'c mut dyn Console, audience: Audience) -> Self {
        Self { console, audience, queued: None, last_name: None }
    }

    fn respond_now(&mut self, case: &Case<'_>) -> Response {
        match case.now() {
            Now::Acknowledge { caution, .. } => self.acknowledge(case, *caution),
            Now::Ask { question, names_a_round, .. } => self.ask(case, *question, *names_a_round),
            Now::Do { text, wait, .. } => self.step(case, text.clone(), *wait),
            Now::Act { action, .. } => self.act(case, *action),
            Now::Ended { done, then } => self.ended(case, done.clone(), then.clone()),
            Now::Stopped { text, why, refer, .. } => {
                let mut lines = vec![warning("Stop. ", text)];
                lines.extend(why.clone());
                lines.push(warning("Ask ", refer));
                self.console.show(&lines);
                Response::Leave
            }
        }
    }

    fn acknowledge(&mut self, case: &Case<'_>, id: CautionId) -> Response {
        let view = case.caution_view(id);
        let mut title = vec![warning("Stop: ", &view.text)];
        if let Some(refer) = &view.refer {
            title
                .push(Line::plain("If you can't: ask ").join(refer.clone()).push(Role::Plain, "."));
        }
        if let Some(name) = &self.last_name {
            title.push(Line::plain(format!("Acknowledged last time by {name}.")));
        }
        let prompt = ConfirmPrompt {
            title,
            by: Confirmation::Acknowledged,
            actions: vec![Action::Back, Action::Note, Action::Stop],
        };
        match self.console.confirm(&prompt) {
            Reply::Typed(name) => {
                self.last_name = Some(name.clone());
                Response::Acknowledge(id, name)
            }
            other => self.other(case, other, None),
        }
    }

    fn ask(&mut self, case: &Case<'_>, id: QuestionId, names_a_round: bool) -> Response {
        let mut title: Vec<Line> = case.cautions_here().iter().map(caution_line).collect();
        title.extend(self.wording(case, id));
        let mut actions = vec![Action::NotSure, Action::Skip, Action::Why];
        actions.extend(ALWAYS);
        if names_a_round {
            title.push(Line::plain("Type `no more` when none is left."));
        }
        let reply = self.put(case, id, title, actions, names_a_round);
        match reply {
            Reply::Typed(text) if names_a_round && ends_rounds(&text) => Response::NoMore,
            Reply::Typed(text) => Response::Answer(text),
            Reply::Chosen(place) => {
                Response::Answer(case.question_view(id).options[place].0.clone())
            }
            other => self.other(case, other, Some(id)),
        }
    }

    /// The question as this audience gets it, and how long it takes.
    fn wording(&self, case: &Case<'_>, id: QuestionId) -> Vec<Line> {
        let view = case.question_view(id);
        let mut lines = Vec::new();
        match (self.audience, view.say) {
            (Audience::Phone, Some(say)) => {
                lines
                    .push(Line::new().push(Role::Quiet, "Say: ").push(Role::Strong, say.to_text()));
            }
            _ => lines.push(Line::strong(view.ask.to_text())),
        }
        if let Some(seconds) = view.takes.filter(|&seconds| seconds >= 60.0) {
            let text = format!("Takes about {:.0} min.", seconds / 60.0);
            lines.insert(0, Line::new().push(Role::Quiet, text));
        }
        lines
    }

    /// Puts a question by a menu or a prompt for a value.
    fn put(
        &mut self,
        case: &Case<'_>,
        id: QuestionId,
        title: Vec<Line>,
        actions: Vec<Action>,
        names_a_round: bool,
    ) -> Reply {
        let view = case.question_view(id);
        if !view.options.is_empty() {
            let options = view.options.iter().map(|(_, label)| MenuOption::new(label)).collect();
            return self.console.choose(&Menu { title, options, actions });
        }
        let check = |typed: &str| {
            if names_a_round && ends_rounds(typed) {
                return Checked::Accepted { echo: Line::plain("No more.") };
            }
            check_typed(case, id, typed)
        };
        self.console.value(&ValuePrompt { title, hint: view.hint, actions, check: &check })
    }

    fn step(&mut self, case: &Case<'_>, text: Line, wait: Option<f64>) -> Response {
        let mut title: Vec<Line> = case.cautions_here().iter().map(caution_line).collect();
        title.push(text);
        let reply = self.confirm(title);
        let reply = match (reply, wait) {
            (Reply::Done, Some(seconds)) if seconds > 0.0 => self.console.wait(&WaitPrompt {
                title: vec![Line::plain(format!("Wait {:.0} min.", seconds / 60.0))],
                length: std::time::Duration::from_secs_f64(seconds.min(86_400.0)),
                actions: ALWAYS.to_vec(),
            }),
            (reply, _) => reply,
        };
        match reply {
            Reply::Done => Response::Done,
            other => self.other(case, other, None),
        }
    }

    fn act(&mut self, case: &Case<'_>, id: crate::case::ActionId) -> Response {
        let view = case.action_view(id);
        let mut title: Vec<Line> = case.cautions_here().iter().map(caution_line).collect();
        title.push(view.instruction);
        if !view.parts.is_empty() {
            title.push(Line::plain(format!("You need: {}.", crate::text::list_and(&view.parts))));
        }
        if let Some(minutes) = view.minutes {
            title.push(Line::new().push(Role::Quiet, format!("Takes about {minutes:.0} min.")));
        }
        match self.confirm(title) {
            Reply::Done => Response::Done,
            other => self.other(case, other, None),
        }
    }

    fn confirm(&mut self, title: Vec<Line>) -> Reply {
        let mut actions = vec![Action::Skip];
        actions.extend(ALWAYS);
        self.console.confirm(&ConfirmPrompt { title, by: Confirmation::Done, actions })
    }

    fn ended(&mut self, case: &Case<'_>, done: Line, then: Vec<TreeId>) -> Response {
        let then = if then.is_empty() { self.offered(case) } else { then };
        let mut options: Vec<MenuOption> = vec![MenuOption::new("Finish and see the verdict")];
        options.extend(then.iter().map(|&tree| MenuOption::new(case.tree_view(tree).1)));
        let title = vec![done, ranking_line(case), Line::strong("What next?")];
        let actions =
            vec![Action::Back, Action::Note, Action::Another, Action::TakeBack, Action::Stop];
        match self.console.choose(&Menu { title, options, actions }) {
            Reply::Chosen(0) => Response::Done,
            Reply::Chosen(place) => Response::GoOn(then[place - 1]),
            other => self.other(case, other, None),
        }
    }

    /// Trees that ask for what the best next checks need.
    fn offered(&self, case: &Case<'_>) -> Vec<TreeId> {
        let wanted = case.assessment().next.iter().take(3).flat_map(|check| &check.questions);
        let mut trees = Vec::new();
        for question in wanted {
            for tree in case.trees_asking(*question) {
                if !trees.contains(&tree) && trees.len() < 4 {
                    trees.push(tree);
                }
            }
        }
        trees
    }

    /// What is done instead of answering.
    fn other(&mut self, case: &Case<'_>, reply: Reply, asked: Option<QuestionId>) -> Response {
        let action = match reply {
            Reply::Act(action) => action,
            Reply::EndOfInput => return Response::EndOfInput,
            Reply::Interrupted => return Response::Interrupted,
            Reply::Chosen(_) | Reply::Typed(_) | Reply::Done => return self.respond_now(case),
        };
        match action {
            Action::NotSure if asked.is_some() => Response::Answer("not sure".to_owned()),
            Action::Skip if asked.is_some() => Response::Answer("skip".to_owned()),
            Action::Skip => Response::Done,
            Action::Back => Response::Back,
            Action::Stop => Response::Leave,
            Action::Why => self.why(case, asked),
            Action::Ranking => {
                self.console.show(&[ranking_line(case)]);
                self.respond_now(case)
            }
            Action::Note => self.note(case),
            Action::Another => self.another(case),
            Action::TakeBack => self.take_back(case),
            Action::NotSure | Action::More | Action::Help => self.respond_now(case),
        }
    }

    fn why(&mut self, case: &Case<'_>, asked: Option<QuestionId>) -> Response {
        let why = asked.and_then(|id| case.question_view(id).why);
        self.console
            .show(&[why.unwrap_or_else(|| Line::plain("The handbook gives no reason here."))]);
        self.respond_now(case)
    }

    fn note(&mut self, case: &Case<'_>) -> Response {
        let accept = |_: &str| Checked::Accepted { echo: Line::plain("Noted.") };
        let prompt = ValuePrompt {
            title: vec![Line::strong("What do you want to note?")],
            hint: "a few words".to_owned(),
            actions: vec![Action::Back],
            check: &accept,
        };
        match self.console.value(&prompt) {
            Reply::Typed(text) => Response::Note(text),
            Reply::EndOfInput => Response::EndOfInput,
            Reply::Interrupted => Response::Interrupted,
            _ => self.respond_now(case),
        }
    }

    /// Another question, chosen by its id or its words.
    fn another(&mut self, case: &Case<'_>) -> Response {
        let questions: Vec<QuestionId> = case.question_ids().collect();
        let title = vec![Line::strong("Which question do you want to answer?")];
        let Some(id) = self.pick(case, &questions, title) else { return self.respond_now(case) };
        self.answer_out_of_turn(case, id)
    }

    fn answer_out_of_turn(&mut self, case: &Case<'_>, id: QuestionId) -> Response {
        let barring = case.cautions_of_question(id).into_iter().find(|&id| case.is_barred_by(id));
        if let Some(caution) = barring {
            return self.acknowledge(case, caution);
        }
        let title = self.wording(case, id);
        let reply =
            self.put(case, id, title, vec![Action::NotSure, Action::Why, Action::Back], false);
        let typed = match reply {
            Reply::Typed(text) => text,
            Reply::Chosen(place) => case.question_view(id).options[place].0.clone(),
            Reply::Act(Action::NotSure) => "not sure".to_owned(),
            Reply::EndOfInput => return Response::EndOfInput,
            Reply::Interrupted => return Response::Interrupted,
            _ => return self.respond_now(case),
        };
        if case.latest_answer(id).is_none() {
            return Response::Volunteer(id, typed);
        }
        self.correct_or_again(case, id, typed)
    }

    /// An answered question gets a second answer: is the first one wrong, or is this a new one?
    fn correct_or_again(&mut self, case: &Case<'_>, id: QuestionId, typed: String) -> Response {
        let was = case.latest_answer(id).map(|given| given.typed.clone()).unwrap_or_default();
        let options = vec![
            MenuOption::new("It puts right the earlier answer"),
            MenuOption::new("It is a new reading; keep both"),
        ];
        let title = vec![Line::strong(format!("The answer was {was}. What is the new one?"))];
        match self.console.choose(&Menu { title, options, actions: vec![Action::Back] }) {
            Reply::Chosen(0) => Response::Correct(id, typed),
            Reply::Chosen(_) => Response::Volunteer(id, typed),
            Reply::EndOfInput => Response::EndOfInput,
            Reply::Interrupted => Response::Interrupted,
            _ => self.respond_now(case),
        }
    }

    fn take_back(&mut self, case: &Case<'_>) -> Response {
        let answered: Vec<QuestionId> =
            case.question_ids().filter(|&id| case.latest_answer(id).is_some()).collect();
        if answered.is_empty() {
            self.console.show(&[Line::plain("Nothing is answered yet.")]);
            return self.respond_now(case);
        }
        let title = vec![Line::strong("Which answer do you want to take back?")];
        match self.pick(case, &answered, title) {
            Some(id) => Response::TakeBack(id),
            None => self.respond_now(case),
        }
    }

    fn pick(
        &mut self,
        case: &Case<'_>,
        ids: &[QuestionId],
        title: Vec<Line>,
    ) -> Option<QuestionId> {
        let option = |&id: &QuestionId| {
            let view = case.question_view(id);
            let given = case.latest_answer(id).map(|given| format!(" [{}]", given.typed));
            let label = format!("{}: {}{}", view.id, view.ask.to_text(), given.unwrap_or_default());
            MenuOption::new(label)
        };
        let options = ids.iter().map(option).collect();
        match self.console.choose(&Menu { title, options, actions: vec![Action::Back] }) {
            Reply::Chosen(place) => Some(ids[place]),
            reply @ (Reply::EndOfInput | Reply::Interrupted) => {
                let is_end = reply == Reply::EndOfInput;
                self.queued =
                    Some(if is_end { Response::EndOfInput } else { Response::Interrupted });
                None
            }
            _ => None,
        }
    }
}

impl Answerer for Person<'_> {
    fn respond(&mut self, case: &Case<'_>) -> Response {
        let response = self.respond_now(case);
        self.queued.take().unwrap_or(response)
    }

    fn hear(&mut self, case: &Case<'_>, news: &News) {
        let mut lines = news.passed_over.clone();
        lines.extend(news.computed.clone());
        lines.extend(news.moved.clone());
        if !news.computed.is_empty() || !news.moved.is_empty() {
            lines.push(ranking_line(case));
        }
        if !lines.is_empty() {
            self.console.show(&lines);
        }
    }

    fn object(&mut self, case: &Case<'_>, objection: &Objection) -> bool {
        match objection {
            // The console has asked back already, and the person has kept the value.
            Objection::Doubtful(..) => true,
            Objection::Misunderstood(_, misunderstood) => self.complain(&misunderstood.message),
            Objection::Refused(Refusal::NeedsAcknowledgement(caution)) => {
                self.queued = Some(self.acknowledge(case, *caution));
                true
            }
            Objection::Refused(refusal) => self.complain(&refusal.to_string()),
            Objection::OutOfPlace => self.complain("That is not possible here."),
            Objection::NothingToTakeBack => self.complain("There is nothing to go back to."),
        }
    }
}

impl Person<'_> {
    fn complain(&mut self, message: &str) -> bool {
        self.console.show(&[Line::plain(message)]);
        true
    }
}

fn check_typed(case: &Case<'_>, id: QuestionId, typed: &str) -> Checked {
    match read_answer(case.handbook().question(id), typed) {
        Err(misunderstood) => Checked::Refused(Line::plain(misunderstood.message)),
        Ok(read) => match read.slip {
            Some(slip) => Checked::Doubtful {
                message: Line::plain(slip.message),
                suggestion: slip.suggestion.map(|(text, _)| text),
            },
            None => Checked::Accepted {
                echo: Line::plain("Read as ").push(Role::Value, read.echo).push(Role::Plain, "."),
            },
        },
    }
}

/// A line whose pieces are all warnings, with a word before it.
fn warning(lead: &str, line: &Line) -> Line {
    Line::warning(format!("{lead}{}", line.to_text()))
}

/// A caution as a line: stops and cautions as warnings, notes as text.
fn caution_line(view: &CautionView) -> Line {
    let refer = view.refer.as_ref().map(|refer| format!(" Ask {}.", refer.to_text()));
    let text = format!("{}{}", view.text.to_text(), refer.unwrap_or_default());
    match view.severity {
        CautionSeverity::Note => Line::plain(format!("Note: {text}")),
        CautionSeverity::Caution | CautionSeverity::Stop => Line::warning(text),
    }
}
